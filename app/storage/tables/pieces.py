"""Pieces in work, with what was agreed for them, whichever orders they belong to, and the ticks of their steps."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from sqlalchemy import ColumnElement, ForeignKey, Index, func, or_, select
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.journal import not_undone
from app.orders import Agreed, Stage, StageChange
from app.orders.copies import spread
from app.orders.step_ticks import Tick
from app.stock.former_codes import Codes
from app.stock.planning.parts import PieceRef
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import (
    STRICT,
    Row,
)
from app.storage.snapshots import AGREED
from app.storage.tables.customers import CustomerRow
from app.storage.tables.materials import codes_now
from app.storage.tables.order_pieces import PieceRow, PieceSnapshotRow, StageChangeRow
from app.storage.tables.orders import OrderRow


class StepTickRow(JournalRow, Row):
    """One tick of a step, or its taking back, written once. words: what the step said then."""

    __tablename__ = "step_ticks"
    __table_args__ = (Index("step_ticks_by_piece", "piece_id"), STRICT)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    step: Mapped[str]
    words: Mapped[str]
    ticked: Mapped[bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPiece:
    """A piece wherever it stands. removed: taken off its order since.

    snapshot_id: of what was agreed for the design that counts, which was written once. read: reads that text by this id, while
    the transaction lasts. codes: those of today of materials that are called otherwise now. changes: of its stage, where not all that are alike moved together.
    """

    ref: PieceRef
    stage: Stage
    snapshot_id: int
    read: Callable[[int], str] = field(compare=False, repr=False)
    codes: Codes
    removed: bool = False
    changes: tuple[StageChange, ...] = ()

    def stands(self, copies: int) -> Mapping[Stage, int]:
        """Return how many of so many that are alike stand at each stage."""
        standing = not_undone(self.changes, takes_back=lambda change: change.takes_back)
        return spread(copies, self.stage, standing)

    @property
    def as_agreed(self) -> Agreed:
        """What was agreed, its materials under the codes of that day; read anew each time."""
        return AGREED.read(self.read(self.snapshot_id))

    @property
    def agreed(self) -> Agreed:
        """What was agreed, with its materials under the codes of today; it is read from the snapshot each time."""
        agreed = self.as_agreed
        chosen = self.codes.chosen(agreed.chosen)
        return agreed if chosen is agreed.chosen else replace(agreed, chosen=chosen)


class OpenPieces:
    """Answers which pieces are in work."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._changes = Journal(session, StageChange, StageChangeRow, StageChangeRow.piece_id)

    def in_work(self, also: Iterable[int] = ()) -> tuple[KeptPiece, ...]:
        """Pieces that are ordered and not cut, and some of those that are cut or framed.

        also: the ids of these. The first due first, what has no due date last.
        """
        later = PieceRow.stage.in_([Stage.CUT.value, Stage.FRAMED.value])
        wanted = or_(PieceRow.stage == Stage.ORDERED.value, PieceRow.id.in_(tuple(also)) & later)
        return self._found(wanted & PieceRow.removed_at.is_(None))

    def at(self, *stages: Stage) -> tuple[KeptPiece, ...]:
        """Pieces at any of some stages, the first due first."""
        there = PieceRow.stage.in_([stage.value for stage in stages])
        return self._found(there & PieceRow.removed_at.is_(None))

    def at_or(self, stages: Iterable[Stage], piece_ids: Iterable[int]) -> tuple[KeptPiece, ...]:
        """Pieces at any of some stages, and some others at whatever stage they are; removed ones too. The first due first."""
        there = PieceRow.stage.in_([stage.value for stage in stages])
        return self._found(there | PieceRow.id.in_(tuple(piece_ids)))

    def get(self, piece_ids: Iterable[int]) -> tuple[KeptPiece, ...]:
        """Return some pieces at whatever stage they are, removed ones too."""
        return self._found(PieceRow.id.in_(tuple(piece_ids)))

    def refs(self, piece_ids: Iterable[int]) -> Mapping[int, PieceRef]:
        """Return the names of some pieces, at whatever stage they are, by their ids."""
        named = (
            select(*_NAMED)
            .join(OrderRow, OrderRow.id == PieceRow.order_id)
            .join(CustomerRow, CustomerRow.id == OrderRow.customer_id)
            .where(PieceRow.id.in_(tuple(piece_ids)))
        )
        return {row[0]: _ref_of(row) for row in self._session.execute(named)}

    def _found(self, wanted: ColumnElement[bool]) -> tuple[KeptPiece, ...]:
        """Columns alone: rows with all that an ORM does take three times as long.

        What was agreed is read of those alone of which it is asked; it is long, and what follows from it is remembered.
        """
        last = (
            select(func.max(PieceSnapshotRow.id))
            .where(
                PieceSnapshotRow.piece_id == PieceRow.id,
                PieceSnapshotRow.design == PieceRow.counted_design,
            )
            .correlate(PieceRow)
            .scalar_subquery()
        )
        rows = self._session.execute(
            select(*_NAMED, PieceRow.stage, PieceRow.removed_at, last)
            .join(OrderRow, OrderRow.id == PieceRow.order_id)
            .join(CustomerRow, CustomerRow.id == OrderRow.customer_id)
            .where(wanted)
            .order_by(OrderRow.due_key, OrderRow.id, PieceRow.number)
        )
        codes = codes_now(self._session)
        found = [self._piece_of(row, codes) for row in rows]
        changes = self._by_number(each.ref.piece_id for each in found)
        return tuple(
            replace(each, changes=changes[each.ref.piece_id])
            if each.ref.piece_id in changes
            else each
            for each in found
        )

    def _piece_of(self, row: Sequence[Any], codes: Codes) -> KeptPiece:
        *named, stage, removed_at, snapshot_id = row
        return KeptPiece(
            ref=_ref_of(named),
            stage=Stage(stage),
            removed=removed_at is not None,
            snapshot_id=snapshot_id,
            read=self._written,
            codes=codes,
        )

    def _written(self, snapshot_id: int) -> str:
        """Return what was agreed as it was written."""
        text = select(PieceSnapshotRow.agreed).where(PieceSnapshotRow.id == snapshot_id)
        return self._session.scalars(text).one()

    def _by_number(self, piece_ids: Iterable[int]) -> Mapping[int, tuple[StageChange, ...]]:
        """Return the changes of pieces of which not all that are alike moved together, by their ids."""
        some = select(StageChangeRow.piece_id).where(StageChangeRow.count.is_not(None)).distinct()
        ids = set(piece_ids) & set(self._session.scalars(some))
        if not ids:
            return {}
        return {
            piece_id: tuple(each.entry for each in changes)
            for piece_id, changes in self._changes.by_owner(ids).items()
        }


_NAMED = (
    PieceRow.id,
    OrderRow.id,
    func.coalesce(OrderRow.order_number, OrderRow.quote_number),
    PieceRow.number,
    PieceRow.title,
    CustomerRow.name,
    OrderRow.due,
)
"""What a piece is called, as `_ref_of` reads it."""


def _ref_of(row: Sequence[Any]) -> PieceRef:
    piece_id, order_id, order_number, number, title, customer, due = row
    return PieceRef(
        piece_id=piece_id,
        order_id=order_id,
        order_number=order_number,
        number=number,
        title=title,
        customer=customer,
        due=due,
    )


class StepTicks:
    """Keeps the ticks of pieces."""

    def __init__(self, session: Session) -> None:
        self._ticks = Journal(session, Tick, StepTickRow, StepTickRow.piece_id)

    def of_piece(self, piece_id: int) -> tuple[Tick, ...]:
        """Return every tick and every taking back, the oldest first."""
        return tuple(each.entry for each in self._ticks.of(piece_id))

    def add(self, piece_id: int, ticks: Iterable[Tick]) -> None:
        """Write ticks down."""
        self._ticks.add(piece_id, *ticks)
