"""Orders to suppliers: made from what is short, changed, sent, closed.

What is short is worked out in `shortages`, what comes of an order is received in `deliveries`.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace

from app.errors import Conflict, FaultCollector, Invalid, quoted
from app.money import Money
from app.orders import Shop
from app.pricing import Material
from app.stock.buying.supplier_orders import (
    NewLine,
    OrderLine,
    SupplierOrder,
    SupplierStage,
    check_head,
    check_move,
)
from app.stock.levels import LARGEST_COUNT
from app.stock.purchase_unit import BoughtAs, bought_as
from app.stock.wording import named
from app.storage import (
    Coming,
    ListPage,
    PageRequest,
    Series,
    Stamp,
    Store,
    SupplierOrderSummary,
    UnitOfWork,
)

MOST_LINES = 100
"""Lines of one order; more is a slip, and no supplier's sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrderAt:
    """An order at the version in which it was read."""

    id: int
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ToOrder:
    """So many of a material, to be ordered. supplier: "" for that of the price book.

    coming: how many were in drafts and on order when this was asked for; None where nobody looked.
    Raises: Invalid at "quantity".
    """

    material: str
    quantity: int
    supplier: str = ""
    coming: int | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.quantity <= LARGEST_COUNT:
            raise Invalid.at(
                "quantity", f"{self.quantity} cannot be ordered; 1 to {LARGEST_COUNT} can."
            )


def get(store: Store, order_id: int) -> SupplierOrder:
    """Return the whole order. Raises: NotFound."""
    with store.reading() as work:
        return work.supplier_orders.get(order_id)


def listed(
    store: Store,
    stages: frozenset[SupplierStage] = frozenset(),
    page: PageRequest | None = None,
) -> ListPage[SupplierOrderSummary]:
    """Return one page of the orders at some stages, all where none is named, the newest first."""
    with store.reading() as work:
        return work.supplier_orders.listed(stages, page)


def stage_counts(store: Store) -> Mapping[SupplierStage, int]:
    """Tell how many orders stand at each stage."""
    with store.reading() as work:
        return work.supplier_orders.stage_counts()


def make_orders(store: Store, wanted: Sequence[ToOrder], act: Stamp) -> tuple[int, ...]:
    """Put materials on drafts, one for each supplier; returns the ids of the drafts.

    A supplier's draft that is there already is added to, as is its line of the same material.
    Raises: NotFound for a material; Invalid at "supplier" for one without a supplier; Conflict where
    something was ordered or has come since it was asked for. All or none.
    """
    if not wanted:
        raise Invalid.at("", "Nothing is chosen; tick what is to be ordered.", "empty")
    drafts: dict[int, None] = {}
    with store.writing() as work:
        _check_nothing_moved(work, wanted)
        for each in wanted:
            material = work.materials.get(each.material).value
            supplier = each.supplier.strip() or material.supplier.strip()
            if not supplier:
                raise Invalid.at("supplier", f"Say who {material.code} is ordered from.", "empty")
            draft = _draft_for(work, supplier, act)
            _put_on(work, draft, material, each.quantity)
            drafts[draft.id] = None
    return tuple(drafts)


