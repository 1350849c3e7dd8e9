"""What is typed while the server works: one request of a form at a time, and only the latest state is shown."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Shop, visiting
from tests.browser.held import Held
from tests.browser.keyboard import Keyboard

ASKED = "**/quotes?live=1"

A_MINUTE = 60
"""Seconds."""


@pytest.fixture
def quote(browser: Browser, shop: Shop) -> Iterator[Page]:
    with visiting(browser, shop) as page:
        page.clock.install()
        page.goto("/quotes/new")
        keyboard = Keyboard(page)
        keyboard.type("artwork.size", "410x310")
        keyboard.find("mats.0.material", "chal", "Chalk white")
        keyboard.type("borders.left", "50")
        # 410 − 2 × 5 + 2 × 50 wide, 310 − 2 × 5 + 2 × 50 high: the last key is answered.
        expect(page.locator("#drawing .facts")).to_contain_text("500 × 400 mm")
        yield page
        page.unroute(ASKED)


def figures_seen(page: Page) -> list[str]:
    """Every text of the price, with where it jumps, that came to stand on the page since it was asked for."""
    seen: list[str] = page.evaluate("window.seen")
    return seen


def watch_figures(page: Page) -> None:
    page.evaluate(
        """() => {
          window.seen = [];
          const look = () => {
            const text = document.getElementById("price").textContent.trim();
            if (text && seen.at(-1) !== text) seen.push(text);
          };
          look();
          new MutationObserver(look).observe(document.body, { childList: true, subtree: true });
        }"""
    )


def type_on(page: Page, text: str) -> None:
    """Type into the left border, whose whole text is replaced by the first key."""
    field = page.locator("[name='borders.left']")
    field.select_text()
    field.press_sequentially(text)


def test_what_is_typed_meanwhile_waits_and_only_the_latest_of_it_is_asked(quote: Page) -> None:
    held = Held(quote, ASKED)
    watch_figures(quote)
    type_on(quote, "6")
    held.wait_for(1)
    quote.clock.pause_at(
        quote.evaluate("Date.now() / 1000") + A_MINUTE
    )  # the page loses no patience
    quote.locator("[name='borders.left']").press_sequentially("0.5")
    quote.wait_for_timeout(150)
    assert len(held.all) == 1, "one of a form at a time"
    held.let_go()
    quote.clock.resume()
    held.wait_for(2)
    assert "borders.left=60.5" in held.all[1]
    assert len(figures_seen(quote)) == 1, "the answer for 6 was overtaken"
    held.let_go()
    quote.wait_for_function("() => window.seen.length === 2")
    quote.wait_for_timeout(200)
    assert len(held.all) == 2


def test_an_overtaken_request_is_not_waited_for_without_end(quote: Page) -> None:
    held = Held(quote, ASKED)
    watch_figures(quote)
    type_on(quote, "6")
    held.wait_for(1)
    quote.locator("[name='borders.left']").press_sequentially("1")
    held.wait_for(2)
    assert "borders.left=61" in held.all[1]
    held.waiting.pop(0)
    held.let_go()
    quote.wait_for_function("() => window.seen.length === 2")
    expect(quote.locator("[data-live-failed]")).to_have_count(0)


def test_a_failure_that_was_overtaken_is_not_told(quote: Page) -> None:
    held = Held(quote, ASKED)
    watch_figures(quote)
    type_on(quote, "6")
    held.wait_for(1)
    quote.locator("[name='borders.left']").press_sequentially("2")
    held.waiting.pop(0).fulfill(status=409, body="")
    held.wait_for(2)
    held.let_go()
    quote.wait_for_function("() => window.seen.length === 2")
    expect(quote.locator("[data-live-failed]")).to_have_count(0)
