"""Every page for everyone: nothing found by axe, nothing wider than a phone, light and dark."""

import re
from collections.abc import Iterator

import pytest
from fastapi.routing import iter_route_contexts
from playwright.sync_api import Browser, Page, expect

from app.web.app import create_app
from tests.browser.accessible import (
    cut_off,
    found_by_axe,
    left_edges,
    look_at,
    named_alike,
    too_small_to_touch,
    unfold,
    wider_than_the_screen,
)
from tests.browser.clock import NOW
from tests.browser.conftest import DESK, PHONE, Shop, visiting

PAGES = (
    "/",
    "/quotes",
    "/quotes?q=nobody",
    "/quotes/new",
    "/pictures",
    "/orders",
    "/orders?stage=ordered&sort=due",
    "/orders/1",
    "/orders/2",
    "/orders/2/pieces/1",
    "/orders/2/pieces/1/photo",
    "/orders/2/pieces/1?view=measured",
    "/orders/2/pieces/1?view=section",
    "/orders/2/wall",
    "/orders/3",
    "/orders/3/pieces/1",
    "/orders/1/pieces/1/change",
    "/orders/1/pieces/1/price-again",
    "/orders/1/pieces/new",
    "/orders/4",
    "/orders/4/pieces/1",
    "/orders/4/pieces/1/designs",
    "/orders/4/pieces/1/show",
    "/orders/4/pieces/1/show?design=1",
    "/orders/4/pieces/1/designs/new",
    "/orders/4/pieces/1/change?design=2",
    "/orders/4/wall?piece=1A+1B&thing=door&colour=ink-blue&hook=60",
    "/orders/5",
    "/orders/5/wall?colour=own",
    "/orders/5/pieces/1/designs/1/take",
    "/materials",
    "/materials/new?kind=moulding",
    "/stock",
    "/stock?q=nothing+at+all",
    "/stock/items",
    "/stock/items?material=LIN-20",
    "/stock/items/1",
    "/stock/items/1/edit",
    "/stock/items/2",
    "/stock/receive",
    "/stock/receive?material=LIN-20",
    "/stock/offcuts/new?item=1",
    "/stock/levels/LIN-20",
    "/stock/count",
    "/stock/count?kind=moulding",
    "/bench/together",
    "/bench/together/choose?piece=3.1",
    "/bench/together?piece=3.1&piece=5.1&piece=2.1&piece=abc&marks=3.1",
    "/plans",
    "/plans/new",
    "/invoices",
    "/invoices?month=2025-01",
    "/customers",
    "/customers/1",
    "/customers/2",
    "/customers/new",
    "/buying",
    "/buying/orders",
    "/buying/orders?stage=dropped",
    "/buying/orders/1",
    "/buying/orders/1/costs",
    "/buying/orders/2",
    "/settings",
    "/settings/allowances",
    "/settings/usual",
    "/settings/work",
    "/settings/tax",
    "/settings/prices",
    "/settings/cutting",
    "/settings/weight",
    "/settings/promises",
    "/settings/clock",
    "/settings/data",
    "/settings/workshop",
    "/settings/cutters",
    "/settings/cutters/new",
    "/settings/cutters/1",
    "/settings/cutters/1/remove",
    "/settings/cutters/1/test",
    "/docs",
    "/find?q=quill",
    "/find?q=nobody",
    "/sell",
    "/orders/6",
    "/orders/6/lines/new",
    "/orders/6/lines/1/change",
    "/orders/7",
    "/orders/7/pieces/1/split",
    "/orders/1/delete",
    "/orders/1/customer",
    "/customers/1/edit",
    "/customers/1/join",
    "/customers/1/remove",
    "/materials/raise?percent=5&what=both",
    "/materials/price-book",
    "/materials/start",
    "/materials/M-101/edit",
    "/materials/M-101/remove",
    "/plans/1",
    "/plans/1/drop",
    "/handbook",
    "/handbook?q=rebate",
    "/handbook/work",
)

NO_PAGES = (
    "/api/",
    "/static/",
    "/openapi",
    ".",
    "/customers/find",
    "/days",
    "/turn",
    "/materials/find",
    "/export",
    "/labels",
    "/making/{draft_id}",
    "/prints/{print_id}",
    "/welcome",
    "/remove-sample",
    "/copies/{name}",
    "/pictures/{picture_id}",
    "/photo/straighten",
    "/settings/{slug}",
)
"""In addresses of files and of parts of pages, and of what is looked at by a test of its own."""

REFUSED = {"customer": "", "artwork.size": "16x", "borders.left": "12 3/0", "action": "save"}


