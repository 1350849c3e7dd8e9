"""What a price says of itself can be worked out again from the figures that are read."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from app.money import currency
from app.pricing.measure import Measure
from app.pricing.wording import quantity_text, short_quantity, short_unit


def worked_out(shown: str, price: int) -> int:
    """A printed quantity times a price in minor units, half up, as with a desk calculator."""
    product = Decimal(shown.split(maxsplit=1)[0]) * price
    return int(product.quantize(Decimal(1), rounding=ROUND_HALF_UP))


@pytest.mark.parametrize(
    ("quantity", "measure", "price", "expected"),
    [
        # 0.542 × 0.429 m with 15 % = 0.2673957 m², at 260.00 69.52; 0.267 would make 69.42
        (Fraction("0.2673957"), Measure.SQUARE_METRE, 26000, "0.2674 m²"),
        (Fraction("2.4"), Measure.METRE, 1953, "2.4 m"),
        (Fraction("0.252"), Measure.SQUARE_METRE, 5000, "0.252 m²"),
        # 62.52 min at 36.00 an hour are 37.51; 62.5 would make 37.50
        (Fraction("62.52"), Measure.MINUTE, 60, "62.52 min"),
        (Fraction(5, 32), Measure.SHEET, 9600, "5/32 sheet"),
        # 594 × 494 of 1200 × 1000 = 0.24453 of a sheet, at 40.00 9.78; 0.245 would make 9.80
        (Fraction("0.24453"), Measure.SHEET, 4000, "0.2445 sheet"),
        (Fraction("1.5"), Measure.SHEET, 4000, "1.5 sheets"),
    ],
)
def test_a_quantity_shows_the_decimals_that_its_amount_needs(
    quantity: Fraction, measure: Measure, price: int, expected: str
) -> None:
    assert quantity_text(quantity, measure, Fraction(price)) == expected


@example(Fraction(4989, 99700), 49890, Measure.METRE)  # six decimals end on a nought
@given(
    st.fractions(Fraction(1, 1000), 20, max_denominator=10**7),
    st.integers(1, 90_000),
    st.sampled_from([Measure.METRE, Measure.SQUARE_METRE, Measure.SQUARE_FOOT, Measure.MINUTE]),
)
def test_the_quantity_that_is_read_times_the_price_is_the_amount(
    quantity: Fraction, price: int, measure: Measure
) -> None:
    exact = int(quantity * price + Fraction(1, 2))
    shown = quantity_text(quantity, measure, Fraction(price))
    read = Fraction(shown.split(maxsplit=1)[0])
    six_decimals = Fraction(int(quantity * 10**6 + Fraction(1, 2)), 10**6)
    assert read == six_decimals or worked_out(shown, price) == exact


def test_a_quantity_without_its_price_is_short() -> None:
    assert quantity_text(Fraction("0.2673957"), Measure.SQUARE_METRE) == "0.267 m²"
    assert quantity_text(Fraction("61.09"), Measure.MINUTE) == "61.1 min"


@pytest.mark.parametrize(
    ("quantity", "measure", "shown"),
    [
        (Fraction("5.5774"), Measure.FOOT, "5.58 ft"),
        (Fraction("0.13524"), Measure.SQUARE_METRE, "0.14 m²"),
        (Fraction("2.4"), Measure.METRE, "2.4 m"),
        (Fraction("0.0042"), Measure.SQUARE_METRE, "0.004 m²"),
        (Fraction("39.98"), Measure.MINUTE, "40 min"),
        (Fraction("62.5"), Measure.MINUTE, "63 min"),  # half up
        (Fraction("0.2"), Measure.MINUTE, "1 min"),
        (Fraction(5, 32), Measure.SHEET, "5/32 sheet"),
        (Fraction("0.24453"), Measure.SHEET, "0.24 sheet"),
        (Fraction(20), Measure.EACH, "20"),
    ],
)
def test_a_line_shows_its_quantity_short(quantity: Fraction, measure: Measure, shown: str) -> None:
    assert short_quantity(quantity, measure) == shown


@pytest.mark.parametrize(
    ("minor", "shown"),
    [
        (Fraction("2596.08"), "25.96 a m²"),
        (Fraction("8368.3"), "83.68 a m²"),
        (Fraction(1420), "14.20 a m²"),
        (Fraction("9.6"), "0.096 a m²"),
        (Fraction("2.4"), "0.024 a m²"),
    ],
)
def test_a_line_shows_its_price_in_whole_minor_units(minor: Fraction, shown: str) -> None:
    assert short_unit(minor, currency("EUR"), Measure.SQUARE_METRE) == shown


@given(
    st.fractions(Fraction(1, 100), 10**4, max_denominator=10**7),
    st.sampled_from([each for each in Measure if each is not Measure.SHEET]),
)
def test_no_quantity_of_a_line_has_more_than_two_decimals(
    quantity: Fraction, measure: Measure
) -> None:
    number = short_quantity(quantity, measure).split()[0].replace(",", "")
    whole, _, decimals = number.partition(".")
    assert len(decimals) <= (0 if measure is Measure.MINUTE else 2)
    assert abs(Fraction(number) - quantity) <= (
        1 if measure is Measure.MINUTE else Fraction(1, 200)
    )
    assert whole == str(int(whole))
