"""The drawing and the price of a quote stay in sight while it is typed, on a laptop, a small window and a phone."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from tests.browser.conftest import PHONE, Shop, visiting
from tests.browser.keyboard import Keyboard
from tests.browser.test_every_page import found_by_axe, wider_than_the_screen
from tests.browser.until import until
from tests.builders.worked import TO_PAY, TYPED

LAPTOP = ViewportSize(width=1366, height=768)
SMALL = ViewportSize(width=800, height=700)
TALL_PHONE = ViewportSize(width=390, height=844)


def typed(page: Page) -> Page:
    """The worked piece, typed into a new quote."""
    page.goto("/quotes/new")
    for path, text in TYPED.items():
        field = page.locator(f"[name='{path}']")
        if path in ("artwork.kind", "presentation"):
            field.select_option(text)
        else:
            field.fill(text)
    expect(page.locator("#price .price")).to_have_text(TO_PAY)
    return page


@pytest.fixture(params=[LAPTOP, SMALL], ids=["laptop", "small window"])
def quote(request: pytest.FixtureRequest, browser: Browser, shop: Shop) -> Iterator[Page]:
    with visiting(browser, shop, viewport=request.param) as page:
        yield typed(page)


@pytest.fixture(params=[PHONE, TALL_PHONE], ids=["320", "390"])
def on_a_phone(request: pytest.FixtureRequest, browser: Browser, shop: Shop) -> Iterator[Page]:
    with visiting(browser, shop, viewport=request.param) as page:
        yield typed(page)


def answers(page: Page) -> tuple[Locator, ...]:
    buttons = ("Save the quote", "Save and print", "Save and order")
    return (
        page.locator("#drawing svg"),
        page.locator("#price .price"),
        *(page.get_by_role("button", name=name) for name in buttons),
    )


def test_drawing_price_and_buttons_are_in_sight_wherever_the_form_stands(quote: Page) -> None:
    for where in (0, 300, 100_000):
        quote.evaluate("(where) => scrollTo(0, where)", where)
        for part in answers(quote):
            expect(part).to_be_in_viewport(ratio=1)
    assert wider_than_the_screen(quote) == ""


def test_drawing_and_buttons_stay_in_sight_with_several_windows(quote: Page) -> None:
    quote.get_by_text("Several windows, oval, title, groove", exact=True).click()
    quote.locator("#windows-count").fill("6")
    expect(quote.locator(".window:visible")).to_have_count(6)
    quote.locator("#groove").scroll_into_view_if_needed()
    for part in answers(quote):
        expect(part).to_be_in_viewport(ratio=1)


def test_the_strip_of_a_phone_opens_the_drawing_and_goes_back(on_a_phone: Page) -> None:
    page = on_a_phone
    page.locator("#frames-0-material").scroll_into_view_if_needed()
    bar = page.locator(".price-bar")
    expect(bar).to_be_in_viewport(ratio=1)
    expect(bar).to_contain_text(TO_PAY)
    picture = page.locator("#drawing svg")
    expect(picture).to_be_in_viewport(ratio=1)
    small = picture.bounding_box()
    scrolled = page.evaluate("scrollY")
    bar.click()
    expect(page.get_by_role("link", name="Back to the fields")).to_be_visible()
    large = picture.bounding_box()
    assert small is not None
    assert large is not None
    assert small["height"] < 50
    assert large["height"] > 150
    assert large["width"] > 250
    page.get_by_text("Section", exact=True).click()
    expect(page.locator("#drawing svg.drawing-section")).to_be_in_viewport()
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    page.get_by_role("link", name="Back to the fields").click()
    expect(page.get_by_role("link", name="Back to the fields")).to_be_hidden()
    until(page, lambda: page.evaluate("scrollY") == scrolled, "it stands where it stood")
    expect(page.locator("#frames-0-material")).to_have_value("LIN-20")


def test_the_strip_needs_no_scripts(browser: Browser, shop: Shop) -> None:
    with visiting(browser, shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto("/quotes/new")
        page.locator("#artwork-size").fill("410x310")
        with page.expect_navigation():
            page.get_by_role("button", name="Work it out").click()
        page.locator(".price-bar").click()
        expect(page.get_by_role("link", name="Back to the fields")).to_be_visible()
        box = page.locator("#drawing svg").bounding_box()
        assert box is not None
        assert box["width"] > 250


def test_a_quote_is_ordered_by_its_button_alone(quote: Page) -> None:
    quote.locator("#customer").fill("Amber Quill")
    quote.locator("#customer").press("Escape")
    quote.get_by_role("button", name="Save and order").click()
    expect(quote.locator("h1")).to_contain_text("Order")


def test_an_old_price_stays_after_its_field_is_left_and_says_what_is_missing(quote: Page) -> None:
    keyboard = Keyboard(quote)
    quote.locator("#frames-0-material").focus()
    keyboard.type("frames.0.material", "zz9")
    expect(quote.locator("#price")).to_have_attribute("data-stale", "")
    keyboard.press("Tab")
    expect(quote.locator("#frames-0-material-error")).to_contain_text("No moulding called “zz9”")
    expect(quote.locator("#price")).to_have_attribute("data-stale", "")
    expect(quote.locator("#price .price")).to_have_text(TO_PAY)
    expect(quote.locator("#drawing svg.drawing-front")).to_be_visible()
    expect(quote.locator("#price-held")).to_contain_text("Moulding: No moulding called “zz9”")
    assert found_by_axe(quote) == []


def test_the_name_of_a_material_is_larger_than_its_code(quote: Page) -> None:
    quote.locator("#artwork-size").focus()
    name = quote.locator("#glazing-material-said b")
    expect(name).to_have_text("Float glass 2 mm")
    sizes = [
        float(each.evaluate("(each) => getComputedStyle(each).fontSize").removesuffix("px"))
        for each in (name, quote.locator("#glazing-material"))
    ]
    assert sizes[0] > sizes[1]
