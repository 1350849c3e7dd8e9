"""Exact lengths as small whole numbers, for planners and for the solver, and back.

Owns the grid that one plan is reckoned on. The finest grid on which every length of a plan is whole
is exact however fine it is; a library that works in 64 bits needs numbers that stay small, also as
areas, and so may get a coarser one. There parts are rounded up and stock is rounded down: a plan
that holds on the coarse grid holds for the exact lengths. A bound does not; it needs the exact grid.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from app.lengths import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A grid. mm: how long one tick is, above zero."""

    mm: Fraction

    def up(self, length: Length) -> int:
        """Return the fewest ticks that hold a length: for parts, kerfs and trims."""
        return -self.down(-length)

    def down(self, length: Length) -> int:
        """Return the most ticks that a length holds: for stock."""
        return int(length.mm // self.mm)

    def fit(self, length: Length) -> bool:
        """Tell whether a length is a whole number of ticks."""
        return (length.mm / self.mm).denominator == 1

    def length(self, ticks: int) -> Length:
        """Return the length of so many ticks."""
        return Length(self.mm * ticks)


def exact_ticks(lengths: Iterable[Length]) -> Grid:
    """Return the coarsest grid on which every length is whole; one of 1 mm where all are zero.

    It is the greatest common divisor of all, fractions of a mm included.
    """
    numbers = [length.mm for length in lengths if length]
    if not numbers:
        return Grid(mm=Fraction(1))
    return Grid(
        mm=Fraction(
            gcd(*(number.numerator for number in numbers)),
            lcm(*(number.denominator for number in numbers)),
        )
    )


def small_ticks(lengths: Iterable[Length], most: int) -> Grid:
    """Return the exact grid where no length comes to more than so many ticks on it, else a coarser one.

    most: 1 or more. On the coarser grid the longest comes to exactly so many.
    """
    lengths = tuple(lengths)
    exact = exact_ticks(lengths)
    longest = max((abs(length) for length in lengths), default=exact.length(1))
    if longest.mm <= exact.mm * most:
        return exact
    return Grid(mm=longest.mm / most)
