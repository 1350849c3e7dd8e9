"""Customers, orders, their pieces, ticks and ledger."""

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import Computed, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import KEYED, STRICT, Row


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


class OrderRow(Row):
    """A quote and the order that it becomes."""

    __tablename__ = "orders"
    __table_args__ = (
        Index("orders_by_quote_number", "quote_number", unique=True),
        Index("orders_by_order_number", "order_number", unique=True),
        Index("orders_by_quoted_on", "quoted_on"),
        Index("orders_by_due", "due_key"),
        Index("orders_by_change", "updated_at"),
        Index("orders_by_stage_and_quoted_on", "stage", "quoted_on"),
        Index("orders_by_stage_and_due", "stage", "due_key"),
        Index("orders_by_stage_and_change", "stage", "updated_at"),
        Index("orders_by_customer", "customer_id", "quoted_on"),
        Index("orders_owing", "currency", "owed_minor", sqlite_where=text("owed_minor > 0")),
        Index("orders_by_stage_and_validity", "stage", "valid_until"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    customer_id: Mapped[int] = mapped_column(ForeignKey("customers.id"))
    quote_number: Mapped[str]
    order_number: Mapped[str | None]
    quoted_on: Mapped[date]
    valid_until: Mapped[date]
    ordered_on: Mapped[date | None]
    due: Mapped[date | None]
    due_key: Mapped[date] = mapped_column(Computed("coalesce(due, '9999-12-31')", persisted=False))
    note: Mapped[str]
    stage: Mapped[str]
    currency: Mapped[str]
    total_minor: Mapped[int]
    paid_minor: Mapped[int]
    owed_minor: Mapped[int]
    updated_at: Mapped[datetime]


class StageCountRow(Row):
    """How many orders stand at a stage; kept by triggers."""

    __tablename__ = "stage_counts"
    __table_args__ = (KEYED,)
    stage: Mapped[str] = mapped_column(primary_key=True)
    orders: Mapped[int]


class PieceRow(Row):
    """A piece and its artwork. A removed piece keeps its number and its snapshots.

    support: what the artwork is made of, if anybody said. weight_kg: as it was weighed, if it was.
    """

    __tablename__ = "pieces"
    __table_args__ = (Index("pieces_by_order", "order_id", "number", unique=True), STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    number: Mapped[int]
    title: Mapped[str]
    kind: Mapped[str]
    condition: Mapped[str]
    declared_minor: Mapped[int | None]
    declared_currency: Mapped[str | None]
    place: Mapped[str]
    support: Mapped[str | None]
    weight_kg: Mapped[Fraction | None]
    stage: Mapped[str]
    removed_at: Mapped[datetime | None]


class PieceSnapshotRow(Row):
    """What was agreed for a piece, written once; the last one holds."""

    __tablename__ = "piece_snapshots"
    __table_args__ = (Index("piece_snapshots_by_piece", "piece_id"), STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    priced_on: Mapped[date]
    agreed: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]


class StageChangeRow(Row):
    """One change of a piece's stage, written once."""

    __tablename__ = "stage_changes"
    __table_args__ = (Index("stage_changes_by_piece", "piece_id"), STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    old: Mapped[str]
    new: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    takes_back: Mapped[bool]
    note: Mapped[str]


class StepTickRow(Row):
    """One tick of a step, or its taking back, written once. words: what the step said then."""

    __tablename__ = "step_ticks"
    __table_args__ = (Index("step_ticks_by_piece", "piece_id"), STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    step: Mapped[str]
    words: Mapped[str]
    ticked: Mapped[bool]
    at: Mapped[datetime]
    by: Mapped[str]


class LedgerEntryRow(Row):
    """One entry of an order's ledger, written once."""

    __tablename__ = "ledger_entries"
    __table_args__ = (
        Index("ledger_entries_by_order", "order_id"),
        Index("ledger_entries_by_corrected", "corrects", unique=True),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    kind: Mapped[str]
    amount_minor: Mapped[int]
    currency: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    method: Mapped[str]
    note: Mapped[str]
    corrects: Mapped[int | None] = mapped_column(ForeignKey("ledger_entries.id"))


class ReductionRow(Row):
    """What was taken off an order out of goodwill, or the undoing of it, written once."""

    __tablename__ = "reductions"
    __table_args__ = (
        Index("reductions_by_order", "order_id"),
        Index("reductions_by_undone", "undoes", unique=True),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    amount_minor: Mapped[int]
    currency: Mapped[str]
    reason: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    undoes: Mapped[int | None] = mapped_column(ForeignKey("reductions.id"))
    with_tax: Mapped[bool]
