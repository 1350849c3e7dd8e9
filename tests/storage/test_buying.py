"""Orders to suppliers from the draft to the last delivery, on a real file; figures by hand.

Of the sample's book LIN-20 costs 9.40 a metre in sticks of 3 m, so 28.20 a stick; mats and boards of
Papierhaus 12.00 a sheet; W-1 85.00 a hundred, without a supplier.
"""

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.errors import Conflict, Invalid, NotFound
from app.journal import taken_back
from app.lengths import mm
from app.money import currency
from app.orders import Customer
from app.orders.change_of_currency import shop_in
from app.services import buying, customers, deliveries, orders, price_book, stock
from app.services import shop as shops
from app.services import stages as progress
from app.services.buying import DraftEdit, LineEdit, SupplierOrderAt, ToOrder
from app.services.deliveries import CameOfLine
from app.services.orders import OrderAt, QuoteHead
from app.services.shortages import what_to_buy
from app.stock.buying.supplier_orders import SupplierOrder, SupplierStage
from app.stock.levels import Levels
from app.stock.purchase_unit import BuyingUnit
from app.storage import Stale, StockFilter, Store, check_database
from tests.builders.kept import ACT, BOOK, NOW, SHOP, later, piece
from tests.builders.values import TODAY, euro
from tests.storage.plan_work import ordered

STICKS = ToOrder(material="LIN-20", quantity=5)
MATS = ToOrder(material="M-101", quantity=10)
BOARDS = ToOrder(material="B-3", quantity=4)
WIRES = ToOrder(material="W-1", quantity=200, supplier="Draht & Haken")


def made(store: Store, *wanted: ToOrder) -> tuple[SupplierOrder, ...]:
    ids = buying.make_orders(store, wanted, ACT)
    return tuple(buying.get(store, order_id) for order_id in ids)


def at(order: SupplierOrder) -> SupplierOrderAt:
    return SupplierOrderAt(id=order.id, version=order.version)


def sent(store: Store, *wanted: ToOrder) -> SupplierOrder:
    (draft,) = made(store, *wanted)
    buying.send(store, at(draft), ACT)
    return buying.get(store, draft.id)


def came(order: SupplierOrder, *counts: tuple[int, str]) -> list[CameOfLine]:
    """(how many, cost) of each line in its order; none of those with 0."""
    return [
        CameOfLine(line_id=line.id, quantity=count, cost=euro(cost), batch="L7", place="Rack A")
        for line, (count, cost) in zip(order.lines, counts, strict=False)
        if count
    ]


def on_hand(store: Store, code: str) -> int:
    return sum(line.kept.on_hand for line in stock.every(store, StockFilter(material=code)))


def coming(store: Store, code: str) -> tuple[int, int]:
    with store.reading() as work:
        found = work.supplier_orders.coming().get(code)
    return (found.on_order, found.drafted) if found else (0, 0)


def test_what_is_chosen_becomes_one_draft_for_each_supplier(store: Store) -> None:
    first, second, third = made(store, STICKS, MATS, BOARDS, WIRES)
    assert [each.number for each in (first, second, third)] == [
        "B-2026-0001",
        "B-2026-0002",
        "B-2026-0003",
    ]
    assert [each.supplier for each in (first, second, third)] == [
        "Holzwerk Nord",
        "Papierhaus",
        "Draht & Haken",
    ]
    (line,) = first.lines
    assert (line.ordered.unit, line.ordered.length) == (BuyingUnit.STICK, mm(3000))
    assert first.total == euro("141.00")  # 5 × 3 m × 9.40
    assert second.total == euro("168.00")  # 14 × 12.00
    assert third.total == euro("170.00")  # 2 hundred


def test_a_suppliers_draft_is_added_to_and_a_sent_order_is_not(store: Store) -> None:
    (draft,) = made(store, MATS)
    (same,) = made(store, MATS, BOARDS)
    assert same.id == draft.id
    assert [(each.ordered.material, each.ordered.quantity) for each in same.lines] == [
        ("M-101", 20),
        ("B-3", 4),
    ]
    buying.send(store, at(same), ACT)
    (other,) = made(store, MATS)
    assert other.number == "B-2026-0002"


