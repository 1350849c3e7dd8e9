"""What pieces use up of hardware and the like leaves the rack when they are framed. Figures by hand.

The sample piece takes one set of wire, W-1, which is bought by the hundred and counted by one.
"""

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from app.lengths import Unit
from app.orders import Stage, usual_shop
from app.orders.quoting.agreement import agree
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Selling
from app.services import price_book, stock
from app.services import stages as progress
from app.services.consumption import used_by_pieces
from app.services.shortages import what_to_buy
from app.stock.consumption import UsedUp
from app.stock.items import Item, StockForm
from app.stock.levels import Levels
from app.stock.movements import MovementKind
from app.storage import NewPiece, Stamp, Store, check_database
from tests.builders.kept import ACT, BOOK, TYPED, WIRE, later, piece
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro
from tests.storage.plan_work import ordered, piece_ids
from tests.storage.test_services_stock import on_hand, receive
from tests.storage.test_stock import WIRES

TAPE = Material(
    code="T-1",
    name="Framer's tape",
    kind=Kind.EXTRA,
    cost=euro("0.40"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH),
    selling=Selling(markup=Fraction(3)),
)


def move(store: Store, order_id: int, *stages: Stage, act: Stamp = ACT) -> Sequence[UsedUp]:
    used: Sequence[UsedUp] = ()
    for stage in stages:
        used = progress.move_order(store, order_at(store, order_id), stage, act)
    return used


def said(used: Sequence[UsedUp]) -> list[tuple[str, int, int]]:
    return [(each.words, each.count, each.on_hand) for each in used]


def test_a_framed_piece_takes_its_hardware_off_the_rack(store: Store) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store, piece(), piece(hardware__0__count="3"))
    assert move(store, order, Stage.CUT) == ()
    assert said(move(store, order, Stage.FRAMED)) == [("4 × Picture wire set", 4, 6)]
    looked = stock.look(store, wires)
    assert looked.kept.on_hand == 6
    first, second = piece_ids(store, order)
    assert [
        (one.entry.kind, one.entry.change, one.entry.piece_id, one.entry.used, one.entry.by)
        for one in looked.movements[:2]
    ] == [
        (MovementKind.USED, -3, second, Fraction(3), "Ilse"),
        (MovementKind.USED, -1, first, Fraction(1), "Ilse"),
    ]
    assert looked.pieces[second].name == "2026-0001/2"
    used = used_by_pieces(store, [first, second])
    assert {id: each[0].words for id, each in used.items()} == {
        first: "1 × Picture wire set",
        second: "3 × Picture wire set",
    }
    assert check_database(store) == ()


def test_one_piece_is_framed_by_itself(store: Store) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store, piece(), piece())
    move(store, order, Stage.CUT)
    used = progress.move_piece(store, order_at(store, order), 2, Stage.FRAMED, ACT)
    assert said(used) == [("1 × Picture wire set", 1, 9)]
    assert said(move(store, order, Stage.FRAMED)) == [("1 × Picture wire set", 1, 8)]
    assert on_hand(store, wires) == 8


def test_the_oldest_goes_first_and_what_is_nowhere_is_below_zero(store: Store) -> None:
    first = receive(store, 2, **_as_changes(WIRES))
    second = receive(store, 1, **_as_changes(replace(WIRES, batch="Lot 2")))
    order = ordered(store, piece(hardware__0__count="5"))
    assert said(move(store, order, Stage.CUT, Stage.FRAMED)) == [("5 × Picture wire set", 5, -2)]
    assert (on_hand(store, first), on_hand(store, second)) == (0, -2)
    balance = stock.standing(store, "W-1")
    assert (balance.whole, balance.below_zero) == (-2, 1)


def test_framed_taken_back_puts_the_hardware_back_and_framed_again_takes_it_again(
    store: Store,
) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store, piece(hardware__0__count="2"), piece())
    move(store, order, Stage.CUT)
    move(store, order, Stage.FRAMED, act=later(minutes=5))
    back = progress.take_back(store, order_at(store, order), later(minutes=6), 1)
    assert said(back) == [("2 × Picture wire set", 2, 9)]
    assert on_hand(store, wires) == 9
    assert progress.take_back(store, order_at(store, order), later(minutes=7), 1) == ()  # cut
    move(store, order, Stage.CUT, Stage.FRAMED, act=later(minutes=8))
    assert on_hand(store, wires) == 7
    assert check_database(store) == ()


def test_what_is_used_stays_used_when_the_order_is_cancelled(store: Store) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store)
    move(store, order, Stage.CUT, Stage.FRAMED)
    move(store, order, Stage.CANCELLED, act=later(minutes=1))
    assert on_hand(store, wires) == 9
    assert progress.take_back(store, order_at(store, order), later(minutes=2)) == ()
    assert on_hand(store, wires) == 9
    said_back = progress.take_back(store, order_at(store, order), later(minutes=3))
    assert said(said_back) == [("1 × Picture wire set", 1, 10)]


