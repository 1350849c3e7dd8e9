"""What one unit of a material sells for, and why: for a line of a price and for the price book (P4).

Amounts are in the shop's price mode, with or without tax; costs are without.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Self

from app.errors import Invalid
from app.lengths import Unit
from app.pricing.book import ChargeBy, Material
from app.pricing.measure import Measure, area_measure, length_measure, unit_cost
from app.pricing.rules import PriceRules
from app.pricing.wording import decimal, price_in, unit_text


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPrice:
    """The price of one unit in minor units, exact, and the shop's sentence on how it came about."""

    minor: Fraction
    measure: Measure
    cost: Fraction
    why_shop: str

    def read_in(self, unit: Unit) -> Self:
        """Return the same price in the measure that people read in a unit: a foot for a metre in inches."""
        minor, measure = price_in(self.minor, self.measure, unit)
        cost, _ = price_in(self.cost, self.measure, unit)
        return replace(self, minor=minor, measure=measure, cost=cost)


def charged_in(material: Material) -> Measure:
    """Return the unit that a material's charge rule counts in (P1)."""
    match material.charge.by:
        case ChargeBy.LENGTH:
            return length_measure(material.per)
        case ChargeBy.AREA:
            return area_measure(material.per)
        case ChargeBy.SHEET_SHARE:
            return Measure.SHEET
        case ChargeBy.SIZE_BAND:
            return Measure.BAND
        case ChargeBy.EACH:
            return Measure.EACH
        case ChargeBy.OPENED:
            return Measure.SHEET if material.kind.is_sheet else length_measure(material.per)


def unit_price(material: Material, measure: Measure, rules: PriceRules) -> UnitPrice:
    """Return the sell price of one unit, given outright or cost × markup (P4).

    For what has a way of selling; a size band has its own prices. Raises: Invalid at
    "selling.table" for a markup table that the rules do not have.
    """
    currency, selling = rules.currency, material.selling
    cost = unit_cost(material, measure)
    said, read = price_in(cost, measure, rules.length_unit)
    cost_text = unit_text(said, currency, read)
    if selling.price is not None:
        minor = Fraction(selling.price.minor)
        why = f"Fixed selling price; cost {cost_text}."
        return UnitPrice(minor=minor, measure=measure, cost=cost, why_shop=why)
    factor, name = _factor(material, cost, rules)
    price = unit_text(said * factor, currency, read)
    why = f"Cost {cost_text} × {name} {decimal(factor)} = {price}."
    return UnitPrice(minor=cost * factor, measure=measure, cost=cost, why_shop=why)


def _factor(material: Material, cost: Fraction, rules: PriceRules) -> tuple[Fraction, str]:
    """Return the markup and what it is called. Source: P4."""
    if material.selling.table is None:
        assert material.selling.markup is not None, "a material has one way of selling"
        return material.selling.markup, "markup"
    table = rules.table_of(material.selling.table)
    if table is None:
        raise Invalid.at("selling.table", rules.no_such_table(material.selling.table))
    return table.factor_for(cost), f"markup of {table.code}"
