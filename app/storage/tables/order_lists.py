"""Lists of orders, filtered, sorted, a page at a time: as records for reading.

A page costs as much with fifty thousand orders as with fifty: each stage is read from its own index
in the wanted order and no further than the page goes, and counts are kept, not counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlalchemy import (
    Select,
    case,
    func,
    select,
    union_all,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.money import CURRENCIES, Money
from app.orders import LEFT_THE_WAY, Stage
from app.orders.stages import DELETED, word_of
from app.storage.mapping import KEYED, Row, value_of
from app.storage.paging import ListPage, PageRequest
from app.storage.search_text import beginnings
from app.storage.tables.customers import CustomerRow
from app.storage.tables.order_filters import (
    ANY_ORDER,
    OWING,
    OrderFilter,
    OrderSort,
    deleted_of,
    number_of,
    page_of_ids,
)
from app.storage.tables.order_lines import LineStageChangeRow, OrderLineRow
from app.storage.tables.order_pieces import PieceRow, StageChangeRow
from app.storage.tables.orders import OrderRow


class StageCountRow(Row):
    """How many orders stand at a stage; kept by triggers."""

    __tablename__ = "stage_counts"
    __table_args__ = (KEYED,)
    stage: Mapped[str] = mapped_column(primary_key=True)
    orders: Mapped[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSummary:
    """An order in a list.

    number: the order's, or the quote's until it is ordered. total: with tax. most: where a design is still to
    be taken, what it may come to at most; total is the least then (P10). owed: what is still to
    be paid, below zero where too much was. pieces: how many count, which the declined and cancelled ones
    do not; all of them where none does any more. titles, places: of these, in their order, blanks left
    out; a title of several alike says how many, as "20 × Harbour". After the titles comes what is sold without a
    piece. things: pieces and what is sold without one. deleted: a quote that was deleted.
    """

    id: int
    version: int
    number: str
    quote_number: str
    order_number: str | None
    customer_id: int
    customer_name: str
    stage: Stage
    pieces: int
    things: int
    titles: tuple[str, ...]
    places: tuple[str, ...]
    quoted_on: date
    valid_until: date
    ordered_on: date | None
    due: date | None
    total: Money
    most: Money | None
    paid: Money
    owed: Money
    updated_at: datetime
    deleted: bool

    @property
    def what(self) -> str:
        """What it is about in short: its first title, and how many more things it has."""
        first = self.titles[0] if self.titles else "untitled"
        return first if self.things < 2 else f"{first} and {self.things - 1} more"

    @property
    def place(self) -> str:
        """Where it is stored in short: the first place, and how many more there are, as "Rack A6 (+1)"."""
        first, *others = dict.fromkeys(self.places or ("",))
        return f"{first} (+{len(others)})" if others else first

    @property
    def stage_word(self) -> str:
        """What the stage is called for this order."""
        return DELETED if self.deleted else word_of(self.stage, with_pieces=self.pieces > 0)

    def overdue(self, today: date) -> bool:
        """Tell whether work that is not finished was due on an earlier day."""
        unfinished = self.stage in (Stage.ORDERED, Stage.CUT)
        return unfinished and self.due is not None and self.due < today

    def out_of_date(self, today: date) -> bool:
        """Tell whether it is a quote past its validity (P7)."""
        return self.stage is Stage.QUOTED and self.valid_until < today


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerSums:
    """What all quotes and orders of a customer come to, one amount a currency, without those that are nothing.

    owed: still to be paid, less what was paid too much. ordered: with tax, quotes left out.
    """

    owed: tuple[Money, ...]
    ordered: tuple[Money, ...]


class OrderLists:
    """Answers lists of orders."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def listed(
        self,
        wanted: OrderFilter = ANY_ORDER,
        sort: OrderSort = OrderSort.NEWEST,
        page: PageRequest | None = None,
    ) -> ListPage[OrderSummary]:
        """Return one page of the orders that fit the filter."""
        page = page or PageRequest()
        if sort is OrderSort.OWED:
            wanted = replace(wanted, owing=True)
        if wanted.text.strip() and beginnings(wanted.text) is None:
            return ListPage.of((), 0, page)
        ids = self._session.scalars(page_of_ids(wanted, sort, page)).all()
        return ListPage.of(self.summaries(ids), self.count(wanted), page)

    def count(self, wanted: OrderFilter = ANY_ORDER) -> int:
        """Return how many orders fit the filter."""
        if wanted == OrderFilter(stages=wanted.stages):
            counts = self.stage_counts()
            return sum(counts[stage] for stage in wanted.stages or Stage)
        if wanted == OrderFilter(stages=wanted.stages, deleted=False):
            return self.count(replace(wanted, deleted=None)) - self.count(
                replace(wanted, deleted=True)
            )
        return self._session.scalars(number_of(wanted)).one()

    def ids_of_customer(self, customer_id: int) -> tuple[int, ...]:
        """Return every quote and order of a customer, the oldest first."""
        theirs = select(OrderRow.id).where(OrderRow.customer_id == customer_id)
        return tuple(self._session.scalars(theirs.order_by(OrderRow.quoted_on, OrderRow.id)))

    def first_of_customer(self, customer_id: int) -> date | None:
        """Return the day of a customer's oldest quote or order; None where there is none."""
        theirs = select(func.min(OrderRow.quoted_on)).where(OrderRow.customer_id == customer_id)
        return self._session.scalars(theirs).one()

    def sums_of_customer(self, customer_id: int) -> CustomerSums:
        """Return what all quotes and orders of a customer come to."""
        ordered = case((OrderRow.order_number.is_not(None), OrderRow.total_minor), else_=0)
        rows = self._session.execute(
            select(OrderRow.currency, func.sum(OrderRow.owed_minor), func.sum(ordered))
            .where(OrderRow.customer_id == customer_id)
            .group_by(OrderRow.currency)
        ).all()
        owed = (Money(owed, CURRENCIES[code]) for code, owed, _ in rows)
        whole = (Money(ordered, CURRENCIES[code]) for code, _, ordered in rows)
        return CustomerSums(owed=tuple(filter(None, owed)), ordered=tuple(filter(None, whole)))

    def stage_counts(self) -> dict[Stage, int]:
        """Return how many orders stand at each stage."""
        rows = self._session.execute(select(StageCountRow.stage, StageCountRow.orders))
        return {Stage(stage): orders for stage, orders in rows}

    def summaries(self, ids: Sequence[int]) -> tuple[OrderSummary, ...]:
        """Return the records of some orders, in the order of the ids."""
        if not ids:
            return ()
        rows = self._session.execute(
            select(OrderRow, CustomerRow.name)
            .join(CustomerRow, CustomerRow.id == OrderRow.customer_id)
            .where(OrderRow.id.in_(ids))
        ).all()
        pieces, lines = self._pieces(ids), self._lines(ids)
        deleted = self._deleted([row.id for row, _ in rows if row.stage == Stage.DECLINED.value])
        by_id = {
            row.id: _summary(
                row,
                name,
                pieces.get(row.id, []),
                lines=lines.get(row.id, ()),
                deleted=row.id in deleted,
            )
            for row, name in rows
        }
        return tuple(by_id[order_id] for order_id in ids)

    def _deleted(self, ids: Sequence[int]) -> frozenset[int]:
        """Return which of some declined quotes were deleted: of which the last change of anything on them says so."""
        if not ids:
            return frozenset()
        pieces = deleted_of(PieceRow, StageChangeRow, StageChangeRow.piece_id)
        lines = deleted_of(OrderLineRow, LineStageChangeRow, LineStageChangeRow.line_id)
        found = union_all(
            pieces.where(PieceRow.order_id.in_(ids), PieceRow.removed_at.is_(None)),
            lines.where(OrderLineRow.order_id.in_(ids), OrderLineRow.struck.is_(False)),
        )
        return frozenset(self._session.scalars(found))

    def _lines(self, ids: Sequence[int]) -> dict[int, tuple[str, ...]]:
        """Return what is sold without a piece and not struck, by order."""
        rows = self._session.execute(
            select(OrderLineRow.order_id, OrderLineRow.what)
            .where(OrderLineRow.order_id.in_(ids), OrderLineRow.struck.is_(False))
            .order_by(OrderLineRow.order_id, OrderLineRow.number)
        )
        found: dict[int, tuple[str, ...]] = {}
        for order_id, what in rows:
            found[order_id] = (*found.get(order_id, ()), what)
        return found

    def _pieces(self, ids: Sequence[int]) -> dict[int, list[tuple[str, str]]]:
        """(title, place) of every piece that counts, by order; of all where none does."""
        rows = self._session.execute(
            select(
                PieceRow.order_id, PieceRow.title, PieceRow.copies, PieceRow.place, PieceRow.stage
            )
            .where(PieceRow.order_id.in_(ids), PieceRow.removed_at.is_(None))
            .order_by(PieceRow.order_id, PieceRow.number)
        )
        everything: dict[int, list[tuple[str, str]]] = {}
        counting: dict[int, list[tuple[str, str]]] = {}
        for order_id, title, copies, place, stage in rows:
            shown = f"{copies} × {title or 'untitled'}" if copies > 1 else title
            everything.setdefault(order_id, []).append((shown, place))
            if Stage(stage) not in LEFT_THE_WAY:
                counting.setdefault(order_id, []).append((shown, place))
        return everything | counting


def _summary(
    row: OrderRow,
    customer_name: str,
    pieces: list[tuple[str, str]],
    *,
    lines: tuple[str, ...],
    deleted: bool,
) -> OrderSummary:
    currency = CURRENCIES[row.currency]
    return value_of(
        OrderSummary,
        row,
        number=row.order_number or row.quote_number,
        customer_name=customer_name,
        deleted=deleted,
        pieces=len(pieces),
        things=len(pieces) + len(lines),
        titles=(*(title for title, _ in pieces if title), *lines),
        places=tuple(place for _, place in pieces if place),
        total=Money(row.total_minor, currency),
        paid=Money(row.paid_minor, currency),
        owed=Money(row.owed_minor, currency),
    )


def sums_owed() -> Select[str, int]:
    """Return the sum that is owed, one amount for each currency."""
    return (
        select(OrderRow.currency, func.sum(OrderRow.owed_minor))
        .where(OWING)
        .group_by(OrderRow.currency)
    )
