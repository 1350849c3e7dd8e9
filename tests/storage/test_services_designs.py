"""Designs of a piece on a real file: added, taken, taken instead, left open, removed, and what follows the one that counts.

Prices of the worked piece (see `tests/unit/orders/test_designs.py`): A 103.51, B 89.91, C 118.51.
"""

import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from app.errors import Conflict, Invalid, NotFound
from app.orders import Customer, DesignAct, Order, Piece, Stage
from app.orders.quoting.agreement import agree
from app.services import customer_export, customers, designs, orders, payments, quotes
from app.services import stages as progress
from app.services.open_work import open_work
from app.services.order_transaction import DesignAt, account_now
from app.services.orders import QuoteHead
from app.services.payments import Payment
from app.services.shortages import what_to_buy
from app.services.stages import Terms
from app.storage import DATABASE_NAME, NewPiece, OrderSummary, Stale, Store, check_database
from app.storage.engine import migrate_new
from tests.builders.kept import ACT, later
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro, finder
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.unit.orders.test_designs import ACRYLIC, ONE_MAT


def made(**changed: str) -> NewPiece:
    """The worked piece, typed otherwise ("artwork__title" for "artwork.title")."""
    fields = {name.replace("__", "."): text for name, text in changed.items()}
    artwork, agreed = agree({**TYPED, **fields}, SHOP, finder(BOOK), today=TODAY)
    return NewPiece(artwork=artwork, agreed=agreed)


def otherwise(design: dict[str, str]) -> NewPiece:
    return made(**{path.replace(".", "__"): text for path, text in design.items()})


A, B, C = made(), otherwise(ONE_MAT), otherwise(ACRYLIC)


@pytest.fixture
def store(empty: Store) -> Store:
    """A store with the shop and the book that the piece is worked by."""
    with empty.writing() as work:
        work.shop.add(SHOP, now=ACT.now)
        work.materials.add_all(BOOK, now=ACT.now)
    return empty


@pytest.fixture
def quote(store: Store) -> int:
    """A quote with two pieces, the second with three designs."""
    amber = customers.add(store, Customer(name="Amber Quill"), ACT)
    head = QuoteHead(customer_id=amber, valid_until=TODAY + timedelta(days=30))
    quote = orders.save_quote(store, head, [A, A], ACT)
    for design in (B, C):
        designs.add(store, order_at(store, quote), 2, design, ACT)
    return quote


@pytest.fixture(autouse=True)
def whole(store: Store) -> object:
    """Whatever a test does, the data add up after it."""
    yield
    assert check_database(store) == ()


def order(store: Store, order_id: int) -> Order:
    return orders.get(store, order_id)


def second(store: Store, order_id: int) -> Piece:
    return order(store, order_id).pieces[1]


def summary(store: Store, order_id: int) -> OrderSummary:
    with store.reading() as work:
        return work.order_lists.summaries([order_id])[0]


def acts(piece: Piece) -> list[tuple[str, DesignAct]]:
    return [(f"{change.design}", change.act) for change in piece.design_changes]


def test_designs_read_back_as_they_were_agreed(store: Store, quote: int) -> None:
    piece = second(store, quote)
    assert [each.agreed for each in piece.designs] == [A.agreed, B.agreed, C.agreed]
    assert [each.number for each in piece.designs] == [1, 2, 3]
    assert piece.taken is None
    assert piece.undecided
    assert order(store, quote).pieces[0].taken == 1
    assert acts(piece) == [("2", DesignAct.ADDED), ("3", DesignAct.ADDED)]


# 103.51 + 89.91 = 193.42; 103.51 + 118.51 = 222.02.
def test_lists_know_from_what_to_what_a_quote_comes(store: Store, quote: int) -> None:
    listed = summary(store, quote)
    assert (listed.total, listed.most) == (euro("193.42"), euro("222.02"))
    assert listed.owed == euro("0")
    assert listed.pieces == 2
    designs.take(store, order_at(store, quote), 2, 3, ACT)
    listed = summary(store, quote)
    assert (listed.total, listed.most) == (euro("222.02"), None)


