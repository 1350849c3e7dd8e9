"""Keeps invoices and credit notes as they were issued: written once, read as they were written."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import (
    ForeignKey,
    Index,
    Select,
    func,
    select,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound
from app.orders.invoices.invoice import Invoice, InvoiceKind
from app.storage.journal import JournalRow, Sealing
from app.storage.mapping import (
    STRICT,
    Columns,
    Row,
    value_of,
)
from app.storage.paging import Stamp
from app.storage.snapshots import INVOICE
from app.storage.tables.orders import OrderRow


class InvoiceRow(JournalRow, Row):
    """An invoice or a credit note, written once. says: the JSON of everything that it says."""

    __tablename__ = "invoices"
    __table_args__ = (
        Index("invoices_by_number", "number", unique=True),
        Index("invoices_by_corrected", "corrects", unique=True),
        Index("invoices_by_order", "order_id"),
        Index("invoices_by_day", "issued_on"),
        STRICT,
    )
    number: Mapped[str]
    kind: Mapped[str]
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    issued_on: Mapped[date]
    currency: Mapped[str]
    gross_minor: Mapped[int]
    corrects: Mapped[int | None] = mapped_column(ForeignKey("invoices.id"))
    says: Mapped[str]
    sealed = Sealing(chained=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """An invoice or a credit note with its id and order, and who issued it. corrects: the id of the
    invoice that a credit note takes back."""

    id: int
    order_id: int
    invoice: Invoice
    corrects: int | None
    at: datetime
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthOfInvoices:
    """A month in which something was issued. first: its first day. count: invoices and credit notes."""

    first: date
    count: int


def standing_invoice(issued: Iterable[Issued]) -> Issued | None:
    """Return the invoice of an order that no credit note took back, if there is one."""
    of_order = tuple(issued)
    taken_back = {each.corrects for each in of_order}
    stands = (
        each
        for each in of_order
        if each.invoice.kind is InvoiceKind.INVOICE and each.id not in taken_back
    )
    return next(stands, None)


class Invoices:
    """Keeps invoices."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(
        self, order_id: int, invoice: Invoice, act: Stamp, *, corrects: int | None = None
    ) -> Issued:
        """Write an invoice down, or a credit note with the id of what it takes back."""
        row = InvoiceRow(
            order_id=order_id,
            corrects=corrects,
            at=act.now,
            by=act.who,
            **columns_of_invoice(invoice),
        )
        self._session.add(row)
        self._session.flush()
        return _issued(row)

    def get(self, order_id: int, number: str) -> Issued:
        """Return the invoice of an order with a number. Raises: NotFound."""
        found = self._found(
            select(InvoiceRow).where(InvoiceRow.order_id == order_id, InvoiceRow.number == number)
        )
        if not found:
            raise NotFound(f"This order has no invoice with the number {number[:40]}.")
        return found[0]

    def of_order(self, order_id: int) -> tuple[Issued, ...]:
        """Return the invoices of an order, the oldest first."""
        return self._found(select(InvoiceRow).where(InvoiceRow.order_id == order_id))

    def of_customer(self, customer_id: int) -> tuple[Issued, ...]:
        """Return the invoices for the orders of a customer, the oldest first."""
        theirs = select(OrderRow.id).where(OrderRow.customer_id == customer_id)
        return self._found(select(InvoiceRow).where(InvoiceRow.order_id.in_(theirs)))

    def in_days(self, first: date, before: date) -> tuple[Issued, ...]:
        """Return the invoices that were issued on or after a day and before another, in the order of
        their numbers.
        """
        then = InvoiceRow.issued_on >= first, InvoiceRow.issued_on < before
        return self._found(select(InvoiceRow).where(*then))

    def months(self) -> tuple[MonthOfInvoices, ...]:
        """Return the months in which an invoice was issued, the latest first."""
        month = func.substr(InvoiceRow.issued_on, 1, 7, type_=InvoiceRow.number.type)
        counted = select(month, func.count()).group_by(month).order_by(month.desc())
        return tuple(
            MonthOfInvoices(first=date.fromisoformat(f"{named}-01"), count=count)
            for named, count in self._session.execute(counted)
        )

    def last_of(self, year: int) -> Invoice | None:
        """Return what was issued last in the series of a year, invoice or credit note; None before the first."""
        days = date(year, 1, 1), date(year, 12, 31)
        ours = select(InvoiceRow).where(InvoiceRow.issued_on.between(*days))
        last = self._session.scalars(ours.order_by(InvoiceRow.id.desc()).limit(1)).first()
        return None if last is None else _issued(last).invoice

    def _found(self, wanted: Select[InvoiceRow]) -> tuple[Issued, ...]:
        # Ids run as numbers do: a number is taken in the transaction that writes it down.
        return tuple(map(_issued, self._session.scalars(wanted.order_by(InvoiceRow.id))))


def columns_of_invoice(invoice: Invoice) -> Columns:
    """Return the columns that repeat what an invoice says, for lists and for uniqueness."""
    gross = invoice.charged.gross
    return {
        "number": invoice.number,
        "kind": invoice.kind.value,
        "issued_on": invoice.issued_on,
        "currency": gross.currency.code,
        "gross_minor": gross.minor,
        "says": INVOICE.write(invoice),
    }


def _issued(row: InvoiceRow) -> Issued:
    return value_of(Issued, row, invoice=INVOICE.read(row.says))
