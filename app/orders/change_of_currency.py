"""The shop's own amounts carried over to another currency, figure by figure.

For a shop that set itself up in the wrong currency: 12.50 stays 12.50, nothing is converted. What was
quoted or ordered stays in the currency in which it was agreed.
"""

from dataclasses import replace
from fractions import Fraction

from app.errors import FaultCollector
from app.money import Currency, Money, show_money
from app.orders.shop import Shop
from app.pricing import MarkupTable, Material


def money_in(money: Money, currency: Currency) -> Money:
    """Return the same figure in another currency, half up where that has fewer decimals."""
    places = Fraction(currency.minor_per_unit, money.currency.minor_per_unit)
    return Money(Money(money.minor, currency).times(places).minor, currency)


def shop_in(shop: Shop, currency: Currency) -> Shop:
    """Return the shop with its hourly rate, rounding step and markup tables in another currency.

    Raises: Invalid at "currency" where it has too few decimals to keep the steps of a markup table apart.
    """
    faults = FaultCollector()
    for table in shop.markup_tables:
        if met := _steps_that_meet(table, currency):
            faults.add("currency", met, "steps-meet")
    faults.finish()
    step = shop.rounding_step
    return replace(
        shop,
        currency=currency,
        labour=replace(shop.labour, hourly_rate=money_in(shop.labour.hourly_rate, currency)),
        rounding_step=None if step is None else money_in(step, currency),
        markup_tables=tuple(_table_in(table, currency) for table in shop.markup_tables),
    )


def _steps_that_meet(table: MarkupTable, currency: Currency) -> str:
    """Return a sentence where steps would end at the same figure, or at none; empty where none do."""
    ends: dict[int, list[str]] = {0: []}
    for step in table.steps:
        if step.up_to is not None:
            ends.setdefault(money_in(step.up_to, currency).minor, []).append(show_money(step.up_to))
    lost = [
        f"up to {' and up to '.join(typed)} would {'both ' if len(typed) == 2 else ''}end at "
        f"{show_money(Money(minor, currency))}"
        for minor, typed in ends.items()
        if len(typed) > 1 or (typed and not minor)
    ]
    if not lost:
        return ""
    decimals = {0: "no decimals", 1: "one decimal"}.get(
        currency.digits, f"{currency.digits} decimals"
    )
    return (
        f"{currency.code} has {decimals}: of the markup table “{table.name}” the steps "
        f"{'; '.join(lost)}. Type steps that lie further apart under Settings, Prices, first."
    )


def _table_in(table: MarkupTable, currency: Currency) -> MarkupTable:
    steps = (
        replace(step, up_to=None if step.up_to is None else money_in(step.up_to, currency))
        for step in table.steps
    )
    return replace(table, steps=tuple(steps))


def material_in(material: Material, currency: Currency) -> Material:
    """Return a material with its cost and its prices in another currency."""
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
