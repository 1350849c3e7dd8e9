"""Counts what a person does at the counter, by the keyboard alone, and how long that takes by the keystroke-level model.

Every key counts, also each Tab, and every field or button asks for a thought. No machine is measured, so a busy one
gives the same figures. Source: Card, Moran, Newell, The Keystroke-Level Model for User Performance Time, 1980.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import Browser, Page, expect, sync_playwright

from app.orders.usual_choices import UsualChoices
from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Stamp, Store
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Row, Section
from tests.browser.conftest import ARGUMENTS, NOW, opened, stock, visiting
from tests.browser.keyboard import Keyboard
from tests.builders.worked import SHOP, TYPED
from tests.needs import chromium as path_of_chromium


def known_customer(page: Page, keyboard: Keyboard) -> None:
    """From the empty quote of somebody who was here before to the order with its deposit.

    The shop's usual mat, glazing and backing are filled in and stay.
    """
    page.goto("/quotes/new")
    keyboard.choose("customer", "amb", "Amber Quill")
    keyboard.type("artwork.size", "410x310")
    keyboard.find("frames.0.material", "lin", "Linden")
    keyboard.save()
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0002")
    keyboard.type("deposit", "50")
    keyboard.save()
    expect(page.locator("h1")).to_have_text("Order 2026-0001")


def twenty_alike(page: Page, keyboard: Keyboard) -> None:
    """How many of a piece that is quoted already: one field, on the quote as it is changed."""
    page.goto("/orders/1/pieces/1/change")
    page.locator("#copies").focus()
    keyboard.type("copies", "20")
    keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("20 ×")


def first_day(page: Page, keyboard: Keyboard) -> None:
    """From the first page of a new shop to its first saved quote, of materials that are priced on the way."""
    page.goto("/")
    for field, text in (
        ("name", "Sedge Lane Frames"),
        ("currency", "EUR"),
        ("tax", "20"),
        ("hourly_rate", "36"),
    ):
        keyboard.type(field, text)
    keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Begin the price book")
    keyboard.type("selling.markup", "2.5")
    moulding = {
        "name": "Plain oak",
        "code": "OAK",
        "profile.face": "20",
        "profile.lip": "6",
        "profile.rebate_depth": "14",
    }
    for field, text in (*moulding.items(), ("cost", "12.60")):
        keyboard.type(f"materials.0.{field}", text)
    for code, cost in (
        ("MAT-WHITE", "9.40"),
        ("GLASS", "14"),
        ("BACKING", "4.20"),
        ("RING", "0.12"),
    ):
        name = page.locator(f"input[value={code}]").get_attribute("name") or ""
        keyboard.type(name.replace(".code", ".cost"), cost)
    keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Materials")
    page.goto("/quotes/new")
    keyboard.type("customer", "Amber Quill")
    keyboard.type("artwork.size", "410x310")
    keyboard.find("mats.0.material", "mat", "white")
    keyboard.find("frames.0.material", "oak", "Plain oak")
    keyboard.find("glazing.material", "gla", "Float glass")
    keyboard.find("backing.material", "back", "Backing board")
    keyboard.push("save")
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0001")


USUAL = UsualChoices(mat="M-101", glazing="G-2", backing="B-3")


def measure(_plan: Plan) -> Section:
    """Return the seconds of each of them."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=path_of_chromium(), args=list(ARGUMENTS)
        )
        rows = [
            *_rows(
                "known customer to order with deposit",
                _timed(browser, _shop_of_before, known_customer),
                25,
            ),
            *_rows(
                "one quoted piece to twenty alike",
                _timed(browser, _shop_of_before, twenty_alike),
                3,
            ),
            *_rows("first day to first saved quote", _timed(browser, _nothing, first_day), 150),
        ]
        browser.close()
    return Section(title="At the counter, by the keystroke-level model", rows=tuple(rows))


def _rows(what: str, keyboard: Keyboard, most: float) -> tuple[Row, ...]:
    return (
        Row(what=what, measured=keyboard.seconds, unit="s", most=most),
        Row(what="  keys", measured=keyboard.keys, unit=""),
        Row(what="  fields and buttons", measured=len(keyboard.touched), unit=""),
    )


def _timed(
    browser: Browser, begin: Callable[[Store], None], act: Callable[[Page, Keyboard], None]
) -> Keyboard:
    with TemporaryDirectory() as folder, Store.open(Path(folder) / DATABASE_NAME) as store:
        begin(store)
        with opened(store) as shop, visiting(browser, shop) as page:
            keyboard = Keyboard(page)
            act(page, keyboard)
            return keyboard


def _nothing(_store: Store) -> None:
    """A shop before its first run."""


def _shop_of_before(store: Store) -> None:
    with store.writing() as work:
        work.shop.add(replace(SHOP, usual_choices=USUAL), now=NOW)
    stock(store)
    who = CustomerRequest(name="Amber Quill")
    quotes.save_new(store, who, TYPED, SHOP, Stamp(who="", now=NOW))
