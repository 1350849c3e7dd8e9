"""A piece that is changed keeps the prices that were agreed for what stays (P7).

Kept are the materials as they were frozen, their unit prices, the hourly rate and the tax rules, whatever number is
alike. By the rules of the day are the times of the work, the allowance for waste and saw, discount, rush and
rounding: they are worked out of the whole piece, which is another one now.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Invalid
from app.money import Money
from app.orders.dimensions_memo import worked_out
from app.orders.order import Agreed
from app.orders.quoting.reader import FindMaterial, Several
from app.orders.shop import Shop
from app.orders.standalone_plan import opened_alone
from app.pricing import Kind, Material, PriceRules
from app.pricing.as_agreed import AgreedLines
from app.pricing.price import lines_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What a changed piece keeps. rules: of the shop, with what was agreed. lines: see `AgreedLines`."""

    rules: PriceRules
    lines: AgreedLines
    agreed: Agreed


def kept_of(agreed: Agreed, shop: Shop) -> Kept | None:
    """Return what may be kept of an agreed piece; None where the shop's rules leave nothing of it, as in another currency."""
    rules = _rules(agreed, shop)
    if rules is None:
        return None
    try:
        dimensions = worked_out(agreed.spec)
        opened = opened_alone(dimensions, agreed.chosen, shop, agreed.copies)
        anew = lines_of(dimensions, agreed.chosen, rules, opened, agreed.copies)
    except Invalid:
        anew = []
    lines = AgreedLines(agreed=agreed.price.lines, anew=anew, unit=rules.length_unit)
    return Kept(rules=rules, lines=lines, agreed=agreed)


def _rules(agreed: Agreed, shop: Shop) -> PriceRules | None:
    if agreed.price.currency != shop.currency:
        return None
    work = next((line for line in agreed.price.lines if line.is_work), None)
    rate = None if work is None else work.unit_price * 60
    if rate is None or rate.denominator != 1:
        rate = Fraction(shop.labour.hourly_rate.minor)
    try:
        return replace(
            shop.rules,
            length_unit=agreed.spec.unit,
            hourly_rate=Money(rate.numerator, shop.currency),
            tax_rates=agreed.tax_rates,
            tax_policy=agreed.tax_policy,
        )
    except Invalid:
        return None


@dataclass(frozen=True, slots=True)
class FindAsAgreed:
    """Finds the material that a text means; where that is one of the agreed ones, as it was frozen.

    What left the price book is not found: it cannot be bought any more.
    """

    find: FindMaterial
    kept: Kept
    codes: tuple[tuple[str, str], ...] = ()

    def __call__(self, text: str, kind: Kind) -> Material | Several | None:
        """Return the material; else what the price book says of the text."""
        today = self.find(text, kind)
        if not isinstance(today, Material):
            return today
        code = today.code.casefold()
        for _, material in self.kept.agreed.chosen.materials():
            if material.kind is kind and code in self._codes_of(material):
                return material if self._can_be_priced(material) else today
        return today

    def _codes_of(self, material: Material) -> frozenset[str]:
        """Return its code as agreed, and that of today."""
        ours = material.code.casefold()
        return frozenset(
            {ours, *(new.casefold() for old, new in self.codes if old.casefold() == ours)}
        )

    def _can_be_priced(self, material: Material) -> bool:
        """Tell whether the rules still have what its price follows from."""
        table, rules = material.selling.table, self.kept.rules
        return (
            material.cost.currency == rules.currency
            and rules.rate_of(material.tax) is not None
            and (table is None or rules.table_of(table) is not None)
        )
