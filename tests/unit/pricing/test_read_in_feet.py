"""A price line is read in the unit of its piece; the amount is the same. 1 ft = 0.3048 m exactly (1959)."""

from fractions import Fraction

import pytest

from app.lengths import Unit
from app.pricing.measure import Measure, in_other, read_in
from app.pricing.wording import short_quantity, short_unit
from tests.builders.values import EUR


@pytest.mark.parametrize(
    ("quantity", "measure", "in_mm", "in_inches"),
    [
        (Fraction("2.44"), Measure.METRE, "2.44 m", "8.01 ft"),  # 8.0052
        (Fraction("0.2405"), Measure.SQUARE_METRE, "0.24 m²", "2.59 sq ft"),  # 2.5887
        (Fraction("5.5"), Measure.FOOT, "5.5 ft", "5.5 ft"),
        (Fraction(92, 3), Measure.MINUTE, "31 min", "31 min"),
        (Fraction(1, 4), Measure.SHEET, "1/4 sheet", "1/4 sheet"),
    ],
)
def test_a_quantity_is_read_in_the_unit_of_the_page(
    quantity: Fraction, measure: Measure, in_mm: str, in_inches: str
) -> None:
    assert short_quantity(quantity, measure) == in_mm
    assert short_quantity(quantity, measure, Unit.IN) == in_inches


def test_a_price_is_of_the_same_unit() -> None:
    """1484.67 cents a metre × 0.3048 = 452.53 a foot; 6160 a m² × 0.09290304 = 572.28 a sq ft."""
    a_metre = Fraction("1484.67")
    assert short_unit(a_metre, EUR, Measure.METRE) == "14.85 a metre"
    assert short_unit(a_metre, EUR, Measure.METRE, Unit.IN) == "4.53 a foot"
    assert short_unit(Fraction(6160), EUR, Measure.SQUARE_METRE, Unit.IN) == "5.72 a sq ft"


def test_quantity_and_price_come_to_the_same_amount() -> None:
    foot = read_in(Measure.METRE, Unit.IN)
    assert in_other(Fraction("3.048"), Measure.METRE, foot) == 10
    assert in_other(Fraction(10), foot, Measure.METRE) == Fraction("3.048")
