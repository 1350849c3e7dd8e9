"""A frame that is given: ready-made, or the customer's own. It is measured and not made (G24).

Owns what is measured of it, what follows for the package, and the geometry of one that is out of
square. What cannot be is said by `checks`, what is unwise by `notices`.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

from app.lengths import ZERO, Length, Size, mm

DRAWN_FACE, DRAWN_LIP = mm(20), mm(6)
"""How a frame is drawn of which nobody measured face and lip. Source: ours, no size follows from it."""

TAPE = mm(4)
"""By how much a diagonal may miss what sides and the other one leave for it. Source: derived; with sides and
diagonal each read to the millimetre the other one is off by up to (a + b + c)/c mm, below 2.5 for any
rectangle, and a frame is no better than that again.
"""

_GRID = 1_000_000
"""Roots are taken to a millionth of a millimetre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonals:
    """From corner to corner of the rebate: falling from the left top, rising from the left bottom."""

    falling: Length
    rising: Length

    @property
    def difference(self) -> Length:
        """What one has more than the other; zero where the frame is square."""
        return abs(self.falling - self.rising)


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenFrame:
    """What is measured of a frame. rebate: between its walls, along the top and at the left.

    opposite: along the bottom and at the right, where they were measured apart. depth: of the rebate, zero
    where it is not known. outside, face, lip: None where nobody measured. allowance: in all, per dimension.
    own: the customer's; else it is bought ready-made.
    """

    rebate: Size
    allowance: Length
    depth: Length = ZERO
    opposite: Size | None = None
    diagonals: Diagonals | None = None
    outside: Size | None = None
    face: Length | None = None
    lip: Length | None = None
    own: bool = True

    @property
    def counted(self) -> Size:
        """The room that counts: of two opposite sides the smaller. Source: handbook G24."""
        other = self.opposite or self.rebate
        return Size(
            width=min(self.rebate.width, other.width), height=min(self.rebate.height, other.height)
        )

    @property
    def package(self) -> Size:
        """What goes in: the rebate less the allowance. Source: handbook G24."""
        counted = self.counted
        return Size(
            width=counted.width - self.allowance,
            height=counted.height - self.allowance,
        )

    @property
    def known_lip(self) -> Length | None:
        """The lip as measured, else what the outside leaves of the face: face - (outside - rebate)/2 (G12)."""
        if self.lip is not None or self.face is None or self.outside is None:
            return self.lip
        return self.face - (self.outside.width - self.counted.width) / 2

    @property
    def lean(self) -> Length:
        """How far the longer sides are out of square over the shorter ones: what a package with square corners
        needs of allowance, |falling² - rising²| / (4 × longer side).

        Zero where no diagonals were measured. To a millionth of a millimetre. Source: elementary geometry; in a
        parallelogram the squares of the diagonals differ by 4 × a side × how far the others lean along it.
        """
        if self.diagonals is None:
            return ZERO
        falling, rising = self.diagonals.falling.mm, self.diagonals.rising.mm
        longer = max(self.counted.width, self.counted.height)
        lean = abs(falling**2 - rising**2) / (4 * longer.mm)
        return mm(Fraction(round(lean * _GRID), _GRID))

    def rising_by_sides(self) -> Length | None:
        """Return the rising diagonal that the sides and the falling one leave; None where no four sides meet so.

        The falling diagonal makes two triangles with the sides; their other corners are that far apart.
        Source: elementary geometry (law of cosines).
        """
        if self.diagonals is None:
            return None
        falling = self.diagonals.falling.mm
        other = self.opposite or self.rebate
        above = _corner(self.rebate.width.mm, other.height.mm, falling)
        below = _corner(self.rebate.height.mm, other.width.mm, falling)
        if above is None or below is None:
            return None
        (x1, y1), (x2, y2) = above, below
        return mm(_root((x1 - x2) ** 2 + (y1 + y2) ** 2))


def _corner(start: Fraction, end: Fraction, base: Fraction) -> tuple[Fraction, Fraction] | None:
    """Tell where two sides meet over a base, from its start and from the base; None where they do not."""
    along = (start**2 + base**2 - end**2) / (2 * base)
    squared = start**2 - along**2
    return None if squared <= 0 else (along, _root(squared))


def _root(number: Fraction) -> Fraction:
    """Return the square root, rounded down to a millionth."""
    return Fraction(isqrt(int(number * _GRID**2)), _GRID)
