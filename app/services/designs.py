"""Designs of a piece: put beside each other, taken, taken instead, left open again, removed (P10)."""

from app.errors import Conflict
from app.orders import Design, DesignAct, Order, Piece, Stage, design_letter
from app.orders.designs import MOST_DESIGNS
from app.orders.stages import LEFT_THE_WAY
from app.services.order_transaction import OrderAt, changing, piece_of
from app.services.orders import bring, carry_artwork, check_currency
from app.storage import NewPiece, Stamp, Store


def add(store: Store, at: OrderAt, number: int, piece: NewPiece, act: Stamp) -> int:
    """Put a further design beside those of a quoted piece. Returns its number.

    Where nobody took one explicitly, none is taken any more. What is said of the artwork is the whole piece's.
    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        there = piece_of(order, number)
        check_open(order, there)
        check_currency(order, piece)
        if len(there.designs) >= MOST_DESIGNS:
            raise Conflict(
                f"Piece {number} has {len(there.designs)} designs, and no more can be compared; remove one first."
            )
        bring(work, piece, act)
        design = work.orders.add_design(there.id, piece.agreed, act)
        carry_artwork(work, there, Design(number=design, agreed=piece.agreed), act)
        work.orders.write_artwork(there.id, piece.artwork)
        return design


def take(store: Store, at: OrderAt, number: int, design: int, act: Stamp) -> Piece:
    """Take a design of a piece, also instead of another that was taken, until the piece is cut.

    Returns the piece as it stands then. Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        chosen = piece.by_design(design)
        check_takeable(piece)
        if piece.taken == design:
            raise Conflict(f"Design {design_letter(design)} of piece {number} is taken already.")
        work.orders.note_design(piece.id, design, DesignAct.TAKEN, act)
        return chosen


def leave_open(store: Store, at: OrderAt, number: int, act: Stamp) -> None:
    """Take none of the designs of a quoted piece, after all. Raises: NotFound, Stale, Conflict."""
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        check_open(order, piece)
        if not piece.several or piece.taken is None:
            raise Conflict(f"Nothing is chosen for piece {number} that could be left open.")
        work.orders.note_design(piece.id, piece.taken, DesignAct.LEFT_OPEN, act)


def remove(store: Store, at: OrderAt, number: int, design: int, act: Stamp) -> None:
    """Take a design off a quoted piece that is not taken; its letter is not used again.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        piece.by_design(design)
        check_open(order, piece)
        if piece.taken == design:
            raise Conflict(
                f"Design {design_letter(design)} is the one that piece {number} is made by; take another one or "
                "leave it open first."
            )
        work.orders.note_design(piece.id, design, DesignAct.REMOVED, act)


def check_open(order: Order, piece: Piece) -> None:
    """Raises: Conflict for a piece that is not only quoted: its designs stay as they were offered."""
    if piece.stage is not Stage.QUOTED:
        raise Conflict(
            f"Piece {piece.number} of {order.number} is {piece.stage}; its designs stay as they were offered. "
            "Change the piece, or take another of its designs."
        )


def check_takeable(piece: Piece) -> None:
    """Raises: Conflict with the way out for a piece that is cut or has left the way."""
    if piece.stage in (Stage.QUOTED, Stage.ORDERED):
        return
    if piece.stage in LEFT_THE_WAY:
        way = "Quote it again first." if piece.stage is Stage.DECLINED else "Make a new quote."
    elif piece.stage is Stage.CUT:
        way = (
            "Where nothing was cut after all, undo the last change; else finish it as it is, or "
            "cancel it and add a further piece like it."
        )
    else:
        way = "Finish it as it is, and quote the other design as a piece of its own."
    raise Conflict(
        f"Piece {piece.number} is {piece.stage} and is made by design {piece.counted.letter}. {way}"
    )
