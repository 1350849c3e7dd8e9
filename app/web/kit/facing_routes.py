"""Turns the screen to the customer and back."""

from fastapi import APIRouter, Request
from fastapi.responses import PlainTextResponse
from starlette.responses import Response

from app.web.kit.access import order_of
from app.web.kit.context import TypedForm, get_context
from app.web.kit.facing import to_be_asked, turn, turned_from
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
def turn_screen(request: Request, form: TypedForm) -> Response:
    """Turn the screen the way that the form says, and go back to the page; what was to be said there once is not.

    next: the page. from: the one that it is turned from, where that is covered and not gone back to.
    """
    page = page_of_ours(form.get("next", ""))
    to = None
    if form.get("to") == "customer":
        open_now = order_of(request, form.get("from") or page)
        to = turned_from(visitor_of(request), open_now)
    question = "" if to else to_be_asked(get_context(request).store, visitor_of(request).turned)
    answer = turn(see(page, question), to)
    if not question:
        answer.delete_cookie(NOTICE_COOKIE)
    return answer
