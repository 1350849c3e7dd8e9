"""Cutting plans made outside the request, proven before anyone sees them (C4).

A child process solves, with a hard limit; where it is late, crashes or answers what the checker refuses, our
own simple plan serves and says so. A plan that fails the checker is never returned.
"""

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from typing import overload

from app.cutting import Asked, Plan, SheetPlan, SheetProblem, StickPlan, StickProblem
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.errors import Invalid
from app.services.cutting_child import Child, CrashedError, NoAnswerError, StoppedError
from app.services.cutting_messages import ANSWER, JOB, Job

__all__ = ["NamedProblem", "StoppedError", "planned", "plans", "solver_version", "usual_seconds"]

log = logging.getLogger("bevelbook.cutting")

CHILD = Child()

MANY_PARTS = 150
"""From here on a solver is given more time. Source: measured, see the benchmarks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedProblem:
    """One question of several, usually one a material. name: for people. seconds: None for usual."""

    name: str
    asked: Asked
    seconds: int | None = None


class WrongPlanError(Exception):
    """A plan of our own has faults, which is a bug; the message names them."""


def usual_seconds(asked: Asked) -> int:
    """How long a solver is given: 2 seconds, 10 for more than 150 parts."""
    return 10 if sum(part.copies for part in asked.parts) > MANY_PARTS else 2


def solver_version() -> str:
    """The solver's name and version, to be kept with a plan; empty where it is not installed."""
    try:
        return f"packingsolver {version('packingsolver')}"
    except PackageNotFoundError:
        return ""


@overload
def planned(
    asked: StickProblem,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    child: Child = CHILD,
) -> StickPlan: ...
@overload
def planned(
    asked: SheetProblem,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    child: Child = CHILD,
) -> SheetPlan: ...
@overload
def planned(
    asked: Asked,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    child: Child = CHILD,
) -> Plan: ...
def planned(
    asked: Asked,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    child: Child = CHILD,
) -> Plan:
    """A proven plan: the solver's, or our own simple one where that gives none.

    seconds: the solver's limit, None for the usual; a plan may take so much longer as it waits for its
    turn. Raises: StoppedError once stop is set.
    """
    limit = usual_seconds(asked) if seconds is None else seconds
    stop = stop or threading.Event()
    try:
        try:
            return _solved(asked, limit, stop, child)
        except CrashedError as why:
            # The library crashes by chance on a few questions, and mostly not twice in a row.
            log.warning("Planning is tried once more: %s.", why)
            return _solved(asked, limit, stop, child)
    except NoAnswerError as why:
        log.warning("A simple cutting plan serves: %s.", why)
        return _simple(asked)


def plans(
    problems: Sequence[NamedProblem],
    *,
    stop: threading.Event | None = None,
    progress: Callable[[int, int, str], None] = lambda _done, _of, _name: None,
    child: Child = CHILD,
) -> tuple[Plan, ...]:
    """A plan for each problem, in their order.

    progress: is told how many are done, of how many, and the name of the next one ("" at the end).
    Raises: StoppedError once stop is set; what was done is dropped.
    """
    done: list[Plan] = []
    for problem in problems:
        progress(len(done), len(problems), problem.name)
        done.append(planned(problem.asked, problem.seconds, stop=stop, child=child))
    progress(len(done), len(problems), "")
    return tuple(done)


def _solved(asked: Asked, seconds: int, stop: threading.Event, child: Child) -> Plan:
    """The child's plan. Raises: NoAnswerError where there is none that holds, StoppedError."""
    job = JOB.write(Job(asked=asked, seconds=seconds))
    try:
        plan = ANSWER.read(child.answer(job, seconds, stop))
    except Invalid as error:
        raise NoAnswerError(f"the solver's answer cannot be read: {error}") from error
    if plan.asked != asked:
        raise NoAnswerError("the solver answered another question")
    faults = _faults(plan)
    if faults:
        raise NoAnswerError(f"the solver's plan is wrong: {' '.join(faults[:3])}")
    return plan


def _simple(asked: Asked) -> Plan:
    """Our own plan, proven as well. Raises: WrongPlanError where it fails."""
    plan = _simple_plan(asked)
    faults = _faults(plan)
    if faults:
        raise WrongPlanError(" ".join(faults[:3]))
    return plan


def _simple_plan(asked: StickProblem | SheetProblem) -> Plan:
    return simple_stick_plan(asked) if isinstance(asked, StickProblem) else simple_sheet_plan(asked)


def _faults(plan: StickPlan | SheetPlan) -> tuple[str, ...]:
    return faults_of_stick_plan(plan) if isinstance(plan, StickPlan) else faults_of_sheet_plan(plan)
