"""What it means that the rails of a frame are together (C1): blocks, and visits to sticks.

Owns how a frame is parted where no stick holds it whole, and how far a plan is from keeping all
frames together. It moves no rail; `regroup` does.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from app.cutting.sticks.model import Block, Load, Task

MOST_SUMS = 4096
"""How many fillings of one stick are weighed against each other at once. Source: ours."""


MOST_WEIGHED = 16
"""Of how many rails in one group fillings are weighed; of more, they go where there is room, longest
first. Source: ours; a frame has four, two frames in one another eight."""


def single_rails(task: Task) -> tuple[Block, ...]:
    """Return every rail for itself, longest first."""
    return tuple((rail,) for rail in task.rails)


def blocks_of(task: Task, broken: Iterable[str] = ()) -> tuple[Block, ...]:
    """Return each frame whole, or in the fewest blocks that the longest stick holds; other rails single.

    broken: frames that come in single rails all the same.
    """
    apart = {"", *broken}
    whole = [rails for group, rails in task.groups.items() if group not in apart]
    single = [(rail,) for rail in task.rails if rail.group in apart]
    return (*(block for rails in whole for block in fewest_blocks(rails, task.longest)), *single)


def fewest_blocks(rails: Block, room: int) -> tuple[Block, ...]:
    """Rails in the fewest blocks of so many ticks, each rail being known to fit.

    Fills one block after the other as full as can be, with the longest rail that is left in it. For
    the four rails of a frame that is the fewest; for a dozen unlike rails it may be one more.
    """
    rails = tuple(sorted(rails, key=lambda rail: -rail.ticks))
    parted = _fewest(tuple(rail.ticks for rail in rails), room)
    return tuple(tuple(rails[place] for place in places) for places in parted)


@lru_cache(maxsize=4096)
def _fewest(lengths: tuple[int, ...], room: int) -> tuple[tuple[int, ...], ...]:
    """Return the places of the lengths, longest first, in the fewest blocks."""
    if len(lengths) > MOST_WEIGHED:
        return _first_fit(lengths, room)
    left = list(range(len(lengths)))
    blocks = []
    while left:
        block = tuple(left[place] for place in _fullest([lengths[each] for each in left], room))
        blocks.append(block)
        left = [place for place in left if place not in block]
    return tuple(blocks)


def _first_fit(lengths: Sequence[int], room: int) -> tuple[tuple[int, ...], ...]:
    blocks: list[list[int]] = []
    rooms: list[int] = []
    for place, ticks in enumerate(lengths):
        block = next((each for each, free in enumerate(rooms) if free >= ticks), len(rooms))
        if block == len(rooms):
            blocks.append([])
            rooms.append(room)
        blocks[block].append(place)
        rooms[block] -= ticks
    return tuple(map(tuple, blocks))


def extra_visits(task: Task, loads: Iterable[Load]) -> int:
    """Tell how many more sticks the frames are spread over than they need: 0 where all are together."""
    visited: dict[str, int] = {}
    for load in loads:
        for group in {rail.group for rail in load.rails if rail.group}:
            visited[group] = visited.get(group, 0) + 1
    least = least_visits(task)
    return sum(visits - least[group] for group, visits in visited.items())


def least_visits(task: Task) -> dict[str, int]:
    """Return the fewest sticks that the rails of each frame need, by group."""
    room = task.longest
    return {group: len(fewest_blocks(rails, room)) for group, rails in task.groups.items()}


def _fullest(lengths: Sequence[int], room: int) -> tuple[int, ...]:
    """Return the places of the first length and of others that fill the room best with it."""
    sums: dict[int, tuple[int, ...]] = {lengths[0]: (0,)}
    for place, ticks in enumerate(lengths[1:], start=1):
        for total, places in list(sums.items()):
            if total + ticks <= room and len(sums) < MOST_SUMS:
                sums.setdefault(total + ticks, (*places, place))
    return sums[max(sums)]
