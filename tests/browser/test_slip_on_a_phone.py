"""Learning and mending beside the cutter: how a step is done, unfolded; a border that came out otherwise, typed with a thumb."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.services import quotes
from app.services import stages as progress
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Stamp
from tests.browser.accessible import found_by_axe, unfold, wider_than_the_screen
from tests.browser.conftest import DESK, NOW, PHONE, Shop, opened, stock, visiting
from tests.builders.hasty import new_store
from tests.builders.worked import SHOP, TYPED

ACT = Stamp(who="Ilse", now=NOW)
PIECE = "/orders/1/pieces/1"
WIDER_PHONE = {"width": 390, "height": 844}


@pytest.fixture
def bench_shop(tmp_path: Path) -> Iterator[Shop]:
    """The worked piece, ordered."""
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
        stock(store)
        order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
        progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), ACT)
        with opened(store) as shop:
            yield shop


def measure(page: Page, window: str, left: str) -> None:
    """Type a left border of a window and ask."""
    if not page.locator("#measured details").evaluate("each => each.open"):
        page.locator("#measured summary").click()
    page.locator("#measured-window").select_option(window)
    page.locator("#measured-left").fill(left)
    page.get_by_role("button", name="Does it still hold?").click()


@pytest.mark.parametrize("viewport", [DESK, WIDER_PHONE, PHONE], ids=["1280", "390", "320"])
def test_what_is_told_of_a_measure_reads_on_every_screen(
    browser: Browser, bench_shop: Shop, viewport: dict[str, int]
) -> None:
    with visiting(browser, bench_shop, viewport=viewport) as page:
        page.goto(PIECE)
        measure(page, "2/window", "88")
        expect(page.locator(".slip-found")).to_contain_text("does not hold it as it is")
        expect(page.locator(".slip-found h3")).to_be_in_viewport()
        unfold(page)
        assert found_by_axe(page) == []
        assert wider_than_the_screen(page) == ""


def test_a_measure_is_told_without_scripts_and_the_mat_noted_as_spoiled(
    browser: Browser, bench_shop: Shop
) -> None:
    with visiting(browser, bench_shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto(PIECE)
        measure(page, "2/window", "88")
        expect(page.locator("#measured-left")).to_have_value("88")
        page.get_by_role("button", name="Note it as spoiled, to be cut anew").click()
        expect(page.locator("#spoiled")).to_contain_text("left border 88 mm in place of 100 mm")


def test_how_a_step_is_done_unfolds_in_its_place_and_stays_open_over_a_tick(
    browser: Browser, bench_shop: Shop
) -> None:
    with visiting(browser, bench_shop, viewport=PHONE) as page:
        page.goto(PIECE)
        how = page.locator("#step-mats-mark .how-fold")
        expect(how.locator("svg")).to_be_hidden()
        how.locator("summary").click()
        expect(how.get_by_role("img", name="Marking the back")).to_be_visible()
        page.locator("#tick-mats-size").click()
        expect(page.locator("#tick-mats-size")).to_have_attribute("aria-checked", "true")
        expect(page.locator("[data-pending]")).to_have_count(0)
        expect(how.locator("svg")).to_be_visible()
        expect(page.locator("#step-mats-size .how-fold")).to_have_count(0)


def test_of_several_steps_of_a_kind_the_one_that_was_unfolded_stays_so(
    browser: Browser, bench_shop: Shop
) -> None:
    with visiting(browser, bench_shop, viewport=PHONE) as page:
        page.goto(PIECE)
        page.locator("#how-mat-1-cut-1 > summary").click()
        page.locator("#tick-mats-size").click()
        expect(page.locator("#tick-mats-size")).to_have_attribute("aria-checked", "true")
        expect(page.locator("[data-pending]")).to_have_count(0)
        expect(page.locator("#how-mat-1-cut-1 svg")).to_be_visible()
        expect(page.locator("#how-mat-1-cut-2 svg")).to_be_hidden()


def test_the_way_from_a_step_leads_to_its_place_in_the_handbook(
    browser: Browser, bench_shop: Shop
) -> None:
    with visiting(browser, bench_shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto(PIECE)
        how = page.locator("#step-frame-1-join .how-fold")
        how.locator("summary").click()
        how.get_by_role("link").click()
        expect(page.locator("#join")).to_be_in_viewport()


@pytest.mark.parametrize("viewport", [DESK, WIDER_PHONE, PHONE], ids=["1280", "390", "320"])
def test_how_the_work_is_done_reads_on_every_screen(
    browser: Browser, bench_shop: Shop, viewport: dict[str, int]
) -> None:
    with visiting(browser, bench_shop, viewport=viewport) as page:
        page.goto("/handbook/work")
        assert found_by_axe(page) == []
        assert wider_than_the_screen(page) == ""
