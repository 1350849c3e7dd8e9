"""The screen turned to the customer: a cookie of the browser says so, for as long as its window is open.

So the laptop at the counter can face the customer while a phone in the workshop does not. What may then be asked for is
declared in `access`; what is then shown follows from `Visitor.sees_costs`.
"""

from dataclasses import replace

from starlette.requests import HTTPConnection, Request
from starlette.responses import Response
from starlette.types import Scope

from app.web.kit.visitor import Visitor, noted, visitor_of

COOKIE = "bevelbook_facing"

ASIDE = "aside"
"""The hidden field of a form that was shown to a customer: the id of what is set aside of it."""

TURN = "turn"
"""The action of the button by which a form that is being typed turns the screen, and comes back with all that is in it."""


def beside(scope: Scope, visitor: Visitor) -> Visitor:
    """Return who asks, with whether a customer sees the screen too. Whoever sees no prices has no such screen."""
    turned = visitor.sees_money and COOKIE in HTTPConnection(scope).cookies
    return replace(visitor, beside_customer=turned)


def turn(answer: Response, *, to_customer: bool) -> Response:
    """Let an answer note which way the screen faces from now on."""
    if to_customer:
        # Lax: what another page leads here for must not show the shop's side. No age: it ends with the browser.
        answer.set_cookie(COOKIE, "1", httponly=True, samesite="lax")
    else:
        answer.delete_cookie(COOKIE, httponly=True, samesite="lax")
    return answer


def turn_at_once(request: Request) -> bool:
    """Turn the screen for the answer to this very request, and tell whether it faces the customer now."""
    visitor = visitor_of(request)
    to_customer = visitor.sees_money and not visitor.beside_customer
    noted(request.scope, replace(visitor, beside_customer=to_customer))
    return to_customer
