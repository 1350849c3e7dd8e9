"""What landed versions left opens on every page, and every page says what it said then.

Where figures were changed on purpose: `python -m tests.landed` shows each difference and keeps it.
"""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.storage import Store, check_database
from app.web.app import JSON, PAGES
from tests.landed.addresses import NOT_OF_THE_DATA, addresses_of
from tests.landed.figures import as_text, difference, figures_in, read, text_of_page
from tests.landed.key_figures import key_figures
from tests.landed.record import ask, differences, is_paper, kept, said_of
from tests.landed.shops import METRIC, SHOPS, LandedShop

pytestmark = pytest.mark.slow


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A shop that is open."""

    shop: LandedShop
    store: Store
    browser: TestClient

    @property
    def folder(self) -> Path:
        return self.store.path.parent


@pytest.fixture(scope="module", params=SHOPS, ids=lambda shop: shop.name)
def opened(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Opened]:
    shop: LandedShop = request.param
    with shop.opened(tmp_path_factory.mktemp(shop.name)) as (store, browser):
        yield Opened(shop=shop, store=store, browser=browser)


def test_its_data_are_whole(opened: Opened) -> None:
    assert check_database(opened.store) == ()


def test_every_page_says_the_same_figures(opened: Opened) -> None:
    changed = {
        address: found
        for address, said in said_of(opened.shop).items()
        if not is_paper(address)
        if (found := said.against(ask(opened.browser, address, opened.folder)))
    }
    assert changed == {}


def test_sums_prices_cut_sizes_plans_and_stock_are_the_same(opened: Opened) -> None:
    assert list(differences("", kept(opened.shop)["key"], key_figures(opened.store))) == []


def test_what_is_recorded_is_all_that_the_data_have(opened: Opened) -> None:
    asked = list(addresses_of(opened.store.path))
    assert list(said_of(opened.shop)) == asked
    assert len(asked) == len(set(asked))


def test_every_page_of_the_app_is_among_them() -> None:
    """A page that is new is added to `addresses`, and its figures are recorded."""
    known = [address.partition("?")[0] for address in said_of(METRIC)]
    routers = chain(PAGES, JSON)
    patterns = {
        route.path for router in routers for route in router.routes if "GET" in route.methods
    }
    unknown = {
        pattern
        for pattern in patterns - NOT_OF_THE_DATA.keys()
        if not any(re.fullmatch(re.sub(r"\{.*?\}", ".+", pattern), each) for each in known)
    }
    assert unknown == set()


def test_its_pages_open_but_for_quotes_that_came_to_nothing() -> None:
    """409: a quote of which every piece was declined has nothing to print."""
    statuses = {address: said.status for address, said in said_of(METRIC).items()}
    others = {address for address, status in statuses.items() if status != 200}
    assert all(re.fullmatch(r"/orders/\d+/quote\.pdf", address) for address in others)
    assert {statuses[address] for address in others} == {409}


SINCE_THEN = {
    "customer_joins",
    "customer_told",
    "design_changes",
    "line_agreements",
    "line_stage_changes",
    "order_lines",
    "part_changes",
    "reseals",
    "phone_access",
    "phones",
    "pictures",
    "sent_forms",
    "ticket_prints",
}
"""Tables that came after these shops were kept."""


def test_every_table_has_rows(tmp_path: Path) -> None:
    """So that whatever is kept is also opened."""
    with METRIC.opened(tmp_path) as (store, _), closing(sqlite3.connect(store.path)) as file:
        tables = [
            name
            for (name,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
            if not name.startswith("sqlite_")
        ]
        empty = {
            name
            for name in tables
            if file.execute(f'SELECT NOT EXISTS (SELECT 1 FROM "{name}")').fetchone()[0]
        }
    assert empty == SINCE_THEN


@pytest.mark.parametrize(
    ("text", "figures"),
    [
        ("354 × 498 mm, 12.5 m²", "12.5m² | 354 | 498mm"),
        ("13 15/16 × 19 1/2 in", "13 15/16 | 19 1/2"),
        ("2 × 1/2", "1/2 | 2"),
        ("Q-2026-0001 of 13:05", "13:05 | Q-2026-0001"),
        ("−3.50 EUR; 20 % of 20 %", "-3.50 | 20% *2"),
        ("no figure at all, 3 parts", "3"),
    ],
)
def test_the_figures_of_a_text(text: str, figures: str) -> None:
    assert as_text(figures_in(text)) == figures
    assert read(figures) == figures_in(text)


def test_of_a_page_only_what_can_be_seen_is_read() -> None:
    page = """<html><head><title>9</title></head><body><p>1<b>2</b></p><p hidden>3</p>
        <input type="hidden" value="4"><input name="a" value="5 mm"><script>6</script>
        <select><option>7</option><option selected>8</option></select>
        <svg><text>10</text></svg><textarea>11</textarea></body></html>"""
    assert as_text(figures_in(text_of_page(page))) == "1 | 10 | 11 | 2 | 5mm | 8"


def test_a_difference_says_what_is_gone_and_what_is_new() -> None:
    assert difference(read("1 | 2mm *2"), read("2mm | 3")) == "gone: 1 | 2mm; new: 3"
