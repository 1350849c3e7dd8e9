"""What one unit sells for and why, and prices raised by a percentage: hand-worked.

Source: handbook P1, P4 and M1; the arithmetic stands beside each case.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.pricing import Measure, Raised, Selling, charged_in, raised, unit_price
from tests.builders.values import euro
from tests.builders.watercolour import backing, glazing, mat, moulding, rules


def test_a_stick_of_three_metres_for_15_is_5_a_metre_and_sells_at_the_markup() -> None:
    price = unit_price(moulding(), charged_in(moulding()), rules())
    assert price.measure is Measure.METRE
    assert price.cost == 500  # 15.00 / 3 m
    assert price.minor == 1420  # 5.00 × 2.84
    assert price.why_shop == "Cost 5.00 a metre × markup 2.84 = 14.20 a metre."


def test_a_price_given_outright_stands_whatever_the_cost() -> None:
    given = moulding(selling=Selling(price=euro("9.95")))
    price = unit_price(given, Measure.METRE, rules())
    assert price.minor == 995
    assert price.why_shop == "Fixed selling price; cost 5.00 a metre."


def test_each_charge_rule_counts_in_its_own_unit() -> None:
    assert charged_in(glazing()) is Measure.SQUARE_METRE
    assert charged_in(mat()) is Measure.SHEET
    assert charged_in(backing()) is Measure.BAND


def test_a_markup_table_that_is_gone_is_said_at_its_field() -> None:
    with pytest.raises(Invalid) as caught:
        unit_price(mat(selling=Selling(table="gone")), Measure.SHEET, rules())
    assert [fault.path for fault in caught.value.faults] == ["selling.table"]


def test_a_rise_of_five_percent_rounds_half_up_to_the_cent() -> None:
    dearer = raised(moulding(cost=euro("12.30")), Fraction(5, 100), Raised.COST)
    assert dearer.cost == euro("12.92")  # 12.915
    assert dearer.selling == moulding().selling


def test_given_prices_rise_without_the_cost() -> None:
    dearer = raised(backing(), Fraction(1, 10), Raised.PRICE)
    assert [band.price for band in dearer.charge.bands] == [euro("4.40"), euro("6.60")]
    assert dearer.cost == backing().cost
    outright = raised(moulding(selling=Selling(price=euro("20.00"))), -Fraction(1, 4), Raised.BOTH)
    assert outright.selling.price == euro("15.00")
    assert outright.cost == euro("11.25")  # 15.00 less a quarter


def test_a_rise_of_nothing_changes_nothing() -> None:
    for material in (moulding(), mat(), glazing(), backing()):
        assert raised(material, Fraction(0), Raised.BOTH) == replace(material)


@pytest.mark.parametrize(
    ("old", "share", "step", "new"),
    [
        ("14.20", "0.05", "0.10", "14.90"),  # 14.91
        ("14.25", "0.05", "0.10", "15.00"),  # 14.9625, 14.96
        ("14.20", "0.05", "0.50", "15.00"),  # 14.91 lies between 14.50 and 15.00
        ("14.20", "-0.05", "0.10", "13.50"),  # 13.49
        ("14.20", "0.05", "0.00", "14.91"),
        ("3.50", "0.05", "0.50", "3.68"),  # 3.675; the nearest step would leave it at 3.50
        ("0.20", "0.05", "0.50", "0.21"),  # the nearest step would be nothing
        ("14.23", "0.001", "0.10", "14.24"),  # the nearest step, 14.20, would lower it
        (
            "14.36",
            "-0.001",
            "0.10",
            "14.35",
        ),  # 14.34564; half-way away from zero, 14.40, would raise it
    ],
)
def test_a_given_price_stays_in_the_steps_of_the_shop_where_they_are_fine_enough(
    old: str, share: str, step: str, new: str
) -> None:
    fixed = moulding(selling=Selling(price=euro(old)))
    dearer = raised(fixed, Fraction(share), Raised.PRICE, euro(step))
    assert dearer.selling.price == euro(new)


def test_a_cost_is_exact_whatever_the_steps_of_the_shop() -> None:
    fixed = moulding(cost=euro("12.34"), selling=Selling(price=euro("14.20")))
    dearer = raised(fixed, Fraction(5, 100), Raised.BOTH, euro("0.10"))
    assert dearer.cost == euro("12.96")  # 12.957
    assert dearer.selling.price == euro("14.90")  # 14.91
    banded = raised(backing(), Fraction(7, 100), Raised.BOTH, euro("0.50"))
    assert [band.price for band in banded.charge.bands] == [
        euro("4.50"),
        euro("6.50"),
    ]  # 4.28, 6.42
