"""Turns the screen to the customer and back."""

from fastapi import APIRouter, Request
from fastapi.responses import PlainTextResponse
from starlette.responses import Response

from app.web.kit.context import TypedForm
from app.web.kit.facing import turn
from app.web.kit.sent_once import NOTICE_COOKIE
from app.web.kit.templating import see
from app.web.kit.visitor import visitor_of
from app.web.kit.who_routes import page_of_ours

router = APIRouter(prefix="/turn")


@router.get("")
def which_way(request: Request) -> PlainTextResponse:
    """Say which way the screen faces, for a page that the browser kept."""
    way = "customer" if visitor_of(request).beside_customer else "shop"
    return PlainTextResponse(way, headers={"cache-control": "no-store"})


@router.post("")
def turn_screen(form: TypedForm) -> Response:
    """Turn the screen the way that the form says, and go back to the page; what was to be said there once is not."""
    answer = turn(see(page_of_ours(form.get("next", ""))), to_customer=form.get("to") == "customer")
    answer.delete_cookie(NOTICE_COOKIE)
    return answer