@pytest.fixture(scope="module")
def desk(browser: Browser, busy_shop: Shop) -> Iterator[Page]:
    """A page as wide as a laptop."""
    with visiting(browser, busy_shop, viewport=DESK) as page:
        yield page


@pytest.fixture(scope="module")
def phone(browser: Browser, busy_shop: Shop) -> Iterator[Page]:
    """A page as narrow as WCAG asks for (1.4.10)."""
    with visiting(browser, busy_shop, viewport=PHONE, has_touch=True, is_mobile=True) as page:
        yield page


def test_no_page_is_left_out(busy_shop: Shop) -> None:
    """Every address that answers to a reader is among the pages, or is no page."""
    asked = [path.split("?")[0] for path in PAGES]
    left_out = [
        route.path
        for route in iter_route_contexts(create_app(busy_shop.store, now=lambda: NOW).routes)
        if "GET" in (route.methods or ()) and not any(part in route.path for part in NO_PAGES)
        if not any(re.fullmatch(re.sub(r"{[^}]+}", "[^/]+", route.path), each) for each in asked)
    ]
    assert left_out == []


@pytest.mark.parametrize("path", PAGES)
def test_a_page_on_a_laptop(desk: Page, path: str) -> None:
    look_at(desk, path)
    assert left_edges(desk) + named_alike(desk) == []


@pytest.mark.parametrize("path", PAGES)
def test_a_page_on_a_phone(phone: Page, path: str) -> None:
    look_at(phone, path)
    assert too_small_to_touch(phone) == []


@pytest.mark.parametrize(
    "viewport", [PHONE, {"width": 1366, "height": 768}], ids=["phone", "laptop"]
)
def test_letters_twice_as_large(
    browser: Browser, busy_shop: Shop, viewport: dict[str, int]
) -> None:
    """WCAG 2.2, 1.4.4: text alone is set to 200 %, as a browser does whose reader wants larger letters."""
    with visiting(browser, busy_shop, viewport=viewport) as page:
        page.context.new_cdp_session(page).send(
            "Page.setFontSizes", {"fontSizes": {"standard": 32}}
        )
        found = {}
        for path in PAGES:
            page.goto(path)
            found[path] = [wider_than_the_screen(page), *cut_off(page)]
        assert {path: what for path, what in found.items() if any(what)} == {}


def test_where_one_is_shows_without_colours(browser: Browser, busy_shop: Shop) -> None:
    """In forced colours a border of its own colour is all that is left: only the present page has one below it."""
    with visiting(browser, busy_shop, viewport=DESK, forced_colors="active") as page:
        for path in ("/", "/orders", "/settings"):
            page.goto(path)
            lines = page.locator(".menu a").evaluate_all(
                """(links) => links.map((each) => {
                  const style = getComputedStyle(each);
                  return [each.hasAttribute('aria-current'), style.borderBlockEndColor === style.backgroundColor
                    || style.borderBlockEndColor === getComputedStyle(document.body).backgroundColor];
                })"""
            )
            assert [current for current, hidden in lines if not hidden] == [True]
            assert [hidden for current, hidden in lines if current] == [False]


def refused(page: Page) -> None:
    page.goto("/quotes/new")
    for name in ("artwork.size", "borders.left"):
        page.locator(f"[name='{name}']").fill(REFUSED[name])
    expect(
        page.locator("#artwork-size-error")
    ).not_to_be_empty()  # what is answered while one types moves the buttons
    page.get_by_role("button", name="Save the quote").click()
    page.locator(".error-summary").wait_for()
    unfold(page)
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    page.once("dialog", lambda dialog: dialog.accept())
    page.goto("about:blank")


def test_a_form_that_came_back_on_a_laptop(desk: Page) -> None:
    refused(desk)


def test_a_form_that_came_back_on_a_phone(phone: Page) -> None:
    refused(phone)


def test_a_missing_page_leads_on(browser: Browser, busy_shop: Shop) -> None:
    """Outside the watch of the others: a missing page is a 404, as it should be."""
    context = browser.new_context(base_url=busy_shop.address, viewport=PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/nothing-here")
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    context.close()


def test_the_first_page_of_all(browser: Browser, new_shop: Shop) -> None:
    for viewport in (DESK, PHONE):
        with visiting(browser, new_shop, viewport=viewport) as page:
            look_at(page, "/welcome")


def test_targets_at_the_bench_are_as_large_as_a_thumb(phone: Page) -> None:
    """44 px for what moves the work on; WCAG 2.2 asks for 24 of anything (2.5.8)."""
    phone.goto("/orders/2/pieces/1")
    for button in phone.locator("main .actions-large button:visible").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 44, button.inner_text()
