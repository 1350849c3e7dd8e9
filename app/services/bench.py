"""The work on a piece at the bench: its steps, and the boxes that are ticked.

Ticking leaves the version of the order alone, so that two phones can tick side by side; moving the
piece to its next stage is `progress`, and does not.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from app.bench import Step
from app.errors import Conflict, quoted
from app.orders import Order, Piece, Shop, Stage
from app.orders.copies import came_to
from app.orders.piece_report import Findings, findings
from app.orders.stages import StageChange
from app.orders.step_ticks import TICKABLE, Tick, standing, words_of
from app.orders.workbench import Workbench, workbench
from app.services.cut_by_hand import spoiled_in
from app.services.order_transaction import piece_of
from app.services.price_book import hardware
from app.storage import Stamp, Store


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceAt:
    """Where a piece is found: the id of its order, its number there."""

    order_id: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AtBench:
    """A piece as it lies at the bench. ticks: every tick and taking back, the oldest first.

    spoiled: whether a part of it is spoiled and not cut anew.
    """

    order: Order
    piece: Piece
    found: Findings
    bench: Workbench
    ticks: tuple[Tick, ...]
    spoiled: bool = False

    @property
    def tickable(self) -> bool:
        """Whether its steps can be ticked now."""
        return self.piece.stage in TICKABLE

    def done_by_stage(self, step: Step) -> StageChange | None:
        """Return the change of stage by which a step is done, whoever ticked it or not; None where none says so.

        A piece that is cut has every part cut, one that is framed has everything done; of several alike that holds
        once the last of them has come there. Where a part is spoiled the stage says nothing of what is done.
        """
        if self.spoiled:
            return None
        implied = Stage.CUT if step.code.before_all_is_cut else Stage.FRAMED
        return came_to(self.piece.copies, self.piece.standing_changes, implied)


def at_bench(store: Store, at: PieceAt, shop: Shop) -> AtBench:
    """Return a piece with its steps and their ticks. Raises: NotFound; Invalid where nothing can be cut."""
    with store.reading() as work:
        order = work.orders.get(at.order_id)
        piece = piece_of(order, at.number)
        ticks = work.ticks.of_piece(piece.id)
        spoiled = piece.id in spoiled_in(work, [piece.id])
    found = findings(piece.artwork, piece.agreed, shop, hardware(store))
    bench = workbench(piece.agreed, found, shop)
    return AtBench(order=order, piece=piece, found=found, bench=bench, ticks=ticks, spoiled=spoiled)


def tick(store: Store, at: PieceAt, step_id: str, act: Stamp, *, ticked: bool) -> None:
    """Tick a step of a piece, or take its tick back; what stands already is left as it is.

    Raises: NotFound; Conflict where the piece is not worked on, or has no such step any more.
    """
    with store.writing() as work:
        piece = piece_of(work.orders.get(at.order_id), at.number)
        _check_worked_on(piece)
        shop = work.shop.get()
        bench = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)
        words = words_of(_step(bench.steps, step_id))
        before = standing(work.ticks.of_piece(piece.id)).get(step_id)
        as_it_is = before is not None and before.words == words if ticked else before is None
        if not as_it_is:
            new = Tick(step=step_id, words=words, ticked=ticked, at=act.now, by=act.who)
            work.ticks.add(piece.id, (new,))


def _check_worked_on(piece: Piece) -> None:
    if piece.stage not in TICKABLE:
        raise Conflict(
            f"The piece is “{piece.stage}”: its steps are ticked from the order until it is "
            "collected."
        )


def _step(steps: Iterable[Step], step_id: str) -> Step:
    for step in steps:
        if step.id == step_id:
            return step
    raise Conflict(
        f"The piece has no step {quoted(step_id)}; it, or the cutter, was changed since the page was "
        "opened. Open it again."
    )
