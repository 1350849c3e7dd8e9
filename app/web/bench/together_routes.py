"""Routes of pieces that are cut together: their list, its boxes, its paper, and the page to choose them on."""

import re
from collections.abc import Sequence
from functools import partial
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.documents.ticket.together import TogetherPrinting, together_pdf
from app.errors import Conflict, Fault, Invalid, NotFound, quoted
from app.services import cut_together as service
from app.services.bench import PieceAt
from app.web.bench.together_choice import choice_page
from app.web.bench.together_page import TogetherPage, sentences, together_fields
from app.web.kit.context import LARGEST_ID, Here, RequestContext, TypedForm
from app.web.kit.line import WORKED_OUT, in_line
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.papers.printing import printed
from app.web.pieces.together_address import (
    MOST_NAMED,
    TOGETHER,
    named_pieces,
    piece_named,
    steps_named,
    together_at,
)

router = APIRouter(prefix=TOGETHER)

PAGE = "pages/bench/together.html"
PART = "pages/bench/_together_steps.html"
CHOICE = "pages/bench/together_choice.html"

Named = Annotated[tuple[str, ...], Query(alias="piece")]
OfOrders = Annotated[tuple[str, ...], Query(alias="order")]

_NUMBER = re.compile(r"[1-9][0-9]{0,18}", re.ASCII)


@router.get("", dependencies=[in_line(WORKED_OUT)])
def show(here: Here, pieces: Named = (), orders: OfOrders = (), marks: str = "") -> Response:
    """Show some pieces as one list by setting of the guide; without any, those that can be chosen."""
    if orders:
        at = together_at((*named_pieces(pieces).pieces, *_of_orders(here, orders)))
        return see(at, _unread_orders(orders))
    return _show(here, pieces, marks)


@router.get("/choose")
def choose(here: Here, pieces: Named = ()) -> HTMLResponse:
    """Show the open pieces with mats, each with a box."""
    named = named_pieces(pieces)
    page = choice_page(service.to_choose(here.store), named.pieces, named.unread)
    return render(here, CHOICE, page)


@router.post("/steps", dependencies=[in_line(WORKED_OUT)])
def tick(here: Here, form: TypedForm, pieces: Named = (), marks: str = "") -> Response:
    """Tick steps of the pieces, or take their ticks back. A page that renews itself in place gets the steps alone."""
    steps = steps_named(form.get("steps", ""))
    try:
        service.tick_together(
            here.store, steps, form.get("said", ""), here.act, ticked=form.get("ticked") == "1"
        )
    except (Conflict, NotFound) as refused:
        fault = Fault(path="", message=refused.message, code=refused.code)
        return _show(here, pieces, marks, (fault,))
    if wants_part(here):
        return render_part(PART, _page(here, pieces, marks))
    address = together_at(named_pieces(pieces).pieces, piece_named(marks))
    return see(f"{address}#{quote(form.get('at', ''), safe='')}")


@router.get("/list.pdf")
def give_pdf(here: Here, pieces: Named = ()) -> Response:
    """Give the list on the shop's paper."""
    named = named_pieces(pieces)
    at = service.at_cutter_together(here.store, named.pieces, here.shop)
    if at.together is None:
        return see(together_at(named.pieces))
    printing = TogetherPrinting(
        paper=here.shop.paper,
        mat_word=here.shop.mat_word.value,
        address=together_at(named.pieces),
        phone_url=here.context.phone_url,
        today=here.today,
    )
    try:
        make = partial(together_pdf, at.together, printing)
        return printed(here, make, "mats cut together.pdf")
    except Invalid as too_long:
        return _show(here, pieces, "", too_long.faults)


def _show(
    here: RequestContext, pieces: Sequence[str], marks: str, faults: tuple[Fault, ...] = ()
) -> HTMLResponse:
    status = 409 if faults else 200
    page = _page(here, pieces, marks, faults)
    if page is None:
        named = named_pieces(pieces)
        at = service.at_cutter_together(here.store, named.pieces, here.shop)
        choice = choice_page(service.to_choose(here.store), (), sentences(named, at))
        return render(here, CHOICE, choice, status)
    return render(here, PAGE, page, status)


def _page(
    here: RequestContext, pieces: Sequence[str], marks: str, faults: tuple[Fault, ...] = ()
) -> TogetherPage | None:
    named = named_pieces(pieces)
    at = service.at_cutter_together(here.store, named.pieces, here.shop)
    if at.together is None:
        return None
    return TogetherPage(
        title="Mats cut together",
        faults=faults,
        left_out=sentences(named, at),
        **together_fields(at, at.together, here.shop, piece_named(marks)),
    )


def _unread_orders(orders: Sequence[str]) -> str:
    """Say which texts name no order by its id; nothing where all may."""
    unread = [quoted(text, limit=24) for text in orders[:MOST_NAMED] if not _NUMBER.fullmatch(text)]
    if not unread:
        return ""
    return f"{', '.join(unread)} {'names' if len(unread) == 1 else 'name'} no order and {'is' if len(unread) == 1 else 'are'} left out."


def _of_orders(here: RequestContext, orders: Sequence[str]) -> tuple[PieceAt, ...]:
    """Return the pieces of some orders, named by their ids; what names none is passed over."""
    texts = (text for text in orders[:MOST_NAMED] if _NUMBER.fullmatch(text))
    ids = (number for number in map(int, texts) if number <= LARGEST_ID)
    return service.pieces_of_orders(here.store, ids)
