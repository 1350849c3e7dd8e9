"""Tickets that are printed: which print each is, the note of it, and what has changed since (M7).

A print is noted once for each version of a piece's ticket: what is asked for again unchanged is a copy, so that a page
that is loaded twice notes nothing.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from app.bench import Cutter
from app.codec import Codec
from app.documents.ticket.ticket import pieces_to_print
from app.errors import Invalid
from app.orders import Order, Piece, Shop, Stage
from app.orders.piece_report import findings
from app.orders.printed import (
    Difference,
    FactKind,
    TicketFacts,
    TicketPrint,
    TicketVersion,
    differences,
    still_matter,
    version_of,
)
from app.orders.step_ticks import Tick, done_otherwise
from app.orders.ticket_facts import OrderHead, printed_facts, ticket_facts, with_order
from app.orders.workbench import workbench
from app.services.spoiling import spoiled_in
from app.stock.planning.parts import PieceRef
from app.storage import KeptPiece, Stamp, Store, UnitOfWork

_CUTTER: Codec[Cutter] = Codec("cutter", Cutter)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRun:
    """Tickets about to be printed, from what was kept at one moment.

    pieces: their numbers. versions: which print each is, by the number of its piece. notes: those that are no copies,
    by the id of the piece.
    """

    order: Order
    shop: Shop
    pieces: tuple[int, ...]
    versions: Mapping[int, TicketVersion]
    notes: Mapping[int, TicketPrint]


def prepare(store: Store, order_id: int, number: int | None, act: Stamp) -> PrintRun:
    """Return the ticket of one piece, or of all still on the way: which print it is; nothing is noted yet.

    Raises: NotFound; Conflict where no piece is left to print; Invalid where nothing can be cut.
    """
    with store.reading() as work:
        order, shop = work.orders.get(order_id), work.shop.get()
        pieces = pieces_to_print(order, None if number is None else (number,))
        ids = [piece.id for piece in pieces]
        prints, snapshots = (
            work.ticket_prints.of_pieces(ids),
            work.ticket_prints.last_snapshots(ids),
        )
        ticks = {piece.id: work.ticks.of_piece(piece.id) for piece in pieces}
        spoiled = spoiled_in(work, ids)
    versions: dict[int, TicketVersion] = {}
    notes: dict[int, TicketPrint] = {}
    for piece in pieces:
        facts = printed_facts(order, piece, shop)
        before = prints.get(piece.id, ())
        done = _done(piece, shop, ticks[piece.id]) if before else ()
        version = versions[piece.number] = replace(
            version_of(before, facts, act.now, done),
            spoiled=tuple(part.words for part in spoiled.get(piece.id, ())),
        )
        if not version.copy:
            notes[piece.id] = TicketPrint(
                at=act.now,
                by=act.who,
                version=version.version,
                snapshot_id=snapshots[piece.id],
                cutter=_CUTTER.write(shop.cutter),
                facts=facts,
            )
    return PrintRun(
        order=order,
        shop=shop,
        pieces=tuple(piece.number for piece in pieces),
        versions=versions,
        notes=notes,
    )


def _done(piece: Piece, shop: Shop, ticks: Sequence[Tick]) -> tuple[str, ...]:
    """Return what was ticked and is asked for otherwise now, or not any more."""
    steps = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop).steps
    return tuple(tick.text for tick in done_otherwise(ticks, steps))


def note(store: Store, run: PrintRun) -> bool:
    """Note the prints of a run that are no copies, all in one.

    Returns whether they are noted: not where one of them was printed by somebody else meanwhile, and is another
    print for it now. Raises: CannotWrite.
    """
    if not run.notes:
        return True
    with store.writing() as work:
        prints = work.ticket_prints.of_pieces(run.notes)
        if any(len(prints.get(piece, ())) >= print_.version for piece, print_ in run.notes.items()):
            return False
        for piece, print_ in run.notes.items():
            work.ticket_prints.add(piece, print_)
    return True


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """The last print of a piece's ticket, and what is to be said otherwise since, as far as it still matters.

    of_piece: whether the piece was agreed anew since. of_order: whether its order or its artwork says something else.
    Where neither is so, it is the cutter or another setting.
    """

    last: TicketPrint
    changes: tuple[Difference, ...]
    of_piece: bool

    @property
    def of_order(self) -> bool:
        """Whether something of the order or its artwork is said otherwise since."""
        return any(each.kind in (FactKind.ORDER, FactKind.PIECE) for each in self.changes)


def printed_tickets(
    store: Store, order: Order, pieces: Sequence[Piece], shop: Shop
) -> dict[int, Printed]:
    """By their numbers, pieces of an order not yet framed of which a ticket was printed, and what changed since."""
    asked = [piece for piece in pieces if piece.stage in _PAPER_MATTERS]
    ids = [piece.id for piece in asked]
    with store.reading() as work:
        prints, snapshots = (
            work.ticket_prints.of_pieces(ids),
            work.ticket_prints.last_snapshots(ids),
        )
    found: dict[int, Printed] = {}
    for piece in asked:
        if of_piece := prints.get(piece.id):
            last = of_piece[-1]
            found[piece.number] = Printed(
                last=last,
                changes=_changes(
                    last, piece.stage, _if_cut(partial(printed_facts, order, piece, shop))
                ),
                of_piece=snapshots[piece.id] != last.snapshot_id,
            )
    return found


_PAPER_MATTERS = frozenset({Stage.QUOTED, Stage.ORDERED, Stage.CUT})


def _changes(last: TicketPrint, stage: Stage, now: TicketFacts | None) -> tuple[Difference, ...]:
    if now is None:
        return ()
    return tuple(still_matter(stage, differences(last.facts, now)))


def _if_cut(facts: Callable[[], TicketFacts]) -> TicketFacts | None:
    """Return what a ticket would say; None where nothing can be cut in the shop's steps, which its notices say."""
    try:
        return facts()
    except Invalid:
        return None


def changed_since_printed(store: Store, shop: Shop) -> tuple[PieceRef, ...]:
    """Return the pieces in work whose printed ticket does not hold any more, the first due first.

    Only pieces that were agreed anew, that were printed for another cutter, or whose order changed are looked at.
    """
    with store.reading() as work:
        cutter = _CUTTER.write(shop.cutter)
        last = work.ticket_prints.printed_before(cutter)
        pieces = work.open_pieces.get(last) if last else ()
        heads = work.ticket_prints.heads({piece.ref.order_id for piece in pieces})
        return tuple(
            piece.ref
            for piece in pieces
            if work.lasting.of(
                "changed since printed",
                (
                    last[piece.ref.piece_id],
                    piece.snapshot_id,
                    piece.stage,
                    cutter,
                    heads[piece.ref.order_id],
                ),
                partial(_changed, work, piece, shop, heads[piece.ref.order_id]),
            )
        )


def _changed(work: UnitOfWork, piece: KeptPiece, shop: Shop, head: OrderHead) -> bool:
    """Tell whether the last print does not hold, which follows from it, what is agreed, the stage, the cutter and the
    order.
    """
    piece_id = piece.ref.piece_id
    last = work.ticket_prints.of_pieces([piece_id])[piece_id][-1]
    now = _if_cut(lambda: with_order(ticket_facts(piece.as_agreed, shop), head))
    return bool(_changes(last, piece.stage, now))
