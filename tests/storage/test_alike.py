"""Twenty alike on a real file: parts, plans, what leaves the rack, stages by number, splitting in two (P11)."""

from collections import Counter

import pytest
from sqlalchemy import text

from app.cutting import StickPlan
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.errors import Conflict, Invalid
from app.orders import Customer, Stage
from app.services import customers, designs, orders, plans, quotes, stock
from app.services import stages as progress
from app.services.open_work import counted_needs, open_work, problems_for, states_of_materials
from app.services.orders import QuoteHead
from app.services.plan_fallouts import fallouts_on_offer
from app.services.plans import BinAtPlan, keep_plan
from app.services.stages import PieceMove
from app.stock.material_states import MaterialState
from app.stock.planning.plans import BinAt
from app.storage import Store, check_database
from tests.builders.kept import ACT, SHOP, later, piece
from tests.builders.order_now import order_at
from tests.builders.values import TODAY
from tests.storage import plan_work
from tests.storage.plan_work import solved
from tests.storage.test_services_stock import on_hand
from tests.storage.test_stock import WIRES

pytestmark = pytest.mark.slow

KEYS = {
    "mat-1",
    "mat-2",
    "glazing",
    "backing",
    *(f"frame-1.{side}" for side in ("top", "bottom", "left", "right")),
}


def ordered(store: Store, copies: str = "20") -> int:
    return plan_work.ordered(store, piece(copies=copies))


def move(store: Store, order_id: int, stage: Stage, count: int | None, minutes: int) -> None:
    asked = PieceMove(number=1, stage=stage, count=count)
    progress.move_some(store, order_at(store, order_id), asked, later(minutes=minutes))


def stands(store: Store, order_id: int) -> dict[str, int]:
    found = orders.get(store, order_id).pieces[0]
    return {stage.value: count for stage, count in found.stands.items()}


def test_every_part_is_open_work_twenty_times(store: Store) -> None:
    order_id = ordered(store)
    piece_id = orders.get(store, order_id).pieces[0].id
    parts = open_work(store).parts
    assert Counter(part.key for part in parts) == dict.fromkeys(KEYS, 20)
    ids = {part.id for part in parts}
    assert len(ids) == 160
    assert {f"{piece_id}/mat-1", f"{piece_id}/2/mat-1", f"{piece_id}/20/mat-1"} <= ids
    assert f"{piece_id}/1/mat-1" not in ids
    assert [(need.material.code, need.quantity) for need in counted_needs(store)] == [("W-1", 20)]


def test_a_plan_of_all_of_them_passes_its_check_and_is_kept(store: Store) -> None:
    ordered(store)
    made = [solved(each) for each in problems_for(store)]
    for plan in made:
        faults = (
            faults_of_stick_plan(plan)
            if isinstance(plan, StickPlan)
            else faults_of_sheet_plan(plan)
        )
        assert faults == ()
    plan_id = keep_plan(store, made, ACT)
    assert len(tuple(plans.get(store, plan_id).parts())) == 160
    assert open_work(store).parts == ()
    assert plans.look(store, plan_id).outdated == {}
    mats = next(
        number
        for number, section in enumerate(plans.get(store, plan_id).sections, start=1)
        if section.material.code == "M-101"
    )
    bins = plans.get(store, plan_id).sections[mats - 1].bins
    on_offer = [
        each
        for number in range(1, len(bins) + 1)
        for each in fallouts_on_offer(
            store, BinAtPlan(plan_id=plan_id, at=BinAt(section=mats, bin=number))
        )
    ]
    assert len(on_offer) == 20
    assert check_database(store) == ()


def test_some_are_cut_and_the_others_stay_open_work(store: Store) -> None:
    order_id = ordered(store)
    move(store, order_id, Stage.CUT, 12, 1)
    assert orders.get(store, order_id).stage is Stage.ORDERED
    assert len(open_work(store).parts) == 8 * 8
    assert stands(store, order_id) == {"ordered": 8, "cut": 12}
    assert not orders.is_changeable(orders.get(store, order_id).pieces[0])
    with pytest.raises(Conflict, match="8 ordered, 12 cut"):
        orders.replace_piece(store, order_at(store, order_id), 1, piece(), ACT)


def test_hardware_leaves_the_rack_for_as_many_as_are_framed_and_comes_back(store: Store) -> None:
    order_id = ordered(store)
    wires = stock.receive(store, stock.Received(item=WIRES, count=30), ACT)
    move(store, order_id, Stage.CUT, None, 1)
    move(store, order_id, Stage.FRAMED, 12, 2)
    assert on_hand(store, wires) == 18
    assert [need.quantity for need in counted_needs(store)] == [8]
    move(store, order_id, Stage.FRAMED, None, 3)
    assert on_hand(store, wires) == 10
    progress.take_back(store, order_at(store, order_id), later(minutes=4))
    assert on_hand(store, wires) == 18
    assert stands(store, order_id) == {"cut": 8, "framed": 12}
    assert check_database(store) == ()


def test_twelve_are_framed_and_eight_collected_and_it_can_be_taken_back(store: Store) -> None:
    order_id = ordered(store)
    move(store, order_id, Stage.CUT, None, 1)
    move(store, order_id, Stage.FRAMED, None, 2)
    move(store, order_id, Stage.COLLECTED, 8, 3)
    assert stands(store, order_id) == {"framed": 12, "collected": 8}
    assert orders.get(store, order_id).stage is Stage.FRAMED
    with pytest.raises(Conflict, match="13 cannot become “collected”: of 20 only 12 “framed” are"):
        move(store, order_id, Stage.COLLECTED, 13, 4)
    with pytest.raises(Conflict, match="8 of the 20 of piece 1 are collected"):
        progress.move_order(store, order_at(store, order_id), Stage.CANCELLED, later(minutes=5))
    progress.take_back(store, order_at(store, order_id), later(minutes=6), 1)
    assert stands(store, order_id) == {"framed": 20}
    move(store, order_id, Stage.COLLECTED, 8, 7)
    move(store, order_id, Stage.COLLECTED, None, 8)
    assert orders.get(store, order_id).stage is Stage.COLLECTED
    changes = orders.get(store, order_id).pieces[0].changes
    assert [change.count for change in changes][-2:] == [8, 12]


