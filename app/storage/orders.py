"""Whole orders: kept piece by piece, loaded as one value.

A writer first claims an order at the version it was read in; then it writes what changed, and last it
settles what lists show. What happened - agreements, changes of stage, payments - is only added.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.money import Money
from app.orders import (
    Agreed,
    ArtworkRecord,
    NewEntry,
    Order,
    Piece,
    Stage,
    StageChange,
    paid,
)
from app.orders.reductions import NewReduction
from app.storage.order_rows import (
    artwork_columns,
    change_row,
    entry_of,
    entry_row,
    order_of,
    piece_of,
    reduction_of,
    reduction_row,
)
from app.storage.paging import Stale
from app.storage.rows import (
    CustomerRow,
    LedgerEntryRow,
    OrderRow,
    PieceRow,
    PieceSnapshotRow,
    ReductionRow,
    StageChangeRow,
)
from app.storage.snapshots import AGREED


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """Who does something, and when. now: with its time zone; its date is the shop's day."""

    who: str
    now: datetime

    @property
    def today(self) -> date:
        """The day on the shop's wall."""
        return self.now.date()


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPiece:
    """A piece to be kept."""

    artwork: ArtworkRecord
    agreed: Agreed


@dataclass(frozen=True, slots=True, kw_only=True)
class NewQuote:
    """The head of a quote to be kept."""

    customer_id: int
    quote_number: str
    valid_until: date
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frozen:
    """What was agreed for a piece at some time, and who froze it."""

    agreed: Agreed
    at: datetime
    by: str


