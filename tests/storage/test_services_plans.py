"""From open work to kept cutting plans, and back into it, on a real file."""

from dataclasses import replace
from datetime import timedelta

import pytest

from app.cutting import StickPlan
from app.errors import Conflict, Invalid, NotFound
from app.lengths import Size, mm
from app.orders import Stage
from app.services import buying, orders, plans, price_book, stock
from app.services import stages as progress
from app.services.buying import SupplierOrderAt, ToOrder
from app.services.open_work import (
    ALL_WORK,
    WorkFilter,
    counted_needs,
    open_work,
    problems_for,
    states_of_materials,
)
from app.services.plans import PlanAt, keep_plan
from app.services.stock import Received, Withdrawal
from app.stock.items import Item, StockForm
from app.stock.material_states import MaterialState
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.stock.planning.open_work import PartState
from app.stock.planning.plans import BinAt, PlanStage, held_parts, unbooked
from app.storage import Stale, Store, check_database
from tests.builders.kept import ACT, piece
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro
from tests.storage.plan_work import ordered, piece_ids, planned, problem_of, solved

pytestmark = pytest.mark.slow

RAIL_KEYS = {f"frame-1.{side}" for side in ("top", "bottom", "left", "right")}
KEYS = {"mat-1", "mat-2", "glazing", "backing"} | RAIL_KEYS


def open_keys(store: Store, piece_id: int) -> set[str]:
    return {part.key for part in open_work(store).parts if part.piece.piece_id == piece_id}


def stick_plan(store: Store) -> StickPlan:
    plan = solved(problem_of(problems_for(store), "LIN-20"))
    assert isinstance(plan, StickPlan)
    return plan


def sticks(store: Store, count: int, length: str = "3000") -> int:
    item = Item(material="LIN-20", form=StockForm.STICK, unit_cost=euro("28.20"), length=mm(length))
    return stock.receive(store, Received(item=item, count=count), ACT)


def test_only_what_is_ordered_and_not_cut_is_open_work(store: Store) -> None:
    order_id = ordered(store)
    (piece_id,) = piece_ids(store, order_id)
    assert open_keys(store, piece_id) == KEYS
    progress.move_order(store, order_at(store, order_id), Stage.CUT, ACT)
    assert open_work(store).parts == ()
    progress.take_back(store, order_at(store, order_id), ACT)
    assert open_keys(store, piece_id) == KEYS


def test_open_work_comes_by_due_date_and_can_be_chosen(store: Store) -> None:
    late = ordered(store, due=TODAY + timedelta(days=30))
    soon = ordered(store, due=TODAY + timedelta(days=3))
    some_time = ordered(store, due=None)
    assert [each.ref.order_id for each in open_work(store).pieces] == [soon, late, some_time]
    by_then = WorkFilter(due_by=TODAY + timedelta(days=3))
    assert {part.piece.order_id for part in open_work(store, by_then).parts} == {soon}
    chosen = WorkFilter(pieces=frozenset(piece_ids(store, late)), materials=frozenset({"lin-20"}))
    assert {part.key for part in open_work(store, chosen).parts} == RAIL_KEYS
    assert len(open_work(store, chosen).parts) == 4


def test_a_part_says_in_whose_order_it_is(store: Store) -> None:
    order_id = ordered(store)
    ref = open_work(store).parts[0].piece
    assert (ref.order_id, ref.order_number, ref.number) == (order_id, "2026-0001", 1)
    assert (ref.title, ref.customer) == ("Harbour at dusk", "Amber Quill")


def test_hardware_is_needed_until_a_piece_is_framed(store: Store) -> None:
    order_id = ordered(store)
    assert [(need.material.code, need.quantity) for need in counted_needs(store)] == [("W-1", 1)]
    progress.move_order(store, order_at(store, order_id), Stage.CUT, ACT)
    assert len(counted_needs(store)) == 1
    progress.move_order(store, order_at(store, order_id), Stage.FRAMED, ACT)
    assert counted_needs(store) == ()


def test_a_plan_is_kept_under_its_number_and_reads_back_as_it_was_made(store: Store) -> None:
    ordered(store)
    made = [solved(each) for each in problems_for(store)]
    plan_id = keep_plan(store, made, ACT, solver="packingsolver 0.1")
    plan = plans.get(store, plan_id)
    assert (plan.number, plan.version, plan.stage) == ("P-2026-0001", 1, PlanStage.OPEN)
    assert (plan.by, plan.made_at, plan.solver) == (ACT.who, ACT.now, "packingsolver 0.1")
    assert [section.plan for section in plan.sections] == made
    assert plans.find_by_number(store, "p-2026-0001") == plan_id
    with pytest.raises(NotFound):
        plans.find_by_number(store, "P-2026-0002")
    assert check_database(store) == ()


