"""The stock as it is kept: items, their movements, the levels of materials.

What is on hand of an item is the sum of its movements; the database settles it with every movement
and lets nothing else be written. Movements are only added. Nothing is refused for going below zero.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from sqlalchemy import Text, cast, exists, func, literal_column, select
from sqlalchemy.orm import Session, aliased

from app.errors import Conflict, NotFound, quoted
from app.money import Currency
from app.orders.change_of_currency import money_in
from app.stock.balances import Balance
from app.stock.items import Item, StockItem
from app.stock.levels import NO_LEVELS, Levels
from app.stock.movements import Movement, NewMovement
from app.storage.codes import material_row
from app.storage.memo import Memo
from app.storage.paging import ListPage, PageRequest, Stale, Versioned
from app.storage.rows import MaterialRow, StockItemRow, StockLevelRow, StockMovementRow
from app.storage.stock_lists import (
    ANY_STOCK,
    StockFilter,
    StockLine,
    balances_of,
    every_line,
    line_of,
    lines,
    page_of_lines,
)
from app.storage.stock_rows import (
    changing_columns,
    item_of,
    item_row,
    levels_of,
    movement_of,
    movement_row,
)

_UNDONE = aliased(StockMovementRow)
_USED = select(StockMovementRow).where(
    literal_column("stock_movements.kind = 'used'"),  # written out for the partial index
    ~exists().where(_UNDONE.takes_back == StockMovementRow.id),
)
"""What pieces used and what was not taken back."""


class Stock:
    """Keeps what is on the rack."""

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()

    def add(self, item: Item, movement: NewMovement) -> int:
        """Add an item with its first movement; returns its id.

        Raises: NotFound for the material; Conflict where the label is another's; Invalid for a
        length too fine to be kept.
        """
        if item.label and self.labelled(item.label) is not None:
            raise Conflict(f"The label {quoted(item.label)} is on another offcut already.")
        row = item_row(item, self._material_id(item.material), movement.at)
        self._session.add(row)
        self._session.flush()
        self.move(row.id, movement)
        return row.id

    def get(self, item_id: int) -> StockItem:
        """One item. Raises: NotFound."""
        row, code = self._row(item_id)
        return item_of(row, code)

    def labelled(self, label: str) -> StockItem | None:
        """The offcut with a label, any case; None where there is none."""
        found = select(StockItemRow.id).where(StockItemRow.label == label.strip())
        item_id = self._session.scalars(found).one_or_none()
        return None if item_id is None else self.get(item_id)

    def of_material(self, code: str, *, gone: bool = False) -> tuple[StockItem, ...]:
        """The items of a material, the oldest first. gone: also those of which none is left.

        Raises: NotFound for the material.
        """
        material = material_row(self._session, code)
        ours = select(StockItemRow).where(StockItemRow.material_id == material.id)
        if not gone:
            ours = ours.where(StockItemRow.on_hand != 0)
        rows = self._session.scalars(ours.order_by(StockItemRow.id))
        return tuple(item_of(row, material.code) for row in rows)

    def of_materials(self, codes: Iterable[str]) -> tuple[StockItem, ...]:
        """The items of some materials of which any are left, the oldest first. codes: those of today."""
        rows = self._session.execute(
            select(StockItemRow, MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
            .where(MaterialRow.code.in_(tuple(codes)), StockItemRow.on_hand != 0)
            .order_by(StockItemRow.id)
        )
        return tuple(item_of(row, code) for row, code in rows)

    def listed(
        self, wanted: StockFilter = ANY_STOCK, page: PageRequest | None = None
    ) -> ListPage[StockLine]:
        """One page of the items that are wanted: by material, whole ones first, then the longest."""
        return page_of_lines(self._session, wanted, page or PageRequest())

    def every(self, wanted: StockFilter = ANY_STOCK) -> tuple[StockLine, ...]:
        """All items that are wanted, in the order of the list."""
        return every_line(self._session, wanted)

    def line(self, item_id: int) -> StockLine:
        """One item with what a page says of its material. Raises: NotFound."""
        found = self._session.execute(lines().where(StockItemRow.id == item_id)).one_or_none()
        if found is None:
            raise NotFound(f"There is no item {item_id} in the stock.")
        return line_of(*found)

    def balances(
        self, wanted: StockFilter = ANY_STOCK, reserved: Mapping[int, int] | None = None
    ) -> tuple[Balance, ...]:
        """What is there of each material that is wanted, by code.

        reserved: how many of each item open cutting plans have taken, by the item's id.
        """
        return balances_of(self._session, wanted, reserved or {}, self._lasting)

    def places(self) -> tuple[str, ...]:
        """Every place where something lies, in order."""
        found = select(StockItemRow.place).where(StockItemRow.on_hand != 0).distinct()
        return tuple(sorted(filter(None, self._session.scalars(found)), key=str.casefold))

    def move(self, item_id: int, movement: NewMovement) -> int:
        """Write a movement down; returns its id. Raises: NotFound, Conflict where it was undone."""
        row, _ = self._row(item_id)
        if movement.takes_back is not None:
            self._check_taken_back(item_id, movement.takes_back)
        added = movement_row(item_id, movement)
        self._session.add(added)
        self._session.flush()
        self._session.expire(row, ["on_hand"])  # a trigger has settled it
        return added.id

    def movements(self, item_id: int) -> tuple[Movement, ...]:
        """Every movement of an item, the oldest first."""
        ours = select(StockMovementRow).where(StockMovementRow.item_id == item_id)
        rows = self._session.scalars(ours.order_by(StockMovementRow.id))
        return tuple(map(movement_of, rows))

    def used_by(self, piece_ids: Iterable[int]) -> tuple[Movement, ...]:
        """What pieces used and what was not taken back, the oldest first."""
        ours = _USED.where(StockMovementRow.piece_id.in_(tuple(piece_ids)))
        rows = self._session.scalars(ours.order_by(StockMovementRow.id))
        return tuple(map(movement_of, rows))

    def opened(self, code: str) -> Fraction:
        """How much of what pieces took off the rack of a material none of them used.

        A part of a metre, as a rule; below zero where the piece that opened it was taken back.
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
        for name, value in changing_columns(item).items():
            setattr(row, name, value)
        row.version += 1
        self._session.flush()

    def levels(self, code: str) -> Versioned[Levels]:
        """The levels of a material; version 0 where none were set. Raises: NotFound."""
        material_id = self._material_id(code)
        row = self._session.get(StockLevelRow, material_id)
        if row is None:
            return Versioned(id=material_id, version=0, value=NO_LEVELS)
        return Versioned(id=material_id, version=row.version, value=levels_of(row))

    def every_level(self) -> Mapping[str, Levels]:
        """The levels of the materials for which any were set, by code."""
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
        row.version, row.reorder_at = kept.version + 1, levels.reorder_at
        row.pack, row.place = levels.pack, levels.place
        self._session.flush()

    def has(self, code: str) -> bool:
        """Whether anything was ever on the rack of a material. Raises: NotFound."""
        ours = select(StockItemRow.id).where(StockItemRow.material_id == self._material_id(code))
        return self._session.scalars(ours.limit(1)).first() is not None

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
            raise Conflict("That movement was taken back already.")

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
