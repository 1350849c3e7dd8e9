"""Whatever the solver's child does, what comes back is a proven plan (C4)."""

import logging
import sys
import threading
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from app.cutting import Maker, Plan, SheetPlan, SheetProblem, StickPart, StickPlan, StickProblem
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.services.children import Children
from app.services.cutting import (
    NamedProblem,
    StoppedError,
    planned,
    plans,
    solver_version,
    usual_seconds,
)
from app.services.cutting_messages import ANSWER
from tests.builders.cutting_plans import SHEET_PLAN, STICK_PLAN

BY_SOLVER = replace(STICK_PLAN, maker=Maker.SOLVER)
WRONG = replace(BY_SOLVER, lower_bound=Fraction(99))
OTHER = replace(
    BY_SOLVER,
    asked=replace(
        STICK_PLAN.asked,
        parts=(*STICK_PLAN.asked.parts, StickPart(id="Z", length=STICK_PLAN.asked.kerf)),
    ),
)

LONE_RAILS = replace(
    STICK_PLAN.asked, stock=STICK_PLAN.asked.stock[:1], parts=STICK_PLAN.asked.parts[:1]
)
"""By hand: 3 × (900 + 4) = 2712 lie on one stick, of which 3000 - 2 × 10 + 4 = 2984 are used."""
LONE_SHEET = replace(SHEET_PLAN.asked, parts=SHEET_PLAN.asked.parts[1:])


def child(code: str, *, grace: float = 60, most: int = 1) -> Children:
    return Children((sys.executable, "-c", code), grace=grace, most=most)


def answering(plan: Plan, folder: Path, *, most: int = 1) -> Children:
    """Children that read their jobs and answer each with this plan whatever it is."""
    kept = folder / "answer.json"
    kept.write_text(ANSWER.write(plan), encoding="utf-8")
    return child(
        f"import sys\nfor _ in sys.stdin: print(open({str(kept)!r}).read(), flush=True)", most=most
    )


