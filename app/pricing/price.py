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
from app.pricing.labour import labour_lines
from app.pricing.lines import PriceLine, material_line
from app.pricing.opened import NOTHING_OPENED, Opened, opened_for
from app.pricing.rules import NO_ADJUSTMENTS, Adjustments, PriceRules, TaxTerms, off_for
from app.pricing.uses import Use, uses_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePrice:
    """A piece's price. subtotal + by_number + discount + rush + rounding = total, to the minor unit.

    These are in the shop's price mode, with tax where tax_included. discount is zero or below. What
    is paid is tax.gross. cost: of the materials, without tax. minutes: of work, exact. margin: net
    of tax less cost; earnings_per_hour: margin per hour of work, None without work (P9). copies: how many are
    alike; every amount is that of all. by_number: what that takes off, below zero; None for nothing (P11).
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
    copies: int = 1
    by_number: Money | None = None

    @property
    def each(self) -> Money:
        """The price of one: the total is exactly so many times that."""
        return Money(self.total.minor // self.copies, self.currency)

    @property
    def to_pay(self) -> Money:
        """What the customer pays, with the tax that is due."""
        return self.tax.gross

    @property
    def below_cost(self) -> bool:
        """Whether the piece as a whole brings less than its materials cost."""
        return self.margin.minor < 0

    def customer_view(self) -> CustomerPrice:
        """Return the same price without cost, margin, earnings and the shop's own sentences (P9)."""
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
            copies=self.copies,
            each=self.each,
            by_number=self.by_number or Money.zero(self.currency),
        )


def price_piece(
    dimensions: Dimensions,
    chosen: Chosen,
    rules: PriceRules,
    adjustments: Adjustments = NO_ADJUSTMENTS,
    opened: Mapping[str, Opened] = NOTHING_OPENED,
) -> PiecePrice:
    """Return the itemised price of a piece, or of as many alike as the adjustments say.

    opened: what a plan for this piece alone, all that are alike at once, opens, by the code of each material
    charged by that.
    Raises: Invalid with every fault, at the paths of `Chosen`, where the choice does not fit the
    piece or asks for a tax rate, a markup table or a currency that the rules do not have. ValueError where `opened` lacks one.
    Source: handbook P1 to P6, P11, M1, M2.
    """
    lines = lines_of(dimensions, chosen, rules, opened, adjustments.copies)
    return summed(lines, rules, adjustments)


def lines_of(
    dimensions: Dimensions,
    chosen: Chosen,
    rules: PriceRules,
    opened: Mapping[str, Opened],
    copies: int = 1,
) -> list[PriceLine]:
    """Return the lines of a piece before discount, rush and rounding. copies: how many alike. Raises: as `price_piece`."""
    _check(dimensions, chosen, rules)
    uses = uses_of(dimensions, chosen)
    lines = [material_line(use, rules, opened_for(use, uses, opened), copies) for use in uses]
    return [*lines, *labour_lines(dimensions, chosen, rules, copies)]


def known_lines(
    uses: Sequence[Use],
    rules: PriceRules,
    opened: Mapping[str, Opened],
    known: Callable[[Use], bool],
    copies: int = 1,
) -> tuple[PriceLine, ...]:
    """Return the lines of the materials that are known, for a piece that has no price yet.

    uses: all of the piece. opened, copies: as of `price_piece`. Left out is what the rules have no tax rate, markup table or currency
    for, and the labour. Source: handbook P4, P6.
    """
    wanted = (use for use in uses if known(use) and not any(faults_at("", use.material, rules)))
    return tuple(material_line(use, rules, opened_for(use, uses, opened), copies) for use in wanted)


def _check(dimensions: Dimensions, chosen: Chosen, rules: PriceRules) -> None:
    faults = list(misfits(chosen, dimensions))
    for path, material in chosen.materials():
        faults += faults_at(path, material, rules)
    if faults:
        raise Invalid(faults)


def faults_at(path: str, material: Material, rules: PriceRules) -> Iterator[Fault]:
    """Yield what the rules lack for a material."""
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
    adjusted = adjust(
        sum((line.amount for line in lines), zero),
        adjustments,
        rules.rounding_step,
        off_for(adjustments.copies, rules.number_breaks),
    )
    settled = settle(lines, adjusted)
    tax = tax_on(settled, rules.tax_terms, tax_free=adjustments.tax_free)
    cost = sum((line.cost for line in settled), zero)
    minutes = sum((line.minutes for line in settled), Fraction(0))
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
        copies=adjustments.copies,
        by_number=adjusted.by_number or None,
    )


def tax_on(lines: Sequence[PriceLine], terms: TaxTerms, *, tax_free: bool) -> TaxSummary:
    """Return the tax on settled lines, by line or by document as the shop's policy asks (M1).

    Raises: ValueError for a line whose tax rate the terms do not have.
    """
    return work_out_tax(rated(lines, terms), terms.policy, terms.currency, tax_free=tax_free)


def rated(lines: Sequence[PriceLine], terms: TaxTerms) -> list[tuple[Money, TaxRate]]:
    """Settled amounts with their rates. Raises: ValueError as `tax_on`."""
    rates = {rate.code: rate for rate in reversed(terms.rates)}
    for line in lines:
        if line.tax not in rates:
            raise ValueError(f"no tax rate {line.tax!r} in these terms")
    return [(line.settled, rates[line.tax]) for line in lines]


def earnings_per_hour(margin: Money, minutes: Fraction) -> Money | None:
    """Return what an hour of work brings, half up; None without work. Source: handbook P9."""
    return margin.times(60 / minutes) if minutes else None
