"""Pictures: a photo is read in a child process, one at a time, and what is kept is our own encoding of it."""

import sys
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction
from functools import partial
from io import BytesIO

from PIL import Image

from app.documents.kit.pdf import made_with
from app.errors import Invalid
from app.orders import Piece
from app.orders.photo_corners import Corners
from app.orders.photo_fit import Proportions
from app.services.children import Children, NoAnswerError
from app.services.picture_colours import colours_of
from app.services.picture_making import AT, Made, check_file
from app.services.picture_worker import made_from, question
from app.services.printing import Make
from app.storage import Picture, PictureShape, Stamp, Store, TrayPicture, picture_id

GONE = "This photo is not kept here any more. Choose it again, or take it off the piece."

_READING = Children(
    (sys.executable, "-m", "app.services.picture_worker"), most=1, named="the reading of a photo"
)

MOST_IN_TRAY = 4

_ASKED = 50
"""Askings for what is known of pictures that are remembered. Source: ours."""

MOST_LARGE = 12
"""Photos of 300 kB that go into one document; of more it shows the small ones. Source: ours."""

KEPT_UNUSED = timedelta(days=7)
"""How long a picture that nothing uses is kept. Source: ours."""

MOST_LET_GO = 50

LONGEST = 30
"""Seconds that a photo is given to be read. Source: ours."""


def read(content: bytes, *, logo: bool = False) -> Made:
    """Return the picture of a photo, which is not kept yet. content: of a JPEG, PNG or WebP file. logo: whether it is a
    shop's logo, which stays clear where it is. Raises: Invalid at "picture" with what is wrong with the file.
    """
    check_file(content)
    return _asked(question(content, logo=logo))


def keep(
    store: Store,
    made: Made,
    *,
    by: Stamp,
    made_from: str | None = None,
    corners: Corners | None = None,
) -> PictureShape:
    """Keep a picture that was read, or made from another one by corners; one that is kept already stays. Raises: CannotWrite."""
    id = picture_id(made.content)
    with Image.open(BytesIO(made.small)) as small:
        shape = PictureShape(
            id=id,
            width=made.width,
            height=made.height,
            colours=colours_of(small),
            made_from=made_from,
            corners=corners,
        )
    with store.writing() as work:
        work.pictures.keep(
            Picture(shape=shape, at=by.now, by=by.who, small=made.small, content=made.content)
        )
        return work.pictures.shape(id)


def straighten(
    store: Store, id: str, corners: Corners, proportion: Fraction | None, *, by: Stamp
) -> PictureShape:
    """Make the rectangle within four corners of a picture, and keep it beside that one.

    id: of a picture as it was taken. proportion: width by height of the artwork; None for that of the corners.
    Raises: NotFound; Invalid at "corners"; CannotWrite.
    """
    with store.reading() as work:
        taken, content = work.pictures.shape(id), work.pictures.content_of(id)
    corners.check(taken.width, taken.height)
    made = _asked(question(content, corners, proportion))
    return keep(store, made, by=by, made_from=id, corners=corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo as it is now, and as it was taken: the same where it was never straightened."""

    now: PictureShape
    taken: PictureShape

    @property
    def whole(self) -> Corners:
        """The corners of all that was taken."""
        return Corners.of_whole(self.taken.width, self.taken.height)

    @property
    def corners(self) -> Corners:
        """Those by which it was straightened; of the whole where it was not."""
        return self.now.corners or self.whole


def get(store: Store, id: str) -> Photo:
    """Return a photo; what it shows is read where it is drawn. Raises: NotFound."""
    with store.reading() as work:
        now = work.pictures.shape(id)
        return Photo(now=now, taken=work.pictures.shape(now.made_from) if now.made_from else now)


def content_of(store: Store, id: str, *, small: bool = False) -> bytes:
    """Return what a picture shows, as it is listed where small. Raises: NotFound."""
    with store.reading() as work:
        return work.pictures.content_of(id, small=small)


def of_pieces(store: Store, ids: Iterable[int]) -> dict[int, str]:
    """Return the ids of the photos of some pieces, by the ids of those that have one."""
    with store.reading() as work:
        return work.pictures.of_pieces(ids)


def of_orders(store: Store, ids: Iterable[int]) -> dict[int, str]:
    """Return the id of the first photo of some orders, by the ids of those that have one."""
    with store.reading() as work:
        return work.pictures.of_orders(ids)


def known_of(store: Store, ids: Iterable[str]) -> Mapping[str, PictureShape]:
    """Return what is known of some pictures, by the ids of those that are kept; it is read once after each write."""
    asked = tuple(dict.fromkeys(ids))

    def read() -> Mapping[str, PictureShape]:
        with store.reading() as work:
            return work.pictures.shapes(asked)

    return store.remembered("known of pictures", read, asked=asked, most=_ASKED)


def proportions_of(store: Store, ids: Iterable[str]) -> dict[str, Proportions]:
    """Return the proportions of some photos, by the ids of those that are kept."""
    return {id: _proportions(shape) for id, shape in known_of(store, ids).items()}


def _proportions(shape: PictureShape) -> Proportions:
    shown = Fraction(shape.width, shape.height)
    return Proportions(taken=shape.corners.proportion if shape.corners else shown, shown=shown)


def turned(store: Store, id: str, proportion: Fraction | None, *, by: Stamp) -> PictureShape:
    """Turn a photo by a quarter, clockwise, and keep it; proportion: as for `straighten`, where it was straightened.

    Raises: NotFound; Invalid at "corners"; CannotWrite.
    """
    photo = get(store, id)
    wanted = None if photo.corners.same_as(photo.whole) else proportion
    return straighten(store, photo.taken.id, photo.corners.turned(), wanted, by=by)


def with_photos(store: Store, pieces: Iterable[Piece], make: Make, *, small: bool) -> Make:
    """Return what makes a document of pieces, with their photos; of many pieces as they are listed, for the memory's sake."""
    ids = dict.fromkeys(piece.artwork.photo for piece in pieces if piece.artwork.photo)
    if not ids:
        return make
    with store.reading() as work:
        shown = work.pictures.contents_of(ids, small=small or len(ids) > MOST_LARGE)
    return partial(made_with, shown, make)


def in_tray(store: Store, now: datetime) -> tuple[TrayPicture, ...]:
    """Return the pictures of the last day that nothing uses yet, the newest first; they are asked for once after each write,
    since a quote page shows them again with every key.
    """

    def read() -> tuple[TrayPicture, ...]:
        with store.reading() as work:
            return work.pictures.unused(most=MOST_IN_TRAY)

    waiting = store.remembered("photos that wait", read)
    return tuple(each for each in waiting if each.at >= now - timedelta(days=1))


def let_go(store: Store, now: datetime) -> int:
    """Let pictures go that were kept a week ago and that nothing uses, at most so many at once. Returns how many."""
    with store.reading() as work:
        if not work.pictures.unused(before=now - KEPT_UNUSED, most=1):
            return 0
    with store.writing() as work:
        gone = work.pictures.unused(before=now - KEPT_UNUSED, most=MOST_LET_GO)
        work.pictures.drop(each.id for each in gone)
    return len(gone)


def _asked(line: str) -> Made:
    """Return what the child makes. Raises: Invalid."""
    try:
        return made_from(_READING.answer(line, LONGEST, threading.Event()))
    except NoAnswerError as why:
        raise Invalid.at(
            AT,
            "The photo could not be read in the time and memory that it may take. Take it at a smaller size.",
        ) from why
