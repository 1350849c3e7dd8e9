"""Routes of documents as PDF: the customer's quote or confirmation, and workshop tickets."""

from dataclasses import replace
from functools import partial
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.documents.quote.designs import Offered, designs_page
from app.documents.quote.quote import quote_page, with_logo
from app.orders import QuotePrices, Shop
from app.services import customers, orders, pictures
from app.services.order_transaction import piece_of
from app.services.printing import Make
from app.web.kit.context import Here, Id
from app.web.papers.logo import logo_of
from app.web.papers.printing import in_child, printed
from app.web.papers.ticket_printing import tickets_of

router = APIRouter(prefix="/orders/{order_id}")


@router.get("/quote.pdf")
def quote(here: Here, order_id: Id, prices: str = "") -> Response:
    """Give the customer's quote; once it is ordered, the confirmation. prices: as `QuotePrices`, blank as the shop does."""
    order = orders.get(here.store, order_id)
    customer = customers.get(here.store, order.customer_id).value
    shop = _with_prices(here.shop, prices)
    page = partial(quote_page, order, customer, shop, today=here.today)
    make: Make = partial(with_logo, page, logo_of(here), shop.paper)
    make = pictures.with_photos(here.store, order.counting, make, small=False)
    return printed(here, make, f"{order.number}.pdf")


def _with_prices(shop: Shop, prices: str) -> Shop:
    """Return the shop as this one print states prices."""
    wanted = next((each for each in QuotePrices if each.value == prices), shop.quote_prices)
    return replace(shop, quote_prices=wanted)


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
    page = partial(designs_page, offered, customer, here.shop, today=here.today)
    make: Make = partial(with_logo, page, logo_of(here), here.shop.paper)
    make = pictures.with_photos(here.store, (offered.piece,), make, small=False)
    return printed(here, make, f"{order.number} piece {number} designs.pdf")


@router.get("/tickets.pdf")
def tickets(here: Here, order_id: Id) -> Response:
    """Print the tickets of all pieces of an order."""
    order = orders.get(here.store, order_id)
    name, pieces = f"{order.number} tickets.pdf", len(order.counting)
    return in_child(here, tickets_of(here, order_id), name, pieces=pieces)


@router.get("/pieces/{number}/ticket.pdf")
def ticket(here: Here, order_id: Id, number: Id) -> Response:
    """Print the ticket of one piece."""
    order = orders.get(here.store, order_id)
    piece_of(order, number)
    name = f"{order.number} piece {number}.pdf"
    return in_child(here, tickets_of(here, order_id, number), name)
