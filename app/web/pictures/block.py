"""What a quote page shows of the photo of the artwork: it, or where it may come from."""

from dataclasses import dataclass
from datetime import datetime

from app.counting import counted
from app.documents.kit.pictures import in_lists
from app.framing import Notice
from app.orders.quoting.form import PHOTO
from app.services import pictures
from app.storage import TrayPicture
from app.web.kit.context import RequestContext
from app.web.pictures.fitting import FitView, SizeTyped, fit_view, notices_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A picture that is used nowhere yet. words: who brought it, and when."""

    id: str
    small: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoBlock:
    """The photo of a form. id, small: of the one that is chosen and its address; blank for none. hint: where it does not show.
    offers: others that wait. fit: what is said of it and the size; notices: what of that is to be looked at. said: what became of it on
    the page that one comes back from, where the form is gone on with.
    """

    path: str
    id: str
    small: str
    hint: str
    offers: tuple[Offer, ...]
    fit: FitView | None = None
    notices: tuple[Notice, ...] = ()
    said: str = ""


NOT_DRAWN = "A piece whose windows have artworks of their own is drawn without it."


def photo_block(
    here: RequestContext,
    id: str,
    *,
    drawn: bool = True,
    size: SizeTyped | None = None,
    said: str = "",
) -> PhotoBlock:
    """Return what a form shows of the photo with an id; where there is none, what else may be taken.

    drawn: whether the piece is drawn with its photo. size: of the artwork, where it is known. Beside a customer nothing is said of how they fit.
    """
    waiting = (
        ()
        if id or here.visitor.beside_customer
        else pictures.in_tray(here.store, here.context.now())
    )
    fits = size if id and drawn and not here.visitor.beside_customer else None
    photo = pictures.proportions_of(here.store, (id,)).get(id) if fits else None
    return PhotoBlock(
        path=PHOTO,
        id=id,
        small=in_lists(id) if id else "",
        hint="" if drawn or not id else NOT_DRAWN,
        offers=tuple(offer_of(each, here.context.now()) for each in waiting),
        fit=fit_view(photo, fits),
        notices=notices_of(photo, fits),
        said=said,
    )


def offer_of(picture: TrayPicture, now: datetime) -> Offer:
    """Return a picture of the tray."""
    by = f"{picture.by}, " if picture.by else ""
    return Offer(id=picture.id, small=in_lists(picture.id), words=f"{by}{_ago(picture.at, now)}")


def _ago(at: datetime, now: datetime) -> str:
    minutes = int((now - at).total_seconds() // 60)
    if minutes < 1:
        return "just now"
    if minutes < 60:
        return f"{minutes} min ago"
    if minutes < 60 * 24:
        return f"{counted(minutes // 60, 'hour')} ago"
    return f"{counted(minutes // (60 * 24), 'day')} ago"
