"""A cutting plan from asking to booked, with scripts and without, on a laptop and on a phone."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.lengths import mm
from app.services import plans, stock
from app.services.cutting_runs import PlanRuns
from app.services.stock import Received
from app.stock.items import Item, StockForm
from app.stock.planning.plans import standing
from app.storage import DATABASE_NAME
from tests.browser.accessible import found_by_axe, look_at, wider_than_the_screen
from tests.browser.conftest import DESK, NOW, PHONE, Shop, opened, visiting
from tests.browser.held import Held
from tests.builders.hasty import new_store
from tests.builders.kept import ACT, BOOK, SHOP
from tests.builders.values import euro
from tests.storage.plan_work import ordered, planned
from tests.web.test_plans import Planner

RAIL = "#tick-part-1-frame-1-top"


def unfold(page: Page) -> None:
    """Open every material of a plan in its place."""
    for line in page.locator(".plan-row:not([open]) > summary").all()[::-1]:
        line.click()


@pytest.fixture
def planner(monkeypatch: pytest.MonkeyPatch) -> Planner:
    """Plans by our own rule, so that nobody waits for a solver."""
    planner = Planner()
    monkeypatch.setattr("app.web.app.PlanRuns", lambda: PlanRuns(planner))
    return planner


@pytest.fixture
def plan_shop(tmp_path: Path, planner: Planner) -> Iterator[Shop]:
    """The worked piece, ordered, and two sticks on the rack."""
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        ordered(store)
        sticks = Item(
            material="LIN-20",
            form=StockForm.STICK,
            unit_cost=euro("28.20"),
            length=mm(3000),
            place="Rack A",
        )
        stock.receive(store, Received(item=sticks, count=2), ACT)
        with opened(store) as shop:
            yield shop


def test_the_round_with_scripts(browser: Browser, plan_shop: Shop, planner: Planner) -> None:
    planner.go.clear()
    with visiting(browser, plan_shop, viewport=DESK) as page:
        page.goto("/plans")
        page.get_by_role("link", name="Make a cutting plan").click()
        page.get_by_role("button", name="Make the plan").click()
        expect(page.get_by_text("Materials planned: 0 of 5")).to_be_visible()
        assert found_by_axe(page) == []
        planner.go.set()
        page.get_by_role("heading", name="A plan for 8 parts").wait_for()
        assert found_by_axe(page) == []
        page.get_by_role("button", name="Save this plan").click()
        page.wait_for_url("**/plans/1")  # what was found has rows to unfold, too
        unfold(page)
        page.locator(RAIL).click()
        expect(page.locator("#done")).to_have_text("1 of 8 parts cut")
        expect(page.locator(RAIL)).to_have_attribute("aria-checked", "true")
        expect(page.locator("#bin-3-1 .plan-unticked")).to_have_text("3 of 4 parts not ticked yet.")
        page.locator("#bin-3-1").get_by_label("Place").fill("Shelf 4")
        page.locator("#part-1-frame-1-bottom button").click()
        expect(page.locator("#done")).to_have_text("2 of 8 parts cut")
        expect(page.locator("#bin-3-1").get_by_label("Place")).to_have_value("Shelf 4")
        page.locator("#bin-3-1").get_by_role("button", name="Done – take off stock").click()
        expect(page.locator("#bin-3-1 .plan-booked")).to_contain_text("K-2026-0001")
        page.locator("#bin-3-1").get_by_role("button", name="Undo").click()
        expect(page.locator("#bin-3-1")).to_contain_text("Done – take off stock")


def test_a_plan_is_stopped_from_its_page(
    browser: Browser, plan_shop: Shop, planner: Planner
) -> None:
    planner.go.clear()
    with visiting(browser, plan_shop, viewport=PHONE) as page:
        page.goto("/plans/new")
        page.get_by_role("button", name="Make the plan").click()
        page.get_by_role("button", name="Stop").click()
        page.get_by_text("Planning was stopped; nothing was stored.").wait_for()
        assert wider_than_the_screen(page) == ""
    assert plans.listed(plan_shop.store).total == 0


def test_the_round_without_scripts(browser: Browser, plan_shop: Shop, planner: Planner) -> None:
    planner.go.clear()
    with visiting(browser, plan_shop, viewport=PHONE, java_script_enabled=False) as page:
        page.goto("/plans/new")
        page.get_by_role("button", name="Make the plan").click()
        page.get_by_text("Materials planned").wait_for()
        planner.go.set()
        page.get_by_role(
            "heading", name="A plan for 8 parts"
        ).wait_for()  # the page comes by itself
        page.get_by_role("button", name="Save this plan").click()
        page.wait_for_url("**/plans/1")  # what was found has rows to unfold, too
        unfold(page)
        page.locator(RAIL).click()
        expect(page.locator("#done")).to_have_text("1 of 8 parts cut")
    (plan,) = plans.listed(plan_shop.store).rows
    assert set(standing(plans.get(plan_shop.store, plan.id)).ticked) == {"1/frame-1.top"}


def test_a_tick_shows_before_the_app_has_it_and_is_taken_back_where_it_does_not_answer(
    browser: Browser, plan_shop: Shop
) -> None:
    plan_id = planned(plan_shop.store)
    with visiting(browser, plan_shop, viewport=PHONE) as page:
        page.goto(f"/plans/{plan_id}?open=3")
        held = Held(page, "**/ticks")
        page.locator(RAIL).click()
        expect(page.locator(RAIL)).to_have_attribute("aria-checked", "true")
        expect(page.locator(RAIL)).to_have_attribute("data-pending", "")
        expect(page.locator("#done")).to_have_text("0 of 8 parts cut")
        assert not standing(plans.get(plan_shop.store, plan_id)).ticked
        held.let_go()
        expect(page.locator("#done")).to_have_text("1 of 8 parts cut")
        expect(page.locator(RAIL)).to_have_attribute("aria-checked", "true")
        expect(page.locator("[data-pending]")).to_have_count(0)
        page.locator("#tick-all-bin-3-1").click()
        expect(page.locator("#bin-3-1 [role=checkbox][aria-checked=true]")).to_have_count(4)
        held.let_go()
        expect(page.locator("#done")).to_have_text("4 of 8 parts cut")
        page.evaluate("() => { window.fetch = () => Promise.reject(new Error('away')) }")
        page.locator(RAIL).click()
        expect(page.get_by_text("Not ticked: the app does not answer.")).to_be_visible()
        expect(page.locator(RAIL)).to_have_attribute("aria-checked", "true")


def test_two_phones_tick_the_same_plan(browser: Browser, plan_shop: Shop) -> None:
    planned(plan_shop.store)
    with (
        visiting(browser, plan_shop, viewport=PHONE) as one,
        visiting(browser, plan_shop, viewport=PHONE) as other,
    ):
        one.goto("/plans/1")
        other.goto("/plans/1")
        unfold(one)
        unfold(other)
        one.locator(RAIL).click()
        expect(one.locator("#done")).to_have_text("1 of 8 parts cut")
        other.locator("#tick-part-1-glazing").click()
        expect(other.locator("#done")).to_have_text("2 of 8 parts cut")
        expect(other.locator(RAIL)).to_have_attribute("aria-checked", "true")


def heights(page: Page, selector: str) -> list[float]:
    return [
        box["height"]
        for each in page.locator(selector).all()
        if (box := each.bounding_box()) is not None
    ]


@pytest.mark.parametrize("view", [DESK, PHONE], ids=["laptop", "phone"])
def test_a_plan_is_for_everyone(browser: Browser, plan_shop: Shop, view: dict[str, int]) -> None:
    planned(plan_shop.store)
    plans.spoil_part(plan_shop.store, 1, "1/glazing", ACT, note="split " * 40)
    with visiting(browser, plan_shop, viewport=view) as page:
        for path in ("/plans", "/plans/1/drop", "/orders/1", "/orders/1/pieces/1", "/plans/1"):
            look_at(page, path)
        assert min(heights(page, "button.tickbox, .plan-book > .button, .plan-book .choice")) >= 44


def test_words_on_a_drawing_can_be_read_on_a_phone(browser: Browser, plan_shop: Shop) -> None:
    planned(plan_shop.store)
    with visiting(browser, plan_shop, viewport=PHONE) as page:
        page.goto("/plans/1")
        unfold(page)
        sizes = page.evaluate(
            """() => [...document.querySelectorAll('.drawing-plan .plan-part text:first-child')]
              .map((text) => text.getBoundingClientRect().height)"""
        )
        assert len(sizes) == 8
        assert min(sizes) >= 9
