"""From a drawing to a PNG that a customer can be sent.

Owns resvg, which is imported when the first one is asked for and is not there for every machine. A drawing that becomes a
PNG holds no words, since resvg reads no faces of ours, and its photos as data addresses, since it opens no address.
"""

from importlib import import_module
from importlib.util import find_spec
from typing import Any

from app.drawings import view_of

WIDEST, HIGHEST = 1600, 2400
"""Pixels of a PNG at most; enough for a screen and for a sheet of A5 at 200 in an inch. Source: ours."""


def can_make_png() -> bool:
    """Tell whether drawings can become PNG on this machine."""
    return find_spec("resvg_py") is not None


def width_of(svg: str) -> int:
    """Return how wide the PNG of a drawing is, in pixels, so that neither side is longer than it may be."""
    view = view_of(svg)
    return max(min(WIDEST, int(HIGHEST * view.width / view.height)), 1)


def to_png(svg: str) -> bytes:
    """Make the PNG of a drawing of ours. Raises: ImportError where this machine has no resvg.

    It holds up every thread of the process while it draws, for about a second: a child process is the place for it.
    """
    resvg: Any = import_module("resvg_py")
    return bytes(resvg.svg_to_bytes(svg_string=svg, width=width_of(svg), skip_system_fonts=True))
