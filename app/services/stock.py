"""The stock: received, kept, spoiled, counted, moved about, taken back.

Every change is a movement with who, when and why; nothing is refused for going below zero. What open
cutting plans have taken is asked of them and never kept here.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.errors import Conflict, FaultCollector, Invalid, NotFound, quoted
from app.money import Money
from app.pricing import Material
from app.stock.balances import Balance, balance_of
from app.stock.buying.goods import LineRef
from app.stock.counting import StockCount, compare
from app.stock.items import Item, StockItem
from app.stock.levels import LARGEST_COUNT, Levels
from app.stock.movements import BY_HAND, Movement, MovementKind, NewMovement, contrary
from app.stock.offcuts import Offcut
from app.stock.planning.parts import PieceRef
from app.storage import (
    ANY_STOCK,
    ListPage,
    PageRequest,
    Series,
    Stamp,
    StockFilter,
    StockLine,
    Store,
    UnitOfWork,
    Versioned,
)

MOST_AT_ONCE = 400
"""Items in one count or on one set of labels."""

LONGEST_NOTE = 500


def balances(store: Store, wanted: StockFilter = ANY_STOCK) -> tuple[Balance, ...]:
    """Return what is there of each material that is wanted, by code."""
    with store.reading() as work:
        return work.stock_lists.balances(wanted, reserved(work))


def standing(store: Store, code: str) -> Balance:
    """Return what is there of one material, also where that is nothing. Raises: NotFound."""
    with store.reading() as work:
        return balance_of(
            work.materials.get(code).value,
            work.stock.of_material(code),
            work.stock.levels(code).value,
            reserved(work),
        )


def listed(
    store: Store, wanted: StockFilter = ANY_STOCK, page: PageRequest | None = None
) -> ListPage[StockLine]:
    """Return one page of the items that are wanted."""
    with store.reading() as work:
        return work.stock_lists.listed(wanted, page)


def every(store: Store, wanted: StockFilter = ANY_STOCK) -> tuple[StockLine, ...]:
    """Return all items that are wanted, in the order of the list: for a file."""
    with store.reading() as work:
        return work.stock_lists.every(wanted)


def places(store: Store) -> tuple[str, ...]:
    """Return every place where something lies."""
    with store.reading() as work:
        return work.stock.places()


def labelled(store: Store, label: str) -> StockItem | None:
    """Return the offcut with a label, any case."""
    with store.reading() as work:
        return work.stock.labelled(label)


def lines(store: Store, ids: tuple[int, ...]) -> tuple[StockLine, ...]:
    """Return some items with what is said of their materials. Raises: NotFound."""
    with store.reading() as work:
        return tuple(work.stock_lists.line(item_id) for item_id in ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """A material that was typed, and what the shop wants to have of it."""

    material: Material
    levels: Levels


def meant(store: Store, text: str) -> Meant:
    """Return the material that a typed text means, with its levels. Raises: Invalid at "material"."""
    material = material_meant(store, text)
    return Meant(material=material, levels=levels(store, material.code).value)


def material_meant(store: Store, text: str) -> Material:
    """Return the material that a typed text means: by its code, or the only one that matches.

    Raises: Invalid at "material".
    """
    with store.reading() as work:
        try:
            return work.materials.get(text).value
        except NotFound:
            found = work.materials.find(text, limit=4) if text.strip() else ()
    if len(found) == 1:
        return found[0]
    if not found:
        raise Invalid.at(
            "material",
            f"{quoted(text)} is no material of the price book; a part of a code or a name is enough."
            if text.strip()
            else "Say which material: a part of its code or name is enough.",
        )
    several = ", ".join(material.code for material in found[:3])
    more = " and others" if len(found) > 3 else ""
    raise Invalid.at(
        "material", f"{quoted(text)} may be {several}{more}; type the code of the one you mean."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """One item with its material and its record, the newest movement first.

    reserved: how many of it open cutting plans have taken. pieces: those that movements are for, by their
    ids; lines: the lines of orders they are for. orders: (id, number) of the suppliers' orders that movements came of, by the line's id.
    """

    line: StockLine
    material: Material
    movements: tuple[Movement, ...]
    reserved: int
    pieces: Mapping[int, PieceRef]
    orders: Mapping[int, tuple[int, str]]
    lines: Mapping[int, LineRef]

    @property
    def kept(self) -> StockItem:
        """The item as it is kept."""
        return self.line.kept


def look(store: Store, item_id: int) -> Looked:
    """Return one item with everything about it. Raises: NotFound."""
    with store.reading() as work:
        line = work.stock_lists.line(item_id)
        record = work.stock.movements(item_id)[::-1]
        entries = [movement.entry for movement in record]
        return Looked(
            line=line,
            material=work.materials.get(line.kept.item.material).value,
            movements=record,
            reserved=reserved(work).get(item_id, 0),
            pieces=work.open_pieces.refs(each.piece_id for each in entries if each.piece_id),
            orders=work.supplier_orders.of_lines(each.line_id for each in entries if each.line_id),
            lines=work.order_lines.refs(
                each.order_line_id for each in entries if each.order_line_id
            ),
        )


def reserved(work: UnitOfWork) -> Mapping[int, int]:
    """Tell how many of each item open cutting plans have taken, by the item's id."""
    return work.plans.reserved()


