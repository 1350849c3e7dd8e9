"""The desk and the lists of quotes and orders."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.services import desk as service
from app.services import orders
from app.web.desk import page as desk_page
from app.web.kit.context import Here, RequestContext
from app.web.kit.listing import search_field
from app.web.kit.templating import render
from app.web.orders import list_page as order_list

router = APIRouter()


@router.get("/")
def show_desk(here: Here) -> HTMLResponse:
    """What is due, what can be cut, what waits for collection, who owes money."""
    desk = service.view(here.store, today=here.today)
    page = desk_page.DeskPage(
        today=here.today,
        counts=desk_page.counts(desk),
        trays=desk_page.trays(desk),
        owed=desk.owed,
        any_work=any(desk.counts.values()),
    )
    return render(here, "pages/desk/show.html", page)


def _listing(
    here: RequestContext, heading: str, kind: type[order_list.OrderQuery], *, quotes: bool
) -> HTMLResponse:
    wanted = kind.read(here.request.query_params)
    found = wanted.filter(here.today)
    listed = wanted.part(lambda part: orders.listed(here.store, found, wanted.sort, part))
    page = order_list.OrderListPage(
        title=heading,
        section=heading,
        today=here.today,
        quotes=quotes,
        listing=wanted.listing(
            listed,
            listed.rows,
            fields=(search_field(wanted.text, "Number, customer, title, place"),),
            chips=tuple(wanted.chips()),
        ),
    )
    return render(here, "pages/orders/list.html", page)


@router.get("/orders")
def list_orders(here: Here) -> HTMLResponse:
    """All orders, by stage, due date, money owed or any words."""
    return _listing(here, "Orders", order_list.OrderQuery, quotes=False)


@router.get("/quotes")
def list_quotes(here: Here) -> HTMLResponse:
    """All quotes that are open or were declined."""
    return _listing(here, "Quotes", order_list.QuoteQuery, quotes=True)
