"""What every step left opens today: it is brought up to date whole, every page of it opens, and its sums hold.

The sums are read out of the file as it was left, by plain SQL, and held against what the app says of it now.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.storage import SCHEMA, Store, check_database, schema_of
from tests.landed.addresses import KINDS, OF_A_KIND, PLAIN, addresses_of
from tests.landed.key_figures import key_figures
from tests.landed.record import is_paper
from tests.landed.steps import INDEX, STEPS, opened, put, steps_kept

pytestmark = pytest.mark.slow

MORE = (
    ("/orders/{}/lines/{}/change", "SELECT order_id, number FROM order_lines WHERE NOT struck"),
    (
        "/orders/{}/pieces/{}/designs",
        "SELECT p.order_id, p.number FROM pieces p JOIN design_changes d ON d.piece_id = p.id GROUP BY p.id",
    ),
)
"""Pages of what came after the addresses of the kept shops were written down."""

NOT_BEFORE_A_NUMBER = {"0001": ["counters"], "0002": ["counters"]}
"""Tables that are empty rightly: a number is given with a quote, of which these steps had none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A shop that is open. before: the rows of its file as it was left, by table."""

    name: str
    store: Store
    browser: TestClient
    before: dict[str, list[dict[str, Any]]]


@pytest.fixture(scope="module", params=STEPS)
def step(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Step]:
    name: str = request.param
    folder = tmp_path_factory.mktemp(f"step-{name}")
    before = _rows(put(name, folder))
    with opened(name, folder) as (store, browser):
        yield Step(name=name, store=store, browser=browser, before=before)


def _rows(path: Path) -> dict[str, list[dict[str, Any]]]:
    with closing(sqlite3.connect(path)) as file:
        file.row_factory = sqlite3.Row
        names = [
            row["name"]
            for row in file.execute(
                "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
            )
        ]
        return {
            name: [dict(row) for row in file.execute(f'SELECT * FROM "{name}"')] for name in names
        }


def test_a_shop_of_every_step_is_kept_and_the_index_says_how_it_was_made(tmp_path: Path) -> None:
    assert steps_kept() == STEPS
    said = INDEX.read_text()
    for name in STEPS:
        assert f"| {name} |" in said
        assert schema_of(put(name, tmp_path)) == name


def test_it_had_rows_in_every_table_that_its_step_has(step: Step) -> None:
    empty = [name for name, rows in step.before.items() if not rows]
    assert empty == NOT_BEFORE_A_NUMBER.get(step.name, [])


BEFORE_THE_SEARCH = "0003"
"""Orders are searched since 0004, which is filled as they are saved. The two steps landed at once, so that no shop was left between
them; the kept one, made by SQL, has orders that nothing was noted of for the search, and a check says that of them."""


def test_it_is_brought_up_to_date_whole(step: Step) -> None:
    assert schema_of(step.store.path) == SCHEMA
    found = check_database(step.store)
    if step.name == BEFORE_THE_SEARCH:
        assert len(found) == 4
        assert all(each.endswith("is not found by all of its words.") for each in found)
    else:
        assert found == ()


def test_every_page_of_it_opens(step: Step) -> None:
    asked = [*addresses_of(step.store.path), *_more(step.store.path)]
    narrowed = {
        each for each in (*PLAIN, *_of_kinds()) if "?" in each
    }  # the larger shops open these
    shop = step.store.current_shop()
    if shop is not None and not shop.cutters:
        narrowed |= {each for each in PLAIN if each.startswith("/settings/cutters/1")}
    pages = [each for each in asked if each not in narrowed and not is_paper(each)]
    statuses = {each: step.browser.get(each, follow_redirects=False).status_code for each in pages}
    assert {each: status for each, status in statuses.items() if status != 200} == {}
    assert len(statuses) > 40


def _of_kinds() -> Iterator[str]:
    yield from (pattern.format(kind) for pattern in OF_A_KIND for kind in KINDS)


def _more(database: Path) -> Iterator[str]:
    with closing(sqlite3.connect(database)) as file:
        for pattern, rows in MORE:
            yield from (pattern.format(*row) for row in file.execute(rows))


def test_its_sums_its_stock_and_its_invoices_are_what_the_file_said(step: Step) -> None:
    now, before = key_figures(step.store), step.before
    assert {
        number: order["to pay, received, balance"] for number, order in now["orders"].items()
    } == {row["quote_number"]: _paid(row) for row in before.get("orders", ())}
    assert {number: sums.split(", ")[-1] for number, sums in now["invoices"].items()} == {
        row["number"]: f"{row['currency']} {row['gross_minor']}"
        for row in before.get("invoices", ())
    }
    assert len(now["plans"]) == len(before.get("cutting_plans", ()))
    assert sum(_on_hand(each) for each in now["stock"].values()) == sum(
        row["on_hand"] for row in before.get("stock_items", ())
    )


def _paid(row: dict[str, Any]) -> str:
    amounts = row["total_minor"], row["paid_minor"], row["total_minor"] - row["paid_minor"]
    return ", ".join(f"{row['currency']} {amount}" for amount in amounts)


def _on_hand(said: str) -> int:
    whole, _, rest = said.partition(" + ")
    return int(whole) + int(rest.partition(",")[0])
