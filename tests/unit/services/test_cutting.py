"""Whatever the solver's child does, what comes back is a proven plan (C4)."""

import logging
import sys
import threading
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from app.cutting import Maker, Plan, SheetPlan, StickPart, StickPlan
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.services.cutting import (
    NamedProblem,
    StoppedError,
    planned,
    plans,
    solver_version,
    usual_seconds,
)
from app.services.cutting_child import Child
from app.services.cutting_messages import ANSWER
from tests.unit.cutting.hand_made import SHEET_PLAN, STICK_PLAN

BY_SOLVER = replace(STICK_PLAN, maker=Maker.SOLVER)
WRONG = replace(BY_SOLVER, lower_bound=Fraction(99))
OTHER = replace(
    BY_SOLVER,
    asked=replace(
        STICK_PLAN.asked,
        parts=(*STICK_PLAN.asked.parts, StickPart(id="Z", length=STICK_PLAN.asked.kerf)),
    ),
)


def child(code: str, *, grace: float = 60) -> Child:
    return Child(command=(sys.executable, "-c", code), grace=grace)


def answering(plan: Plan, folder: Path) -> Child:
    """A child that reads its job and answers with this plan whatever it is."""
    kept = folder / "answer.json"
    kept.write_text(ANSWER.write(plan), encoding="utf-8")
    return child(f"import sys; sys.stdin.read(); print(open({str(kept)!r}).read())")


def test_a_plan_that_is_proven_is_the_solvers(tmp_path: Path) -> None:
    assert planned(STICK_PLAN.asked, child=answering(BY_SOLVER, tmp_path)) == BY_SOLVER
    assert planned(SHEET_PLAN.asked, child=answering(SHEET_PLAN, tmp_path)) == SHEET_PLAN


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("import sys; sys.exit(1)", "ended with 1"),
        ("print('no plan today')", "cannot be read"),
        ("print('{\"schema\": 1}')", "cannot be read"),
        ("print('[' * 100000)", "cannot be read"),
        ("", "cannot be read"),
    ],
)
def test_without_an_answer_a_simple_plan_serves(
    code: str, why: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(STICK_PLAN.asked, child=child(code))
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
    assert planned(STICK_PLAN.asked, child=child(once)) == BY_SOLVER


def test_a_late_solver_gives_way_to_a_simple_plan(caplog: pytest.LogCaptureFixture) -> None:
    late = child("import time; time.sleep(600)", grace=0)
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(SHEET_PLAN.asked, 0, child=late)
    assert plan.maker is Maker.SIMPLE
    assert faults_of_sheet_plan(plan) == ()
    assert "late" in caplog.text


@pytest.mark.parametrize(("wrong", "why"), [(WRONG, "is wrong"), (OTHER, "another question")])
def test_a_plan_that_is_not_proven_is_never_shown(
    wrong: StickPlan, why: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.WARNING, "bevelbook.cutting"):
        plan = planned(STICK_PLAN.asked, child=answering(wrong, tmp_path))
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
        plans(problems, stop=stop, progress=progress, child=answering(BY_SOLVER, tmp_path))
    assert heard == [(0, 3, "oak"), (1, 3, "ash")]


def test_progress_is_told_before_each_problem_and_at_the_end(tmp_path: Path) -> None:
    heard: list[tuple[int, int, str]] = []
    made = plans(
        [
            NamedProblem(name="oak", asked=STICK_PLAN.asked),
            NamedProblem(name="ash", asked=STICK_PLAN.asked),
        ],
        progress=lambda done, of, name: heard.append((done, of, name)),
        child=answering(BY_SOLVER, tmp_path),
    )
    assert made == (BY_SOLVER, BY_SOLVER)
    assert heard == [(0, 2, "oak"), (1, 2, "ash"), (2, 2, "")]


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