def test_the_rails_of_one_frame_leave_what_was_worked_by_hand(store: Store) -> None:
    ordered(store)
    (stick,) = stick_plan(store).bins
    assert [laid.length for laid in stick.parts] == [mm(573), mm(573), mm(460), mm(460)]
    assert stick.offcut is not None
    assert stick.offcut.length == mm(900)


def test_what_an_open_plan_holds_is_not_open_and_comes_back_when_it_is_dropped(
    store: Store,
) -> None:
    order_id = ordered(store)
    (piece_id,) = piece_ids(store, order_id)
    plan_id = planned(store)
    work = open_work(store)
    assert work.parts == ()
    assert {each.state for each in work.pieces[0].parts} == {PartState.PLANNED}
    assert problems_for(store) == ()
    assert {part.key for part in held_parts(plans.get(store, plan_id))} == KEYS
    plans.drop_plan(store, PlanAt(id=plan_id, version=1))
    assert open_keys(store, piece_id) == KEYS
    assert plans.get(store, plan_id).stage is PlanStage.DROPPED
    assert unbooked(plans.get(store, plan_id)) == ()
    with pytest.raises(Conflict, match="is deleted"):
        plans.drop_plan(store, PlanAt(id=plan_id, version=2))


def test_a_plan_that_was_changed_meanwhile_is_not_dropped_blindly(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    with pytest.raises(Stale):
        plans.drop_plan(store, PlanAt(id=plan_id, version=7))


def test_whole_sticks_on_the_rack_are_taken_the_oldest_first_and_the_rest_is_to_buy(
    store: Store,
) -> None:
    old = sticks(store, 1)
    # Another lot, so another item of the same length.
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("30.00"),
        length=mm(3000),
        batch="B2",
    )
    young = stock.receive(store, Received(item=item, count=1), ACT)
    ordered(store, piece(), piece(), piece())
    plan = plans.get(store, planned(store, WorkFilter(materials=frozenset({"LIN-20"}))))
    (section,) = plan.sections
    # 12 rails: five of them fit on a stick (2091.5 + 8.5 + 573 = 2673), six do not (+ 8.5 + 460).
    assert section.sources == (old, young, None)
    assert section.to_buy == 1
    assert stock.look(store, old).reserved == 1


def test_offcuts_are_planned_first_and_reserved(store: Store) -> None:
    offcut = Offcut(material="LIN-20", unit_cost=euro("5.00"), length=mm(2100))
    kept = stock.keep_offcut(store, offcut, ACT)
    ordered(store, piece(), piece())
    only = WorkFilter(pieces=frozenset(piece_ids(store, 1)[:1]))
    plan = plans.get(store, planned(store, only))
    (sources,) = [each.sources for each in plan.sections if each.material.code == "LIN-20"]
    assert sources == (kept,)
    again = problem_of(problems_for(store), "LIN-20")
    assert [each.id for each in again.asked.stock] == ["whole"]


def test_what_an_open_plan_was_to_buy_is_its_own_once_it_has_come(store: Store) -> None:
    ordered(store, piece(), piece())
    first, second = piece_ids(store, 1)
    rails = frozenset({"LIN-20"})
    planned(store, WorkFilter(pieces=frozenset({first}), materials=rails))
    sticks(store, 1)
    plan = plans.get(store, planned(store, WorkFilter(pieces=frozenset({second}), materials=rails)))
    assert plan.sections[0].sources == (None,)


def test_a_plan_for_parts_that_somebody_planned_meanwhile_is_not_kept(store: Store) -> None:
    ordered(store)
    made = [solved(each) for each in problems_for(store)]
    keep_plan(store, made, ACT)
    with pytest.raises(Conflict, match="in the meantime"):
        keep_plan(store, made, ACT)
    assert plans.listed(store).total == 1


def test_a_plan_for_a_piece_that_was_changed_meanwhile_is_not_kept(store: Store) -> None:
    order_id = ordered(store)
    made = [stick_plan(store)]
    orders.replace_piece(store, order_at(store, order_id), 1, piece(artwork__size="430 x 297"), ACT)
    with pytest.raises(Conflict, match="in the meantime"):
        keep_plan(store, made, ACT)


