"""Keeps orders: written piece by piece, loaded as one value.

A writer first claims an order at the version it was read in; then it writes what changed, and last it
settles what lists show. What happened - agreements, changes of stage, payments - is only added.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlalchemy import (
    Computed,
    ForeignKey,
    Index,
    func,
    literal,
    select,
    text,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound
from app.money import Currency, Money
from app.orders import (
    Agreed,
    ArtworkRecord,
    Design,
    DesignAct,
    DesignChange,
    LineAgreed,
    NewEntry,
    Order,
    Piece,
    Stage,
    StageChange,
    paid,
)
from app.orders.designs import standing_designs, taken_of
from app.orders.reductions import NewReduction
from app.storage.journal import ContraryRow, Journal, Sealing
from app.storage.mapping import STRICT, Row, columns_of, value_of, write
from app.storage.memo import Memo
from app.storage.paging import Stale, Stamp
from app.storage.snapshots import AGREED
from app.storage.tables.customers import CustomerRow
from app.storage.tables.order_lines import OrderLines
from app.storage.tables.order_pieces import (
    AddedPiece,
    NewPiece,
    OrderPieces,
    PieceRow,
    PieceSnapshotRow,
)


class OrderRow(Row):
    """A quote and the order that it becomes.

    most_minor: what it may come to at most where a design is still to be chosen; total_minor is the least then.
    """

    __tablename__ = "orders"
    __table_args__ = (
        Index("orders_by_quote_number", "quote_number", unique=True),
        Index("orders_by_order_number", "order_number", unique=True),
        Index("orders_by_quoted_on", "quoted_on"),
        Index("orders_by_due", "due_key"),
        Index("orders_by_change", "updated_at"),
        Index("orders_by_stage_and_quoted_on", "stage", "quoted_on"),
        Index("orders_by_stage_and_due", "stage", "due_key"),
        Index("orders_by_stage_and_change", "stage", "updated_at"),
        Index("orders_by_customer", "customer_id", "quoted_on"),
        Index("orders_owing", "currency", "owed_minor", sqlite_where=text("owed_minor > 0")),
        Index("orders_by_stage_and_validity", "stage", "valid_until"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    customer_id: Mapped[int] = mapped_column(ForeignKey("customers.id"))
    quote_number: Mapped[str]
    order_number: Mapped[str | None]
    quoted_on: Mapped[date]
    valid_until: Mapped[date]
    ordered_on: Mapped[date | None]
    due: Mapped[date | None]
    due_key: Mapped[date] = mapped_column(Computed("coalesce(due, '9999-12-31')", persisted=False))
    note: Mapped[str]
    stage: Mapped[str]
    currency: Mapped[str]
    total_minor: Mapped[int]
    most_minor: Mapped[int | None]
    paid_minor: Mapped[int]
    owed_minor: Mapped[int]
    updated_at: Mapped[datetime]


class LedgerEntryRow(ContraryRow, Row):
    """One entry of an order's ledger, written once."""

    __tablename__ = "ledger_entries"
    __table_args__ = (
        Index("ledger_entries_by_order", "order_id"),
        Index("ledger_entries_by_corrected", "takes_back", unique=True),
        STRICT,
    )
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    kind: Mapped[str]
    amount_minor: Mapped[int]
    currency: Mapped[str]
    method: Mapped[str]
    note: Mapped[str]
    sealed = Sealing(chained=True)


