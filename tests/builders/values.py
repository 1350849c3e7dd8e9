"""Amounts, sizes and days in few words."""

from collections.abc import Callable, Iterable
from datetime import date
from fractions import Fraction

from app.lengths import Size, mm
from app.money import Money, currency
from app.pricing import Kind, Material

EUR = currency("EUR")
TODAY = date(2026, 11, 25)
"""A Wednesday."""


def euro(text: str) -> Money:
    """euro("14.20")."""
    return Money(int(Fraction(text) * 100), EUR)


def size(width: int | str, height: int | str) -> Size:
    """A size in mm."""
    return Size(mm(width), mm(height))


def finder(book: Iterable[Material]) -> Callable[[str, Kind], Material | None]:
    """Looks a material up by its code and kind."""
    known = {(each.code, each.kind): each for each in book}
    return lambda text, kind: known.get((text, kind))
