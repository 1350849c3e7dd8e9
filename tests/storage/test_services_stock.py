"""What is done with the stock, each as one act. Figures by hand."""

from dataclasses import replace

import pytest

from app.errors import Conflict, Invalid
from app.lengths import Size, mm
from app.services import price_book, stock
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.storage import Stale, Stamp, Store, check_database
from tests.builders.kept import ACT, NOW, later
from tests.builders.values import euro
from tests.storage.test_stock import SHEETS, STICKS, WIRES

BO = Stamp(who="Bo", now=NOW)


def receive(store: Store, count: int = 5, **changes: object) -> int:
    item = replace(STICKS, **changes)  # type: ignore[arg-type]
    return stock.receive(store, stock.Received(item=item, count=count), ACT)


def on_hand(store: Store, item_id: int) -> int:
    return stock.look(store, item_id).kept.on_hand


def test_what_comes_again_lies_with_what_is_the_same(store: Store) -> None:
    first = receive(store, 5)
    assert receive(store, 3, note="second delivery", material="lin-20") == first
    assert receive(store, 3, batch="Lot 8") != first
    assert receive(store, 3, unit_cost=euro("29")) != first
    assert on_hand(store, first) == 8


@pytest.mark.parametrize("count", [0, -3, 100_001])
def test_a_count_that_makes_no_sense_is_refused(store: Store, count: int) -> None:
    with pytest.raises(Invalid) as caught:
        stock.Received(item=STICKS, count=count, note="x" * 501)
    assert [fault.path for fault in caught.value.faults] == ["count", "note"]


def test_an_offcut_gets_the_next_label_of_the_year(store: Store) -> None:
    offcut = Offcut(material="LIN-20", unit_cost=euro("6.96"), length=mm(740), place="Bin 1")
    ids = [stock.keep_offcut(store, offcut, act) for act in (ACT, ACT, later(days=40))]
    labels = [line.kept.item.label for line in stock.lines(store, tuple(ids))]
    assert labels == ["K-2026-0001", "K-2026-0002", "K-2027-0001"]
    found = stock.labelled(store, "k-2026-0002")
    assert found is not None
    assert (found.id, found.on_hand, found.item.place) == (ids[1], 1, "Bin 1")


def test_what_is_cut_or_spoiled_leaves_the_rack_and_says_why(store: Store) -> None:
    item_id = receive(store, 5)
    spoiled = stock.Withdrawal(kind=MovementKind.SPOILED, count=2, note="split at the end")
    stock.take(store, item_id, spoiled, BO)
    stock.take(store, item_id, stock.Withdrawal(kind=MovementKind.CUT, count=4), BO)
    looked = stock.look(store, item_id)
    assert looked.kept.on_hand == -1
    assert [(one.entry.kind, one.entry.change, one.entry.by) for one in looked.movements] == [
        (MovementKind.CUT, -4, "Bo"),
        (MovementKind.SPOILED, -2, "Bo"),
        (MovementKind.BOUGHT, 5, "Ilse"),
    ]
    assert looked.movements[1].entry.note == "split at the end"


def test_a_movement_is_taken_back_by_its_contrary(store: Store) -> None:
    item_id = receive(store, 5)
    (bought,) = stock.look(store, item_id).movements
    assert stock.take_back(store, item_id, bought.id, BO) == bought
    assert on_hand(store, item_id) == 0
    with pytest.raises(Conflict, match="undone already"):
        stock.take_back(store, item_id, bought.id, BO)
    assert check_database(store) == ()


def test_an_item_is_put_elsewhere_and_a_second_tab_is_told(store: Store) -> None:
    item_id = receive(store)
    changed = stock.Edit(place="Rack B", batch="Lot 7", note="", unit_cost=euro("27"))
    stock.edit(store, item_id, 1, changed)
    kept = stock.look(store, item_id).kept
    assert (kept.item.place, kept.item.unit_cost, kept.version) == ("Rack B", euro("27"), 2)
    with pytest.raises(Stale):
        stock.edit(store, item_id, 1, changed)
    with pytest.raises(Invalid, match="at most 60"):
        stock.edit(store, item_id, 2, replace(changed, place="x" * 61))


@pytest.fixture
def rack(store: Store) -> Store:
    """5 sticks of 28.20, 4 sheets of 12.00, 200 wires of 0.85."""
    for item, count in ((STICKS, 5), (SHEETS, 4), (WIRES, 200)):
        stock.receive(store, stock.Received(item=item, count=count), ACT)
    return store


def test_a_count_is_looked_at_first_and_then_written_down(rack: Store) -> None:
    counts = {1: 3, 2: 4, 3: 210}
    seen = stock.preview_count(rack, counts)
    # 2 × 28.20 are missing, 10 × 0.85 were found.
    assert (seen.missing, seen.found) == (euro("56.40"), euro("8.50"))
    assert on_hand(rack, 1) == 5
    done = stock.count(rack, counts, {1: 5, 2: 4, 3: 200}, BO, note="year’s end")
    assert done == seen
    assert [on_hand(rack, each) for each in (1, 2, 3)] == [3, 4, 210]
    newest = [stock.look(rack, each).movements[0].entry for each in (1, 2, 3)]
    assert [(one.kind, one.change, one.note) for one in newest] == [
        (MovementKind.COUNTED, -2, "year’s end"),
        (MovementKind.COUNTED, 0, "year’s end"),
        (MovementKind.COUNTED, 10, "year’s end"),
    ]


def test_a_count_of_a_rack_that_moved_changes_nothing(rack: Store) -> None:
    stock.take(rack, 1, stock.Withdrawal(kind=MovementKind.CUT, count=1), ACT)
    with pytest.raises(Conflict, match="The record moved since"):
        stock.count(rack, {1: 3, 2: 3}, {1: 5, 2: 4}, BO)
    assert (on_hand(rack, 1), on_hand(rack, 2)) == (4, 4)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Say which material"),
        ("granite", "“granite” is no material of the price book"),
        ("1", "“1” may be M-101, M-140, W-1"),
    ],
)
def test_a_material_that_cannot_be_told_is_said(store: Store, text: str, said: str) -> None:
    with pytest.raises(Invalid, match=said) as caught:
        stock.material_meant(store, text)
    assert caught.value.faults[0].path == "material"


def test_a_material_is_meant_by_its_code_or_by_a_part_of_its_name(store: Store) -> None:
    assert stock.material_meant(store, "m-101").code == "M-101"
    assert stock.material_meant(store, "chalk").code == "M-101"


def test_a_material_with_stock_stays_in_the_book_and_can_be_taken_off_offer(rack: Store) -> None:
    with pytest.raises(Conflict, match="Discontinue it instead"):
        price_book.remove(rack, "LIN-20", 1)
    price_book.retire(rack, "LIN-20", 1, ACT)
    assert [line.material.code for line in stock.balances(rack)] == ["LIN-20", "M-101", "W-1"]


def test_one_material_is_balanced_for_itself(rack: Store) -> None:
    found = stock.standing(rack, "m-101")
    assert (found.whole, found.value) == (4, euro("48.00"))
    assert stock.standing(rack, "G-2").value == euro("0")
    assert [found] == [each for each in stock.balances(rack) if each.material.code == "M-101"]


def test_another_size_of_the_same_sheet_lies_apart(rack: Store) -> None:
    other = replace(SHEETS, size=Size(mm(1000), mm(700)))
    stock.receive(rack, stock.Received(item=other, count=2), ACT)
    assert stock.standing(rack, "M-101").whole == 6
    assert len(stock.every(rack)) == 4