class ReductionRow(ContraryRow, Row):
    """What was taken off an order out of goodwill, or the undoing of it, written once."""

    __tablename__ = "reductions"
    __table_args__ = (
        Index("reductions_by_order", "order_id"),
        Index("reductions_by_undone", "takes_back", unique=True),
        STRICT,
    )
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    amount_minor: Mapped[int]
    currency: Mapped[str]
    reason: Mapped[str]
    with_tax: Mapped[bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewQuote:
    """The head of a quote to be kept."""

    customer_id: int
    quote_number: str
    valid_until: date
    note: str = ""


def _nothing_known(_order_id: int) -> Order | None:
    return None


class Orders:
    """Keeps orders. lasting: what was agreed, which is written once.

    before: answers with an order as it stood when this transaction began, by its id; see `known_orders`.
    """

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()
        self.before: Callable[[int], Order | None] = _nothing_known
        self._claimed: dict[int, tuple[Piece, ...]] = {}
        self._touched: set[int] = set()
        self._ledger = Journal(session, NewEntry, LedgerEntryRow, LedgerEntryRow.order_id)
        self._reductions = Journal(session, NewReduction, ReductionRow, ReductionRow.order_id)
        self.pieces = OrderPieces(session, self._lasting)
        self._lines = OrderLines(session)

    def get(self, order_id: int) -> Order:
        """Return the whole order. Raises: NotFound."""
        row = self._row(order_id)
        return value_of(
            Order,
            row,
            customer_name=self._session.get_one(CustomerRow, row.customer_id).name,
            pieces=self._pieces_now(order_id),
            entries=self._ledger.of(order_id),
            reductions=self._reductions.of(order_id),
            lines=self._lines.of(order_id),
        )

    def at_version(self, order_id: int, expected_version: int) -> Order:
        """Return the whole order as it stands at a version. Raises: NotFound, Stale with the Order as it is kept now."""
        order = self.get(order_id)
        if order.version != expected_version:
            raise _stale(order)
        return order

    def id_of(self, number: str) -> int:
        """Return the id of the order with a quote's or an order's number. Raises: NotFound."""
        found = self._session.scalars(
            select(OrderRow.id).where(
                (OrderRow.order_number == number) | (OrderRow.quote_number == number)
            )
        ).first()
        if found is None:
            raise NotFound(f"There is no quote or order with the number {number[:40]}.")
        return found

    def add(
        self,
        quote: NewQuote,
        pieces: Sequence[NewPiece],
        act: Stamp,
        lines: Sequence[LineAgreed] = (),
    ) -> int:
        """Keep a new quote with its pieces and lines, all in the currency of the first. Returns the id.

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
            currency=_currency_of(pieces, lines).code,
            total_minor=0,
            most_minor=None,
            paid_minor=0,
            owed_minor=0,
            updated_at=act.now,
        )
        self._session.add(row)
        self._session.flush()
        for piece in pieces:
            self.add_piece(row.id, piece, act)
        for line in lines:
            self._lines.add(row.id, line, act)
        return row.id

    def claim(self, order_id: int, expected_version: int) -> Order:
        """Begin to change an order: its version goes up. Returns it as it stands.

        From then on only those of its pieces are read that this transaction has written.
        Raises: NotFound, Stale with the Order as it is kept now.
        """
        row = self._row(order_id)
        if row.version != expected_version:
            raise _stale(self.get(order_id))
        known = self.before(order_id)
        row.version += 1
        self._session.flush()
        if known is not None and known.version == expected_version:
            order = replace(known, version=row.version)
        else:
            order = self.get(order_id)
        self._claimed[order_id] = order.pieces
        return order

    def write_head(self, order: Order) -> None:
        """Keep what an order says beside its pieces and its ledger: customer, dates, note, number."""
        row = self._row(order.id)
        row.customer_id, row.note = order.customer_id, order.note
        row.valid_until, row.due = order.valid_until, order.due
        row.order_number, row.ordered_on = order.order_number, order.ordered_on
        self._session.flush()

    def give(self, customer_id: int, to: int, *, now: datetime) -> int:
        """Give every quote and order of a customer to another one. Returns how many."""
        rows = self._session.scalars(select(OrderRow).where(OrderRow.customer_id == customer_id))
        given = rows.all()
        for row in given:
            row.customer_id, row.version, row.updated_at = to, row.version + 1, now
        self._session.flush()
        return len(given)

    def settle(
        self, order: Order, *, total: Money, owed: Money, now: datetime, most: Money | None = None
    ) -> None:
        """Keep what lists show of an order as it stands: stage, total, paid, owed.

        most: where a design is still to be chosen, the most that it may come to; total is the least then.
        """
        row = self._row(order.id)
        row.stage, row.updated_at = order.stage.value, now
        row.currency, row.total_minor, row.owed_minor = (
            total.currency.code,
            total.minor,
            owed.minor,
        )
        row.most_minor = most.minor if most else None
        row.paid_minor = paid(order.entries, Money.zero(total.currency)).minor
        self._session.flush()

    def add_piece(self, order_id: int, piece: NewPiece, act: Stamp) -> AddedPiece:
        """Add a piece at its stage “quoted”, under a number that no piece of the order ever had."""
        last = self._session.scalars(
            select(func.max(PieceRow.number)).where(PieceRow.order_id == order_id)
        ).one()
        row = PieceRow(
            order_id=order_id,
            number=(last or 0) + 1,
            stage=Stage.QUOTED.value,
            counted_design=1,
            copies=piece.agreed.copies,
            **columns_of(piece.artwork),
        )
        self._session.add(row)
        self._session.flush()
        self.agree_design(row.id, Design(number=1, agreed=piece.agreed), act)
        return AddedPiece(id=row.id, number=row.number)

    def agree_design(self, piece_id: int, design: Design, act: Stamp) -> None:
        """Agree a design anew; what was agreed before stays in its history."""
        self._touched.add(piece_id)
        self._session.add(
            PieceSnapshotRow(
                piece_id=piece_id,
                design=design.number,
                priced_on=design.agreed.priced_on,
                agreed=AGREED.write(design.agreed),
                at=act.now,
                by=act.who,
            )
        )
        row = self._session.get_one(PieceRow, piece_id)
        if row.counted_design == design.number:
            row.copies = design.agreed.copies
        self._session.flush()

    def add_design(self, piece_id: int, agreed: Agreed, act: Stamp) -> int:
        """Put a further design beside those of a piece. Returns its number, one that none of its designs ever had."""
        last = select(func.max(PieceSnapshotRow.design)).where(
            PieceSnapshotRow.piece_id == piece_id
        )
        design = Design(number=self._session.scalars(last).one() + 1, agreed=agreed)
        self.agree_design(piece_id, design, act)
        self.note_design(piece_id, design.number, DesignAct.ADDED, act)
        return design.number

    def note_design(self, piece_id: int, design: int, what: DesignAct, act: Stamp) -> None:
        """Write an act on a design down; the piece counts by the design that it leaves."""
        self._touched.add(piece_id)
        change = DesignChange(design=design, act=what, at=act.now, by=act.who)
        self.pieces.acts.add(piece_id, change)
        changes = tuple(each.entry for each in self.pieces.acts.of(piece_id))
        every = select(PieceSnapshotRow.design).where(PieceSnapshotRow.piece_id == piece_id)
        numbers = standing_designs(self._session.scalars(every), changes)
        row = self._session.get_one(PieceRow, piece_id)
        row.counted_design = taken_of(numbers, changes) or numbers[0]
        snapshots = self.pieces.last_snapshots(select(literal(piece_id)))[piece_id]
        counted = next(each for each in snapshots if each.design == row.counted_design)
        row.copies = self.pieces.agreed([counted])[counted].copies
        self._session.flush()

    def write_artwork(self, piece_id: int, artwork: ArtworkRecord) -> None:
        """Keep what is known of an artwork, such as its place."""
        self._touched.add(piece_id)
        row = self._session.get_one(PieceRow, piece_id)
        write(row, columns_of(artwork))
        self._session.flush()

    def remove_piece(self, piece_id: int, *, now: datetime) -> None:
        """Take a piece off its order; its number and history stay."""
        self._touched.add(piece_id)
        self._session.get_one(PieceRow, piece_id).removed_at = now
        self._session.flush()

    def add_change(
        self, piece_id: int, change: StageChange, *, stands_at: Stage | None = None
    ) -> None:
        """Write a change of stage down; the piece stands at its new stage.

        stands_at: the least stage of several that are alike, where not all of them moved.
        """
        self._touched.add(piece_id)
        self.pieces.changes.add(piece_id, change)
        self._session.get_one(PieceRow, piece_id).stage = (stands_at or change.new).value
        self._session.flush()

    def add_entry(self, order_id: int, entry: NewEntry) -> int:
        """Write an entry into the ledger. Returns its id."""
        return self._ledger.add(order_id, entry)

    def add_reduction(self, order_id: int, reduction: NewReduction) -> int:
        """Write down what is taken off an order, or the undoing of it. Returns its id."""
        return self._reductions.add(order_id, reduction)

    def _row(self, order_id: int) -> OrderRow:
        row = self._session.get(OrderRow, order_id)
        if row is None:
            raise NotFound(f"There is no order with the id {order_id}.")
        return row

    def _pieces_now(self, order_id: int) -> tuple[Piece, ...]:
        """Return the pieces of an order by number; of one that was claimed those that were not written since as they were then."""
        known = self._claimed.get(order_id)
        if known is None:
            return self.pieces.where(PieceRow.order_id == order_id)
        if not self._touched:
            return known
        ours = (PieceRow.order_id == order_id) & PieceRow.id.in_(tuple(self._touched))
        still = (piece for piece in known if piece.id not in self._touched)
        return tuple(sorted((*still, *self.pieces.where(ours)), key=lambda piece: piece.number))


def _stale(order: Order) -> Stale:
    return Stale(f"{'Order' if order.order_number else 'Quote'} {order.number}", order)


def _currency_of(pieces: Sequence[NewPiece], lines: Sequence[LineAgreed]) -> Currency:
    first = pieces[0].agreed if pieces else lines[0]
    return first.price.currency
