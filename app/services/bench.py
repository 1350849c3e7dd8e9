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
from app.services.order_transaction import piece_of
from app.services.price_book import hardware
from app.services.spoiling import PartNoted, noted_in, spoiled_in
from app.storage import Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceAt:
    """Where a piece is found: the id of its order, its number there."""

    order_id: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AtBench:
    """A piece as it lies at the bench. ticks: every tick and taking back, the oldest first.

    spoiled: whether a part of it is spoiled and not cut anew. noted: all that was noted of spoiled parts, the oldest first.
    """

    order: Order
    piece: Piece
    found: Findings
    bench: Workbench
    ticks: tuple[Tick, ...]
    spoiled: bool = False
    noted: tuple[PartNoted, ...] = ()

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
        noted = noted_in(work, [piece.id]).get(piece.id, ())
    found = findings(piece.artwork, piece.agreed, shop, hardware(store))
    bench = workbench(piece.agreed, found, shop)
    return AtBench(
        order=order,
        piece=piece,
        found=found,
        bench=bench,
        ticks=ticks,
        spoiled=spoiled,
        noted=noted,
    )


def tick(store: Store, at: PieceAt, step_id: str, act: Stamp, *, ticked: bool) -> None:
    """Tick a step of a piece, or take its tick back; what stands already is left as it is.

    Raises: NotFound; Conflict where the piece is not worked on, or has no such step any more.
    """
    with store.writing() as work:
        piece = piece_of(work.orders.get(at.order_id), at.number)
        check_worked_on(piece)
        shop = work.shop.get()
        bench = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)
        write_ticks(work, piece, (step_of(bench.steps, step_id),), act, ticked=ticked)


def write_ticks(
    work: UnitOfWork, piece: Piece, steps: Iterable[Step], act: Stamp, *, ticked: bool
) -> None:
    """Tick steps of a piece, or take their ticks back; what stands already is left as it is."""
    before = standing(work.ticks.of_piece(piece.id))
    new = tuple(
        Tick(step=step.id, words=words_of(step), ticked=ticked, at=act.now, by=act.who)
        for step in steps
        if not _as_it_is(before.get(step.id), step, ticked=ticked)
    )
    if new:
        work.ticks.add(piece.id, new)


def _as_it_is(before: Tick | None, step: Step, *, ticked: bool) -> bool:
    if not ticked:
        return before is None
    return before is not None and before.words == words_of(step)


def check_worked_on(piece: Piece) -> None:
    """Raises: Conflict where the steps of a piece cannot be ticked at its stage."""
    if piece.stage not in TICKABLE:
        raise Conflict(
            f"The piece is “{piece.stage}”: its steps are ticked from the order until it is "
            "collected."
        )


def step_of(steps: Iterable[Step], step_id: str) -> Step:
    """Return the step of an id. Raises: Conflict where the piece has none."""
    for step in steps:
        if step.id == step_id:
            return step
    raise Conflict(
        f"The piece has no step {quoted(step_id)}; it, or the cutter, was changed since the page was "
        "opened. Open it again."
    )
