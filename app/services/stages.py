"""The way of the work: ordered, cut, framed, collected; declined, cancelled; and taken back.

Every change is written down with who and when. A change is never wiped out: taking it back is a
further change.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from app.errors import Conflict, Fault, Invalid, quoted
from app.money import Money
from app.orders import (
    LEFT_THE_WAY,
    DesignAct,
    EntryKind,
    Method,
    Order,
    OrderLine,
    Piece,
    Stage,
    StageChange,
    check_move,
)
from app.orders.copies import may_become, moving
from app.orders.designs import undecided, with_taken
from app.orders.stages import DELETED
from app.services.consumption import put_back_sold, put_back_used, take_sold, take_used
from app.services.cut_by_hand import open_parts, put_back_cut, take_cut
from app.services.order_transaction import OrderAt, changing, line_of, piece_of
from app.services.payments import Payment, receive
from app.services.spoiling import check_cut_anew, check_not_spoiled
from app.stock.consumption import UsedUp, in_all
from app.storage import Series, Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What is agreed when a quote is taken as an order. designs: those that are taken with it, by their piece."""

    due: date | None = None
    deposit: Money | None = None
    method: Method = Method.CASH
    designs: Mapping[int, int] = field(default_factory=dict)


def take_order(store: Store, at: OrderAt, terms: Terms, act: Stamp) -> str:
    """Turn a quote into an order: number, due date and deposit together. Returns the number.

    Declined pieces stay behind. A quote that was an order before keeps its number.
    Raises: NotFound, Stale, Conflict, Invalid at "deposit", or at "design.2" where no design of piece 2 is taken.
    """
    with changing(store, at, act) as (work, quote):
        check_move(quote.stage, Stage.ORDERED)
        order = _with_designs(work, quote, terms.designs, act)
        number = take_as_order(work, order, terms.due, act)
        if terms.deposit:
            deposit = Payment(amount=terms.deposit, method=terms.method, kind=EntryKind.DEPOSIT)
            receive(work, order, deposit, act, path="deposit")
        return number


def take_as_order(work: UnitOfWork, order: Order, due: date | None, act: Stamp) -> str:
    """As `take_order` without a deposit, within a transaction that does more."""
    check_move(order.stage, Stage.ORDERED)
    number = order.order_number or work.numbers.take(Series.ORDER, act.today.year)
    ordered_on = order.ordered_on or act.today
    work.orders.write_head(replace(order, order_number=number, ordered_on=ordered_on, due=due))
    _move(work, _all_that_may(order.all_of_it, Stage.ORDERED), Stage.ORDERED, act)
    return number


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceMove:
    """Where a piece is to come. count: how many of those that are alike; None for all that may.

    anew: whether it is said that the parts noted as spoiled are cut anew with it.
    """

    number: int
    stage: Stage
    count: int | None = None
    anew: bool = False


def move_piece(
    store: Store, at: OrderAt, number: int, stage: Stage, act: Stamp
) -> tuple[UsedUp, ...]:
    """Move one piece on, all that are alike; see `move_some`."""
    return move_some(store, at, PieceMove(number=number, stage=stage), act)


def move_some(store: Store, at: OrderAt, move: PieceMove, act: Stamp) -> tuple[UsedUp, ...]:
    """Move one piece on, or some that are alike; returns what left the rack, as hardware does of what is framed.

    Raises: NotFound, Stale, Conflict with what may follow.
    """
    with changing(store, at, act) as (work, order):
        return move_some_to(work, order, move, act)


def move_some_to(work: UnitOfWork, order: Order, move: PieceMove, act: Stamp) -> tuple[UsedUp, ...]:
    """As `move_some`, within a transaction that does more."""
    piece = piece_of(order, move.number)
    if not may_become(piece.stands, move.stage):
        _check_nobody_has_one(piece, move.stage)
        check_move(piece.stage, move.stage)
    _check_has_number(order, move.stage)
    moves = [(piece, moving(piece.stands, move.stage, move.count))]
    return _move(work, moves, move.stage, act, anew=move.anew)


def move_order(store: Store, at: OrderAt, stage: Stage, act: Stamp) -> tuple[UsedUp, ...]:
    """Move every piece and line that may come to a stage; those ahead or off the way stay where they are.

    Returns what left the rack by that. Raises: NotFound, Stale, Conflict with what may follow.
    """
    with changing(store, at, act) as (work, order):
        check_move(order.stage, stage)
        _check_has_number(order, stage)
        for piece in order.counting:
            if piece.stage is not Stage.COLLECTED:
                _check_nobody_has_one(piece, stage)
        return _move(work, _all_that_may(order.all_of_it, stage), stage, act)


