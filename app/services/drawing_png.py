"""Drawings as PNG, made in a child process, since drawing one would hold up everybody else for about a second."""

import base64
import json
import logging
import sys
import threading

from app.documents.kit.pictures import PictureAddress
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


_PNG = b"\x89PNG"
"""What every PNG begins with. Source: ISO/IEC 15948, 5.2."""


def photos_within(store: Store) -> PictureAddress:
    """Return how a drawing holds the photos that it shows: each as an address that is the photo itself."""

    def within(picture: str) -> str:
        with store.reading() as work:
            content = work.pictures.get(picture).content
        kind = "png" if content.startswith(_PNG) else "jpeg"
        return f"data:image/{kind};base64,{base64.b64encode(content).decode()}"

    return within


def png_of(svg: str) -> bytes:
    """Return the PNG of a drawing of ours. Raises: Busy where none is made in time."""
    try:
        answer = CHILDREN.answer(json.dumps(svg), LONGEST, threading.Event())
    except NoAnswerError as error:
        log.warning("no PNG was made: %s", error)
        raise Busy("The picture could not be made just now; nothing was changed.") from error
    return base64.b64decode(answer)
