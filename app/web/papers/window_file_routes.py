"""Routes of the outlines of a piece's mats, as files for machines."""

from enum import StrEnum
from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.responses import Response

from app.documents.window_files import WindowFile, window_dxf, window_svg
from app.drawings.mats.outlines import HoleAt, SeenFrom
from app.errors import FaultCollector, quoted
from app.forms.reader import whole_number
from app.framing import Dimensions
from app.orders.piece_report import findings
from app.services import orders
from app.services.order_transaction import piece_of
from app.web.kit.context import Here, Id, RequestContext


def read_file(side: str = "back", line: str = "back", layer: str = "") -> WindowFile:
    """Return what a file is to show, from an address. Raises: Invalid with every fault."""
    found = FaultCollector()
    _one_of(SeenFrom, "side", "A file can be seen from the", side, found)
    _one_of(HoleAt, "line", "The line of a window can be at the", line, found)
    number = whole_number(layer, digits=3)
    if layer and number is None:
        found.add(
            "layer",
            f"{quoted(layer)} is no number of a mat; give 1 for the top one, or none for all.",
        )
    found.finish()
    return WindowFile(side=SeenFrom(side), hole=HoleAt(line), layer=number)


RequestedFile = Annotated[WindowFile, Depends(read_file)]

router = APIRouter(prefix="/orders/{order_id}/pieces/{number}")


@router.get("/windows.svg")
def svg(here: Here, order_id: Id, number: Id, file: RequestedFile) -> Response:
    """Give the outlines as SVG, one unit a millimetre."""
    name, cut = _piece(here, order_id, number)
    content = window_svg(cut, file, title=name)
    return _download(content, "image/svg+xml", f"{name} {file.in_words}.svg")


@router.get("/windows.dxf")
def dxf(here: Here, order_id: Id, number: Id, file: RequestedFile) -> Response:
    """Give the outlines as DXF in millimetres."""
    name, cut = _piece(here, order_id, number)
    return _download(window_dxf(cut, file), "image/vnd.dxf", f"{name} {file.in_words}.dxf")


def _piece(here: RequestContext, order_id: int, number: int) -> tuple[str, Dimensions]:
    """Return the name for a file, and the piece rounded in steps as its ticket has it."""
    order = orders.get(here.store, order_id)
    piece = piece_of(order, number)
    return f"{order.number} piece {number}", findings(piece.artwork, piece.agreed, here.shop).cut


def _one_of(
    allowed: type[StrEnum], path: str, sentence: str, given: str, found: FaultCollector
) -> None:
    if given not in set(allowed):
        words = " or ".join(allowed)
        found.add(path, f"{sentence} {words}; {quoted(given)} was given.")


def _download(content: bytes, kind: str, name: str) -> Response:
    return Response(
        content,
        media_type=kind,
        headers={
            "content-disposition": f'attachment; filename="{name}"',
            "cache-control": "no-store",
        },
    )
