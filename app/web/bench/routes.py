"""Routes of a piece in the workshop: its page, and the boxes that are ticked on it."""

from collections.abc import Callable
from types import MappingProxyType

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid
from app.forms.table import Typed
from app.services import bench, orders, spoiling
from app.services.bench import PieceAt
from app.services.on_rack import free_for, usual_places
from app.services.order_transaction import piece_of
from app.web.bench.page import VIEWS, BenchPage, Fetched, bench_fields
from app.web.bench.slip import ROOT as MEASURED
from app.web.bench.slip import SlipFound, read_slip, slip_found, slip_view
from app.web.bench.spoiling import SPOILED, OfParts, spoiling_view
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.orders.show import planned_now, printed_now, spoiled_now, stands_now
from app.web.pieces.cut_asks import cut_asks
from app.web.pieces.material_states import put_back_words, took_words
from app.web.pieces.piece import DrawingView

router = APIRouter()

PAGE = "pages/bench/show.html"
PART = "pages/bench/_steps.html"

NOTHING_TYPED: Typed = MappingProxyType({})


@router.get("/orders/{order_id}/pieces/{number}")
def show(
    here: Here,
    order_id: Id,
    number: Id,
    view: str = DrawingView.SEEN.value,
) -> HTMLResponse:
    """Show what to do for a piece, where it stands, what comes next."""
    here.expect_paper()
    wanted = DrawingView(view) if view in VIEWS else DrawingView.SEEN
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


@router.post("/orders/{order_id}/pieces/{number}/measured")
def measure(here: Here, form: TypedForm, order_id: Id, number: Id) -> HTMLResponse:
    """Say of a window that was measured whether the piece still holds it, and what can be done. Nothing is kept."""
    at = PieceAt(order_id=order_id, number=number)
    lying = bench.at_bench(here.store, at, here.shop)
    try:
        slip = read_slip(lying, here.shop, form)
    except Invalid as invalid:
        return render(here, PAGE, _page(here, at, faults=invalid.faults, typed=form), 422)
    parts = spoiling.parts_at_bench(here.store, lying.piece.id)
    found = slip_found(lying, here.shop, slip, parts)
    return render(here, PAGE, _page(here, at, typed=form, found=found))


@router.post("/orders/{order_id}/pieces/{number}/spoiled")
def spoil(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Note a part as spoiled: it is open work again, and what it takes leaves the rack."""

    def act(piece_id: int) -> str:
        parts = spoiling.parts_at_bench(here.store, piece_id)
        values = SPOILED.read(form, OfParts(here.shop, parts))
        try:
            used = spoiling.spoil(
                here.store, piece_id, values["part"], here.act, note=values["note"]
            )
        except Invalid as invalid:
            raise invalid.under("spoiled") from invalid
        return f"The part is noted as spoiled and is open work again.{took_words(used)}"

    return _act(here, PieceAt(order_id=order_id, number=number), form, act)


@router.post("/orders/{order_id}/pieces/{number}/cut-anew")
def cut_anew(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Note a spoiled part as cut anew without a plan."""

    def act(piece_id: int) -> str:
        used = spoiling.cut_anew(here.store, piece_id, form.get("part", ""), here.act)
        return f"The part is cut anew.{took_words(used)}"

    return _act(here, PieceAt(order_id=order_id, number=number), form, act)


@router.post("/orders/{order_id}/pieces/{number}/not-spoiled")
def not_spoiled(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Take back that a part was spoiled."""

    def act(piece_id: int) -> str:
        back = spoiling.not_spoiled(here.store, piece_id, form.get("part", ""), here.act)
        return f"Undone: the part is not spoiled.{put_back_words(back)}"

    return _act(here, PieceAt(order_id=order_id, number=number), form, act)


def _act(here: RequestContext, at: PieceAt, form: Typed, act: Callable[[int], str]) -> Response:
    """Do something to a part of a piece and say what was done, or why it cannot be, with everything typed."""
    piece = piece_of(orders.get(here.store, at.order_id), at.number)
    try:
        said = act(piece.id)
    except Invalid as invalid:
        return render(here, PAGE, _page(here, at, faults=invalid.faults, typed=form), 422)
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return render(here, PAGE, _page(here, at, faults=(fault,), typed=form), 409)
    return see(f"/orders/{at.order_id}/pieces/{at.number}", said)


def _page(
    here: RequestContext,
    at: PieceAt,
    view: DrawingView = DrawingView.SEEN,
    faults: tuple[Fault, ...] = (),
    typed: Typed = NOTHING_TYPED,
    *,
    found: SlipFound | None = None,
) -> BenchPage:
    lying = bench.at_bench(here.store, at, here.shop)
    parts = spoiling.parts_at_bench(here.store, lying.piece.id)
    fetched = Fetched(
        rack=free_for(here.store, lying.piece.agreed.chosen),
        usual=usual_places(here.store),
    )
    stands = stands_now(here, lying.piece)
    asks = cut_asks(here.store, [lying.piece], {at.number: stands})
    of_parts = tuple(each for each in faults if not each.path.startswith(f"{MEASURED}."))
    return BenchPage(
        title=f"{lying.order.number} · {at.number}",
        faults=faults,
        stands=stands,
        asks=asks.of_piece.get(at.number, ()),
        planned=planned_now(here, [lying.piece])[at.number],
        printed=printed_now(here, lying.order, [lying.piece]).get(at.number),
        spoiled=spoiled_now(here, [lying.piece]).get(at.number),
        spoiling=spoiling_view(here.shop, parts, typed, of_parts),
        slip=slip_view(lying, here.shop, typed, faults, found),
        **bench_fields(lying, here.shop, view, fetched, here.visitor),
    )
