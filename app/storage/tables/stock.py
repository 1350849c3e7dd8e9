"""Keeps the stock: items, their movements, the levels of materials.

What is on hand of an item is the sum of its movements; the database settles it with every movement
and lets nothing else be written. Movements are only added. Nothing is refused for going below zero.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import ForeignKey, Index, Text, cast, exists, func, literal_column, select, text
from sqlalchemy.orm import Mapped, Session, aliased, mapped_column

from app.errors import Conflict, NotFound, quoted
from app.money import Currency
from app.orders.change_of_currency import money_in
from app.stock.items import Item, StockItem
from app.stock.levels import NO_LEVELS, Levels
from app.stock.movements import Movement, NewMovement
from app.storage.journal import ContraryRow, Journal, Sealing
from app.storage.mapping import (
    STRICT,
    Row,
    TextOrNull,
    columns_of,
    value_of,
    write,
)
from app.storage.paging import Stale, Versioned
from app.storage.tables.materials import MaterialRow, material_row


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
    label: Mapped[str] = mapped_column(TextOrNull(collation="NOCASE"), nullable=True)
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
    sealed = Sealing(
        columns=(
            "id",
            "material_id",
            "form",
            "whole",
            "label",
            "length",
            "width",
            "height",
            "since",
        )
    )


class StockMovementRow(ContraryRow, Row):
    """One movement of an item, written once."""

    __tablename__ = "stock_movements"
    __table_args__ = (
        Index("stock_movements_by_item", "item_id"),
        Index("stock_movements_by_piece", "piece_id", sqlite_where=text("kind = 'used'")),
        Index("stock_movements_by_order_line", "order_line_id", sqlite_where=text("kind = 'sold'")),
        Index(
            "stock_movements_cut_for_piece",
            "piece_id",
            sqlite_where=text("kind = 'cut' AND piece_id IS NOT NULL"),
        ),
        Index("stock_movements_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    item_id: Mapped[int] = mapped_column(ForeignKey("stock_items.id"))
    kind: Mapped[str]
    change: Mapped[int]
    note: Mapped[str]
    plan_id: Mapped[int | None]
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("pieces.id"))
    line_id: Mapped[int | None]
    used: Mapped[Fraction | None]
    order_line_id: Mapped[int | None] = mapped_column(ForeignKey("order_lines.id"))


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


def item_of(row: Any, code: str) -> StockItem:
    """Return the item of a row, or of its columns alone. code: of its material."""
    return value_of(StockItem, row, item=value_of(Item, row, material=code))


def _movement_of(row: StockMovementRow) -> Movement:
    return Movement(id=row.id, item_id=row.item_id, entry=value_of(NewMovement, row))


def levels_of(row: StockLevelRow) -> Levels:
    """Return the levels of a row."""
    return value_of(Levels, row)


_STAYS = ("material", "form", "length", "size", "whole", "label")
"""What an item is, which never changes."""

_UNDONE = aliased(StockMovementRow)
_USED = select(StockMovementRow).where(
    literal_column("stock_movements.kind = 'used'"),  # written out for the partial index
    ~exists().where(_UNDONE.takes_back == StockMovementRow.id),
)
"""What pieces used and what was not taken back."""


class Stock:
    """Keeps what is on the rack."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._movements = Journal(session, NewMovement, StockMovementRow, StockMovementRow.item_id)

    def add(self, item: Item, movement: NewMovement) -> int:
        """Add an item with its first movement; returns its id.

        Raises: NotFound for the material; Conflict where the label is another's; Invalid for a
        length too fine to be kept.
        """
        if item.label and self.labelled(item.label) is not None:
            raise Conflict(f"The label {quoted(item.label)} is on another offcut already.")
        material_id = self._material_id(item.material)
        row = StockItemRow(
            version=1,
            material_id=material_id,
            since=movement.at,
            **columns_of(item, but=("material",)),
        )
        self._session.add(row)
        self._session.flush()
        self.move(row.id, movement)
        return row.id

    def get(self, item_id: int) -> StockItem:
        """Return one item. Raises: NotFound."""
        row, code = self._row(item_id)
        return item_of(row, code)

    def labelled(self, label: str) -> StockItem | None:
        """Return the offcut with a label, any case; None where there is none."""
        found = select(StockItemRow.id).where(StockItemRow.label == label.strip())
        item_id = self._session.scalars(found).one_or_none()
        return None if item_id is None else self.get(item_id)

    def of_material(self, code: str, *, gone: bool = False) -> tuple[StockItem, ...]:
        """Return the items of a material, the oldest first. gone: also those of which none is left.

        Raises: NotFound for the material.
        """
        material = material_row(self._session, code)
        ours = select(StockItemRow).where(StockItemRow.material_id == material.id)
        if not gone:
            ours = ours.where(StockItemRow.on_hand != 0)
        rows = self._session.scalars(ours.order_by(StockItemRow.id))
        return tuple(item_of(row, material.code) for row in rows)

    def of_materials(self, codes: Iterable[str], *, gone: bool = False) -> tuple[StockItem, ...]:
        """Return the items of some materials, the oldest first. codes: those of today. gone: also those of which none is left."""
        ours = (
            select(*StockItemRow.__table__.columns, MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
            .where(MaterialRow.code.in_(tuple(codes)))
        )
        if not gone:
            ours = ours.where(StockItemRow.on_hand != 0)
        rows = self._session.execute(ours.order_by(StockItemRow.id))
        return tuple(item_of(row, row.code) for row in rows)

    def materials_of(self, item_ids: Iterable[int]) -> frozenset[str]:
        """Return the codes of the materials of some items."""
        found = (
            select(MaterialRow.code)
            .join(StockItemRow, StockItemRow.material_id == MaterialRow.id)
            .where(StockItemRow.id.in_(tuple(item_ids)))
        )
        return frozenset(self._session.scalars(found))

    def is_kept(self) -> bool:
        """Return whether anything was ever written down as lying on the rack."""
        return self._session.scalars(select(StockItemRow.id).limit(1)).first() is not None

    def places(self) -> tuple[str, ...]:
        """Return every place in use, sorted."""
        found = select(StockItemRow.place).where(StockItemRow.on_hand != 0).distinct()
        return tuple(sorted(filter(None, self._session.scalars(found)), key=str.casefold))

    def move(self, item_id: int, movement: NewMovement) -> int:
        """Write a movement down; returns its id. Raises: NotFound, Conflict where it was undone."""
        row, _ = self._row(item_id)
        if movement.takes_back is not None:
            self._check_taken_back(item_id, movement.takes_back)
        added = self._movements.add(item_id, movement)
        self._session.expire(row, ["on_hand"])  # a trigger has settled it
        return added

    def movements(self, item_id: int) -> tuple[Movement, ...]:
        """Return every movement of an item, the oldest first."""
        record = self._movements.of(item_id)
        return tuple(Movement(id=each.id, item_id=item_id, entry=each.entry) for each in record)

    def used_by(self, piece_ids: Iterable[int]) -> tuple[Movement, ...]:
        """Return what pieces used of the stock and did not put back, the oldest first."""
        ours = _USED.where(StockMovementRow.piece_id.in_(tuple(piece_ids)))
        rows = self._session.scalars(ours.order_by(StockMovementRow.id))
        return tuple(map(_movement_of, rows))

    def cut_for(self, piece_ids: Iterable[int]) -> tuple[Movement, ...]:
        """Return what pieces took of the stock when they were cut without a plan and what was not put back."""
        ours = select(StockMovementRow).where(
            literal_column("stock_movements.kind = 'cut'"),  # written out for the partial index
            StockMovementRow.piece_id.in_(tuple(piece_ids)),
            StockMovementRow.plan_id.is_(None),
            ~exists().where(_UNDONE.takes_back == StockMovementRow.id),
        )
        rows = self._session.scalars(ours.order_by(StockMovementRow.id))
        return tuple(map(_movement_of, rows))

    def sold_with(self, line_ids: Iterable[int]) -> tuple[Movement, ...]:
        """Return what was handed over with lines of orders and not taken back, the oldest first."""
        ours = select(StockMovementRow).where(
            literal_column("stock_movements.kind = 'sold'"),  # written out for the partial index
            StockMovementRow.order_line_id.in_(tuple(line_ids)),
            ~exists().where(_UNDONE.takes_back == StockMovementRow.id),
        )
        rows = self._session.scalars(ours.order_by(StockMovementRow.id))
        return tuple(map(_movement_of, rows))

    def opened(self, code: str) -> Fraction:
        """Return how much of a material was taken off the rack for pieces and is used by none of them.

        It is part of a metre as a rule; below zero where the piece that opened it was taken back.
        """
        ours = (
            _USED.with_only_columns(StockMovementRow.change, StockMovementRow.used)
            .join(StockItemRow, StockItemRow.id == StockMovementRow.item_id)
            .where(StockItemRow.material_id == self._material_id(code))
            .where(cast(-StockMovementRow.change, Text) != cast(StockMovementRow.used, Text))
        )
        found = self._session.execute(ours)
        return sum((Fraction(-change) - (used or 0) for change, used in found), Fraction(0))

    def save(self, item_id: int, item: Item, expected_version: int) -> None:
        """Keep an item's batch, place, note and cost; what it is stays. Raises: NotFound, Stale."""
        row, code = self._row(item_id)
        if row.version != expected_version:
            raise Stale(f"Item {item_id} of the stock", item_of(row, code))
        write(row, columns_of(item, but=_STAYS))
        row.version += 1
        self._session.flush()

    def levels(self, code: str) -> Versioned[Levels]:
        """Return the levels of a material; version 0 where none were set. Raises: NotFound."""
        material_id = self._material_id(code)
        row = self._session.get(StockLevelRow, material_id)
        if row is None:
            return Versioned(id=material_id, version=0, value=NO_LEVELS)
        return Versioned(id=material_id, version=row.version, value=levels_of(row))

    def every_level(self) -> Mapping[str, Levels]:
        """Return the levels of the materials for which any were set, by code."""
        rows = self._session.execute(
            select(StockLevelRow, MaterialRow.code).join(
                MaterialRow, MaterialRow.id == StockLevelRow.material_id
            )
        )
        return {code: levels_of(row) for row, code in rows}

    def set_levels(self, code: str, levels: Levels, expected_version: int) -> None:
        """Keep the levels of a material. Raises: NotFound, Stale."""
        kept = self.levels(code)
        if kept.version != expected_version:
            raise Stale(f"The levels of {code}", kept)
        row = self._session.get(StockLevelRow, kept.id)
        if row is None:
            row = StockLevelRow(material_id=kept.id, version=0)
            self._session.add(row)
        write(row, {"version": kept.version + 1, **columns_of(levels)})
        self._session.flush()

    def has(self, code: str) -> bool:
        """Tell whether anything was ever on the rack of a material. Raises: NotFound."""
        ours = select(StockItemRow.id).where(StockItemRow.material_id == self._material_id(code))
        return self._session.scalars(ours.limit(1)).first() is not None

    def holds(self, material_id: int) -> str:
        """Return why a material must stay, since items of it have a record; "" where there are none."""
        items = select(StockItemRow.id).where(StockItemRow.material_id == material_id)
        if self._session.scalars(items.limit(1)).first() is None:
            return ""
        return (
            "is in the record of the stock, so it stays in the price book. Discontinue it "
            "instead; no new quote finds it then."
        )

    def denominate(self, currency: Currency) -> None:
        """Carry every cost over to another currency, figure by figure (`denominating`)."""
        rows = self._session.execute(
            select(StockItemRow, MaterialRow.code).join(
                MaterialRow, MaterialRow.id == StockItemRow.material_id
            )
        )
        for row, code in rows.all():
            cost = money_in(item_of(row, code).item.unit_cost, currency)
            row.currency, row.unit_cost_minor = cost.currency.code, cost.minor
            row.version += 1
        self._session.flush()

    def _check_taken_back(self, item_id: int, movement_id: int) -> None:
        ours = select(func.count()).where(
            StockMovementRow.id == movement_id, StockMovementRow.item_id == item_id
        )
        if not self._session.scalars(ours).one():
            raise Conflict("That movement is not one of this item.")
        undone = select(func.count()).where(StockMovementRow.takes_back == movement_id)
        if self._session.scalars(undone).one():
            raise Conflict("That movement was undone already.")

    def _row(self, item_id: int) -> tuple[StockItemRow, str]:
        found = self._session.execute(
            select(StockItemRow, MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
            .where(StockItemRow.id == item_id)
        ).one_or_none()
        if found is None:
            raise NotFound(f"There is no item {item_id} in the stock.")
        return found[0], found[1]

    def _material_id(self, code: str) -> int:
        return material_row(self._session, code).id
