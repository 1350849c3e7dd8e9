"""Keeps customers: finds them by a part of anything, and erases them on request."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    ForeignKey,
    Index,
    Integer,
    Select,
    column,
    func,
    insert,
    or_,
    select,
    table,
    text,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import Conflict, NotFound
from app.orders import Customer
from app.orders.customer import CustomerJoin
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import (
    STRICT,
    Columns,
    Day,
    Row,
    columns_of,
    value_of,
    write,
)
from app.storage.paging import ListPage, PageRequest, Stale, Versioned
from app.storage.search_text import beginnings, digits_of, folded, parts


class CustomerRow(Row):
    """A customer. name_key: what lists sort by; parts: what is found in the middle; both folded."""

    __tablename__ = "customers"
    __table_args__ = (
        Index("customers_by_name", "name_key", sqlite_where=text("erased_on IS NULL")),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    name: Mapped[str]
    phone: Mapped[str]
    email: Mapped[str]
    address: Mapped[str]
    notes: Mapped[str]
    tax_free: Mapped[bool]
    name_key: Mapped[str]
    parts: Mapped[str]
    erased_on: Mapped[date | None]
    updated_at: Mapped[datetime]


class CustomerJoinRow(JournalRow, Row):
    """A record that was joined into a customer's, written once."""

    __tablename__ = "customer_joins"
    __table_args__ = (
        Index("customer_joins_by_customer", "customer_id"),
        Index("customer_joins_by_joined", "joined_id", unique=True),
        STRICT,
    )
    customer_id: Mapped[int] = mapped_column(ForeignKey("customers.id"))
    joined_id: Mapped[int] = mapped_column(ForeignKey("customers.id"))
    orders: Mapped[int]


ERASED_NAME = "removed customer"

_WORD_INDEXES = ("customer_words", "customer_parts", "order_words")
_SHORTEST_PART = 3
"""The trigram index knows runs of three characters and more."""


_ORDERS = table("orders", column("customer_id", Integer), column("quoted_on", Day))
"""What is asked here of orders, which know customers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerSummary:
    """A customer in a list. orders: quotes and orders in all; last_on: when the last was quoted."""

    id: int
    name: str
    phone: str
    email: str
    orders: int
    last_on: date | None


class Customers:
    """Keeps customers."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._joins = Journal(session, CustomerJoin, CustomerJoinRow, CustomerJoinRow.customer_id)

    def joins(self, customer_id: int) -> tuple[CustomerJoin, ...]:
        """Return what was joined into a customer's record, the oldest first."""
        return tuple(each.entry for each in self._joins.of(customer_id))

    def joined_into(self, customer_id: int) -> int | None:
        """Return the customer whose record one went into, last of all; None where it went into none."""
        into = select(CustomerJoinRow.customer_id).where(CustomerJoinRow.joined_id == customer_id)
        found = self._session.scalars(into).one_or_none()
        return found if found is None else self.joined_into(found) or found

    def add_join(self, customer_id: int, join: CustomerJoin) -> None:
        """Write down that another record went into a customer's."""
        self._joins.add(customer_id, join)

    def get(self, customer_id: int) -> Versioned[Customer]:
        """Return the customer of an id; one that was erased has only the name that says so.

        Raises: NotFound.
        """
        row = self._row(customer_id)
        return Versioned(id=row.id, version=row.version, value=value_of(Customer, row))

    def erased_on(self, customer_id: int) -> date | None:
        """Return the day on which a customer was erased, if ever. Raises: NotFound."""
        return self._row(customer_id).erased_on

    def add(self, customer: Customer, *, now: datetime) -> int:
        """Add a customer. Returns the id."""
        row = CustomerRow(version=1, erased_on=None, updated_at=now, **_columns(customer))
        self._session.add(row)
        self._session.flush()
        return row.id

    def save(
        self, customer_id: int, customer: Customer, expected_version: int, *, now: datetime
    ) -> None:
        """Replace a customer. Raises: NotFound, Stale, Conflict for one that was erased."""
        row = self._row(customer_id)
        if row.erased_on is not None:
            raise Conflict("This customer was deleted; add the person as a new customer.")
        if row.version != expected_version:
            raise Stale(
                "The customer",
                Versioned(id=row.id, version=row.version, value=value_of(Customer, row)),
            )
        self._write(row, customer, now)

    def erase(self, customer_id: int, *, now: datetime) -> None:
        """Remove everything personal; the orders stay. A second time changes nothing.

        Source: GDPR art. 17; what the law wants kept of orders and payments is not personal to it.
        Raises: NotFound.
        """
        row = self._row(customer_id)
        if row.erased_on is not None:
            return
        row.erased_on = now.date()
        self._write(row, Customer(name=ERASED_NAME, tax_free=row.tax_free), now)
        for index in _WORD_INDEXES:
            # What is taken out of a word index stays in its pages until they are merged.
            merge = insert(table(index, column(index))).values({index: "optimize"})
            self._session.execute(merge)

    def find(self, text: str, *, limit: int = 10) -> tuple[CustomerSummary, ...]:
        """Customers by a part of name, phone, e-mail, address or notes; first whose name begins so."""
        condition = _matches(text)
        if condition is None:
            return ()
        first = CustomerRow.name_key.startswith(folded(text.strip()), autoescape=True)
        found = _summaries().where(condition)
        ordered = found.order_by(first.desc(), CustomerRow.name_key, CustomerRow.id).limit(limit)
        return tuple(map(_summary, self._session.execute(ordered)))

    def named(self, name: str) -> tuple[Versioned[Customer], ...]:
        """Customers whose whole name this is, without regard to case and accents."""
        theirs = CustomerRow.name_key == folded(name.strip())
        rows = self._session.scalars(
            select(CustomerRow)
            .where(theirs, CustomerRow.erased_on.is_(None))
            .order_by(CustomerRow.id)
        )
        return tuple(
            Versioned(id=row.id, version=row.version, value=value_of(Customer, row)) for row in rows
        )

    def listed(self, text: str = "", page: PageRequest | None = None) -> ListPage[CustomerSummary]:
        """Customers by name, all or those that match; erased ones are left out."""
        page = page or PageRequest()
        condition = _matches(text)
        if text.strip() and condition is None:
            return ListPage.of((), 0, page)
        conditions = [] if condition is None else [condition]
        total = self._session.scalars(
            select(func.count()).where(CustomerRow.erased_on.is_(None), *conditions)
        ).one()
        ordered = _summaries().where(*conditions).order_by(CustomerRow.name_key, CustomerRow.id)
        rows = self._session.execute(ordered.limit(page.size).offset(page.offset))
        return ListPage.of(map(_summary, rows), total, page)

    def _row(self, customer_id: int) -> CustomerRow:
        row = self._session.get(CustomerRow, customer_id)
        if row is None:
            raise NotFound(f"There is no customer number {customer_id}.")
        return row

    def _write(self, row: CustomerRow, customer: Customer, now: datetime) -> None:
        write(row, _columns(customer))
        row.version, row.updated_at = row.version + 1, now
        self._session.flush()


