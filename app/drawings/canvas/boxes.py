"""Rectangles on a drawing, in millimetres from its left-top corner, y downwards."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from app.drawings.canvas.svg import Markup, Point, Value, element, path
from app.lengths import ZERO, Length, Size


def coordinate(length: Length) -> float:
    """Return an exact length as a drawing coordinate in millimetres."""
    return float(length.mm)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its left-top corner and its size."""

    x: float
    y: float
    width: float
    height: float

    @classmethod
    def between(cls, left: float, top: float, right: float, bottom: float) -> "Box":
        """Return the rectangle between four sides."""
        return cls(left, top, right - left, bottom - top)

    @classmethod
    def of(cls, size: Size, x: Length = ZERO, y: Length = ZERO) -> "Box":
        """Return the rectangle of an exact size, its left-top corner at an exact place."""
        return cls(*map(coordinate, (x, y, size.width, size.height)))

    @property
    def right(self) -> float:
        """The x of the right side."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The y of the lower side."""
        return self.y + self.height

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return (self.x + self.width / 2, self.y + self.height / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The corners: left-top, right-top, right-bottom, left-bottom."""
        return (
            (self.x, self.y),
            (self.right, self.y),
            (self.right, self.bottom),
            (self.x, self.bottom),
        )

    @property
    def sides(self) -> Iterator[tuple[Point, Point]]:
        """The sides from corner to corner: the top, the right one, the bottom, the left one."""
        return pairwise((*self.corners, self.corners[0]))

    def inset(self, by: float) -> "Box":
        """Return the rectangle smaller on every side; never turned inside out."""
        across, down = min(by, self.width / 2), min(by, self.height / 2)
        return Box(self.x + across, self.y + down, self.width - 2 * across, self.height - 2 * down)

    def moved(self, x: float, y: float) -> "Box":
        """Return the same rectangle elsewhere."""
        return Box(self.x + x, self.y + y, self.width, self.height)

    def around(self, size: Size) -> "Box":
        """Return a rectangle of a size about the same middle."""
        box, (x, y) = Box.of(size), self.centre
        return box.moved(x - box.width / 2, y - box.height / 2)

    def mirrored(self, width: float) -> "Box":
        """Return the rectangle as seen from the back of something `width` wide (G10)."""
        return Box(width - self.right, self.y, self.width, self.height)


def rectangle(box: Box, **attributes: Value) -> Markup:
    """Return a rectangle."""
    return element("rect", x=box.x, y=box.y, width=box.width, height=box.height, **attributes)


def ring(outer: Box, inner: Box, **attributes: Value) -> Markup:
    """Return what lies between two rectangles, the inner one left open."""
    return path(outer.corners, inner.corners, closed=True, fill_rule="evenodd", **attributes)