def test_a_quote_is_ordered_by_the_designs_that_are_chosen_with_it(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 2}), later(days=1))
    now = order(store, quote)
    assert now.stage is Stage.ORDERED
    assert now.pieces[1].agreed == B.agreed
    assert account_now(now).to_pay == euro("193.42")
    assert summary(store, quote).owed == euro("193.42")
    taken = now.pieces[1].design_changes[-1]
    assert (taken.design, taken.act, taken.by, taken.at) == (
        2, DesignAct.TAKEN, "Ilse", later(days=1).now,
    )  # fmt: skip


def test_without_a_choice_nothing_is_ordered_and_each_open_piece_is_named(
    store: Store, quote: int
) -> None:
    designs.add(store, order_at(store, quote), 1, B, ACT)
    with pytest.raises(Invalid) as caught:
        progress.take_order(store, order_at(store, quote), Terms(designs={1: 1}), ACT)
    (fault,) = caught.value.faults
    assert fault.path == "design.2"
    assert fault.message.startswith("3 designs are offered and none of them is chosen")
    assert order(store, quote).order_number is None
    assert order(store, quote).pieces[0].undecided


def test_a_design_that_is_not_there_cannot_be_chosen(store: Store, quote: int) -> None:
    with pytest.raises(NotFound, match="no design D"):
        progress.take_order(store, order_at(store, quote), Terms(designs={2: 4}), ACT)
    with pytest.raises(NotFound, match="no design D"):
        designs.take(store, order_at(store, quote), 2, 4, ACT)


def test_a_piece_that_is_quoted_again_is_ordered_only_by_one_design(
    store: Store, quote: int
) -> None:
    progress.move_piece(store, order_at(store, quote), 2, Stage.DECLINED, ACT)
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    assert summary(store, quote).most is None
    progress.move_piece(store, order_at(store, quote), 2, Stage.QUOTED, ACT)
    with pytest.raises(
        Conflict, match=r"Harbour at dusk.*: 3 designs are offered and none of them is chosen"
    ):
        progress.move_piece(store, order_at(store, quote), 2, Stage.ORDERED, ACT)
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    progress.move_piece(store, order_at(store, quote), 2, Stage.ORDERED, ACT)
    assert summary(store, quote).total == euro("193.42")


def test_only_the_taken_design_is_planned_and_bought(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 3}), ACT)

    def wanted() -> set[str]:
        return {part.material.code for part in open_work(store).parts if part.piece.number == 2}

    def bought() -> dict[str, int]:
        return {
            each.material.code: each.quantity
            for supplier in what_to_buy(store).suppliers
            for each in supplier.purchases
        }

    assert {"A-3", "M-140"} <= wanted()
    assert "G-2" not in wanted()
    assert "A-3" in bought()
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    assert {"A-3", "M-140"}.isdisjoint(wanted())
    assert "G-2" in wanted()
    assert "A-3" not in bought()


# C 118.51 was taken; B is 89.91, so 28.60 less: 222.02 − 28.60 = 193.42.
def test_another_design_can_be_taken_instead_until_the_piece_is_cut(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 3}), ACT)
    assert account_now(order(store, quote)).to_pay == euro("222.02")
    chosen = designs.take(store, order_at(store, quote), 2, 2, later(days=1))
    assert chosen.counted.letter == "B"
    assert account_now(order(store, quote)).to_pay == euro("193.42")
    assert summary(store, quote).owed == euro("193.42")
    assert [each.letter for each in second(store, quote).others] == ["A", "C"]
    progress.move_piece(store, order_at(store, quote), 2, Stage.CUT, ACT)
    with pytest.raises(Conflict, match="is cut and is made by design B") as caught:
        designs.take(store, order_at(store, quote), 2, 3, ACT)
    assert "undo the last change" in caught.value.message
    assert second(store, quote).taken == 2


@pytest.mark.parametrize(
    ("stages", "way"),
    [
        ((Stage.CUT, Stage.FRAMED), "quote the other design as a piece of its own"),
        ((Stage.CANCELLED,), "Make a new quote"),
    ],
)
def test_past_that_the_way_out_is_said(
    store: Store, quote: int, stages: tuple[Stage, ...], way: str
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 3}), ACT)
    for stage in stages:
        progress.move_piece(store, order_at(store, quote), 2, stage, ACT)
    with pytest.raises(Conflict, match=way):
        designs.take(store, order_at(store, quote), 2, 1, ACT)


