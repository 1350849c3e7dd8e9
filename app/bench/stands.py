"""What has to be set on a cutter, what setting it takes, and what is left to do after it.

A stand is one place of the guide and of each stop on the bar; a chain is a sequence of groups of stands, all of a
group before the next begins. All numbers are whole. It knows nothing of mats.
"""

from collections.abc import Iterator, Sequence
from functools import reduce
from itertools import pairwise
from operator import and_, ne
from typing import NamedTuple


class Stand(NamedTuple):
    """Where the guide stands and each stop of the cutter: none, one, or the near and the far one."""

    at: int
    stops: tuple[int, ...] = ()


class Cost(NamedTuple):
    """Moves of the guide and of the stops, and the travel of the guide; compared in that order."""

    moves: int
    stop_moves: int
    travel: int

    def plus(self, other: "Cost") -> "Cost":
        """Return both together."""
        return Cost(
            self.moves + other.moves,
            self.stop_moves + other.stop_moves,
            self.travel + other.travel,
        )


NOTHING = Cost(0, 0, 0)

type Group = frozenset[Stand]
type Chain = tuple[Group, ...]
type Masks = tuple[int, ...]
"""What is left of a chain, group by group: bit n stands for the n-th stand; () when done."""
type Todo = tuple[Masks, ...]
"""What is left of every chain, each in its place."""


class Begun(NamedTuple):
    """An order that is begun: stands one after the other, and what is left to cut after the last of them."""

    order: tuple[Stand, ...]
    todo: Todo


def step_cost(before: Stand | None, stand: Stand, start: int) -> Cost:
    """Return what it takes from one stand to the next. before: None at the very first, where all has to be set."""
    if before is None:
        return Cost(1, len(stand.stops), abs(stand.at - start))
    return Cost(
        int(before.at != stand.at),
        sum(map(ne, before.stops, stand.stops)) if stand.stops else 0,
        abs(stand.at - before.at),
    )


def cost_of(order: Sequence[Stand], start: int) -> Cost:
    """Return what an order takes from where the guide stands."""
    if not order:
        return NOTHING
    moves, stop_moves, travel = step_cost(None, order[0], start)
    for one, other in pairwise(order):
        if one.at != other.at:
            moves += 1
            travel += abs(other.at - one.at)
        stop_moves += sum(map(ne, one.stops, other.stops))
    return Cost(moves, stop_moves, travel)


def served(chain: Masks, bit: int) -> Masks:
    """Return what is left of a chain after a stand; a group that is complete lets the next one begin there."""
    while chain and chain[0] & bit:
        left = chain[0] ^ bit
        if left:
            return (left, *chain[1:])
        chain = chain[1:]
    return chain


def in_first_groups(todo: Todo) -> int:
    """Return the stands, as bits, at which something can be cut now."""
    stands = 0
    for chain in todo:
        stands |= chain[0] if chain else 0
    return stands


def in_later_groups(todo: Todo) -> int:
    """Return the stands, as bits, at which something waits for another mat."""
    stands = 0
    for chain in todo:
        for group in chain[1:]:
            stands |= group
    return stands


def in_all(masks: Sequence[int]) -> int:
    """Return the bits that are set in every mask; none where there is no mask."""
    return reduce(and_, masks) if masks else 0


def numbers_in(mask: int) -> Iterator[int]:
    """Yield the numbers of the bits that are set, rising."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
