"""Plans for sticks against first-fit decreasing and against the bound, in one run.

The base of each figure is the simple plan's for the same question. Extra visits are sticks that
frames are spread over beyond the fewest that each needs, over all frames.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from time import perf_counter

from app.cutting import StickPlan, StickProblem, Together
from app.cutting.checker import faults_of_stick_plan
from app.cutting.sticks.planner import plan_sticks
from app.cutting.sticks.simple import simple_stick_plan
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Row, Section
from tests.cases.sticks import invented_frames, stick_cases

AIMS = {40: (2, 2), 200: (10, 10)}
"""By frames: the seconds asked for, and the most that a plan may take in all."""


def measure(plan: Plan) -> Section:
    """Published cases, then weeks of frames; every plan goes through the checker."""
    cases = (
        row
        for case in stick_cases().values()
        for row in _costs(case.name, plan_sticks(case.asked, case.seconds), case.best_known)
    )
    weeks = (row for frames in plan.frames for row in _week(frames))
    return Section(
        title="Cutting plans for sticks",
        base="the simple plan, first-fit decreasing",
        note="frames are invented; what is owned is free; every plan passed the checker",
        rows=(*cases, *weeks),
    )


def _week(frames: int) -> Iterator[Row]:
    asked = invented_frames(frames)
    seconds, most = AIMS[frames]
    plan, taken = _timed(asked, seconds)
    yield from _costs(f"{frames} frames", plan, None)
    started = perf_counter()
    simple = simple_stick_plan(asked)
    simple_taken = perf_counter() - started
    yield Row(what=f"{frames} frames, time", measured=taken, base=simple_taken, unit="s", most=most)
    apart = plan_sticks(replace(asked, together=Together.NO_MATTER), seconds)
    yield Row(
        what=f"{frames} frames, extra visits",
        measured=extra_visits_of(plan),
        base=extra_visits_of(simple),
        unit="sticks",
    )
    yield Row(
        what=f"{frames} frames, extra visits where frames do not matter",
        measured=extra_visits_of(apart),
        unit="sticks",
    )


def _timed(asked: StickProblem, seconds: int) -> tuple[StickPlan, float]:
    started = perf_counter()
    plan = plan_sticks(asked, seconds)
    return plan, perf_counter() - started


def _costs(name: str, plan: StickPlan, best_known: Fraction | None) -> Iterator[Row]:
    faults = faults_of_stick_plan(plan)
    if faults:
        raise RuntimeError(f"The plan for {name} does not hold: {faults}")
    aim = float(best_known) if best_known is not None else None
    yield Row(
        what=f"{name}, cost",
        measured=float(plan.cost),
        base=float(simple_stick_plan(plan.asked).cost),
        unit="bought",
        most=aim,
        most_ratio=1,
    )
    yield Row(what=f"{name}, bound", measured=float(plan.lower_bound), unit="bought")


def extra_visits_of(plan: StickPlan) -> int:
    """Sticks that frames are on beyond one each; no invented frame is longer than a stick."""
    group = {part.id: part.group for part in plan.asked.parts}
    visits = sum(len({group[rail.id] for rail in each.parts}) for each in plan.bins)
    return visits - len(set(group.values()))
