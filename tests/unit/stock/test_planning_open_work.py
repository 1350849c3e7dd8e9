"""How it stands with a part, by what plans did with it and by where its piece stands."""

from dataclasses import replace

import pytest

from app.orders import Stage
from app.stock.planning.open_work import (
    PartInPlan,
    PartStands,
    PartState,
    PieceInWork,
    parts_standing,
)
from app.stock.planning.parts import parts_to_cut
from app.stock.planning.plans import BinAt, PlanStage
from tests.builders.in_work import REF, made

PART = parts_to_cut(REF, *made())[0]
HELD = PartInPlan(
    plan_id=1,
    plan_number="P-2026-0001",
    plan_stage=PlanStage.OPEN,
    at=BinAt(section=1, bin=1),
    part=PART.id,
    what=PART.what,
)
CUT = replace(HELD, booked=True)
DROPPED = replace(HELD, plan_stage=PlanStage.DROPPED)
SPOILED = replace(CUT, spoiled=True)
AGAIN = replace(HELD, plan_id=2, plan_number="P-2026-0002")


def stands(*in_plans: PartInPlan, stage: Stage = Stage.ORDERED) -> PartStands:
    return parts_standing([PART], stage, in_plans)[0]


@pytest.mark.parametrize(
    ("in_plans", "state"),
    [
        ((), PartState.OPEN),
        ((HELD,), PartState.PLANNED),
        ((CUT,), PartState.CUT),
        ((DROPPED,), PartState.OPEN),
        ((replace(DROPPED, booked=True),), PartState.CUT),
        ((replace(HELD, spoiled=True),), PartState.OPEN),
        ((SPOILED,), PartState.OPEN),
        ((SPOILED, AGAIN), PartState.PLANNED),
        ((SPOILED, replace(AGAIN, booked=True)), PartState.CUT),
        ((DROPPED, AGAIN), PartState.PLANNED),
    ],
)
def test_a_part_of_an_ordered_piece_is_where_plans_have_it(
    in_plans: tuple[PartInPlan, ...], state: PartState
) -> None:
    assert stands(*in_plans).state is state


@pytest.mark.parametrize("stage", [Stage.CUT, Stage.FRAMED, Stage.COLLECTED])
def test_a_piece_moved_on_by_hand_is_cut_but_for_what_was_spoiled(stage: Stage) -> None:
    assert stands(stage=stage).state is PartState.CUT
    assert stands(HELD, stage=stage).state is PartState.CUT
    assert stands(SPOILED, stage=stage).state is PartState.OPEN
    assert stands(SPOILED, AGAIN, stage=stage).state is PartState.PLANNED


def test_a_part_of_another_size_is_another_part() -> None:
    other = replace(HELD, what="M-101 400 × 300")
    found = stands(other)
    assert (found.state, found.otherwise) == (PartState.OPEN, other)
    assert stands(replace(other, spoiled=True)).otherwise is None


def test_it_says_which_plan_and_whether_one_was_spoiled() -> None:
    found = stands(SPOILED, AGAIN)
    assert found.by == AGAIN
    assert found.spoiled


def test_a_piece_is_all_cut_when_every_part_is() -> None:
    piece = PieceInWork(ref=REF, stage=Stage.ORDERED, parts=(stands(CUT),))
    assert piece.all_cut
    assert piece.open_parts == ()
    assert PieceInWork(ref=REF, stage=Stage.ORDERED, parts=(stands(),)).open_parts == (PART,)
