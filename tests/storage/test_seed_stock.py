"""The rack of the sample shop: enough to try everything on, and each thing where it belongs."""

from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from app.services import stock
from app.stock.items import StockForm
from app.stock.movements import MovementKind
from app.storage import DATABASE_NAME, StockFilter, StockLine, Store
from seed_demo.build import build_demo

TODAY = date(2027, 1, 20)
"""So near the turn of a year that labels of two years are among the offcuts."""


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with Store.open(tmp_path_factory.mktemp("rack") / DATABASE_NAME) as store:
        build_demo(store, orders=0, today=TODAY)
        yield store


@pytest.fixture(scope="module")
def lines(sample: Store) -> tuple[StockLine, ...]:
    return stock.every(sample, StockFilter(gone=True))


def test_every_form_is_there_and_every_item_has_its_place(lines: tuple[StockLine, ...]) -> None:
    assert {line.kept.item.form for line in lines if line.kept.item.whole} == set(StockForm)
    assert all(line.kept.item.place for line in lines)
    assert all(line.kept.on_hand > 0 for line in lines)  # what was framed before today took nothing


def test_offcuts_have_labels_in_the_order_of_their_days(lines: tuple[StockLine, ...]) -> None:
    offcuts = [line for line in lines if not line.kept.item.whole]
    assert len(offcuts) >= 25
    by_day = sorted(offcuts, key=lambda line: (line.since, line.kept.id))
    labels = [line.kept.item.label for line in by_day]
    assert labels == sorted(labels)
    assert {label[:7] for label in labels} == {"K-2026-", "K-2027-"}
    assert all(line.since.date() <= TODAY - timedelta(days=1) for line in offcuts)


def test_something_is_to_be_bought_and_something_was_spoiled(
    sample: Store, lines: tuple[StockLine, ...]
) -> None:
    balances = stock.balances(sample)
    assert any(each.low for each in balances)
    assert any(not each.low for each in balances)
    kinds = {
        movement.entry.kind
        for line in lines
        for movement in stock.look(sample, line.kept.id).movements
    }
    assert kinds == {MovementKind.BOUGHT, MovementKind.KEPT, MovementKind.SPOILED}
