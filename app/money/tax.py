"""Tax on the lines of a quote or invoice.

Owns rates, the shop's tax policy and the split of amounts into net, tax and gross. Which rate a
line bears, and who is tax-free, is decided elsewhere. Source: M1, M2.
"""

from collections.abc import Iterable, Sequence
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

    @property
    def within(self) -> Fraction:
        """The share of the tax in an amount that holds it: 1/6 for 20 %."""
        return self.percent / (1 + self.percent)


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
        """The net and the tax together."""
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
    parts = by_rate(taxed_parts(lines, policy))
    net = sum((part.net for part in parts), zero)
    tax = zero if tax_free else sum((part.tax for part in parts), zero)
    return TaxSummary(net=net, taxes=() if tax_free else parts, tax=tax, gross=net + tax)


def taxed_parts(lines: Sequence[tuple[Money, TaxRate]], policy: TaxPolicy) -> tuple[TaxPart, ...]:
    """Return the amounts that tax is rounded on: each line, or once per rate all lines of it together."""
    if policy.rounding is TaxRounding.BY_DOCUMENT:
        lines = [(first.with_all(rest), rate) for rate, (first, *rest) in _of_each_rate(lines)]
    return tuple(taxed(amount, rate, included=policy.included) for amount, rate in lines)


def _of_each_rate(lines: Sequence[tuple[Money, TaxRate]]) -> list[tuple[TaxRate, list[Money]]]:
    """Return the amounts of each rate, in the order the rates first come up; rates are few, and most often the very same."""
    found: list[tuple[TaxRate, list[Money]]] = []
    for amount, rate in lines:
        for known, amounts in found:
            if known is rate or known == rate:
                amounts.append(amount)
                break
        else:
            found.append((rate, [amount]))
    return found


def by_rate(parts: Iterable[TaxPart]) -> tuple[TaxPart, ...]:
    """Return what each rate comes to, in the order the rates first come up."""
    found: dict[TaxRate, TaxPart] = {}
    for part in parts:
        had = found.get(part.rate)
        found[part.rate] = (
            TaxPart(part.rate, had.net + part.net, had.tax + part.tax) if had else part
        )
    return tuple(found.values())


def taxed(stated: Money, rate: TaxRate, *, included: bool) -> TaxPart:
    """Return an amount with the tax that it holds, or else that comes on top of it, rounded half up."""
    if included:
        tax = stated.times(rate.within)
        return TaxPart(rate, stated - tax, tax)
    return TaxPart(rate, stated, stated.times(rate.percent))
