"""A list of matches that is still under way: no key takes of one that was for another text."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Shop
from tests.browser.held import Held
from tests.browser.keyboard import MATCHES, Keyboard
from tests.browser.test_at_the_counter import save

SHOWN = ".finder-list:not([hidden]) [role=option]"
MOULDING = "[name='frames.0.material']"


@pytest.fixture
def typed_on(page: Page) -> tuple[Keyboard, Held]:
    """The list of “lin” is there, and that of “linz” is under way."""
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("frames.0.material", "lin")
    expect(page.locator(f"{MATCHES}[aria-selected=true]")).to_contain_text("Linden")
    held = Held(page, re.compile("/quotes/materials"))
    keyboard.press("z")
    held.wait_for(1)
    expect(page.locator(SHOWN)).to_have_count(1)
    return keyboard, held


def test_tab_leaves_what_was_typed(page: Page, typed_on: tuple[Keyboard, Held]) -> None:
    keyboard, _ = typed_on
    expect(page.locator(f"{SHOWN}[aria-selected=true]")).to_have_count(0)
    keyboard.press("Tab")
    expect(page.locator(SHOWN)).to_have_count(0)
    expect(page.locator(MOULDING)).to_have_value("linz")


def test_enter_waits_for_the_list_and_takes_nothing_where_nothing_is_alike(
    page: Page, typed_on: tuple[Keyboard, Held]
) -> None:
    keyboard, held = typed_on
    keyboard.press("ArrowDown", "Enter")
    expect(page.locator(MOULDING)).to_have_value("linz")
    held.let_go()
    expect(page.locator(".finder-none:visible")).to_have_text("Nothing is like “linz”.")
    expect(page.locator(MOULDING)).to_have_value("linz")
    expect(page).to_have_url(re.compile("/quotes/new$"))


def test_enter_waits_for_the_list_of_what_was_typed_last(
    page: Page, typed_on: tuple[Keyboard, Held]
) -> None:
    keyboard, held = typed_on
    keyboard.press("Backspace")
    held.wait_for(2)
    keyboard.press("Enter")
    expect(page.locator(MOULDING)).to_have_value("lin")
    held.waiting.pop(0)  # it was overtaken
    held.let_go()
    expect(page.locator(MOULDING)).to_have_value("LIN-20")


def test_a_list_that_cannot_be_fetched_takes_away_the_one_before(
    page: Page, typed_on: tuple[Keyboard, Held]
) -> None:
    keyboard, held = typed_on
    held.waiting.pop(0).fulfill(status=409, body="")
    expect(page.locator("#status")).to_contain_text("The list could not be fetched.")
    expect(page.locator(SHOWN)).to_have_count(0)
    keyboard.press("Tab")
    expect(page.locator(MOULDING)).to_have_value("linz")


def test_escape_keeps_a_list_from_opening(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/quotes/new")
    held = Held(page, "**/customers/find")
    keyboard = Keyboard(page)
    keyboard.type("customer", "amb")
    held.wait_for(1)
    keyboard.press("Escape")
    expect(page.locator("[data-finder][data-busy]")).to_have_count(0)
    expect(page.locator(SHOWN)).to_have_count(0)
    expect(page.locator("#customer")).to_have_value("amb")