def test_one_act_that_moves_from_two_stages_is_taken_back_as_one(store: Store) -> None:
    order_id = ordered(store)
    move(store, order_id, Stage.CUT, 12, 1)
    progress.move_order(store, order_at(store, order_id), Stage.CANCELLED, later(minutes=2))
    assert stands(store, order_id) == {"cancelled": 20}
    progress.take_back(store, order_at(store, order_id), later(minutes=3))
    assert stands(store, order_id) == {"ordered": 8, "cut": 12}


def split(store: Store, order_id: int, count: int) -> int:
    which = quotes.PieceSplit(order_id=order_id, number=1, count=count)
    return quotes.split_in_two(store, order_at(store, order_id), which, SHOP, later(minutes=1))


def test_twenty_become_twelve_and_eight_priced_as_two(store: Store) -> None:
    order_id = ordered(store)
    before = orders.get(store, order_id).pieces[0]
    which = quotes.PieceSplit(order_id=order_id, number=1, count=8)
    looked = quotes.look_at_split(store, which, SHOP, today=TODAY)
    assert split(store, order_id, 8) == 2
    one, other = orders.get(store, order_id).pieces
    assert (one.copies, other.copies) == (12, 8)
    assert (one.stage, other.stage) == (Stage.ORDERED, Stage.ORDERED)
    assert one.agreed.spec == other.agreed.spec == before.agreed.spec
    assert other.artwork == before.artwork
    # The 6 min of setting up at 36.00 an hour are charged once more: 3.60, shared by each and rounded by the piece
    together = one.agreed.price.subtotal + other.agreed.price.subtotal
    assert together.minor - before.agreed.price.subtotal.minor == 360
    assert looked.difference == (
        one.agreed.price.to_pay + other.agreed.price.to_pay - before.agreed.price.to_pay
    )
    history = orders.price_history(store, order_id, 1)
    assert [each.agreed.copies for each in history] == [20, 12]
    assert check_database(store) == ()


@pytest.mark.parametrize(("count", "said"), [(0, "0 cannot"), (20, "20 cannot"), (-1, "-1 cannot")])
def test_nothing_or_all_cannot_be_split_off(store: Store, count: int, said: str) -> None:
    order_id = ordered(store)
    with pytest.raises(Invalid, match=f"{said} be split off 20; a whole number from 1 to 19 can"):
        split(store, order_id, count)
    assert len(orders.get(store, order_id).pieces) == 1


def test_a_single_piece_and_one_that_is_cut_are_not_split(store: Store) -> None:
    single = ordered(store, "1")
    with pytest.raises(Invalid, match="only one"):
        split(store, single, 1)
    order_id = ordered(store)
    move(store, order_id, Stage.CUT, 3, 1)
    with pytest.raises(Conflict, match="17 ordered, 3 cut"):
        split(store, order_id, 8)


def titles(store: Store, order_id: int) -> tuple[str, ...]:
    return next(row for row in orders.listed(store).rows if row.id == order_id).titles


def test_lists_say_how_many_of_a_title_are_alike(store: Store) -> None:
    order_id = ordered(store)
    assert titles(store, order_id) == ("20 × Harbour at dusk",)
    split(store, order_id, 8)
    assert titles(store, order_id) == ("12 × Harbour at dusk", "8 × Harbour at dusk")
    single = ordered(store, "1")
    assert titles(store, single) == ("Harbour at dusk",)


def test_lists_follow_the_design_that_counts(store: Store) -> None:
    head = QuoteHead(
        customer_id=customers.add(store, Customer(name="Amber Quill"), ACT),
        valid_until=plan_work.MONTH,
    )
    quote = orders.save_quote(store, head, (piece(copies="20"),), ACT)
    designs.add(store, order_at(store, quote), 1, piece(copies="6"), ACT)
    designs.take(store, order_at(store, quote), 1, 1, later(minutes=1))
    assert titles(store, quote) == ("20 × Harbour at dusk",)
    designs.take(store, order_at(store, quote), 1, 2, later(minutes=2))
    assert titles(store, quote) == ("6 × Harbour at dusk",)
    assert check_database(store) == ()


def test_the_number_in_lists_is_checked_against_what_was_agreed(store: Store) -> None:
    ordered(store)
    with store.writing() as work:
        work.session.execute(text("UPDATE pieces SET copies = 19"))
    assert check_database(store) == (
        "Q-2026-0001: 19 of piece 1 are noted as alike, but 20 were agreed.",
    )


def test_more_parts_than_a_plan_holds_still_have_a_state(store: Store) -> None:
    """Rails of 1251 frames are 5004 of one moulding; a plan holds 5000."""
    order_id = plan_work.ordered(store, *(piece(copies=number) for number in ("999", "252")))
    states = states_of_materials(store)
    piece_ids = plan_work.piece_ids(store, order_id)
    assert {states[piece_id]["LIN-20"] for piece_id in piece_ids} == {MaterialState.TO_BUY}
    with pytest.raises(Invalid, match="5004 parts"):
        problems_for(store)