def _check_nothing_moved(work: UnitOfWork, wanted: Sequence[ToOrder]) -> None:
    """A list that is posted twice, or from two tabs, must not order twice."""
    coming = work.supplier_orders.coming()
    moved = [
        each.material
        for each in wanted
        if each.coming is not None and each.coming != coming.get(each.material, Coming()).in_all
    ]
    if moved:
        raise Conflict(
            f"{', '.join(moved)}: ordered in the meantime, or come in, since this list was made. Nothing "
            "was ordered: look at what is short now."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEdit:
    """A line of a draft as it is to be. quantity: 0 takes it off."""

    quantity: int
    cost: Money
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftEdit:
    """A draft as it is to be. lines: by their ids; those left out stay. added: a material that is put on it."""

    supplier: str
    note: str
    lines: Mapping[int, LineEdit]
    added: ToOrder | None = None


def edit_draft(store: Store, at: SupplierOrderAt, edit: DraftEdit, act: Stamp) -> None:
    """Change a draft's head and lines. Raises: NotFound, Stale, Conflict, Invalid."""
    check_head(edit.supplier, edit.note)
    with _changing(store, at, act) as (work, order):
        _check_draft(order)
        work.supplier_orders.write_head(
            replace(order, supplier=edit.supplier.strip(), note=edit.note)
        )
        _write_lines(work, order, edit.lines)
        if edit.added is not None:
            material = work.materials.get(edit.added.material).value
            _put_on(work, order, material, edit.added.quantity)


def send(store: Store, at: SupplierOrderAt, act: Stamp) -> None:
    """Say that an order went to its supplier; its lines stay as they are then.

    Raises: NotFound, Stale, Conflict, Invalid where it has no line.
    """
    with _changing(store, at, act) as (work, order):
        check_move(order, SupplierStage.SENT)
        work.supplier_orders.write_head(
            replace(order, stage=SupplierStage.SENT, sent_on=order.sent_on or act.today)
        )


def close(store: Store, at: SupplierOrderAt, act: Stamp) -> int:
    """Await nothing more of an order; returns how many never came. Raises: NotFound, Stale, Conflict."""
    with _changing(store, at, act) as (work, order):
        check_move(order, SupplierStage.CLOSED)
        work.supplier_orders.write_head(replace(order, stage=SupplierStage.CLOSED))
        return order.outstanding


def await_again(store: Store, at: SupplierOrderAt, act: Stamp) -> None:
    """Open a closed order again: what is outstanding is awaited. Raises: NotFound, Stale, Conflict."""
    with _changing(store, at, act) as (work, order):
        if order.stage is SupplierStage.DRAFT:
            raise Conflict(f"{order.number} is a draft; send it first.")
        check_move(order, SupplierStage.SENT)
        work.supplier_orders.write_head(replace(order, stage=SupplierStage.SENT))


def drop(store: Store, at: SupplierOrderAt, act: Stamp) -> None:
    """Give a draft up; its number stays given. Raises: NotFound, Stale, Conflict."""
    with _changing(store, at, act) as (work, order):
        check_move(order, SupplierStage.DROPPED)
        work.supplier_orders.write_head(replace(order, stage=SupplierStage.DROPPED))


@contextmanager
def _changing(
    store: Store, at: SupplierOrderAt, act: Stamp
) -> Iterator[tuple[UnitOfWork, SupplierOrder]]:
    """Give the order as it stands, for changing. Raises: NotFound, Stale with the order as it is now."""
    with store.writing() as work:
        yield work, work.supplier_orders.claim(at.id, at.version, act)


def _draft_for(work: UnitOfWork, supplier: str, act: Stamp) -> SupplierOrder:
    """Return the supplier's draft, a new one where there is none or it is in another currency."""
    currency = work.shop.get().currency
    found = work.supplier_orders.draft_for(supplier)
    if found is not None:
        draft = work.supplier_orders.get(found)
        if draft.currency == currency:
            return work.supplier_orders.claim(draft.id, draft.version, act)
    number = work.numbers.take(Series.SUPPLIER_ORDER, act.today.year)
    return work.supplier_orders.get(work.supplier_orders.add(number, supplier, currency, act))


def _put_on(work: UnitOfWork, order: SupplierOrder, material: Material, quantity: int) -> None:
    """A material on a draft: more of the line that is there, or a new one. Raises: Invalid, Conflict."""
    order = work.supplier_orders.get(order.id)
    if material.cost.currency != order.currency:
        raise Conflict(f"{material.code} is priced in another currency than {order.number}.")
    bought = bought_as(material)
    line = _same_line(order, material, bought)
    if line is not None:
        more = replace(line.ordered, quantity=line.ordered.quantity + quantity)
        work.supplier_orders.write_line(line.id, more)
        return
    if len(order.lines) >= MOST_LINES:
        raise Conflict(f"{order.number} has {MOST_LINES} lines; send it and begin another.")
    new = new_line(material, quantity, work.shop.get())
    work.supplier_orders.add_line(order.id, new)


def new_line(material: Material, quantity: int, shop: Shop) -> NewLine:
    """Return a line at the price book's cost, named so that whoever has no price book of the shop's knows what it is.

    Raises: Invalid at "quantity".
    """
    bought = bought_as(material)
    return NewLine(
        material=material.code,
        name=named(material, shop.unit, shop.mat_word.value),
        form=bought.form,
        unit=bought.unit,
        quantity=quantity,
        cost=bought.cost,
        cost_for=bought.cost_for,
        length=bought.length,
        size=bought.size,
    )


def _same_line(order: SupplierOrder, material: Material, bought: BoughtAs) -> OrderLine | None:
    for line in order.lines:
        ordered = line.ordered
        same = (ordered.unit, ordered.length, ordered.size, ordered.cost_for)
        if ordered.material == material.code and same == (
            bought.unit,
            bought.length,
            bought.size,
            bought.cost_for,
        ):
            return line
    return None


def _write_lines(work: UnitOfWork, order: SupplierOrder, lines: Mapping[int, LineEdit]) -> None:
    faults = FaultCollector()
    for line_id, edit in lines.items():
        line = order.line(line_id)
        if not edit.quantity:
            work.supplier_orders.remove_line(line_id)
            continue
        try:
            changed = replace(
                line.ordered, quantity=edit.quantity, cost=edit.cost, note=edit.note.strip()
            )
        except Invalid as invalid:
            faults.take(invalid.under(f"lines.{line_id}"))
            continue
        work.supplier_orders.write_line(line_id, changed)
    faults.finish()


def _check_draft(order: SupplierOrder) -> None:
    if order.stage is not SupplierStage.DRAFT:
        raise Conflict(
            f"{order.number} is {quoted(order.stage)}; only a draft can be changed. What is wanted "
            "beside it goes on a new order."
        )
