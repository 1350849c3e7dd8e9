"""Lengths as text: exact for programs, as on a scale for people.

Owns every way that a length is written; `reading` reads each of them back.
"""

from fractions import Fraction
from math import floor

from app.lengths.length import Length, Unit
from app.lengths.size import Size

FINEST_FRACTION = 64
"""Inches that are typed so are shown as a fraction down to 1/64, the finest scale in common use (common practice)."""

RULE_FRACTION = 32
"""What lies on no scale of inches is shown to the nearest 1/32, the finest step that a shop cuts in (L2)."""

_SHORT_FROM = {Unit.MM: Fraction(10), Unit.IN: Fraction(1, 2)}
"""From here on a hundredth of a mm, or a thousandth of an inch, is no figure for a person; below it are thicknesses,
kerfs and corrections, which are said so. Source: ours.
"""

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

    Millimetres: a decimal, exact within 2 places; else rounded (half up) without a sign that it was, to 0.1 from 10 mm
    on, and below it to 0.01 where 3 places do not hold it. Inches: whole and fraction in lowest terms where the
    denominator is a power of two up to 64, a decimal where 2 places hold it; else the nearest 1/32 from half an inch on,
    and below it a decimal rounded to 3 places.
    """
    number = abs(length.in_unit(unit))
    text = _mm_text(number) if unit is Unit.MM else _inch_text(number)
    minus = _MINUS if length.mm.numerator < 0 and text != "0" else ""
    return minus + text + (_MARKS[unit] if mark else "")


def show_for_record(length: Length, unit: Unit) -> str:
    """Return a length as notes of what was printed keep it, which are held against later prints by their text (M7).

    A decimal, exact within 3 places, else to 0.01 mm or 0.001 in; inches on a scale as fractions. It never changes.
    """
    number = abs(length.in_unit(unit))
    if unit is Unit.IN and _on_a_scale(number):
        text = _mixed(number)
    else:
        places = _decimal_places(number)
        exact = places is not None and places <= 3
        text = _decimal(
            number, places if exact and places is not None else 2 if unit is Unit.MM else 3
        )
    return (_MINUS if length.mm < 0 and text != "0" else "") + text


def show_on_rule(length: Length, unit: Unit, *, mark: bool = False) -> str:
    """Return a length as it is read off a rule; mark as for `show`.

    Millimetres as `show` has them, but to 0.01 (half away from zero) at most, as 9.53 for 3/8 in. Inches are always a fraction: as they are down to 1/64, else the nearest 1/32
    (half away from zero), since what follows from a moulding in millimetres lies on no inch scale.
    """
    read = as_on_rule(length, unit)
    if unit is Unit.MM:
        return show(read, unit, mark=mark)
    return nearest_fraction_text(read, FINEST_FRACTION) + (_MARKS[unit] if mark else "")


def as_on_rule(length: Length, unit: Unit) -> Length:
    """Return the length that `show_on_rule` writes."""
    if unit is Unit.MM:
        return _to_hundredths(length)
    number = length.in_unit(unit)
    if _on_a_scale(number):
        return length
    nearest = floor(abs(number) * RULE_FRACTION + Fraction(1, 2))
    return Length.of(Fraction(nearest if number >= 0 else -nearest, RULE_FRACTION), unit)


def _to_hundredths(length: Length) -> Length:
    hundredths = floor(abs(length.mm) * 100 + Fraction(1, 2))
    return Length(Fraction(hundredths if length.mm >= 0 else -hundredths, 100))


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
    if places is not None and places <= 2:
        return _decimal(number, places)
    if number >= _SHORT_FROM[Unit.MM]:
        return _decimal(number, 1)
    return _decimal(number, 3 if places == 3 else 2)


def _inch_text(number: Fraction) -> str:
    if _on_a_scale(number):
        return _mixed(number)
    places = _decimal_places(number)
    if number < _SHORT_FROM[Unit.IN] or (places is not None and places <= 2):
        return _decimal(number, 3)
    return _mixed(Fraction(floor(number * RULE_FRACTION + Fraction(1, 2)), RULE_FRACTION))


def _on_a_scale(number: Fraction) -> bool:
    """Tell whether a number of inches is a fraction down to 1/64; a power of two divides 64 exactly when it is one."""
    return FINEST_FRACTION % number.denominator == 0


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
    over = 2 * number.denominator  # in whole numbers: floor(|number| × scale + 1/2)
    whole, rest = divmod((2 * abs(number.numerator) * scale + number.denominator) // over, scale)
    digits = f"{rest:0{places}d}".rstrip("0") if rest else ""
    text = f"{whole}.{digits}" if digits else str(whole)
    return f"-{text}" if number.numerator < 0 and text != "0" else text
