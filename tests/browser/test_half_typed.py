"""While something is half typed: what is held keeps its contrast and says that it is old, lists scroll by keyboard."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Stamp
from tests.browser.accessible import found_by_axe, wider_than_the_screen
from tests.browser.conftest import DESK, NOW, PHONE, Shop, opened, stock, visiting
from tests.browser.keyboard import Keyboard
from tests.builders.hasty import new_store
from tests.builders.worked import MOULDING, SHOP, TYPED

MANY = 12
"""As many as a list shows, and more than it has room for without scrolling."""


@pytest.fixture(scope="module")
def full_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop whose lists of mouldings and customers are longer than what is seen of them."""
    with new_store(Path(tmp_path_factory.mktemp("full")) / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(
                [replace(MOULDING, code=f"ASH-{row}", name=f"Ash {row}") for row in range(MANY)],
                now=NOW,
            )
        stock(store)
        for row in range(MANY):
            asked = CustomerRequest(name=f"Amber Quill {row}", phone=f"0123 {row:03}")
            quotes.save_new(store, asked, TYPED, SHOP, Stamp(who="", now=NOW))
        with opened(store) as shop:
            yield shop


@pytest.fixture
def quote(browser: Browser, full_shop: Shop) -> Iterator[Page]:
    with visiting(browser, full_shop, viewport=DESK) as page:
        page.goto("/quotes/new")
        yield page


@pytest.fixture
def on_a_phone(browser: Browser, full_shop: Shop) -> Iterator[Page]:
    with visiting(browser, full_shop, viewport=PHONE) as page:
        page.goto("/quotes/new")
        yield page


def nothing_is_found(page: Page) -> None:
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""


def look_at_lists(page: Page) -> None:
    keyboard = Keyboard(page)
    options = page.locator(".finder-list:not([hidden]) [role=option]")
    for field, text in (("customer", "amb"), ("frames.0.material", "ash")):
        keyboard.type(field, text)
        expect(options.nth(9)).to_be_attached()
        nothing_is_found(page)
        keyboard.press("Escape")
    keyboard.type("glazing.material", "zzz")
    expect(page.locator(".finder-none:visible")).to_have_count(1)
    nothing_is_found(page)
    keyboard.press("Escape")


def look_at_what_is_held(page: Page) -> None:
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "410x310")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    expect(page.locator("#price .price")).not_to_have_text("–")
    keyboard.type("borders.left", "12 3/0")
    expect(page.locator("#price")).to_have_attribute("data-stale", "")
    expect(page.locator("#drawing")).to_have_attribute("data-stale", "")
    expect(page.locator("#drawing-held")).to_have_text(
        "Old drawing, until this is mended: Border left"
    )
    nothing_is_found(page)
    page.locator("#artwork-size").fill("")
    expect(page.locator("#price-held li").first).to_be_visible()
    nothing_is_found(page)


def look_at_a_question(page: Page) -> None:
    page.locator("#artwork-size").fill("41x31")
    expect(page.locator("#artwork-size-question button").first).to_be_visible()
    page.locator("#customer").fill("Amber Quill 1")
    page.locator("#customer").press("Escape")
    nothing_is_found(page)


def test_open_lists_on_a_laptop(quote: Page) -> None:
    look_at_lists(quote)


def test_open_lists_on_a_phone(on_a_phone: Page) -> None:
    look_at_lists(on_a_phone)


def test_what_is_held_on_a_laptop(quote: Page) -> None:
    look_at_what_is_held(quote)


def test_what_is_held_on_a_phone(on_a_phone: Page) -> None:
    look_at_what_is_held(on_a_phone)


def test_a_question_on_a_laptop(quote: Page) -> None:
    look_at_a_question(quote)


def test_a_question_on_a_phone(on_a_phone: Page) -> None:
    look_at_a_question(on_a_phone)


def said(page: Page, element: str) -> str:
    """The words that the style sheet puts before and after an element."""
    return str(
        page.evaluate(
            """(element) => ['::before', '::after'].map((where) =>
              getComputedStyle(document.querySelector(element), where).content).join(' ')""",
            element,
        )
    )


def faded(page: Page, element: str) -> list[str]:
    """What within an element is seen through."""
    found: list[str] = page.evaluate(
        """(element) => [...document.querySelectorAll(`${element}, ${element} *`)]
          .filter((each) => getComputedStyle(each).opacity !== '1' && !each.matches('input'))
          .map((each) => each.tagName)""",
        element,
    )
    return found


def test_what_is_held_says_that_it_is_old_and_is_not_faded(quote: Page) -> None:
    keyboard = Keyboard(quote)
    keyboard.type("artwork.size", "410x310")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    expect(quote.locator("#price .price")).not_to_have_text("–")
    assert said(quote, "#price") == "none none"
    expect(quote.locator("#drawing-held")).to_be_hidden()
    keyboard.type("borders.left", "12 3/0")
    expect(quote.locator("#price")).to_have_attribute("data-stale", "")
    assert "Old price" in said(quote, "#price")
    expect(quote.locator("#drawing-held")).to_be_visible()
    assert faded(quote, "#price") == []
    assert faded(quote, "#drawing") == []


def test_a_list_is_scrolled_by_keyboard(quote: Page) -> None:
    """Arrows go by one, Page Down and Page Up by what is seen, each with its match in sight."""
    keyboard = Keyboard(quote)
    keyboard.type("frames.0.material", "ash")
    listbox = quote.locator(".finder-list:not([hidden]) [role=listbox]")
    pointed = listbox.locator("[aria-selected=true]")
    expect(pointed).to_contain_text("Ash 0")
    assert listbox.evaluate("(list) => list.scrollHeight > list.clientHeight")
    keyboard.press("PageDown", "PageDown")
    expect(pointed).to_have_id("frames-0-material-list-11")
    expect(pointed).to_be_in_viewport(ratio=1)
    assert listbox.evaluate("(list) => list.scrollTop > 0")
    keyboard.press("PageUp", "PageUp")
    expect(pointed).to_have_id("frames-0-material-list-0")
    assert listbox.evaluate("(list) => list.scrollTop") <= 4
    keyboard.press("ArrowUp")
    expect(pointed).to_have_id("frames-0-material-list-11")
    keyboard.press("Escape")
    expect(quote.locator("#frames-0-material")).to_have_value("ash")