def test_on_an_order_designs_are_neither_added_nor_removed(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 3}), ACT)
    with pytest.raises(Conflict, match="stay as they were offered"):
        designs.add(store, order_at(store, quote), 2, A, ACT)
    with pytest.raises(Conflict, match="stay as they were offered"):
        designs.remove(store, order_at(store, quote), 2, 1, ACT)
    with pytest.raises(Conflict, match="stay as they were offered"):
        designs.leave_open(store, order_at(store, quote), 2, ACT)


def test_a_design_is_removed_by_itself_and_its_letter_is_not_used_again(
    store: Store, quote: int
) -> None:
    designs.remove(store, order_at(store, quote), 2, 3, ACT)
    assert [each.letter for each in second(store, quote).designs] == ["A", "B"]
    assert (summary(store, quote).total, summary(store, quote).most) == (
        euro("193.42"),
        euro("207.02"),
    )
    assert designs.add(store, order_at(store, quote), 2, C, ACT) == 4
    assert second(store, quote).designs[-1].letter == "D"
    with pytest.raises(NotFound, match="no design C"):
        designs.remove(store, order_at(store, quote), 2, 3, ACT)


def test_the_last_design_that_is_left_is_chosen_by_itself(store: Store, quote: int) -> None:
    for number in (1, 2):
        designs.remove(store, order_at(store, quote), 2, number, ACT)
    piece = second(store, quote)
    assert (piece.taken, piece.agreed) == (3, C.agreed)
    assert summary(store, quote).most is None
    with pytest.raises(Conflict, match="the one that piece 2 is made by"):
        designs.remove(store, order_at(store, quote), 2, 3, ACT)
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    with store.reading() as work:
        kept = work.open_pieces.get([piece.id])[0]
        assert kept.agreed == C.agreed


def test_a_taken_design_is_not_removed_and_can_be_left_open(store: Store, quote: int) -> None:
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    with pytest.raises(Conflict, match="Design B is the one"):
        designs.remove(store, order_at(store, quote), 2, 2, ACT)
    with pytest.raises(Conflict, match="taken already"):
        designs.take(store, order_at(store, quote), 2, 2, ACT)
    designs.leave_open(store, order_at(store, quote), 2, ACT)
    assert second(store, quote).undecided
    assert summary(store, quote).most == euro("222.02")
    for number in (1, 2):
        with pytest.raises(Conflict, match="Nothing is chosen"):
            designs.leave_open(store, order_at(store, quote), number, ACT)


def test_an_open_quote_takes_money_up_to_the_most_that_it_may_come_to(
    store: Store, quote: int
) -> None:
    with pytest.raises(Invalid, match=r"222\.03 is more than is still to pay, 222\.02"):
        payments.add_payment(store, order_at(store, quote), Payment(amount=euro("222.03")), ACT)
    payments.add_payment(store, order_at(store, quote), Payment(amount=euro("222.02")), ACT)
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    assert account_now(order(store, quote)).balance == -euro("28.60")


def test_an_order_that_is_said_to_be_open_still_is_found_by_the_check(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(designs={2: 2}), ACT)

    def note(most: str) -> None:
        with store.writing() as work:
            work.session.execute(text(f"UPDATE orders SET most_minor = {most}"))

    note("22202")
    assert check_database(store) == (
        "Q-2026-0001 is said to come to more at most, but no design is to be taken any more.",
    )
    note("NULL")


def test_a_further_design_beside_a_taken_one_changes_no_choice(store: Store, quote: int) -> None:
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    designs.add(store, order_at(store, quote), 2, A, ACT)
    assert second(store, quote).taken == 2


def test_the_second_of_two_tabs_is_told_and_nothing_is_doubled(store: Store, quote: int) -> None:
    before = order_at(store, quote)
    designs.take(store, before, 2, 2, ACT)
    for act in (
        lambda: designs.take(store, before, 2, 2, ACT),
        lambda: designs.take(store, before, 2, 3, ACT),
        lambda: designs.add(store, before, 2, A, ACT),
        lambda: designs.remove(store, before, 2, 1, ACT),
    ):
        with pytest.raises(Stale) as caught:
            act()
        assert isinstance(caught.value.stored, Order)
    piece = second(store, quote)
    assert piece.taken == 2
    assert acts(piece)[2:] == [("2", DesignAct.TAKEN)]


