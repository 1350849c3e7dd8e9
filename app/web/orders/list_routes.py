"""Routes of the lists of quotes and of orders."""

from collections.abc import Iterable

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.orders import Stage
from app.orders.totals import offered
from app.services import orders
from app.storage import OrderSort, OrderSummary
from app.web.kit.context import Here, RequestContext
from app.web.kit.listing import search_field
from app.web.kit.templating import render
from app.web.orders import list_page as page_of

router = APIRouter()


@router.get("/orders")
def list_orders(here: Here) -> HTMLResponse:
    """Show all orders, by stage, due date, money owed or any words."""
    return _listing(here, "Orders", page_of.OrderQuery, quotes=False)


@router.get("/quotes")
def list_quotes(here: Here) -> HTMLResponse:
    """Show all quotes that are open or were declined."""
    return _listing(here, "Quotes", page_of.QuoteQuery, quotes=True)


def _newest_first(rows: Iterable[OrderSummary]) -> tuple[OrderSummary, ...]:
    """Return a page with the newest first: of one day the highest number, whichever was quoted first."""
    return tuple(
        sorted(
            rows,
            key=lambda each: (each.quoted_on, len(each.number), each.number),
            reverse=True,
        )
    )


def _listing(
    here: RequestContext, heading: str, kind: type[page_of.OrderQuery], *, quotes: bool
) -> HTMLResponse:
    wanted = kind.read(here.request.query_params)
    found = wanted.filter(here.today)
    listed = wanted.part(lambda part: orders.listed(here.store, found, wanted.sort, part))
    page = page_of.OrderListPage(
        title=heading,
        section=heading,
        today=here.today,
        quotes=quotes,
        offered={
            each.id: offered(orders.get(here.store, each.id))
            for each in listed.rows
            if each.stage is Stage.DECLINED
        },
        listing=wanted.listing(
            listed,
            _newest_first(listed.rows) if wanted.sort is OrderSort.NEWEST else listed.rows,
            fields=(search_field(wanted.text, "Number, customer, title, place"),),
            chips=tuple(wanted.chips()),
        ),
    )
    return render(here, "pages/orders/list.html", page)
