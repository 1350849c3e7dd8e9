"""The screen turned to the customer, in a browser: other tabs, Back, keys, and what is half typed."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.accessible import found_by_axe, wider_than_the_screen
from tests.browser.conftest import DESK, PHONE, Shop, visiting

CHANGE = "/orders/4/pieces/1/change"
SHOW = "/orders/4/pieces/1/show"


@pytest.fixture
def desk(browser: Browser, busy_shop: Shop) -> Iterator[Page]:
    with visiting(browser, busy_shop, viewport=DESK) as page:
        yield page


def turn(page: Page) -> None:
    """Turn the screen by its words: in the head, on a phone in the menu."""
    menu = page.get_by_role("button", name="Menu")
    if menu.is_visible():
        menu.click()
    expect(page.get_by_text("Turn to the customer").filter(visible=True)).to_have_count(1)
    page.get_by_role("button", name="Turn to the customer").click()


@pytest.mark.parametrize("width", [900, 1090, 1130, 1270, 1400])
def test_what_turns_the_screen_says_so_at_every_width_of_a_desk(desk: Page, width: int) -> None:
    """In one line or in two: an eye alone says nothing to whoever never pressed it."""
    desk.set_viewport_size({"width": width, "height": 700})
    desk.goto("/orders/4")
    words, find = (desk.locator(at).bounding_box() for at in (".head > .turn span", ".head .find"))
    assert words
    assert find
    assert words["width"] > 60
    assert words["height"] > 14
    assert find["x"] + find["width"] <= words["x"]
    assert not wider_than_the_screen(desk)


def test_other_tabs_are_covered_and_keep_what_is_typed(desk: Page) -> None:
    desk.goto("/settings/shop")
    typed = desk.locator("main input[type=text]").first
    typed.fill("Half typed")
    other = desk.context.new_page()
    other.goto("/orders/4")
    other.get_by_role("button", name="Turn to the customer").click()
    expect(desk.locator(".cover")).to_contain_text("This screen faces the customer.")
    expect(desk.locator("#main")).to_be_hidden()
    assert found_by_axe(desk) == []
    desk.locator(".cover").get_by_role("button", name="Turn back").click()
    expect(desk.locator("#main")).to_be_visible()
    expect(typed).to_have_value("Half typed")
    expect(other.locator('html[data-faces="shop"]')).to_be_attached()


def test_a_covered_tab_is_there_again_once_a_quote_turned_the_screen_back(desk: Page) -> None:
    other = desk.context.new_page()
    other.goto("/customers")
    desk.goto("/quotes/new")
    turn(desk)
    expect(other.locator(".cover")).to_be_visible()
    desk.get_by_role("button", name="Turn back").click()
    expect(other.locator(".cover")).to_have_count(0)
    expect(other.locator("#main")).to_be_visible()


def test_back_does_not_show_what_the_page_had_before(desk: Page) -> None:
    desk.goto("/orders/4")
    desk.goto(CHANGE)
    expect(desk.get_by_text("Cost and margin")).to_be_visible()
    turn(desk)
    expect(desk.locator('html[data-faces="customer"]')).to_be_attached()
    for _ in range(2):
        desk.go_back()
        expect(desk.locator('html[data-faces="customer"]')).to_be_attached()
        expect(desk.get_by_text("Cost and margin")).to_have_count(0)


def test_a_quote_that_is_half_typed_is_turned_and_turned_back(desk: Page) -> None:
    desk.goto("/quotes/new")
    desk.locator("#artwork-title").fill("Harbour")
    turn(desk)
    expect(desk.locator('html[data-faces="customer"]')).to_be_attached()
    expect(desk.locator("#artwork-title")).to_have_value("Harbour")
    assert found_by_axe(desk) == []
    desk.get_by_role("button", name="Turn back").click()
    expect(desk.locator('html[data-faces="shop"]')).to_be_attached()
    expect(desk.locator("#artwork-title")).to_have_value("Harbour")


def press(desk: Page, key: str, address: str) -> None:
    """Press a key that leads to an address, which is given by a pattern."""
    desk.keyboard.press(key)
    desk.wait_for_url(re.compile(address))


def test_keys_lead_through_the_designs(desk: Page) -> None:
    desk.goto(SHOW)
    expect(desk.get_by_text("from design to design")).to_be_visible()
    press(desk, "ArrowRight", r"show\?design=1$")
    press(desk, "Enter", r"show\?design=2$")
    press(desk, "ArrowLeft", r"show\?design=1$")
    press(desk, "ArrowRight", r"show\?design=2$")
    press(desk, "ArrowLeft", r"show\?design=1$")
    press(desk, "Escape", r"show$")
    press(desk, "Escape", r"/orders/4(#piece-1)?$")


def test_the_arrow_to_the_left_shows_the_last_design_and_then_goes_round(desk: Page) -> None:
    """Of three designs; back among all, the arrows go on from the one that was looked at."""
    desk.goto(SHOW)
    press(desk, "ArrowLeft", r"show\?design=3$")
    press(desk, "Escape", r"show$")
    expect(desk.get_by_role("link", name="Design C alone")).to_be_focused()
    press(desk, "ArrowRight", r"show\?design=1$")


@pytest.mark.parametrize("path", [SHOW, "/orders/4/pieces/1/designs"])
def test_what_is_said_of_designs_stands_in_lines(desk: Page, path: str) -> None:
    """Names, prices and buttons at one height each, whatever is said of one of them."""
    desk.goto(path)
    for part in ("li > h2", "li > .price", "li > form"):
        heights = {round(each.bounding_box()["y"]) for each in desk.locator(f"main {part}").all()}  # type: ignore[index]
        assert len(heights) == 1, part
    pictures = [each.bounding_box() for each in desk.locator("main li svg.drawing").all()]
    assert len({(round(each["width"]), round(each["height"])) for each in pictures if each}) == 1


@pytest.mark.parametrize("path", [SHOW, f"{SHOW}?design=1", "/orders/4", CHANGE])
def test_on_a_phone_nothing_is_cut_off(browser: Browser, busy_shop: Shop, path: str) -> None:
    with visiting(browser, busy_shop, viewport=PHONE) as page:
        page.goto("/orders/4")
        turn(page)
        expect(page.locator('html[data-faces="customer"]')).to_be_attached()
        page.goto(path)
        assert not wider_than_the_screen(page)
        assert found_by_axe(page) == []


def test_the_designs_are_led_through_without_scripts(browser: Browser, busy_shop: Shop) -> None:
    with visiting(browser, busy_shop, viewport=DESK, java_script_enabled=False) as page:
        page.goto(SHOW)
        page.locator("a.show-drawing").first.click()
        expect(page).to_have_url(re.compile(r"show\?design=1$"))
        page.get_by_role("link", name="The design after").click()
        expect(page).to_have_url(re.compile(r"show\?design=2$"))
