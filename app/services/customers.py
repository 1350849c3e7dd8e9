"""Customers: found, added, changed and joined."""

from dataclasses import dataclass, replace

from app.errors import Conflict, Invalid
from app.orders import Customer
from app.orders.customer import CustomerJoin, joined
from app.services import backups
from app.services.order_transaction import OrderAt, changing
from app.services.who_is_meant import CustomerRequest, known
from app.storage import (
    CustomerSummary,
    CustomerSums,
    ListPage,
    PageRequest,
    Stamp,
    Store,
    UnitOfWork,
    Versioned,
    standing_invoice,
)


def get(store: Store, customer_id: int) -> Versioned[Customer]:
    """Return a customer with the version. Raises: NotFound."""
    with store.reading() as work:
        return work.customers.get(customer_id)


def find(store: Store, text: str, *, limit: int = 10) -> tuple[CustomerSummary, ...]:
    """Customers by a part of name, phone, e-mail, address or notes."""
    with store.reading() as work:
        return work.customers.find(text, limit=limit)


def sums(store: Store, customer_id: int) -> CustomerSums:
    """Return what all quotes and orders of a customer come to."""
    with store.reading() as work:
        return work.order_lists.sums_of_customer(customer_id)


def listed(
    store: Store, text: str = "", page: PageRequest | None = None
) -> ListPage[CustomerSummary]:
    """Customers by name, all or those that match."""
    with store.reading() as work:
        return work.customers.listed(text, page)


def add(store: Store, customer: Customer, act: Stamp) -> int:
    """Add a customer. Returns the id."""
    with store.writing() as work:
        return work.customers.add(customer, now=act.now)


def save(
    store: Store, customer_id: int, customer: Customer, expected_version: int, act: Stamp
) -> None:
    """Replace a customer. Raises: NotFound, Stale, Conflict for one that was erased."""
    with store.writing() as work:
        work.customers.save(customer_id, customer, expected_version, now=act.now)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """Two records of one person, before they are joined. result: what the kept one becomes."""

    kept: Versioned[Customer]
    other: Versioned[Customer]
    result: Customer
    orders: int


def joining(store: Store, customer_id: int, other: CustomerRequest) -> Joining:
    """Return what joining another record into a customer's means, before it is done.

    Raises: NotFound; Invalid at "customer" where the other is nobody, several, or the same; Conflict.
    """
    with store.reading() as work:
        return _joining(work, customer_id, other)


def _joining(work: UnitOfWork, customer_id: int, asked: CustomerRequest) -> Joining:
    kept = work.customers.get(customer_id)
    other = known(work, asked)
    if other.id == kept.id:
        raise Invalid.at("customer", "This is the same record; choose the other one.")
    return Joining(
        kept=kept,
        other=other,
        result=joined(kept.value, other.value),
        orders=len(work.order_lists.ids_of_customer(other.id)),
    )


def join(
    store: Store, customer_id: int, version: int, other: CustomerRequest, act: Stamp
) -> Joining:
    """Join another record into a customer's: its orders come over, and it is removed.

    A copy of the data is made before. Raises: NotFound, Stale, Invalid at "customer", Conflict.
    """
    backups.before_removal(store, act)
    with store.writing() as work:
        found = _joining(work, customer_id, other)
        work.customers.save(customer_id, found.result, version, now=act.now)
        moved = work.orders.give(found.other.id, customer_id, now=act.now)
        work.customers.erase(found.other.id, now=act.now)
        work.sent_forms.forget_what_was_said()
        work.customers.add_join(
            customer_id,
            CustomerJoin(joined_id=found.other.id, orders=moved, at=act.now, by=act.who),
        )
    return found


def give_order(store: Store, at: OrderAt, asked: CustomerRequest, act: Stamp) -> Customer:
    """Give a quote or an order to another customer who is known. Returns the customer.

    Raises: NotFound, Stale, Invalid at "customer"; Conflict where an invoice stands, or where one of the two is
    priced without tax.
    """
    with changing(store, at, act) as (work, order):
        other, now = known(work, asked), work.customers.get(order.customer_id).value
        issued = standing_invoice(work.invoices.of_order(order.id))
        if issued is not None:
            raise Conflict(
                f"{issued.invoice.number} was issued to {now.name} for it. Take the invoice back with a credit note first."
            )
        if other.value.tax_free != now.tax_free:
            raise Conflict(
                f"{now.name} and {other.value.name} are not priced alike: one of them is without tax. Make a new "
                "quote for the other one."
            )
        work.orders.write_head(replace(order, customer_id=other.id))
    return other.value


def joins(store: Store, customer_id: int) -> tuple[CustomerJoin, ...]:
    """Return what was joined into a customer's record, the oldest first."""
    with store.reading() as work:
        return work.customers.joins(customer_id)


def joined_into(store: Store, customer_id: int) -> int | None:
    """Return the customer whose record this one went into; None where it went into none."""
    with store.reading() as work:
        return work.customers.joined_into(customer_id)
