"""The route of the desk."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.services import desk as service
from app.services import telling, ticket_prints
from app.web.desk.page import desk_page
from app.web.kit.context import Here
from app.web.kit.templating import render

router = APIRouter()


@router.get("/")
def show_desk(here: Here) -> HTMLResponse:
    """Show what is due, what can be cut, what waits for collection, who owes money."""
    desk = service.view(here.store, today=here.today)
    told = telling.last_days(here.store, [order.id for order in desk.to_collect.orders])
    again = ticket_prints.changed_since_printed(here.store, here.shop)
    return render(here, "pages/desk/show.html", desk_page(desk, again, here.today, told))
