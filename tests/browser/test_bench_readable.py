"""The page of a piece at the bench on a phone: what is pressed is as large as a thumb, what is read is large enough."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.lengths import mm
from app.services import quotes
from app.services import stages as progress
from app.services import stock as racks
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.offcuts import Offcut
from app.storage import DATABASE_NAME
from tests.browser.accessible import found_by_axe, look_at, unfold, wider_than_the_screen
from tests.browser.conftest import Shop, opened, stock, visiting
from tests.browser.test_bench_on_a_phone import ACT, EIGHT, OURS
from tests.builders.hasty import new_store
from tests.builders.values import euro
from tests.builders.worked import TYPED

TWO = TYPED | {"artwork.size": "130 x 180", "windows.count": "2"}
THREE = TYPED | {"artwork.size": "150 x 200", "windows.count": "3"}
SIX = TYPED | {"artwork.size": "100 x 150", "windows.count": "6", "arrangement.rows": "3 + 3"}
INCHES = TYPED | {
    "unit": "in",
    "artwork.size": "11 13/16 x 15 15/16",
    "borders.left": "2 7/16",
    "borders.top": "2 7/16",
    "borders.bottom": "2 15/16",
    "mats.1.reveal": "5/16",
}
ALIKE = TYPED | {"copies": "20"}

PIECES = {
    "one": TYPED,
    "two": TWO,
    "three": THREE,
    "six": SIX,
    "eight": EIGHT,
    "inches": INCHES,
    "alike": ALIKE,
}
"""By what is special of them; each is the only piece of its order, in this order."""

ADDRESS = {name: f"/orders/{number}/pieces/1" for number, name in enumerate(PIECES, start=1)}

PHONES = {390: {"width": 390, "height": 844}, 320: {"width": 320, "height": 640}}

THUMB = 44
"""CSS pixels: what the shop asks for at the bench. Source: WCAG 2.2, 2.5.5 (AAA); 2.5.8 (AA) asks for 24."""

LEAST_LETTERS = 12
"""CSS pixels. Source: common practice for text that is read standing."""

PRESSED = "main :is(a, button, summary, select, input:not([type='hidden'])):visible"

LETTERS = """() => [...document.querySelectorAll(".readable text")].map(text => {
    const shown = text.getScreenCTM();
    const high = parseFloat(text.getAttribute("font-size")) * Math.hypot(shown.a, shown.b);
    return [text.textContent, Math.round(high * 1000) / 1000];
})"""
"""Each word of the drawings with the height of its letters as it is rendered, to a thousandth of a pixel; turned ones too."""


LINES = "all => all.map(one => new Set([...one.getClientRects()].map(each => Math.round(each.top))).size)"
"""On how many lines something stands."""


@pytest.fixture(scope="module")
def many_pieces(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop with one order a piece, and with an offcut and sticks on the rack."""
    with new_store(Path(tmp_path_factory.mktemp("readable")) / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(OURS, now=ACT.now)
        stock(store)
        sticks = Item(
            material="LIN-20", form=StockForm.STICK, unit_cost=euro("9"), length=mm(3000), place="A"
        )
        racks.receive(store, racks.Received(item=sticks, count=5), ACT)
        offcut = Offcut(material="LIN-20", unit_cost=euro("3"), length=mm(750), place="Bin 1")
        racks.keep_offcut(store, offcut, ACT)
        for typed in PIECES.values():
            order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), typed, OURS, ACT)
            progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), ACT)
        with opened(store) as shop:
            yield shop


def on_a_phone(browser: Browser, shop: Shop, width: int, **more: object):
    """A phone that is touched."""
    return visiting(browser, shop, viewport=PHONES[width], has_touch=True, is_mobile=True, **more)


def too_small(page: Page) -> list[str]:
    """What is pressed and has a side of less than a thumb."""
    return list(
        page.locator(PRESSED).evaluate_all(
            """(all, least) => all.map((one) => [one.getBoundingClientRect(), one.outerHTML.slice(0, 80)])
              .filter(([box]) => box.height < least || box.width < least)
              .map(([box, one]) => `${one}: ${box.width} × ${box.height}`)""",
            THUMB,
        )
    )


@pytest.mark.parametrize("width", PHONES)
@pytest.mark.parametrize("name", PIECES)
def test_everything_that_is_pressed_is_as_large_as_a_thumb(
    browser: Browser, many_pieces: Shop, name: str, width: int
) -> None:
    with on_a_phone(browser, many_pieces, width) as page:
        page.goto(ADDRESS[name])
        unfold(page)
        assert page.locator(PRESSED).count() > 30
        assert too_small(page) == []
        assert wider_than_the_screen(page) == ""


