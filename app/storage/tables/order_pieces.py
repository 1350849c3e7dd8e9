"""The pieces of orders: their rows, and how they are read as values, each from what is remembered of what it is made of."""

from collections import defaultdict, namedtuple
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

from sqlalchemy import ColumnElement, ForeignKey, Index, Select, func, select, text
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.orders import Agreed, ArtworkRecord, Design, DesignChange, Piece, StageChange
from app.orders.designs import standing_designs, taken_of
from app.pricing import Material
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import STRICT, Row, names_of_columns, value_of
from app.storage.memo import Memo
from app.storage.snapshots import AGREED


class PieceRow(Row):
    """A piece and its artwork. A removed piece keeps its number and its snapshots.

    support: what the artwork is made of, if anybody said. weight_kg: as it was weighed, if it was.
    counted_design: the number of the design that everything follows. copies: how many are alike, as that design
    says; lists show it. photo: id of the picture of its artwork; blank for none.
    """

    __tablename__ = "pieces"
    __table_args__ = (
        Index("pieces_by_order", "order_id", "number", unique=True),
        Index("pieces_by_photo", "photo", sqlite_where=text("photo <> ''")),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    number: Mapped[int]
    title: Mapped[str]
    kind: Mapped[str]
    condition: Mapped[str]
    declared_value_minor: Mapped[int | None] = mapped_column("declared_minor")
    currency: Mapped[str | None] = mapped_column("declared_currency")
    place: Mapped[str]
    support: Mapped[str | None]
    weight_kg: Mapped[Fraction | None]
    stage: Mapped[str]
    removed_at: Mapped[datetime | None]
    counted_design: Mapped[int]
    copies: Mapped[int]
    photo: Mapped[str]


class PieceSnapshotRow(JournalRow, Row):
    """What was agreed for a design of a piece, written once; the last one of each design holds."""

    __tablename__ = "piece_snapshots"
    __table_args__ = (Index("piece_snapshots_by_piece", "piece_id"), STRICT)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    design: Mapped[int]
    priced_on: Mapped[date]
    agreed: Mapped[str]


class DesignChangeRow(JournalRow, Row):
    """One act on a design of a piece, written once."""

    __tablename__ = "design_changes"
    __table_args__ = (Index("design_changes_by_piece", "piece_id"), STRICT)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    design: Mapped[int]
    act: Mapped[str]


class StageChangeRow(JournalRow, Row):
    """One change of a piece's stage, written once. count: how many of those that are alike moved, if not all."""

    __tablename__ = "stage_changes"
    __table_args__ = (
        Index("stage_changes_by_piece", "piece_id"),
        Index("stage_changes_by_number", "piece_id", sqlite_where=text("count IS NOT NULL")),
        STRICT,
    )
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    old: Mapped[str]
    new: Mapped[str]
    takes_back: Mapped[bool]
    note: Mapped[str]
    count: Mapped[int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPiece:
    """A piece to be kept. brings: a material that it was entered with, which comes into the price book with it."""

    artwork: ArtworkRecord
    agreed: Agreed
    brings: Material | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedPiece:
    """A piece that was just added. number: within its order."""

    id: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Frozen:
    """What was agreed for a design of a piece at some time, and who froze it."""

    design: int
    agreed: Agreed
    at: datetime
    by: str


class Snapshot(NamedTuple):
    """A snapshot by its id, and the number of the design that it is of."""

    id: int
    design: int


class _MadeOf(NamedTuple):
    """All that a piece is made of: what stands in its row, and the ids of rows that were written once."""

    row: tuple[Any, ...]
    snapshots: tuple[Snapshot, ...]
    changes: tuple[int, ...]
    acts: tuple[int, ...]


_NOT_OF_ROW = frozenset({"artwork", "designs", "taken", "changes", "design_changes"})
"""The fields of a piece that do not go by name."""


@cache
def _columns_of_piece() -> type[Any]:
    """Return a tuple of the columns of a row of which a piece is made, by their names."""
    names = (*names_of_columns(Piece, but=_NOT_OF_ROW), *names_of_columns(ArtworkRecord))
    return namedtuple("ColumnsOfPiece", names)  # noqa: PYI024 - the names are those of the values' fields


def _designs(designs: Sequence[Design], changes: tuple[DesignChange, ...]) -> dict[str, Any]:
    """Return the fields of a piece that follow from all designs that it ever had and what happened to them."""
    numbers = standing_designs((each.number for each in designs), changes)
    return {
        "designs": tuple(each for each in designs if each.number in numbers),
        "taken": taken_of(numbers, changes),
        "design_changes": changes,
    }


def _frozen(row: PieceSnapshotRow) -> Frozen:
    return value_of(Frozen, row, agreed=AGREED.read(row.agreed))


class OrderPieces:
    """Reads the pieces of orders. lasting: what was agreed, which is written once.

    changes, acts: the records of what happened to pieces and to their designs.
    """

    def __init__(self, session: Session, lasting: Memo) -> None:
        self._session = session
        self._lasting = lasting
        self.changes = Journal(session, StageChange, StageChangeRow, StageChangeRow.piece_id)
        self.acts = Journal(session, DesignChange, DesignChangeRow, DesignChangeRow.piece_id)

    def where(self, wanted: ColumnElement[bool]) -> tuple[Piece, ...]:
        """Return the pieces under a condition that were not removed, by number.

        Columns alone are read, and each piece is taken from what is remembered under all that it was made of.
        """
        columns = _columns_of_piece()
        there = (wanted, PieceRow.removed_at.is_(None))
        found = self._session.execute(
            select(*(getattr(PieceRow, name) for name in columns._fields))
            .where(*there)
            .order_by(PieceRow.number)
        )
        rows = [columns._make(row) for row in found]
        ids = select(PieceRow.id).where(*there)
        snapshots, changes = self.last_snapshots(ids), self.changes.ids_by_owner(ids)
        acts = self.acts.ids_by_owner(ids)
        made_of = (
            _MadeOf(row, snapshots[row.id], changes.get(row.id, ()), acts.get(row.id, ()))
            for row in rows
        )
        return tuple(self._lasting.several("piece", made_of, self._made).values())

    def history(self, piece_id: int) -> tuple[Frozen, ...]:
        """Return everything that was ever agreed for a piece, the oldest first."""
        ours = select(PieceSnapshotRow).where(PieceSnapshotRow.piece_id == piece_id)
        return tuple(map(_frozen, self._session.scalars(ours.order_by(PieceSnapshotRow.id))))

    def agreed_anew(self, order_id: int) -> dict[tuple[int, int], tuple[Frozen, ...]]:
        """By numbers of piece and design, the history of each design that was agreed more than once."""
        changed = (
            select(PieceSnapshotRow.piece_id)
            .join(PieceRow, PieceRow.id == PieceSnapshotRow.piece_id)
            .where(PieceRow.order_id == order_id, PieceRow.removed_at.is_(None))
            .group_by(PieceSnapshotRow.piece_id, PieceSnapshotRow.design)
            .having(func.count() > 1)
        )
        rows = self._session.execute(
            select(PieceRow.number, PieceSnapshotRow)
            .join(PieceRow, PieceRow.id == PieceSnapshotRow.piece_id)
            .where(PieceSnapshotRow.piece_id.in_(changed))
            .order_by(PieceSnapshotRow.id)
        )
        histories: dict[tuple[int, int], tuple[Frozen, ...]] = defaultdict(tuple)
        for number, row in rows:
            histories[number, row.design] += (_frozen(row),)
        return {key: history for key, history in histories.items() if len(history) > 1}

    def last_snapshots(self, pieces: Select[int]) -> dict[int, tuple["Snapshot", ...]]:
        """Return which snapshot holds of each design that some pieces ever had, by the piece's id and in order.

        pieces: what their ids are selected by, of many pieces cheaper than the ids themselves.
        """
        last = (
            select(
                PieceSnapshotRow.piece_id, PieceSnapshotRow.design, func.max(PieceSnapshotRow.id)
            )
            .where(PieceSnapshotRow.piece_id.in_(pieces))
            .group_by(PieceSnapshotRow.piece_id, PieceSnapshotRow.design)
            .order_by(PieceSnapshotRow.design)
        )
        found: dict[int, tuple[Snapshot, ...]] = defaultdict(tuple)
        for piece_id, design, snapshot_id in self._session.execute(last):
            found[piece_id] += (Snapshot(snapshot_id, design),)
        return found

    def agreed(self, snapshots: Iterable["Snapshot"]) -> dict["Snapshot", Agreed]:
        """Return what was agreed by some snapshots; only the text of those that are not remembered is read."""

        def read(missing: Sequence["Snapshot"]) -> dict["Snapshot", Agreed]:
            texts = select(PieceSnapshotRow.id, PieceSnapshotRow.agreed).where(
                PieceSnapshotRow.id.in_([each.id for each in missing])
            )
            by_id = {row.id: row.agreed for row in self._session.execute(texts)}
            return {each: AGREED.read(by_id[each.id]) for each in missing}

        return self._lasting.several("agreed", snapshots, read)

    def _made(self, asked: Sequence["_MadeOf"]) -> dict["_MadeOf", Piece]:
        """Read some pieces with what was agreed for them and what happened to them."""
        agreed = self.agreed(each for made_of in asked for each in made_of.snapshots)
        changes = self.changes.by_id(each for made_of in asked for each in made_of.changes)
        acts = self.acts.by_id(each for made_of in asked for each in made_of.acts)
        return {
            made_of: value_of(
                Piece,
                made_of.row,
                artwork=value_of(ArtworkRecord, made_of.row),
                changes=tuple(changes[each] for each in made_of.changes),
                **_designs(
                    [Design(number=each.design, agreed=agreed[each]) for each in made_of.snapshots],
                    tuple(acts[each] for each in made_of.acts),
                ),
            )
            for made_of in asked
        }