def test_without_a_supplier_nothing_at_all_is_ordered(store: Store) -> None:
    with pytest.raises(Invalid, match="who W-1 is ordered from"):
        made(store, STICKS, replace(WIRES, supplier=" "))
    with pytest.raises(Invalid, match="Nothing is chosen"):
        made(store)
    assert buying.listed(store).total == 0
    assert made(store, STICKS)[0].number == "B-2026-0001"  # no number was lost


def test_a_draft_is_changed_line_by_line_and_nothing_of_it_is_on_order(store: Store) -> None:
    (draft,) = made(store, MATS, BOARDS)
    mats, boards = draft.lines
    edit = DraftEdit(
        supplier="Papierhaus Süd",
        note="By Friday.",
        lines={
            mats.id: LineEdit(quantity=7, cost=euro("11.50"), note="your number 4471"),
            boards.id: LineEdit(quantity=0, cost=euro("12.00")),
        },
    )
    buying.edit_draft(store, at(draft), edit, ACT)
    now = buying.get(store, draft.id)
    (line,) = now.lines
    assert (now.supplier, now.note, now.total) == ("Papierhaus Süd", "By Friday.", euro("80.50"))
    assert line.ordered.note == "your number 4471"
    assert coming(store, "M-101") == (0, 7)
    with pytest.raises(Stale):
        buying.edit_draft(store, at(draft), edit, ACT)


def test_what_cannot_be_in_a_line_is_said_at_its_field_and_nothing_changes(store: Store) -> None:
    (draft,) = made(store, MATS)
    (line,) = draft.lines
    lines = {line.id: LineEdit(quantity=100_001, cost=euro("1"), note="x" * 501)}
    edit = DraftEdit(supplier="Papierhaus", note="", lines=lines)
    with pytest.raises(Invalid) as wrong:
        buying.edit_draft(store, at(draft), edit, ACT)
    assert [fault.path for fault in wrong.value.faults] == [
        f"lines.{line.id}.quantity",
        f"lines.{line.id}.note",
    ]
    assert buying.get(store, draft.id) == draft


def test_sending_freezes_the_lines_and_puts_them_on_order(store: Store, path: Path) -> None:
    order = sent(store, STICKS)
    assert (order.stage, order.sent_on, order.outstanding) == (SupplierStage.SENT, TODAY, 5)
    assert coming(store, "LIN-20") == (5, 0)
    edit = DraftEdit(supplier="Larch Supply", note="", lines={}, added=STICKS)
    with pytest.raises(Conflict, match="only a draft can be changed"):
        buying.edit_draft(store, at(order), edit, ACT)
    for change in (
        "UPDATE supplier_order_lines SET quantity = 9",
        "DELETE FROM supplier_order_lines",
        "DELETE FROM supplier_orders",
    ):
        with (
            closing(sqlite3.connect(path)) as connection,
            pytest.raises(sqlite3.IntegrityError, match=r"stays|never deleted"),
        ):
            connection.execute(change)


def test_part_deliveries_lie_on_the_rack_and_the_last_one_closes_the_order(store: Store) -> None:
    order = sent(store, MATS, BOARDS)
    part = deliveries.receive(
        store, at(order), came(order, (6, "12.00"), (1, "12.40")), ACT, note="LS 88"
    )
    assert part.stage is SupplierStage.SENT
    assert [(line.received, line.outstanding) for line in part.lines] == [(6, 4), (1, 3)]
    assert (on_hand(store, "M-101"), coming(store, "M-101")) == (6, (4, 0))
    (row,) = stock.listed(store, StockFilter(material="B-3")).rows
    assert (row.kept.item.unit_cost, row.kept.item.batch, row.kept.item.place) == (
        euro("12.40"),
        "L7",
        "Rack A",
    )
    (moved,) = stock.look(store, row.kept.id).movements
    assert (moved.entry.note, moved.entry.line_id) == (order.number, order.lines[1].id)
    rest = deliveries.receive(
        store, at(part), came(part, (4, "12.00"), (3, "12.40")), later(days=2)
    )
    assert rest.stage is SupplierStage.CLOSED
    assert rest.paid == euro("169.60")  # 10 × 12.00 + 4 × 12.40
    assert (on_hand(store, "M-101"), coming(store, "M-101")) == (10, (0, 0))
    assert stock.listed(store, StockFilter(material="M-101")).total == 1  # alike, so one item


