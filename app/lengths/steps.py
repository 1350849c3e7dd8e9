"""The steps that a shop cuts in.

Owns rounding of a length to a step in each direction. Which part is rounded which way is for
`framing`. Source: L2.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from types import MappingProxyType

from app.lengths.length import ZERO, Length, Unit, inches, mm

ALLOWED_STEPS: Mapping[Unit, tuple[Length, ...]] = MappingProxyType(
    {Unit.MM: (mm("0.5"), mm(1)), Unit.IN: (inches("1/16"), inches("1/32"))}
)
"""What a shop may choose. Source: L2."""

DEFAULT_STEP: Mapping[Unit, Length] = MappingProxyType(
    {unit: steps[0] for unit, steps in ALLOWED_STEPS.items()}
)

_FINEST: Mapping[Unit, Length] = MappingProxyType({Unit.MM: mm("0.1"), Unit.IN: inches("1/64")})
"""As near as a length of the other unit is read between the marks of a scale. Source: ours."""

_HALF = Fraction(1, 2)


@lru_cache(maxsize=4096)
def _nearest(step: Length, length: Length) -> Length:
    """Return the nearest whole step; half-way goes up. The same few lengths are asked for again and again."""
    return step * floor(length / step + _HALF)


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Rounds lengths to whole steps.

    unit: the one that the rounded lengths are shown in. step: more than zero.
    """

    unit: Unit
    step: Length

    def __post_init__(self) -> None:
        if self.step <= ZERO:
            raise ValueError("a step is more than zero")

    def down(self, length: Length) -> Length:
        """Return the largest step that is not above the length."""
        return self.step * floor(length / self.step)

    def up(self, length: Length) -> Length:
        """Return the smallest step that is not below the length."""
        return self.step * ceil(length / self.step)

    def nearest(self, length: Length) -> Length:
        """Return the nearest step; half-way goes up."""
        return _nearest(self.step, length)

    def converted(self, length: Length) -> Length:
        """Return a length as a scale in these steps reads it: itself where it lies on a step; else it comes of the
        other unit and is read between the marks, to the nearest 0.1 mm or 1/64 in (L3).
        """
        return length if self.nearest(length) == length else _nearest(_FINEST[self.unit], length)

    def nearest_half_down(self, length: Length) -> Length:
        """Return the nearest step; half-way goes down."""
        return self.step * ceil(length / self.step - _HALF)
