"""Orders to suppliers, their lines and what came of them as rows, and back."""

from collections.abc import Iterable, Mapping
from typing import Any

from app.lengths import Size, from_grains, to_grains
from app.money import CURRENCIES, Currency, Money
from app.stock.buying.supplier_orders import (
    Delivery,
    NewDelivery,
    NewLine,
    OrderLine,
    SupplierOrder,
    SupplierStage,
)
from app.stock.items import Form
from app.stock.purchase_unit import BuyingUnit
from app.storage.rows import DeliveryRow, SupplierOrderLineRow, SupplierOrderRow


def supplier_order_of(row: SupplierOrderRow, lines: Iterable[OrderLine]) -> SupplierOrder:
    """The order of a row and its lines."""
    return SupplierOrder(
        id=row.id,
        version=row.version,
        number=row.number,
        supplier=row.supplier,
        made_on=row.made_on,
        currency=CURRENCIES[row.currency],
        stage=SupplierStage(row.stage),
        sent_on=row.sent_on,
        note=row.note,
        lines=tuple(lines),
    )


def line_columns(line: NewLine) -> Mapping[str, Any]:
    """The columns of a line, but for its order and its material."""
    size = line.size
    return {
        "name": line.name,
        "form": line.form.value,
        "unit": line.unit.value,
        "length": None if line.length is None else to_grains(line.length),
        "width": None if size is None else to_grains(size.width, path="size"),
        "height": None if size is None else to_grains(size.height, path="size"),
        "quantity": line.quantity,
        "cost_minor": line.cost.minor,
        "cost_for": line.cost_for,
        "note": line.note,
    }


def line_of(
    row: SupplierOrderLineRow, code: str, currency: Currency, deliveries: Iterable[DeliveryRow]
) -> OrderLine:
    """The line of a row. code: of its material. deliveries: its own, the oldest first."""
    size = None
    if row.width is not None and row.height is not None:
        size = Size(from_grains(row.width), from_grains(row.height))
    ordered = NewLine(
        material=code,
        name=row.name,
        form=Form(row.form),
        unit=BuyingUnit(row.unit),
        quantity=row.quantity,
        cost=Money(row.cost_minor, currency),
        cost_for=row.cost_for,
        length=None if row.length is None else from_grains(row.length),
        size=size,
        note=row.note,
    )
    entries = tuple(deliveries)
    undone = {each.takes_back for each in entries}
    return OrderLine(
        id=row.id,
        ordered=ordered,
        deliveries=tuple(delivery_of(each, taken_back=each.id in undone) for each in entries),
    )


def delivery_row(line_id: int, entry: NewDelivery) -> DeliveryRow:
    """The row of a new entry."""
    return DeliveryRow(
        line_id=line_id,
        quantity=entry.quantity,
        currency=entry.cost.currency.code,
        cost_minor=entry.cost.minor,
        cost_for=entry.cost_for,
        batch=entry.batch,
        place=entry.place,
        note=entry.note,
        at=entry.at,
        by=entry.by,
        movement_id=entry.movement_id,
        takes_back=entry.takes_back,
    )


def delivery_of(row: DeliveryRow, *, taken_back: bool) -> Delivery:
    """The entry of a row."""
    entry = NewDelivery(
        quantity=row.quantity,
        cost=Money(row.cost_minor, CURRENCIES[row.currency]),
        cost_for=row.cost_for,
        at=row.at,
        by=row.by,
        movement_id=row.movement_id,
        batch=row.batch,
        place=row.place,
        note=row.note,
        takes_back=row.takes_back,
    )
    return Delivery(id=row.id, line_id=row.line_id, entry=entry, taken_back=taken_back)