class Orders:
    """Keeps orders."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def get(self, order_id: int) -> Order:
        """The whole order. Raises: NotFound."""
        row = self._row(order_id)
        name = self._session.get_one(CustomerRow, row.customer_id).name
        entries = self._session.scalars(
            select(LedgerEntryRow)
            .where(LedgerEntryRow.order_id == order_id)
            .order_by(LedgerEntryRow.id)
        )
        reductions = self._session.scalars(
            select(ReductionRow).where(ReductionRow.order_id == order_id).order_by(ReductionRow.id)
        )
        return order_of(
            row,
            name,
            self._pieces(order_id),
            map(entry_of, entries),
            map(reduction_of, reductions),
        )

    def id_of(self, number: str) -> int:
        """The id of the order with a quote's or an order's number. Raises: NotFound."""
        found = self._session.scalars(
            select(OrderRow.id).where(
                (OrderRow.order_number == number) | (OrderRow.quote_number == number)
            )
        ).first()
        if found is None:
            raise NotFound(f"There is no quote or order with the number {number[:40]}.")
        return found

    def history(self, piece_id: int) -> tuple[Frozen, ...]:
        """Everything that was ever agreed for a piece, the oldest first."""
        rows = self._session.scalars(
            select(PieceSnapshotRow)
            .where(PieceSnapshotRow.piece_id == piece_id)
            .order_by(PieceSnapshotRow.id)
        )
        return tuple(map(_frozen, rows))

    def agreed_anew(self, order_id: int) -> dict[int, tuple[Frozen, ...]]:
        """By piece number, the history of each piece for which more than one was agreed."""
        changed = (
            select(PieceSnapshotRow.piece_id)
            .join(PieceRow, PieceRow.id == PieceSnapshotRow.piece_id)
            .where(PieceRow.order_id == order_id, PieceRow.removed_at.is_(None))
            .group_by(PieceSnapshotRow.piece_id)
            .having(func.count() > 1)
        )
        rows = self._session.execute(
            select(PieceRow.number, PieceSnapshotRow)
            .join(PieceRow, PieceRow.id == PieceSnapshotRow.piece_id)
            .where(PieceSnapshotRow.piece_id.in_(changed))
            .order_by(PieceSnapshotRow.id)
        )
        histories: dict[int, tuple[Frozen, ...]] = {}
        for number, row in rows:
            histories[number] = (*histories.get(number, ()), _frozen(row))
        return histories

    def add(self, quote: NewQuote, pieces: Sequence[NewPiece], act: Stamp) -> int:
        """Keep a new quote with its pieces, all in the currency of the first. Returns the id.

        Raises: NotFound where there is no such customer.
        """
        if self._session.get(CustomerRow, quote.customer_id) is None:
            raise NotFound(f"There is no customer number {quote.customer_id}.")
        row = OrderRow(
            version=1,
            customer_id=quote.customer_id,
            quote_number=quote.quote_number,
            quoted_on=act.today,
            valid_until=quote.valid_until,
            note=quote.note,
            stage=Stage.QUOTED.value,
            currency=pieces[0].agreed.price.currency.code,
            total_minor=0,
            paid_minor=0,
            owed_minor=0,
            updated_at=act.now,
        )
        self._session.add(row)
        self._session.flush()
        for piece in pieces:
            self.add_piece(row.id, piece, act)
        return row.id

    def claim(self, order_id: int, expected_version: int) -> Order:
        """Begin to change an order: its version goes up. Returns it as it stands.

        Raises: NotFound, Stale with the Order as it is kept now.
        """
        row = self._row(order_id)
        if row.version != expected_version:
            order = self.get(order_id)
            raise Stale(f"{'Order' if order.order_number else 'Quote'} {order.number}", order)
        row.version += 1
        self._session.flush()
        return self.get(order_id)

    def write_head(self, order: Order) -> None:
        """Keep what an order says beside its pieces and its ledger: customer, dates, note, number."""
        row = self._row(order.id)
        row.customer_id, row.note = order.customer_id, order.note
        row.valid_until, row.due = order.valid_until, order.due
        row.order_number, row.ordered_on = order.order_number, order.ordered_on
        self._session.flush()

    def settle(self, order: Order, *, total: Money, owed: Money, now: datetime) -> None:
        """Keep what lists show of an order as it stands: stage, total, paid, owed."""
        row = self._row(order.id)
        row.stage, row.updated_at = order.stage.value, now
        row.currency, row.total_minor, row.owed_minor = (
            total.currency.code,
            total.minor,
            owed.minor,
        )
        row.paid_minor = paid(order.entries, Money.zero(total.currency)).minor
        self._session.flush()

    def add_piece(self, order_id: int, piece: NewPiece, act: Stamp) -> int:
        """Add a piece at its stage “quoted”. Returns its number, one that no piece ever had."""
        last = self._session.scalars(
            select(func.max(PieceRow.number)).where(PieceRow.order_id == order_id)
        ).one()
        row = PieceRow(
            order_id=order_id,
            number=(last or 0) + 1,
            stage=Stage.QUOTED.value,
            **artwork_columns(piece.artwork),
        )
        self._session.add(row)
        self._session.flush()
        self._freeze(row.id, piece.agreed, act)
        return row.number

    def replace_piece(self, piece_id: int, piece: NewPiece, act: Stamp) -> None:
        """Agree a piece anew; what was agreed before stays in its history."""
        self.write_artwork(piece_id, piece.artwork)
        self._freeze(piece_id, piece.agreed, act)

    def write_artwork(self, piece_id: int, artwork: ArtworkRecord) -> None:
        """Keep what is known of an artwork, such as its place."""
        row = self._session.get_one(PieceRow, piece_id)
        for name, value in artwork_columns(artwork).items():
            setattr(row, name, value)
        self._session.flush()

    def remove_piece(self, piece_id: int, *, now: datetime) -> None:
        """Take a piece off its order; its number and history stay."""
        self._session.get_one(PieceRow, piece_id).removed_at = now
        self._session.flush()

    def add_change(self, piece_id: int, change: StageChange) -> None:
        """Write a change of stage down; the piece stands at its new stage."""
        self._session.add(change_row(piece_id, change))
        self._session.get_one(PieceRow, piece_id).stage = change.new.value
        self._session.flush()

    def add_entry(self, order_id: int, entry: NewEntry) -> int:
        """Write an entry into the ledger. Returns its id."""
        row = entry_row(order_id, entry)
        self._session.add(row)
        self._session.flush()
        return row.id

    def add_reduction(self, order_id: int, reduction: NewReduction) -> int:
        """Write down what is taken off an order, or the undoing of it. Returns its id."""
        row = reduction_row(order_id, reduction)
        self._session.add(row)
        self._session.flush()
        return row.id

    def _row(self, order_id: int) -> OrderRow:
        row = self._session.get(OrderRow, order_id)
        if row is None:
            raise NotFound(f"There is no order with the id {order_id}.")
        return row

    def _freeze(self, piece_id: int, agreed: Agreed, act: Stamp) -> None:
        self._session.add(
            PieceSnapshotRow(
                piece_id=piece_id,
                priced_on=agreed.priced_on,
                agreed=AGREED.write(agreed),
                at=act.now,
                by=act.who,
            )
        )
        self._session.flush()

    def _pieces(self, order_id: int) -> Iterable[Piece]:
        rows = self._session.scalars(
            select(PieceRow)
            .where(PieceRow.order_id == order_id, PieceRow.removed_at.is_(None))
            .order_by(PieceRow.number)
        ).all()
        ids = [row.id for row in rows]
        snapshots, changes = self._last_snapshots(ids), self._changes(ids)
        return [piece_of(row, snapshots[row.id], changes[row.id]) for row in rows]

    def _last_snapshots(self, piece_ids: Sequence[int]) -> dict[int, PieceSnapshotRow]:
        last = (
            select(func.max(PieceSnapshotRow.id))
            .where(PieceSnapshotRow.piece_id.in_(piece_ids))
            .group_by(PieceSnapshotRow.piece_id)
        )
        rows = self._session.scalars(select(PieceSnapshotRow).where(PieceSnapshotRow.id.in_(last)))
        return {row.piece_id: row for row in rows}

    def _changes(self, piece_ids: Sequence[int]) -> dict[int, list[StageChangeRow]]:
        rows = self._session.scalars(
            select(StageChangeRow)
            .where(StageChangeRow.piece_id.in_(piece_ids))
            .order_by(StageChangeRow.id)
        )
        by_piece: dict[int, list[StageChangeRow]] = defaultdict(list)
        for row in rows:
            by_piece[row.piece_id].append(row)
        return by_piece


def _frozen(row: PieceSnapshotRow) -> Frozen:
    return Frozen(agreed=AGREED.read(row.agreed), at=row.at, by=row.by)
