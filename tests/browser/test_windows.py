"""Several windows typed live, on a laptop and on a phone: the package follows as one types."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.accessible import found_by_axe, unfold, wider_than_the_screen
from tests.browser.conftest import DESK, PHONE, Shop, visiting
from tests.browser.keyboard import Keyboard

FOLD = "Several windows, oval, title, groove"
PACKAGE = "Glass size, standard sizes, overlap"


@pytest.fixture(params=[DESK, PHONE], ids=["laptop", "phone"])
def quote(request: pytest.FixtureRequest, browser: Browser, shop: Shop) -> Iterator[Page]:
    """A new quote of a photograph of 100 × 150 in one mat with borders of 60."""
    with visiting(browser, shop, viewport=request.param) as page:
        page.goto("/quotes/new")
        for path, text in (
            ("artwork-size", "100 x 150"),
            ("mats-0-material", "M-101"),
            ("borders-left", "60"),
        ):
            page.locator(f"#{path}").fill(text)
        yield page


def unfolded(page: Page, words: str) -> None:
    page.get_by_text(words, exact=True).click()


def fact(page: Page, what: str) -> str:
    """The figure beside a word beneath the drawing."""
    return (
        page.locator("#drawing .facts div", has=page.locator(f"dt:text-is('{what}')"))
        .locator("dd")
        .inner_text()
    )


def test_eight_windows_are_typed_in_place(quote: Page) -> None:
    """Windows 90 × 140: 60 + 4 × 90 + 3 × 40 + 60 = 600 wide, 60 + 2 × 140 + 40 + 60 = 440 high."""
    unfolded(quote, FOLD)
    quote.locator("#windows-count").fill("8")
    expect(quote.locator(".window:visible")).to_have_count(8)
    quote.locator("#arrangement-rows").fill("4")
    expect(quote.locator("#drawing .facts")).to_contain_text("600 × 440 mm")
    assert fact(quote, "8 windows") == "90 × 140 mm"
    expect(quote.locator("#arrangement-rows")).to_be_focused()
    unfold(quote)
    assert found_by_axe(quote) == []
    assert wider_than_the_screen(quote) == ""


def test_what_was_typed_of_a_window_outlives_a_smaller_count(quote: Page) -> None:
    """On the way from 8 to 12 there stands a 1; nothing may be lost by it."""
    unfolded(quote, FOLD)
    quote.locator("#windows-count").fill("8")
    quote.locator("#windows-5-size").fill("A6")
    quote.locator("#windows-count").fill("1")
    expect(quote.locator(".window:visible")).to_have_count(1)
    quote.locator("#windows-count").fill("12")
    expect(quote.locator(".window:visible")).to_have_count(12)
    expect(quote.locator("#windows-5-size")).to_have_value("A6")


def test_a_window_of_its_own_kind_unfolds_what_belongs_to_it(quote: Page) -> None:
    unfolded(quote, FOLD)
    quote.locator("#windows-count").fill("2")
    quote.locator("#window-1 summary").click()
    expect(quote.locator("#windows-1-rise")).to_be_hidden()
    quote.locator("#windows-1-shape").select_option("arch")
    expect(quote.locator("#windows-1-rise")).to_be_visible()
    # A half circle on a window 90 wide rises 45.
    expect(quote.locator("#drawing .facts")).to_contain_text("arched 90 × 140 mm, rise 45 mm")
    expect(quote.locator("#windows-1-x")).to_be_hidden()
    quote.locator("#arrangement-placing").select_option("free")
    expect(quote.locator("#windows-1-x")).to_be_visible()
    # A at 60, then 90 and the gap of 40.
    expect(quote.locator("#windows-1-x-said")).to_have_text("190 mm")
    quote.locator("#windows-1-x").fill("250")
    # 250 + 90 + 60
    expect(quote.locator("#drawing .facts")).to_contain_text("400 × 260 mm")


def test_a_standard_size_is_taken_in_place(quote: Page) -> None:
    """210 × 260 up to 21 × 29.7 cm, then to 24 × 30 cm; what is typed elsewhere stays."""
    expect(quote.locator("#drawing .facts")).to_contain_text("210 × 260 mm")
    quote.locator("#artwork-title").fill("On the way")
    unfolded(quote, PACKAGE)
    quote.get_by_role("button", name="Next standard frame size: 21 × 29.7 cm").click()
    expect(quote.locator("#package-size")).to_have_value("21 × 29.7 cm")
    expect(quote.locator("#package-size")).to_be_focused()
    expect(quote.locator("#sizing")).to_have_value("package")
    expect(quote.locator("#drawing .facts")).to_contain_text(
        "left and right 60, top and bottom 78.5 mm"
    )
    quote.get_by_role("button", name="Next standard frame size: 24 × 30 cm").click()
    expect(quote.locator("#drawing .facts")).to_contain_text("240 × 300 mm")
    expect(quote.locator("#artwork-title")).to_have_value("On the way")


def test_a_size_that_holds_the_windows_is_taken_from_their_fault(quote: Page) -> None:
    unfolded(quote, PACKAGE)
    expect(quote.locator("#drawing .facts")).to_contain_text("210 × 260 mm")
    quote.locator("#sizing").select_option("package")
    quote.locator("#package-size").fill("80 x 100")
    expect(quote.locator("#package-offers button")).not_to_have_count(0)
    taken = quote.locator("#package-offers button").first
    expect(taken).to_have_text("10 × 15 cm")  # the smallest frame that 90 × 140 leaves a border in
    taken.click()
    expect(quote.locator("#drawing .facts")).to_contain_text("100 × 150 mm")


def test_a_fault_in_a_fold_opens_it(quote: Page) -> None:
    expect(quote.locator("#drawing .facts")).to_contain_text("210 × 260 mm")
    unfolded(quote, FOLD)
    quote.locator("#windows-count").fill("2")
    quote.locator("#window-1 summary").click()
    quote.locator("#windows-1-edge").fill("60")
    quote.locator("#window-1 summary").click()
    expect(quote.locator("#windows-1-edge-error")).to_contain_text("An overlap of 60 mm")
    expect(quote.locator("#windows-1-edge")).to_be_visible()


def test_a_size_alone_is_asked_for_a_mat_kindly(page: Page) -> None:
    page.goto("/quotes/new")
    Keyboard(page).type("artwork.size", "410x310")
    expect(page.locator("#mats-asked")).to_contain_text("Choose a mat")
    expect(page.locator("#price")).to_contain_text("Still needed for a price")
    expect(page.locator(".error:not(:empty)")).to_have_count(0)
    assert found_by_axe(page) == []
    page.locator("#mats-0-material").fill("M-101")
    expect(page.locator("#mats-asked")).to_be_hidden()
    expect(page.locator("#drawing .facts")).to_be_visible()


def test_two_dozen_windows_are_worked_out_as_one_types(quote: Page) -> None:
    """60 + 6 × 90 + 5 × 40 + 60 = 860 wide, 60 + 4 × 140 + 3 × 40 + 60 = 800 high."""
    unfolded(quote, FOLD)
    quote.locator("#windows-count").fill("24")
    quote.locator("#arrangement-rows").fill("6")
    expect(quote.locator("#drawing .facts")).to_contain_text("860 × 800 mm")
    expect(quote.locator("#window-23")).to_be_visible()
    assert wider_than_the_screen(quote) == ""
