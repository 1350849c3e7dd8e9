"""How wide words are in the faces of paper, so that a layout is foreseen instead of tried.

Reads the advances of the very files that papers are set in. What has no advance there is taken as a wide letter.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import import_module

from app.files import STATIC

POINT_MM = 25.4 / 72

_UNKNOWN = 0.62
"""The advance of a letter that the faces do not have, em."""

_WORDS_KEPT = 4096


@dataclass(frozen=True, slots=True)
class Face:
    """One of our faces. name: of its file under static/fonts."""

    name: str

    def width(self, text: str, points: float) -> float:
        """Return how wide a text is in one line, mm."""
        return _ems(self.name, text) * points * POINT_MM

    def lines(self, text: str, points: float, wide: float, *, first: float = 0.0) -> int:
        """Return how many lines a text takes that is broken at its blanks, and within words that are too long.

        wide: of a line, mm; first: what is taken of the first one.
        """
        em = points * POINT_MM
        room, blank = wide / em, _ems(self.name, " ")
        lines, at = 1, first / em
        for word in text.split(" "):
            needs = _ems(self.name, word)
            if at and at + needs > room:
                lines, at = lines + 1, 0.0
            while needs > room:
                lines, needs = lines + 1, needs - room
            at += needs + blank
        return lines


SANS = Face("bevelbook-sans-400")
BOLD = Face("bevelbook-sans-600")
SERIF = Face("bevelbook-serif-600")


@lru_cache(maxsize=_WORDS_KEPT)
def _ems(face: str, text: str) -> float:
    advances = _advances(face)
    return sum(advances.get(letter, _UNKNOWN) for letter in text)


@cache
def _advances(face: str) -> Mapping[str, float]:
    # It comes with WeasyPrint; nothing is foreseen where no PDF can be made.
    fonts = import_module("fontTools.ttLib")
    with fonts.TTFont(STATIC / "fonts" / f"{face}.woff2", lazy=True) as font:
        em, widths = font["head"].unitsPerEm, font["hmtx"]
        return {chr(code): widths[name][0] / em for code, name in font.getBestCmap().items()}
