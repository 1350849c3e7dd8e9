"""Which fraction of a sheet covers a blank (P1, by sheet share).

A sheet is ruled into n equal cells, a columns × b rows for every a × b = n; a share of k/n is a block
of k cells. So a half is the sheet halved along either side, a quarter four strips or a 2 × 2 cell,
two thirds a block of two strips of three: what a knife takes off edge to edge. A share covers
a blank when the blank lies inside such a block, straight or turned.
"""

from fractions import Fraction
from functools import lru_cache

from app.lengths import Length, Size


@lru_cache(maxsize=256)
def blocks(share: Fraction, sheet: Size) -> tuple[Size, ...]:
    """Return every block of the sheet that is that share of it, edge to edge."""
    cells, in_all = share.numerator, share.denominator
    return tuple(
        Size(sheet.width * Fraction(wide, columns), sheet.height * Fraction(high, rows))
        for columns, rows in _pairs(in_all)
        for wide, high in _pairs(cells)
        if wide <= columns and high <= rows
    )


def fits(blank: Size, stock: Size) -> bool:
    """Tell whether a blank lies inside a stock size, straight or turned."""
    return any(
        one.width <= stock.width and one.height <= stock.height for one in (blank, blank.turned())
    )


type Sides = tuple[Length, Length]
"""The shorter and the longer side of a block."""


@lru_cache(maxsize=64)
def ruled(
    sheet: Size, shares: tuple[Fraction, ...]
) -> tuple[tuple[Fraction, tuple[Sides, ...]], ...]:
    """Return each share with the sides of its blocks: every key of a quote asks for the same sheets."""
    return tuple((share, tuple(map(_sides, blocks(share, sheet)))) for share in shares)


def _sides(size: Size) -> Sides:
    return min(size.width, size.height), max(size.width, size.height)


def smallest_share(blank: Size, sheet: Size, shares: tuple[Fraction, ...]) -> Fraction | None:
    """Return the smallest listed share that covers a blank; None when the whole sheet does not.

    One rectangle lies in another, straight or turned, where its shorter side is no longer than the other's shorter
    side and its longer side no longer than the other's longer side.
    """
    short, long = _sides(blank)
    for share, sides in ruled(sheet, shares):
        if any(short <= shorter and long <= longer for shorter, longer in sides):
            return share
    return None


def sheets_by_area(blank: Size, sheet: Size) -> Fraction:
    """Return how many sheets a blank that no sheet covers counts as: one, or its area where that is more."""
    return max(Fraction(1), blank.area_m2 / sheet.area_m2)


def _pairs(number: int) -> tuple[tuple[int, int], ...]:
    return tuple((each, number // each) for each in range(1, number + 1) if number % each == 0)
