"""Routes of documents as PDF: the customer's quote or confirmation, and workshop tickets."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.documents.quote.designs import Offered, designs_pdf
from app.documents.quote.quote import quote_pdf
from app.documents.ticket.ticket import ticket_pdf
from app.orders import Order
from app.services import customers, orders
from app.services.order_transaction import piece_of
from app.services.price_book import hardware
from app.web.kit.context import Here, Id, RequestContext

router = APIRouter(prefix="/orders/{order_id}")


@router.get("/quote.pdf")
def quote(here: Here, order_id: Id) -> Response:
    """Give the customer's quote; once it is ordered, the confirmation."""
    order = orders.get(here.store, order_id)
    customer = customers.get(here.store, order.customer_id).value
    content = quote_pdf(order, customer, here.shop, paper=here.shop.paper, today=here.today)
    return pdf(content, f"{order.number}.pdf")


@router.get("/pieces/{number}/designs.pdf")
def designs(
    here: Here,
    order_id: Id,
    number: Id,
    wanted: Annotated[tuple[int, ...], Query(alias="of", max_length=50)] = (),
) -> Response:
    """Give designs of a piece beside each other, all of them where none is named."""
    order = orders.get(here.store, order_id)
    customer = customers.get(here.store, order.customer_id).value
    offered = Offered(order=order, piece=piece_of(order, number), numbers=wanted)
    content = designs_pdf(offered, customer, here.shop, paper=here.shop.paper, today=here.today)
    return pdf(content, f"{order.number} piece {number} designs.pdf")


@router.get("/tickets.pdf")
def tickets(here: Here, order_id: Id) -> Response:
    """Give the tickets of all pieces of an order."""
    order = orders.get(here.store, order_id)
    return _tickets(here, order, None, f"{order.number} tickets.pdf")


@router.get("/pieces/{number}/ticket.pdf")
def ticket(here: Here, order_id: Id, number: Id) -> Response:
    """Give the ticket of one piece."""
    order = orders.get(here.store, order_id)
    piece = piece_of(order, number)
    return _tickets(here, order, (piece.number,), f"{order.number} piece {number}.pdf")


def _tickets(
    here: RequestContext, order: Order, pieces: tuple[int, ...] | None, name: str
) -> Response:
    content = ticket_pdf(
        order,
        here.shop,
        pieces,
        paper=here.shop.paper,
        phone_url=here.context.phone_url,
        today=here.today,
        hardware=hardware(here.store),
    )
    return pdf(content, name)


def pdf(content: bytes, name: str) -> Response:
    """Return a PDF to be looked at in the browser."""
    return Response(
        content,
        media_type="application/pdf",
        headers={
            "content-disposition": f'inline; filename="{name}"',
            "cache-control": "no-store",
        },
    )
