"""Lengths as whole numbers, for integer columns.

A grain is 1/320,000 mm. Both grids that shops work on are whole grains, 1/1000 mm and 1/64 in,
and so are their halves, quarters, eighths and fifths. 10 m is 3.2e9 grains, far inside 64 bits.
"""

from fractions import Fraction

from app.errors import Invalid
from app.lengths.length import Length, Unit
from app.lengths.printing import show

GRAINS_PER_MM = 320_000
"""1/1000 mm is 320 grains; 1/64 in = 0.396875 mm is 127,000 grains."""


def to_grains(length: Length, *, path: str = "length") -> int:
    """Return the whole number of grains in a length. Raises: Invalid where it is not whole."""
    grains = length.mm * GRAINS_PER_MM
    if grains.denominator != 1:
        raise Invalid.at(
            path,
            f"About {show(length, Unit.MM, mark=True)} is too fine to be kept exactly; give it in "
            "whole steps of 1/1000 mm or 1/64 in.",
            "too-fine",
        )
    return grains.numerator


def from_grains(grains: int) -> Length:
    """Return the length of a whole number of grains."""
    return Length(Fraction(grains, GRAINS_PER_MM))
