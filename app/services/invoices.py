"""Invoices: issued by an explicit act, frozen as issued, corrected by a credit note and a new one (M4)."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from app.days import show_day
from app.errors import Conflict
from app.orders import Order
from app.orders.invoices.invoice import Invoice, Party
from app.orders.invoices.issue import (
    Head,
    buyer_of,
    credit_note_of,
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
    """What is typed for an invoice. note: as it is printed."""

    pay_by: date | None = None
    note: str = ""


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


def get(store: Store, order_id: int, number: str) -> Invoice:
    """Return an invoice or a credit note of an order, as it was issued. Raises: NotFound."""
    with store.reading() as work:
        return work.invoices.get(order_id, number).invoice


def issue(store: Store, at: OrderAt, wanted: InvoiceRequest, act: Stamp) -> str:
    """Issue the invoice of an order. Returns its number, taken in the same transaction (M4).

    Raises: NotFound, Stale, Conflict where there is one already or nothing to charge, Invalid at
    "pay_by", "note".
    """
    with changing(store, at, act) as (work, order):
        standing = standing_invoice(work.invoices.of_order(order.id))
        if standing is not None:
            raise Conflict(
                f"{order.number} has an invoice already, {standing.invoice.number}; it is corrected "
                "where the order differs from it."
            )
        return _write(work, order, _buyer(work, order, None), wanted, act)


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
        note = _take_back(work, order, standing, act, replaced=True)
        return note, _write(work, order, buyer, wanted, act)


def credit(store: Store, at: OrderAt, act: Stamp) -> str:
    """Take the invoice of an order that came to nothing back by a credit note. Returns its number.

    Raises: NotFound, Stale, Conflict where there is none or something is left to charge.
    """
    with changing(store, at, act) as (work, order):
        standing = _standing(work, order)
        if _is_chargeable(order):
            raise Conflict(
                f"{order.number} is {order.stage}; its invoice is corrected, not only taken back."
            )
        return _take_back(work, order, standing, act, replaced=False)


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


def _write(work: UnitOfWork, order: Order, buyer: Party, wanted: InvoiceRequest, act: Stamp) -> str:
    head = Head(
        number=_take_number(work, act),
        issued_on=act.today,
        zone=act.now.tzinfo,
        pay_by=wanted.pay_by,
        note=wanted.note,
    )
    invoice = invoice_of(order, seller_of(work.shop.get()), buyer, head)
    return work.invoices.add(order.id, invoice, act).invoice.number


def _take_back(
    work: UnitOfWork, order: Order, standing: Issued, act: Stamp, *, replaced: bool
) -> str:
    head = Head(number=_take_number(work, act), issued_on=act.today, zone=act.now.tzinfo)
    note = credit_note_of(standing.invoice, head, () if replaced else order.entries)
    return work.invoices.add(order.id, note, act, corrects=standing.id).invoice.number


def _take_number(work: UnitOfWork, act: Stamp) -> str:
    """Return the next number. Raises: Conflict for a clock that would put days out of the order of numbers."""
    last = work.invoices.last_issued_on()
    if last is not None and act.today < last:
        raise Conflict(
            f"The last invoice is dated {show_day(last)} and this machine says that today is "
            f"{show_day(act.today)}; set its clock right first, since the days of invoices run with their numbers."
        )
    return work.numbers.take(Series.INVOICE, act.today.year)
