"""Pairs of windows and how far they are apart (G9). Round ones count as the rectangle around them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from app.lengths import ZERO, Length, Size


class Placed(Protocol):
    """Anything with a left-top corner and a size."""

    @property
    def x(self) -> Length:
        """From the left."""

    @property
    def y(self) -> Length:
        """From the top."""

    @property
    def size(self) -> Size:
        """Width and height."""


@dataclass(frozen=True, slots=True)
class Pair[T]:
    """Two of them, in their order. across, down: between them; negative by how much they share."""

    one: T
    other: T
    across: Length
    down: Length

    @property
    def bridge(self) -> Length:
        """What lies between them along the edges; negative by how far they overlap.

        Where they meet corner to corner it is the longer of the two ways round the corner.
        """
        return max(self.across, self.down)

    @property
    def cornerwise(self) -> bool:
        """Whether they stand beside each other in neither direction."""
        return min(self.across, self.down) > ZERO


def close_pairs[T: Placed](placed: Sequence[T], within: Length) -> list[Pair[T]]:
    """Those no farther apart than a length in either direction, in the order they are given.

    Going from the left, each is held only against those that begin before its own reach ends.
    """
    found = sorted(_sweep(placed, within), key=lambda pair: pair[:2])
    return [
        Pair(placed[first], placed[second], across, down) for first, second, across, down in found
    ]


def _sweep(placed: Sequence[Placed], within: Length) -> Iterator[tuple[int, int, Length, Length]]:
    """(lower index, higher index, across, down) of the pairs."""
    order = sorted(range(len(placed)), key=lambda index: placed[index].x)
    for position, left in enumerate(order):
        reach = placed[left].x + placed[left].size.width + within
        for right in order[position + 1 :]:
            if placed[right].x > reach:
                break
            across, down = _apart(placed[left], placed[right])
            if down <= within:
                yield min(left, right), max(left, right), across, down


def _apart(one: Placed, other: Placed) -> tuple[Length, Length]:
    return (
        max(other.x - one.x - one.size.width, one.x - other.x - other.size.width),
        max(other.y - one.y - one.size.height, one.y - other.y - other.size.height),
    )
