"""The page of an order answers in its first screen, and its deciding button stays in sight and covers nothing."""

import pytest
from playwright.sync_api import Browser, Page, expect

from app.services import orders, quotes
from app.services import stages as progress
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp
from tests.browser.conftest import NOW, Shop
from tests.browser.until import until
from tests.builders.worked import SHOP, TYPED

ACT = Stamp(who="", now=NOW)
PIECES = 6
LAPTOP = {"width": 1366, "height": 768}
PHONE = {"width": 390, "height": 844}


def six_pieces(shop: Shop) -> str:
    """Save an order of six pieces; returns its address."""
    order_id = quotes.save_new(shop.store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    for version in range(1, PIECES):
        piece = quotes.worked_out(shop.store, TYPED, SHOP, today=NOW.date())
        orders.add_piece(shop.store, OrderAt(id=order_id, version=version), piece, ACT)
    progress.take_order(shop.store, OrderAt(id=order_id, version=PIECES), progress.Terms(), ACT)
    return f"{shop.address}/orders/{order_id}"


def height(page: Page) -> float:
    """How many screens high the page is."""
    return float(page.evaluate("document.documentElement.scrollHeight / innerHeight"))


@pytest.mark.parametrize(("size", "most"), [(LAPTOP, 1.5), (PHONE, 4)], ids=["laptop", "phone"])
def test_an_order_of_six_pieces_is_short(
    browser: Browser, shop: Shop, size: dict[str, int], most: float
) -> None:
    address = six_pieces(shop)
    page = browser.new_page(viewport=size)  # type: ignore[arg-type]
    page.goto(address)
    assert page.locator(".order-row").count() == PIECES
    assert height(page) <= most
    for answer in (".next-bar .button-primary", ".totals .price"):
        box = page.locator(answer).bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= size["height"], answer
    page.close()


def test_the_deciding_button_stays_in_sight_and_covers_no_focus(
    browser: Browser, shop: Shop
) -> None:
    address = six_pieces(shop)
    page = browser.new_page(viewport=LAPTOP)  # type: ignore[arg-type]
    page.goto(address)
    page.keyboard.press("End")
    until(page, lambda: page.evaluate("scrollY") > 0, "the page is scrolled")
    bar = page.locator(".next-bar").bounding_box()
    assert bar is not None
    assert bar["y"] >= 0
    page.locator(".foot a").last.focus()
    for _ in range(60):
        page.keyboard.press("Shift+Tab")
        covered = page.evaluate(
            """() => {
              const bar = document.querySelector(".next-bar"), at = document.activeElement;
              if (bar.contains(at) || !at.closest("main") || at.id === "main") return "";
              const one = bar.getBoundingClientRect(), other = at.getBoundingClientRect();
              const clear = other.bottom <= one.top || other.top >= one.bottom;
              return clear ? "" : at.outerHTML.slice(0, 120);
            }"""
        )
        assert covered == "", covered
    page.close()


def test_everything_of_a_piece_opens_in_place_without_javascript(
    browser: Browser, shop: Shop
) -> None:
    address = six_pieces(shop)
    context = browser.new_context(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(address)
    row = page.locator("#piece-2")
    expect(row.get_by_text("Price again")).to_be_hidden()
    row.locator(".row-more > summary").click()
    expect(row.get_by_text("Price again")).to_be_visible()
    expect(row.locator(".facts").first).to_be_visible()
    context.close()
