"""The screen turned to the customer: a cookie of the browser says so, and what it shows, for as long as its window is open.

So the laptop at the counter can face the customer while a phone in the workshop does not. It is turned from an order, or from
none, and shows that one and what is begun from there, whatever address is typed. What may then be asked for is declared in
`access`; what is then shown follows from `Visitor.sees_costs`.
"""

import re
import secrets
from contextlib import suppress
from dataclasses import replace

from starlette.requests import HTTPConnection
from starlette.responses import Response
from starlette.types import Scope

from app.errors import NotFound
from app.services import orders, who_is_meant
from app.storage import Store
from app.web.kit.visitor import Turned, Visitor

COOKIE = "bevelbook_facing"

_WRITTEN = re.compile(r"(?P<id>[0-9a-f]{16})\.(?P<order>[0-9]{0,10})(?P<begun>(?:\.[0-9]{1,10})*)")
"""How the cookie is written: the id of the turning, the order, which is blank for none, and those begun since."""

_MOST_BEGUN = 50
"""Quotes begun at one turning that are still opened, the last ones; a cookie holds no more than some thousand characters. Source: ours."""

ASIDE = "aside"
"""The hidden field of a form that was shown to a customer: the id of what is set aside of it."""

TURN = "turn"
"""The action of the button by which a form that is being typed turns the screen, and comes back with all that is in it."""


def beside(scope: Scope, visitor: Visitor) -> Visitor:
    """Return who asks, with what the screen shows where a customer sees it too. Whoever sees no prices has no such screen."""
    written = HTTPConnection(scope).cookies.get(COOKIE)
    return visitor if written is None or not visitor.sees_money else _turned(visitor, written)


def _turned(visitor: Visitor, written: str) -> Visitor:
    """Return a visitor whose screen is turned; a cookie that nobody can read opens no order."""
    read = _WRITTEN.fullmatch(written)
    if read is None:
        return replace(visitor, turned=Turned())
    order, begun = read["order"], read["begun"].split(".")[1:]
    turned = Turned(
        id=read["id"],
        order=int(order) if order else None,
        begun=frozenset(int(each) for each in begun),
    )
    return replace(visitor, turned=turned)


def turned_from(visitor: Visitor, order_id: int | None) -> Turned:
    """Return what the screen shows once it is turned from an order, or from a page of none.

    A screen that is turned already goes on with what it shows: another order is shown once it was turned back.
    """
    return visitor.turned or Turned(id=secrets.token_hex(8), order=order_id)


def turn(answer: Response, to: Turned | None) -> Response:
    """Let an answer note which way the screen faces from now on, and what it shows; None faces the shop."""
    if to is None:
        answer.delete_cookie(COOKIE, httponly=True, samesite="lax")
        return answer
    begun = sorted(to.begun)[-_MOST_BEGUN:]
    order = "" if to.order is None else to.order
    written = ".".join(str(each) for each in (to.id, order, *begun))
    # Lax: what another page leads here for must not show the shop's side. No age: it ends with the browser.
    answer.set_cookie(COOKIE, written, httponly=True, samesite="lax")
    return answer


def begun(answer: Response, visitor: Visitor, order_id: int) -> Response:
    """Let the answer to a form that began a quote open it, where a customer saw how it was begun."""
    if visitor.turned is None:
        return answer
    return turn(answer, replace(visitor.turned, begun=visitor.turned.begun | {order_id}))


def to_be_asked(store: Store, turned: Turned | None) -> str:
    """Ask the shop, once the screen is turned back, whether who began a quote is somebody known of the same name; "" for no question."""
    asked = (_asked(store, order_id) for order_id in sorted(turned.begun if turned else ()))
    return " ".join(question for question in asked if question)


def _asked(store: Store, order_id: int) -> str:
    with suppress(NotFound):
        order = orders.get(store, order_id)
        called_so = who_is_meant.namesakes(store, order.customer_id)
        if called_so:
            return (
                f"{order.number} was begun for a new customer, {order.customer_name}. Is it {' or '.join(called_so)}? "
                "Then give it to them by “For another customer” on its page."
            )
    return ""
