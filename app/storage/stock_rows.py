"""Items of stock, their movements and a material's levels as rows, and back."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from app.lengths import Size, from_grains, to_grains
from app.money import CURRENCIES, Money
from app.stock.items import Form, Item, StockItem
from app.stock.levels import Levels
from app.stock.movements import Movement, MovementKind, NewMovement
from app.storage.rows import StockItemRow, StockLevelRow, StockMovementRow


def item_row(item: Item, material_id: int, since: datetime) -> StockItemRow:
    """The row of a new item. Raises: Invalid where a length is too fine to be kept."""
    length = None if item.length is None else to_grains(item.length)
    width, height = (
        (None, None)
        if item.size is None
        else (to_grains(item.size.width, path="size"), to_grains(item.size.height, path="size"))
    )
    return StockItemRow(
        version=1,
        material_id=material_id,
        form=item.form.value,
        whole=item.whole,
        label=item.label or None,
        length=length,
        width=width,
        height=height,
        since=since,
        **changing_columns(item),
    )


def changing_columns(item: Item) -> Mapping[str, Any]:
    """The columns of an item that may be changed: what it costs, where it lies, what is noted."""
    return {
        "batch": item.batch,
        "place": item.place,
        "note": item.note,
        "currency": item.unit_cost.currency.code,
        "unit_cost_minor": item.unit_cost.minor,
    }


def item_of(row: StockItemRow, code: str) -> StockItem:
    """The item of a row. code: of its material."""
    size = None
    if row.width is not None and row.height is not None:
        size = Size(from_grains(row.width), from_grains(row.height))
    item = Item(
        material=code,
        form=Form(row.form),
        unit_cost=Money(row.unit_cost_minor, CURRENCIES[row.currency]),
        length=None if row.length is None else from_grains(row.length),
        size=size,
        whole=row.whole,
        label=row.label or "",
        batch=row.batch,
        place=row.place,
        note=row.note,
    )
    return StockItem(id=row.id, version=row.version, item=item, on_hand=row.on_hand)


def movement_row(item_id: int, entry: NewMovement) -> StockMovementRow:
    """The row of a new movement."""
    return StockMovementRow(
        item_id=item_id,
        kind=entry.kind.value,
        change=entry.change,
        at=entry.at,
        by=entry.by,
        note=entry.note,
        plan_id=entry.plan_id,
        piece_id=entry.piece_id,
        line_id=entry.line_id,
        takes_back=entry.takes_back,
        used=entry.used,
    )


def movement_of(row: StockMovementRow) -> Movement:
    """The movement of a row."""
    entry = NewMovement(
        kind=MovementKind(row.kind),
        change=row.change,
        at=row.at,
        by=row.by,
        note=row.note,
        plan_id=row.plan_id,
        piece_id=row.piece_id,
        line_id=row.line_id,
        takes_back=row.takes_back,
        used=row.used,
    )
    return Movement(id=row.id, item_id=row.item_id, entry=entry)


def levels_of(row: StockLevelRow) -> Levels:
    """The levels of a row."""
    return Levels(reorder_at=row.reorder_at, pack=row.pack, place=row.place)
