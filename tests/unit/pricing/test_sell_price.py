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
    assert price.why_shop == "Sell price given outright; cost 5.00 a metre."


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
