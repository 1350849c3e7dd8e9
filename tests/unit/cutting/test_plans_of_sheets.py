"""The best plan for sheets: cases, hand-worked plans, and what happens where the solver fails.

The real solver is met in its own process, as in the app: now and then it crashes.
"""

from collections.abc import Callable
from fractions import Fraction

import pytest

from app.cutting import Maker, Sheet, SheetPart, Way
from app.cutting.checker import faults_of_sheet_plan
from app.cutting.sheets.cut_tree import Slab, row_of
from app.cutting.sheets.drafts import Draft, DraftSheet
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sheets.solver import SheetRun
from app.services.cutting import planned
from tests.cases.sheets import SHEETS, asked_for, invented_blanks, sheet_cases, size

PINWHEEL = asked_for(
    SheetPart(id="P", size=size(300, 200), copies=4),
    stock=[Sheet(id="new", size=size(500, 500))],
    stages=None,
)
"""By hand: around a hole of 100 × 100 four would lie free. Edge to edge, the first cut leaves a strip of
200 or of 300 and one of 300 or 200: the wide one holds two, the narrow one holds one."""


@pytest.mark.slow
@pytest.mark.parametrize("name", ["mats-40", "mats-20-offcuts"])
def test_cases_cost_what_is_the_best_known(name: str) -> None:
    # Source: the cases' own, proven by column generation.
    case = sheet_cases()[name]
    plan = planned(case.asked, 3)
    assert plan.cost == case.best_known
    assert plan.lower_bound <= case.best_known
    assert not faults_of_sheet_plan(plan)


@pytest.mark.slow
@pytest.mark.parametrize("material", SHEETS)
def test_a_weeks_frames_with_offcuts_on_the_rack_cost_no_more_than_on_shelves(
    material: str,
) -> None:
    asked = invented_blanks(40, material)
    plan = planned(asked, 2)
    assert not plan.unplaced
    assert plan.lower_bound <= plan.cost <= simple_sheet_plan(asked).cost
    assert not faults_of_sheet_plan(plan)


def test_a_pinwheel_of_four_takes_two_sheets_edge_to_edge() -> None:
    plan = planned(PINWHEEL, 1)
    assert sorted(len(sheet.parts) for sheet in plan.bins) in ([1, 3], [2, 2])
    assert plan.cost == 2
    assert plan.lower_bound <= 2
    assert not faults_of_sheet_plan(plan)


def test_a_better_plan_than_on_shelves_is_the_solvers() -> None:
    # By hand: 600 × 600 beside a column of 400 × 300 and 400 × 300, and 1000 × 400 below: the sheet is full.
    asked = asked_for(
        SheetPart(id="A", size=size(600, 600)),
        SheetPart(id="B", size=size(400, 300), copies=2),
        SheetPart(id="C", size=size(1000, 400)),
        stock=[Sheet(id="new", size=size(1000, 1000))],
    )
    assert simple_sheet_plan(asked).cost == 2
    plan = planned(asked, 1)
    assert plan.cost == 1
    assert plan.proven
    assert plan.maker is Maker.SOLVER
    assert plan.waste_share == 0
    assert not faults_of_sheet_plan(plan)


def test_two_stages_hold_less_than_three() -> None:
    # By hand: the same parts in two stages: columns of one direction cannot part the two B from A.
    asked = asked_for(
        SheetPart(id="A", size=size(600, 600)),
        SheetPart(id="B", size=size(400, 300), copies=2),
        SheetPart(id="C", size=size(1000, 400)),
        stock=[Sheet(id="new", size=size(1000, 1000))],
        stages=2,
    )
    plan = planned(asked, 1)
    assert plan.cost == 2
    assert not faults_of_sheet_plan(plan)


def raising(run: SheetRun) -> Draft | None:
    raise MemoryError


def silent(run: SheetRun) -> Draft | None:
    return None


def with_too_many(run: SheetRun) -> Draft | None:
    block = Slab(width=400, height=500, part=0)
    return (DraftSheet(offer=run.task.offers[0], block=block),) * 9


def with_too_large(run: SheetRun) -> Draft | None:
    part = Slab(width=400, height=500, part=0)
    return (DraftSheet(offer=run.task.offers[0], block=row_of(Way.ACROSS, (part,) * 4)),)


@pytest.mark.parametrize("solve", [raising, silent, with_too_many, with_too_large])
def test_a_solver_that_fails_leaves_the_simple_plan(
    solve: Callable[[SheetRun], Draft | None],
) -> None:
    asked = asked_for(SheetPart(id="M", size=size(400, 500), copies=5))
    plan = plan_sheets(asked, 1, solve=solve)
    assert plan == simple_sheet_plan(asked)
    assert plan.maker is Maker.SIMPLE


def test_one_part_that_fits_nowhere_does_not_empty_the_plan() -> None:
    asked = asked_for(
        SheetPart(id="wide", size=size(1200, 300)), SheetPart(id="M", size=size(400, 500), copies=4)
    )
    plan = planned(asked, 1)
    assert [(each.id, each.code) for each in plan.unplaced] == [("wide", "fits-no-sheet")]
    assert plan.cost == 1
    assert plan.proven
    assert not faults_of_sheet_plan(plan)


def test_where_sheets_run_out_as_many_parts_as_there_is_room_for_are_placed() -> None:
    # By hand: nine of 300 × 300, or the one of 900 × 900, fill the only sheet.
    asked = asked_for(
        SheetPart(id="large", size=size(900, 900)),
        SheetPart(id="small", size=size(300, 300), copies=9),
        stock=[Sheet(id="s", size=size(900, 900), copies=1, cost=Fraction(0))],
    )
    plan = planned(asked, 1)
    assert [(each.id, each.copies) for each in plan.unplaced] == [("large", 1)]
    assert not faults_of_sheet_plan(plan)


def test_nothing_wanted_opens_nothing() -> None:
    plan = planned(asked_for(), 1)
    assert not plan.bins
    assert not plan.unplaced
    assert plan.proven


def test_a_spare_offcut_stays_whole_where_a_new_sheet_is_opened_anyway() -> None:
    # By hand: the large part takes a new sheet, beside which the small one fits; the offcut is not needed.
    asked = asked_for(
        SheetPart(id="A", size=size(700, 800)),
        SheetPart(id="B", size=size(400, 300)),
        stock=[
            Sheet(id="new", size=size(1120, 815)),
            Sheet(id="o", size=size(600, 600), copies=1, cost=Fraction(0)),
        ],
    )
    plan = planned(asked, 1)
    assert dict(plan.opened) == {"new": 1}
    assert not faults_of_sheet_plan(plan)
