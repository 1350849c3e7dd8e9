"""Currencies and their minor units."""

from datetime import date

import pytest
from babel.core import get_global
from babel.numbers import get_territory_currencies

from app.errors import Invalid
from app.money import CURRENCIES, currency
from tests.cases import case


@pytest.mark.parametrize(
    ("code", "digits"),
    # Source: ISO 4217.
    [(code, int(digits)) for digits, codes in case("minor").expected.items() for code in codes],
)
def test_minor_units_are_those_of_the_standard(code: str, digits: int) -> None:
    assert currency(code).digits == digits
    assert currency(code).minor_per_unit == 10**digits


def test_every_money_in_use_in_a_territory_is_listed() -> None:
    # Source: Unicode CLDR territory currencies, an independent table. Bulgaria took the euro on
    # 1 January 2026, which older releases of it do not know.
    day = date(2026, 1, 1)
    in_use = {
        code
        for territory in get_global("territory_currencies")
        for code in get_territory_currencies(territory, day, day)
    }
    assert len(in_use) > 140
    assert in_use - set(CURRENCIES) <= {"BGN"}


@pytest.mark.parametrize("code", ["DEM", "HRK", "ANG", "ZWL", "XAU", "XXX", "XTS"])
def test_withdrawn_codes_and_codes_without_minor_unit_are_left_out(code: str) -> None:
    # Source: ISO 4217 lists one and three.
    assert code not in CURRENCIES


def test_a_code_is_read_in_either_case() -> None:
    assert currency(" eur ") is CURRENCIES["EUR"]


@pytest.mark.parametrize("code", ["", "EURO", "€", "DEM", "E" * 10_000])
def test_an_unknown_code_says_what_is_wanted(code: str) -> None:
    with pytest.raises(Invalid, match="type three letters such as EUR") as caught:
        currency(code, path="shop.currency")
    assert caught.value.faults[0].path == "shop.currency"
    assert len(caught.value.message) < 160
