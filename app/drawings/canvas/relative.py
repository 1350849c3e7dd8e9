"""Places in a box by shares of its width and height, for motifs that suit any proportions."""

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.svg import Point


def at(box: Box, x: float, y: float) -> Point:
    """Return a point by its shares of the box."""
    return (box.x + box.width * x, box.y + box.height * y)


def part(box: Box, left: float, top: float, right: float, bottom: float) -> Box:
    """Return a rectangle by the shares of its sides."""
    return Box.between(*at(box, left, top), *at(box, right, bottom))
