"""How a wall is drawn: washes of colour whose edges are a little uneven, and strokes of a pencil over them.

All of it follows from the place on the sheet alone, so that the same wall is drawn the same everywhere.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import acos, dist, pi, sin

from app.colours import Colour
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.hatch import hatched
from app.drawings.canvas.shading import SHADOW
from app.drawings.canvas.svg import Markup, Point, element, group, part_way, path, polygon

GRAPHITE = "#3d4148"
BLUE = "#24508a"
PAPER = Colour.parse("#fbf8f1")

_EVERY = 40.0
"""Millimetres from one point of an uneven edge to the next."""


@dataclass(frozen=True, slots=True)
class Pen:
    """What strokes are drawn with on one wall. width: of a main stroke, in millimetres of the wall."""

    width: float

    def strokes(
        self, *strokes: Iterable[Point], fine: bool = False, colour: str = GRAPHITE
    ) -> Markup:
        """Return straight strokes, each through its points."""
        return path(
            *strokes,
            fill="none",
            stroke=colour,
            stroke_width=self.width * (0.6 if fine else 1),
            stroke_opacity=0.6 if fine else 0.85,
            stroke_linecap="round",
            stroke_linejoin="round",
        )

    def outline(self, d: str, fill: str | None = None) -> Markup:
        """Return a curved outline by the data of its path, filled with a wash."""
        return element(
            "path",
            d=d,
            fill=fill or "none",
            stroke=GRAPHITE,
            stroke_width=self.width,
            stroke_opacity=0.85,
            stroke_linejoin="round",
        )

    def box(self, box: Box, fill: str | None = None, *, fine: bool = False) -> Iterator[Markup]:
        """Yield a box as one draws it with a straight-edge: a wash, and four strokes that run past the corners."""
        if fill is not None:
            yield polygon(box.corners, fill=fill)
        past = self.width * (1.2 if fine else 2.2)
        yield self.strokes(
            ((box.x - past, box.y), (box.right + past, box.y)),
            ((box.right, box.y - past), (box.right, box.bottom + past)),
            ((box.x - past, box.bottom), (box.right + past, box.bottom)),
            ((box.x, box.y - past), (box.x, box.bottom + past)),
            fine=fine,
        )

    def shade(self, box: Box, *, pitch: float) -> Markup:
        """Return a surface in shade, hatched with the blue pencil."""
        return path(
            *hatched(box.corners, pitch),
            fill="none",
            stroke=BLUE,
            stroke_width=self.width * 0.55,
            stroke_opacity=0.5,
            stroke_linecap="round",
        )


def uneven(box: Box, by: float) -> tuple[Point, ...]:
    """Return the edge of a box as a brush leaves it, nowhere further from the straight one than `by`."""
    return tuple((x + _sway(y, x) * by, y + _sway(x, y + 400) * by) for x, y in _around(box))


def _around(box: Box) -> Iterator[Point]:
    """Yield points all around, one about every `_EVERY`."""
    for start, end in box.sides:
        steps = max(int(dist(start, end) / _EVERY), 1)
        for step in range(steps):
            yield part_way(start, end, step / steps)


def _sway(along: float, across: float) -> float:
    """Return a number from -1 to 1 that wanders along an edge."""
    return (
        0.6 * sin(along * 0.0041 + across * 0.013)
        + 0.3 * sin(along * 0.0113 + across * 0.007 + 1.3)
        + 0.1 * sin(along * 0.0317 + across * 0.003 + 2.1)
    )


def wash(box: Box, colour: Colour, by: float) -> Markup:
    """Return a wash over a box: flat, with the darker line that colour leaves where it dries at its edge."""
    edge = uneven(box, by)
    return group(
        (
            polygon(edge, fill=colour.hex),
            polygon(
                uneven(box.inset(by * 0.5), by),
                fill="none",
                stroke=colour.lit(-30).hex,
                stroke_width=by * 0.5,
                stroke_opacity=0.16,
                stroke_linejoin="round",
            ),
        ),
        class_="wash",
    )


_RINGS = 40


def light(wall: Colour, middle: Point, reach: Point, percent: int) -> Markup:
    """Return soft light on a wall of a flat colour, in rings that differ by less than the eye tells apart.

    reach: half its width and height. percent: how far the middle is nearer to warm white. The rings are opaque, each of
    its own colour: many faint layers would be rounded one by one, and the light would take on a tint. It falls off as a
    cosine does, level in the middle and at its edge, where an eye would else see a line.
    """
    brightest = wall.lit(percent)
    return group(
        (
            _oval(
                middle,
                reach,
                acos(2 * ring / _RINGS - 1) / pi,
                wall.mixed(brightest, 100 * ring // _RINGS).hex,
            )
            for ring in range(1, _RINGS)
        ),
        class_="light",
    )


_LAYERS = 14


def floor_shadow(middle: Point, reach: Point) -> Markup:
    """Return the shadow of a thing on the floor, soft at its edge. reach: half its width and height."""
    return group(
        (_oval(middle, reach, (layer + 1) / _LAYERS, SHADOW) for layer in range(_LAYERS)),
        fill_opacity=0.035,
    )


def _oval(middle: Point, reach: Point, share: float, fill: str) -> Markup:
    return element(
        "ellipse", cx=middle[0], cy=middle[1], rx=reach[0] * share, ry=reach[1] * share, fill=fill
    )
