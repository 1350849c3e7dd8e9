"""Pieces that are ordered, cut or framed, read once for all that a page says of their parts."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.orders import Stage
from app.services.open_work import pieces_in_work
from app.stock.planning.open_work import PieceInWork
from app.stock.planning.part_changes import ChangedPart
from app.storage import Store, UnitOfWork

_MOST_ASKED = 50
"""Sets of pieces that are remembered until the next write. Source: ours; a shop looks at few orders at once."""

AT_WORK = (Stage.ORDERED, Stage.CUT, Stage.FRAMED)
"""Where pieces have parts of which a page says how it stands with them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtWork:
    """Some pieces that are ordered, cut or framed, the first due first, and what was noted of their parts, by the piece's id."""

    pieces: tuple[PieceInWork, ...]
    changes: Mapping[int, tuple[ChangedPart, ...]]


def at_work(store: Store, piece_ids: Iterable[int]) -> AtWork:
    """Return those of some pieces that are at work; they are read once after each write for all that a page says of them."""
    ids = frozenset(piece_ids)

    def read() -> AtWork:
        with store.reading() as work:
            return at_work_in(work, ids)

    return store.remembered("pieces at work", read, asked=ids, most=_MOST_ASKED)


def at_work_in(work: UnitOfWork, piece_ids: Iterable[int]) -> AtWork:
    """As `at_work`, within a transaction that does more."""
    kept = [each for each in work.open_pieces.get(piece_ids) if each.stage in AT_WORK]
    pieces, _ = pieces_in_work(work, kept)
    changes = work.part_changes.of([piece.ref.piece_id for piece in pieces])
    return AtWork(pieces=pieces, changes=changes)
