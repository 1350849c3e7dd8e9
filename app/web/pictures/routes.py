"""Routes of pictures: each by its id, those that wait, and the photo of a piece that is there."""

from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Path
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.documents.kit.pdf import picture_type
from app.documents.kit.pictures import in_lists, on_pages
from app.errors import Conflict, Fault
from app.forms.table import Typed
from app.orders import Order, Piece
from app.orders.quoting.form import PHOTO
from app.services import orders, pictures
from app.services.bench import PieceAt
from app.services.order_transaction import OrderAt, piece_of
from app.web.kit.common_fields import read_version
from app.web.kit.context import Ctx, Here, Id, RequestContext, TypedForm
from app.web.kit.templating import Page, render, see
from app.web.pictures import brought, straightening
from app.web.pictures.block import Offer, offer_of
from app.web.pictures.brought import WithPhoto
from app.web.pictures.fitting import FitView, fit_view, photo_size
from app.web.pictures.straightening import Straightened

router = APIRouter()

PictureId = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]

_PHOTO_OF = "/orders/{order_id}/pieces/{number}/photo"


@router.get("/pictures/{picture_id}")
def picture(context: Ctx, picture_id: PictureId, small: str = "") -> Response:
    """Give a picture, as it is looked at or as it is listed; it never changes. Raises: NotFound."""
    content = pictures.content_of(context.store, picture_id, small=bool(small))
    return Response(
        content,
        media_type=picture_type(content),
        headers={"cache-control": "private, max-age=31536000, immutable"},
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayPage(Page):
    """The photos that wait to be used in a quote, and where one is taken."""

    title: str = "Photos that wait"
    begins_at_notice: bool = True
    section: str = "Quotes"
    waiting: tuple[Offer, ...]
    fault: str = ""


@router.get("/pictures")
def tray(here: Here) -> HTMLResponse:
    """Show the photos of the last day that nothing uses yet."""
    return _tray(here)


@router.post("/pictures")
def take_into_tray(here: Here, form: WithPhoto) -> Response:
    """Keep a photo for a quote that is still to be typed, here or at another screen."""
    faults = brought.refused(here) or (() if form.get(PHOTO) else (_NONE,))
    if faults:
        return _tray(here, faults)
    return see("/pictures", "The photo waits; the quote page offers it.")


_NONE = Fault(path=PHOTO, message="No photo was chosen.")


def _tray(here: RequestContext, faults: tuple[Fault, ...] = ()) -> HTMLResponse:
    now = here.context.now()
    page = TrayPage(
        faults=faults,
        fault=" ".join(fault.message for fault in faults),
        waiting=tuple(offer_of(each, now) for each in pictures.in_tray(here.store, now)),
    )
    return render(here, "pages/pictures/tray.html", page, 422 if faults else 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoPage(Page):
    """The photo of a piece. id, address: of the photo there is; blank for none. at: the address of the page; back: of the piece.
    version: of the order, from which its photo is changed. brought: the id of a photo that is not the piece's yet, since the order
    had been changed meanwhile, small: its address; blank for none. fit: what is said of the photo there is and the size.
    """

    section: str = "Orders"
    begins_at_notice: bool = True
    heading: str
    subheading: str
    at: str
    back: str
    id: str
    address: str
    version: str
    brought: str = ""
    small: str = ""
    fit: FitView | None = None
    fault: str = ""


@router.get(_PHOTO_OF)
def photo_of_piece(here: Here, order_id: Id, number: Id) -> HTMLResponse:
    """Show the photo of a piece, and where another one is taken."""
    return _photo(here, PieceAt(order_id=order_id, number=number))


@router.post(_PHOTO_OF)
def take_photo_of_piece(here: Here, form: WithPhoto, order_id: Id, number: Id) -> Response:
    """Take a photo for a piece, or take the one there is off it."""
    at = PieceAt(order_id=order_id, number=number)
    if form.get("action") == "remove":
        return _put(here, form, at, "", f"Piece {number} has no photo now.")
    faults = brought.refused(here) or (() if form.get(PHOTO) else (_NONE,))
    if faults:
        return _photo(here, at, faults, version=form.get("version"))
    return _put(here, form, at, form[PHOTO], f"Piece {number} has its photo.")


@router.get(f"{_PHOTO_OF}/straighten")
def straighten_photo(here: Here, order_id: Id, number: Id) -> Response:
    """Show the corners on the photo of a piece."""
    return _straighten(here, {}, PieceAt(order_id=order_id, number=number))


@router.post(f"{_PHOTO_OF}/straighten")
def straighten_photo_now(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Move the corners, or straighten the photo by them."""
    return _straighten(here, form, PieceAt(order_id=order_id, number=number))


def _straighten(here: RequestContext, form: Typed, at: PieceAt) -> Response:
    """Answer the page of the corners, which are of the photo that it began with, whatever the piece has by now."""
    order, piece = _found(here, at)
    shown = form.get(PHOTO, piece.artwork.photo)
    if not shown:
        raise Conflict("This piece has no photo; take one first.")
    done = straightening.answered(here, shown, form, photo_size(piece.agreed))
    if isinstance(done, Straightened):
        return _put(here, form, at, done.id, done.said)
    page = replace(
        done,
        section="Orders",
        heading=_heading(piece),
        action=f"{_address(at)}/straighten",
        kept=(("version", form.get("version", str(order.version))), (PHOTO, shown)),
        back=_address(at),
    )
    return straightening.show(here, page)


def _address(at: PieceAt) -> str:
    return f"{_piece_address(at)}/photo"


def _piece_address(at: PieceAt) -> str:
    return f"/orders/{at.order_id}/pieces/{at.number}"


def _found(here: RequestContext, at: PieceAt) -> tuple[Order, Piece]:
    order = orders.get(here.store, at.order_id)
    return order, piece_of(order, at.number)


def _put(here: RequestContext, form: Typed, at: PieceAt, photo: str, said: str) -> Response:
    """Make a picture the photo of a piece, "" for none; where its order was changed meanwhile, show both photos."""
    try:
        known = OrderAt(id=at.order_id, version=read_version(form))
        orders.set_photo(here.store, known, at.number, photo, here.act)
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return _photo(here, at, (fault,), brings=photo, status=409)
    return see(_address(at), said)


def _heading(piece: Piece) -> str:
    return piece.artwork.title or f"Piece {piece.number}"


def _photo(
    here: RequestContext,
    at: PieceAt,
    faults: tuple[Fault, ...] = (),
    *,
    version: str | None = None,
    brings: str = "",
    status: int = 422,
) -> HTMLResponse:
    """Show the page of a photo. version: from which a form that was refused goes on; None for that of the order now.
    brings: the id of a photo that the piece was to get. status: with faults.
    """
    order, piece = _found(here, at)
    id = piece.artwork.photo
    taken = pictures.proportions_of(here.store, (id,)).get(id) if id else None
    new = brings if brings != id else ""
    page = PhotoPage(
        title=f"Photo of {_heading(piece)}",
        faults=faults,
        fault=" ".join(fault.message for fault in faults if fault.path == PHOTO),
        heading=_heading(piece),
        subheading=f"{order.customer_name} · {order.number} · {order.called(piece)}",
        at=_address(at),
        back=_piece_address(at),
        id=id,
        address=on_pages(id) if id else "",
        version=str(order.version) if version is None else version,
        brought=new,
        small=in_lists(new) if new else "",
        fit=None if here.visitor.beside_customer else fit_view(taken, photo_size(piece.agreed)),
    )
    return render(here, "pages/pictures/photo.html", page, status if faults else 200)
