"""Invoices: issued by an explicit act, frozen as issued, corrected by a credit note and a new one (M4)."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from app.errors import Conflict
from app.orders import Order
from app.orders.invoices.invoice import Invoice, Party
from app.orders.invoices.issue import (
    Dated,
    Head,
    LaterDay,
    buyer_of,
    credit_note_of,
    day_of_issue,
    differences,
    invoice_of,
    seller_of,
)
from app.orders.stages import LEFT_THE_WAY, Stage
from app.services.order_transaction import OrderAt, changing
from app.storage import (
    Issued,
    MonthOfInvoices,
    Series,
    Stamp,
    Store,
    UnitOfWork,
    standing_invoice,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceRequest:
    """What is typed for an invoice. note: as it is printed. dated: where one before it bears a later day than today."""

    pay_by: date | None = None
    note: str = ""
    dated: Dated | None = None


class Next(StrEnum):
    """What may be issued for an order now."""

    NOTHING = "nothing"
    ISSUE = "issue"
    CORRECT = "correct"
    CREDIT = "credit"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderInvoices:
    """All that was issued for an order, the oldest first, and how it stands with the last invoice.

    differs: how the order differs from the invoice that stands. readdressed: the customer's name or
    address is another now. lacking: what the shop's settings lack that most countries ask for.
    """

    issued: tuple[Issued, ...]
    standing: Issued | None
    differs: tuple[str, ...]
    readdressed: bool
    next: Next
    lacking: tuple[str, ...]


def of_order(store: Store, order: Order) -> OrderInvoices:
    """Tell how it stands with the invoices of an order."""
    with store.reading() as work:
        issued = work.invoices.of_order(order.id)
        standing = standing_invoice(issued)
        seller = seller_of(work.shop.get())
        differs = differences(standing.invoice, order) if standing else ()
        readdressed = standing is not None and _is_readdressed(work, order, standing.invoice)
    return OrderInvoices(
        issued=issued,
        standing=standing,
        differs=differs,
        readdressed=readdressed,
        next=_next(order, standing, differs=bool(differs) or readdressed),
        lacking=_lacking(seller),
    )


def _next(order: Order, standing: Issued | None, *, differs: bool) -> Next:
    chargeable = _is_chargeable(order)
    if standing is None:
        return Next.ISSUE if chargeable else Next.NOTHING
    if not chargeable:
        return Next.CREDIT
    return Next.CORRECT if differs else Next.NOTHING


def _is_chargeable(order: Order) -> bool:
    return (
        order.order_number is not None
        and order.stage not in LEFT_THE_WAY
        and order.stage is not Stage.QUOTED
    )


def _is_readdressed(work: UnitOfWork, order: Order, invoice: Invoice) -> bool:
    """Tell whether the customer is called otherwise now; a record that was removed says nothing of that."""
    if work.customers.erased_on(order.customer_id) is not None:
        return False
    return buyer_of(work.customers.get(order.customer_id).value) != invoice.buyer


def _lacking(seller: Party) -> tuple[str, ...]:
    has = (("address", bool(seller.lines)), ("tax number", bool(seller.tax_number)))
    return tuple(name for name, there in has if not there)


def later_day(store: Store, order: Order, today: date) -> LaterDay | None:
    """Return the day after today that is held against dating the next invoice of an order today; None where none is."""
    with store.reading() as work:
        return _later_day(work, today, standing_invoice(work.invoices.of_order(order.id)))


def _later_day(work: UnitOfWork, today: date, standing: Issued | None) -> LaterDay | None:
    """Look at the last of the series of this year, and at what is taken back and the last of the series of that."""
    wrong = standing.invoice if standing else None
    last = work.invoices.last_of(today.year)
    own = [LaterDay(day=last.issued_on, number=last.number, own=True)] if last else []
    if wrong is None or wrong.issued_on <= max((each.day for each in own), default=today):
        return next((each for each in own if each.day > today), None)
    beside = work.invoices.last_of(wrong.issued_on.year) or wrong
    latest = max(beside, wrong, key=lambda each: each.issued_on)
    if latest.issued_on <= today:
        return None
    return LaterDay(
        day=latest.issued_on, number=latest.number, own=latest.issued_on.year == today.year
    )


def get(store: Store, order_id: int, number: str) -> Invoice:
    """Return an invoice or a credit note of an order, as it was issued. Raises: NotFound."""
    with store.reading() as work:
        return work.invoices.get(order_id, number).invoice


def issue(store: Store, at: OrderAt, wanted: InvoiceRequest, act: Stamp) -> str:
    """Issue the invoice of an order. Returns its number, taken in the same transaction (M4).

    Raises: NotFound, Stale, Conflict where there is one already or nothing to charge, Invalid at
    "pay_by", "note", "dated".
    """
    with changing(store, at, act) as (work, order):
        standing = standing_invoice(work.invoices.of_order(order.id))
        if standing is not None:
            raise Conflict(
                f"{order.number} has an invoice already, {standing.invoice.number}; it is corrected "
                "where the order differs from it."
            )
        buyer, day = _buyer(work, order, None), _day(work, act, None, wanted.dated)
        return _write(work, order, buyer, wanted, act, day)


def correct(store: Store, at: OrderAt, wanted: InvoiceRequest, act: Stamp) -> tuple[str, str]:
    """Take the invoice that stands back by a credit note and issue a new one, in one transaction.

    Returns both numbers, the credit note's first. Raises: NotFound, Stale, Conflict where nothing
    differs or nothing is left to charge, Invalid as `issue`.
    """
    with changing(store, at, act) as (work, order):
        standing = _standing(work, order)
        wrong = standing.invoice
        if not differences(wrong, order) and not _is_readdressed(work, order, wrong):
            raise Conflict(f"{order.number} does not differ from its invoice, {wrong.number}.")
        buyer = _buyer(work, order, wrong)
        day = _day(work, act, standing, wanted.dated)
        note = _take_back(work, order, standing, act, day, replaced=True)
        return note, _write(work, order, buyer, wanted, act, day)


def credit(store: Store, at: OrderAt, act: Stamp, dated: Dated | None = None) -> str:
    """Take the invoice of an order that came to nothing back by a credit note. Returns its number.

    Raises: NotFound, Stale, Conflict where there is none or something is left to charge, Invalid at "dated".
    """
    with changing(store, at, act) as (work, order):
        standing = _standing(work, order)
        if _is_chargeable(order):
            raise Conflict(
                f"{order.number} is {order.stage}; its invoice is corrected, not only taken back."
            )
        day = _day(work, act, standing, dated)
        return _take_back(work, order, standing, act, day, replaced=False)


def listed(store: Store, month: date) -> tuple[Issued, ...]:
    """Return all that was issued in the month of a day, in the order of the numbers."""
    first = month.replace(day=1)
    before = date(first.year + first.month // 12, first.month % 12 + 1, 1)
    with store.reading() as work:
        return work.invoices.in_days(first, before)


def months(store: Store) -> tuple[MonthOfInvoices, ...]:
    """Return the months in which something was issued, the latest first."""
    with store.reading() as work:
        return work.invoices.months()


def of_customer(store: Store, customer_id: int) -> tuple[Issued, ...]:
    """Return all that was issued for the orders of a customer, the oldest first."""
    with store.reading() as work:
        return work.invoices.of_customer(customer_id)


def _standing(work: UnitOfWork, order: Order) -> Issued:
    standing = standing_invoice(work.invoices.of_order(order.id))
    if standing is None:
        raise Conflict(f"{order.number} has no invoice that stands.")
    return standing


def _buyer(work: UnitOfWork, order: Order, before: Invoice | None) -> Party:
    """Return the customer as of now; once the record is removed, as on the invoice before.

    Raises: Conflict where there is neither.
    """
    if work.customers.erased_on(order.customer_id) is None:
        return buyer_of(work.customers.get(order.customer_id).value)
    if before is None:
        raise Conflict("The customer's record was deleted; an invoice names its customer.")
    return before.buyer


def _day(work: UnitOfWork, act: Stamp, standing: Issued | None, dated: Dated | None) -> date:
    return day_of_issue(act.today, _later_day(work, act.today, standing), dated)


def _write(  # noqa: PLR0913, PLR0917 - an invoice by what it is made of
    work: UnitOfWork, order: Order, buyer: Party, wanted: InvoiceRequest, act: Stamp, day: date
) -> str:
    head = Head(
        number=work.numbers.take(Series.INVOICE, day.year),
        issued_on=day,
        zone=act.now.tzinfo,
        pay_by=wanted.pay_by,
        note=wanted.note,
    )
    invoice = invoice_of(order, seller_of(work.shop.get()), buyer, head)
    return work.invoices.add(order.id, invoice, act).invoice.number


def _take_back(  # noqa: PLR0913 - as an invoice
    work: UnitOfWork, order: Order, standing: Issued, act: Stamp, day: date, *, replaced: bool
) -> str:
    number = work.numbers.take(Series.INVOICE, day.year)
    head = Head(number=number, issued_on=day, zone=act.now.tzinfo)
    note = credit_note_of(standing.invoice, head, () if replaced else order.entries)
    return work.invoices.add(order.id, note, act, corrects=standing.id).invoice.number
