"""Pairs of windows and how far they are apart (G9).

Circles are measured as circles; other ovals, and arches, count as the rectangle around them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor, isqrt
from typing import Protocol

from app.framing.arrangement import Shape
from app.lengths import ZERO, Length, Size


class HasPlace(Protocol):
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

    @property
    def shape(self) -> Shape:
        """The outline in it."""


@dataclass(frozen=True, slots=True)
class Pair[T]:
    """Two of them, in their order.

    across, down: between the rectangles around them; negative by how much they share. bridge: what
    lies between them, negative by how far they overlap; of rectangles that meet corner to corner
    the longer of the two ways round the corner.
    """

    one: T
    other: T
    across: Length
    down: Length
    bridge: Length

    @property
    def cornerwise(self) -> bool:
        """Whether they are rectangles that stand beside each other in neither direction."""
        return self.bridge == max(self.across, self.down) and min(self.across, self.down) > ZERO


def close_pairs[T: HasPlace](placed: Sequence[T], within: Length) -> list[Pair[T]]:
    """Return those no farther apart than a length in either direction, in the order they are given.

    Going from the left, each is held only against those that begin before its own reach ends.
    """
    pairs = []
    for first, second in sorted(_sweep(placed, within)):
        pair = _pair(placed[first], placed[second])
        if pair.bridge <= within:
            pairs.append(pair)
    return pairs


def _pair[T: HasPlace](one: T, other: T) -> Pair[T]:
    across, down = _apart(one, other)
    bridge = _between_circles(one, other) if _circle(one) and _circle(other) else max(across, down)
    return Pair(one=one, other=other, across=across, down=down, bridge=bridge)


def _circle(window: HasPlace) -> bool:
    return window.shape is Shape.OVAL and window.size.width == window.size.height


def _between_circles(one: HasPlace, other: HasPlace) -> Length:
    """Between the outlines of two circles, down to 1/100 mm: middle to middle less both radii."""
    x = other.x + other.size.width / 2 - one.x - one.size.width / 2
    y = other.y + other.size.height / 2 - one.y - one.size.height / 2
    hundredths = isqrt(floor((x.mm**2 + y.mm**2) * 10_000))
    return Length(Fraction(hundredths, 100)) - (one.size.width + other.size.width) / 2


def _sweep(placed: Sequence[HasPlace], within: Length) -> Iterator[tuple[int, int]]:
    """(lower index, higher index) of those whose rectangles are near enough across."""
    order = sorted(range(len(placed)), key=lambda index: placed[index].x)
    for position, left in enumerate(order):
        reach = placed[left].x + placed[left].size.width + within
        for right in order[position + 1 :]:
            if placed[right].x > reach:
                break
            yield min(left, right), max(left, right)


def _apart(one: HasPlace, other: HasPlace) -> tuple[Length, Length]:
    return (
        max(other.x - one.x - one.size.width, one.x - other.x - other.size.width),
        max(other.y - one.y - one.size.height, one.y - other.y - other.size.height),
    )
