"""From an order to its invoice, from an invoice to its credit note, and how the two differ."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, tzinfo
from enum import StrEnum

from app.days import show_day
from app.errors import Conflict, Invalid
from app.journal import standing
from app.money import Money, show_money
from app.orders.customer import Customer
from app.orders.invoices.invoice import (
    Charged,
    Corrected,
    Invoice,
    InvoiceKind,
    InvoiceLine,
    Party,
    Receipt,
)
from app.orders.invoices.lines import WORDING, charged_for
from app.orders.ledger import Entry
from app.orders.order import Order
from app.orders.shop import Shop
from app.orders.stages import Stage


class Dated(StrEnum):
    """How an invoice is dated where one before it bears a later day than today: a clock was ahead then, or is behind."""

    TODAY = "today"
    LAST = "last"


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterDay:
    """A day after today that an invoice bears already. number: of that invoice. own: whether it is of the series that
    today's invoice continues; of another one it is that which a credit note takes back.
    """

    day: date
    number: str
    own: bool


def day_of_issue(today: date, later: LaterDay | None, dated: Dated | None) -> date:
    """Return the day that an invoice or a credit note bears.

    Numbers are consecutive within one or more series, here one a year, and the date is that of issue; in a series days run with numbers by
    common practice, which the shop may set aside where a clock was wrong. Raises: Invalid at "dated" where that is to be said and is not.
    Source: Council Directive 2006/112/EC, Article 226 (1) and (2).
    """
    if later is None or dated is Dated.TODAY:
        return today
    if dated is Dated.LAST:
        return later.day
    raise Invalid.at(
        "dated",
        f"Invoice {later.number} is dated {show_day(later.day)} and this computer says that today is "
        f"{show_day(today)}. If that is wrong, set its clock right first; if it is right, choose the date.",
        code="later-day",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What an invoice is headed by. zone: of the shop's wall, for the days of what happened before."""

    number: str
    issued_on: date
    zone: tzinfo | None = None
    pay_by: date | None = None
    note: str = ""

    def day_of(self, moment: datetime) -> date:
        """Return the day on the shop's wall."""
        return moment.astimezone(self.zone).date() if self.zone else moment.date()


def seller_of(shop: Shop) -> Party:
    """Return the shop as it heads its invoices."""
    return Party(
        name=shop.name,
        lines=_lines(shop.address, shop.contact),
        tax_number=shop.tax_number,
    )


def buyer_of(customer: Customer) -> Party:
    """Return the customer as invoices name one: by name and address; how to reach one is not part of it."""
    return Party(name=customer.name, lines=_lines(customer.address))


def _lines(*texts: str) -> tuple[str, ...]:
    return tuple(line.strip() for text in texts for line in text.splitlines() if line.strip())


def invoice_of(order: Order, seller: Party, buyer: Party, head: Head) -> Invoice:
    """Return the invoice for an order as it stands.

    Raises: Conflict for a quote, or where nothing is left to charge; Invalid at "pay_by", "note".
    """
    if order.order_number is None or order.stage is Stage.QUOTED:
        raise Conflict(f"{order.number} is not ordered; an invoice is for what is ordered.")
    zero = Money.zero(order.currency)
    collected_on = _collected_on(order, head)
    return Invoice(
        number=head.number,
        kind=InvoiceKind.INVOICE,
        issued_on=head.issued_on,
        seller=seller,
        buyer=buyer,
        order_number=order.order_number,
        ordered_on=order.ordered_on,
        charged=charged_for(order, zero),
        collected_on=collected_on,
        ready_on=None if collected_on else order.due,
        pay_by=head.pay_by,
        received=_received(order.entries, head),
        note=head.note,
        wording=WORDING,
    )


def credit_note_of(invoice: Invoice, head: Head, entries: tuple[Entry, ...] = ()) -> Invoice:
    """Return the credit note that takes back a whole invoice.

    entries: of the order's ledger, where no new invoice follows that says what was received.
    Raises: ValueError for a credit note.
    """
    if invoice.kind is not InvoiceKind.INVOICE:
        raise ValueError("only an invoice is taken back")
    return replace(
        invoice,
        number=head.number,
        kind=InvoiceKind.CREDIT_NOTE,
        issued_on=head.issued_on,
        charged=invoice.charged.taken_back(),
        pay_by=None,
        received=_received(entries, head),
        note=head.note,
        corrects=Corrected(number=invoice.number, issued_on=invoice.issued_on),
    )


def _collected_on(order: Order, head: Head) -> date | None:
    """Return the day on which the last piece or line was collected, once all are."""
    if order.stage is not Stage.COLLECTED:
        return None
    last = [
        each.changes[-1].at
        for each in order.all_of_it
        if each.stage is Stage.COLLECTED and each.changes
    ]
    return head.day_of(max(last)) if last else None


def _received(entries: tuple[Entry, ...], head: Head) -> tuple[Receipt, ...]:
    """Return what was received and given back; an entry that was corrected never happened."""
    return tuple(
        Receipt(
            kind=written.entry.kind,
            method=written.entry.method,
            on=head.day_of(written.entry.at),
            amount=written.entry.amount,
        )
        for written in standing(entries)
    )


def differences(invoice: Invoice, order: Order) -> tuple[str, ...]:
    """Tell how an order differs from what its invoice charges, a sentence each; empty where it does not.

    What was paid since is no difference: an invoice says what was paid when it was issued.
    """
    before = invoice.charged
    if order.stage is Stage.QUOTED:
        return (f"{order.number} is not ordered any more.",)
    try:
        now = charged_for(order, before.zero)
    except Conflict as nothing:
        return (nothing.message,)
    said = tuple(_of_pieces(before, now, worded_alike=invoice.wording == WORDING))
    if before.off != now.off:
        said += (f"Taken off: {_change(-before.off, -now.off)}.",)
    if before.gross != now.gross:
        said += (f"In all, with tax: {_change(before.gross, now.gross)}.",)
    elif before.taxes != now.taxes:
        said += (f"Tax: {_change(before.tax, now.tax)}.",)
    return said


def _of_pieces(before: Charged, now: Charged, *, worded_alike: bool) -> Iterator[str]:
    old, new = _by_piece(before), _by_piece(now)
    for of in sorted(old.keys() | new.keys()):
        if of not in old:
            yield f"{_called(new[of])} is not on the invoice."
        elif of not in new:
            yield f"{_called(old[of])} is on the invoice and not charged any more."
        else:
            was, comes = _sum(old[of], before), _sum(new[of], now)
            if was != comes:
                yield f"{_called(new[of])}: {_change(was, comes)}."
            elif worded_alike and old[of] != new[of]:
                what = "something else" if new[of][0].line else "another piece of work"
                yield f"{_called(new[of])} is {what} at the same price."


def _by_piece(charged: Charged) -> dict[tuple[int, int], list[InvoiceLine]]:
    by_piece: dict[tuple[int, int], list[InvoiceLine]] = {}
    for line in charged.lines:
        by_piece.setdefault(line.of, []).append(line)
    return by_piece


def _called(lines: list[InvoiceLine]) -> str:
    first = lines[0]
    which = f"Line {first.line}" if first.line else f"Piece {first.piece}"
    return f"{which} ({first.name})"


def _sum(lines: list[InvoiceLine], charged: Charged) -> Money:
    return sum((line.amount for line in lines), charged.zero)


def _change(was: Money, comes: Money) -> str:
    return f"{show_money(was)} on the invoice, {show_money(comes)} now"