def test_a_plan_from_an_offcut_that_was_cut_meanwhile_is_not_kept(store: Store) -> None:
    kept = stock.keep_offcut(
        store, Offcut(material="LIN-20", unit_cost=euro("5.00"), length=mm(2100)), ACT
    )
    ordered(store)
    made = [stick_plan(store)]
    assert made[0].bins[0].stock == f"item-{kept}"
    stock.take(store, kept, Withdrawal(kind=MovementKind.SPOILED, count=1), ACT)
    with pytest.raises(Conflict, match="has changed since"):
        keep_plan(store, made, ACT)


def test_a_plan_for_sticks_that_are_bought_shorter_meanwhile_is_not_kept(store: Store) -> None:
    ordered(store)
    made = [stick_plan(store)]
    with store.reading() as work:
        moulding = work.materials.get("LIN-20")
    assert moulding.value.profile is not None
    shorter = replace(moulding.value, profile=replace(moulding.value.profile, stick=mm(2700)))
    price_book.save(store, "LIN-20", shorter, moulding.version, ACT)
    with pytest.raises(Conflict, match="has changed since"):
        keep_plan(store, made, ACT)


def test_a_plan_that_fails_its_check_is_never_kept(store: Store) -> None:
    ordered(store)
    plan = stick_plan(store)
    (stick,) = plan.bins
    first, second, *rest = stick.parts
    overlapping = replace(stick, parts=(first, replace(second, at=mm(100)), *rest))
    with pytest.raises(Conflict, match="did not pass its check"):
        keep_plan(store, [replace(plan, bins=(overlapping,))], ACT)
    assert plans.listed(store).total == 0


def test_what_fits_nowhere_stays_open_work(store: Store) -> None:
    wide = ordered(store, piece(artwork__size="2900 x 297"))
    (piece_id,) = piece_ids(store, wide)
    # Rails of 2900 − 10 + 12 + 120 + 3 + 28 = 3053 are longer than a stick of 3000, and everything
    # flat is longer than a sheet of 1120; the two short rails of 460 can be cut.
    plan_id = planned(store)
    assert {part.key for part in plans.get(store, plan_id).parts()} == {
        "frame-1.left",
        "frame-1.right",
    }
    assert open_keys(store, piece_id) == KEYS - {"frame-1.left", "frame-1.right"}
    with pytest.raises(Invalid, match="nothing to cut"):
        planned(store)


def test_a_material_that_left_the_book_can_still_be_planned(store: Store) -> None:
    ordered(store)
    with store.reading() as work:
        version = work.materials.get("LIN-20").version
    with store.writing() as work:
        work.materials.remove("LIN-20", version)
    problem = problem_of(problems_for(store), "LIN-20")
    assert not problem.in_book
    plan = plans.get(store, planned(store))
    assert [each.in_book for each in plan.sections if each.material.code == "LIN-20"] == [False]


