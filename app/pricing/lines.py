"""The lines of a price, each of which can say how it came about (P4, P6).

Owns the line as a value and the way from a material's use to its line. Amounts are in the shop's
price mode, with or without tax; costs are without.
"""

from dataclasses import dataclass
from fractions import Fraction

from app.lengths import Unit
from app.money import Currency, Money, TaxRate, round_half_up, show_money
from app.pricing.book import Material
from app.pricing.measure import Measure, in_other, read_in, unit_cost
from app.pricing.opened import OpenedFor
from app.pricing.quantities import CuttingBasis, Quantity, quantity_of
from app.pricing.rules import PriceRules
from app.pricing.sell_price import UnitPrice, unit_price
from app.pricing.uses import LineGroup, Use
from app.pricing.wording import price_in, quantity_text, short_quantity, short_unit, unit_text


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceLine:
    """One line of a piece's price.

    code: of the material, or "work". unit_price: minor units per measure, exact; quantity ×
    unit_price, rounded half up once, and that times copies, is the amount. copies: for how many alike it is
    charged, each with the quantity. together: whether the quantity is that of all that are alike at once, as
    of what is done once. cost: of all, without tax. tax: code of a tax rate.
    settled: the amount with its part of discount, rush and rounding; what tax is worked out on.
    why: sentences for anyone; why_shop: sentences with cost and markup, never for the customer.
    below_cost: what remains of the amount without tax is less than the cost. notice: for the shop.
    """

    code: str
    label: str
    group: LineGroup
    part: str
    quantity: Fraction
    measure: Measure
    unit_price: Fraction
    amount: Money
    settled: Money
    cost: Money
    tax: str
    why: tuple[str, ...]
    why_shop: tuple[str, ...] = ()
    below_cost: bool = False
    notice: str | None = None
    copies: int = 1
    together: bool = False

    @property
    def in_short(self) -> str:
        """Quantity and unit price: "2.44 m × 17.50 a metre", "20 × 2.44 m × 17.50 a metre", "6 min, once"."""
        return self.short_in(Unit.MM)

    def short_in(self, unit: Unit) -> str:
        """Return the same as it is read in a unit: in inches feet stand for metres, "8 ft × 5.33 a foot"."""
        one = self._short_in(unit)
        said = f"{self.copies} × {one}" if self.copies > 1 else one
        if self.together:
            return f"{said}, {'once' if self.is_work else 'all together'}"
        return said

    @property
    def minutes(self) -> Fraction:
        """The work of all that are alike; nothing of a material."""
        return self.quantity * self.copies if self.is_work else Fraction(0)

    def _short_in(self, unit: Unit) -> str:
        if self.measure is Measure.BAND:
            return "by its size"
        quantity = short_quantity(self.quantity, self.measure, unit)
        if self.is_work:
            return quantity
        price = short_unit(self.unit_price, self.amount.currency, self.measure, unit)
        return f"{quantity} × {price}"

    @property
    def is_work(self) -> bool:
        """Whether it is the labour; its quantity is in minutes."""
        return self.group is LineGroup.LABOUR


def material_line(
    use: Use, rules: PriceRules, opened: OpenedFor | None = None, copies: int = 1
) -> PriceLine:
    """Return the line of one material in a piece. The rules know its table and its tax rate.

    opened: for this use, where the material is charged by what a plan opens; it is of all copies at once, any
    other quantity is taken, with its minimum and its rounding, for each.

    Source: handbook P4, P6, P11.
    """
    each = 1 if opened else copies
    material, currency = use.material, rules.currency
    cutting = CuttingBasis(
        unit=rules.length_unit, saw_loss=rules.saw_loss, opened=opened, copies=copies
    )
    quantity = quantity_of(use, cutting)
    unit = _unit_price(material, quantity, rules)
    one = rounded(quantity.quantity * unit.minor, currency)
    cost = rounded(quantity.spent * unit_cost(material, quantity.spent_measure), currency)
    amount = one * each
    return PriceLine(
        code=material.code,
        label=material.name,
        group=use.group,
        part=use.part,
        quantity=quantity.quantity,
        measure=quantity.measure,
        unit_price=unit.minor,
        amount=amount,
        settled=amount,
        cost=cost * each,
        tax=material.tax,
        why=(
            *quantity.how,
            product_text(quantity.quantity, quantity.measure, unit.minor, one, rules.length_unit),
            *times_text(each, one),
        ),
        why_shop=(
            unit.why_shop,
            f"Cost {show_money(cost * each)}.",
            *quantity.checks,
        ),
        below_cost=without_tax(one, rules.rate_of(material.tax), rules) < cost.minor,
        notice=quantity.notice,
        copies=each,
        together=each < copies,
    )


def _unit_price(material: Material, quantity: Quantity, rules: PriceRules) -> UnitPrice:
    """Return the sell price of one unit: of the band, outright, or cost × markup (P4)."""
    if quantity.price is None:
        return unit_price(material, quantity.measure, rules)
    return UnitPrice(
        minor=Fraction(quantity.price.minor),
        measure=quantity.measure,
        cost=unit_cost(material, quantity.spent_measure),
        why_shop=_band_cost(quantity, rules.length_unit),
    )


def _band_cost(quantity: Quantity, unit: Unit) -> str:
    read = read_in(quantity.spent_measure, unit)
    spent = quantity_text(in_other(quantity.spent, quantity.spent_measure, read), read)
    return f"Price from the size table; its cost is worked out from {spent}."


def rounded(minor: Fraction, currency: Currency) -> Money:
    """Return an exact number of minor units as money, half up. Source: M1."""
    return Money(round_half_up(minor), currency)


def without_tax(amount: Money, rate: TaxRate | None, rules: PriceRules) -> Fraction:
    """Return what an amount in the shop's price mode is without tax, in minor units, exact."""
    if rate is None or not rules.tax_policy.included:
        return Fraction(amount.minor)
    return amount.minor / (1 + rate.percent)


def product_text(
    quantity: Fraction, measure: Measure, minor: Fraction, amount: Money, unit: Unit
) -> str:
    """ "2.22 m × 14.20 a metre = 31.52."; in inches in feet."""
    minor, read = price_in(minor, measure, unit)
    quantity = in_other(quantity, measure, read)
    price = unit_text(minor, amount.currency, read)
    return f"{quantity_text(quantity, read, minor)} × {price} = {show_money(amount)}."


def times_text(copies: int, one: Money) -> tuple[str, ...]:
    """As "20 × 31.52 = 630.40."; nothing for a single one."""
    if copies == 1:
        return ()
    return (f"{copies} × {show_money(one)} = {show_money(one * copies)}.",)
