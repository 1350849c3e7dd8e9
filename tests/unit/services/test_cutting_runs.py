"""Runs that a page starts, watches, stops and fetches, with a planner that waits for its cue."""

import threading
from collections.abc import Iterator, Sequence

import pytest

from app.cutting import Plan
from app.errors import Busy, Conflict, NotFound
from app.services.cutting import NamedProblem, StoppedError
from app.services.cutting_runs import MOST_KEPT, MOST_RUNNING, PlanRuns, RunProgress
from app.services.run_state import RunState
from tests.builders.cutting_plans import STICK_PLAN

OAK = (NamedProblem(name="oak", asked=STICK_PLAN.asked),)


class Bench:
    """A planner that plans when it is told to, and the runs it works for."""

    def __init__(self) -> None:
        self.begun, self.go, self.broken = threading.Semaphore(0), threading.Event(), False
        self.runs = PlanRuns(self.plan)

    def plan(self, problems: Sequence[NamedProblem], *, stop, progress) -> tuple[Plan, ...]:
        progress(0, len(problems), problems[0].name)
        self.begun.release()
        while not self.go.wait(0.01):
            if stop.is_set():
                raise StoppedError
        if self.broken:
            raise ZeroDivisionError
        progress(len(problems), len(problems), "")
        return (STICK_PLAN,) * len(problems)

    def started(self) -> str:
        id = self.runs.start(OAK)
        self.begun.acquire()
        return id

    def ended(self, id: str) -> RunProgress:
        """Where a run stands once it has ended."""
        waiting = threading.Event()
        while (progress := self.runs.progress(id)).state is RunState.RUNNING:
            waiting.wait(0.005)
        return progress


@pytest.fixture
def bench() -> Iterator[Bench]:
    bench = Bench()
    yield bench
    bench.runs.close()


def test_a_run_is_watched_and_its_result_fetched_once(bench: Bench) -> None:
    id = bench.started()
    assert bench.runs.progress(id) == RunProgress(state=RunState.RUNNING, done=0, of=1, name="oak")
    with pytest.raises(Conflict, match="not done"):
        bench.runs.result(id)
    bench.go.set()
    assert bench.ended(id) == RunProgress(state=RunState.DONE, done=1, of=1, name="")
    assert bench.runs.result(id) == (STICK_PLAN,)
    with pytest.raises(NotFound):
        bench.runs.result(id)


def test_a_stopped_run_has_no_result(bench: Bench) -> None:
    id = bench.started()
    bench.runs.stop(id)
    assert bench.ended(id).state is RunState.STOPPED
    with pytest.raises(Conflict, match="stopped"):
        bench.runs.result(id)


def test_a_bug_ends_a_run_and_is_logged(bench: Bench, caplog: pytest.LogCaptureFixture) -> None:
    bench.broken = True
    id = bench.started()
    bench.go.set()
    assert bench.ended(id).state is RunState.FAILED
    assert "ZeroDivisionError" in caplog.text
    with pytest.raises(Conflict, match="went wrong"):
        bench.runs.result(id)


def test_too_many_runs_at_once_are_refused(bench: Bench) -> None:
    first, *_ = [bench.started() for _ in range(MOST_RUNNING)]
    with pytest.raises(Busy, match=f"{MOST_RUNNING} cutting plans are being made"):
        bench.runs.start(OAK)
    bench.runs.stop(first)
    bench.ended(first)
    bench.started()


def test_runs_that_nobody_fetches_are_forgotten_from_the_oldest_on(bench: Bench) -> None:
    bench.go.set()
    ids = []
    for _ in range(MOST_KEPT + 2):
        ids.append(bench.runs.start(OAK))
        bench.ended(ids[-1])
    with pytest.raises(NotFound):
        bench.runs.progress(ids[0])
    assert bench.runs.result(ids[-1]) == (STICK_PLAN,)
    assert bench.runs.result(ids[2]) == (STICK_PLAN,)


def test_an_unknown_run_is_not_found(bench: Bench) -> None:
    for asked in (bench.runs.progress, bench.runs.stop, bench.runs.result):
        with pytest.raises(NotFound):
            asked("nothing")


def test_to_close_ends_every_run(bench: Bench) -> None:
    ids = [bench.started() for _ in range(2)]
    bench.runs.close()
    assert {bench.runs.progress(id).state for id in ids} == {RunState.STOPPED}
