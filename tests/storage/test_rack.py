"""What is free on the rack, asked in a moment: items of some materials less what open plans are to take."""

import pytest

from app.lengths import mm
from app.services import plans, stock
from app.services.open_work import WorkFilter
from app.services.plan_bookings import book_bin, take_back_booking
from app.services.plans import BinAtPlan, PlanAt
from app.services.stock import Received, Withdrawal
from app.stock.items import Item, StockForm
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.stock.planning.plans import BinAt
from app.storage import Store
from tests.builders.kept import ACT, piece
from tests.builders.values import euro
from tests.storage.plan_work import ordered, planned

RAILS = WorkFilter(materials=frozenset({"LIN-20"}))


def offcut(store: Store, length: str) -> int:
    kept = Offcut(material="LIN-20", unit_cost=euro("5.00"), length=mm(length), place="Bay 3")
    return stock.keep_offcut(store, kept, ACT)


def sticks(store: Store, count: int) -> int:
    item = Item(material="LIN-20", form=StockForm.STICK, unit_cost=euro("28.20"), length=mm(3000))
    return stock.receive(store, Received(item=item, count=count), ACT)


def free(store: Store, *codes: str) -> dict[int, int]:
    with store.reading() as work:
        return {each.kept.id: each.available for each in work.rack.free(codes)}


def taken(store: Store) -> dict[int, int]:
    with store.reading() as work:
        return dict(work.plans.reserved())


def test_the_items_of_the_materials_asked_for_are_found_with_all_about_them(store: Store) -> None:
    short, long = offcut(store, "740"), offcut(store, "2100")
    assert free(store, "lin-20", "M-101") == {short: 1, long: 1}
    assert free(store, "M-101") == free(store) == {}
    with store.reading() as work:
        (found, _) = work.rack.free(["LIN-20"])
        assert found.kept == work.stock.get(short)


def test_what_was_spoiled_or_taken_is_not_free(store: Store) -> None:
    gone, whole = offcut(store, "740"), sticks(store, 2)
    stock.take(store, gone, Withdrawal(kind=MovementKind.SPOILED, count=1), ACT)
    stock.take(store, whole, Withdrawal(kind=MovementKind.SPOILED, count=1), ACT)
    assert free(store, "LIN-20") == {whole: 1}


def test_what_open_plans_are_to_take_is_not_free_until_they_are_dropped(store: Store) -> None:
    # a frame of the sample takes 2091.5: the offcut of 2100 holds it, the one of 740 stays
    short, long = offcut(store, "740"), offcut(store, "2100")
    ordered(store, piece())
    plan_id = planned(store, RAILS)
    assert taken(store) == {long: 1}
    assert free(store, "LIN-20") == {short: 1}
    plans.drop_plan(store, PlanAt(id=plan_id, version=plans.get(store, plan_id).version))
    assert free(store, "LIN-20") == {short: 1, long: 1}


def test_a_booking_frees_nothing_twice_and_taken_back_it_reserves_again(store: Store) -> None:
    whole = sticks(store, 5)
    ordered(store, piece(), piece(), piece())
    plan_id = planned(store, RAILS)
    before = free(store, "LIN-20")
    assert before == {whole: 2}  # three frames, one to a stick: five rails at most on one
    for which in (BinAt(section=1, bin=1), BinAt(section=1, bin=2)):
        book_bin(store, BinAtPlan(plan_id=plan_id, at=which), ACT)
        assert free(store, "LIN-20")[whole] == 2
        assert taken(store)[whole] == 3 - which.bin
    take_back_booking(store, BinAtPlan(plan_id=plan_id, at=BinAt(section=1, bin=1)), ACT)
    assert taken(store) == {whole: 2}
    assert free(store, "LIN-20")[whole] == 2


@pytest.mark.parametrize("codes", [(), ("none such",)])
def test_no_material_has_nothing_on_the_rack(store: Store, codes: tuple[str, ...]) -> None:
    offcut(store, "740")
    assert free(store, *codes) == {}
