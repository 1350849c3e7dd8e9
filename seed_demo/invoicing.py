"""Invoices of the sample: of those who pay on invoice and of some others, issued as work was collected.

Written as past orders are, many at a time; numbers run with the days (M4). The last one is corrected by
the app's own services: a scratch was found, something taken off, a credit note and a new invoice issued.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import batched
from typing import Any

from sqlalchemy import insert, select

from app.orders import Customer, EntryKind, Method, Shop, Stage
from app.orders.invoices.invoice import Invoice
from app.orders.invoices.issue import Head, buyer_of, invoice_of, seller_of
from app.services import invoices, payments, reductions
from app.services.order_transaction import OrderAt
from app.storage import Series, Stamp, Store
from app.storage.tables.invoices import InvoiceRow, columns_of_invoice
from app.storage.tables.shop import CounterRow
from seed_demo.days import open_day
from seed_demo.numbering import Numbering
from seed_demo.shop import euro
from seed_demo.years import ON_INVOICE, PastOrder

ONE_IN = 4
"""So many of those who pay when they collect ask for an invoice."""

DAYS_TO_PAY = 30
AT_ONCE = 1000
WHY_NO_TAX = "No tax is charged: the customer is exempt (an invented reason, as all of the sample)."


def issue_invoices(
    store: Store, orders: Sequence[PastOrder], known: Mapping[int, Customer], today: date
) -> None:
    """Issue invoices for a part of the orders that were collected, and correct the last of them."""
    with store.reading() as work:
        shop = work.shop.get()
    numbering = Numbering()
    written = _written(_invoiced(orders), known, shop, numbering)
    for some in batched(written, AT_ONCE):
        with store.writing() as work:
            work.session.execute(insert(InvoiceRow), list(some))
    if counters := numbering.counters():
        with store.writing() as work:
            work.session.execute(insert(CounterRow), counters)
        _correct_the_last(store, today)


def _invoiced(orders: Iterable[PastOrder]) -> list[tuple[datetime, PastOrder]]:
    """Those who get an invoice, with the moment at which the last piece went, by that moment."""
    chosen = [
        (max(change.at for piece in past.order.pieces for change in piece.changes), past)
        for past in orders
        if past.order.stage is Stage.COLLECTED
        and (past.order.customer_name in ON_INVOICE or past.order.id % ONE_IN == 0)
    ]
    return sorted(chosen, key=lambda each: (each[0], each[1].order.id))


def _written(
    chosen: list[tuple[datetime, PastOrder]],
    known: Mapping[int, Customer],
    shop: Shop,
    numbering: Numbering,
) -> Iterator[dict[str, Any]]:
    for at, past in chosen:
        head = Head(number=numbering.take(Series.INVOICE, at.year), issued_on=at.date(), zone=UTC)
        yield {
            "order_id": past.order.id,
            "corrects": None,
            "at": at,
            "by": past.by,
            **columns_of_invoice(_invoice(past, known[past.order.customer_id], shop, head, at)),
        }


def _invoice(past: PastOrder, customer: Customer, shop: Shop, head: Head, at: datetime) -> Invoice:
    """With what was paid until then."""
    then = replace(
        past.order, entries=tuple(each for each in past.order.entries if each.entry.at <= at)
    )
    later = customer.name in ON_INVOICE
    headed = replace(
        head,
        pay_by=head.issued_on + timedelta(days=DAYS_TO_PAY) if later else None,
        note=WHY_NO_TAX if customer.tax_free else "",
    )
    return invoice_of(then, seller_of(shop), buyer_of(customer), headed)


def _correct_the_last(store: Store, today: date) -> None:
    """Take ten off the order of the last invoice, correct it, and give the ten back where they were paid."""
    day = open_day(today - timedelta(days=1))
    act = Stamp(who="Mirela", now=datetime.combine(day, time(17, 40), UTC))
    off = euro("10.00")
    with store.reading() as work:
        last = work.session.scalars(
            select(InvoiceRow.order_id).order_by(InvoiceRow.id.desc())
        ).first()
        assert last is not None, "there is an invoice, since a number was given"
        paid_up = work.order_lists.summaries([last])[0].owed.minor <= 0

    def at() -> OrderAt:
        with store.reading() as work:
            return OrderAt(id=last, version=work.orders.get(last).version)

    goodwill = reductions.Goodwill(amount=off, reason="a scratch on the frame, touched up")
    reductions.reduce(store, at(), goodwill, act)
    invoices.correct(store, at(), invoices.InvoiceRequest(), act)
    if paid_up:
        given_back = payments.Payment(amount=off, method=Method.CASH, kind=EntryKind.REFUND)
        payments.refund(store, at(), given_back, act)
