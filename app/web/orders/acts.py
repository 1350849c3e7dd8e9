"""What may follow for an order and each piece of it: the words on the buttons, and to undo the last change."""

from collections.abc import Sequence

from app.orders import MAY_FOLLOW, Order, OrderLine, Piece, Stage, StageChange
from app.orders.copies import BY_NUMBER, may_become
from app.web.kit.visitor import OWNER, Role, Visitor

NEXT_ACT: dict[Stage, str] = {
    Stage.CUT: "Mark cut",
    Stage.FRAMED: "Mark finished",
    Stage.COLLECTED: "Hand over",
    Stage.DECLINED: "Mark this piece declined",
    Stage.CANCELLED: "Cancel this piece",
    Stage.QUOTED: "Quote it again",
}
"""What a button says by which a piece comes to a stage. Ordering has a form of its own."""

ACT_ON_ALL: dict[Stage, str] = {
    Stage.CUT: "Mark all cut",
    Stage.FRAMED: "Mark all finished",
    Stage.DECLINED: "Mark all declined",
    Stage.CANCELLED: "Cancel all of it",
    Stage.QUOTED: "Quote all of it again",
}
"""The same of a whole order. Handing over has a form of its own."""

AT_THE_BENCH = frozenset({Stage.CUT, Stage.FRAMED})
"""What a piece comes to at the bench. Taking, handing over and ending work are the office's."""

type Act = tuple[str, str, int]
"""(stage, words, most) of what may follow. most: of several alike how many may, 0 where all move together."""


def acts_of_piece(order: Order, piece: Piece) -> tuple[Act, ...]:
    """Return what may follow. The only piece of a quote is declined with its quote, and a deleted one comes back with it."""
    if order.deleted or (piece.stage is Stage.QUOTED and len(order.pieces) + order.has_lines == 1):
        return ()
    return acts_of(piece)


def acts_of(piece: Piece) -> tuple[Act, ...]:
    """Return what may follow for a piece, or for those of several alike that stand before it."""
    following = dict.fromkeys(new for stage in piece.stands for new in MAY_FOLLOW[stage])
    ready = {new: sum(may_become(piece.stands, new).values()) for new in following}
    return tuple(
        (new.value, NEXT_ACT[new], most_of(piece, new))
        for new, count in ready.items()
        if count and new in NEXT_ACT
    )


def may_move(visitor: Visitor, stage: str) -> bool:
    """Tell whether a visitor may bring work to a stage, or undo that it came there."""
    return visitor.role is Role.OFFICE or stage in AT_THE_BENCH


def undo_of(piece: Piece, visitor: Visitor = OWNER) -> str:
    """Return the words to undo the last change, as “cut” or “12 cut”; empty where there is none that a visitor may undo."""
    last = piece.last_change
    if last is not None and not may_move(visitor, last.new):
        return ""
    return "" if last is None else f"Undo “{by_number(last)}{last.new}”"


def by_number(change: StageChange) -> str:
    """Return how many of those that are alike changed, "12 "; empty for all."""
    return "" if change.count is None else f"{change.count} "


def most_of(piece: Piece, stage: Stage) -> int:
    """Return of how many that are alike it may be said that they come to a stage; 0 where nobody asks."""
    if piece.copies == 1 or stage not in BY_NUMBER:
        return 0
    return sum(may_become(piece.stands, stage).values())


def acts_of_order(order: Order) -> tuple[Act, ...]:
    """Return what may happen to all of it at once: what may follow for every unfinished piece.

    Handing over has a form of its own. A line goes along with what it does not come to itself, as goods do that wait while pieces are cut.
    """
    lines = [line for line in order.lines if line.may_follow]
    stages = {piece.stage for piece in order.pieces}
    on_the_way = [set(MAY_FOLLOW[stage]) for stage in stages if MAY_FOLLOW[stage]]
    if len(order.pieces) + len(lines) < 2 or not (on_the_way or lines):
        return ()
    common = set.intersection(*on_the_way, *(set(line.goes_with) for line in lines))
    moving = set().union(*on_the_way, *(line.may_follow for line in lines)) & common
    return tuple((s.value, ACT_ON_ALL[s], 0) for s in ACT_ON_ALL if s in moving)


def moved_by(order: Order, stage: Stage) -> Sequence[Piece | OrderLine]:
    """Return what comes to a stage when all of the order is brought there: every piece and line that may."""
    pieces = [piece for piece in order.pieces if may_become(piece.stands, stage)]
    return (*pieces, *(line for line in order.lines if stage in line.may_follow))
