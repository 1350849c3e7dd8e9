"""The photo of a piece of an order: which one it shows, a file taken as it, and taken off."""

from dataclasses import dataclass

from app.orders import Order, Piece
from app.services import orders, pictures
from app.services.order_transaction import OrderAt, check_not_deleted, piece_of
from app.storage import Stamp, Store


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePhoto:
    """A piece of an order, and the photo that it shows; None for none."""

    order: Order
    piece: Piece
    photo: pictures.Photo | None


def photo_of(store: Store, order_id: int, number: int) -> PiecePhoto:
    """Return which photo a piece shows. Raises: NotFound."""
    order = orders.get(store, order_id)
    piece = piece_of(order, number)
    shown = piece.artwork.photo
    return PiecePhoto(order=order, piece=piece, photo=pictures.get(store, shown) if shown else None)


def take(store: Store, at: OrderAt, number: int, content: bytes, act: Stamp) -> None:
    """Take a photo for a piece. content: of a JPEG, PNG or WebP file.

    Nothing is kept of it where there is no such piece or its order was changed meanwhile.
    Raises: NotFound, Stale, Conflict for a deleted quote; Invalid at "picture" with what is wrong with the file; CannotWrite.
    """
    with store.reading() as work:
        order = work.orders.at_version(at.id, at.version)
    check_not_deleted(order)
    piece_of(order, number)
    kept = pictures.keep(store, pictures.read(content), by=act)
    orders.set_photo(store, at, number, kept.id, act)


def take_off(store: Store, at: OrderAt, number: int, act: Stamp) -> None:
    """Take the photo off a piece; it may have none. Raises: NotFound, Stale, Conflict for a deleted quote."""
    orders.set_photo(store, at, number, "", act)