def test_a_plan_that_is_proven_is_the_solvers(tmp_path: Path) -> None:
    assert planned(STICK_PLAN.asked, children=answering(BY_SOLVER, tmp_path)) == BY_SOLVER
    assert planned(SHEET_PLAN.asked, children=answering(SHEET_PLAN, tmp_path)) == SHEET_PLAN


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("import sys; sys.exit(1)", "ended with 1"),
        ("print('no plan today')", "cannot be read"),
        ("print('{\"schema\": 1}')", "cannot be read"),
        ("print('[' * 100000)", "cannot be read"),
        ("", "ended with 0: without a word"),
    ],
)
def test_without_an_answer_a_simple_plan_serves(
    code: str, why: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(STICK_PLAN.asked, children=child(code))
    assert plan.maker is Maker.SIMPLE
    assert faults_of_stick_plan(plan) == ()
    assert why in caplog.text


def test_a_solver_that_crashed_is_given_a_second_chance(tmp_path: Path) -> None:
    _, _, code = answering(BY_SOLVER, tmp_path).command
    once = f"""
import os, pathlib
mark = pathlib.Path({str(tmp_path / "crashed")!r})
if not mark.exists():
    mark.touch()
    os.abort()
{code}"""
    assert planned(STICK_PLAN.asked, children=child(once)) == BY_SOLVER


def test_a_late_solver_gives_way_to_a_simple_plan(caplog: pytest.LogCaptureFixture) -> None:
    late = child("import time; time.sleep(600)", grace=0)
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(SHEET_PLAN.asked, 0, children=late)
    assert plan.maker is Maker.SIMPLE
    assert faults_of_sheet_plan(plan) == ()
    assert "late" in caplog.text


@pytest.mark.parametrize(("wrong", "why"), [(WRONG, "is wrong"), (OTHER, "another question")])
def test_a_plan_that_is_not_proven_is_never_shown(
    wrong: StickPlan, why: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(STICK_PLAN.asked, children=answering(wrong, tmp_path))
    assert plan.maker is Maker.SIMPLE
    assert why in caplog.text


def test_to_stop_drops_what_was_done(tmp_path: Path) -> None:
    stop = threading.Event()
    heard: list[tuple[int, int, str]] = []

    def progress(done: int, of: int, name: str) -> None:
        heard.append((done, of, name))
        if done == 1:
            stop.set()

    problems = [NamedProblem(name=name, asked=STICK_PLAN.asked) for name in ("oak", "ash", "elm")]
    with pytest.raises(StoppedError):
        plans(problems, stop=stop, progress=progress, children=answering(BY_SOLVER, tmp_path))
    assert heard == [(0, 3, "oak"), (1, 3, "ash")]


def test_progress_is_told_before_each_problem_and_at_the_end(tmp_path: Path) -> None:
    heard: list[tuple[int, int, str]] = []
    made = plans(
        [
            NamedProblem(name="oak", asked=STICK_PLAN.asked),
            NamedProblem(name="ash", asked=STICK_PLAN.asked),
        ],
        progress=lambda done, of, name: heard.append((done, of, name)),
        children=answering(BY_SOLVER, tmp_path),
    )
    assert made == (BY_SOLVER, BY_SOLVER)
    assert heard == [(0, 2, "oak"), (1, 2, "ash"), (2, 2, "")]


def test_two_children_share_the_problems_out_and_the_plans_keep_their_order(tmp_path: Path) -> None:
    """Each child waits until both are at work, which they are only where they live side by side."""
    kept = tmp_path / "answer.json"
    kept.write_text(ANSWER.write(BY_SOLVER), encoding="utf-8")
    both = f"""
import os, pathlib, sys, time
for _ in sys.stdin:
    pathlib.Path({str(tmp_path)!r}, f"{{os.getpid()}}.pid").touch()
    while len(list(pathlib.Path({str(tmp_path)!r}).glob("*.pid"))) < 2:
        time.sleep(0.01)
    print(open({str(kept)!r}).read(), flush=True)"""
    few = NamedProblem(name="few", asked=STICK_PLAN.asked)
    lone = NamedProblem(name="lone", asked=LONE_SHEET)
    made = plans([few, lone, few, few], children=child(both, most=2))
    assert made[0] == made[2] == made[3] == BY_SOLVER
    assert made[1].asked == LONE_SHEET
    assert len(list(tmp_path.glob("*.pid"))) == 2


def test_one_child_answers_all_problems_of_a_run(tmp_path: Path) -> None:
    kept = tmp_path / "answer.json"
    kept.write_text(ANSWER.write(BY_SOLVER), encoding="utf-8")
    telling = f"""
import pathlib, sys
with open({str(tmp_path / "started")!r}, "a") as started:
    print("here", file=started)
for _ in sys.stdin:
    print(open({str(kept)!r}).read(), flush=True)"""
    problems = [NamedProblem(name=name, asked=STICK_PLAN.asked) for name in ("oak", "ash", "elm")]
    assert plans(problems, children=child(telling)) == (BY_SOLVER,) * 3
    assert (tmp_path / "started").read_text().splitlines() == ["here"]


def test_the_largest_problems_are_planned_first(tmp_path: Path) -> None:
    heard: list[str] = []
    plans(
        [
            NamedProblem(name="one part", asked=LONE_SHEET),
            NamedProblem(name="three parts", asked=SHEET_PLAN.asked),
            NamedProblem(name="five parts", asked=STICK_PLAN.asked),
        ],
        progress=lambda _done, _of, name: heard.append(name),
        children=answering(SHEET_PLAN, tmp_path),
    )
    assert heard == ["five parts", "three parts", "one part", ""]


def test_a_bug_in_one_problem_is_told_and_the_others_are_left(tmp_path: Path) -> None:
    class BrokenError(Exception):
        pass

    def progress(done: int, _of: int, _name: str) -> None:
        if done == 1:
            raise BrokenError

    problems = [NamedProblem(name=name, asked=STICK_PLAN.asked) for name in ("oak", "ash", "elm")]
    with pytest.raises(BrokenError):
        plans(problems, progress=progress, children=answering(BY_SOLVER, tmp_path, most=2))


@pytest.mark.parametrize("asked", [LONE_RAILS, LONE_SHEET], ids=["rails", "sheet"])
def test_what_our_own_rule_settles_is_asked_of_nobody(
    asked: StickProblem | SheetProblem, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    nobody = Children((str(tmp_path / "nothing"),))
    plan = planned(asked, children=nobody)
    assert (plan.maker, plan.cost, plan.proven) == (Maker.SIMPLE, 1, True)
    assert caplog.text == ""


def test_whoever_was_told_to_stop_plans_nothing_at_all() -> None:
    stop = threading.Event()
    stop.set()
    with pytest.raises(StoppedError):
        planned(LONE_SHEET, stop=stop)


def test_the_real_child_answers_with_a_proven_plan(caplog: pytest.LogCaptureFixture) -> None:
    sticks = planned(STICK_PLAN.asked, 1)
    sheets = planned(SHEET_PLAN.asked, 1)
    assert caplog.text == ""
    assert isinstance(sticks, StickPlan)
    assert isinstance(sheets, SheetPlan)
    assert (sticks.cost, sheets.cost) == (1, 1)
    assert faults_of_stick_plan(sticks) == ()
    assert faults_of_sheet_plan(sheets) == ()


def test_more_than_150_parts_are_given_more_time() -> None:
    parts = (StickPart(id="A", length=STICK_PLAN.asked.kerf, copies=150),)
    asked = replace(STICK_PLAN.asked, parts=parts)
    assert usual_seconds(asked) == 2
    assert usual_seconds(replace(asked, parts=(replace(parts[0], copies=151),))) == 10


def test_the_solver_has_a_version_to_keep_with_a_plan() -> None:
    assert solver_version() == "packingsolver 0.1.1233"
