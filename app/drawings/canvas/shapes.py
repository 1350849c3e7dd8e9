"""Outlines of windows on a drawing: rectangles, ovals and arched tops, each drawn into its box.

Owns how a shape becomes a path. Sizes are floats in millimetres, y downwards.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.svg import Markup, Value, element, number, through
from app.framing import Shape


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline. rise: of an arch's round top, half an oval as wide as the box."""

    box: Box
    shape: Shape = Shape.RECTANGLE
    rise: float = 0.0

    def moved(self, x: float, y: float) -> "Outline":
        """Return the same outline elsewhere."""
        return replace(self, box=self.box.moved(x, y))

    def mirrored(self, width: float) -> "Outline":
        """Return the outline as seen from the back of something `width` wide (G10)."""
        return replace(self, box=self.box.mirrored(width))

    def grown(self, by: float) -> "Outline":
        """Return every edge moved outwards, a round top with it."""
        return replace(self, box=self.box.inset(-by), rise=self.rise + by if self.rise else 0.0)

    @property
    def inside(self) -> Box:
        """A rectangle well inside the outline, for words."""
        match self.shape:
            case Shape.RECTANGLE:
                return self.box
            case Shape.OVAL:
                box = self.box
                across, down = box.width * 0.16, box.height * 0.16
                return Box.between(
                    box.x + across, box.y + down, box.right - across, box.bottom - down
                )
            case Shape.ARCH:
                down = self.rise * 0.5
                return Box(self.box.x, self.box.y + down, self.box.width, self.box.height - down)

    @property
    def strokes(self) -> str:
        """The outline as the data of an SVG path, clockwise."""
        box = self.box
        match self.shape:
            case Shape.RECTANGLE:
                return through(box.corners, closed=True)
            case Shape.OVAL:
                y, rx, ry = number(box.centre[1]), number(box.width / 2), number(box.height / 2)
                left, right = number(box.x), number(box.right)
                return f"M{left},{y}A{rx},{ry},0,0,1,{right},{y}A{rx},{ry},0,0,1,{left},{y}Z"
            case Shape.ARCH:
                rx, ry, spring = (number(n) for n in (box.width / 2, self.rise, box.y + self.rise))
                left, right, foot = number(box.x), number(box.right), number(box.bottom)
                return (
                    f"M{left},{spring}A{rx},{ry},0,0,1,{right},{spring}L{right},{foot}"
                    f"L{left},{foot}Z"
                )


def outlined(outlines: Iterable[Outline], **attributes: Value) -> Markup:
    """Return several outlines as one path."""
    return element("path", d="".join(one.strokes for one in outlines), **attributes)


def drawn(outline: Outline, **attributes: Value) -> Markup:
    """Return one outline by the plainest element there is for it."""
    if outline.shape is Shape.RECTANGLE:
        return rectangle(outline.box, **attributes)
    return outlined((outline,), **attributes)
