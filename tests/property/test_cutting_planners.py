"""Whatever is asked, the planners' real plans are proven by the checker that does not know them (C4).

Odd lengths, scarce stock, thick blades, parts that fit nowhere: the rough of the trade and beyond it.
"""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.cutting import (
    Sheet,
    SheetPart,
    SheetPlan,
    SheetProblem,
    Stick,
    StickPart,
    StickPlan,
    StickProblem,
    Together,
)
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.sheets.simple import settled_sheet_plan, simple_sheet_plan
from app.cutting.sticks.simple import settled_stick_plan, simple_stick_plan
from app.lengths import Length, Size, Unit, mm
from app.services.cutting import planned
from app.services.cutting_messages import ANSWER

FEW = settings(max_examples=15, suppress_health_check=list(HealthCheck))
"""Each example may take the solver a second, in a process of its own: it is not our code, and crashes on rare
questions, which must end in a plan all the same."""

GRIDS = (
    Fraction(1),
    Fraction(1, 2),
    Fraction(1, 10),
    Fraction(1, 32),
    Fraction(1, 3),
    Fraction(1, 97),
)
"""Steps of a unit that lengths are given in; thirds and worse are no step of any scale."""


class _Rough:
    """Lengths in the unit of a question, some of them whole, some not."""

    def __init__(self, chance: Random, unit: Unit) -> None:
        self.chance, self.unit = chance, unit
        self.grid = chance.choice(GRIDS)
        self.scale = Fraction(1) if unit is Unit.MM else Fraction(10, 254)

    def length(self, least_mm: int, most_mm: int) -> Length:
        mm = self.chance.randint(least_mm, most_mm)
        return Length.of(max(round(mm * self.scale / self.grid), 1) * self.grid, self.unit)

    def or_zero(self, most_mm: int) -> Length:
        return Length.of(0, self.unit) if self.chance.random() < 0.4 else self.length(1, most_mm)

    def size(self, least_mm: int, most_mm: int) -> Size:
        return Size(self.length(least_mm, most_mm), self.length(least_mm, most_mm))

    def copies(self, most: int) -> int | None:
        return self.chance.choice((None, self.chance.randint(1, most)))

    def cost(self) -> Fraction:
        return self.chance.choice((Fraction(0), Fraction(1), Fraction(24_50, 100), Fraction(7, 3)))


@st.composite
def rough_sticks(draw: st.DrawFn) -> StickProblem:
    chance = draw(st.randoms(use_true_random=False))
    rough = _Rough(chance, chance.choice(list(Unit)))
    return StickProblem(
        unit=rough.unit,
        stock=tuple(
            Stick(
                id=f"s{i}",
                length=rough.length(200, 3000),
                copies=rough.copies(3),
                cost=rough.cost(),
            )
            for i in range(chance.randint(0, 4))
        ),
        parts=tuple(
            StickPart(
                id=f"p{i}",
                length=rough.length(50, 1600),
                copies=chance.randint(1, 4),
                group=chance.choice(("", "g", "h", "i")),
            )
            for i in range(chance.randint(0, 9))
        ),
        kerf=rough.or_zero(20),
        end_trim=rough.or_zero(60),
        keep=rough.or_zero(400),
        together=chance.choice(list(Together)),
    )


@st.composite
def rough_sheets(draw: st.DrawFn) -> SheetProblem:
    chance = draw(st.randoms(use_true_random=False))
    rough = _Rough(chance, chance.choice(list(Unit)))
    return SheetProblem(
        unit=rough.unit,
        stock=tuple(
            Sheet(id=f"s{i}", size=rough.size(200, 1500), copies=rough.copies(3), cost=rough.cost())
            for i in range(chance.randint(0, 4))
        ),
        parts=tuple(
            SheetPart(
                id=f"p{i}",
                size=rough.size(40, 700),
                copies=chance.randint(1, 4),
                turn=chance.random() < 0.6,
                group=chance.choice(("", "g")),
            )
            for i in range(chance.randint(0, 8))
        ),
        kerf=rough.or_zero(15),
        trim=rough.or_zero(40),
        stages=chance.choice((2, 3, 4, 5, None)),
        keep=chance.choice((None, rough.size(30, 300))),
    )


@given(rough_sticks())
def test_every_simple_plan_for_sticks_is_proven(asked: StickProblem) -> None:
    plan = simple_stick_plan(asked)
    assert faults_of_stick_plan(plan) == ()
    assert plan.asked == asked
    assert ANSWER.read(ANSWER.write(plan)) == plan
    settled = settled_stick_plan(asked)
    if settled is not None:
        assert settled == replace(plan, lower_bound=settled.cost)
        assert faults_of_stick_plan(settled) == ()


@given(rough_sheets())
def test_every_simple_plan_for_sheets_is_proven(asked: SheetProblem) -> None:
    plan = simple_sheet_plan(asked)
    assert faults_of_sheet_plan(plan) == ()
    assert plan.asked == asked
    assert ANSWER.read(ANSWER.write(plan)) == plan
    settled = settled_sheet_plan(asked)
    if settled is not None:
        assert settled == replace(plan, lower_bound=settled.cost)
        assert faults_of_sheet_plan(settled) == ()


def test_a_rail_of_a_frame_without_a_stick_lies_on_one_that_is_left() -> None:
    """By hand: one stick of 100 and one of 60. The frame of 34 + 33 + 33 fills the first whole; of the other,
    61 + 30 = 91, the rail of 30 still lies on the second, and 61 on none."""
    asked = StickProblem(
        unit=Unit.MM,
        stock=(
            Stick(id="long", length=mm(100), copies=1),
            Stick(id="short", length=mm(60), copies=1),
        ),
        parts=(
            StickPart(id="a", length=mm(34), group="g"),
            StickPart(id="b", length=mm(33), copies=2, group="g"),
            StickPart(id="c", length=mm(61), group="h"),
            StickPart(id="d", length=mm(30), group="h"),
        ),
        together=Together.PREFERRED,
    )
    plan = simple_stick_plan(asked)
    assert faults_of_stick_plan(plan) == ()
    assert _left_out(plan) == {"c": 1}


@pytest.mark.slow
@FEW
@given(rough_sticks())
def test_every_plan_for_sticks_is_proven_and_no_dearer_than_the_simple_one(
    asked: StickProblem,
) -> None:
    plan, simple = planned(asked, 1), simple_stick_plan(asked)
    assert faults_of_stick_plan(plan) == ()
    if _left_out(plan) == _left_out(simple) and asked.together is not Together.ALWAYS:
        assert plan.cost <= simple.cost


@pytest.mark.slow
@FEW
@given(rough_sheets())
def test_every_plan_for_sheets_is_proven_and_no_dearer_than_the_simple_one(
    asked: SheetProblem,
) -> None:
    plan, simple = planned(asked, 1), simple_sheet_plan(asked)
    assert faults_of_sheet_plan(plan) == ()
    if _left_out(plan) == _left_out(simple):
        assert plan.cost <= simple.cost


def _left_out(plan: StickPlan | SheetPlan) -> dict[str, int]:
    return {each.id: each.copies for each in plan.unplaced}
