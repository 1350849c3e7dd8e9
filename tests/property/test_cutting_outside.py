"""Planners and bounds held to what others find: HiGHS for sticks, every way of cutting for sheets (C6)."""

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.cutting import (
    Sheet,
    SheetPart,
    SheetProblem,
    Stick,
    StickPart,
    StickProblem,
    Together,
)
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.sheets import bound as bound_sheets
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import Length, Size, Unit, mm
from app.services.cutting import planned
from tests.property.cutting_exact import EdgeToEdge, Oblong, least_cost_of_sticks

FEW = settings(max_examples=25, suppress_health_check=list(HealthCheck))
"""Each example may take the solver a second, in a process of its own as in the app."""


@st.composite
def small_sticks(draw: st.DrawFn) -> StickProblem:
    """Up to nine parts, one or two lengths to be bought, up to two owned sticks."""
    kerf, trim = draw(st.sampled_from((0, 3))), draw(st.sampled_from((0, 2)))
    long = draw(st.integers(80, 120))
    short = draw(st.integers(40, 79))
    owned = draw(st.lists(st.integers(20, 90), max_size=2))
    stock = [Stick(id="long", length=mm(long), cost=Fraction(draw(st.integers(3, 5))))]
    if draw(st.booleans()):
        stock.append(Stick(id="short", length=mm(short), cost=Fraction(draw(st.integers(1, 3)))))
    stock += [
        Stick(id=f"o{i}", length=mm(length), copies=1, cost=Fraction(0))
        for i, length in enumerate(owned)
    ]
    parts = draw(st.lists(st.integers(5, 70), min_size=1, max_size=9))
    return StickProblem(
        unit=Unit.MM,
        stock=tuple(stock),
        parts=tuple(
            StickPart(id=f"p{i}", length=mm(length), group=draw(st.sampled_from(("", "g", "h"))))
            for i, length in enumerate(parts)
        ),
        kerf=mm(kerf),
        end_trim=mm(trim),
        together=draw(st.sampled_from((Together.NO_MATTER, Together.PREFERRED))),
    )


def _whole(length: Length) -> int:
    assert length.mm.denominator == 1
    return int(length.mm)


def _exact_sticks(asked: StickProblem) -> int:
    """Each kind of new stick is there as often as there are parts."""
    bars = [
        (_whole(asked.usable(stick)), int(stick.cost))
        for stick in asked.stock
        for _ in range(len(asked.parts) if stick.copies is None else stick.copies)
    ]
    return least_cost_of_sticks(
        bars, [_whole(part.length) for part in asked.parts], _whole(asked.kerf)
    )


@pytest.mark.slow
@FEW
@given(small_sticks())
def test_a_plan_for_sticks_costs_what_highs_finds_the_least(asked: StickProblem) -> None:
    exact = _exact_sticks(asked)
    plan, simple = planned(asked, 1), simple_stick_plan(asked)
    assert faults_of_stick_plan(plan) == faults_of_stick_plan(simple) == ()
    assert plan.unplaced == simple.unplaced == ()
    assert plan.cost == exact
    assert plan.lower_bound <= exact
    assert simple.lower_bound <= exact <= simple.cost


@st.composite
def small_sheets(draw: st.DrawFn) -> SheetProblem:
    """Up to five parts of a size that two to four lie on a sheet, and perhaps an owned sheet."""
    kerf, trim = draw(st.sampled_from((0, 2))), draw(st.sampled_from((0, 3)))
    stock = [Sheet(id="new", size=_size(110, 90), cost=Fraction(2))]
    if draw(st.booleans()):
        owned = _size(draw(st.integers(30, 80)), draw(st.integers(30, 80)))
        stock.append(Sheet(id="o", size=owned, copies=1, cost=Fraction(0)))
    sides = st.tuples(st.integers(15, 75), st.integers(15, 75))
    parts = draw(st.lists(sides, min_size=1, max_size=5))
    return SheetProblem(
        unit=Unit.MM,
        stock=tuple(stock),
        parts=tuple(
            SheetPart(id=f"p{i}", size=_size(*each), turn=draw(st.booleans()))
            for i, each in enumerate(parts)
        ),
        kerf=mm(kerf),
        trim=mm(trim),
        stages=draw(st.sampled_from((2, 3, 4, None))),
        keep=_size(20, 20),
    )


