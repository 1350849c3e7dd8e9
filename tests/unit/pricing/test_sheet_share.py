"""The smallest listed share of a sheet that covers a blank, by halving and stripping (P1).

The sheet is 1200 × 800, so a half is 600 × 800 or 1200 × 400, a quarter 300 × 800, 600 × 400 or 1200
× 200, an eighth 150 × 800, 300 × 400, 600 × 200 or 1200 × 100. Worked by hand.
"""

from fractions import Fraction

import pytest

from app.pricing.sheetshare import blocks, smallest_share
from tests.builders.values import size

SHEET = size(1200, 800)
HALVES = (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), Fraction(1))


@pytest.mark.parametrize(
    ("blank", "share"),
    [
        ((300, 400), "1/8"),
        ((400, 300), "1/8"),  # turned
        ((800, 150), "1/8"),  # a strip, turned
        ((301, 400), "1/4"),
        ((401, 300), "1/4"),  # turned into 300 × 800
        ((600, 400), "1/4"),
        ((401, 401), "1/2"),  # less area than a quarter, but no quarter covers it
        ((600, 800), "1/2"),
        ((1200, 400), "1/2"),
        ((601, 401), "1/2"),  # turned: 401 × 601 lies in 600 × 800
        ((601, 601), "1"),
        ((800, 1200), "1"),
        ((1200, 800), "1"),
    ],
)
def test_a_blank_is_covered_by_the_smallest_share_it_lies_in(
    blank: tuple[int, int], share: str
) -> None:
    assert smallest_share(size(*blank), SHEET, HALVES) == Fraction(share)


@pytest.mark.parametrize("blank", [(1201, 100), (801, 801), (1300, 1300)])
def test_a_blank_larger_than_the_sheet_has_no_share(blank: tuple[int, int]) -> None:
    assert smallest_share(size(*blank), SHEET, HALVES) is None


def test_thirds_and_two_thirds_are_strips() -> None:
    assert set(blocks(Fraction(1, 3), SHEET)) == {size(400, 800), size(1200, "800/3")}
    assert set(blocks(Fraction(2, 3), SHEET)) == {size(800, 800), size(1200, "1600/3")}


def test_three_quarters_is_three_strips_of_four() -> None:
    assert set(blocks(Fraction(3, 4), SHEET)) == {size(900, 800), size(1200, 600)}


def test_only_listed_shares_are_taken() -> None:
    shares = (Fraction(1, 3), Fraction(1))
    assert smallest_share(size(400, 800), SHEET, shares) == Fraction(1, 3)
    assert smallest_share(size(401, 800), SHEET, shares) == 1


@pytest.mark.parametrize("share", ["1/8", "1/6", "3/8", "5/8", "1/12", "1"])
def test_every_block_has_the_area_of_its_share(share: str) -> None:
    found = blocks(Fraction(share), SHEET)
    assert found
    assert {block.area_m2 for block in found} == {SHEET.area_m2 * Fraction(share)}
