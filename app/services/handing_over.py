"""Handing over what is framed: it leaves and the balance is taken, in one act.

Where something is still to be paid it must be said what becomes of it: received, or owed.
"""

from dataclasses import dataclass, replace

from app.errors import Conflict, Invalid
from app.money import Money, show_money
from app.orders import EntryKind, Method, Order, Stage
from app.orders.handing_over import HandedOver, handed_over, lines_waiting, suggested, waiting
from app.services.order_transaction import OrderAt, account_now, changing
from app.services.payments import Payment, receive
from app.services.stages import PieceMove, move_all_to, move_some_to
from app.stock.consumption import UsedUp
from app.storage import Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """What is handed over and what is received for it.

    number: of one piece; None for all that may leave. count: how many of those that are alike; None for all. amount:
    what is received; None where nothing is. stays_owed: whether it was said that the balance stays owed; the
    amount is then none or what the form suggests, and is not received. rest_owed: whether it was said that what is left
    after the amount stays owed.
    """

    number: int | None = None
    count: int | None = None
    amount: Money | None = None
    method: Method = Method.CASH
    stays_owed: bool = False
    rest_owed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What was handed over, and what left the rack by that, as goods do."""

    handed: HandedOver
    used: tuple[UsedUp, ...]


def hand_over(store: Store, at: OrderAt, handing: HandOver, act: Stamp) -> Done:
    """Hand over what is framed and write down what is received.

    Raises: NotFound, Stale, Conflict where nothing is framed, Invalid at "amount" where a balance is open and
    nothing was said of it, or less is received than is asked for what goes and nothing was said of the rest, or a part
    of it was said to be received and all to stay owed, or for more than is still to pay.
    """
    with changing(store, at, act) as (work, order):
        asked = asked_for(order, handing.number, handing.count)
        used = _leave(work, order, handing, act)
        if handing.stays_owed:
            _check_none_received(order, handing, asked)
        elif handing.amount:
            if handing.amount < asked and not handing.rest_owed:
                _ask_of_rest(order, handing.amount)
            payment = Payment(amount=handing.amount, method=handing.method, kind=EntryKind.PAYMENT)
            receive(work, order, payment, act)
        else:
            check_settled(order)
        left = handed_over(work.orders.get(order.id))
        return Done(handed=next(each for each in left if each.at == act.now), used=used)


def check_settled(order: Order) -> None:
    """Raises: Invalid at "amount" where something is still to be paid, as a question what becomes of it."""
    balance = account_now(order).balance
    if balance.minor > 0:
        raise Invalid.at(
            "amount",
            f"{show_money(balance)} is still to pay. Type what is received, or choose "
            f"“Hand over, {show_money(balance)} stays owed”.",
        )


def asked_for(order: Order, number: int | None, count: int | None) -> Money:
    """Return what is suggested as received for what goes. number, count: as of `HandOver`."""
    pieces, lines = waiting(order), lines_waiting(order)
    if number is not None:
        pieces = tuple(
            each if count is None else replace(each, count=count)
            for each in pieces
            if each.piece.number == number
        )
        lines = ()
    return suggested(order, pieces, lines, account_now(order).balance)


def _ask_of_rest(order: Order, amount: Money) -> None:
    left = show_money(account_now(order).balance - amount)
    raise Invalid.at(
        "amount",
        f"{show_money(amount)} is typed as received, and {left} would still be to pay. Type what is received, or "
        f"choose “Hand over, {left} stays owed”.",
    )


def _check_none_received(order: Order, handing: HandOver, asked: Money) -> None:
    balance, amount = account_now(order).balance, handing.amount
    if amount and amount not in (balance, asked):
        raise Invalid.at(
            "amount",
            f"{show_money(amount)} is typed as received, and {show_money(balance)} is said to stay owed. Choose "
            f"“Hand over” to record what is received, or empty the field.",
        )


def _leave(work: UnitOfWork, order: Order, handing: HandOver, act: Stamp) -> tuple[UsedUp, ...]:
    if handing.number is not None:
        move = PieceMove(number=handing.number, stage=Stage.COLLECTED, count=handing.count)
        return move_some_to(work, order, move, act)
    if not waiting(order) and not lines_waiting(order):
        raise Conflict(f"Nothing of {order.number} is framed, so nothing can be handed over.")
    return move_all_to(work, order, Stage.COLLECTED, act)
