"""Orders to suppliers: what may follow what, what is outstanding, what they come to; by hand."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Conflict, Invalid
from app.journal import standing
from app.money import CURRENCIES, Money
from app.pricing import CostPer
from app.stock.buying.received_costs import cost_changes
from app.stock.buying.supplier_orders import (
    Delivery,
    NewDelivery,
    NewLine,
    OrderLine,
    SupplierOrder,
    SupplierStage,
    check_move,
    settled_stage,
)
from app.stock.items import StockForm
from app.stock.purchase_unit import BuyingUnit
from tests.builders.values import EUR, euro
from tests.builders.watercolour import PROFILE, mat, moulding

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
NOTHING = euro("0")


def ordered(
    quantity: int = 5, cost: str = "15.00", cost_for: int = 1, code: str = "W25"
) -> NewLine:
    return NewLine(
        material=code,
        name="Walnut hollow",
        form=StockForm.STICK,
        unit=BuyingUnit.STICK,
        quantity=quantity,
        cost=euro(cost),
        cost_for=cost_for,
        length=PROFILE.stick,
    )


def came(quantity: int, cost: str = "15.00", *, after: int = 0, cost_for: int = 1) -> NewDelivery:
    return NewDelivery(
        quantity=quantity,
        cost=euro(cost),
        cost_for=cost_for,
        at=NOW + timedelta(days=after),
        by="Ilse",
        movement_id=1,
    )


def line(new: NewLine, *entries: NewDelivery, id: int = 1) -> OrderLine:
    deliveries = tuple(
        Delivery(id=index, line_id=id, entry=entry) for index, entry in enumerate(entries, start=1)
    )
    return OrderLine(id=id, ordered=new, deliveries=deliveries)


def order(*lines: OrderLine, stage: SupplierStage = SupplierStage.SENT) -> SupplierOrder:
    return SupplierOrder(
        id=1,
        version=1,
        number="B-2026-0001",
        supplier="Holm Timber",
        made_on=date(2026, 11, 25),
        currency=EUR,
        stage=stage,
        lines=lines,
    )


@given(st.lists(st.integers(1, 30), max_size=6), st.integers(1, 60))
def test_received_and_outstanding_are_what_was_ordered_until_more_comes(
    parts: list[int], quantity: int
) -> None:
    for received in accumulate(parts, initial=0):
        entries = [came(received)] if received else []
        found = line(ordered(quantity), *entries)
        assert found.received == received
        assert found.received + found.outstanding - found.beyond == quantity
        assert not (found.outstanding and found.beyond)


def test_part_deliveries_and_their_cost_add_up() -> None:
    part = line(ordered(5), came(2, "15.00"), came(1, "16.20"))
    assert (part.received, part.outstanding, part.beyond) == (3, 2, 0)
    assert part.paid == euro("46.20")  # 2 × 15.00 + 16.20
    assert part.ordered.total == euro("75.00")


def test_a_contrary_entry_leaves_the_line_outstanding_again() -> None:
    back = replace(came(2), quantity=-2, takes_back=1)
    found = line(ordered(5), came(2), back)
    assert standing(found.deliveries) == ()
    assert (found.received, found.outstanding, found.paid) == (0, 5, NOTHING)
    assert found.last_paid is None


def test_an_order_comes_to_the_sum_of_its_lines_at_cost() -> None:
    # 250 of what costs 9.60 a hundred: 24.00; 3 sticks at 12.35: 37.05
    found = order(
        line(ordered(250, "9.60", 100), came(100, "10.00", cost_for=100)),
        line(ordered(3, "12.35"), id=2),
    )
    assert found.total == euro("61.05")
    assert found.paid == euro("10.00")
    assert found.outstanding == 153


def test_only_a_sent_order_has_anything_outstanding() -> None:
    for stage in SupplierStage:
        found = order(line(ordered(4)), stage=stage).outstanding
        assert found == (4 if stage is SupplierStage.SENT else 0)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (SupplierStage.DRAFT, SupplierStage.SENT),
        (SupplierStage.DRAFT, SupplierStage.DROPPED),
        (SupplierStage.SENT, SupplierStage.CLOSED),
        (SupplierStage.CLOSED, SupplierStage.SENT),
    ],
)
def test_what_may_follow(old: SupplierStage, new: SupplierStage) -> None:
    check_move(order(line(ordered()), stage=old), new)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (SupplierStage.DRAFT, SupplierStage.CLOSED),
        (SupplierStage.SENT, SupplierStage.DRAFT),
        (SupplierStage.SENT, SupplierStage.DROPPED),
        (SupplierStage.CLOSED, SupplierStage.DROPPED),
        (SupplierStage.SENT, SupplierStage.SENT),
    ],
)
def test_what_may_not_follow(old: SupplierStage, new: SupplierStage) -> None:
    with pytest.raises(Conflict, match=f"is “{old.word}” and cannot become “{new.word}”: only"):
        check_move(order(line(ordered()), stage=old), new)


def test_what_is_dropped_stays_so_and_an_empty_order_is_not_sent() -> None:
    with pytest.raises(Conflict, match="nothing follows it"):
        check_move(order(line(ordered()), stage=SupplierStage.DROPPED), SupplierStage.SENT)
    with pytest.raises(Invalid, match="has no line"):
        check_move(order(stage=SupplierStage.DRAFT), SupplierStage.SENT)


def test_an_order_is_closed_once_all_has_come_and_awaited_again_when_it_is_taken_back() -> None:
    assert settled_stage(order(line(ordered(2), came(1)))) is SupplierStage.SENT
    assert settled_stage(order(line(ordered(2), came(2)))) is SupplierStage.CLOSED
    reopened = order(line(ordered(2), came(1)), stage=SupplierStage.CLOSED)
    assert settled_stage(reopened) is SupplierStage.SENT


def test_impossible_lines_and_entries_say_all_that_is_wrong() -> None:
    with pytest.raises(Invalid) as wrong:
        replace(ordered(), quantity=0, cost=euro("-1"), note="x" * 501)
    assert [fault.path for fault in wrong.value.faults] == ["quantity", "cost", "note"]
    with pytest.raises(Invalid) as bad:
        replace(came(1), quantity=-1, batch="x" * 61, place="y" * 61)
    assert [fault.path for fault in bad.value.faults] == ["quantity", "batch", "place"]
    with pytest.raises(Invalid, match="Say who"):
        replace(order(), supplier=" ")


def test_costs_that_differ_from_the_price_book_are_found_by_the_last_delivery() -> None:
    metre = moulding(per=CostPer.METRE, cost=euro("5.00"))
    book = {"W25": metre, "M1": mat()}
    found = order(
        line(ordered(5), came(2, "15.00"), came(1, "16.50", after=2)),
        line(ordered(5, "9.00", code="M1"), came(5, "9.00"), id=2),
    )
    (change,) = cost_changes(found, book)
    assert (change.old.cost, change.new.cost) == (euro("5.00"), euro("5.50"))  # 16.50 / 3 m
    assert replace(change.new, cost=change.old.cost) == change.old


def test_what_was_paid_in_another_currency_or_is_no_longer_in_the_book_is_left_out() -> None:
    dollars = replace(came(1), cost=Money(900, CURRENCIES["USD"]))
    assert cost_changes(order(line(ordered(1), dollars)), {"W25": moulding()}) == ()
    assert cost_changes(order(line(ordered(1), came(1, "99"))), {}) == ()
