"""Routes of a piece in the workshop: its page, and the boxes that are ticked on it."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault
from app.services import bench
from app.services.bench import PieceAt
from app.services.on_rack import free_for
from app.web.bench.page import BenchPage, bench_fields
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.orders.routes import planned_now, printed_now, stands_now
from app.web.pieces.piece import DrawingView

router = APIRouter()

PAGE = "pages/bench/show.html"
PART = "pages/bench/_steps.html"


@router.get("/orders/{order_id}/pieces/{number}")
def show(
    here: Here,
    order_id: Id,
    number: Id,
    view: str = DrawingView.SEEN.value,
) -> HTMLResponse:
    """Show what to do for a piece, where it stands, what comes next."""
    wanted = DrawingView(view) if view in set(DrawingView) else DrawingView.SEEN
    return render(here, PAGE, _page(here, PieceAt(order_id=order_id, number=number), wanted))


@router.post("/orders/{order_id}/pieces/{number}/steps")
def tick(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Tick a step, or take its tick back. A page that renews itself in place gets the steps alone."""
    at, step = PieceAt(order_id=order_id, number=number), form.get("step", "")
    try:
        bench.tick(here.store, at, step, here.act, ticked=form.get("ticked") == "1")
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return render(here, PAGE, _page(here, at, faults=(fault,)), 409)
    if wants_part(here):
        return render_part(PART, _page(here, at))
    return see(f"/orders/{order_id}/pieces/{number}#step-{step}")


def _page(
    here: RequestContext,
    at: PieceAt,
    view: DrawingView = DrawingView.SEEN,
    faults: tuple[Fault, ...] = (),
) -> BenchPage:
    lying = bench.at_bench(here.store, at, here.shop)
    return BenchPage(
        title=f"{lying.order.number} · {at.number}",
        faults=faults,
        stands=stands_now(here, lying.piece),
        planned=planned_now(here, [lying.piece])[at.number],
        printed=printed_now(here, at.order_id, [lying.piece]).get(at.number),
        **bench_fields(lying, here.shop, view, free_for(here.store, lying.piece.agreed.chosen)),
    )
