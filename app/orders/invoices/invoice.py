"""An invoice or a credit note as it was issued: everything that it says, frozen.

Its terms are those of the European standard for invoices (EN 16931; business terms "BT" as Peppol BIS
Billing 3.0 publishes them). A credit note takes back one invoice whole: the same lines, negative.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from app.days import show_day
from app.errors import FaultCollector
from app.money import Currency, Money, TaxPart, TaxRate
from app.orders.ledger import EntryKind, Method

LONGEST_NOTE = 400


class InvoiceKind(StrEnum):
    """What is issued (BT-3)."""

    INVOICE = "invoice"
    CREDIT_NOTE = "credit-note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """Who sells or buys. lines: address and contact. tax_number: as local law asks (BT-31, BT-32)."""

    name: str
    lines: tuple[str, ...] = ()
    tax_number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceLine:
    """What is charged for a piece, or a line without one, at one rate of tax; rate is None where no tax is charged.

    piece: its number, 0 for a line without one. line: the number of such a line, 0 for a piece. amount: with or
    without tax as `Charged.with_tax` says; of all that are alike. quantity: how many these are (BT-129).
    """

    piece: int
    name: str
    details: str
    rate: TaxRate | None
    amount: Money
    line: int = 0
    quantity: int = 1

    @property
    def each(self) -> Money | None:
        """The price of one (BT-146); None where the amount is not so many times whole minor units."""
        one, rest = divmod(self.amount.minor, self.quantity)
        return None if rest else Money(one, self.amount.currency)

    @property
    def of(self) -> tuple[int, int]:
        """What it is charged for; pieces come before lines without one."""
        return self.line, self.piece


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentAllowance:
    """A reduction of the whole (BG-20). amount: as it changes the sum, in the mode of the lines."""

    reason: str
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Charged:
    """What is charged. with_tax: whether lines and reductions are stated with it.

    taxes: the breakdown by rate (BG-23), reductions counted; untaxed: charged without tax.
    Raises: ValueError where lines and reductions do not add up to it.
    """

    currency: Currency
    with_tax: bool
    lines: tuple[InvoiceLine, ...]
    taken_off: tuple[DocumentAllowance, ...]
    taxes: tuple[TaxPart, ...]
    untaxed: Money

    def __post_init__(self) -> None:
        if self.together + self.off != (self.gross if self.with_tax else self.net):
            raise ValueError("the lines of an invoice add up to what its taxes are worked out on")

    @property
    def zero(self) -> Money:
        """An amount of nothing in its currency."""
        return Money.zero(self.currency)

    @property
    def together(self) -> Money:
        """The sum of the lines (BT-106 where they are without tax)."""
        return _sum((line.amount for line in self.lines), self.zero)

    @property
    def off(self) -> Money:
        """The reductions together, zero or below (BT-107 with its sign, where without tax)."""
        return _sum((each.amount for each in self.taken_off), self.zero)

    @property
    def net(self) -> Money:
        """The total without tax (BT-109)."""
        return _sum((part.net for part in self.taxes), self.untaxed)

    @property
    def tax(self) -> Money:
        """The total of tax (BT-110)."""
        return _sum((part.tax for part in self.taxes), self.zero)

    @property
    def gross(self) -> Money:
        """The total with tax (BT-112)."""
        return self.net + self.tax

    def taken_back(self) -> "Charged":
        """Return the same with every amount negative."""
        return replace(
            self,
            lines=tuple(replace(line, amount=-line.amount) for line in self.lines),
            taken_off=tuple(replace(each, amount=-each.amount) for each in self.taken_off),
            taxes=tuple(TaxPart(part.rate, -part.net, -part.tax) for part in self.taxes),
            untaxed=-self.untaxed,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """Money that had changed hands when the invoice was issued. amount: signed, positive received."""

    kind: EntryKind
    method: Method
    on: date
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected:
    """The invoice that a credit note takes back (BG-3)."""

    number: str
    issued_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Invoice:
    """collected_on: the day of supply (BT-72); ready_on: when it is expected, until there is one.

    pay_by: BT-9. note: BT-22. corrects: of a credit note, and only of one. wording: see `invoicing`.
    Raises: Invalid at "pay_by", "note".
    """

    number: str
    kind: InvoiceKind
    issued_on: date
    seller: Party
    buyer: Party
    order_number: str
    ordered_on: date | None
    charged: Charged
    collected_on: date | None = None
    ready_on: date | None = None
    pay_by: date | None = None
    received: tuple[Receipt, ...] = ()
    note: str = ""
    corrects: Corrected | None = None
    wording: int = 1

    def __post_init__(self) -> None:
        if (self.kind is InvoiceKind.CREDIT_NOTE) != (self.corrects is not None):
            raise ValueError("a credit note names the invoice that it takes back, and only it does")
        faults = FaultCollector()
        if self.pay_by is not None and self.pay_by < self.issued_on:
            faults.add(
                "pay_by",
                f"{show_day(self.pay_by)} is before the day of issue, "
                f"{show_day(self.issued_on)}; choose that day or a later one.",
            )
        if len(self.note) > LONGEST_NOTE:
            faults.add(
                "note", f"The note has {len(self.note)} characters; at most {LONGEST_NOTE} fit."
            )
        faults.finish()

    @property
    def paid(self) -> Money:
        """The amount that was paid already (BT-113)."""
        return _sum((each.amount for each in self.received), self.charged.zero)

    @property
    def due(self) -> Money:
        """The amount due for payment (BT-115); below zero it is to be returned.

        A credit note charges nothing any more, so what was received is to be returned. Where a new
        invoice follows, that one says what was received.
        """
        is_invoice = self.kind is InvoiceKind.INVOICE
        return (self.charged.gross if is_invoice else self.charged.zero) - self.paid


def _sum(amounts: Iterable[Money], start: Money) -> Money:
    return sum(amounts, start)
