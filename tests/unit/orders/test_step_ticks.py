"""Ticks against the steps as they are asked now: what is the same work, and what is another (M7)."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.bench import Step, StepCode, StepDetail, StepPart
from app.lengths import mm
from app.orders.step_ticks import Tick, asked_the_same, done_otherwise, words_of

AT = datetime(2026, 11, 25, 7, 2, tzinfo=UTC)


def step(text: str, *details: str, part: str = "") -> Step:
    return Step(
        id="one",
        code=StepCode.MARK,
        text=text,
        details=tuple(StepDetail(name="x", text=detail) for detail in details),
        parts=(StepPart(name="mat 1", lengths=(mm(part),)),) if part else (),
    )


def ticked(words: str) -> Tick:
    return Tick(at=AT, by="Ilse", step="one", words=words, ticked=True)


WORDED_THEN_AND_NOW = (
    ("size edge to edge: the mat 562 × 449", "cut the blank to size, the mat: 562 × 449 mm"),
    (
        "size edge to edge: mat 1 562 × 449, mat 2 556 × 443",
        "cut the blanks to size, mat 1: 562 × 449 mm, mat 2: 556 × 443 mm",
    ),
    (
        "mark the back of mat 1; edges are named as it lies, back up",
        "mark the back of mat 1, face down; edges are named as it lies",
    ),
    (
        "set the guide to 76 (pin 70 + 6): mat 2 left, on a slip sheet",
        "set the guide to 76 (pin 70, then 6 on the scale): mat 2 left, on a slip sheet",
    ),
    (
        "turn mat 1, drop the window out, corners clean",
        "turn mat 1 face up, drop the window out clean",
    ),
    (
        "turn mat 1, drop the window out, corners clean",
        "mat 1 stays face up, drop the window out clean",
    ),
    (
        "turn mat 1 face up, drop the window out clean",
        "lift mat 1 off face down, the window drops out",
    ),
    (
        "the mat stays face up, drop the windows out clean",
        "lift the mat off face up, the windows drop out",
    ),
    (
        "mat 1 face down, fallout in: fix mat 2 face down behind it, mark from mat 1’s edges",
        "mat 1 face down, fallout in: fix mat 2 face down behind it, cut from mat 1’s edges",
    ),
    (
        "lay the fallout back into mat 1, fix mat 2 behind it, mark from the edges of mat 1",
        "mat 1 face down, fallout in: fix mat 2 face down behind it, mark from mat 1’s edges",
    ),
    (
        "fix the mats together, reveals even",
        "turn the mats face down and fix mat 2 to the back of mat 1, 6 of it showing on all sides",
    ),
    (
        "clean both faces of the glazing, no dust behind it; lay the package in, points in, seal the back",
        "clean both faces of the glazing, no dust behind it; fit mats, artwork and back, drive the points, "
        "seal the back",
    ),
    ("close the package", "bind mats, artwork and back together with tape"),
    (
        "fix the spacers along the edges of the package",
        "fix the spacers along the edges of the glass",
    ),
    (
        "place it, free to move; left 2, top 2 from the package’s edges, face up",
        "place it, free to move; left 2, top 2 from the glass’s edges, face up",
    ),
    (
        "lay the board with the object in behind the spacers, points in",
        "lay the board with the object in behind the spacers, drive the points",
    ),
)


@pytest.mark.parametrize(("then", "now"), WORDED_THEN_AND_NOW)
def test_a_step_that_is_only_worded_otherwise_is_still_ticked(then: str, now: str) -> None:
    assert asked_the_same(ticked(then), step(now))
    assert asked_the_same(ticked(f"{then}; 1 × mat 1 562"), step(now, part="562"))
    assert not asked_the_same(ticked(f"{then}; 1 × mat 1 562"), step(now, part="560"))
    assert done_otherwise([ticked(then)], [step(now)]) == ()


def test_what_is_said_of_a_wire_that_nobody_chose_is_no_other_step() -> None:
    then = "fix the rings level, both sides alike; 163.5 below the frame’s top edge, 578 between centres; wire about 0.83 m"
    now = "163.5 below the frame’s top edge, 578 between centres"
    level = "fix the hanging parts level, both sides alike"
    assert asked_the_same(ticked(then), step(level, now))
    assert asked_the_same(ticked(then), step(level, f"{now}; no wire"))
    assert not asked_the_same(ticked(then), step(level, now.replace("163.5", "170")))


def test_a_step_ticked_before_it_had_details_is_still_ticked() -> None:
    placing = step("artwork: place it behind the window, held without strain", "left 71, top 71")
    then = "artwork: condition as noted; place it behind the window, held without strain"
    assert asked_the_same(ticked(then), placing)
    hang = step("fix the rings level, both sides alike", "163.5 below the frame’s top edge")
    assert asked_the_same(ticked("fix the hanging parts level, both sides alike"), hang)


@pytest.mark.parametrize(
    ("then", "now"),
    [
        ("set the guide to 76 (pin 70 + 6): mat 2 left", "set the guide to 75 (pin 70, then 5 on the scale): mat 2 left"),
        ("set the guide to 76: mat 2 left", "set the guide to 76: mat 2 left, top"),
        ("turn mat 1, drop the window out, corners clean", "turn mat 2 face up, drop the window out clean"),
        ("size edge to edge: mat 1 562 × 449", "cut the blanks to size: mat 1 560 × 449"),
    ],
)  # fmt: skip
def test_another_figure_is_another_step(then: str, now: str) -> None:
    assert not asked_the_same(ticked(then), step(now))
    assert done_otherwise([ticked(then)], [step(now)]) == (ticked(then),)


def test_a_detail_that_changed_is_another_step_and_a_step_that_is_gone_too() -> None:
    placing = step("place it", "left 71, top 71")
    tick = ticked(words_of(placing))
    assert asked_the_same(tick, placing)
    moved = step("place it", "left 81, top 71")
    assert done_otherwise([tick], [moved]) == (tick,)
    assert done_otherwise([tick], []) == (tick,)
    assert done_otherwise([tick], [replace(placing, id="other")]) == (tick,)
