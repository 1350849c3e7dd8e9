"""What the desk page shows: what is due, what can be cut, what waits, who owes."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Executable, Select, func, select
from sqlalchemy.orm import Session

from app.money import CURRENCIES, Money
from app.orders import Stage
from app.storage.order_lists import (
    OWING,
    OrderFilter,
    OrderLists,
    OrderSort,
    OrderSummary,
    page_of_ids,
)
from app.storage.paging import PageRequest
from app.storage.rows import OrderRow

UNFINISHED = frozenset({Stage.ORDERED, Stage.CUT})


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The first orders of one kind, and how many there are in all."""

    orders: tuple[OrderSummary, ...]
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskView:
    """The shop at a glance.

    overdue: due before today and not finished. due_soon: due from today to the last day asked for.
    to_cut, to_frame, to_collect: the stages ordered, cut, framed. owing: the largest sums first;
    owed: the sum of them all, one amount a currency. quotes: open and still valid, those
    that lapse first; out_of_date: open quotes past their validity, the last lapsed first.
    """

    overdue: Tray
    due_soon: Tray
    to_cut: Tray
    to_frame: Tray
    to_collect: Tray
    owing: Tray
    owed: tuple[Money, ...]
    quotes: Tray
    out_of_date: Tray
    counts: dict[Stage, int]


class Desk:
    """Answers the desk page."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._lists = OrderLists(session)

    def view(self, today: date, *, days: int = 7, rows: int = 8) -> DeskView:
        """The desk on a day. days: how far ahead “soon” reaches. rows: the most in each tray."""
        late = OrderFilter(stages=UNFINISHED, due_before=today)
        soon = OrderFilter(
            stages=UNFINISHED, due_from=today, due_before=today + timedelta(days=days + 1)
        )
        quoted, until = OrderRow.stage == Stage.QUOTED.value, OrderRow.valid_until
        found = {
            "overdue": _by_due(late, rows),
            "due_soon": _by_due(soon, rows),
            "to_cut": _by_due(OrderFilter(stages=frozenset({Stage.ORDERED})), rows),
            "to_frame": _by_due(OrderFilter(stages=frozenset({Stage.CUT})), rows),
            "to_collect": _by_due(OrderFilter(stages=frozenset({Stage.FRAMED})), rows),
            "owing": _some(rows, OrderRow.owed_minor.desc(), OWING),
            "quotes": _some(rows, until.asc(), quoted, until >= today),
            "out_of_date": _some(rows, until.desc(), quoted, until < today),
        }
        counts = self._lists.stage_counts()
        totals = {
            "overdue": self._lists.count(late),
            "due_soon": self._lists.count(soon),
            "to_cut": counts[Stage.ORDERED],
            "to_frame": counts[Stage.CUT],
            "to_collect": counts[Stage.FRAMED],
            "owing": self._lists.count(OrderFilter(owing=True)),
            "quotes": self._count(quoted, until >= today),
            "out_of_date": self._count(quoted, until < today),
        }
        trays = self._trays(found, totals)
        return DeskView(**trays, owed=self._owed(), counts=counts)

    def _count(self, *conditions: ColumnElement[bool]) -> int:
        counted = select(func.count()).select_from(OrderRow).where(*conditions)
        return self._session.scalars(counted).one()

    def _trays(self, found: Mapping[str, Executable], totals: Mapping[str, int]) -> dict[str, Tray]:
        """Every tray with its orders, which are read together: many stand in several."""
        ids = {name: self._session.scalars(query).all() for name, query in found.items()}
        every = tuple({order_id for some in ids.values() for order_id in some})
        orders = {order.id: order for order in self._lists.summaries(every)}
        return {
            name: Tray(orders=tuple(orders[order_id] for order_id in some), total=totals[name])
            for name, some in ids.items()
        }

    def _owed(self) -> tuple[Money, ...]:
        sums = self._session.execute(sums_owed())
        return tuple(Money(minor, CURRENCIES[code]) for code, minor in sums)


def _by_due(wanted: OrderFilter, rows: int) -> Executable:
    return page_of_ids(wanted, OrderSort.DUE, PageRequest(size=rows))


def _some(rows: int, order: ColumnElement[Any], *conditions: ColumnElement[bool]) -> Executable:
    return select(OrderRow.id).where(*conditions).order_by(order).limit(rows)


def sums_owed() -> Select[str, int]:
    """What is owed in all, by currency."""
    return (
        select(OrderRow.currency, func.sum(OrderRow.owed_minor))
        .where(OWING)
        .group_by(OrderRow.currency)
    )
