"""The tickets that were printed: when, by whom, of what, and what stood on them (M7)."""

from collections.abc import Iterable, Mapping

from sqlalchemy import ForeignKey, Index, func, select
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.orders import Stage
from app.orders.printed import TicketPrint
from app.orders.ticket_facts import OrderHead
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import STRICT, Row
from app.storage.snapshots import TICKET_FACTS
from app.storage.tables.order_pieces import PieceRow, PieceSnapshotRow
from app.storage.tables.orders import OrderRow


class TicketPrintRow(JournalRow, Row):
    """One version of a piece's ticket that was printed, written once. facts: what stood on it, as JSON."""

    __tablename__ = "ticket_prints"
    __table_args__ = (Index("ticket_prints_by_piece", "piece_id", "version", unique=True), STRICT)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    version: Mapped[int]
    snapshot_id: Mapped[int] = mapped_column(ForeignKey("piece_snapshots.id"))
    cutter: Mapped[str]
    facts: Mapped[str]


_IN_WORK = (Stage.ORDERED.value, Stage.CUT.value)


class TicketPrints:
    """Keeps the prints of tickets."""

    def __init__(self, session: Session) -> None:
        self._session = session
        documents = {"facts": TICKET_FACTS}
        owner = TicketPrintRow.piece_id
        self._prints = Journal(session, TicketPrint, TicketPrintRow, owner, documents)

    def of_pieces(self, piece_ids: Iterable[int]) -> Mapping[int, tuple[TicketPrint, ...]]:
        """By piece the versions that were printed, the oldest first; of a piece that never was, nothing."""
        found = self._prints.by_owner(piece_ids)
        return {piece: tuple(each.entry for each in prints) for piece, prints in found.items()}

    def add(self, piece_id: int, print_: TicketPrint) -> None:
        """Write a print down."""
        self._prints.add(piece_id, print_)

    def last_snapshots(self, piece_ids: Iterable[int]) -> dict[int, int]:
        """By piece the id of what is agreed for it now."""
        last = func.max(PieceSnapshotRow.id)
        ours = select(PieceSnapshotRow.piece_id, last).group_by(PieceSnapshotRow.piece_id)
        ours = ours.where(PieceSnapshotRow.piece_id.in_(tuple(piece_ids)))
        return {row[0]: row[1] for row in self._session.execute(ours)}

    def printed_before(self, cutter: str) -> dict[int, int]:
        """By piece the id of its last print, where that was of something else than is agreed now or for another cutter, or
        its order changed since.

        Only pieces that are ordered or cut are looked at, and only these can have changed since they were printed.
        """
        last = func.max(TicketPrintRow.id)
        agreed = func.max(PieceSnapshotRow.id)
        of_piece = PieceSnapshotRow.piece_id == PieceRow.id
        agreed_now = select(agreed).where(of_piece).correlate(PieceRow).scalar_subquery()
        last_print = (
            select(last)
            .where(TicketPrintRow.piece_id == PieceRow.id)
            .correlate(PieceRow)
            .scalar_subquery()
        )
        found = (
            select(PieceRow.id, TicketPrintRow.id)
            .join(OrderRow, OrderRow.id == PieceRow.order_id)
            .join(TicketPrintRow, TicketPrintRow.id == last_print)
            .where(OrderRow.stage.in_(_IN_WORK))  # of which there is an index
            .where(PieceRow.stage.in_(_IN_WORK), PieceRow.removed_at.is_(None))
            .where(
                (TicketPrintRow.snapshot_id != agreed_now)
                | (TicketPrintRow.cutter != cutter)
                | (OrderRow.updated_at >= TicketPrintRow.at)
            )
        )
        return {row[0]: row[1] for row in self._session.execute(found)}

    def heads(self, order_ids: Iterable[int]) -> dict[int, OrderHead]:
        """By order what a ticket bears of it now."""
        number = func.coalesce(OrderRow.order_number, OrderRow.quote_number)
        found = select(OrderRow.id, number, OrderRow.due, OrderRow.note)
        return {
            order_id: OrderHead(number=number, due=due, note=note)
            for order_id, number, due, note in self._session.execute(
                found.where(OrderRow.id.in_(tuple(order_ids)))
            )
        }
