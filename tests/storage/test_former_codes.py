"""A material that is called otherwise: stock, plans, needs and buying stay with it. Figures by hand.

The sample piece (see `plan_work`) takes one stick of LIN-20, 2091.5 of 3000 mm.
"""

from dataclasses import replace

import pytest

from app.errors import Conflict, Invalid, NotFound
from app.services import plan_bookings, plans, price_book, stock
from app.services import stages as progress
from app.services.on_rack import free_for
from app.services.open_work import open_work, problems_for
from app.services.plans import BinAtPlan
from app.services.shortages import states_of_pieces, what_to_buy
from app.services.stages import Stage
from app.stock.former_codes import Codes
from app.stock.material_states import MaterialState
from app.stock.planning.open_work import PartState
from app.stock.planning.plans import BinAt
from app.storage import Store
from tests.builders.kept import ACT, MOULDING, piece
from tests.builders.order_now import order_at
from tests.storage.plan_work import ordered, piece_ids, planned, problem_of
from tests.storage.test_services_stock import on_hand, receive
from tests.storage.test_stock import WIRES


def rename(store: Store, old: str, new: str) -> None:
    kept = price_book.get(store, old)
    price_book.save(store, old, replace(kept.value, code=new), kept.version, ACT)


def short(store: Store) -> dict[str, int]:
    found = what_to_buy(store)
    assert found.not_in_book == ()
    return {each.material.code: each.short for group in found.suppliers for each in group.purchases}


def test_any_former_code_finds_the_material(store: Store) -> None:
    rename(store, "LIN-20", "LIN-20B")
    rename(store, "LIN-20B", "LIM/20")
    for code in ("LIN-20", "lin-20b", "LIM/20"):
        assert price_book.get(store, code).value.code == "LIM/20"
    with store.reading() as work:
        codes = work.materials.codes()
    assert [codes.current(code) for code in ("Lin-20", "LIN-20B", "G-2")] == [
        "LIM/20",
        "LIM/20",
        "G-2",
    ]


def test_a_code_that_is_given_again_means_the_material_that_has_it_now(store: Store) -> None:
    rename(store, "LIN-20", "LIM-20")
    price_book.add(store, replace(MOULDING, name="Another"), ACT)
    assert price_book.get(store, "LIN-20").value.name == "Another"
    with pytest.raises(Invalid, match="is taken"):
        rename(store, "LIM-20", "LIN-20")


def test_a_code_taken_again_by_its_own_material_is_no_former_one(store: Store) -> None:
    rename(store, "LIN-20", "LIM-20")
    rename(store, "LIM-20", "LIN-20")
    with store.reading() as work:
        assert work.materials.codes() == Codes(now=(("LIM-20", "LIN-20"),))


def test_the_codes_of_a_material_go_with_it(store: Store) -> None:
    rename(store, "M-140", "M-141")
    price_book.remove(store, "M-141", 2)
    with pytest.raises(NotFound):
        price_book.get(store, "M-140")


def test_what_is_open_is_asked_and_bought_under_the_code_of_today(store: Store) -> None:
    ordered(store)
    receive(store, 5)
    rename(store, "LIN-20", "LIM-20")
    new_ones = ordered(store)
    problem = problem_of(problems_for(store), "LIM-20")
    assert problem.in_book
    assert len(problem.parts) == 8  # four rails of each piece in one question
    assert [each.available for each in problem.rack] == [5]
    assert "LIM-20" not in short(store)
    (piece_id,) = piece_ids(store, new_ones)
    assert states_of_pieces(store, [piece_id])[piece_id]["LIM-20"] is MaterialState.IN_HAND
    assert states_of_pieces(store, [piece_id])[piece_id]["LIN-20"] is MaterialState.IN_HAND
    assert [each.kept.on_hand for each in free_for(store, piece().agreed.chosen)] == [5]


def test_a_plan_stays_with_its_material(store: Store) -> None:
    """The plan is to buy one stick; under the new code that one is wanted, comes, and is cut."""
    order = ordered(store)
    plan_id = planned(store)
    rename(store, "LIN-20", "LIM-20")
    assert short(store)["LIM-20"] == 1
    looked = plans.look(store, plan_id)
    number, section = next(
        (number, each)
        for number, each in enumerate(looked.plan.sections, start=1)
        if each.material.name == MOULDING.name
    )
    assert (section.material.code, looked.outdated) == ("LIM-20", {})
    stands = {part.state for each in open_work(store).pieces for part in each.parts}
    assert stands == {PartState.PLANNED}
    with pytest.raises(Conflict, match="open cutting plan"):
        price_book.remove(store, "LIM-20", 2)
    item = receive(store, 1, material="LIM-20")
    which = BinAtPlan(plan_id=plan_id, at=BinAt(section=number, bin=1))
    booked = plan_bookings.book_bin(store, which, ACT)
    assert booked.taken is not None
    assert (booked.notices, booked.taken.id, on_hand(store, item)) == ((), item, 0)
    (kept,) = booked.kept
    assert (kept.item.material, len(piece_ids(store, order))) == ("LIM-20", 1)


def test_a_plan_in_memory_is_read_under_the_new_code_at_once(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    before = {each.material.code for each in plans.look(store, plan_id).plan.sections}
    rename(store, "LIN-20", "LIM-20")
    after = {each.material.code for each in plans.look(store, plan_id).plan.sections}
    assert (before - after, after - before) == ({"LIN-20"}, {"LIM-20"})


def test_hardware_that_is_called_otherwise_leaves_the_rack_too(store: Store) -> None:
    wires = receive(
        store, 10, material="W-1", form=WIRES.form, length=None, batch="", place="Box 4"
    )
    order = ordered(store)
    rename(store, "W-1", "W-9")
    for stage in (Stage.CUT, Stage.FRAMED):
        used = progress.move_order(store, order_at(store, order), stage, ACT)
    assert [each.material.code for each in used] == ["W-9"]
    assert on_hand(store, wires) == 9
    assert stock.standing(store, "W-1").material.code == "W-9"
