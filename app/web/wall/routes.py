"""Routes of a wall: the page, whose address holds all that is chosen, and the picture of it to be kept."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Invalid
from app.forms.table import Typed
from app.services import orders
from app.services.drawing_png import can_make_png, photos_within, png_of
from app.web.kit.cleaning import cleaned
from app.web.kit.context import Here, Id, RequestContext
from app.web.kit.line import WORKED_OUT, in_line
from app.web.kit.templating import render, render_part, wants_part
from app.web.wall.form import WALL, OfWall, read_wall
from app.web.wall.page import drawn, file_name, wall_page

router = APIRouter(prefix="/orders/{order_id}")


@router.get("/wall")
def show(here: Here, order_id: Id) -> HTMLResponse:
    """Show pieces of an order on a wall, as the address says; with faults what was typed and why it is not drawn."""
    known, typed = _known(here, order_id), _typed(here)
    if not known.order.pieces:
        return render(here, "pages/wall/show.html", wall_page(known, typed, None))
    try:
        page = wall_page(known, typed, read_wall(typed, known))
    except Invalid as invalid:
        page = wall_page(known, typed, None, invalid.faults)
    status = 422 if page.faults else 200
    if wants_part(here):
        return render_part("pages/wall/parts.html", page, status)
    return render(here, "pages/wall/show.html", page, status)


@router.get("/wall.png", dependencies=[in_line(WORKED_OUT)])
def picture(here: Here, order_id: Id) -> Response:
    """Give the picture as a file; as SVG where this machine makes no PNG. Raises: Invalid, Conflict without a piece."""
    known = _known(here, order_id)
    if not known.order.pieces:
        raise Conflict(f"{known.order.number} has no piece that could hang on a wall.")
    svg = drawn(read_wall(_typed(here), known), photos_within(here.store))
    if can_make_png():
        return _file(png_of(svg), "image/png", file_name(known.order, "png"))
    return _file(svg.encode(), "image/svg+xml", file_name(known.order, "svg"))


def _file(content: bytes, kind: str, name: str) -> Response:
    headers = {
        "content-disposition": f'attachment; filename="{name}"',
        "cache-control": "no-store",
    }
    return Response(content, media_type=kind, headers=headers)


def _known(here: RequestContext, order_id: int) -> OfWall:
    return OfWall(here.shop, orders.get(here.store, order_id))


def _typed(here: RequestContext) -> Typed:
    """Return what the address says; of a field that stands there twice the last one counts."""
    asked = here.request.query_params
    return {path: cleaned(asked[path]) for path in WALL.paths if path in asked}
