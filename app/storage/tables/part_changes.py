"""Keeps what became at the bench of parts that no plan cut."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sqlalchemy import ColumnElement, ForeignKey, Index, literal_column, select, text
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.stock.planning.part_changes import ChangedPart, spoiled_parts
from app.stock.planning.plans import Moved
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import STRICT, Row
from app.storage.tables.materials import codes_now
from app.storage.tables.plans import MovedList


class PartChangeRow(JournalRow, Row):
    """One change of a part, written once."""

    __tablename__ = "part_changes"
    __table_args__ = (
        Index("part_changes_by_piece", "piece_id"),
        Index("part_changes_spoiled", "piece_id", sqlite_where=text("change = 'spoiled'")),
        STRICT,
    )
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    part: Mapped[str]
    what: Mapped[str]
    change: Mapped[str]
    note: Mapped[str]
    moved: Mapped[tuple[Moved, ...]] = mapped_column(MovedList)


class PartChanges:
    """Keeps the changes of parts, by piece."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._changes = Journal(session, ChangedPart, PartChangeRow, PartChangeRow.piece_id)

    def add(self, piece_id: int, change: ChangedPart) -> int:
        """Write a change down. Returns its id."""
        return self._changes.add(piece_id, change)

    def of(self, piece_ids: Iterable[int]) -> Mapping[int, tuple[ChangedPart, ...]]:
        """Return the changes of the parts of some pieces, the oldest first, under the codes of today."""
        codes = codes_now(self._session)
        return {
            piece_id: tuple(
                replace(each.entry, what=codes.what(each.entry.what)) for each in changes
            )
            for piece_id, changes in self._changes.by_owner(piece_ids).items()
        }

    def spoiled_pieces(self) -> frozenset[int]:
        """Return the ids of pieces with a part that is spoiled and not cut anew."""
        spoiled: ColumnElement[bool] = literal_column(
            "part_changes.change = 'spoiled'"
        )  # for the partial index
        found = self.of(self._session.scalars(select(PartChangeRow.piece_id).where(spoiled)).all())
        return frozenset(piece_id for piece_id, changes in found.items() if spoiled_parts(changes))
