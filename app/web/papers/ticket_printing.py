"""Prints tickets and notes it: whichever way the address is asked for, once for each version (M7).

A GET changes nothing of what the shop keeps but this note, which says what was given out, as a log of access does
(RFC 9110, 9.2.1). It is left out where nobody asked for the paper, and paper is given where it cannot be written.
"""

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from app.documents.ticket.ticket import Versions, ticket_pdf
from app.services import pictures, ticket_prints
from app.services.price_book import hardware
from app.services.printing import Make, Work
from app.services.ticket_prints import PrintRun
from app.storage import CannotWrite
from app.web.kit.context import RequestContext
from app.web.kit.head import wants_head_alone

_TRIES = 3
"""How often a ticket is made anew because the same one was printed meanwhile. Source: ours."""


type _Maker = Callable[[Make], Path]


def tickets_of(here: RequestContext, order_id: int, number: int | None = None) -> Work:
    """Return what it takes to print the ticket of a piece, or those of all pieces still on the way."""
    return partial(_print_tickets, here, order_id, number)


def _print_tickets(here: RequestContext, order_id: int, number: int | None, make: _Maker) -> Path:
    """Return the file of tickets, noted as printed.

    Each is made before it is noted: what could not be made was not printed. Raises: as `ticket_pdf` does.
    """
    for _ in range(0 if _nobody_prints(here) else _TRIES):
        run = ticket_prints.prepare(here.store, order_id, number, here.act)
        content = _made(here, run, run.versions, make)
        try:
            if ticket_prints.note(here.store, run):
                return content
        except CannotWrite:
            break
    run = ticket_prints.prepare(here.store, order_id, number, here.act)
    return _not_on_record(here, run, make)


def _not_on_record(here: RequestContext, run: PrintRun, make: _Maker) -> Path:
    """Tickets that say so where they are no copies of what was noted before."""
    versions = {
        number: version if version.copy else None for number, version in run.versions.items()
    }
    return _made(here, run, versions, make)


def _made(here: RequestContext, run: PrintRun, versions: Versions, make: _Maker) -> Path:
    tickets = partial(
        ticket_pdf,
        run.order,
        run.shop,
        run.pieces,
        paper=run.shop.paper,
        phone_url=here.context.phone_url,
        today=here.today,
        hardware=hardware(here.store),
        versions=versions,
    )
    pieces = (piece for piece in run.order.pieces if piece.number in run.pieces)
    return make(pictures.with_photos(here.store, pieces, tickets, small=True))


def _nobody_prints(here: RequestContext) -> bool:
    """Tell whether a request is no print: for the head alone, by a browser that fetches ahead, from a page of another site.

    Source: WHATWG Fetch (Sec-Purpose), W3C Fetch Metadata (Sec-Fetch-Site); Purpose is what older browsers send.
    """
    headers: Mapping[str, str] = here.request.headers
    ahead = "prefetch" in headers.get("sec-purpose", "") + headers.get("purpose", "")
    elsewhere = headers.get("sec-fetch-site", "none") not in ("none", "same-origin")
    return wants_head_alone(here.request) or ahead or elsewhere
