"""A piece on a phone beside the cutter: boxes ticked with a thumb, in place, by two people, without scripts."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from app.bench import usual_cutter
from app.lengths import Unit, mm
from app.orders import Stage
from app.orders.step_ticks import standing
from app.services import bench, quotes
from app.services import stages as progress
from app.services.bench import PieceAt
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Stamp
from tests.browser.accessible import found_by_axe, look_at, unfold, wider_than_the_screen
from tests.browser.conftest import DESK, NOW, PHONE, Shop, opened, stock, visiting
from tests.builders.cutters import with_pins
from tests.builders.hasty import new_store
from tests.builders.worked import SHOP, TYPED
from tests.web.test_bench_page_steps import LAST_CUT, STEPS
from tests.web.test_cutters import MEASURED

ACT = Stamp(who="Ilse", now=NOW)
CUTTER = with_pins(usual_cutter(Unit.MM, name="Bench cutter"), first=mm(10), pitch=mm(20))
OURS = replace(SHOP, cutters=(CUTTER,))

EIGHT = TYPED | {
    "artwork.size": "100 x 150",
    "windows.count": "8",
    "arrangement.rows": "4 + 4",
}
"""Eight photographs in two rows."""

PIECE = "/orders/1/pieces/1"
AT = PieceAt(order_id=1, number=1)


@pytest.fixture
def bench_shop(tmp_path: Path) -> Iterator[Shop]:
    """A shop with a cutter, the worked piece ordered, and one of eight windows."""
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(OURS, now=NOW)
        stock(store)
        for typed in (TYPED, EIGHT):
            order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), typed, OURS, ACT)
            progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), ACT)
        with opened(store) as shop:
            yield shop


@pytest.fixture
def phone(browser: Browser, bench_shop: Shop) -> Iterator[Page]:
    with visiting(browser, bench_shop, viewport=PHONE) as page:
        yield page


def box(page: Page, step: str) -> Locator:
    return page.locator(f"#tick-{step}")


def ticked(shop: Shop) -> set[str]:
    return set(standing(bench.at_bench(shop.store, AT, OURS).ticks))


def tick_all(shop: Shop, *steps: str) -> None:
    for step in steps:
        bench.tick(shop.store, AT, step, ACT, ticked=True)


def test_a_box_is_ticked_in_place_and_keeps_the_focus(phone: Page, bench_shop: Shop) -> None:
    phone.goto(PIECE)
    phone.evaluate("() => { window.same = true; }")
    box(phone, "mats-size").click()
    expect(box(phone, "mats-size")).to_have_attribute("aria-checked", "true")
    expect(box(phone, "mats-size")).to_be_focused()
    expect(phone.locator("#done")).to_have_text("1 of 20 steps")
    assert phone.evaluate("() => window.same"), "the page was loaded anew"
    assert ticked(bench_shop) == {"mats-size"}
    phone.keyboard.press("Enter")
    expect(box(phone, "mats-size")).to_have_attribute("aria-checked", "false")
    expect(phone.locator("#done")).to_have_text(
        "0 of 20 steps"
    )  # shown at once, told once it is kept
    assert ticked(bench_shop) == set()


def test_boxes_are_ticked_without_scripts(browser: Browser, bench_shop: Shop) -> None:
    with visiting(browser, bench_shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto(PIECE)
        box(page, "glazing-cut").click()
        expect(box(page, "glazing-cut")).to_have_attribute("aria-checked", "true")
        expect(box(page, "glazing-cut")).to_be_in_viewport()
        assert page.url.endswith(f"{PIECE}#step-glazing-cut")


def test_two_phones_tick_side_by_side_and_see_each_other(
    browser: Browser, phone: Page, bench_shop: Shop
) -> None:
    phone.goto(PIECE)
    with visiting(browser, bench_shop, viewport=PHONE) as other:
        other.goto(PIECE)
        box(phone, "mats-size").click()
        expect(phone.locator("#done")).to_have_text("1 of 20 steps")
        box(other, "glazing-cut").click()
        expect(other.locator("#done")).to_have_text("2 of 20 steps")
        expect(box(other, "mats-size")).to_have_attribute("aria-checked", "true")
    assert ticked(bench_shop) == {"mats-size", "glazing-cut"}


def test_the_last_cutting_step_offers_the_stage_under_the_thumb(
    phone: Page, bench_shop: Shop
) -> None:
    tick_all(bench_shop, *STEPS[:14])
    phone.goto(PIECE)
    box(phone, LAST_CUT).click()
    offer = phone.locator(f"#step-{LAST_CUT}").get_by_role("button", name="Mark cut")
    offer.click()
    expect(phone.locator("h1 ~ p .stage")).to_have_text("cut")
    assert len(ticked(bench_shop)) == 15


def test_the_next_step_is_one_touch_away(phone: Page, bench_shop: Shop) -> None:
    tick_all(bench_shop, *STEPS[:12])
    phone.goto(PIECE)
    expect(box(phone, "backing-cut")).not_to_be_in_viewport()
    phone.get_by_role("link", name="Next: Cut the backing").click()
    expect(box(phone, "backing-cut")).to_be_in_viewport()


def test_a_tick_that_is_not_heard_says_so_and_changes_nothing(
    phone: Page, bench_shop: Shop
) -> None:
    phone.goto(PIECE)
    phone.evaluate(
        "() => { window.kept = fetch; window.fetch = () => Promise.reject(new TypeError('gone')); }"
    )
    box(phone, "mats-size").click()
    expect(phone.locator("#status")).to_contain_text("Not ticked: the app does not answer")
    expect(box(phone, "mats-size")).to_have_attribute("aria-checked", "false")
    phone.evaluate("() => { window.fetch = window.kept; }")
    box(phone, "mats-size").click()
    expect(box(phone, "mats-size")).to_have_attribute("aria-checked", "true")


def test_a_piece_that_was_collected_meanwhile_says_why_it_is_not_ticked(
    phone: Page, bench_shop: Shop
) -> None:
    phone.goto(PIECE)
    with bench_shop.store.reading() as work:
        order = work.orders.get(1)
    progress.move_order(
        bench_shop.store, OrderAt(id=1, version=order.version), Stage.CANCELLED, ACT
    )
    box(phone, "mats-size").click()
    expect(phone.locator(".error-summary")).to_contain_text("The piece is “cancelled”")
    assert ticked(bench_shop) == set()


def test_everything_to_press_is_as_large_as_a_thumb(phone: Page, bench_shop: Shop) -> None:
    """44 px, as the shop asks for at the bench; WCAG 2.2 asks for 24 (2.5.8)."""
    tick_all(bench_shop, *STEPS[:15])
    phone.goto(PIECE)
    pressed = phone.locator("#steps button:visible, #steps a:visible")
    assert pressed.count() > len(STEPS)
    for one in pressed.all():
        size = one.bounding_box()
        assert size is not None
        assert size["height"] >= 44, one.inner_text()
        assert size["width"] >= 44, one.inner_text()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_nothing_is_found_wrong_with_the_pages_of_bench_and_cutters(
    browser: Browser, bench_shop: Shop, viewport: dict[str, int]
) -> None:
    tick_all(bench_shop, *STEPS[:15])
    with visiting(browser, bench_shop, viewport=viewport) as page:
        for path in (
            PIECE,
            "/orders/2/pieces/1",
            "/settings/cutters",
            "/settings/cutters/new",
            "/settings/cutters/1",
            "/settings/cutters/1/remove",
            "/settings/cutters/1/test",
        ):
            look_at(page, path)
        for name, text in MEASURED.items():
            page.locator(f"#test [name='{name}']").fill(text)
        with page.expect_navigation():
            page.get_by_role("button", name="Compare").click()
        expect(page.locator("#found")).to_be_in_viewport()
        unfold(page)
        assert found_by_axe(page) == []
        assert wider_than_the_screen(page) == ""
        page.get_by_role("button", name="Save the corrected cutter").click()
        expect(page.locator(".notice-done")).to_contain_text("is corrected")


TOGETHER = "/bench/together?piece=1.1&piece=2.1"


def test_pieces_together_are_ticked_in_place_by_setting(phone: Page, bench_shop: Shop) -> None:
    """The worked piece is cut at 100 first; the box of its step is that of its own page."""
    phone.goto(TOGETHER)
    phone.evaluate("() => { window.same = true; }")
    one = "at-mark-1-1-mats-mark"
    box(phone, one).click()
    expect(box(phone, one)).to_have_attribute("aria-checked", "true")
    expect(box(phone, one)).to_be_focused()
    expect(box(phone, "do-mark")).to_have_attribute("aria-checked", "mixed")
    assert ticked(bench_shop) == {"mats-mark"}
    box(phone, "do-mark").click()
    expect(box(phone, "at-mark-2-1-mats-mark")).to_have_attribute("aria-checked", "true")
    assert phone.evaluate("() => window.same"), "the page was loaded anew"


def test_pieces_are_chosen_and_ticked_without_scripts(browser: Browser, bench_shop: Shop) -> None:
    with visiting(browser, bench_shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto("/")
        for each in page.locator(".pick input").all():
            each.check()
        page.get_by_role("button", name="Cut mats together").click()
        expect(page.locator("h1")).to_have_text("Mats cut together")
        box(page, "do-size").click()
        expect(box(page, "do-size")).to_have_attribute("aria-checked", "true")
        expect(box(page, "do-size")).to_be_in_viewport()
    assert ticked(bench_shop) == {"mats-size"}


@pytest.mark.parametrize("width", [390, 320])
def test_everything_to_press_of_pieces_together_is_as_large_as_a_thumb(
    browser: Browser, bench_shop: Shop, width: int
) -> None:
    with visiting(browser, bench_shop, viewport={"width": width, "height": 700}) as page:
        page.goto(TOGETHER)
        assert wider_than_the_screen(page) == ""
        pressed = page.locator(
            "#together-steps button:visible, #together-steps a:visible, "
            ".together-links a:visible, .chip:visible"
        )
        assert pressed.count() > 30
        for one in pressed.all():
            size = one.bounding_box()
            assert size is not None
            assert size["height"] >= 44, one.inner_text()
            assert size["width"] >= 44, one.inner_text()
