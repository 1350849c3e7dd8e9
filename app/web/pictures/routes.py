"""Routes of pictures: each by its id, those that wait, and the photo of a piece that is there."""

from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Path
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.documents.kit.pdf import picture_type
from app.errors import Conflict, Fault
from app.orders import Order, Piece
from app.orders.quoting.form import PHOTO
from app.services import orders, pictures
from app.services.order_transaction import OrderAt, piece_of
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
    """The photo of a piece. address: of the photo there is; blank for none. at: the address of the page; back: of the piece.
    fit: what is said of it and the size.
    """

    section: str = "Orders"
    heading: str
    subheading: str
    at: str
    back: str
    address: str
    fit: FitView | None = None
    fault: str = ""


@router.get(_PHOTO_OF)
def photo_of_piece(here: Here, order_id: Id, number: Id) -> HTMLResponse:
    """Show the photo of a piece, and where another one is taken."""
    return _photo(here, *_found(here, order_id, number))


@router.post(_PHOTO_OF)
def take_photo_of_piece(here: Here, form: WithPhoto, order_id: Id, number: Id) -> Response:
    """Take a photo for a piece, or take the one there is off it."""
    order, piece = _found(here, order_id, number)
    remove = form.get("action") == "remove"
    faults = () if remove else brought.refused(here) or (() if form.get(PHOTO) else (_NONE,))
    if faults:
        return _photo(here, order, piece, faults)
    _put(here, order, piece, "" if remove else form[PHOTO])
    said = "has no photo now." if remove else "has its photo."
    return see(f"/orders/{order_id}/pieces/{number}/photo", f"Piece {number} {said}")


@router.get(f"{_PHOTO_OF}/straighten")
def straighten_photo(here: Here, order_id: Id, number: Id) -> Response:
    """Show the corners on the photo of a piece."""
    return _straighten(here, {}, order_id, number)


@router.post(f"{_PHOTO_OF}/straighten")
def straighten_photo_now(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Move the corners, or straighten the photo by them."""
    return _straighten(here, form, order_id, number)


def _straighten(here: RequestContext, form: dict[str, str], order_id: int, number: int) -> Response:
    order, piece = _found(here, order_id, number)
    at = f"/orders/{order_id}/pieces/{number}/photo"
    if not piece.artwork.photo:
        raise Conflict("This piece has no photo; take one first.")
    done = straightening.answered(here, piece.artwork.photo, form, photo_size(piece.agreed))
    if isinstance(done, Straightened):
        _put(here, order, piece, done.id)
        turned = form.get("action") == straightening.Action.QUARTER
        return see(at, f"The photo is {'turned' if turned else 'straightened'}.")
    page = replace(
        done, section="Orders", heading=_heading(piece), action=f"{at}/straighten", back=at
    )
    return straightening.show(here, page)


def _found(here: RequestContext, order_id: int, number: int) -> tuple[Order, Piece]:
    order = orders.get(here.store, order_id)
    return order, piece_of(order, number)


def _put(here: RequestContext, order: Order, piece: Piece, photo: str) -> None:
    at = OrderAt(id=order.id, version=order.version)
    orders.set_photo(here.store, at, piece.number, photo, here.act)


def _heading(piece: Piece) -> str:
    return piece.artwork.title or f"Piece {piece.number}"


def _photo(
    here: RequestContext, order: Order, piece: Piece, faults: tuple[Fault, ...] = ()
) -> HTMLResponse:
    of = f"/orders/{order.id}/pieces/{piece.number}"
    id = piece.artwork.photo
    taken = pictures.proportions_of(here.store, (id,)).get(id) if id else None
    page = PhotoPage(
        title=f"Photo of {_heading(piece)}",
        faults=faults,
        fault=" ".join(fault.message for fault in faults),
        heading=_heading(piece),
        subheading=f"{order.customer_name} · {order.number} · {order.called(piece)}",
        at=f"{of}/photo",
        back=of,
        address=f"/pictures/{id}" if id else "",
        fit=None if here.visitor.beside_customer else fit_view(taken, photo_size(piece.agreed)),
    )
    return render(here, "pages/pictures/photo.html", page, 422 if faults else 200)