def test_a_hundred_is_received_in_ones_at_their_share_of_the_cost(store: Store) -> None:
    order = sent(store, WIRES)
    got = deliveries.receive(store, at(order), came(order, (100, "86.00")), ACT)
    assert (got.lines[0].received, got.paid) == (100, euro("86.00"))
    (row,) = stock.listed(store, StockFilter(material="W-1")).rows
    assert (row.kept.on_hand, row.kept.item.unit_cost) == (100, euro("0.86"))


def test_only_what_was_sent_can_come_and_something_must(store: Store) -> None:
    (draft,) = made(store, STICKS)
    with pytest.raises(Conflict, match="only what was sent can come"):
        deliveries.receive(store, at(draft), came(draft, (1, "28.20")), ACT)
    order = sent(store, MATS)
    with pytest.raises(Invalid, match="Nothing came"):
        deliveries.receive(store, at(order), [], ACT)
    with pytest.raises(Invalid) as wrong:
        deliveries.receive(
            store,
            at(order),
            [replace(came(order, (1, "12"))[0], batch="x" * 61, place="y" * 61)],
            ACT,
        )
    assert [fault.path for fault in wrong.value.faults] == [
        f"lines.{order.lines[0].id}.batch",
        f"lines.{order.lines[0].id}.place",
    ]
    assert on_hand(store, "M-101") == 0


def test_a_delivery_is_taken_back_by_a_contrary_entry_and_the_order_is_awaited_again(
    store: Store, path: Path
) -> None:
    order = sent(store, STICKS)
    closed = deliveries.receive(store, at(order), came(order, (5, "28.20")), ACT)
    (entry,) = closed.lines[0].deliveries
    deliveries.take_back(store, at(closed), entry.id, later(days=1))
    now = buying.get(store, order.id)
    assert (now.stage, now.outstanding, now.paid) == (SupplierStage.SENT, 5, euro("0"))
    assert on_hand(store, "LIN-20") == 0
    first, second = now.lines[0].deliveries
    assert taken_back(now.lines[0].deliveries) == {first.id}
    assert second.entry.takes_back == first.id
    for wrong in (first, second):
        with pytest.raises(Conflict):
            deliveries.take_back(store, at(now), wrong.id, ACT)
    with pytest.raises(Conflict, match="no such entry"):
        deliveries.take_back(store, at(now), 99, ACT)
    for change in ("UPDATE deliveries SET quantity = 3", "DELETE FROM deliveries"):
        with (
            closing(sqlite3.connect(path)) as connection,
            pytest.raises(sqlite3.IntegrityError, match="append-only"),
        ):
            connection.execute(change)
    assert check_database(store) == ()


def test_what_came_is_taken_back_by_its_order_and_not_at_the_rack(store: Store) -> None:
    order = sent(store, STICKS)
    closed = deliveries.receive(store, at(order), came(order, (5, "28.20")), ACT)
    (entry,) = closed.lines[0].deliveries
    (row,) = stock.every(store, StockFilter(material="LIN-20"))
    with pytest.raises(Conflict, match=f"came of the order {order.number}"):
        stock.take_back(store, row.kept.id, entry.entry.movement_id, ACT)
    assert on_hand(store, "LIN-20") == 5
    deliveries.take_back(store, at(closed), entry.id, ACT)
    assert on_hand(store, "LIN-20") == 0
    assert buying.get(store, order.id).outstanding == 5


def test_an_order_is_closed_with_something_outstanding_and_opened_again(store: Store) -> None:
    order = sent(store, MATS, BOARDS)
    part = deliveries.receive(store, at(order), came(order, (6, "12.00")), ACT)
    assert buying.close(store, at(part), ACT) == 8  # 4 mats and 4 boards
    assert coming(store, "M-101") == (0, 0)
    closed = buying.get(store, order.id)
    with pytest.raises(Conflict, match="only what was sent"):
        deliveries.receive(store, at(closed), came(closed, (1, "12.00")), ACT)
    buying.await_again(store, at(closed), ACT)
    assert coming(store, "M-101") == (4, 0)


