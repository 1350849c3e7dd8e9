"""Runs of cutting plans that a page starts, watches, stops and fetches: each in a thread of its own.

They live in this process only: what is not fetched before the app ends is lost, and nothing but the
time. Keeping a plan is an act of its own.
"""

import logging
import secrets
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from app.cutting import Plan
from app.errors import Busy, Conflict, NotFound
from app.services.cutting import NamedProblem, StoppedError, plans
from app.services.run_state import RunState

log = logging.getLogger("bevelbook.cutting")

MOST_RUNNING = 4
"""Runs that go on at once; their solvers take turns anyway. Source: ours."""

MOST_KEPT = 16
"""Runs that ended and were not fetched; the oldest are forgotten beyond that. Source: ours."""

LONGEST_END = 1.0
"""Seconds that all runs together are given to end when the app does. Source: ours."""

type Planner = Callable[..., tuple[Plan, ...]]
"""As `plans`: problems, and by name stop and progress."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunProgress:
    """How far a run is. name: of the problem that is being planned; "" where none is."""

    state: RunState
    done: int
    of: int
    name: str


@dataclass(slots=True)
class _Run:
    of: int
    stop: threading.Event = field(default_factory=threading.Event)
    state: RunState = RunState.RUNNING
    done: int = 0
    name: str = ""
    result: tuple[Plan, ...] = ()
    thread: threading.Thread | None = None


class PlanRuns:
    """The runs of one app. May be used from any thread."""

    def __init__(self, planner: Planner = plans) -> None:
        self._planner = planner
        self._lock = threading.Lock()
        self._runs: dict[str, _Run] = {}

    def start(self, problems: Sequence[NamedProblem]) -> str:
        """Start a run; its id. Raises: Busy where too many go on already."""
        run = _Run(of=len(problems))
        with self._lock:
            self._make_room()
            id = secrets.token_hex(8)
            self._runs[id] = run
            # Not waited for when the app ends; its child is killed then.
            run.thread = threading.Thread(
                target=self._work, args=(run, tuple(problems)), name=f"cutting {id}", daemon=True
            )
        run.thread.start()
        return id

    def progress(self, id: str) -> RunProgress:
        """Tell how far a run is. Raises: NotFound."""
        with self._lock:
            run = self._found(id)
            return RunProgress(state=run.state, done=run.done, of=run.of, name=run.name)

    def stop(self, id: str) -> None:
        """Stop a run and drop what it has; one that ended stays as it is. Raises: NotFound."""
        with self._lock:
            self._found(id).stop.set()

    def result(self, id: str) -> tuple[Plan, ...]:
        """Return the plans of a run that is done, once; it is forgotten then.

        Raises: NotFound; Conflict where it goes on, was stopped or failed.
        """
        with self._lock:
            run = self._found(id)
            if run.state is not RunState.DONE:
                raise Conflict(_NO_RESULT[run.state])
            del self._runs[id]
            return run.result

    def close(self) -> None:
        """Stop every run and wait until each has ended, though not for one that does not look up."""
        with self._lock:
            runs = tuple(self._runs.values())
            for run in runs:
                run.stop.set()
        limit = time.monotonic() + LONGEST_END
        for run in runs:
            if run.thread is not None:
                run.thread.join(max(limit - time.monotonic(), 0))

    def _work(self, run: _Run, problems: tuple[NamedProblem, ...]) -> None:
        def tell(done: int, of: int, name: str) -> None:
            with self._lock:
                run.done, run.of, run.name = done, of, name

        state = RunState.FAILED
        result: tuple[Plan, ...] = ()
        try:
            result = self._planner(problems, stop=run.stop, progress=tell)
            state = RunState.STOPPED if run.stop.is_set() else RunState.DONE
        except StoppedError:
            state = RunState.STOPPED
        except Exception:
            log.exception("A run of cutting plans failed.")
        with self._lock:
            run.state, run.name = state, ""
            run.result = result if state is RunState.DONE else ()

    def _make_room(self) -> None:
        running = [id for id, run in self._runs.items() if run.state is RunState.RUNNING]
        if len(running) >= MOST_RUNNING:
            raise Busy(
                f"{len(running)} cutting plans are being made already; wait for one or stop one."
            )
        ended = [id for id in self._runs if id not in running]
        for id in ended[: max(len(ended) - MOST_KEPT + 1, 0)]:
            del self._runs[id]

    def _found(self, id: str) -> _Run:
        if id not in self._runs:
            raise NotFound("There is no such run of cutting plans; it may have been fetched.")
        return self._runs[id]


_NO_RESULT = {
    RunState.RUNNING: "The cutting plans are not done yet.",
    RunState.STOPPED: "Making these cutting plans was stopped; start again.",
    RunState.FAILED: "Something went wrong in the app itself; what it was is in its log.",
}
