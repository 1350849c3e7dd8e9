"""Plans for sheets: against our own simple plan and the bound, of the cases and of invented frames."""

from collections.abc import Iterator
from fractions import Fraction
from time import perf_counter

from app.cutting import SheetPlan, SheetProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.services.cutting import planned
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Row, Section
from tests.cases.sheets import SHEETS, invented_blanks, sheet_cases

FRAMES = ((40, 2), (200, 10))
"""How many frames, and the most seconds that their plan may take."""


def measure(plan: Plan) -> Section:
    """Every case, then a week's and a season's frames of each material."""
    del plan
    rows: list[Row] = []
    for case in sheet_cases().values():
        rows += _rows(case.name, case.asked, case.seconds, float(case.best_known))
    for count, seconds in FRAMES:
        for material in SHEETS:
            rows += _rows(
                f"{material} of {count} frames", invented_blanks(count, material), seconds
            )
    return Section(
        title="New sheets of a plan",
        base="the simple plan on shelves, made in the same run",
        note="owned offcuts are free; the aim of a case is the best known",
        rows=tuple(rows),
    )


def _rows(
    what: str, asked: SheetProblem, seconds: int, best_known: float | None = None
) -> Iterator[Row]:
    started = perf_counter()
    simple = simple_sheet_plan(asked)
    made_simple = perf_counter()
    best = planned(asked, seconds)
    made_best = perf_counter()
    yield Row(
        what=what,
        measured=float(best.cost),
        unit="sheets",
        base=float(simple.cost),
        most=best_known,
        most_ratio=1,
    )
    yield Row(what="  bound", measured=float(best.lower_bound), unit="sheets")
    yield Row(what="  largest rest", measured=_largest(best), unit="dm²", base=_largest(simple))
    yield Row(what="  time", measured=made_best - made_simple, unit="s", most=seconds)
    yield Row(what="  time of the simple plan", measured=(made_simple - started) * 1000, unit="ms")


def _largest(plan: SheetPlan) -> float:
    areas = (rest.size.area_m2 for opened in plan.bins for rest in opened.offcuts)
    return float(max(areas, default=Fraction(0)) * 100)
