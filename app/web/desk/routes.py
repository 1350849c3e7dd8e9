"""The desk and the lists of quotes and orders."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.services import desk as service
from app.services import orders
from app.storage import ListPage, OrderSummary, PageRequest
from app.web.desk import page as desk_page
from app.web.kit.context import Here, RequestContext
from app.web.kit.fields import FieldView
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


def _listing(here: RequestContext, path: str) -> HTMLResponse:
    heading = "Quotes" if path == "/quotes" else "Orders"
    wanted = order_list.OrderQuery.read(path, here.request.query_params)
    listed = _part_of_list(here, wanted)
    page = order_list.OrderListPage(
        title=heading,
        section=heading,
        heading=heading,
        today=here.today,
        rows=listed.rows,
        total=listed.total,
        search=FieldView(
            path="q", label="Find", value=wanted.text, hint="Number, customer, title, place"
        ),
        kept=order_list.kept(wanted),
        chips=order_list.chips(wanted),
        sorts=order_list.sorts(wanted),
        pages=order_list.page_links(wanted, listed),
        filtered=bool(order_list.kept(wanted)) or bool(wanted.text),
        quotes=path == "/quotes",
    )
    return render(here, "pages/orders/list.html", page)


def _part_of_list(here: RequestContext, wanted: order_list.OrderQuery) -> ListPage[OrderSummary]:
    """The page of the list that is wanted; past its end the last one."""
    asked, sort = wanted.filter(here.today), wanted.sort
    listed = orders.listed(here.store, asked, sort, wanted.part)
    if listed.rows or not listed.total:
        return listed
    return orders.listed(here.store, asked, sort, PageRequest(number=listed.pages))


@router.get("/orders")
def list_orders(here: Here) -> HTMLResponse:
    """All orders, by stage, due date, money owed or any words."""
    return _listing(here, "/orders")


@router.get("/quotes")
def list_quotes(here: Here) -> HTMLResponse:
    """All quotes that are open or were declined."""
    return _listing(here, "/quotes")
