"""Laws of plans for sheets, on random questions."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.cutting import Maker, Sheet, SheetCut, SheetPart, SheetPlan, SheetProblem, Way
from app.cutting.checker import faults_of_sheet_plan
from app.cutting.sheets.bound import lower_bound
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sheets.solver import SheetRun
from app.cutting.sheets.task import exact_task
from app.lengths import ZERO, Length, Size, Unit, inches, mm
from app.services.cutting import planned

STEP = {Unit.MM: mm("0.5"), Unit.IN: inches("1/16")}


@st.composite
def questions(draw: st.DrawFn) -> SheetProblem:
    """One to four kinds of sheets, one to eight of parts, some of which may fit nowhere."""
    chance = draw(st.randoms(use_true_random=False))
    unit = chance.choice(list(Unit))
    return SheetProblem(
        unit=unit,
        stock=tuple(_sheet(chance, unit, number) for number in range(chance.randint(1, 4))),
        parts=tuple(_part(chance, unit, number) for number in range(chance.randint(1, 8))),
        kerf=STEP[unit] * chance.choice((0, 0, 1, 6)),
        trim=STEP[unit] * chance.choice((0, 0, 4, 10)),
        stages=chance.choice((2, 3, 3, 4, 5, None)),
        keep=chance.choice((None, Size(STEP[unit] * 100, STEP[unit] * 150))),
    )


def _sheet(chance: Random, unit: Unit, number: int) -> Sheet:
    return Sheet(
        id=f"s{number}",
        size=_size(chance, unit, 300, 1000),
        copies=chance.choice((None, 1, 2, 3)),
        cost=Fraction(chance.choice(("0", "1", "1.5", "2.4"))),
    )


def _part(chance: Random, unit: Unit, number: int) -> SheetPart:
    return SheetPart(
        id=f"p{number}",
        size=_size(chance, unit, 50, chance.choice((200, 500, 1000))),
        copies=chance.randint(1, 4),
        turn=chance.random() < 0.7,
    )


def _size(chance: Random, unit: Unit, least: int, most: int) -> Size:
    return Size(STEP[unit] * chance.randint(least, most), STEP[unit] * chance.randint(least, most))


def no_answer(run: SheetRun) -> None:
    return None


@given(asked=questions())
def test_a_simple_plan_is_without_fault_and_not_below_its_bound(asked: SheetProblem) -> None:
    plan = simple_sheet_plan(asked)
    assert not faults_of_sheet_plan(plan)
    assert 0 <= plan.lower_bound <= plan.cost
    assert plan.maker is Maker.SIMPLE


@given(asked=questions())
def test_without_a_solver_the_plan_is_the_simple_one(asked: SheetProblem) -> None:
    assert plan_sheets(asked, 1, solve=no_answer) == simple_sheet_plan(asked)


@pytest.mark.slow
@settings(max_examples=40)
@given(asked=questions())
def test_the_best_plan_is_without_fault_and_costs_no_more_than_the_simple_one(
    asked: SheetProblem,
) -> None:
    # A second in whole: each run of the solver then takes a few tenths, or less where it is sure.
    plan, simple = planned(asked, 1), simple_sheet_plan(asked)
    assert not faults_of_sheet_plan(plan)
    assert (_left_out(plan), plan.cost) <= (_left_out(simple), simple.cost)
    assert plan.lower_bound <= plan.cost


def _left_out(plan: SheetPlan) -> int:
    return sum(each.copies for each in plan.unplaced)


@given(asked=questions())
def test_width_and_height_exchanged_cost_the_same(asked: SheetProblem) -> None:
    exchanged = replace(
        asked,
        stock=tuple(replace(each, size=each.size.turned()) for each in asked.stock),
        parts=tuple(replace(each, size=each.size.turned()) for each in asked.parts),
    )
    one, other = simple_sheet_plan(asked), simple_sheet_plan(exchanged)
    assert (one.cost, _left_out(one)) == (other.cost, _left_out(other))


@given(asked=questions())
def test_parts_kerfs_trims_and_rests_make_up_the_sheet(asked: SheetProblem) -> None:
    # Every rest is kept here, so that nothing is lost but what cuts and trims take.
    asked = replace(asked, keep=None)
    sheets = {sheet.id: sheet for sheet in asked.stock}
    for opened in simple_sheet_plan(asked).bins:
        usable = asked.usable(sheets[opened.stock])
        edges = (asked.trim, asked.trim + usable.width, asked.trim, asked.trim + usable.height)
        kerfs = [_kerf_of(cut, asked.kerf, edges) for cut in opened.cuts if cut.stage]
        freed = [*(part.size for part in opened.parts), *(rest.size for rest in opened.offcuts)]
        held = sum((each.area_m2 for each in freed), Fraction(0))
        assert held + _area_m2(kerfs) == usable.area_m2


type Corners = tuple[Length, Length, Length, Length]
"""Left, right, top, bottom."""


def _kerf_of(cut: SheetCut, kerf: Length, edges: Corners) -> Corners:
    """What a cut takes away, as far as it is on the sheet."""
    _, right, _, bottom = edges
    if cut.way is Way.ACROSS:
        return (cut.start, cut.end, cut.at, min(cut.at + kerf, bottom))
    return (cut.at, min(cut.at + kerf, right), cut.start, cut.end)


def _area_m2(taken: Sequence[Corners]) -> Fraction:
    """The area of all together; where two lie on one another it counts once."""
    area = Fraction(0)
    sides = sorted({side for left, right, _, _ in taken for side in (left, right)})
    for left, right in pairwise(sides):
        reached, tall = ZERO, ZERO
        for _, _, top, bottom in sorted(
            (each for each in taken if each[0] <= left and right <= each[1]),
            key=lambda each: each[2],
        ):
            tall += max(bottom - max(top, reached), ZERO)
            reached = max(reached, bottom)
        area += Size(right - left, tall).area_m2
    return area


@given(asked=questions())
def test_a_bound_for_fewer_parts_is_not_above_a_plan_for_all(
    asked: SheetProblem,
) -> None:
    # A bound that holds for parts holds for more of them: leaving one kind out cannot make the best
    # plan dearer, so no bound for fewer is above the cost of a plan for all.
    plan = simple_sheet_plan(asked)
    task = exact_task(asked)
    if plan.unplaced or len(task.wanted) < 2:
        return
    fewer = {each.index: each.copies for each in task.wanted[1:]}
    assert lower_bound(task.only(fewer)) <= plan.cost
