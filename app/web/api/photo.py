"""`/api/orders/{order_id}/pieces/{number}/photo`: which photo a piece of an order shows; another one in its place; none.

The one part of the JSON that keeps something. What is sent goes the way of a photo that a page takes: the same line, the
same bounds, the same refusals.
"""

from collections.abc import AsyncIterator
from dataclasses import replace
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Form

from app.documents.kit.pictures import in_lists, on_pages
from app.errors import Invalid
from app.forms.reader import whole_number
from app.services import pictures, piece_photos
from app.services.order_transaction import OrderAt
from app.storage import PutBack
from app.web.api.refusal import BUSY, CHANGED, INVALID, NO_SHOP, NO_SUCH
from app.web.api.requests_photo import PhotoSent, VersionAsked
from app.web.api.responses_bench import NoticeAnswered
from app.web.api.responses_photo import PhotoAnswered, PictureAnswered
from app.web.kit.context import MOST_OF_FILE, Here, Id, RequestContext
from app.web.kit.line import PICTURED
from app.web.kit.sent_once import life_shown
from app.web.pictures.fitting import notices_of_pieces

router = APIRouter(prefix="/api/orders/{order_id}/pieces/{number}/photo", tags=["photo"])

_ANSWERED: dict[int | str, dict[str, object]] = {200: {"model": PhotoAnswered}, **NO_SUCH}


async def _in_turn() -> AsyncIterator[None]:
    """Stand in the line of photos; the file has come by then."""
    async with PICTURED.place():
        yield


@router.get("", responses={**_ANSWERED, **NO_SHOP})
def show(here: Here, order_id: Id, number: Id) -> dict[str, Any]:
    """Which photo a piece of an order shows. The ids of an order and its pieces stand in the address of its page."""
    return _photo_json(here, order_id, number)


@router.post(
    "",
    responses={**_ANSWERED, **CHANGED, **INVALID, **BUSY},
    dependencies=[Depends(_in_turn, scope="function")],
)
def take(
    here: Here,
    order_id: Id,
    number: Id,
    sent: Annotated[PhotoSent, Form(media_type="multipart/form-data")],
) -> dict[str, Any]:
    """Take a photo for a piece, instead of the one that it may have. It is sent as multipart/form-data and kept in our own
    encoding, without what the file says besides, such as where it was taken.
    """
    content = sent.photo.file.read(MOST_OF_FILE)
    try:
        piece_photos.take(here.store, _at(order_id, sent.version), number, content, here.act)
    except Invalid as invalid:
        raise Invalid(replace(fault, path="photo") for fault in invalid.faults) from invalid
    return _photo_json(here, order_id, number)


@router.delete("", responses={**_ANSWERED, **CHANGED, **INVALID})
def take_off(here: Here, order_id: Id, number: Id, version: VersionAsked) -> dict[str, Any]:
    """Take the photo off a piece."""
    piece_photos.take_off(here.store, _at(order_id, version), number, here.act)
    return _photo_json(here, order_id, number)


def _at(order_id: int, version: str) -> OrderAt:
    """Read the version that a program was given; one that is unreadable is never current. Raises: PutBack."""
    life, _, number = version.rpartition(".")
    if life and life != life_shown():
        raise PutBack
    read = whole_number(number, digits=11)
    return OrderAt(id=order_id, version=-1 if read is None else read)


def _photo_json(here: RequestContext, order_id: int, number: int) -> dict[str, Any]:
    found = piece_photos.photo_of(here.store, order_id, number)
    notices = (
        notices_of_pieces(here.store, [found.piece])[found.piece.number] if found.photo else ()
    )
    return PhotoAnswered(
        order=found.order.number,
        piece=found.piece.number,
        version=f"{life_shown()}.{found.order.version}",
        photo=None if found.photo is None else _picture(found.photo),
        notices=[NoticeAnswered.of(each) for each in notices],
    ).plain()


def _picture(photo: pictures.Photo) -> PictureAnswered:
    return PictureAnswered(
        id=photo.now.id,
        width=photo.now.width,
        height=photo.now.height,
        straightened=photo.now.id != photo.taken.id,
        address=on_pages(photo.now.id),
        small=in_lists(photo.now.id),
    )
