"""A shop that set itself up in the wrong currency: figures stay, nothing is converted."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.lengths import mm
from app.money import Money, currency
from app.orders import Shop
from app.orders.change_of_currency import material_in, money_in, shop_in
from app.pricing import MarkupStep, MarkupTable, SizeBand
from tests.builders import worked as prices

EUR, GBP, JPY, BHD = map(currency, ("EUR", "GBP", "JPY", "BHD"))  # 2, 2, 0 and 3 decimals


@pytest.mark.parametrize(
    ("minor", "into", "figure"),
    [
        (1250, GBP, 1250),  # 12.50 EUR is 12.50 GBP
        (1250, JPY, 13),  # 12.5 is half up
        (1249, JPY, 12),
        (1250, BHD, 12500),  # 12.500
        (-1250, GBP, -1250),
        (0, JPY, 0),
    ],
)
def test_a_figure_stays_and_is_rounded_half_up_where_decimals_are_lost(minor, into, figure):
    assert money_in(Money(minor, EUR), into) == Money(figure, into)


def shop(*ends: int, step: Money | None = None) -> Shop:
    """A shop with a markup table whose closed steps end at so many cents."""
    closed = [MarkupStep(up_to=Money(end, EUR), factor=Fraction(3)) for end in ends]
    table = MarkupTable(
        code="M", name="Mouldings", steps=(*closed, MarkupStep(up_to=None, factor=Fraction(2)))
    )
    return replace(prices.SHOP, rounding_step=step, markup_tables=(table,))


def test_a_shop_takes_its_figures_along():
    changed = shop_in(shop(500, 1250, step=Money(5, EUR)), GBP)
    assert changed.currency == GBP
    assert changed.labour.hourly_rate == Money(3600, GBP)  # 36.00
    assert changed.rounding_step == Money(5, GBP)
    [table] = changed.markup_tables
    assert [step.up_to for step in table.steps] == [Money(500, GBP), Money(1250, GBP), None]
    assert [step.factor for step in table.steps] == [3, 3, 2]


def test_a_shop_that_rounds_nothing_rounds_nothing_in_another_currency():
    assert shop_in(shop(), GBP).rounding_step is None


@pytest.mark.parametrize(
    ("ends", "why"),
    [
        # 1.40 and 0.60 are both 1 yen.
        ((60, 140), "up to 0.60 and up to 1.40 would both end at 1"),
        # 0.49 is none.
        ((49, 300), "up to 0.49 would end at 0"),
        ((60, 100, 140), "up to 0.60 and up to 1.00 and up to 1.40 would end at 1"),
    ],
)
def test_steps_that_would_meet_are_named(ends, why):
    with pytest.raises(Invalid) as raised:
        shop_in(shop(*ends), JPY)
    [fault] = raised.value.faults
    assert (fault.path, fault.code) == ("currency", "steps-meet")
    assert fault.message == (
        f"JPY has no decimals: of the markup table “Mouldings” the steps {why}. "
        "Type steps that lie further apart under Settings, Prices, first."
    )


def test_steps_that_stay_apart_are_kept():
    [table] = shop_in(shop(50, 150), JPY).markup_tables  # 0.50 is 1, 1.50 is 2
    assert [step.up_to for step in table.steps] == [Money(1, JPY), Money(2, JPY), None]


def test_a_material_takes_its_cost_its_price_and_its_bands_along():
    ring = material_in(prices.RING, GBP)  # 20.00 a hundred, sold at 0.50
    assert (ring.cost, ring.selling.price) == (Money(2000, GBP), Money(50, GBP))
    board = material_in(prices.BACKING, GBP)  # up to 800 at 4.00, up to 1200 at 6.00
    assert board.charge.bands == (
        SizeBand(up_to=mm(800), price=Money(400, GBP)),
        SizeBand(up_to=mm(1200), price=Money(600, GBP)),
    )
    assert board.selling.price is None
    moulding = material_in(prices.MOULDING, GBP)
    assert (moulding.cost, moulding.selling) == (Money(400, GBP), prices.MOULDING.selling)
