"""What the solver is asked for, and that nothing it may do stops a plan."""

import sys
from fractions import Fraction
from itertools import pairwise

import pytest

from app.cutting import Sheet, SheetPart, SheetProblem
from app.cutting.sheets.cut_tree import Slab
from app.cutting.sheets.drafts import Draft, DraftSheet, placed_in
from app.cutting.sheets.solver import (
    MOST_TICKS,
    Aim,
    SheetRun,
    SolveSheets,
    draft_from,
    solver_costs,
    with_library,
)
from app.cutting.sheets.task import exact_task, small_task
from app.lengths import Size, Unit, mm
from tests.cases.sheets import NEW, asked_for, size


def run_of(asked: SheetProblem, *, aim: Aim = Aim.CHEAPEST, stages: int = 3) -> SheetRun:
    return SheetRun(task=small_task(asked, MOST_TICKS), aim=aim, stages=stages, seconds=0.2)


FOUR = SheetPart(id="M", size=size(400, 500), copies=4)


@pytest.mark.parametrize("aim", [Aim.CHEAPEST, Aim.IN_ORDER, Aim.LARGEST_REST])
def test_the_library_gives_a_whole_draft(aim: Aim) -> None:
    draft = with_library(run_of(asked_for(FOUR), aim=aim))
    assert draft is not None
    assert placed_in(draft) == {0: 4}
    assert len(draft) == 1  # by hand: two by two, turned


def test_the_most_parts_are_placed_where_there_is_no_room_for_all() -> None:
    # By hand: of 900 × 900 and nine of 300 × 300 one sheet holds the one or the nine.
    sheet = Sheet(id="s", size=size(900, 900), copies=1)
    parts = (
        SheetPart(id="large", size=size(900, 900)),
        SheetPart(id="small", size=size(300, 300), copies=9),
    )
    draft = with_library(run_of(asked_for(*parts, stock=[sheet]), aim=Aim.MOST))
    assert draft is not None
    assert placed_in(draft) == {1: 9}


def test_the_fullest_sheet_is_filled_by_area() -> None:
    # By hand: the one of 900 × 850 takes 0.765 m² of the sheet, six of 300 × 300 only 0.54 m².
    sheet = Sheet(id="s", size=size(900, 900), copies=1)
    parts = (
        SheetPart(id="large", size=size(900, 850)),
        SheetPart(id="small", size=size(300, 300), copies=6),
    )
    draft = with_library(run_of(asked_for(*parts, stock=[sheet]), aim=Aim.FULLEST))
    assert draft is not None
    assert placed_in(draft) == {0: 1}


def test_the_library_absent_gives_no_draft(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "packingsolver", None)
    assert draft_from(None, run_of(asked_for(FOUR))) is None


def raising(run: SheetRun) -> Draft | None:
    raise RuntimeError("out of order")


def finding_nothing(run: SheetRun) -> Draft | None:
    return None


@pytest.mark.parametrize("solve", [raising, finding_nothing])
def test_a_solver_that_fails_gives_no_draft(solve: SolveSheets) -> None:
    assert draft_from(solve, run_of(asked_for(FOUR))) is None


def test_a_solver_is_told_the_task() -> None:
    run = run_of(asked_for(FOUR), stages=2)
    block = Slab(width=1, height=1, part=0)

    def solve(told: SheetRun) -> Draft:
        assert told is run
        return (DraftSheet(offer=told.task.offers[0], block=block),)

    assert draft_from(solve, run) == (DraftSheet(offer=run.task.offers[0], block=block),)


def costs_of(*stock: Sheet) -> tuple[Fraction, ...]:
    return solver_costs(exact_task(asked_for(FOUR, stock=stock)))


def owned(width: int, height: int, copies: int = 1) -> Sheet:
    return Sheet(id=f"{width}x{height}", size=size(width, height), copies=copies, cost=Fraction(0))


def test_an_owned_sheet_counts_as_a_tenth_of_its_area_of_a_new_one() -> None:
    # By hand: half the area of the new sheet, so a twentieth of its cost.
    assert costs_of(NEW, owned(560, 815)) == (1, Fraction(1, 20))


def test_owned_sheets_together_count_less_than_the_smallest_step_of_costs() -> None:
    # By hand: of 9.6 and 12 the step is 2.4, so they cost 4 and 5; twelve owned halves would come to
    # 12 × 5 / 20 = 3 and have to share a half.
    costs = costs_of(
        Sheet(id="a", size=size(900, 815), cost=Fraction("9.6")),
        Sheet(id="b", size=size(1120, 815), cost=Fraction(12)),
        owned(560, 815, copies=4),
        owned(815, 560, copies=4),
        owned(280, 1630, copies=4),
    )
    assert costs[:2] == (4, 5)
    assert sum(cost * 4 for cost in costs[2:]) <= Fraction(1, 2)
    assert all(one > 0 for one in costs)


def test_larger_owned_sheets_count_more() -> None:
    costs = costs_of(owned(300, 300), owned(400, 400), owned(500, 500))
    assert all(one < other for one, other in pairwise(costs))


def test_awkward_lengths_come_as_small_numbers_that_hold() -> None:
    third = Size(mm(Fraction(1001, 3)), mm(Fraction(707, 7)))
    asked = SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="new", size=Size(mm(Fraction(1120003, 1000)), mm(Fraction(815011, 999)))),),
        parts=(SheetPart(id="P", size=third, copies=3),),
        kerf=mm(Fraction(1, 7)),
    )
    task = small_task(asked, MOST_TICKS)
    (offer,), (wanted,) = task.offers, task.wanted
    assert max(offer.width, offer.height) <= MOST_TICKS + task.ticks.up(asked.kerf)
    assert task.ticks.length(wanted.width) >= third.width + asked.kerf
    assert task.ticks.length(offer.width) <= asked.stock[0].size.width + asked.kerf
