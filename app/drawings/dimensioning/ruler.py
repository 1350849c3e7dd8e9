"""Spans of one side of a piece, with their figures in one unit and how far inside they reach."""

from collections.abc import Callable

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.shading import Side
from app.drawings.dimensioning.rows import Span
from app.lengths import Length, Unit, show

ACROSS = (Side.TOP, Side.BOTTOM)
"""The sides that widths are measured along."""


def along(box: Box, side: Side) -> tuple[float, float]:
    """Tell where a rectangle begins and ends along a side."""
    return (box.x, box.right) if side in ACROSS else (box.y, box.bottom)


def depth(box: Box, outside: Box, side: Side) -> float:
    """Tell how far a rectangle's edge lies inside the outside, on one side."""
    match side:
        case Side.TOP:
            return box.y - outside.y
        case Side.BOTTOM:
            return outside.bottom - box.bottom
        case Side.LEFT:
            return box.x - outside.x
        case Side.RIGHT:
            return outside.right - box.right


class Ruler:
    """Makes the spans of one side. write: how its figures are written."""

    def __init__(
        self, outside: Box, side: Side, unit: Unit, write: Callable[[Length, Unit], str] = show
    ) -> None:
        self.outside, self.side, self.unit, self.write = outside, side, unit, write

    @property
    def across(self) -> bool:
        """Whether widths are measured along this side."""
        return self.side in ACROSS

    def span(self, name: str, length: Length, ends: tuple[float, float], inside: Box) -> Span:
        """Return a named dimension between two places of a rectangle's edge."""
        figure = self.write(length, self.unit)
        return self.blank(ends, inside, f"{name} {figure}" if name else figure)

    def blank(self, ends: tuple[float, float], inside: Box, text: str = "") -> Span:
        """Return a dimension with a text of its own, or none."""
        return Span(
            start=ends[0],
            end=ends[1],
            text=text,
            reach=depth(inside, self.outside, self.side),
        )

    def whole(self, name: str, size: tuple[Length, Length], box: Box) -> Span:
        """Return a rectangle's width or height, as the side asks."""
        length = size[0] if self.across else size[1]
        return self.span(name, length, along(box, self.side), box)
