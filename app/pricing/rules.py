"""The shop's rules for a price, and what is agreed for one piece.

Owns rules as values, valid once they exist. A quote keeps the rules it was priced with (P7).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import isqrt

from app.errors import FaultCollector, quoted
from app.lengths import ZERO, Length, Unit, inches, mm
from app.money import Currency, Money, TaxPolicy, TaxRate, show_money, show_percent
from app.pricing.markup import MarkupTable
from app.pricing.operations import Operation
from app.pricing.stock import spoken

MOST_ALIKE = 999
"""Pieces that are alike. Source: P11."""

LARGEST_RUSH = Fraction(5)
"""A guard against a percentage typed as a factor. Source: ours."""


def loss_at_saw(kerf: Length) -> Length:
    """Return the length lost with each rail at a mitre saw: 2 × kerf × √2, up to the next 0.1 mm.

    Source: handbook C1, each end cut for itself.
    """
    tenths = kerf.mm * 20
    square = 2 * tenths * tenths
    floor = isqrt(square.numerator // square.denominator)
    return mm(Fraction(floor if floor * floor == square else floor + 1, 10))


DEFAULT_KERF = mm(3)
"""A mitre saw's usual blade. Source: common practice."""

DEFAULT_SAW_LOSS = loss_at_saw(DEFAULT_KERF)
USUAL_SAW_LOSS = {Unit.MM: DEFAULT_SAW_LOSS, Unit.IN: inches("3/8")}


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxTerms:
    """What tax is worked out with; a quote keeps it with its prices (P7)."""

    currency: Currency
    rates: tuple[TaxRate, ...]
    policy: TaxPolicy

    def rate_of(self, code: str) -> TaxRate | None:
        """Return the tax rate of a code, if there is one."""
        return next((rate for rate in self.rates if rate.code == code), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberBreak:
    """A share that is taken off the price of one from a number alike on (P11).

    Raises: Invalid at "from_number", "off".
    """

    from_number: int
    off: Fraction

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not 2 <= self.from_number <= MOST_ALIKE:
            faults.add(
                "from_number",
                f"The number is {self.from_number}; 2 to {MOST_ALIKE} alike are allowed.",
            )
        if not 0 < self.off < 1:
            faults.add(
                "off",
                f"{show_percent(self.off)} would be taken off; more than 0 % and less than 100 % is allowed.",
            )
        faults.finish()


def off_for(copies: int, breaks: Sequence[NumberBreak]) -> Fraction:
    """Return the share that is taken off so many alike: that of the last row they reach; nothing before the first."""
    reached = [each.off for each in breaks if each.from_number <= copies]
    return reached[-1] if reached else Fraction(0)


def breaks_out_of_order(breaks: Sequence[NumberBreak]) -> Iterator[tuple[int, str]]:
    """(place, sentence) of each row that does not follow on the one before: more alike take more off."""
    for place, (one, more) in enumerate(pairwise(breaks), start=1):
        if more.from_number <= one.from_number or more.off <= one.off:
            yield (
                place,
                f"{show_percent(more.off)} off from {more.from_number} alike comes after "
                f"{show_percent(one.off)} off from {one.from_number}; each row begins at more alike and takes "
                "more off than the one before.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRules:
    """What the shop prices with.

    length_unit: the one that explanations speak in. saw_loss: for each rail (P2). labour_tax: code
    of a tax rate. rounding_step: zero rounds nothing. number_breaks: the fewest first.
    Raises: Invalid with every fault, at "hourly_rate", "saw_loss", "labour_tax", "tax_rates",
    "operations", "markup_tables", "rounding_step".
    """

    currency: Currency
    length_unit: Unit
    hourly_rate: Money
    operations: tuple[Operation, ...]
    tax_rates: tuple[TaxRate, ...]
    labour_tax: str
    tax_policy: TaxPolicy
    rounding_step: Money
    markup_tables: tuple[MarkupTable, ...] = ()
    saw_loss: Length = DEFAULT_SAW_LOSS
    number_breaks: tuple[NumberBreak, ...] = ()

    def __post_init__(self) -> None:
        faults = FaultCollector()
        self._check_money(faults, "hourly_rate", "hourly rate", self.hourly_rate)
        self._check_money(faults, "rounding_step", "rounding step", self.rounding_step)
        if self.saw_loss < ZERO:
            faults.add(
                "saw_loss",
                f"The length lost at the saw is {spoken(self.saw_loss)}; zero or more is allowed.",
            )
        self._check_codes(faults)
        for place, sentence in breaks_out_of_order(self.number_breaks):
            faults.add(f"number_breaks.{place}", sentence)
        if self.rate_of(self.labour_tax) is None:
            faults.add("labour_tax", self.no_such_rate(self.labour_tax))
        faults.finish()

    def _check_money(self, faults: FaultCollector, path: str, name: str, money: Money) -> None:
        if money.currency != self.currency:
            faults.add(
                path,
                f"The {name} is in {money.currency.code}, but the shop prices in "
                f"{self.currency.code}.",
            )
        if money.minor < 0:
            faults.add(path, f"The {name} is {show_money(money)}; zero or more is allowed.")

    def _check_codes(self, faults: FaultCollector) -> None:
        named = (
            ("tax_rates", "tax rates", [rate.code for rate in self.tax_rates]),
            ("operations", "operations", [operation.code for operation in self.operations]),
            ("markup_tables", "markup tables", [table.code for table in self.markup_tables]),
        )
        for path, name, codes in named:
            twice = sorted({code for code in codes if codes.count(code) > 1})
            if twice:
                faults.add(
                    path, f"Two {name} have the code {quoted(twice[0])}; each needs its own."
                )
        for index, table in enumerate(self.markup_tables):
            if any(step.up_to and step.up_to.currency != self.currency for step in table.steps):
                faults.add(
                    f"markup_tables.{index}",
                    f"The table {table.code} is not in {self.currency.code}, the shop's currency.",
                )

    @property
    def tax_terms(self) -> TaxTerms:
        """What tax is worked out with."""
        return TaxTerms(currency=self.currency, rates=self.tax_rates, policy=self.tax_policy)

    def rate_of(self, code: str) -> TaxRate | None:
        """Return the tax rate of a code, if there is one."""
        return self.tax_terms.rate_of(code)

    def no_such_rate(self, code: str) -> str:
        """Return the sentence for a tax code that the shop does not have."""
        known = ", ".join(rate.code for rate in self.tax_rates) or "none yet"
        return f"There is no tax rate {quoted(code)}; the shop's rates are: {known}."

    def table_of(self, code: str) -> MarkupTable | None:
        """Return the markup table of a code, if there is one."""
        return next((table for table in self.markup_tables if table.code == code), None)

    def no_such_table(self, code: str) -> str:
        """Return the sentence for a markup table that the shop does not have."""
        known = ", ".join(table.code for table in self.markup_tables) or "none yet"
        return f"There is no markup table {quoted(code)}; the shop's tables are: {known}."


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustments:
    """What is agreed for one piece. discount: share taken off, 1/10 for 10 %. rush: share added.

    copies: how many alike. Raises: Invalid with every fault, at "discount", "rush", "copies".
    """

    discount: Fraction = Fraction(0)
    rush: Fraction = Fraction(0)
    tax_free: bool = False
    copies: int = 1

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not 1 <= self.copies <= MOST_ALIKE:
            faults.add(
                "copies", f"{self.copies} alike are asked for; 1 to {MOST_ALIKE} are allowed."
            )
        if not 0 <= self.discount <= 1:
            faults.add(
                "discount",
                f"The discount is {show_percent(self.discount)}; 0 % to 100 % is allowed.",
            )
        if not 0 <= self.rush <= LARGEST_RUSH:
            faults.add(
                "rush",
                f"The rush charge is {show_percent(self.rush)}; 0 % to "
                f"{show_percent(LARGEST_RUSH)} is allowed.",
            )
        faults.finish()


NO_ADJUSTMENTS = Adjustments()
