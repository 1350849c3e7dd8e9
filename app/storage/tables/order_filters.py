"""Which orders a list holds and in which order they stand, as queries that an index answers."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from sqlalchemy import (
    ColumnElement,
    CompoundSelect,
    Executable,
    Select,
    and_,
    column,
    func,
    literal_column,
    not_,
    or_,
    select,
    table,
    true,
    union_all,
)
from sqlalchemy.orm import InstrumentedAttribute

from app.orders import Stage
from app.orders.stages import DELETED
from app.storage.paging import PageRequest
from app.storage.search_text import beginnings
from app.storage.tables.order_lines import LineStageChangeRow, OrderLineRow
from app.storage.tables.order_pieces import PieceRow, StageChangeRow
from app.storage.tables.orders import OrderRow


class OrderSort(StrEnum):
    """The order of a list. Where there is no due date, an order comes last by due date.

    VALID: those whose validity ends first. OWED: the largest sums first, and only where something is owed.
    """

    NEWEST = "newest"
    DUE = "due"
    CHANGED = "changed"
    VALID = "valid"
    OWED = "owed"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFilter:
    """Which orders a list holds; everything given must hold.

    stages: any of them, none for all. text: the beginnings of words in number, customer, title,
    place, note. due_from, due_before: due on that day or later, on an earlier day. valid_from, valid_before: the same
    of the last day on which it is valid. owing: something is still to be paid.
    deleted: whether quotes that were deleted are all that is wanted, or left out; None for either.
    """

    stages: frozenset[Stage] = frozenset()
    text: str = ""
    due_from: date | None = None
    due_before: date | None = None
    valid_from: date | None = None
    valid_before: date | None = None
    owing: bool = False
    customer_id: int | None = None
    deleted: bool | None = None


ANY_ORDER = OrderFilter()


_KEYS: dict[OrderSort, InstrumentedAttribute[Any]] = {
    OrderSort.NEWEST: OrderRow.quoted_on,
    OrderSort.DUE: OrderRow.due_key,
    OrderSort.CHANGED: OrderRow.updated_at,
    OrderSort.VALID: OrderRow.valid_until,
    OrderSort.OWED: OrderRow.owed_minor,
}

_RISING = frozenset({OrderSort.DUE, OrderSort.VALID})
"""What comes first where the least comes first."""

_LAST_DAY = date(9999, 12, 30)
"""The day after stands in the index for an order without a due date."""

OWING: ColumnElement[bool] = literal_column("orders.owed_minor > 0")
"""Written out, since a partial index is not used for a bound value."""


_STAGE: ColumnElement[str] = literal_column("+orders.stage")
"""With the sign no index of stages is used; see `page_of_ids`."""


def deleted_of(
    what: type[PieceRow | OrderLineRow],
    changes: type[StageChangeRow | LineStageChangeRow],
    owner: InstrumentedAttribute[int],
) -> Select[int]:
    """Return a query for the orders of pieces, or lines, whose last change is of a quote that was deleted."""
    last = select(func.max(changes.id)).where(owner == what.id).correlate(what).scalar_subquery()
    deleting = select(what.order_id).join(changes, changes.id == last)
    return deleting.where(changes.note == DELETED, changes.takes_back.is_(False))


def page_of_ids(wanted: OrderFilter, sort: OrderSort, page: PageRequest) -> Executable:
    """Return a query for the ids of one page, the sort's key beside each.

    Each stage is a query of its own, which an index answers in order; SQLite merges them.
    """
    keyed = select(OrderRow.id, _KEYS[sort].label("key")).where(*_conditions(wanted))
    every = (
        Stage if sort is OrderSort.VALID else ()
    )  # Only within a stage an index knows of validity.
    stages = _values(wanted.stages or every)
    if _is_narrow(wanted):
        # The sign keeps SQLite from walking through all orders in the order that is wanted.
        return _part(keyed.where(_at_any(stages)), sort, page, key="+key")
    if len(stages) < 2:
        return _part(keyed.where(*(OrderRow.stage == stage for stage in stages)), sort, page)
    return _part(union_all(*(keyed.where(OrderRow.stage == stage) for stage in stages)), sort, page)


def number_of(wanted: OrderFilter) -> Select[int]:
    """Return a query for how many orders fit a filter."""
    stages = _values(wanted.stages)
    at = _at_any(stages) if _is_narrow(wanted) or not stages else OrderRow.stage.in_(stages)
    return select(func.count()).select_from(OrderRow).where(*_conditions(wanted), at)


def _part[S: (Select[Any, Any], CompoundSelect[Any, Any])](
    found: S, sort: OrderSort, page: PageRequest, *, key: str = "key"
) -> S:
    order: list[ColumnElement[object]] = [literal_column(key), literal_column("id")]
    if sort not in _RISING:
        order = [each.desc() for each in order]
    return found.order_by(*order).limit(page.size).offset(page.offset)


def _is_narrow(wanted: OrderFilter) -> bool:
    """Tell whether so few orders are left that they may as well be gathered and sorted."""
    return bool(wanted.text.strip()) or wanted.owing or wanted.customer_id is not None


def _values(stages: Iterable[Stage]) -> list[str]:
    return sorted(stage.value for stage in stages)


def _at_any(stages: list[str]) -> ColumnElement[bool]:
    """Return a condition that is looked at for each order found, never the way to find one."""
    return _STAGE.in_(stages) if stages else true()


def _conditions(wanted: OrderFilter) -> list[ColumnElement[bool]]:
    """Return everything but the stages."""
    conditions: list[ColumnElement[bool]] = []
    if query := beginnings(wanted.text):
        index = table("order_words", column("rowid"), column("order_words"))
        matching = select(index.c.rowid).where(index.c.order_words.op("MATCH")(query))
        conditions.append(OrderRow.id.in_(matching))
    if wanted.due_from is not None:
        conditions.append(OrderRow.due_key.between(wanted.due_from, _LAST_DAY))
    if wanted.due_before is not None:
        conditions.append(OrderRow.due_key < wanted.due_before)
    if wanted.valid_from is not None:
        conditions.append(OrderRow.valid_until >= wanted.valid_from)
    if wanted.valid_before is not None:
        conditions.append(OrderRow.valid_until < wanted.valid_before)
    if wanted.owing:
        conditions.append(OWING)
    if wanted.customer_id is not None:
        conditions.append(OrderRow.customer_id == wanted.customer_id)
    if wanted.deleted is not None:
        conditions.append(_is_deleted() if wanted.deleted else not_(_is_deleted()))
    return conditions


def _is_deleted() -> ColumnElement[bool]:
    """Return a condition that an order is a quote that was deleted, looked at for each order found."""
    pieces = deleted_of(PieceRow, StageChangeRow, StageChangeRow.piece_id)
    lines = deleted_of(OrderLineRow, LineStageChangeRow, LineStageChangeRow.line_id)
    return and_(
        _at_any([Stage.DECLINED.value]),
        or_(
            pieces.where(PieceRow.order_id == OrderRow.id, PieceRow.removed_at.is_(None))
            .correlate(OrderRow)
            .exists(),
            lines.where(OrderLineRow.order_id == OrderRow.id, OrderLineRow.struck.is_(False))
            .correlate(OrderRow)
            .exists(),
        ),
    )