def move_line(
    store: Store, at: OrderAt, number: int, stage: Stage, act: Stamp
) -> tuple[UsedUp, ...]:
    """Move one line on; returns what left the rack by that, as goods do that are handed over.

    Raises: NotFound, Stale, Conflict with what may follow.
    """
    with changing(store, at, act) as (work, order):
        line = line_of(order, number)
        if line.struck:
            raise Conflict(f"Line {number} is struck; put it back first.")
        check_move(line.stage, stage, skips=line.skips, what="The line")
        _check_has_number(order, stage)
        return _move(work, [(line, {line.stage: 1})], stage, act)


def move_all_to(work: UnitOfWork, order: Order, stage: Stage, act: Stamp) -> tuple[UsedUp, ...]:
    """As `move_order` for whatever may come to a stage, within a transaction that does more."""
    return _move(work, _all_that_may(order.all_of_it, stage), stage, act)


def take_back(
    store: Store, at: OrderAt, act: Stamp, number: int | None = None
) -> tuple[UsedUp, ...]:
    """Undo the last change of a piece, or the last act on the order with all pieces and lines it moved.

    What left the rack for a piece that was not cut or framed after all lies there again, and goods that were not handed
    over; it is returned. Money is not moved: what was received stays in the ledger.
    A quote that was deleted comes back with all that went with it. Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act, brings_back=True) as (work, order):
        which: Iterable[Piece | OrderLine] = order.all_of_it
        if number is not None and not order.deleted:
            which = (piece_of(order, number),)
        return _take_back(work, which, act)


def take_line_back(store: Store, at: OrderAt, number: int, act: Stamp) -> tuple[UsedUp, ...]:
    """Undo the last change of a line, as `take_back`. Raises: NotFound, Stale, Conflict."""
    with changing(store, at, act) as (work, order):
        return _take_back(work, (line_of(order, number),), act)


def _take_back(
    work: UnitOfWork, which: Iterable[Piece | OrderLine], act: Stamp
) -> tuple[UsedUp, ...]:
    standing = [
        (each, last)
        for each in which
        if (last := each.last_change) is not None
        and not (isinstance(each, OrderLine) and each.struck)
    ]
    if not standing:
        raise Conflict("Nothing was changed yet, so there is nothing to undo.")
    when = max(last.at for _, last in standing)
    undone = [(each, last) for each, last in standing if last.at == when]
    for each, last in undone:
        if isinstance(each, Piece):
            _undo_last_act(work, each, act)
        else:
            work.order_lines.add_change(each.id, _undoing(last, act))
    framed = {
        each.id: None if last.count is None else last.at
        for each, last in undone
        if _took(each, last.new) is Stage.FRAMED
    }
    sold = [each.id for each, last in undone if _took(each, last.new) is Stage.COLLECTED]
    cut = {
        each.id: last.at
        for each, last in undone
        if isinstance(each, Piece) and last.new is Stage.CUT
    }
    return in_all(
        (
            *put_back_cut(work, cut, act),
            *put_back_used(work, framed, act),
            *put_back_sold(work, sold, act),
        )
    )


def _took(each: Piece | OrderLine, new: Stage) -> Stage | None:
    """Return the stage that was come to where something left the rack by it: framed for a piece, collected for a line."""
    takes = Stage.COLLECTED if isinstance(each, OrderLine) else Stage.FRAMED
    return new if new is takes else None


def _undoing(change: StageChange, act: Stamp) -> StageChange:
    return StageChange(
        old=change.new,
        new=change.old,
        at=act.now,
        by=act.who,
        takes_back=True,
        count=change.count,
        note=DELETED if change.deletes else "",
    )


def _undo_last_act(work: UnitOfWork, piece: Piece, act: Stamp) -> None:
    """Those that are alike may have come to the stage from several; one act brought them there."""
    last = piece.standing_changes[-1]
    from_stages: set[Stage] = set()
    for change in reversed(piece.standing_changes):
        together = (change.at, change.new) == (last.at, last.new)
        if not together or change.old in from_stages:
            break
        from_stages.add(change.old)
        undoing = _undoing(change, act)
        piece = piece.after(undoing)
        work.orders.add_change(piece.id, undoing, stands_at=piece.stage)


type _Moves = Iterable[tuple[Piece | OrderLine, Mapping[Stage, int]]]
"""Pieces and lines, and how many of each leave which stage."""


def _all_that_may(which: Iterable[Piece | OrderLine], stage: Stage) -> _Moves:
    return [(each, _may_become(each, stage)) for each in which]


def _may_become(each: Piece | OrderLine, stage: Stage) -> Mapping[Stage, int]:
    if isinstance(each, Piece):
        return may_become(each.stands, stage)
    return {each.stage: 1} if stage in each.may_follow else {}


def _check_nobody_has_one(piece: Piece, stage: Stage) -> None:
    """Of pieces that are alike none is left out of the way while a customer has some of them."""
    collected = piece.stands.get(Stage.COLLECTED, 0)
    if stage in LEFT_THE_WAY and collected and piece.stage is not Stage.COLLECTED:
        raise Conflict(
            f"{collected} of the {piece.copies} of piece {piece.number} are collected, so they cannot be "
            f"{stage}: all are or none is. Undo what was collected, or take the rest off out of goodwill."
        )


def _move(
    work: UnitOfWork, moves: _Moves, stage: Stage, act: Stamp, *, anew: bool = False
) -> tuple[UsedUp, ...]:
    """Move pieces and lines to a stage.

    A piece that is cut or framed takes what it uses off the rack, a line that is collected its goods. anew: whether
    spoiled parts are said to be cut anew with it.
    """
    moving = [(each, leaving) for each, leaving in moves if leaving]
    pieces = [(each, leaving) for each, leaving in moving if isinstance(each, Piece)]
    if stage is Stage.ORDERED and (open_ones := [piece for piece, _ in pieces if piece.undecided]):
        piece = open_ones[0]
        title = quoted(piece.artwork.title) if piece.artwork.title else f"Piece {piece.number}"
        raise Conflict(f"{title}: {_untaken(piece).message}")
    last = [piece.id for piece, leaving in pieces if _all_left(piece, leaving, stage)]
    if stage is Stage.FRAMED:
        check_not_spoiled(work, last)
    if stage is Stage.CUT and not anew:
        check_cut_anew(work, last)
    uncut = open_parts(work, [piece.id for piece, _ in pieces] if stage is Stage.CUT else ())
    for piece, leaving in pieces:
        _move_piece(work, piece, leaving, stage, act)
    lines = [each for each, _ in moving if isinstance(each, OrderLine)]
    for line in lines:
        change = StageChange(old=line.stage, new=stage, at=act.now, by=act.who)
        work.order_lines.add_change(line.id, change)
    framed = {piece.id: sum(leaving.values()) for piece, leaving in pieces if _took(piece, stage)}
    sold = [line for line in lines if _took(line, stage)]
    return in_all(
        (
            *take_cut(work, uncut, act),
            *take_used(work, framed, act),
            *take_sold(work, sold, act),
        )
    )


def _all_left(piece: Piece, leaving: Mapping[Stage, int], stage: Stage) -> bool:
    """Tell whether all that are still to come to a stage do; of several alike it may be the others that are whole."""
    before = (Stage.ORDERED,) if stage is Stage.CUT else (Stage.ORDERED, Stage.CUT)
    return sum(leaving.values()) >= sum(piece.stands.get(each, 0) for each in before)


def _move_piece(
    work: UnitOfWork, piece: Piece, leaving: Mapping[Stage, int], stage: Stage, act: Stamp
) -> None:
    moved = piece
    for old, count in leaving.items():
        change = StageChange(
            old=old,
            new=stage,
            at=act.now,
            by=act.who,
            count=None if count == piece.copies else count,
        )
        moved = moved.after(change)
        work.orders.add_change(piece.id, change, stands_at=moved.stage)


def _with_designs(work: UnitOfWork, order: Order, designs: Mapping[int, int], act: Stamp) -> Order:
    """Return the order with a design of each piece taken (P10). Raises: Invalid where none of several is, NotFound."""
    chosen = with_taken(order, designs)
    if faults := untaken_designs(chosen):
        raise Invalid(faults)
    for before, piece in zip(order.pieces, chosen.pieces, strict=True):
        if piece.taken is not None and piece.taken != before.taken:
            work.orders.note_design(piece.id, piece.taken, DesignAct.TAKEN, act)
    return chosen


def untaken_designs(order: Order) -> tuple[Fault, ...]:
    """Return a fault at "design.2" where none of several designs of a quoted piece 2 is taken."""
    return tuple(_untaken(piece) for piece in undecided(order) if piece.stage is Stage.QUOTED)


def _untaken(piece: Piece) -> Fault:
    return Fault(
        path=f"design.{piece.number}",
        message=f"{len(piece.designs)} designs are offered and none of them is chosen; say which one it is to be.",
        code="design",
    )


def _check_has_number(order: Order, stage: Stage) -> None:
    if stage is Stage.ORDERED and order.order_number is None:
        raise Conflict(f"{order.quote_number} is a quote; take it as an order first.")
