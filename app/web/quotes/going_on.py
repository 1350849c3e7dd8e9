"""Where a saved quote leads: to its page, to its paper, or on to the order that is taken of it at once.

Each is a button of the form with an action of its own, so that it goes without scripts.
"""

from enum import StrEnum

from starlette.responses import Response

from app.documents.kit.printing import day
from app.errors import Conflict, Invalid
from app.orders import Order, Stage
from app.services import orders, stages
from app.services.order_transaction import OrderAt
from app.web.kit.context import RequestContext
from app.web.kit.templating import see
from app.web.orders.form import closed_then, suggested_due


class Action(StrEnum):
    """The actions of the form that keep what was typed."""

    SAVE = "save"
    PRINT = "print"
    ORDER = "order"


type Onward = tuple[tuple[Action, str], ...]
"""The further buttons of the form, each with its words."""

_PRINT = (Action.PRINT, "Save and print")
_ORDER = (Action.ORDER, "Save and order")


def onward(order: Order | None, *, undecided: bool = False) -> Onward:
    """Return the buttons that save and go on. order: None for a new one. undecided: whether one of several designs is still to be chosen."""
    if order is None or (order.stage is Stage.QUOTED and not undecided):
        return (_PRINT, _ORDER)
    return (_PRINT,)


def keeps(action: str) -> bool:
    """Tell whether a pressed button keeps what was typed."""
    return action in set(Action)


def go_on(here: RequestContext, order_id: int, action: str, said: str, page: str) -> Response:
    """Go on from what is saved, as the pressed button says. said: what was saved; page: its own page."""
    match action:
        case Action.PRINT:
            return see(f"/orders/{order_id}/quote.pdf", said)
        case Action.ORDER:
            return _ordered(here, order_id, said)
    return see(page, said)


def _ordered(here: RequestContext, order_id: int, said: str) -> Response:
    """Take the order with the day that is promised by habit and no deposit; where that is not possible, say why: the quote is saved."""
    order = orders.get(here.store, order_id)
    due = order.due or suggested_due(here.shop, here.today)
    at = OrderAt(id=order_id, version=order.version)
    try:
        number = stages.take_order(here.store, at, stages.Terms(due=due), here.act)
    except Conflict as conflict:
        return _not_ordered(order_id, said, conflict.message)
    except Invalid as invalid:
        return _not_ordered(order_id, said, invalid.faults[0].message)
    taken = f"Order {number} is taken, ready on {day(due)}, without a deposit.{closed_then(here.shop, due)}"
    return see(f"/orders/{order_id}", f"{said} {taken}")


def _not_ordered(order_id: int, said: str, why: str) -> Response:
    return see(f"/orders/{order_id}#take", f"{said} It is not ordered yet: {why}")