def reserved_items(store: Store) -> Mapping[int, int]:
    """Tell how many of each item open cutting plans have taken, by the item's id."""
    with store.reading() as work:
        return reserved(work)


def levels(store: Store, code: str) -> Versioned[Levels]:
    """Return the levels of a material; version 0 where none were set. Raises: NotFound."""
    with store.reading() as work:
        return work.stock.levels(code)


def set_levels(store: Store, code: str, wanted: Levels, expected_version: int) -> None:
    """Keep the levels of a material. Raises: NotFound, Stale."""
    with store.writing() as work:
        work.stock.set_levels(code, wanted, expected_version)


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """Whole stock that came in. Raises: Invalid with every fault, at "count", "note"."""

    item: Item
    count: int
    note: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        _check_count(self.count, faults)
        _check_note(self.note, faults)
        faults.finish()


def receive(store: Store, received: Received, act: Stamp) -> int:
    """Take in whole stock; returns the id of the item it lies with. Raises: NotFound."""
    entry = NewMovement(
        kind=MovementKind.BOUGHT,
        change=received.count,
        at=act.now,
        by=act.who,
        note=received.note,
    )
    with store.writing() as work:
        return put_on_rack(work, received.item, entry)


def put_on_rack(work: UnitOfWork, item: Item, entry: NewMovement) -> int:
    """Write stock down where the same already lies, or as a new item; returns the item's id.

    The same is what has material, size, batch, place and cost in common. For a transaction that does
    more than this, as receiving a supplier's delivery.
    """
    item_id = next(
        (
            kept.id
            for kept in work.stock.of_material(item.material, gone=True)
            if replace(kept.item, material=item.material, note=item.note) == item
        ),
        None,
    )
    if item_id is None:
        return work.stock.add(item, entry)
    work.stock.move(item_id, entry)
    return item_id


def keep_offcut(store: Store, offcut: Offcut, act: Stamp, *, cut_up: int | None = None) -> int:
    """Keep an offcut under the next label; returns its id.

    cut_up: the item that it was cut from, where one of it is used up by that. Raises: NotFound.
    """
    with store.writing() as work:
        item_id = put_offcut_on_rack(work, offcut, act)
        if cut_up is not None:
            label = work.stock.get(item_id).item.label
            entry = NewMovement(
                kind=MovementKind.CUT, change=-1, at=act.now, by=act.who, note=f"{label} was kept"
            )
            work.stock.move(cut_up, entry)
        return item_id


