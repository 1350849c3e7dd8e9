"""The price of a piece, from its dimensions, its materials and the shop's rules (P6).

Owns the result and the order of the steps: lines, then discount, rush and rounding, then tax.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.errors import Fault, Invalid
from app.framing import Dimensions
from app.money import Currency, Money, TaxRate, TaxSummary, work_out_tax
from app.pricing.adjusting import adjust, settle
from app.pricing.book import Material
from app.pricing.chosen import Chosen, misfits
from app.pricing.customer import CustomerPrice, customer_line
from app.pricing.labour import labour_line
from app.pricing.lines import PriceLine, material_line
from app.pricing.opened import NOTHING_OPENED, Opened, opened_for
from app.pricing.rules import NO_ADJUSTMENTS, Adjustments, PriceRules, TaxTerms
from app.pricing.uses import Use, uses_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePrice:
    """A piece's price. subtotal + discount + rush + rounding = total, to the minor unit.

    These are in the shop's price mode, with tax where tax_included. discount is zero or below. What
    is paid is tax.gross. cost: of the materials, without tax. minutes: of work, exact. margin: net
    of tax less cost; earnings_per_hour: margin per hour of work, None without work (P9).
    """

    currency: Currency
    lines: tuple[PriceLine, ...]
    subtotal: Money
    discount: Money
    rush: Money
    rounding: Money
    total: Money
    tax_included: bool
    tax_free: bool
    tax: TaxSummary
    cost: Money
    minutes: Fraction
    margin: Money
    earnings_per_hour: Money | None

    @property
    def to_pay(self) -> Money:
        """What the customer pays, with the tax that is due."""
        return self.tax.gross

    @property
    def below_cost(self) -> bool:
        """Whether the piece as a whole brings less than its materials cost."""
        return self.margin.minor < 0

    def customer_view(self) -> CustomerPrice:
        """The same price without cost, margin, earnings and the shop's own sentences (P9)."""
        return CustomerPrice(
            lines=tuple(customer_line(line) for line in self.lines),
            subtotal=self.subtotal,
            discount=self.discount,
            rush=self.rush,
            rounding=self.rounding,
            total=self.total,
            tax_included=self.tax_included,
            tax_free=self.tax_free,
            tax=self.tax,
        )


def price_piece(
    dimensions: Dimensions,
    chosen: Chosen,
    rules: PriceRules,
    adjustments: Adjustments = NO_ADJUSTMENTS,
    opened: Mapping[str, Opened] = NOTHING_OPENED,
) -> PiecePrice:
    """The itemised price of a piece.

    opened: what a plan for this piece alone opens, by the code of each material charged by that.
    Raises: Invalid with every fault, at the paths of `Chosen`, where the choice does not fit the
    piece or asks for a tax rate, a markup table or a currency that the rules do not have. ValueError where `opened` lacks one.
    Source: handbook P1 to P6, M1, M2.
    """
    _check(dimensions, chosen, rules)
    uses = uses_of(dimensions, chosen)
    lines = [material_line(use, rules, opened_for(use, uses, opened)) for use in uses]
    labour = labour_line(dimensions, chosen, rules)
    if labour is not None:
        lines.append(labour)
    return summed(lines, rules, adjustments)


def known_lines(
    dimensions: Dimensions,
    chosen: Chosen,
    rules: PriceRules,
    opened: Mapping[str, Opened],
    known: Callable[[Use], bool],
) -> tuple[PriceLine, ...]:
    """The lines of the materials that are known, for a piece that has no price yet.

    opened: as of `price_piece`. Left out is what the rules have no tax rate, markup table or currency
    for, and the labour. Source: handbook P4, P6.
    """
    uses = uses_of(dimensions, chosen)
    wanted = (use for use in uses if known(use) and not any(faults_at("", use.material, rules)))
    return tuple(material_line(use, rules, opened_for(use, uses, opened)) for use in wanted)


def _check(dimensions: Dimensions, chosen: Chosen, rules: PriceRules) -> None:
    faults = list(misfits(chosen, dimensions))
    for path, material in chosen.materials():
        faults += faults_at(path, material, rules)
    if faults:
        raise Invalid(faults)


def faults_at(path: str, material: Material, rules: PriceRules) -> Iterator[Fault]:
    """What the rules lack for a material."""
    if material.cost.currency != rules.currency:
        yield Fault(
            path=path,
            message=f"{material.code} is priced in {material.cost.currency.code}, but the shop's "
            f"currency is {rules.currency.code}.",
        )
    if rules.rate_of(material.tax) is None:
        yield Fault(path=path, message=f"{material.code}: {rules.no_such_rate(material.tax)}")
    table = material.selling.table
    if table is not None and rules.table_of(table) is None:
        yield Fault(path=path, message=f"{material.code}: {rules.no_such_table(table)}")


def summed(lines: Sequence[PriceLine], rules: PriceRules, adjustments: Adjustments) -> PiecePrice:
    """From lines to the total, the tax and what the piece brings."""
    zero = Money.zero(rules.currency)
    adjusted = adjust(sum((line.amount for line in lines), zero), adjustments, rules.rounding_step)
    settled = settle(lines, adjusted)
    tax = tax_on(settled, rules.tax_terms, tax_free=adjustments.tax_free)
    cost = sum((line.cost for line in settled), zero)
    minutes = sum((line.quantity for line in settled if line.is_work), Fraction(0))
    margin = tax.net - cost
    return PiecePrice(
        currency=rules.currency,
        lines=settled,
        subtotal=adjusted.subtotal,
        discount=adjusted.discount,
        rush=adjusted.rush,
        rounding=adjusted.rounding,
        total=adjusted.total,
        tax_included=rules.tax_policy.included,
        tax_free=adjustments.tax_free,
        tax=tax,
        cost=cost,
        minutes=minutes,
        margin=margin,
        earnings_per_hour=earnings_per_hour(margin, minutes),
    )


def tax_on(lines: Sequence[PriceLine], terms: TaxTerms, *, tax_free: bool) -> TaxSummary:
    """The tax on settled lines, by line or by document as the shop's policy asks (M1).

    Raises: ValueError for a line whose tax rate the terms do not have.
    """
    return work_out_tax(rated(lines, terms), terms.policy, terms.currency, tax_free=tax_free)


def rated(lines: Sequence[PriceLine], terms: TaxTerms) -> list[tuple[Money, TaxRate]]:
    """Settled amounts with their rates. Raises: ValueError as `tax_on`."""
    found = []
    for line in lines:
        rate = terms.rate_of(line.tax)
        if rate is None:
            raise ValueError(f"no tax rate {line.tax!r} in these terms")
        found.append((line.settled, rate))
    return found


def earnings_per_hour(margin: Money, minutes: Fraction) -> Money | None:
    """What an hour of work brings, half up; None without work. Source: handbook P9."""
    return margin.times(60 / minutes) if minutes else None
