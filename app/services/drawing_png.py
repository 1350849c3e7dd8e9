"""Drawings as PNG, made in a child process, since drawing one would hold up everybody else for about a second."""

import base64
import json
import logging
import sys
import threading

from app.documents.kit.pictures import PictureAddress, picture_uri
from app.documents.kit.png import can_make_png
from app.errors import Busy
from app.services.children import Children, NoAnswerError
from app.storage import Store

__all__ = ["can_make_png", "photos_within", "png_of"]

log = logging.getLogger("bevelbook.png")

LONGEST = 20
"""Seconds that one is given. Source: ours, many times what a wall of 24 pieces with photos takes."""

CHILDREN = Children(
    (sys.executable, "-m", "app.services.png_worker"), most=1, named="the drawing of the picture"
)


def photos_within(store: Store) -> PictureAddress:
    """Return how a drawing holds the photos that it shows: each as an address that is the photo itself."""

    def within(picture: str) -> str:
        with store.reading() as work:
            return picture_uri(work.pictures.content_of(picture))

    return within


def png_of(svg: str) -> bytes:
    """Return the PNG of a drawing of ours. Raises: Busy where none is made in time."""
    try:
        answer = CHILDREN.answer(json.dumps(svg), LONGEST, threading.Event())
    except NoAnswerError as error:
        log.warning("no PNG was made: %s", error)
        raise Busy("The picture could not be made just now; nothing was changed.") from error
    return base64.b64decode(answer)
