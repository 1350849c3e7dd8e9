"""Orders to suppliers and what came of them."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import STRICT, Row


class SupplierOrderRow(Row):
    """An order to a supplier."""

    __tablename__ = "supplier_orders"
    __table_args__ = (
        Index("supplier_orders_by_number", "number", unique=True),
        Index("supplier_orders_by_stage", "stage", "made_on"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    number: Mapped[str]
    supplier: Mapped[str]
    made_on: Mapped[date]
    sent_on: Mapped[date | None]
    currency: Mapped[str]
    note: Mapped[str]
    stage: Mapped[str]
    updated_at: Mapped[datetime]


class SupplierOrderLineRow(Row):
    """A line of an order to a supplier; as it is once the order is sent."""

    __tablename__ = "supplier_order_lines"
    __table_args__ = (
        Index("supplier_order_lines_by_order", "order_id"),
        Index("supplier_order_lines_by_material", "material_id"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("supplier_orders.id"))
    material_id: Mapped[int] = mapped_column(ForeignKey("materials.id"))
    name: Mapped[str]
    form: Mapped[str]
    unit: Mapped[str]
    length: Mapped[int | None]
    width: Mapped[int | None]
    height: Mapped[int | None]
    quantity: Mapped[int]
    cost_minor: Mapped[int]
    cost_for: Mapped[int]
    note: Mapped[str]


class DeliveryRow(Row):
    """So many of a line that came, or the contrary entry of one, written once."""

    __tablename__ = "deliveries"
    __table_args__ = (
        Index("deliveries_by_line", "line_id"),
        Index("deliveries_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    line_id: Mapped[int] = mapped_column(ForeignKey("supplier_order_lines.id"))
    quantity: Mapped[int]
    currency: Mapped[str]
    cost_minor: Mapped[int]
    cost_for: Mapped[int]
    batch: Mapped[str]
    place: Mapped[str]
    note: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    movement_id: Mapped[int] = mapped_column(ForeignKey("stock_movements.id"))
    takes_back: Mapped[int | None] = mapped_column(ForeignKey("deliveries.id"))