def test_what_the_rack_took_back_by_itself_is_not_put_back_twice(store: Store) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store)
    move(store, order, Stage.CUT, Stage.FRAMED)
    stock.take_back(store, wires, stock.look(store, wires).movements[0].id, ACT)
    assert progress.take_back(store, order_at(store, order), ACT) == ()
    assert on_hand(store, wires) == 10


def test_of_what_no_stock_is_kept_nothing_leaves(store: Store) -> None:
    order = ordered(store)
    assert move(store, order, Stage.CUT, Stage.FRAMED) == ()
    assert stock.every(store) == ()


def taped(length: str) -> NewPiece:
    """The sample piece in a size and with tape along its edges: as much as the width and height twice."""

    def known(text: str, kind: Kind) -> Material | None:
        return next((x for x in (*BOOK, TAPE) if x.code == text and x.kind is kind), None)

    typed = {**TYPED, "artwork.size": length, "extras.0.material": "T-1", "extras.0.count": "1"}
    artwork, agreed = agree(typed, _SHOP, known, today=TODAY)
    return NewPiece(artwork=artwork, agreed=agreed)


_SHOP = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))


def test_tape_by_the_metre_leaves_by_the_whole_metre_and_what_is_open_serves_the_next(
    store: Store,
) -> None:
    """The package is 542 × 429 (`plan_work`), so that 2 × (542 + 429) = 1942 mm run round it."""
    price_book.add(store, TAPE, ACT)
    roll = receive(
        store,
        50,
        material="T-1",
        form=StockForm.EACH,
        length=None,
        unit_cost=euro("0.40"),
        batch="",
    )
    one, two = (ordered(store, taped("420 x 297")) for _ in range(2))
    (first,) = move(store, one, Stage.CUT, Stage.FRAMED)
    assert (first.words, first.count, first.used) == (
        "2 m of Framer's tape",
        2,
        Fraction(1942, 1000),
    )
    # 0.058 m of the second metre are left: the next 1.942 m open two more and leave 0.116 m.
    (second,) = move(store, two, Stage.CUT, Stage.FRAMED)
    assert (second.count, on_hand(store, roll)) == (2, 46)
    with store.reading() as work:
        assert work.stock.opened("T-1") == Fraction(116, 1000)
    progress.take_back(store, order_at(store, one), later(minutes=1))
    assert on_hand(store, roll) == 48
    with store.reading() as work:
        assert work.stock.opened("T-1") == Fraction(58, 1000)


def test_what_is_counted_otherwise_now_is_left_alone(store: Store) -> None:
    wires = receive(store, 10, **_as_changes(WIRES))
    order = ordered(store)
    kept = price_book.get(store, "W-1")
    by_metre = replace(kept.value, per=CostPer.METRE, charge=Charge(by=ChargeBy.LENGTH))
    price_book.save(store, "W-1", by_metre, kept.version, ACT)
    assert move(store, order, Stage.CUT, Stage.FRAMED) == ()
    assert on_hand(store, wires) == 10


def test_what_was_used_is_not_bought_twice(store: Store) -> None:
    """12 on the rack and a level of 10: before, one piece wants 1, so 11 stay free and none is short."""
    receive(store, 12, **_as_changes(WIRES))
    stock.set_levels(store, "W-1", Levels(reorder_at=10, pack=1), 0)
    order = ordered(store)

    def short() -> dict[str, int]:
        shown = [each for group in what_to_buy(store).suppliers for each in group.purchases]
        return {each.material.code: each.short for each in shown if each.material == WIRE}

    assert short() == {}
    move(store, order, Stage.CUT, Stage.FRAMED)
    assert short() == {}
    second = ordered(store)
    assert short() == {"W-1": 1}  # 11 are free, 1 is wanted, more than 10 are to stay
    move(store, second, Stage.CUT, Stage.FRAMED)
    assert short() == {"W-1": 1}


@pytest.mark.parametrize(
    "values",
    [
        "'used', 1, 1, '1'",
        "'used', -1, NULL, '1'",
        "'used', -1, 1, NULL",
        "'cut', -1, 1, '1'",
        "'cut', 0, 1, NULL",
    ],
)
def test_the_database_holds_what_was_used_to_its_piece(
    store: Store, path: Path, values: str
) -> None:
    receive(store, 10, **_as_changes(WIRES))
    ordered(store)
    with closing(sqlite3.connect(path)) as connection, pytest.raises(sqlite3.IntegrityError):
        connection.execute(
            "INSERT INTO stock_movements (item_id, at, by, note, kind, change, piece_id, used) "
            f"VALUES (1, '', '', '', {values})"
        )


def _as_changes(item: Item) -> dict[str, object]:
    return {
        name: getattr(item, name)
        for name in ("material", "form", "unit_cost", "length", "size", "batch", "place")
    }
