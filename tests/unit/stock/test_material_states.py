"""In hand, on order, to buy: by hand, for frames that take 2 × 630 + 2 × 530 + 3 × 8.5 = 2345.5 mm."""

from collections.abc import Mapping

from app.lengths import Size, mm
from app.orders import Stage
from app.stock.material_states import MaterialState, Queue, Whole, material_states
from app.stock.planning.open_work import PartInPlan, PieceInWork, parts_standing
from app.stock.planning.parts import parts_to_cut
from app.stock.planning.plans import BinAt, PlanStage
from app.stock.planning.problems import OnRack, problems_of
from tests.builders.in_work import by_code, made, ref, sheet, stick
from tests.builders.worked import BOOK, SHOP

AGREED, CUT = made()
IN_HAND, ON_ORDER, TO_BUY = MaterialState.IN_HAND, MaterialState.ON_ORDER, MaterialState.TO_BUY


def held(piece_id: int, plan_id: int, *, to_buy: bool, booked: bool = False) -> list[PartInPlan]:
    """The rails of a piece in a plan, all on its first stick."""
    return [
        PartInPlan(
            plan_id=plan_id,
            plan_number=f"P-{plan_id}",
            plan_stage=PlanStage.OPEN,
            at=BinAt(section=1, bin=1),
            part=part.id,
            what=part.what,
            to_buy=to_buy,
            booked=booked,
        )
        for part in parts_to_cut(ref(piece_id), AGREED, CUT)
        if part.material.code == "LIN-20"
    ]


def piece(piece_id: int, *in_plans: PartInPlan, stage: Stage = Stage.ORDERED) -> PieceInWork:
    parts = parts_standing(parts_to_cut(ref(piece_id), AGREED, CUT), stage, in_plans)
    return PieceInWork(ref=ref(piece_id), stage=stage, parts=parts)


def states(
    pieces: list[PieceInWork], *rack: OnRack, code: str = "LIN-20", **supply: Whole
) -> Mapping[int, MaterialState]:
    parts = [part for each in pieces for part in each.open_parts]
    problems = problems_of(parts, by_code(*BOOK), rack, SHOP)
    known = {name.replace("_", "-"): whole for name, whole in supply.items()}
    return {id: each[code] for id, each in material_states(pieces, problems, known).items()}


def test_the_piece_that_is_due_first_has_the_stick_that_is_there() -> None:
    pieces = [piece(8), piece(3), piece(5)]
    # A stick of 3000 holds one frame and one rail more; a second one comes for the second frame.
    found = states(pieces, stick(1, mm(3000), whole=True), LIN_20=Whole(free=1, on_order=1))
    assert found == {8: IN_HAND, 3: ON_ORDER, 5: TO_BUY}


def test_with_nothing_on_the_rack_everything_is_to_buy() -> None:
    assert states([piece(8)]) == {8: TO_BUY}


def test_an_offcut_that_holds_a_frame_is_in_hand() -> None:
    assert states([piece(8), piece(3)], stick(1, mm(2346))) == {8: IN_HAND, 3: TO_BUY}
    assert states([piece(8)], stick(1, mm(2345))) == {8: TO_BUY}


def test_sheets_are_in_hand_by_what_fits_on_them() -> None:
    pieces = [piece(id) for id in (1, 2, 3, 4, 5)]
    # Two blanks of 600 × 500 lie side by side on 1200 × 1000, and two under them.
    found = states(pieces, sheet(1, Size(mm(1200), mm(1000)), whole=True), code="M-101")
    assert found == {1: IN_HAND, 2: IN_HAND, 3: IN_HAND, 4: IN_HAND, 5: TO_BUY}


def test_what_a_plan_takes_from_the_rack_is_planned_and_what_it_booked_is_cut() -> None:
    pieces = [
        piece(8, *held(8, 1, to_buy=False)),
        piece(3, *held(3, 2, to_buy=True, booked=True)),
        piece(5, stage=Stage.CUT),
    ]
    assert states(pieces) == {8: MaterialState.PLANNED, 3: MaterialState.CUT, 5: MaterialState.CUT}


def test_plans_that_wait_for_sticks_come_before_open_pieces() -> None:
    pieces = [piece(9), piece(8, *held(8, 2, to_buy=True)), piece(3, *held(3, 1, to_buy=True))]
    # One has come since, and is the older plan's; one is on order, and is the younger one's. Nothing is
    # left of either for the open piece. (The rack that is offered is without what plans have a claim on.)
    found = states(pieces, LIN_20=Whole(free=1, on_order=1))
    assert found == {9: TO_BUY, 8: ON_ORDER, 3: MaterialState.PLANNED}
    assert states(pieces) == {9: TO_BUY, 8: TO_BUY, 3: TO_BUY}
    found = states(pieces, LIN_20=Whole(free=0, on_order=3))
    assert found == {9: ON_ORDER, 8: ON_ORDER, 3: ON_ORDER}


def test_a_record_below_zero_is_nothing_on_the_rack() -> None:
    pieces = [piece(3, *held(3, 1, to_buy=True))]
    assert states(pieces, LIN_20=Whole(free=-4, on_order=1)) == {3: ON_ORDER}


def test_more_than_there_is_length_for_is_not_tried_and_all_that_fits_is_found() -> None:
    """Of six frames of 2345.5 mm each, three sticks of 3000 hold three, though 9000 mm are 3.8 of them."""
    pieces = [piece(id) for id in range(1, 7)]
    found = states(pieces, *(stick(id, mm(3000), whole=True) for id in (1, 2, 3)))
    assert [found[id] for id in range(1, 7)] == [IN_HAND] * 3 + [TO_BUY] * 3


def test_a_queue_is_answered_by_who_has_answered_it_before() -> None:
    """The same parts on the same rack are one question, whatever else is written meanwhile."""
    pieces = [piece(8)]
    parts = [part for each in pieces for part in each.open_parts]
    asked: list[Queue] = []

    def states_of(queue: Queue) -> Mapping[str, MaterialState]:
        asked.append(queue)
        return dict.fromkeys((id for ids in queue.waiting for id in ids), ON_ORDER)

    for _ in range(2):
        problems = problems_of(parts, by_code(*BOOK), [stick(1, mm(3000), whole=True)], SHOP)
        found = material_states(pieces, problems, {}, states_of)
        assert set(found[8].values()) == {ON_ORDER}
    first, again = asked[: len(asked) // 2], asked[len(asked) // 2 :]
    assert len(first) == len(set(first))
    assert set(first) == set(again)