def test_a_design_has_a_history_of_its_own(store: Store, quote: int) -> None:
    wider = otherwise({**ACRYLIC, "borders.left": "120"})
    which = DesignAt(piece=2, design=3)
    orders.replace_design(store, order_at(store, quote), which, wider, later(days=2))
    piece = second(store, quote)
    assert [each.agreed for each in piece.designs] == [A.agreed, B.agreed, wider.agreed]
    (history,) = orders.agreed_anew(store, quote).items()
    assert history[0] == (2, 3)
    assert [frozen.agreed for frozen in history[1]] == [C.agreed, wider.agreed]
    assert [frozen.design for frozen in orders.price_history(store, quote, 2)] == [1, 2, 3, 3]


def test_the_artwork_is_described_for_all_designs_at_once_and_no_price_changes(
    store: Store, quote: int
) -> None:
    typed = {**C.agreed.typed, "artwork.title": "Harbour at dawn", "artwork.condition": "foxed"}
    changed = quotes.Retyped(which=DesignAt(piece=2, design=3), typed=typed)
    assert quotes.change_piece(store, order_at(store, quote), changed, SHOP, later(days=1))
    piece = second(store, quote)
    assert piece.artwork.title == "Harbour at dawn"
    assert [each.agreed.typed["artwork.title"] for each in piece.designs] == ["Harbour at dawn"] * 3
    assert [each.agreed.typed["artwork.condition"] for each in piece.designs] == ["foxed"] * 3
    assert [each.agreed.price for each in piece.designs] == [
        A.agreed.price, B.agreed.price, C.agreed.price,
    ]  # fmt: skip
    orders.set_place(store, order_at(store, quote), 2, "Rack C2", ACT)
    kept = second(store, quote)
    assert [each.agreed.typed["artwork.place"] for each in kept.designs] == ["Rack C2"] * 3
    assert order(store, quote).pieces[0].artwork.title == "Harbour at dusk"


def test_a_design_is_priced_again_by_itself(store: Store, quote: int) -> None:
    dearer = replace(SHOP, labour=replace(SHOP.labour, hourly_rate=euro("48.00")))
    which = DesignAt(piece=2, design=2)
    # 56.52 min at 48.00 an hour = 45.216: 89.91 − 33.91 + 45.22 = 101.22.
    priced = quotes.price_again(store, quote, which, dearer, today=TODAY)
    assert (priced.repricing.old_to_pay, priced.repricing.new_to_pay) == (
        euro("89.91"),
        euro("101.22"),
    )
    quotes.keep_new_price(store, order_at(store, quote), which, dearer, ACT)
    prices = [each.agreed.price.to_pay for each in second(store, quote).designs]
    assert prices == [euro("103.51"), euro("101.22"), euro("118.51")]


def test_no_more_designs_than_can_be_compared(store: Store, quote: int) -> None:
    for _ in range(9):
        designs.add(store, order_at(store, quote), 2, A, ACT)
    with pytest.raises(Conflict, match="Piece 2 has 12 designs"):
        designs.add(store, order_at(store, quote), 2, A, ACT)


def test_designs_are_in_what_is_given_to_a_customer(store: Store, quote: int) -> None:
    designs.take(store, order_at(store, quote), 2, 2, ACT)
    (given,) = json.loads(customer_export.export(store, order(store, quote).customer_id))["orders"]
    first, piece = given["pieces"]
    assert first["designs"] == []
    assert [
        (each["design"], each["taken"], each["to_pay"], each["typed"].get("glazing.material"))
        for each in piece["designs"]
    ] == [("A", False, "103.51", "G-2"), ("B", True, "89.91", "G-2"), ("C", False, "118.51", "A-3")]
    assert (given["to_pay"], given["to_pay_at_most"]) == ("193.42", None)
    designs.leave_open(store, order_at(store, quote), 2, ACT)
    (given,) = json.loads(customer_export.export(store, order(store, quote).customer_id))["orders"]
    assert (given["to_pay"], given["to_pay_at_most"]) == ("193.42", "222.02")


def test_what_was_agreed_before_there_were_designs_is_of_the_only_one(tmp_path: Path) -> None:
    path = tmp_path / DATABASE_NAME
    migrate_new(path, "0015")
    with Store.open(path), closing(sqlite3.connect(path)) as now:
        of_pieces, of_snapshots = (
            {row[1]: row[4] for row in now.execute(f"PRAGMA table_info({table})")}
            for table in ("pieces", "piece_snapshots")
        )
    assert of_pieces["counted_design"] == "1"
    assert of_snapshots["design"] == "1"
