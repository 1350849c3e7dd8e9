"""Cutting plans that are being made and are not kept yet: asked for, watched, tried longer, kept.

A draft lives in this process only, until it is kept or discarded or many others came after it. Nothing is
stored before it is kept.
"""

import secrets
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.cutting import Plan, StickProblem, Together
from app.errors import Conflict, Invalid, NotFound
from app.services import cutting
from app.services.cutting_runs import PlanRuns, RunProgress
from app.services.open_work import WorkFilter, problems_for
from app.services.plans import keep_plan
from app.services.run_state import RunState
from app.stock.planning.problems import PlanningProblem
from app.storage import Stamp, Store

MOST_DRAFTS = 16
"""Beyond that the oldest is forgotten. Source: ours."""

LONGER = 4
"""How many times as long a plan is tried that was not good enough. Source: ours."""

MOST_SECONDS = 60
"""For one material. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be planned, and how. seconds: a material, None for usual. together: None for the
    shop's habit.

    Raises: Invalid at "seconds".
    """

    work: WorkFilter
    seconds: int | None = None
    together: Together | None = None

    def __post_init__(self) -> None:
        if self.seconds is not None and not 1 <= self.seconds <= MOST_SECONDS:
            raise Invalid.at(
                "seconds",
                f"{self.seconds} seconds were asked for; 1 to {MOST_SECONDS} are allowed for a "
                "material.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A draft as it stands. plans: one for each problem once it is done, none before."""

    id: str
    wish: Wish
    problems: tuple[PlanningProblem, ...]
    progress: RunProgress
    plans: tuple[Plan, ...] = ()


@dataclass(slots=True)
class _Kept:
    wish: Wish
    problems: tuple[PlanningProblem, ...]
    run: str
    plans: tuple[Plan, ...] = ()


class PlanDrafts:
    """The drafts of one app. May be used from any thread."""

    def __init__(self, runs: PlanRuns) -> None:
        self._runs = runs
        self._lock = threading.RLock()
        self._drafts: dict[str, _Kept] = {}

    def start(self, store: Store, wish: Wish) -> str:
        """Begin to plan what is open; the draft's id.

        Raises: Invalid where nothing is open, or more than one plan can hold; Busy where too many are
        being made.
        """
        problems = tuple(_as_wished(each, wish) for each in problems_for(store, wish.work))
        if not problems:
            raise Invalid.at("", "Nothing of what was chosen is still to be planned.", "empty")
        kept = _Kept(wish=wish, problems=problems, run=self._runs.start(_asked(problems, wish)))
        with self._lock:
            self._make_room()
            id = secrets.token_hex(8)
            self._drafts[id] = kept
        return id

    def look(self, id: str) -> Draft:
        """Return a draft as it stands. Raises: NotFound."""
        with self._lock:
            kept = self._found(id)
            if kept.plans:
                count = len(kept.plans)
                progress = RunProgress(state=RunState.DONE, done=count, of=count, name="")
            else:
                progress = self._progress(id, kept)
                if progress.state is RunState.DONE:
                    kept.plans = self._runs.result(kept.run)
            return Draft(
                id=id,
                wish=kept.wish,
                problems=kept.problems,
                progress=progress,
                plans=kept.plans,
            )

    def stop(self, id: str) -> None:
        """Stop planning; one that is done stays as it is. Raises: NotFound."""
        with self._lock:
            kept = self._found(id)
            if not kept.plans:
                self._progress(id, kept)
                self._runs.stop(kept.run)

    def longer(self, store: Store, id: str) -> str:
        """Plan the same anew with more time; the new draft's id. Raises: NotFound, Invalid, Busy."""
        wish = self.look(id).wish
        problems = problems_for(store, wish.work)
        usual = max((cutting.usual_seconds(each.asked) for each in problems), default=2)
        seconds = min((wish.seconds or usual) * LONGER, MOST_SECONDS)
        new = self.start(store, replace(wish, seconds=seconds))
        self.discard(id)
        return new

    def keep(self, store: Store, id: str, act: Stamp) -> int:
        """Keep the plans of a draft as one plan; its id.

        The draft is gone then, so that it is kept once. Raises: NotFound; Invalid, Conflict as
        `keep_plan`, and the draft stays.
        """
        with self._lock:
            draft = self.look(id)
            if not draft.plans:
                raise Conflict("This plan is not done yet, so it cannot be saved.")
            plan_id = keep_plan(store, draft.plans, act, solver=cutting.solver_version())
            del self._drafts[id]
        return plan_id

    def discard(self, id: str) -> None:
        """Forget a draft; one that is gone already is no fault."""
        with self._lock:
            kept = self._drafts.pop(id, None)
            if kept is not None and not kept.plans:
                _stop_quietly(self._runs, kept.run)

    def forget(self) -> None:
        """Forget every draft, as after another database was put in the place of the one that they are about."""
        with self._lock:
            for id in list(self._drafts):
                self.discard(id)

    def close(self) -> None:
        """Stop everything that is being made."""
        self._runs.close()

    def _progress(self, id: str, kept: _Kept) -> RunProgress:
        """Raises: NotFound where the run was forgotten, and the draft with it."""
        try:
            return self._runs.progress(kept.run)
        except NotFound:
            self._drafts.pop(id, None)
            raise NotFound(GONE) from None

    def _found(self, id: str) -> _Kept:
        if id not in self._drafts:
            raise NotFound(GONE)
        return self._drafts[id]

    def _make_room(self) -> None:
        for id in list(self._drafts)[: max(len(self._drafts) - MOST_DRAFTS + 1, 0)]:
            self.discard(id)


GONE = (
    "This plan is not here any more: it was saved or discarded, or the app was started anew since. What "
    "was saved is among the plans; what was not can be planned again."
)


def _stop_quietly(runs: PlanRuns, run: str) -> None:
    try:
        runs.stop(run)
    except NotFound:
        return


def _as_wished(problem: PlanningProblem, wish: Wish) -> PlanningProblem:
    if wish.together is None or not isinstance(problem.asked, StickProblem):
        return problem
    return replace(problem, asked=replace(problem.asked, together=wish.together))


def _asked(problems: Sequence[PlanningProblem], wish: Wish) -> tuple[cutting.NamedProblem, ...]:
    return tuple(
        cutting.NamedProblem(
            name=f"{each.material.code} {each.material.name}",
            asked=each.asked,
            seconds=wish.seconds,
        )
        for each in problems
    )