def test_a_material_that_an_open_plan_is_to_cut_stays_in_the_book(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    with store.reading() as work:
        version = work.materials.get("LIN-20").version
    with pytest.raises(Conflict, match="in an open cutting plan"):
        price_book.remove(store, "LIN-20", version)
    plans.drop_plan(store, PlanAt(id=plan_id, version=1))
    price_book.remove(store, "LIN-20", version)


def test_a_piece_that_is_changed_has_new_parts_open_and_the_plan_says_so(store: Store) -> None:
    order_id = ordered(store)
    (piece_id,) = piece_ids(store, order_id)
    plan_id = planned(store)
    orders.replace_piece(store, order_at(store, order_id), 1, piece(artwork__size="430 x 297"), ACT)
    # 10 wider: both mats, glass, backing and the rails along the width; upright rails stay 460.
    changed = KEYS - {"frame-1.left", "frame-1.right"}
    assert open_keys(store, piece_id) == changed
    stands = {each.part.key: each for each in open_work(store).pieces[0].parts}
    assert stands["mat-1"].otherwise is not None
    assert stands["frame-1.left"].state is PartState.PLANNED
    outdated = plans.look(store, plan_id).outdated
    assert {part.partition("/")[2] for part in outdated} == changed
    assert "was changed since: its mat 1 is another now" in outdated[f"{piece_id}/mat-1"]
    progress.move_order(store, order_at(store, order_id), Stage.CANCELLED, ACT)
    assert "is cancelled" in plans.look(store, plan_id).outdated[f"{piece_id}/frame-1.left"]


def test_two_phones_tick_side_by_side(store: Store) -> None:
    (piece_id,) = piece_ids(store, ordered(store))
    plan_id = planned(store)
    for part in ("frame-1.top", "mat-1"):
        plans.tick_part(store, plan_id, f"{piece_id}/{part}", ACT, ticked=True)
    plans.tick_part(store, plan_id, f"{piece_id}/mat-1", ACT, ticked=True)
    looked = plans.look(store, plan_id)
    assert set(looked.standing.ticked) == {f"{piece_id}/frame-1.top", f"{piece_id}/mat-1"}
    assert len(looked.plan.marks) == 2
    assert looked.plan.version == 1
    plans.tick_part(store, plan_id, f"{piece_id}/mat-1", ACT, ticked=False)
    assert set(plans.look(store, plan_id).standing.ticked) == {f"{piece_id}/frame-1.top"}
    with pytest.raises(NotFound):
        plans.tick_part(store, plan_id, "99/mat-1", ACT, ticked=True)


def test_a_spoiled_part_is_open_again_and_can_be_planned_anew(store: Store) -> None:
    (piece_id,) = piece_ids(store, ordered(store))
    plan_id = planned(store)
    glass = f"{piece_id}/glazing"
    plans.spoil_part(store, plan_id, glass, ACT, note="Broke at the corner")
    assert open_keys(store, piece_id) == {"glazing"}
    with pytest.raises(Conflict, match="already"):
        plans.spoil_part(store, plan_id, glass, ACT)
    plans.take_back_spoiled(store, plan_id, glass, ACT)
    assert open_keys(store, piece_id) == set()
    plans.spoil_part(store, plan_id, glass, ACT)
    second = planned(store)
    assert {part.id for part in plans.get(store, second).parts()} == {glass}
    with pytest.raises(Conflict, match="planned anew in P-2026-0002"):
        plans.take_back_spoiled(store, plan_id, glass, ACT)


def test_glass_that_breaks_when_the_piece_is_cut_long_ago_is_wanted_again(store: Store) -> None:
    order_id = ordered(store)
    (piece_id,) = piece_ids(store, order_id)
    plan_id = planned(store)
    for stage in (Stage.CUT, Stage.FRAMED):
        progress.move_order(store, order_at(store, order_id), stage, ACT)
    assert open_work(store).pieces == ()
    plans.spoil_part(store, plan_id, f"{piece_id}/glazing", ACT, note="Broke when framed")
    assert open_keys(store, piece_id) == {"glazing"}


def test_plans_are_listed_the_newest_first(store: Store) -> None:
    ordered(store, piece(), piece())
    first, second = piece_ids(store, 1)
    one = planned(store, WorkFilter(pieces=frozenset({first})))
    two = planned(store, WorkFilter(pieces=frozenset({second}), materials=frozenset({"LIN-20"})))
    plans.drop_plan(store, PlanAt(id=one, version=1))
    listed = plans.listed(store)
    assert [each.id for each in listed.rows] == [two, one]
    newest = listed.rows[0]
    assert (newest.number, newest.parts, newest.bins, newest.booked) == ("P-2026-0002", 4, 1, 0)
    assert newest.materials == ("LIN-20",)
    opened = plans.listed(store, frozenset({PlanStage.OPEN}))
    assert [each.id for each in opened.rows] == [two]


def test_a_place_in_a_plan_that_is_not_there_is_not_found(store: Store) -> None:
    ordered(store)
    plan = plans.get(store, planned(store))
    assert plan.section(1).material.code == "B-3"
    for at in (BinAt(section=9, bin=1), BinAt(section=1, bin=2), BinAt(section=0, bin=0)):
        with pytest.raises(NotFound):
            plan.opened(at)


def test_open_work_needs_an_order(store: Store) -> None:
    assert open_work(store, ALL_WORK).pieces == ()
    assert problems_for(store) == ()
    assert Size(mm(542), mm(429)) not in [part.size for part in open_work(store).parts]


def test_it_is_said_of_each_piece_how_it_stands_with_its_materials(store: Store) -> None:
    sticks(store, 1)
    ordered(store, piece(), piece())
    first, second = piece_ids(store, 1)
    found = states_of_materials(store)
    # One stick holds the first frame and one rail of the second; of sheets there is none.
    assert found[first]["LIN-20"] is MaterialState.IN_HAND
    assert found[second]["LIN-20"] is MaterialState.TO_BUY
    assert found[first]["M-101"] is MaterialState.TO_BUY
    planned(store, WorkFilter(pieces=frozenset({first}), materials=frozenset({"LIN-20"})))
    assert states_of_materials(store)[first]["LIN-20"] is MaterialState.PLANNED
    (draft,) = buying.make_orders(store, [ToOrder(material="LIN-20", quantity=2)], ACT)
    assert states_of_materials(store)[second]["LIN-20"] is MaterialState.TO_BUY
    buying.send(store, SupplierOrderAt(id=draft, version=buying.get(store, draft).version), ACT)
    assert states_of_materials(store)[second]["LIN-20"] is MaterialState.ON_ORDER
