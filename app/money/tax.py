"""Tax on the lines of a quote or invoice.

Owns rates, the shop's tax policy and the split of amounts into net, tax and gross. Which rate a
line bears, and who is tax-free, is decided elsewhere. Source: M1, M2.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.money.amount import Money
from app.money.currency import Currency


@dataclass(frozen=True, slots=True)
class TaxRate:
    """A rate of tax. percent: as a fraction, 1/5 for 20 %, from 0 to 1."""

    code: str
    name: str
    percent: Fraction

    def __post_init__(self) -> None:
        if not isinstance(self.percent, Fraction):
            raise TypeError(f"a tax rate is a Fraction, not {type(self.percent).__name__}")
        if not 0 <= self.percent <= 1:
            raise ValueError("a tax rate is from 0 to 1, 1/5 for 20 %")


class TaxRounding(StrEnum):
    """Where tax is rounded to the minor unit: at each line, or once per rate."""

    BY_LINE = "by-line"
    BY_DOCUMENT = "by-document"


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxPolicy:
    """How a shop states its prices. included: they include tax already."""

    included: bool
    rounding: TaxRounding


@dataclass(frozen=True, slots=True)
class TaxPart:
    """What one rate comes to: net is the amount taxed, tax the tax on it."""

    rate: TaxRate
    net: Money
    tax: Money

    @property
    def gross(self) -> Money:
        """Net and tax together."""
        return self.net + self.tax


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxSummary:
    """Net + tax = gross, to the minor unit.

    taxes: one part a rate, in the order the rates first come up; none for a tax-free customer.
    """

    net: Money
    taxes: tuple[TaxPart, ...]
    tax: Money
    gross: Money


def work_out_tax(
    lines: Sequence[tuple[Money, TaxRate]],
    policy: TaxPolicy,
    currency: Currency,
    *,
    tax_free: bool = False,
) -> TaxSummary:
    """Net, tax and gross of lines of an amount and its rate.

    Tax is rounded half up. Where prices include tax, the gross is what the lines add up to and
    the net is what the tax leaves of it, so the parts always add up; a tax-free customer then
    pays that net. Raises: ValueError for a line in another currency.
    Source: M1, M2; by document: EN 16931 / Peppol BIS Billing 3.0, once per rate.
    """
    zero = Money.zero(currency)
    parts = [_part(rate, amounts, policy) for rate, amounts in _by_rate(lines).items()]
    net = sum((part.net for part in parts), zero)
    tax = zero if tax_free else sum((part.tax for part in parts), zero)
    taxes = () if tax_free else tuple(parts)
    return TaxSummary(net=net, taxes=taxes, tax=tax, gross=net + tax)


def _by_rate(lines: Sequence[tuple[Money, TaxRate]]) -> dict[TaxRate, list[Money]]:
    amounts: dict[TaxRate, list[Money]] = {}
    for amount, rate in lines:
        amounts.setdefault(rate, []).append(amount)
    return amounts


def _part(rate: TaxRate, amounts: list[Money], policy: TaxPolicy) -> TaxPart:
    zero = Money.zero(amounts[0].currency)
    stated = sum(amounts, zero)
    share = rate.percent / (1 + rate.percent) if policy.included else rate.percent
    taxed = amounts if policy.rounding is TaxRounding.BY_LINE else [stated]
    tax = sum((amount.times(share) for amount in taxed), zero)
    return TaxPart(rate, stated - tax if policy.included else stated, tax)
