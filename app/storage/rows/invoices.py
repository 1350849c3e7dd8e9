"""Invoices and credit notes."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import STRICT, Row


class InvoiceRow(Row):
    """An invoice or a credit note, written once. says: the JSON of everything that it says."""

    __tablename__ = "invoices"
    __table_args__ = (
        Index("invoices_by_number", "number", unique=True),
        Index("invoices_by_corrected", "corrects", unique=True),
        Index("invoices_by_order", "order_id"),
        Index("invoices_by_day", "issued_on"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    number: Mapped[str]
    kind: Mapped[str]
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    issued_on: Mapped[date]
    currency: Mapped[str]
    gross_minor: Mapped[int]
    corrects: Mapped[int | None] = mapped_column(ForeignKey("invoices.id"))
    says: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