def test_the_check_of_the_file_holds_deliveries_to_the_rack(store: Store, path: Path) -> None:
    order = sent(store, STICKS)
    deliveries.receive(store, at(order), came(order, (5, "28.20")), ACT)
    assert check_database(store) == ()
    with closing(sqlite3.connect(path)) as connection, connection:
        (keeping,) = connection.execute(
            "SELECT sql FROM sqlite_schema WHERE name = 'deliveries_unchanged'"
        ).fetchone()
        connection.execute("DROP TRIGGER deliveries_unchanged")
        connection.execute("UPDATE deliveries SET quantity = 4")
        connection.execute(keeping)
    assert any("Delivery 1 of B-2026-0001" in sentence for sentence in check_database(store))


def test_a_draft_is_dropped_and_its_number_stays_given(store: Store) -> None:
    (draft,) = made(store, STICKS)
    with pytest.raises(Conflict, match="send it first"):
        buying.await_again(store, at(draft), ACT)
    buying.drop(store, at(draft), ACT)
    assert coming(store, "LIN-20") == (0, 0)
    assert made(store, STICKS)[0].number == "B-2026-0002"
    dropped = buying.get(store, draft.id)
    with pytest.raises(Conflict, match="nothing follows it"):
        buying.send(store, at(dropped), ACT)


def test_costs_received_go_into_the_price_book_only_by_an_act_and_touch_no_quote(
    store: Store,
) -> None:
    amber = customers.add(store, Customer(name="Amber Quill"), ACT)
    quote = orders.save_quote(
        store, QuoteHead(customer_id=amber, valid_until=TODAY), [piece()], ACT
    )
    before = orders.get(store, quote)
    order = sent(store, STICKS)
    deliveries.receive(store, at(order), came(order, (2, "30.00")), ACT)
    assert price_book.get(store, "LIN-20").value.cost == euro("9.40")
    (found,) = deliveries.costs_received(store, order.id)
    assert found.change.new.cost == euro("10.00")  # 30.00 / 3 m
    seen = {"LIN-20": found.version}
    with pytest.raises(Conflict, match="Nothing was taken over"):
        deliveries.take_costs(store, order.id, {"LIN-20": found.version + 1}, ACT)
    with pytest.raises(Conflict, match="Nothing was taken over"):
        deliveries.take_costs(store, order.id, {**seen, "M-101": 1}, ACT)
    with pytest.raises(Invalid, match="Nothing is chosen"):
        deliveries.take_costs(store, order.id, {}, ACT)
    assert deliveries.take_costs(store, order.id, seen, ACT) == 1
    assert price_book.get(store, "LIN-20").value.cost == euro("10.00")
    assert deliveries.costs_received(store, order.id) == ()
    assert orders.get(store, quote) == before  # P7
    assert buying.get(store, order.id).lines[0].ordered.cost == euro("28.20")


def test_a_material_on_an_order_stays_in_the_price_book_and_may_be_renamed(store: Store) -> None:
    (draft,) = made(store, STICKS)
    kept = price_book.get(store, "LIN-20")
    with pytest.raises(Conflict, match="stands on an order to a supplier"):
        price_book.remove(store, "LIN-20", kept.version)
    renamed = replace(kept.value, code="LIN-21", name="Linden, oiled")
    price_book.save(store, "LIN-20", renamed, kept.version, ACT)
    (line,) = buying.get(store, draft.id).lines
    assert (line.ordered.material, line.ordered.name) == ("LIN-21", "Linden, limewashed · moulding")


def test_open_orders_follow_the_shop_into_another_currency_figure_by_figure(store: Store) -> None:
    order = sent(store, STICKS)
    closed = sent(store, MATS)
    deliveries.receive(store, at(closed), came(closed, (10, "12.00")), ACT)
    with store.reading() as work:
        version = work.shop.kept().version
    shops.save(store, shop_in(SHOP, currency("GBP")), version, ACT)
    now = buying.get(store, order.id)
    assert (now.total.minor, now.total.currency.code) == (14_100, "GBP")
    assert buying.get(store, closed.id).total == euro("120.00")


def test_the_list_says_what_each_order_comes_to_and_what_is_outstanding(store: Store) -> None:
    order = sent(store, MATS, BOARDS)
    deliveries.receive(store, at(order), came(order, (6, "12.00"), (9, "12.00")), ACT)
    made(store, WIRES)
    newest, oldest = buying.listed(store).rows
    assert (newest.supplier, newest.stage, newest.total) == (
        "Draht & Haken",
        SupplierStage.DRAFT,
        euro("170.00"),
    )
    # four mats are still to come; the five boards too many count for no mat
    assert (oldest.lines, oldest.ordered, oldest.received, oldest.outstanding) == (2, 14, 15, 4)
    assert oldest.total == buying.get(store, order.id).total == euro("168.00")
    drafts = buying.listed(store, frozenset({SupplierStage.DRAFT}))
    assert [row.id for row in drafts.rows] == [newest.id]
    assert buying.stage_counts(store)[SupplierStage.SENT] == 1
    with pytest.raises(NotFound):
        buying.get(store, 99)


