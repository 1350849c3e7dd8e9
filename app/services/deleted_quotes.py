"""Deleting a quote that was a mistake: it leaves the way in one act, and its number stays given (M4).

What stood on it stays in its record, so that a number without a quote is never a riddle, and all of it comes back
where the deletion is taken back.
"""

from app.errors import Conflict
from app.orders import Order, Piece, Stage, StageChange
from app.orders.stages import DELETED
from app.services.order_transaction import OrderAt, settle
from app.storage import Stamp, Store, UnitOfWork

INSTEAD = "Say that the customer declined instead."


def delete_quote(store: Store, at: OrderAt, act: Stamp) -> str:
    """Delete a quote with all that stands on it; one that is deleted stays so. Returns its number.

    Raises: NotFound, Stale, Conflict for what is no open quote, or has money, an invoice or a printed ticket.
    """
    with store.writing() as work:
        order = work.orders.get(at.id)
        if order.deleted:
            return order.number
        order = work.orders.claim(at.id, at.version)
        _check_may_be_deleted(work, order)
        for each in order.standing:
            if each.stage is not Stage.QUOTED:
                continue
            change = StageChange(
                old=each.stage, new=Stage.DECLINED, at=act.now, by=act.who, note=DELETED
            )
            if isinstance(each, Piece):
                work.orders.add_change(each.id, change)
            else:
                work.order_lines.add_change(each.id, change)
        settle(work, order.id, act)
        return order.number


def may_be_deleted(store: Store, order: Order) -> bool:
    """Tell whether a quote may be deleted."""
    with store.reading() as work:
        return not _why_it_stays(work, order)


def check_may_be_deleted(store: Store, order: Order) -> None:
    """Raises: Conflict with the reason why a quote stays."""
    with store.reading() as work:
        _check_may_be_deleted(work, order)


def _check_may_be_deleted(work: UnitOfWork, order: Order) -> None:
    if why := _why_it_stays(work, order):
        raise Conflict(why)


def _why_it_stays(work: UnitOfWork, order: Order) -> str:
    """Say why a quote cannot be deleted; nothing where it may be."""
    if order.order_number is not None:
        return (
            f"{order.number} was taken as an order; only a quote that never was can be deleted. "
            "Cancel it instead."
        )
    if order.stage is not Stage.QUOTED:
        return f"{order.number} is {order.stage_word}; only an open quote can be deleted."
    if order.entries:
        return f"A payment is recorded for {order.number}, so it stays on record. {INSTEAD}"
    if work.invoices.of_order(order.id):
        return f"An invoice was issued for {order.number}, so it stays on record. {INSTEAD}"
    if any(work.ticket_prints.of_pieces([piece.id for piece in order.pieces]).values()):
        return f"A ticket of {order.number} was printed, so it stays on record. {INSTEAD}"
    return ""
