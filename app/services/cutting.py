"""Cutting plans made outside the request, proven before anyone sees them (C4).

A child process solves, with a hard limit; where it is late, crashes or answers what the checker refuses, our
own simple plan serves and says so, and where that cannot be bettered nobody else is asked. A plan that
fails the checker is never returned.
"""

import logging
import threading
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from typing import overload

from app.cutting import Asked, Plan, SheetPlan, SheetProblem, StickPlan, StickProblem
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.sheets.simple import settled_sheet_plan, simple_sheet_plan
from app.cutting.sticks.simple import settled_stick_plan, simple_stick_plan
from app.errors import Invalid
from app.services.children import Children, CrashedError, NoAnswerError, StoppedError
from app.services.cutting_messages import ANSWER, JOB, SolverJob

__all__ = ["NamedProblem", "StoppedError", "planned", "plans", "solver_version", "usual_seconds"]

log = logging.getLogger("bevelbook.cutting")

CHILDREN = Children()

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
    """Tell how long a solver is given: 2 seconds, 10 for more than 150 parts."""
    return 10 if sum(part.copies for part in asked.parts) > MANY_PARTS else 2


def solver_version() -> str:
    """Return the solver's name and version, to be kept with a plan; empty where it is not installed."""
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
    children: Children = CHILDREN,
) -> StickPlan: ...
@overload
def planned(
    asked: SheetProblem,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    children: Children = CHILDREN,
) -> SheetPlan: ...
@overload
def planned(
    asked: Asked,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    children: Children = CHILDREN,
) -> Plan: ...
def planned(
    asked: Asked,
    seconds: int | None = None,
    *,
    stop: threading.Event | None = None,
    children: Children = CHILDREN,
) -> Plan:
    """Return a proven plan: the solver's, or our own simple one where that gives none or is the best there is.

    seconds: the solver's limit, None for the usual; a plan may take so much longer as it waits for its
    turn. Raises: StoppedError once stop is set.
    """
    limit = usual_seconds(asked) if seconds is None else seconds
    stop = stop or threading.Event()
    if stop.is_set():
        raise StoppedError
    settled = _settled_plan(asked)
    if settled is not None:
        return _proven(settled)
    try:
        try:
            return _solved(asked, limit, stop, children)
        except CrashedError as why:
            # The library crashes by chance on a few questions, and mostly not twice in a row.
            log.warning("Planning is tried once more: %s.", why)
            return _solved(asked, limit, stop, children)
    except NoAnswerError as why:
        log.warning("A simple cutting plan serves: %s.", why)
        return _proven(_simple_plan(asked))


def plans(
    problems: Sequence[NamedProblem],
    *,
    stop: threading.Event | None = None,
    progress: Callable[[int, int, str], None] = lambda _done, _of, _name: None,
    children: Children = CHILDREN,
) -> tuple[Plan, ...]:
    """Return a plan for each problem, in their order; those of most parts are planned first.

    progress: is told how many are done, of how many, and the name of the next one ("" at the end).
    Raises: StoppedError once stop is set; what was done is dropped.
    """
    run = _ProcessRun(problems, stop or threading.Event(), progress, children)
    with children.kept():
        others = [threading.Thread(target=run.work, daemon=True) for _ in range(children.most - 1)]
        for each in others:
            each.start()
        run.work()
        for each in others:
            each.join()
    return run.plans()


class _ProcessRun:
    """Problems shared out among threads, as many as children may live."""

    def __init__(
        self,
        problems: Sequence[NamedProblem],
        stop: threading.Event,
        progress: Callable[[int, int, str], None],
        children: Children,
    ) -> None:
        self._problems, self._stop, self._children = problems, stop, children
        self._progress = progress
        self._lock = threading.Lock()
        sizes = [sum(part.copies for part in each.asked.parts) for each in problems]
        self._to_do = deque(sorted(range(len(problems)), key=lambda at: -sizes[at]))
        self._done: dict[int, Plan] = {}
        self._error: BaseException | None = None

    def work(self) -> None:
        """Plan one problem after another until none is left or one has failed."""
        try:
            while (at := self._next()) is not None:
                problem = self._problems[at]
                plan = planned(
                    problem.asked, problem.seconds, stop=self._stop, children=self._children
                )
                with self._lock:
                    self._done[at] = plan
        except BaseException as error:  # it is raised again by whoever waits for the plans
            with self._lock:
                self._error = self._error or error
                self._to_do.clear()

    def plans(self) -> tuple[Plan, ...]:
        """Return what was made, once all have ended. Raises: what any of them raised."""
        if self._error is not None:
            raise self._error
        self._progress(len(self._done), len(self._problems), "")
        return tuple(self._done[at] for at in range(len(self._problems)))

    def _next(self) -> int | None:
        with self._lock:
            if not self._to_do:
                return None
            at = self._to_do.popleft()
            self._progress(len(self._done), len(self._problems), self._problems[at].name)
            return at


def _solved(asked: Asked, seconds: int, stop: threading.Event, children: Children) -> Plan:
    """Return a child's plan. Raises: NoAnswerError where there is none that holds, StoppedError."""
    job = JOB.write(SolverJob(asked=asked, seconds=seconds))
    try:
        plan = ANSWER.read(children.answer(job, seconds, stop))
    except Invalid as error:
        raise NoAnswerError(f"the solver's answer cannot be read: {error}") from error
    if plan.asked != asked:
        raise NoAnswerError("the solver answered another question")
    faults = _faults(plan)
    if faults:
        raise NoAnswerError(f"the solver's plan is wrong: {' '.join(faults[:3])}")
    return plan


def _proven(plan: Plan) -> Plan:
    """Our own plan, proven as well. Raises: WrongPlanError where it fails."""
    faults = _faults(plan)
    if faults:
        raise WrongPlanError(" ".join(faults[:3]))
    return plan


def _settled_plan(asked: StickProblem | SheetProblem) -> Plan | None:
    """Our own plan where it is the best there is."""
    if isinstance(asked, StickProblem):
        return settled_stick_plan(asked)
    return settled_sheet_plan(asked)


def _simple_plan(asked: StickProblem | SheetProblem) -> Plan:
    return simple_stick_plan(asked) if isinstance(asked, StickProblem) else simple_sheet_plan(asked)


def _faults(plan: StickPlan | SheetPlan) -> tuple[str, ...]:
    return faults_of_stick_plan(plan) if isinstance(plan, StickPlan) else faults_of_sheet_plan(plan)
