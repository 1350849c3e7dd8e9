"""Lengths as text: exact for programs, as on a scale for people.

Owns every way that a length is written; `reading` reads each of them back.
"""

from fractions import Fraction
from math import floor

from app.lengths.length import Length, Unit
from app.lengths.size import Size

FINEST_FRACTION = 64
"""Inches are shown as a fraction down to 1/64, the finest scale in common use (common practice)."""

_MARKS = {Unit.MM: " mm", Unit.IN: '"'}
_MINUS = "\N{MINUS SIGN}"
_BY = "\N{MULTIPLICATION SIGN}"


def exact_text(length: Length, unit: Unit) -> str:
    """Return the exact number in a unit: "15.75", or "63/8" style where the decimal does not end.

    Reads back with `Length.of`. Inches that end as a decimal are decimals too: "7.875".
    """
    number = length.in_unit(unit)
    places = _decimal_places(number)
    if places is None:
        return f"{number.numerator}/{number.denominator}"
    return _decimal(number, places)


def show(length: Length, unit: Unit, *, mark: bool = False) -> str:
    """Return a length for people; mark adds " mm" or the inch mark.

    Millimetres: a decimal, exact within 3 places, else rounded (half up) to 0.01 without a sign
    that it was. Inches: whole and fraction in lowest terms where the denominator is a power of two
    up to 64, else a decimal rounded to 3 places.
    """
    number = abs(length.in_unit(unit))
    text = _mm_text(number) if unit is Unit.MM else _inch_text(number)
    minus = _MINUS if length.mm < 0 and text != "0" else ""
    return minus + text + (_MARKS[unit] if mark else "")


def show_on_rule(length: Length, unit: Unit, *, mark: bool = False) -> str:
    """Return a length as it is read off a rule; mark as for `show`.

    Millimetres as `show` has them. Inches are always a fraction: the nearest 1/64 (half away from zero),
    since what follows from a moulding in millimetres lies on no inch scale.
    """
    if unit is Unit.MM:
        return show(length, unit, mark=mark)
    return nearest_fraction_text(length, FINEST_FRACTION) + (_MARKS[unit] if mark else "")


def show_size_on_rule(size: Size, unit: Unit, *, mark: bool = False) -> str:
    """Width x height as they are read off a rule."""
    width, height = show_on_rule(size.width, unit), show_on_rule(size.height, unit, mark=mark)
    return f"{width} {_BY} {height}"


def show_size(size: Size, unit: Unit, *, mark: bool = False) -> str:
    """Width x height for people; one mark at the end is for both."""
    return f"{show(size.width, unit)} {_BY} {show(size.height, unit, mark=mark)}"


def say(value: Length | Size, unit: Unit) -> str:
    """Return a length or a size with its unit, as a sentence has it."""
    if isinstance(value, Size):
        return show_size(value, unit, mark=True)
    return show(value, unit, mark=True)


def say_on_rule(value: Length | Size, unit: Unit) -> str:
    """Return the same as it is read off a rule."""
    if isinstance(value, Size):
        return show_size_on_rule(value, unit, mark=True)
    return show_on_rule(value, unit, mark=True)


def nearest_fraction_text(length: Length, denominator: int = 32) -> str:
    """Return the nearest fraction of an inch (half up), as a check value on a metric ticket.

    denominator: of the scale, 32 for 1/32 in. Source: L3.
    """
    number = abs(length.in_unit(Unit.IN))
    nearest = Fraction(floor(number * denominator + Fraction(1, 2)), denominator)
    return (_MINUS if length.mm < 0 and nearest else "") + _mixed(nearest)


def _mm_text(number: Fraction) -> str:
    places = _decimal_places(number)
    return _decimal(number, places if places is not None and places <= 3 else 2)


def _inch_text(number: Fraction) -> str:
    # A power of two divides 64 exactly when it is one of 1, 2, 4 ... 64.
    return _mixed(number) if FINEST_FRACTION % number.denominator == 0 else _decimal(number, 3)


def _mixed(number: Fraction) -> str:
    whole, rest = divmod(number.numerator, number.denominator)
    if not rest:
        return str(whole)
    fraction = f"{rest}/{number.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def _decimal_places(number: Fraction) -> int | None:
    """Tell how many places write a number exactly; None where its decimal does not end."""
    rest, twos, fives = number.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def _decimal(number: Fraction, places: int) -> str:
    """Return a number rounded (half away from zero) to places, without trailing zeros."""
    scale = int(10**places)
    whole, rest = divmod(floor(abs(number) * scale + Fraction(1, 2)), scale)
    digits = f"{rest:0{places}d}".rstrip("0") if rest else ""
    text = f"{whole}.{digits}" if digits else str(whole)
    return f"-{text}" if number < 0 and text != "0" else text
