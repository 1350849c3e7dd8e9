"""The page of one order to a supplier: its lines, its deliveries, and every action on it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from app.counting import counted
from app.errors import Fault
from app.forms.table import Typed
from app.journal import standing, taken_back
from app.lengths import Unit
from app.money import Money, show_money
from app.orders import Shop
from app.services.deliveries import CostReceived
from app.stock.buying.supplier_orders import (
    Delivery,
    NewLine,
    OrderLine,
    SupplierOrder,
    SupplierStage,
)
from app.stock.planning.as_set import say_stock
from app.web.buying.form import came_line, draft_line, draft_typed, usual_cost
from app.web.buying.page import ORDERS
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.listing import Chip, items_of
from app.web.materials.page import sells_for
from app.web.stock.parts import StockPage


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRow:
    """One line of the order.

    cost: "12.40 a sheet", "9.60 for 100". fields: its part of the form, by name.
    """

    id: int
    code: str
    name: str
    size: str
    note: str
    href: str
    ordered: str
    received: int
    outstanding: int
    beyond: int
    cost: str
    total: Money
    fields: FormView[Shop]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryView:
    """One entry of the record of deliveries.

    what: "6 sheets of M-101 at 12.40". may_take_back: whether the button beside it takes it back.
    """

    id: int
    what: str
    where: str
    note: str
    at: datetime
    by: str
    taken_back: bool
    may_take_back: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrderPage(StockPage):
    """One order to a supplier.

    waits: what is outstanding, in words. differing: costs paid that differ from the price book.
    """

    wide: bool = True
    part: str = "Buying"
    views: tuple[Chip, ...]
    id: int
    version: int
    number: str
    supplier: str
    stage: SupplierStage
    made_on: date
    sent_on: date | None
    order_note: str
    lines: tuple[LineRow, ...]
    total: Money
    paid: Money
    waits: str
    head: FormView[Shop]
    added: FormView[Shop]
    delivery: FormView[Shop]
    record: tuple[DeliveryView, ...]
    differing: int

    @property
    def href(self) -> str:
        """The address of the order."""
        return f"{ORDERS}/{self.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CostRow:
    """A cost that was paid and differs from the price book.

    value: "CODE:version", to be posted back.
    """

    field: FieldView
    value: str
    code: str
    name: str
    cost: Money
    new_cost: Money
    sells: str
    new_sells: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CostsPage(StockPage):
    """The page that shows what taking costs paid into the price book would change."""

    part: str = "Buying"
    number: str
    href: str
    rows: tuple[CostRow, ...]


def line_rows(
    order: SupplierOrder, shop: Shop, typed: Typed, faults: Iterable[Fault]
) -> tuple[LineRow, ...]:
    """Return the lines with the fields that the stage of the order calls for.

    typed: the form that was refused, empty when the page is opened.
    """
    is_draft = order.stage is SupplierStage.DRAFT
    form_of = draft_line if is_draft else came_line
    begun = draft_typed(order, shop) if is_draft else _came_typed(order)
    make = Fields({**begun, **typed}, faults)
    return tuple(_row(line, shop.unit, FormView(form_of(line), shop, make)) for line in order.lines)


def _came_typed(order: SupplierOrder) -> dict[str, str]:
    """Return the cost that the form for a delivery begins with, for each line."""
    return {came_line(line).at["paid"].path: show_money(usual_cost(line)) for line in order.lines}


def _row(line: OrderLine, unit: Unit, fields: FormView[Shop]) -> LineRow:
    ordered = line.ordered
    return LineRow(
        id=line.id,
        code=ordered.material,
        name=ordered.name,
        size=size_of(ordered, unit),
        note=ordered.note,
        href=items_of(ordered.material),
        ordered=ordered.unit.counted(ordered.quantity),
        received=line.received,
        outstanding=line.outstanding,
        beyond=line.beyond,
        cost=cost_words(ordered, ordered.cost),
        total=ordered.total,
        fields=fields,
    )


def size_of(ordered: NewLine, unit: Unit) -> str:
    """Return the length of a stick or the size of a sheet; "" for what is counted."""
    extent = ordered.length if ordered.length is not None else ordered.size
    return "" if extent is None else say_stock(extent, unit)


def cost_words(ordered: NewLine, cost: Money) -> str:
    """Write a cost with what it is for: "12.40 a sheet", "9.60 for 100"."""
    if ordered.cost_for > 1:
        return f"{show_money(cost)} for {ordered.cost_for}"
    return f"{show_money(cost)} {ordered.unit.per_one}"


def record_of(order: SupplierOrder) -> tuple[DeliveryView, ...]:
    """Return everything that came or was undone, the newest first."""
    entries = [(line, delivery) for line in order.lines for delivery in line.deliveries]
    entries.sort(key=lambda each: each[1].id, reverse=True)
    return tuple(_entry(line, delivery) for line, delivery in entries)


def _entry(line: OrderLine, delivery: Delivery) -> DeliveryView:
    ordered, entry = line.ordered, delivery.entry
    count = ordered.unit.counted(abs(entry.quantity))
    back = entry.takes_back is not None
    what = f"{count} of {ordered.material}" + (
        " undone" if back else f" at {cost_words(ordered, entry.cost)}"
    )
    return DeliveryView(
        id=delivery.id,
        what=what,
        where=" · ".join(
            part for part in (entry.place, f"batch {entry.batch}" if entry.batch else "") if part
        ),
        note=entry.note,
        at=entry.at,
        by=entry.by,
        taken_back=delivery.id in taken_back(line.deliveries),
        may_take_back=delivery in standing(line.deliveries),
    )


def waits_words(order: SupplierOrder) -> str:
    """Say in a sentence what is outstanding."""
    left = [line for line in order.lines if line.outstanding]
    if not left:
        return "Nothing more to come."
    said = ", ".join(
        f"{line.ordered.unit.counted(line.outstanding)} of {line.ordered.material}"
        for line in left[:4]
    )
    more = f" and {counted(len(left) - 4, 'further line')}" if len(left) > 4 else ""
    return f"Still to come: {said}{more}."


def cost_rows(found: Iterable[CostReceived], shop: Shop, typed: Typed) -> tuple[CostRow, ...]:
    """Return the rows of the costs that were paid; all are ticked when the page is opened."""
    rows: list[CostRow] = []
    for number, each in enumerate(found):
        old, new = each.change.old, each.change.new
        value = f"{new.code}:{each.version}"
        ticked = not typed or value in typed.values()
        rows.append(
            CostRow(
                field=FieldView(
                    path=f"cost.{number}",
                    label=f"Take the cost of {new.code}",
                    value="1" if ticked else "",
                ),
                value=value,
                code=new.code,
                name=new.name,
                cost=old.cost,
                new_cost=new.cost,
                sells=sells_for(old, shop),
                new_sells=sells_for(new, shop),
            )
        )
    return tuple(rows)