@pytest.mark.parametrize("view", ["measured", "section"])
@pytest.mark.parametrize("width", PHONES)
@pytest.mark.parametrize("name", PIECES)
def test_the_words_of_every_drawing_are_large_enough(
    browser: Browser, many_pieces: Shop, name: str, width: int, view: str
) -> None:
    with on_a_phone(browser, many_pieces, width) as page:
        page.goto(f"{ADDRESS[name]}?view={view}")
        letters = page.evaluate(LETTERS)
        assert len(letters) > 20
        assert [each for each in letters if each[1] < LEAST_LETTERS] == []


def test_the_marks_of_one_window_are_seen_whole_on_a_phone(
    browser: Browser, many_pieces: Shop
) -> None:
    with on_a_phone(browser, many_pieces, 390) as page:
        page.goto(ADDRESS["one"])
        for drawing in page.locator(".mat-marks .readable").all():
            assert drawing.evaluate("one => one.scrollWidth <= one.clientWidth")


@pytest.mark.parametrize("name", ["one", "two", "three"])
def test_the_measured_drawing_is_seen_whole_on_a_phone(
    browser: Browser, many_pieces: Shop, name: str
) -> None:
    """Its letters are large enough all the same, and what they mean stands under it in words of the page."""
    with on_a_phone(browser, many_pieces, 390) as page:
        page.goto(f"{ADDRESS[name]}?view=measured")
        drawing = page.locator("#piece-drawn .readable")
        assert drawing.evaluate("one => one.scrollWidth <= one.clientWidth")
        expect(page.locator("#drawing .marks-notes li").first).to_contain_text("All figures in")
        assert drawing.locator(".notes").count() == 0


@pytest.mark.parametrize("scripts", [True, False])
def test_a_tap_shows_a_drawing_large_and_another_one_whole_again(
    browser: Browser, many_pieces: Shop, scripts: bool
) -> None:
    with on_a_phone(browser, many_pieces, 390, java_script_enabled=scripts) as page:
        page.goto(ADDRESS["two"])
        marks = page.locator("#drawn-1")
        small = marks.locator("svg").bounding_box()
        marks.get_by_role("link", name="Enlarge marks of mat 1").tap()
        expect(marks.get_by_role("link", name="Show the whole of marks of mat 1")).to_be_visible()
        expect(marks.get_by_role("link", name="Enlarge")).to_be_hidden()
        large = marks.locator("svg").bounding_box()
        assert small is not None
        assert large is not None
        assert large["width"] > 1.4 * small["width"]
        assert wider_than_the_screen(page) == ""
        marks.get_by_role("link", name="Show the whole").tap()
        expect(marks.get_by_role("link", name="Enlarge")).to_be_visible()
        expect(marks).to_be_in_viewport()
        assert marks.locator("svg").bounding_box()["width"] == small["width"]


@pytest.mark.parametrize("width", PHONES)
def test_no_fraction_is_broken_over_two_lines(
    browser: Browser, many_pieces: Shop, width: int
) -> None:
    """A whole number stays with its fraction: "11 7/16" is one figure."""
    with on_a_phone(browser, many_pieces, width) as page:
        page.goto(ADDRESS["inches"])
        unfold(page)
        figures = page.locator("main .nowrap-figure:visible:has(.fraction)")
        lines = figures.evaluate_all(LINES)
        assert len(lines) > 20
        assert set(lines) == {1}
        cells = page.locator(".cut-table .cut").all_inner_texts()
        assert any("/" in cell for cell in cells)
        bare = page.locator(".cut-table .cut").evaluate_all(
            "cells => cells.filter(cell => [...cell.childNodes].some("
            "node => node.nodeType === 3 && node.data.includes('/'))).length"
        )
        assert bare == 0


@pytest.mark.parametrize("name", PIECES)
def test_nothing_is_found_wrong_with_a_piece_on_a_phone(
    browser: Browser, many_pieces: Shop, name: str
) -> None:
    with on_a_phone(browser, many_pieces, 390) as page:
        look_at(page, ADDRESS[name])
        page.goto(f"{ADDRESS[name]}#drawn-1")
        assert found_by_axe(page) == []


def test_what_is_fetched_first_stands_before_the_first_step(
    browser: Browser, many_pieces: Shop
) -> None:
    with on_a_phone(browser, many_pieces, 390) as page:
        page.goto(ADDRESS["one"])
        tops = [
            page.locator(each).first.evaluate("one => one.getBoundingClientRect().top")
            for each in (".pull", "#steps", "#marks-1", ".cut-table")
        ]
        assert tops == sorted(tops)