def _size(width: int, height: int) -> Size:
    return Size(mm(width), mm(height))


def _exact_sheets(asked: SheetProblem) -> int:
    def sides(size: Size) -> tuple[int, int]:
        return _whole(size.width), _whole(size.height)

    ways = EdgeToEdge(
        tuple(Oblong(*sides(part.size), part.turn) for part in asked.parts),
        _whole(asked.kerf),
        asked.stages,
    )
    new, *owned = (sides(asked.usable(sheet)) for sheet in asked.stock)
    return ways.least_cost((new, int(asked.stock[0].cost)), owned[0] if owned else None)


@pytest.mark.slow
@FEW
@given(small_sheets())
def test_a_plan_for_sheets_lies_between_its_bound_and_the_simple_one(asked: SheetProblem) -> None:
    """What is proven: bound ≤ the least of all ways of cutting ≤ the plan's cost ≤ the simple plan's."""
    exact = _exact_sheets(asked)
    plan, simple = planned(asked, 1), simple_sheet_plan(asked)
    assert faults_of_sheet_plan(plan) == faults_of_sheet_plan(simple) == ()
    assert plan.unplaced == simple.unplaced == ()
    assert plan.lower_bound <= exact <= plan.cost <= simple.cost
    assert simple.lower_bound <= exact


@pytest.mark.slow
@FEW
@given(small_sheets())
def test_the_loose_bound_for_very_many_kinds_is_not_above_the_least_cost(
    asked: SheetProblem,
) -> None:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(bound_sheets, "_MOST_SEARCHED", 0)
        assert simple_sheet_plan(asked).lower_bound <= _exact_sheets(asked)


def test_every_way_of_cutting_finds_three_of_a_pinwheel_and_not_four() -> None:
    """By hand: three parts of 60 by 40 lie as two rows, 60 + 40 turned beside and one below; four lie around
    a hole, but no straight line across misses them all."""
    four = (Oblong(60, 40, turn=True),) * 4
    ways = EdgeToEdge(four, kerf=0, stages=None)
    assert ways.fit((100, 100), frozenset((0, 1, 2)))
    assert not ways.fit((100, 100), frozenset((0, 1, 2, 3)))


def test_every_way_of_cutting_counts_kerf_and_stages() -> None:
    """By hand: two of 40 by 60 turned to 60 by 40 stand in a row of 82 with a kerf of 2, not in 81. With
    a strip of 30 by 62 beside, cut first, and one of 30 by 20 above it: down, then across on each
    side, then down again between 30 by 20 and 30 by 20."""
    two = (Oblong(40, 60, turn=True),) * 2
    assert EdgeToEdge(two, kerf=2, stages=2).fit((60, 82), frozenset((0, 1)))
    assert not EdgeToEdge(two, kerf=2, stages=2).fit((60, 81), frozenset((0, 1)))
    row = (
        Oblong(30, 100, turn=False),
        Oblong(60, 80, turn=False),
        Oblong(30, 20, turn=False),
        Oblong(30, 20, turn=False),
    )
    everything = frozenset(range(4))
    assert EdgeToEdge(row, kerf=0, stages=3).fit((90, 100), everything)
    assert not EdgeToEdge(row, kerf=0, stages=2).fit((90, 100), everything)


def test_highs_finds_the_least_that_is_seen_by_hand() -> None:
    """By hand: 50 + 3 + 50 = 103 does not fit 100 and fits 103; two sticks of 103 hold four."""
    parts = [50] * 4
    assert least_cost_of_sticks([(103, 1)] * 4, parts, 3) == 2
    assert least_cost_of_sticks([(100, 1)] * 4, parts, 3) == 4
    assert least_cost_of_sticks([(103, 5), (103, 5), (50, 1), (50, 1)], parts, 3) == 7
