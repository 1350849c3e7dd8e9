"""Pictures: a photo is read in a child process, one at a time, and what is kept is our own encoding of it."""

import sys
import threading
from collections.abc import Iterable
from datetime import datetime, timedelta
from fractions import Fraction
from functools import partial
from io import BytesIO

from PIL import Image

from app.documents.kit.pdf import made_with
from app.errors import Invalid
from app.orders import Piece
from app.orders.photo_fit import Proportions
from app.services.children import Children, NoAnswerError
from app.services.corners import Corners
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

MOST_LARGE = 12
"""Photos of 300 kB that go into one document; of more it shows the small ones. Source: ours."""

KEPT_UNUSED = timedelta(days=7)
"""How long a picture that nothing uses is kept. Source: ours."""

MOST_LET_GO = 50

LONGEST = 30
"""Seconds that a photo is given to be read. Source: ours."""


def keep_picture(store: Store, content: bytes, *, by: Stamp) -> Picture:
    """Keep the picture of a photo; one that is kept already stays. content: of a JPEG, PNG or WebP file.

    Raises: Invalid at "picture" with what is wrong with the file; nothing of it is kept then. CannotWrite.
    """
    return keep(store, read_photo(content), by=by)


def read_photo(content: bytes) -> Made:
    """Return the picture of a photo, which is not kept yet. Raises: Invalid at "picture"."""
    check_file(content)
    return _asked(question(content))


def read_logo(content: bytes) -> Made:
    """Return the picture of a shop's logo, clear where it is, which is not kept yet. Raises: Invalid at "picture"."""
    check_file(content)
    return _asked(question(content, logo=True))


def keep(store: Store, made: Made, *, by: Stamp) -> Picture:
    """Keep a picture that was read. Raises: CannotWrite."""
    return _kept(store, made, by=by)


def straighten(
    store: Store, id: str, corners: Corners, proportion: Fraction | None, *, by: Stamp
) -> Picture:
    """Make the rectangle within four corners of a picture, and keep it beside that one.

    id: of a picture as it was taken. proportion: width by height of the artwork; None for that of the corners.
    Raises: NotFound; Invalid at "corners"; CannotWrite.
    """
    taken = get(store, id)
    corners.check(taken.width, taken.height)
    made = _asked(question(taken.content, corners, proportion))
    return _kept(store, made, by=by, made_from=taken.id, corners=corners.text)


def get(store: Store, id: str) -> Picture:
    """Return a picture. Raises: NotFound."""
    with store.reading() as work:
        return work.pictures.get(id)


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


def proportions_of(store: Store, ids: Iterable[str]) -> dict[str, Proportions]:
    """Return the proportions of some photos, by the ids of those that are kept; their content is not read."""
    with store.reading() as work:
        shapes = work.pictures.shapes(ids)
    return {id: _proportions(shape) for id, shape in shapes.items()}


def _proportions(shape: PictureShape) -> Proportions:
    shown = Fraction(shape.width, shape.height)
    taken = Corners.read(shape.corners).proportion if shape.corners else shown
    return Proportions(taken=taken, shown=shown)


def turned(store: Store, id: str, proportion: Fraction | None, *, by: Stamp) -> Picture:
    """Turn a photo by a quarter, clockwise, and keep it; proportion: as for `straighten`, where it was straightened.

    Raises: NotFound; Invalid at "corners"; CannotWrite.
    """
    now = get(store, id)
    taken = get(store, now.made_from) if now.made_from else now
    whole = Corners.of_whole(taken.width, taken.height)
    corners = Corners.read(now.corners) if now.corners else whole
    wanted = None if corners.same_as(whole) else proportion
    return straighten(store, taken.id, corners.turned(), wanted, by=by)


def with_photos(store: Store, pieces: Iterable[Piece], make: Make, *, small: bool) -> Make:
    """Return what makes a document of pieces, with their photos; of many pieces as they are listed, for the memory's sake."""
    ids = dict.fromkeys(piece.artwork.photo for piece in pieces if piece.artwork.photo)
    if not ids:
        return make
    with store.reading() as work:
        shown = {
            id: work.pictures.content_of(id, small=small or len(ids) > MOST_LARGE)
            for id in ids
            if work.pictures.has(id)
        }
    return partial(made_with, shown, make)


def in_tray(store: Store, now: datetime) -> tuple[TrayPicture, ...]:
    """Return the pictures of the last day that nothing uses yet, the newest first."""
    with store.reading() as work:
        return work.pictures.unused(since=now - timedelta(days=1), most=MOST_IN_TRAY)


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


def _colours(made: Made) -> str:
    """Return the few colours that carry a picture, as they are kept."""
    with Image.open(BytesIO(made.small)) as small:
        return " ".join(colour.hex for colour in colours_of(small))


def _kept(
    store: Store, made: Made, *, by: Stamp, made_from: str | None = None, corners: str = ""
) -> Picture:
    picture = Picture(
        id=picture_id(made.content),
        at=by.now,
        by=by.who,
        width=made.width,
        height=made.height,
        colours=_colours(made),
        made_from=made_from,
        corners=corners,
        small=made.small,
        content=made.content,
    )
    with store.writing() as work:
        work.pictures.keep(picture)
        return work.pictures.get(picture.id)
