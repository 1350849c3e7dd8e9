"""Keeps that customers were told that their work is ready."""

from datetime import date

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.orders.told import NewTold
from app.storage.journal import ContraryRow, Journal
from app.storage.mapping import STRICT, Row


class CustomerToldRow(ContraryRow, Row):
    """That a customer was told, or the taking back of it, written once."""

    __tablename__ = "customer_told"
    __table_args__ = (
        Index("customer_told_by_order", "order_id"),
        Index("customer_told_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    day: Mapped[date]
    how: Mapped[str]


def told_customers(session: Session) -> Journal[NewTold]:
    """Return the record of all orders."""
    return Journal(session, NewTold, CustomerToldRow, CustomerToldRow.order_id)