def put_offcut_on_rack(
    work: UnitOfWork,
    offcut: Offcut,
    act: Stamp,
    *,
    plan_id: int | None = None,
    piece_id: int | None = None,
) -> int:
    """Put an offcut on the rack under the next label; returns its id. For a transaction that does more than this."""
    label = work.numbers.take(Series.OFFCUT, act.today.year)
    entry = NewMovement(
        kind=MovementKind.KEPT,
        change=1,
        at=act.now,
        by=act.who,
        plan_id=plan_id,
        piece_id=piece_id,
    )
    return work.stock.add(offcut.labelled(label), entry)


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawal:
    """What leaves the rack other than by a plan. kind: cut or spoiled.

    Raises: Invalid with every fault, at "count", "note".
    """

    kind: MovementKind
    count: int
    note: str = ""

    def __post_init__(self) -> None:
        if self.kind not in BY_HAND:
            raise ValueError("what leaves the rack was cut or spoiled")
        faults = FaultCollector()
        _check_count(self.count, faults)
        _check_note(self.note, faults)
        faults.finish()


def take(store: Store, item_id: int, taken: Withdrawal, act: Stamp) -> None:
    """Write down what was cut or can no longer be used. Raises: NotFound."""
    entry = NewMovement(
        kind=taken.kind, change=-taken.count, at=act.now, by=act.who, note=taken.note
    )
    with store.writing() as work:
        work.stock.move(item_id, entry)


def take_back(store: Store, item_id: int, movement_id: int, act: Stamp) -> Movement:
    """Undo a movement by its contrary; returns what was undone.

    Raises: NotFound; Conflict also for what came of a supplier's order, which is taken back there, so that
    the order awaits it again.
    """
    with store.writing() as work:
        work.stock.get(item_id)
        record = work.stock.movements(item_id)
        undoing = contrary(record, movement_id, at=act.now, by=act.who)
        _check_not_delivered(work, undoing)
        work.stock.move(item_id, undoing)
    return next(each for each in record if each.id == movement_id)


def _check_not_delivered(work: UnitOfWork, undoing: NewMovement) -> None:
    if undoing.line_id is None:
        return
    for _, number in work.supplier_orders.of_lines([undoing.line_id]).values():
        raise Conflict(
            f"This came of the order {number}. Undo it on the page of that order, so that it "
            "is awaited again."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """What may be changed of an item."""

    place: str
    batch: str
    note: str
    unit_cost: Money


def edit(store: Store, item_id: int, version: int, changed: Edit) -> None:
    """Put an item elsewhere, or correct what is noted. Raises: NotFound, Stale, Invalid."""
    with store.writing() as work:
        item = replace(
            work.stock.get(item_id).item,
            place=changed.place,
            batch=changed.batch,
            note=changed.note,
            unit_cost=changed.unit_cost,
        )
        work.stock.save(item_id, item, version)


def preview_count(store: Store, counts: Mapping[int, int]) -> StockCount:
    """Return what a count would change. Raises: NotFound; Invalid at "count.<id>"."""
    with store.reading() as work:
        return _counted(work, counts)


def count(
    store: Store, counts: Mapping[int, int], seen: Mapping[int, int], act: Stamp, *, note: str = ""
) -> StockCount:
    """Bring the record to what was counted, as it was previewed. counts, seen: by the item's id.

    seen: what was noted as on hand when the count was looked at. Returns what was changed.
    Raises: Conflict where the record moved since; then nothing is changed.
    """
    faults = FaultCollector()
    _check_note(note, faults)
    faults.finish()
    with store.writing() as work:
        found = _counted(work, counts)
        if any(seen.get(each.kept.id) != each.kept.on_hand for each in found.items):
            raise Conflict(
                "The record moved since this count was looked at: something was bought, cut or "
                "spoiled. Nothing was changed: look at the differences again."
            )
        for each in found.items:
            entry = each.movement(at=act.now, by=act.who, note=note)
            work.stock.move(each.kept.id, entry)
        return found


def _counted(work: UnitOfWork, counts: Mapping[int, int]) -> StockCount:
    items = [work.stock.get(item_id) for item_id in counts]
    return compare(items, counts, work.shop.get().currency)


def _check_count(count: int, faults: FaultCollector) -> None:
    if not 1 <= count <= LARGEST_COUNT:
        faults.add("count", f"The count is {count}; 1 to {LARGEST_COUNT} is allowed.")


def _check_note(note: str, faults: FaultCollector) -> None:
    if len(note) > LONGEST_NOTE:
        faults.add("note", f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept.")
