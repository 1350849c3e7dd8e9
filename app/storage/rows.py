"""The tables as rows, known only in storage.

Columns, keys and indexes are said here and in the migrations, and a test holds the two equal. The
rules within a row (CHECK), the triggers and the word indexes stand in the migrations alone.
Lengths are grains, money is minor units.
"""

from datetime import date, datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import Computed, ForeignKey, ForeignKeyConstraint, Index, Text, text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from app.storage.columns import Day, Flag, Instant, JsonList, Share


class Row(DeclarativeBase):
    """What every row has in common."""

    type_annotation_map = {  # noqa: RUF012 - the name and form that SQLAlchemy asks for
        str: Text,
        bool: Flag,
        date: Day,
        datetime: Instant,
        Fraction: Share,
        list[Any]: JsonList,
    }


_STRICT = {"sqlite_strict": True}
_KEYED = {"sqlite_strict": True, "sqlite_with_rowid": False}


class ShopRow(Row):
    """The one row of the shop; settings is the JSON of a Shop."""

    __tablename__ = "shop"
    __table_args__ = (_STRICT,)
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    settings: Mapped[str]
    updated_at: Mapped[datetime]


class MaterialRow(Row):
    """A material of the price book. words: what it is found by, folded."""

    __tablename__ = "materials"
    __table_args__ = (
        Index("materials_by_code", "code", unique=True),
        Index("materials_by_kind", "kind", "code"),
        _STRICT | {"sqlite_autoincrement": True},
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    code: Mapped[str] = mapped_column(Text(collation="NOCASE"))
    name: Mapped[str]
    kind: Mapped[str]
    currency: Mapped[str]
    cost_minor: Mapped[int]
    per: Mapped[str]
    charge_by: Mapped[str]
    waste: Mapped[Fraction]
    minimum_length: Mapped[int]
    step: Mapped[int]
    minimum_area: Mapped[Fraction]
    shares: Mapped[list[Any]]
    bands: Mapped[list[Any]]
    markup: Mapped[Fraction | None]
    markup_table: Mapped[str | None]
    price_minor: Mapped[int | None]
    tax: Mapped[str]
    supplier: Mapped[str]
    finish: Mapped[str]
    colour: Mapped[str]
    face: Mapped[int | None]
    lip: Mapped[int | None]
    rebate_depth: Mapped[int | None]
    stick: Mapped[int | None]
    grams_per_metre: Mapped[int | None]
    sheet_width: Mapped[int | None]
    sheet_height: Mapped[int | None]
    thickness: Mapped[int | None]
    grams_per_m2: Mapped[int | None]
    traits: Mapped[list[Any]]
    notes: Mapped[str]
    tags: Mapped[list[Any]]
    active: Mapped[bool]
    words: Mapped[str]
    updated_at: Mapped[datetime]


class CounterRow(Row):
    """The last number given in a series and year."""

    __tablename__ = "counters"
    __table_args__ = (_KEYED,)
    series: Mapped[str] = mapped_column(primary_key=True)
    year: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    last: Mapped[int]


class CustomerRow(Row):
    """A customer. name_key: what lists sort by; parts: what is found in the middle; both folded."""

    __tablename__ = "customers"
    __table_args__ = (
        Index("customers_by_name", "name_key", sqlite_where=text("erased_on IS NULL")),
        _STRICT,
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
        _STRICT,
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
    __table_args__ = (_KEYED,)
    stage: Mapped[str] = mapped_column(primary_key=True)
    orders: Mapped[int]


class PieceRow(Row):
    """A piece and its artwork. A removed piece keeps its number and its snapshots."""

    __tablename__ = "pieces"
    __table_args__ = (Index("pieces_by_order", "order_id", "number", unique=True), _STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    number: Mapped[int]
    title: Mapped[str]
    kind: Mapped[str]
    condition: Mapped[str]
    declared_minor: Mapped[int | None]
    declared_currency: Mapped[str | None]
    place: Mapped[str]
    stage: Mapped[str]
    removed_at: Mapped[datetime | None]


class PieceSnapshotRow(Row):
    """What was agreed for a piece, written once; the last one holds."""

    __tablename__ = "piece_snapshots"
    __table_args__ = (Index("piece_snapshots_by_piece", "piece_id"), _STRICT)
    id: Mapped[int] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    priced_on: Mapped[date]
    agreed: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]


class StageChangeRow(Row):
    """One change of a piece's stage, written once."""

    __tablename__ = "stage_changes"
    __table_args__ = (Index("stage_changes_by_piece", "piece_id"), _STRICT)
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
    __table_args__ = (Index("step_ticks_by_piece", "piece_id"), _STRICT)
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
        _STRICT,
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


class StockItemRow(Row):
    """One line of the rack. label: of an offcut. on_hand: kept by triggers, never written here."""

    __tablename__ = "stock_items"
    __table_args__ = (
        Index("stock_items_by_material", "material_id"),
        Index("stock_items_by_label", "label", unique=True),
        _STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    material_id: Mapped[int] = mapped_column(ForeignKey("materials.id"))
    form: Mapped[str]
    whole: Mapped[bool]
    label: Mapped[str | None] = mapped_column(Text(collation="NOCASE"))
    length: Mapped[int | None]
    width: Mapped[int | None]
    height: Mapped[int | None]
    batch: Mapped[str]
    place: Mapped[str]
    note: Mapped[str]
    currency: Mapped[str]
    unit_cost_minor: Mapped[int]
    on_hand: Mapped[int] = mapped_column(server_default=text("0"))
    since: Mapped[datetime]


class StockMovementRow(Row):
    """One movement of an item, written once."""

    __tablename__ = "stock_movements"
    __table_args__ = (
        Index("stock_movements_by_item", "item_id"),
        Index("stock_movements_by_taken_back", "takes_back", unique=True),
        _STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    item_id: Mapped[int] = mapped_column(ForeignKey("stock_items.id"))
    kind: Mapped[str]
    change: Mapped[int]
    at: Mapped[datetime]
    by: Mapped[str]
    note: Mapped[str]
    plan_id: Mapped[int | None]
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("pieces.id"))
    line_id: Mapped[int | None]
    takes_back: Mapped[int | None] = mapped_column(ForeignKey("stock_movements.id"))


class StockLevelRow(Row):
    """What the shop wants to have of a material, and how it is bought."""

    __tablename__ = "stock_levels"
    __table_args__ = (_STRICT,)
    material_id: Mapped[int] = mapped_column(
        ForeignKey("materials.id", ondelete="CASCADE"), primary_key=True, autoincrement=False
    )
    version: Mapped[int]
    reorder_at: Mapped[int | None]
    pack: Mapped[int]
    place: Mapped[str]


class SupplierOrderRow(Row):
    """An order to a supplier."""

    __tablename__ = "supplier_orders"
    __table_args__ = (
        Index("supplier_orders_by_number", "number", unique=True),
        Index("supplier_orders_by_stage", "stage", "made_on"),
        _STRICT,
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
        _STRICT,
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
        _STRICT,
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


class CuttingPlanRow(Row):
    """A cutting plan. sections: the JSON of its sections, written once."""

    __tablename__ = "cutting_plans"
    __table_args__ = (
        Index("cutting_plans_by_number", "number", unique=True),
        Index("cutting_plans_by_stage", "stage"),
        _STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    number: Mapped[str]
    stage: Mapped[str]
    solver: Mapped[str]
    sections: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]


class PlanPartRow(Row):
    """A part of a piece in a plan, written once. section, bin: where it lies, from 1."""

    __tablename__ = "plan_parts"
    __table_args__ = (
        Index("plan_parts_by_piece", "piece_id"),
        Index("plan_parts_by_material", "material"),
        _KEYED,
    )
    plan_id: Mapped[int] = mapped_column(
        ForeignKey("cutting_plans.id"), primary_key=True, autoincrement=False
    )
    part: Mapped[str] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    what: Mapped[str]
    material: Mapped[str] = mapped_column(Text(collation="NOCASE"))
    section: Mapped[int]
    bin: Mapped[int]
    to_buy: Mapped[bool]


class PlanTickRow(Row):
    """One mark on a part of a plan, or its taking back, written once."""

    __tablename__ = "plan_ticks"
    __table_args__ = (
        ForeignKeyConstraint(["plan_id", "part"], ["plan_parts.plan_id", "plan_parts.part"]),
        Index("plan_ticks_by_plan", "plan_id"),
        Index("plan_ticks_spoiled", "plan_id", "part", sqlite_where=text("mark = 'spoiled'")),
        _STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    plan_id: Mapped[int]
    part: Mapped[str]
    mark: Mapped[str]
    standing: Mapped[bool]
    note: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]


class PlanBookingRow(Row):
    """One stick or sheet booked as cut, or a booking taken back, written once."""

    __tablename__ = "plan_bookings"
    __table_args__ = (
        Index("plan_bookings_by_plan", "plan_id"),
        Index("plan_bookings_by_taken_back", "takes_back", unique=True),
        _STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    plan_id: Mapped[int] = mapped_column(ForeignKey("cutting_plans.id"))
    section: Mapped[int]
    bin: Mapped[int]
    moved: Mapped[list[Any]]
    at: Mapped[datetime]
    by: Mapped[str]
    takes_back: Mapped[int | None] = mapped_column(ForeignKey("plan_bookings.id"))
