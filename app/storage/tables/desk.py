"""The desk: the shop at a glance, as a record for reading. A query for each list, one for each number that is not kept."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.money import CURRENCIES, Money
from app.orders import Stage
from app.storage.paging import PageRequest
from app.storage.tables.order_filters import OrderFilter, OrderSort, page_of_ids
from app.storage.tables.order_lists import OrderLists, OrderSummary, sums_owed
from app.storage.tables.order_pieces import PieceRow, StageChangeRow
from app.storage.tables.orders import OrderRow

_QUOTED = OrderFilter(stages=frozenset({Stage.QUOTED}))
_WORK = OrderFilter(stages=frozenset({Stage.ORDERED, Stage.CUT}))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The first orders of one kind, and how many there are in all."""

    orders: tuple[OrderSummary, ...]
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskView:
    """The shop at a glance.

    work: ordered or cut, the first due first, those without a day last; overdue: how many of them were due before
    today. pieces_to_cut: pieces that nobody has cut. to_collect: framed, the longest ready first; ready: since when,
    by the id of the order. owing: how many orders are not paid; owed: the sum of them all, one amount a currency.
    quotes: open and still valid, those that lapse first; out_of_date: open quotes past their validity, the
    last lapsed first. counts: how many orders stand at each stage.
    """

    work: Tray
    overdue: int
    pieces_to_cut: int
    to_collect: Tray
    ready: Mapping[int, datetime]
    owing: int
    owed: tuple[Money, ...]
    quotes: Tray
    out_of_date: Tray
    counts: dict[Stage, int]


class Desk:
    """Answers the desk page: a query for each list, one for each number that is not kept, one for all the orders shown."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._lists = OrderLists(session)

    def view(self, today: date, *, rows: int = 8) -> DeskView:
        """Return the desk on a day. rows: the most in each tray."""
        counts = self._lists.stage_counts()
        lapsed = self._lists.count(replace(_QUOTED, valid_before=today))
        ready = dict(self._ready(rows))
        found = {
            "work": (
                self._ids(_WORK, OrderSort.DUE, rows),
                counts[Stage.ORDERED] + counts[Stage.CUT],
            ),
            "to_collect": (tuple(ready), counts[Stage.FRAMED]),
            "quotes": (
                self._ids(replace(_QUOTED, valid_from=today), OrderSort.VALID, rows),
                counts[Stage.QUOTED] - lapsed,
            ),
            "out_of_date": (self._lapsed(today, rows), lapsed),
        }
        owing, owed = self._owed()
        return DeskView(
            **self._trays(found),
            overdue=self._lists.count(replace(_WORK, due_before=today)),
            pieces_to_cut=self._pieces_to_cut(),
            ready={order_id: at for order_id, at in ready.items() if at is not None},
            owing=owing,
            owed=owed,
            counts=counts,
        )

    def _ids(self, wanted: OrderFilter, sort: OrderSort, rows: int) -> Sequence[int]:
        return self._session.scalars(page_of_ids(wanted, sort, PageRequest(size=rows))).all()

    def _lapsed(self, today: date, rows: int) -> Sequence[int]:
        """Return open quotes past their validity, the last lapsed first."""
        lapsed = select(OrderRow.id).where(
            OrderRow.stage == Stage.QUOTED.value, OrderRow.valid_until < today
        )
        return self._session.scalars(lapsed.order_by(OrderRow.valid_until.desc()).limit(rows)).all()

    def _ready(self, rows: int) -> Iterable[tuple[int, datetime | None]]:
        """Return framed orders and since when, the longest first; what is sold without a piece has no such time.

        It costs as much as there is to collect.
        """
        framed = (
            select(func.max(StageChangeRow.at))
            .join(PieceRow, PieceRow.id == StageChangeRow.piece_id)
            .where(
                PieceRow.order_id == OrderRow.id,
                PieceRow.removed_at.is_(None),
                PieceRow.stage.in_([Stage.FRAMED.value, Stage.COLLECTED.value]),
                StageChangeRow.new == Stage.FRAMED.value,
                StageChangeRow.takes_back.is_(False),
            )
            .correlate(OrderRow)
            .scalar_subquery()
        )
        found = self._session.execute(
            select(OrderRow.id, framed.label("ready"))
            .where(OrderRow.stage == Stage.FRAMED.value)
            .order_by(func.coalesce(framed, OrderRow.ordered_on), OrderRow.id)
            .limit(rows)
        )
        return ((order_id, at) for order_id, at in found)

    def _pieces_to_cut(self) -> int:
        ordered = Stage.ORDERED.value
        counted = (
            select(func.count())
            .select_from(OrderRow)
            .join(PieceRow, PieceRow.order_id == OrderRow.id)
            .where(
                OrderRow.stage == ordered,
                PieceRow.stage == ordered,
                PieceRow.removed_at.is_(None),
            )
        )
        return self._session.scalars(counted).one()

    def _trays(self, found: Mapping[str, tuple[Sequence[int], int]]) -> dict[str, Tray]:
        """Return every tray with its orders, which are read together."""
        every = tuple(order_id for ids, _ in found.values() for order_id in ids)
        orders = {order.id: order for order in self._lists.summaries(every)}
        return {
            name: Tray(orders=tuple(orders[order_id] for order_id in ids), total=total)
            for name, (ids, total) in found.items()
        }

    def _owed(self) -> tuple[int, tuple[Money, ...]]:
        """Return how many orders are not paid, and the sum of them, one amount a currency."""
        sums = self._session.execute(sums_owed().add_columns(func.count())).all()
        owed = tuple(Money(minor, CURRENCIES[code]) for code, minor, _ in sums)
        return sum(orders for *_, orders in sums), owed
