"""The exact length and its two units.

Owns the value type that every size is made of. It knows nothing of how a person types a length
(`reading`), how one is shown (`printing`) or cut (`steps`).
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import overload


class Unit(StrEnum):
    """A unit that a piece, a ticket or a shop works in."""

    MM = "mm"
    IN = "in"

    @property
    def other(self) -> "Unit":
        """The one that is not this one."""
        return Unit.IN if self is Unit.MM else Unit.MM

    @property
    def word(self) -> str:
        """Its name, in the plural."""
        return "millimetres" if self is Unit.MM else "inches"


MM_PER_INCH = Fraction(254, 10)
"""Source: L1; international yard and pound agreement of 1959, NIST SP 811 appendix B."""

_MM_IN_UNIT = {Unit.MM: Fraction(1), Unit.IN: MM_PER_INCH}

# What `exact_text` writes. Fraction() itself would also take "1e3", "1_000" and blanks.
_PLAIN_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+|/0*[1-9][0-9]*)?", re.ASCII)

type Number = int | Fraction | Decimal


@dataclass(frozen=True, slots=True, init=False)
class Length:
    """An exact, signed length; lengths of either unit add, subtract and compare exactly.

    mm: millimetres. Floats are refused with TypeError wherever a number is taken.
    """

    mm: Fraction

    # Written out: nothing is made as often as a length, and what a dataclass writes takes twice as long.
    def __init__(self, mm: Fraction) -> None:
        if type(mm) is not Fraction:
            raise TypeError(f"a length is a Fraction of mm, not {type(mm).__name__}")
        _set_mm(self, mm)

    @classmethod
    def of(cls, value: str | Number, unit: Unit) -> "Length":
        """Return a length from a number in a unit, or from its text as `exact_text` writes it.

        Text is a plain decimal or a fraction, as "15.75" or "63/8"; what a person typed is for
        `parse_length`. Raises: ValueError for other text, TypeError for a float.
        """
        return cls(_exact(value) * _MM_IN_UNIT[unit])

    def in_unit(self, unit: Unit) -> Fraction:
        """Return the exact number of mm or inches."""
        return self.mm if unit is Unit.MM else self.mm / MM_PER_INCH

    def __add__(self, other: "Length") -> "Length":
        if not isinstance(other, Length):
            return NotImplemented
        return Length(self.mm + other.mm)

    def __sub__(self, other: "Length") -> "Length":
        if not isinstance(other, Length):
            return NotImplemented
        return Length(self.mm - other.mm)

    # Written out, crosswise: lengths are compared more often than anything else is done with them, and the
    # methods of a dataclass compare tuples of fractions, which takes four times as long.
    def __lt__(self, other: "Length") -> bool:
        if not isinstance(other, Length):
            return NotImplemented
        return _crosswise(self.mm, other.mm) < _crosswise(other.mm, self.mm)

    def __le__(self, other: "Length") -> bool:
        if not isinstance(other, Length):
            return NotImplemented
        return _crosswise(self.mm, other.mm) <= _crosswise(other.mm, self.mm)

    def __gt__(self, other: "Length") -> bool:
        if not isinstance(other, Length):
            return NotImplemented
        return _crosswise(self.mm, other.mm) > _crosswise(other.mm, self.mm)

    def __ge__(self, other: "Length") -> bool:
        if not isinstance(other, Length):
            return NotImplemented
        return _crosswise(self.mm, other.mm) >= _crosswise(other.mm, self.mm)

    def __neg__(self) -> "Length":
        return Length(-self.mm)

    def __abs__(self) -> "Length":
        return Length(abs(self.mm))

    def __mul__(self, factor: int | Fraction) -> "Length":
        if not isinstance(factor, int | Fraction):
            return NotImplemented
        return Length(self.mm * factor)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, divisor: "Length") -> Fraction: ...
    @overload
    def __truediv__(self, divisor: int | Fraction) -> "Length": ...
    def __truediv__(self, divisor: "Length | int | Fraction") -> "Fraction | Length":
        if isinstance(divisor, Length):
            return self.mm / divisor.mm
        if not isinstance(divisor, int | Fraction):
            return NotImplemented
        return Length(self.mm / divisor)

    def __bool__(self) -> bool:
        return bool(self.mm)


_set_mm: Callable[[Length, Fraction], None] = Length.__dict__["mm"].__set__
"""Sets what is frozen ever after."""


def _crosswise(one: Fraction, other: Fraction) -> int:
    """Return the numerator of a fraction over the product of both denominators, which are above zero."""
    return one.numerator * other.denominator


def _exact(value: str | Number) -> Fraction:
    if isinstance(value, str):
        if not _PLAIN_NUMBER.fullmatch(value):
            raise ValueError(f"not a plain decimal or fraction: {value[:40]!r}")
        return Fraction(value)
    if isinstance(value, bool) or not isinstance(value, int | Fraction | Decimal):
        raise TypeError(f"a length is made of an exact number, not {type(value).__name__}")
    return Fraction(value)


ZERO = Length(Fraction(0))


def mm(value: str | Number) -> Length:
    """Return a length in millimetres, as mm("1.4")."""
    return Length.of(value, Unit.MM)


def inches(value: str | Number) -> Length:
    """Return a length in inches, as inches("1/8")."""
    return Length.of(value, Unit.IN)