def _columns(customer: Customer) -> Columns:
    found = f"{customer.name} {customer.email} {digits_of(customer.phone)}"
    return columns_of(customer) | {
        "name_key": folded(customer.name.strip()),
        "parts": folded(found),
    }


def erased_columns(*, tax_free: bool) -> Columns:
    """Return what is left of a record that is erased; it is still said whether it was priced without tax."""
    return _columns(Customer(name=ERASED_NAME, tax_free=tax_free))


def _matches(text: str) -> ColumnElement[bool] | None:
    """Tell whether every typed word begins a word of a customer, or is a part of name, e-mail or phone.

    None where nothing that can be looked for was typed.
    """
    words, inner = beginnings(text), parts(text)
    if words is None:
        return None
    found = [_in_index("customer_words", words)]
    if all(len(part) >= _SHORTEST_PART for part in inner):
        found.append(_in_index("customer_parts", " ".join(f'"{part}"' for part in inner)))
    return or_(*found)


def _in_index(name: str, query: str) -> ColumnElement[bool]:
    index = table(name, column("rowid"), column(name))
    matching = select(index.c.rowid).where(index.c[name].op("MATCH")(query))
    return CustomerRow.id.in_(matching)


def _summaries() -> Select[int, str, str, str, int, date | None]:
    theirs = _ORDERS.c.customer_id == CustomerRow.id
    orders = select(func.count()).where(theirs).correlate(CustomerRow).scalar_subquery()
    last_on = select(func.max(_ORDERS.c.quoted_on)).where(theirs).correlate(CustomerRow)
    return select(
        CustomerRow.id,
        CustomerRow.name,
        CustomerRow.phone,
        CustomerRow.email,
        orders.label("orders"),
        last_on.scalar_subquery().label("last_on"),
    ).where(CustomerRow.erased_on.is_(None))


def _summary(row: Any) -> CustomerSummary:
    customer_id, name, phone, email, orders, last_on = row
    return CustomerSummary(
        id=customer_id, name=name, phone=phone, email=email, orders=orders, last_on=last_on
    )
