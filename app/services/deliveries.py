"""What comes of orders to suppliers: received in parts, taken back, its costs taken into the price book.

Whatever is received lies on the rack in the same transaction. Nothing changes the price book by
itself, and quotes keep what they were made with (P7).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from app.errors import Conflict, FaultCollector, Invalid
from app.journal import Refusals, to_take_back
from app.money import Money
from app.pricing import Material
from app.services.buying import SupplierOrderAt
from app.services.stock import put_on_rack
from app.stock.buying.received_costs import CostChange, cost_changes
from app.stock.buying.supplier_orders import (
    LONGEST_NOTE,
    Delivery,
    NewDelivery,
    OrderLine,
    SupplierOrder,
    SupplierStage,
    cost_of,
    settled_stage,
)
from app.stock.items import Item
from app.stock.levels import LARGEST_COUNT
from app.stock.movements import MovementKind, NewMovement, contrary
from app.storage import Stamp, Store, UnitOfWork, Versioned


@dataclass(frozen=True, slots=True, kw_only=True)
class CameOfLine:
    """So many of a line that came.

    cost: what was paid for as many as the line's cost is for. place: "" for the material's usual one.
    Raises: Invalid at "quantity".
    """

    line_id: int
    quantity: int
    cost: Money
    batch: str = ""
    place: str = ""

    def __post_init__(self) -> None:
        if not 1 <= self.quantity <= LARGEST_COUNT:
            raise Invalid.at(
                "quantity", f"{self.quantity} cannot have come; 1 to {LARGEST_COUNT} can."
            )


def receive(
    store: Store, at: SupplierOrderAt, came: Sequence[CameOfLine], act: Stamp, *, note: str = ""
) -> SupplierOrder:
    """Take in what came of an order, onto the rack; all of it closes the order. Returns it as it is then.

    note: such as the number of the delivery note. Raises: NotFound, Stale, Conflict unless the order
    is sent, Invalid with every fault, at "lines.<id>.<field>" and "note".
    """
    _check(came, note)
    with store.writing() as work:
        order = work.supplier_orders.claim(at.id, at.version, act)
        if order.stage is not SupplierStage.SENT:
            raise Conflict(f"{order.number} is “{order.stage}”; only what was sent can come.")
        for each in came:
            _take_in(work, order, each, act, note)
        return _settle(work, order.id)


def take_back(store: Store, at: SupplierOrderAt, delivery_id: int, act: Stamp) -> Delivery:
    """Undo an entry by its contrary, on the rack too; returns what was undone.

    The rack may come to stand below zero, which it says. Raises: NotFound, Stale, Conflict.
    """
    with store.writing() as work:
        order = work.supplier_orders.claim(at.id, at.version, act)
        line, wrong = _entry(order, delivery_id)
        movement_id = _move_back(work, wrong, act)
        entry = replace(
            wrong.entry,
            quantity=-wrong.entry.quantity,
            at=act.now,
            by=act.who,
            movement_id=movement_id,
            takes_back=wrong.id,
        )
        work.supplier_orders.add_delivery(line.id, entry)
        _settle(work, order.id)
        return wrong


@dataclass(frozen=True, slots=True, kw_only=True)
class CostReceived:
    """A change of the price book that was not made yet. version: of the material as it was read."""

    change: CostChange
    version: int


def costs_received(store: Store, order_id: int) -> tuple[CostReceived, ...]:
    """Return what was last paid and is not what the price book says, by code. Raises: NotFound."""
    with store.reading() as work:
        return _costs(work, order_id)


def take_costs(store: Store, order_id: int, seen: Mapping[str, int], act: Stamp) -> int:
    """Take the costs of some materials into the price book as they were previewed.

    seen: the version of each, by its code. Returns how many were changed; quotes keep the old ones.
    Raises: NotFound; Invalid where none is chosen; Conflict where one was changed since or is not
    among them any more, then nothing is changed.
    """
    if not seen:
        raise Invalid.at(
            "", "Nothing is chosen; tick the costs that are to be taken over.", "empty"
        )
    with store.writing() as work:
        there = {each.change.new.code: each for each in _costs(work, order_id)}
        if any(code not in there or there[code].version != seen[code] for code in seen):
            raise Conflict(
                "The price book was changed since this list was made. Nothing was taken over: look "
                "at the new list and choose again."
            )
        for code, version in seen.items():
            work.materials.save(code, there[code].change.new, version, now=act.now)
    return len(seen)


def _costs(work: UnitOfWork, order_id: int) -> tuple[CostReceived, ...]:
    order = work.supplier_orders.get(order_id)
    codes = {line.ordered.material for line in order.lines}
    book: dict[str, Versioned[Material]] = {
        code: work.materials.get(code) for code in sorted(codes)
    }
    changes = cost_changes(order, {code: kept.value for code, kept in book.items()})
    return tuple(
        CostReceived(change=change, version=book[change.old.code].version) for change in changes
    )


def _check(came: Sequence[CameOfLine], note: str) -> None:
    faults = FaultCollector()
    if not came:
        faults.add("", "Nothing came by this list; say how many of which line did.", "empty")
    if len(note) > LONGEST_NOTE:
        faults.add("note", f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept.")
    faults.finish()


def _take_in(
    work: UnitOfWork, order: SupplierOrder, came: CameOfLine, act: Stamp, note: str
) -> None:
    line = order.line(came.line_id)
    if not came.place:
        usual = work.stock.levels(line.ordered.material).value.place
        came = replace(came, place=usual)
    try:
        item = _item(line, came)
        movement = NewMovement(
            kind=MovementKind.BOUGHT,
            change=came.quantity,
            at=act.now,
            by=act.who,
            note=order.number,
            line_id=line.id,
        )
        item_id = put_on_rack(work, item, movement)
        entry = NewDelivery(
            quantity=came.quantity,
            cost=came.cost,
            cost_for=line.ordered.cost_for,
            at=act.now,
            by=act.who,
            movement_id=work.stock.movements(item_id)[-1].id,
            batch=came.batch,
            place=came.place,
            note=note,
        )
    except Invalid as invalid:
        raise invalid.under(f"lines.{line.id}") from invalid
    work.supplier_orders.add_delivery(line.id, entry)


def _item(line: OrderLine, came: CameOfLine) -> Item:
    """Return what lies on the rack of a delivery; of what is bought by the hundred, one at its share, half up."""
    return Item(
        material=line.ordered.material,
        form=line.ordered.form,
        unit_cost=cost_of(1, came.cost, line.ordered.cost_for),
        length=line.ordered.length,
        size=line.ordered.size,
        batch=came.batch,
        place=came.place,
    )


def _entry(order: SupplierOrder, delivery_id: int) -> tuple[OrderLine, Delivery]:
    """Return an entry that may be taken back, with its line. Raises: Conflict."""
    unknown = f"{order.number} has no such entry; look at it again."
    for line in order.lines:
        for delivery in line.deliveries:
            if delivery.id == delivery_id:
                to_take_back(line.deliveries, delivery_id, replace(_REFUSALS, unknown=unknown))
                return line, delivery
    raise Conflict(unknown)


_REFUSALS = Refusals(
    unknown="",
    contrary="What was undone stays so; receive it again instead.",
    again="That entry was undone already.",
)


def _move_back(work: UnitOfWork, wrong: Delivery, act: Stamp) -> int:
    """Return the contrary movement on the rack, where nobody takes a delivery back but by its order."""
    item_id = work.supplier_orders.item_of(wrong)
    record = work.stock.movements(item_id)
    return work.stock.move(
        item_id, contrary(record, wrong.entry.movement_id, at=act.now, by=act.who)
    )


def _settle(work: UnitOfWork, order_id: int) -> SupplierOrder:
    order = work.supplier_orders.get(order_id)
    settled = replace(order, stage=settled_stage(order))
    work.supplier_orders.write_head(settled)
    return settled
