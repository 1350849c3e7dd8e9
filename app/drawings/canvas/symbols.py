"""Small signs before a running figure: a setting's number on a disc, where a cut begins and ends.

Shapes tell them apart, never colour alone.
"""

from dataclasses import dataclass
from enum import StrEnum

from app.drawings.canvas.canvas import INK, lettering
from app.drawings.canvas.svg import Markup, Point, element, path


class SymbolKind(StrEnum):
    """What a sign stands for."""

    SETTING = "setting"
    START = "start"
    END = "end"
    MIDDLE = "middle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """A sign; text: what stands on the disc of a setting."""

    kind: SymbolKind
    text: str = ""

    @property
    def room(self) -> float:
        """The width that it takes beside a figure, in letter heights."""
        return 1.45 if self.kind is SymbolKind.SETTING else 0.95

    def drawn(self, at: Point, font: float, *, turned: bool) -> Markup:
        """Return the sign about a point; turned: beside figures that read from the right-hand side."""
        match self.kind:
            case SymbolKind.SETTING:
                return Markup(_disc(at, font) + _number(self.text, at, font))
            case SymbolKind.START:
                return dot(at, font * 0.24)
            case SymbolKind.END:
                return bar(at, font * 0.38, upright=not turned, width=font * 0.16)
            case SymbolKind.MIDDLE:
                return cross(at, font * 0.4, font * 0.09)


def _disc(at: Point, font: float) -> Markup:
    """Return a disc, as on a ticket: no figure beside it is taken for the number, and the open rings are where one measures from."""
    return element("circle", cx=at[0], cy=at[1], r=font * 0.64, fill=INK)


def _number(text: str, at: Point, font: float) -> Markup:
    size = font * (0.85 if len(text) < 2 else 0.7)
    below = (at[0], at[1] + size * 0.36)
    return lettering(text, below, size, class_="on-disc", fill="#fff", font_weight="bold")


def dot(at: Point, radius: float) -> Markup:
    """Tell where a cut begins."""
    return element("circle", cx=at[0], cy=at[1], r=radius, fill=INK)


def bar(at: Point, reach: float, *, upright: bool, width: float) -> Markup:
    """Tell where a cut ends; upright across a level cut."""
    (x, y), (across, down) = at, (0.0, reach) if upright else (reach, 0.0)
    ends = ((x - across, y - down), (x + across, y + down))
    return path(ends, fill="none", stroke=INK, stroke_width=width)


def cross(at: Point, reach: float, width: float) -> Markup:
    """Return the middle of an oval."""
    x, y = at
    return path(
        ((x - reach, y), (x + reach, y)),
        ((x, y - reach), (x, y + reach)),
        fill="none",
        stroke=INK,
        stroke_width=width,
    )
