"""Thousands of kinds of stock: how much is done before the first answer is there.

Work is counted in calls of functions, which are the same on every machine, and never in seconds: four
times the kinds may take little more than four times the work.
"""

import sys
from collections.abc import Callable
from fractions import Fraction
from random import Random
from types import FrameType
from typing import Any

import pytest

from app.cutting import Sheet, SheetPart, SheetProblem, Stick, StickPart, StickProblem
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.problem import MOST_STOCK
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sticks.planner import plan_sticks
from app.lengths import Size, Unit, mm

FEW = MOST_STOCK // 4


def calls_of(work: Callable[[], object]) -> int:
    """How many calls of Python functions a piece of work takes."""
    count = 0

    def note(_frame: FrameType, event: str, _about: Any) -> None:
        nonlocal count
        count += event == "call"

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count


def sticks(kinds: int, owned: bool) -> StickProblem:
    """Sixty rails that differ, and some longer than all there is; one kind in three without end."""
    chance = Random(7)
    return StickProblem(
        unit=Unit.MM,
        stock=tuple(
            Stick(
                id=f"s{number}",
                length=mm(chance.randint(600, 3300)),
                copies=chance.choice((None, 1, 2)) if not owned else 1,
                cost=Fraction(0 if owned else chance.randint(1, 900), 4),
            )
            for number in range(kinds)
        ),
        parts=tuple(
            StickPart(id=f"p{number}", length=mm(chance.randint(150, 3600))) for number in range(60)
        ),
        kerf=mm(3),
    )


def sheets(kinds: int, owned: bool) -> SheetProblem:
    chance = Random(8)

    def size(least: int, most: int) -> Size:
        return Size(mm(chance.randint(least, most)), mm(chance.randint(least, most)))

    return SheetProblem(
        unit=Unit.MM,
        stock=tuple(
            Sheet(
                id=f"s{number}",
                size=size(300, 1200),
                copies=chance.choice((None, 1, 2)) if not owned else 1,
                cost=Fraction(0 if owned else chance.randint(1, 900), 4),
            )
            for number in range(kinds)
        ),
        parts=tuple(SheetPart(id=f"p{number}", size=size(100, 1300)) for number in range(60)),
    )


def stick_work(kinds: int, owned: bool) -> int:
    asked = sticks(kinds, owned)
    return calls_of(
        lambda: faults_of_stick_plan(plan_sticks(asked, 1, solve=lambda _question, _seconds: None))
    )


def sheet_work(kinds: int, owned: bool) -> int:
    asked = sheets(kinds, owned)
    return calls_of(lambda: faults_of_sheet_plan(plan_sheets(asked, 1, solve=lambda _run: None)))


@pytest.mark.parametrize("owned", [False, True], ids=["bought and owned", "owned"])
@pytest.mark.parametrize("work", [stick_work, sheet_work])
def test_the_simple_plan_its_bound_and_its_proof_grow_with_the_kinds_of_stock_and_no_faster(
    work: Callable[[int, bool], int], owned: bool
) -> None:
    work(FEW // 10, owned)  # what is worked out once and remembered
    few, many = work(FEW, owned), work(MOST_STOCK, owned)
    assert many <= 5 * few
    assert many <= 2_000_000