@settings(max_examples=12, deadline=None)
@given(parts=st.lists(st.integers(1, 9), min_size=1, max_size=5), back=st.integers(0, 4))
def test_the_rack_grows_by_exactly_what_came(
    tmp_path_factory: pytest.TempPathFactory, parts: list[int], back: int
) -> None:
    with Store.open(tmp_path_factory.mktemp("law") / "bevelbook.sqlite3") as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        order = sent(store, replace(STICKS, quantity=100))
        for count in parts:
            order = deliveries.receive(store, at(order), came(order, (count, "28.20")), ACT)
        entries = buying.get(store, order.id).lines[0].deliveries
        taken = entries[back].entry.quantity if back < len(entries) else 0
        if taken:
            deliveries.take_back(store, at(order), entries[back].id, ACT)
        (line,) = buying.get(store, order.id).lines
        assert line.received == sum(parts) - taken == on_hand(store, "LIN-20")
        assert line.received + line.outstanding == 100
        assert coming(store, "LIN-20") == (line.outstanding, 0)


def test_what_open_work_wants_is_short_until_it_is_ordered_and_comes(store: Store) -> None:
    """Worked by hand. The piece: 420 × 297 behind windows with 5 of overlap and 6 of reveal.

    Window 410 × 287, above it 422 × 299; package 542 × 429; rails 545 + 28 = 573, 432 + 28 = 460. Two
    frames are 2 × 2066 long, more than a stick; so two sticks, one of each material that is a sheet,
    and a wire set each.
    """
    amber = customers.add(store, Customer(name="Amber Quill"), ACT)
    pieces = [piece(), piece()]
    quote = orders.save_quote(store, QuoteHead(customer_id=amber, valid_until=TODAY), pieces, ACT)
    assert what_to_buy(store).suppliers == ()  # a quote wants nothing
    progress.take_order(store, OrderAt(id=quote, version=1), progress.Terms(), ACT)
    found = {
        group.supplier: {each.material.code: each.quantity for each in group.purchases}
        for group in what_to_buy(store).suppliers
    }
    assert found == {
        "Holzwerk Nord": {"LIN-20": 2},
        "Papierhaus": {"B-3": 1, "G-2": 1, "M-101": 1, "M-140": 1},
        "": {"W-1": 100},
    }
    assert list(found)[-1] == ""
    (sticks,) = what_to_buy(store).suppliers[0].purchases
    assert sticks.why == "2 sticks wanted by 2 pieces, 0 free on the rack: buy 2."
    stock.set_levels(store, "LIN-20", Levels(reorder_at=2, pack=4), 0)
    order = sent(store, replace(STICKS, quantity=3))
    (more,) = what_to_buy(store).suppliers[0].purchases
    assert (more.short, more.quantity) == (2, 4)  # 3 come, 2 are cut, more than 2 are to stay
    deliveries.receive(store, at(order), came(order, (3, "28.20")), ACT)
    (still,) = what_to_buy(store).suppliers[0].purchases
    assert (still.supply.free, still.supply.on_order, still.quantity) == (3, 0, 4)
    made(store, replace(STICKS, quantity=4))
    assert [group.supplier for group in what_to_buy(store).suppliers] == ["Papierhaus", ""]


def test_more_open_parts_of_a_material_than_one_plan_holds_are_summed(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Mats of 542 × 429, two of them in a sheet of 1120 × 815: five take three sheets, also asked two by two."""
    for module in ("app.cutting.problem", "app.services.open_work"):
        monkeypatch.setattr(f"{module}.MOST_PARTS", 2)
    ordered(store, *[piece()] * 5)
    wanted = {
        each.material.code: each.wanted
        for group in what_to_buy(store).suppliers
        for each in group.purchases
    }
    monkeypatch.undo()
    assert wanted["M-101"] == 3
