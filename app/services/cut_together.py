"""Pieces whose mats are cut together: which of those that were named can be, and their steps ticked from one list.

No list of them is kept. Ticks are those of the pieces themselves, so that it does not matter with which others a piece
is cut, nor on how many phones the same list lies open.
"""

import hashlib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from app.bench import DayPlan, Step
from app.errors import Conflict, Invalid, NotFound
from app.orders import Order, Piece, Shop, Stage
from app.orders.cut_together import (
    MOST_TOGETHER,
    CutTogether,
    DayAsked,
    PieceTogether,
    at_cutter,
    cut_together,
    name_of,
    why_not_now,
)
from app.orders.step_ticks import Tick, words_of
from app.services.bench import PieceAt, check_worked_on, step_of, write_ticks
from app.services.open_work import pieces_in_work
from app.services.order_transaction import piece_of
from app.stock.planning.open_work import PieceInWork
from app.stock.planning.parts import PartToCut
from app.storage import Stamp, Store, UnitOfWork

MOST_TO_CHOOSE = 200
"""Open pieces that are offered to choose from, the first due first. Source: ours."""


_MOST_DAYS = 12
"""Plans of a day that are remembered. Source: ours; a shop has few lists open at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepAt:
    """A step of a piece: where the piece is found, the step's id."""

    piece: PieceAt
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A piece that was named and is not cut with the others. why: a whole sentence."""

    at: PieceAt
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AtCutter:
    """Pieces as they lie at the cutter together.

    together: None where nothing is left to cut. ticks: of each piece by its name, the oldest first.
    """

    together: CutTogether | None
    ticks: dict[str, tuple[Tick, ...]]
    left_out: tuple[LeftOut, ...]


def at_cutter_together(store: Store, wanted: Iterable[PieceAt], shop: Shop) -> AtCutter:
    """Return the pieces that were named, those that can be cut now apart from those that cannot.

    A piece that is named twice counts once; those beyond the most are left out.
    """
    pieces: list[PieceTogether] = []
    left_out: list[LeftOut] = []
    ticks: dict[str, tuple[Tick, ...]] = {}
    with store.reading() as work:
        orders = _Orders(work)
        for at in dict.fromkeys(wanted):
            try:
                found = _found(orders, at, shop, room=len(pieces) < MOST_TOGETHER)
            except (NotFound, Conflict, Invalid) as refused:
                left_out.append(LeftOut(at=at, why=refused.message))
                continue
            pieces.append(found)
            ticks[found.name] = work.ticks.of_piece(found.piece.id)
        together = cut_together(pieces, shop, _remembering(work)) if pieces else None
    return AtCutter(together=together, ticks=ticks, left_out=tuple(left_out))


def _remembering(work: UnitOfWork) -> Callable[[DayAsked], DayPlan]:
    """Return who plans a day once and remembers it, since a tick on the list changes nothing of it."""
    return lambda asked: work.lasting.of("days", asked, asked.plan, most=_MOST_DAYS)


def _found(orders: "_Orders", at: PieceAt, shop: Shop, *, room: bool) -> PieceTogether:
    """Return a piece as it lies at the cutter.

    Raises: NotFound; Conflict where its mats are not to be cut now, or there is no room for it; Invalid where nothing
    is left to cut.
    """
    order, piece = orders.piece(at)
    name = f"{name_of(order, piece)} {piece.artwork.title or 'untitled'}"
    if why := why_not_now(piece):
        raise Conflict(f"{name} {why}.")
    if not room:
        raise Conflict(
            f"At most {MOST_TOGETHER} pieces are cut together; {name} is left for the next time."
        )
    return at_cutter(order, piece, shop)


class _Orders:
    """The orders of some pieces, each read once."""

    def __init__(self, work: UnitOfWork) -> None:
        self._work = work
        self._read: dict[int, Order] = {}

    def piece(self, at: PieceAt) -> tuple[Order, Piece]:
        """Return a piece with its order. Raises: NotFound."""
        if at.order_id not in self._read:
            self._read[at.order_id] = self._work.orders.get(at.order_id)
        order = self._read[at.order_id]
        return order, piece_of(order, at.number)


def pieces_of_orders(store: Store, order_ids: Iterable[int]) -> tuple[PieceAt, ...]:
    """Return every piece of some orders that counts; of what is no order, nothing."""
    found: list[PieceAt] = []
    with store.reading() as work:
        for order_id in dict.fromkeys(order_ids):
            try:
                order = work.orders.get(order_id)
            except NotFound:
                continue
            found += [PieceAt(order_id=order.id, number=piece.number) for piece in order.counting]
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToChoose:
    """Open pieces with mats, the first due first. more: how many open pieces were not looked at."""

    pieces: tuple[PieceInWork, ...]
    more: int


def to_choose(store: Store) -> ToChoose:
    """Return the ordered pieces with a mat that are not cut yet."""
    with store.reading() as work:
        kept = work.open_pieces.at(Stage.ORDERED)
        pieces, _ = pieces_in_work(work, kept[:MOST_TO_CHOOSE])
    with_mats = (piece for piece in pieces if any(_is_mat(each.part) for each in piece.parts))
    return ToChoose(pieces=tuple(with_mats), more=max(len(kept) - MOST_TO_CHOOSE, 0))


def _is_mat(part: PartToCut) -> bool:
    return part.key.startswith("mat-")


def said_of(steps: Iterable[Step]) -> str:
    """Return a mark of what some steps say, by which a page that was opened before a change is known."""
    said = "\n".join(words_of(step) for step in steps)
    return hashlib.sha256(said.encode()).hexdigest()[:16]


def tick_together(
    store: Store, steps: Sequence[StepAt], said: str, act: Stamp, *, ticked: bool
) -> None:
    """Tick steps of several pieces, or take their ticks back, all or none; what stands already is left as it is.

    said: `said_of` the steps as the page showed them.
    Raises: NotFound; Conflict where a piece is not worked on any more, or a step is gone or says something else.
    """
    with store.writing() as work:
        shop, orders = work.shop.get(), _Orders(work)
        meant: dict[PieceAt, list[str]] = {}
        for each in steps:
            meant.setdefault(each.piece, []).append(each.step)
        found: list[tuple[Piece, tuple[Step, ...]]] = []
        for at, ids in meant.items():
            order, piece = orders.piece(at)
            check_worked_on(piece)
            own = at_cutter(order, piece, shop).bench.steps
            found.append((piece, tuple(step_of(own, id) for id in ids)))
        if said != said_of(step for _, its in found for step in its):
            raise Conflict(
                "A piece, or the cutter, was changed since this page was opened, and nothing was ticked. "
                "It is shown as it is now: look at it, then tick again."
            )
        for piece, its in found:
            write_ticks(work, piece, its, act, ticked=ticked)
