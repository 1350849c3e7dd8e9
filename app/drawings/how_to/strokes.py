"""Pencil and straight-edge: the few strokes that drawings of the work are made of.

Lines are thin, cross a little at corners as ruled lines do, and take the page's ink; what moves or is
measured is in the pencil for measures.
"""

import re
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK, Pencil, drawing, lettering
from app.drawings.canvas.svg import Markup, Point, element, group, line, number, path, polygon

SHEET = Box(0, 0, 240, 140)
"""What every drawing of the work stands on."""

FONT = 10
_THIN, _OVER, _HEAD = 1.1, 2.5, 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing of a step. desc: what it shows, for who does not see it."""

    title: str
    desc: str
    parts: tuple[Markup, ...]

    def drawn(self, mat_word: str = "mat") -> str:
        """Return it as an SVG document. mat_word: what the shop calls a mat, in its title and beside its lines."""
        desc = _MAT.sub(rf"{mat_word}\1", self.desc)
        title = _MAT.sub(rf"{mat_word}\1", self.title)
        parts = (Markup(part.replace(">mat<", f">{mat_word}<")) for part in self.parts)
        return drawing(SHEET, *parts, class_="drawing drawing-how", title=title, desc=desc)


_MAT = re.compile(r"\bmat(s?)\b")


def ruled(*boxes: Box) -> Markup:
    """Return rectangles whose lines cross a little at the corners."""
    across = (
        ((box.x - _OVER, y), (box.right + _OVER, y)) for box in boxes for y in (box.y, box.bottom)
    )
    down = (
        ((x, box.y - _OVER), (x, box.bottom + _OVER)) for box in boxes for x in (box.x, box.right)
    )
    return path(*across, *down, fill="none", stroke=INK, stroke_width=_THIN)


def strokes(*lines: tuple[Point, ...]) -> Markup:
    """Return plain lines through their points."""
    return path(*lines, fill="none", stroke=INK, stroke_width=_THIN, stroke_linejoin="round")


def dashed(*lines: tuple[Point, ...]) -> Markup:
    """Return lines of what lies behind, or is not there yet."""
    return path(*lines, fill="none", stroke=INK, stroke_width=_THIN * 0.8, stroke_dasharray="4 3")


def dashed_box(box: Box) -> Markup:
    """Return a rectangle that lies behind, or is not there yet."""
    return dashed((*box.corners, box.corners[0]))


def board(*points: Point) -> Markup:
    """Return a part of board, wood or glass: its outline with a light wash."""
    return polygon(
        points,
        fill=INK,
        fill_opacity=0.07,
        stroke=INK,
        stroke_width=_THIN,
        stroke_linejoin="round",
    )


def slab(box: Box) -> Markup:
    """Return the same as a rectangle."""
    return board(*box.corners)


def solid(*boxes: Box) -> Markup:
    """Return small parts drawn full: points, hinges, adhesive."""
    return group(rectangle(box, fill=INK) for box in boxes)


def ring(centre: Point, radius: float) -> Markup:
    """Return a circle."""
    return oval(centre, radius, radius)


def oval(centre: Point, across: float, down: float) -> Markup:
    """Return an oval by its half axes."""
    return element(
        "ellipse",
        cx=centre[0],
        cy=centre[1],
        rx=across,
        ry=down,
        fill="none",
        stroke=INK,
        stroke_width=_THIN,
    )


def moves(*ways: tuple[Point, Point]) -> Markup:
    """Return arrows: where something goes."""
    return Pencil.MEASURE.draws(*(_arrow(start, end) for start, end in ways))


def spans(*ways: tuple[Point, Point]) -> Markup:
    """Return arrows with a head at both ends: what is measured, or even."""
    return Pencil.MEASURE.draws(
        *(_arrow(start, end) for start, end in ways), *(_head(end, start) for start, end in ways)
    )


def turns(centre: Point, across: float, down: float) -> Markup:
    """Return an arrow around the upper right quarter of an oval, clockwise."""
    x, y = centre
    begin, end = (x, y - down), (x + across, y)
    arc = f"M{number(begin[0])},{number(begin[1])}A{number(across)},{number(down)},0,0,1,{number(end[0])},{number(end[1])}"
    return Pencil.MEASURE.draws(
        element("path", d=arc, fill="none", stroke=INK, stroke_width=_THIN * 1.3),
        _head((end[0], end[1] - 10), end),
    )


def marks(*points: Point) -> Markup:
    """Return small rings around what to look at."""
    return Pencil.MEASURE.draws(
        *(
            element("circle", cx=x, cy=y, r=4.5, fill="none", stroke=INK, stroke_width=_THIN * 1.3)
            for x, y in points
        )
    )


def levels(*lines: tuple[Point, Point]) -> Markup:
    """Return dashed lines of what is held against each other."""
    return Pencil.MEASURE.draws(
        path(*lines, fill="none", stroke=INK, stroke_width=_THIN, stroke_dasharray="5 3")
    )


def word(text: str, at: Point, *, anchor: str = "start") -> Markup:
    """Return a word beside what it names."""
    return lettering(text, at, FONT, anchor=anchor, fill=INK, class_="ink")


def _arrow(start: Point, end: Point) -> Markup:
    shaft = line(start, end, stroke=INK, stroke_width=_THIN * 1.3)
    return Markup(shaft + _head(start, end))


def _head(start: Point, end: Point) -> Markup:
    """Return an open arrow head at the end of a way, as two strokes at 25° to it."""
    (x1, y1), (x2, y2) = start, end
    length = hypot(x2 - x1, y2 - y1)
    back = ((x1 - x2) / length, (y1 - y2) / length)
    sides = []
    for angle in (pi * 25 / 180, -pi * 25 / 180):
        across = back[0] * cos(angle) - back[1] * sin(angle)
        down = back[0] * sin(angle) + back[1] * cos(angle)
        sides.append((x2 + across * _HEAD, y2 + down * _HEAD))
    return path((sides[0], end, sides[1]), fill="none", stroke=INK, stroke_width=_THIN * 1.3)
