"""Frames together: blocks, visits, and rails that move without opening a stick."""

from collections import Counter

import pytest

from app.cutting import Stick, StickPart, StickProblem, Together
from app.cutting.sticks.local_search import regrouped
from app.cutting.sticks.model import Load, Rail, task_of, ticks_of
from app.cutting.sticks.together import blocks_of, extra_visits, fewest_blocks
from app.lengths import Unit, mm

STICK = Stick(id="new", length=mm(3000))


def rails(*lengths):
    return tuple(Rail(part=0, ticks=ticks, group="F") for ticks in lengths)


def task(*parts, keep=0, together=Together.PREFERRED):
    """Frames as (name, short side, long side), two rails of each."""
    sides = [
        StickPart(id=f"{name}{side}", length=mm(long), copies=2, group=name)
        for name, *both in parts
        for side, long in zip("wh", both, strict=True)
    ]
    return task_of(
        StickProblem(
            unit=Unit.MM, stock=(STICK,), parts=tuple(sides), keep=mm(keep), together=together
        )
    )


def load(task, *names):
    """The loads of sticks, each by the names of its parts, in order."""
    by_name = {}
    for rail in task.rails:
        by_name.setdefault(task.asked.parts[rail.part].id, []).append(rail)
    return tuple(
        Load(bar=0, rails=tuple(by_name[name].pop() for name in on.split())) for on in names
    )


@pytest.mark.parametrize(
    ("lengths", "room", "blocks"),
    [
        ((5, 5, 4, 4), 18, [18]),
        ((5, 5, 4, 4), 17, [14, 4]),
        ((5, 5, 4, 4), 9, [9, 9]),
        # Longest first alone would make three of these; filling each best makes two.
        ((6, 5, 5, 4, 4, 4), 14, [14, 14]),
        ((7,), 9, [7]),
        # Very many are not weighed against each other: three of 3 in each 10, two at the end.
        ((3,) * 20, 10, [9] * 6 + [6]),
    ],
)
def test_a_frame_is_parted_into_the_fewest_blocks(lengths, room, blocks):
    parted = fewest_blocks(rails(*lengths), room)
    assert [ticks_of(block) for block in parted] == blocks
    assert Counter(rail.ticks for block in parted for rail in block) == Counter(lengths)


def test_blocks_hold_whole_frames_and_single_rails_of_those_that_are_broken():
    asked = task(("F", 500, 800), ("G", 300, 400))
    assert [ticks_of(block) for block in blocks_of(asked)] == [26, 14]
    assert len(blocks_of(asked, broken=["G"])) == 5


def test_visits_count_sticks_beyond_the_least():
    asked = task(("F", 500, 800), ("G", 1200, 1400))
    # F needs one stick and is on two; G, 5200 in all, needs two and is on three.
    loads = load(asked, "Fw Fh Gh", "Fw Fh Gw", "Gw Gh")
    assert extra_visits(asked, loads) == 2


def test_rails_of_one_length_change_frames_without_moving_anything_else():
    asked = task(("F", 500, 1000), ("G", 500, 1000))
    mixed = load(asked, "Fw Fh Gh Gw", "Fh Fw Gw Gh")
    moved = regrouped(asked, mixed, 10_000)
    assert extra_visits(asked, moved) == 0
    assert sorted(each.ticks for each in moved) == sorted(each.ticks for each in mixed)


def test_frames_are_brought_together_by_unlike_rails_too():
    # Whole frames are 2900 and 2700 long; both sticks stay within 3000 all the way.
    asked = task(("F", 650, 800), ("G", 600, 750))
    mixed = load(asked, "Fh Fw Gh Gw", "Fh Fw Gh Gw")
    assert extra_visits(asked, mixed) == 2
    moved = regrouped(asked, mixed, 10_000)
    assert extra_visits(asked, moved) == 0
    assert all(each.ticks <= asked.bars[0].ticks for each in moved)


def test_free_length_is_gathered_on_one_stick():
    # 2 x 900 + 2 x 600 and 2 x 500: apart they leave two times 1000; together 0 and 2000.
    asked = task(("F", 600, 900), ("G", 250, 250), together=Together.NO_MATTER)
    spread = load(asked, "Fh Fw Gw Gh", "Fh Fw Gw Gh")
    assert asked.largest_offcut(spread) == asked.bars[0].ticks // 3
    moved = regrouped(asked, spread, 10_000)
    assert asked.largest_offcut(moved) == asked.bars[0].ticks * 2 // 3


def test_a_stick_that_is_emptied_is_not_opened():
    asked = task(("F", 200, 300))
    moved = regrouped(asked, load(asked, "Fw Fh", "Fw Fh"), 10_000)
    assert [each.ticks for each in moved] == [10]


def test_without_any_effort_everything_stays():
    asked = task(("F", 500, 1000), ("G", 500, 1000))
    mixed = load(asked, "Fw Fh Gh Gw", "Fh Fw Gw Gh")
    assert regrouped(asked, mixed, 0) == mixed


def test_a_group_of_very_many_unlike_rails_is_moved_in_reasonable_steps():
    # Two to the power of 60 ways to part it would never be looked through.
    sides = tuple(StickPart(id=f"r{n}", length=mm(40 + n), group="all") for n in range(60))
    asked = task_of(StickProblem(unit=Unit.MM, stock=(STICK,), parts=sides))
    halves = (Load(bar=0, rails=asked.rails[::2]), Load(bar=0, rails=asked.rails[1::2]))
    moved = regrouped(asked, halves, 100_000)
    assert Counter(rail for each in moved for rail in each.rails) == Counter(asked.rails)
    assert all(each.ticks <= asked.bars[0].ticks for each in moved)
