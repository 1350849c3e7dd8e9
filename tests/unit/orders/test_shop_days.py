"""What stands first in 12/11, by the habits of countries (Unicode CLDR, from memory)."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.days import Calendar, DayOrder
from app.lengths import Unit
from app.orders.shop import usual_shop


@pytest.mark.parametrize(
    ("unit", "currency", "order"),
    [
        (Unit.MM, "EUR", DayOrder.DAY_FIRST),
        (Unit.MM, "USD", DayOrder.DAY_FIRST),
        (Unit.IN, "USD", DayOrder.MONTH_FIRST),
        (Unit.IN, "GBP", DayOrder.DAY_FIRST),
    ],
)
def test_until_the_shop_says_so_it_follows_from_unit_and_currency(
    unit: Unit, currency: str, order: DayOrder
) -> None:
    shop = usual_shop("Ours", unit, currency, Fraction(0))
    assert shop.days is None
    assert shop.day_order is order


def test_what_the_shop_says_holds() -> None:
    shop = replace(usual_shop("Ours", Unit.IN, "USD", Fraction(0)), days=DayOrder.DAY_FIRST)
    today = date(2026, 11, 25)
    assert shop.calendar(today) == Calendar(today=today, order=DayOrder.DAY_FIRST)
