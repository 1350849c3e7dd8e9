"""The page of one piece for the workshop."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.services import orders
from app.services.changing import piece_of
from app.web.context import Here, Id
from app.web.pages.bench import BenchPage, bench_fields
from app.web.pages.piece import View
from app.web.templating import chrome, render

router = APIRouter()


@router.get("/orders/{order_id}/pieces/{number}")
def show(
    here: Here,
    order_id: Id,
    number: Id,
    view: str = View.SEEN.value,
) -> HTMLResponse:
    """What to cut for a piece, where it stands, what comes next."""
    order = orders.get(here.store, order_id)
    piece = piece_of(order, number)
    wanted = View(view) if view in set(View) else View.SEEN
    page = BenchPage(
        title=f"{order.number} · {number}",
        section="Orders",
        wide=True,
        **bench_fields(order, piece, here.shop, wanted),
        **chrome(here.request, here.shop),
    )
    return render("pages/bench/show.html", page)
