"""The shop's own amounts carried over to another currency, figure by figure.

For a shop that set itself up in the wrong currency: 12.50 stays 12.50, nothing is converted. What was
quoted or ordered stays in the currency in which it was agreed.
"""

from dataclasses import replace
from fractions import Fraction

from app.money import Currency, Money
from app.orders.shop import Shop
from app.pricing import MarkupTable, Material


def money_in(money: Money, currency: Currency) -> Money:
    """The same figure in another currency, half up where that has fewer decimals."""
    places = Fraction(currency.minor_per_unit, money.currency.minor_per_unit)
    return Money(Money(money.minor, currency).times(places).minor, currency)


def shop_in(shop: Shop, currency: Currency) -> Shop:
    """The shop with its hourly rate, rounding step and markup tables in another currency."""
    step = shop.rounding_step
    return replace(
        shop,
        currency=currency,
        labour=replace(shop.labour, hourly_rate=money_in(shop.labour.hourly_rate, currency)),
        rounding_step=None if step is None else money_in(step, currency),
        markup_tables=tuple(_table_in(table, currency) for table in shop.markup_tables),
    )


def _table_in(table: MarkupTable, currency: Currency) -> MarkupTable:
    steps = (
        replace(step, up_to=None if step.up_to is None else money_in(step.up_to, currency))
        for step in table.steps
    )
    return replace(table, steps=tuple(steps))


def material_in(material: Material, currency: Currency) -> Material:
    """A material with its cost and its prices in another currency."""
    price = material.selling.price
    bands = (replace(band, price=money_in(band.price, currency)) for band in material.charge.bands)
    return replace(
        material,
        cost=money_in(material.cost, currency),
        charge=replace(material.charge, bands=tuple(bands)),
        selling=replace(
            material.selling, price=None if price is None else money_in(price, currency)
        ),
    )
