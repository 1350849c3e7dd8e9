"""What lies on the rack, its movements and levels."""

from datetime import datetime
from fractions import Fraction

from sqlalchemy import ForeignKey, Index, Text, text
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import STRICT, Row


class StockItemRow(Row):
    """One line of the rack. label: of an offcut. on_hand: kept by triggers, never written here."""

    __tablename__ = "stock_items"
    __table_args__ = (
        Index("stock_items_by_material", "material_id"),
        Index("stock_items_by_label", "label", unique=True),
        STRICT,
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
        Index("stock_movements_by_piece", "piece_id", sqlite_where=text("kind = 'used'")),
        Index("stock_movements_by_taken_back", "takes_back", unique=True),
        STRICT,
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
    used: Mapped[Fraction | None]


class StockLevelRow(Row):
    """What the shop wants to have of a material, and how it is bought."""

    __tablename__ = "stock_levels"
    __table_args__ = (STRICT,)
    material_id: Mapped[int] = mapped_column(
        ForeignKey("materials.id", ondelete="CASCADE"), primary_key=True, autoincrement=False
    )
    version: Mapped[int]
    reorder_at: Mapped[int | None]
    pack: Mapped[int]
    place: Mapped[str]
