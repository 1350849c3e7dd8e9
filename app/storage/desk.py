"""What the desk page shows: what is due, what can be cut, what waits, who owes."""

from dataclasses import dataclass
from datetime import date, timedelta

from sqlalchemy import ColumnElement, Executable, Select, func, literal_column, select
from sqlalchemy.orm import Session

from app.money import CURRENCIES, Money
from app.orders import Stage
from app.storage.kept import PageOf
from app.storage.order_lists import (
    OWING,
    OrderFilter,
    OrderLists,
    OrderSort,
    OrderSummary,
    page_of_ids,
)
from app.storage.rows import OrderRow

UNFINISHED = frozenset({Stage.ORDERED, Stage.CUT})

QUOTE: ColumnElement[bool] = literal_column("orders.stage = 'quoted'")
"""Written out, since a partial index is not used for a bound value."""


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
        overdue = OrderFilter(stages=UNFINISHED, due_before=today)
        soon = OrderFilter(
            stages=UNFINISHED, due_from=today, due_before=today + timedelta(days=days + 1)
        )
        return DeskView(
            overdue=self._by_due(overdue, rows),
            due_soon=self._by_due(soon, rows),
            to_cut=self._by_due(OrderFilter(stages=frozenset({Stage.ORDERED})), rows),
            to_frame=self._by_due(OrderFilter(stages=frozenset({Stage.CUT})), rows),
            to_collect=self._by_due(OrderFilter(stages=frozenset({Stage.FRAMED})), rows),
            owing=self._tray(largest_owed(rows), self._lists.count(OrderFilter(owing=True))),
            owed=self._owed(),
            quotes=self._quotes(OrderRow.valid_until >= today, OrderRow.valid_until.asc(), rows),
            out_of_date=self._quotes(
                OrderRow.valid_until < today, OrderRow.valid_until.desc(), rows
            ),
            counts=self._lists.stage_counts(),
        )

    def _by_due(self, wanted: OrderFilter, rows: int) -> Tray:
        first = page_of_ids(wanted, OrderSort.DUE, PageOf(size=rows))
        return self._tray(first, self._lists.count(wanted))

    def _quotes(
        self, condition: ColumnElement[bool], order: ColumnElement[date], rows: int
    ) -> Tray:
        counted = select(func.count()).select_from(OrderRow).where(QUOTE, condition)
        return self._tray(
            select(OrderRow.id).where(QUOTE, condition).order_by(order).limit(rows),
            self._session.scalars(counted).one(),
        )

    def _tray(self, ids: Executable, total: int) -> Tray:
        orders = self._lists.summaries(self._session.scalars(ids).all())
        return Tray(orders=orders, total=total)

    def _owed(self) -> tuple[Money, ...]:
        sums = self._session.execute(sums_owed())
        return tuple(Money(minor, CURRENCIES[code]) for code, minor in sums)


def largest_owed(rows: int) -> Select[int]:
    """The ids of the orders that owe most."""
    return select(OrderRow.id).where(OWING).order_by(OrderRow.owed_minor.desc()).limit(rows)


def sums_owed() -> Select[str, int]:
    """What is owed in all, by currency."""
    return (
        select(OrderRow.currency, func.sum(OrderRow.owed_minor))
        .where(OWING)
        .group_by(OrderRow.currency)
    )
