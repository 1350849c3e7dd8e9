"""SVG as text: elements, numbers and words, escaped in one place.

Owns how a drawing is written down. Nothing here uses identifiers, style attributes or scripts, so
that several drawings can stand on one page and pass a strict content policy: colours are
presentation attributes, which a page's style sheet may override by class.

Drawing coordinates are floats. Lengths are exact until they are placed on a drawing, and no
number that a person reads is ever taken back from a coordinate.
"""

import re
from collections.abc import Iterable
from typing import NewType
from xml.sax.saxutils import escape, quoteattr

Markup = NewType("Markup", str)
"""Text that is SVG already and is not escaped again."""

type Value = str | float | None
type Point = tuple[float, float]

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NEEDS_NO_ESCAPE = re.compile(r"[\w #.,%()-]*", re.ASCII)


def number(value: float) -> str:
    """Return a coordinate with two decimals at most and no trailing zeros."""
    text = f"{value:.2f}"
    if text[-1] == "0":
        text = text[:-3] if text[-2] == "0" else text[:-1]
    return "0" if text == "-0" else text


def placed(point: Point) -> str:
    """Return a point as its two coordinates."""
    return f"{number(point[0])},{number(point[1])}"


def part_way(first: Point, last: Point, share: float) -> Point:
    """Return the point so far on the straight way from one point to another. share: 0 is the first, 1 the last."""
    (x1, y1), (x2, y2) = first, last
    return (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share)


def words(text: str) -> Markup:
    """Any text as content of an element; what XML cannot hold becomes a replacement sign."""
    return Markup(escape(_NOT_XML.sub("\ufffd", text)))


def element(name: str, *children: Markup, **attributes: Value) -> Markup:
    """Return one element. Attribute names: `_` stands for `-`, `class_` for `class`; None is left out."""
    written = "".join(
        f" {key.rstrip('_').replace('_', '-')}={_quoted(value)}"
        for key, value in attributes.items()
        if value is not None
    )
    return Markup(
        f"<{name}{written}>{''.join(children)}</{name}>" if children else f"<{name}{written}/>"
    )


def _quoted(value: str | float) -> str:
    if isinstance(value, str):
        if _NEEDS_NO_ESCAPE.fullmatch(value):  # nearly all: colours, classes, points
            return f'"{value}"'
        return quoteattr(_NOT_XML.sub("\ufffd", value))
    return f'"{number(value)}"'


def group(children: Iterable[Markup], **attributes: Value) -> Markup:
    """Elements that share attributes; nothing where there are none."""
    inside = tuple(children)
    return element("g", *inside, **attributes) if inside else Markup("")


def polygon(points: Iterable[Point], **attributes: Value) -> Markup:
    """Return a closed outline through the points."""
    return element("polygon", points=" ".join(map(placed, points)), **attributes)


def line(start: Point, end: Point, **attributes: Value) -> Markup:
    """Return a straight line."""
    return element("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], **attributes)


def path(*strokes: Iterable[Point], closed: bool = False, **attributes: Value) -> Markup:
    """Straight strokes, each through its points, as one path."""
    return element(
        "path", d="".join(through(stroke, closed=closed) for stroke in strokes), **attributes
    )


def through(points: Iterable[Point], *, closed: bool = False) -> str:
    """Return the data of a path that goes straight from point to point."""
    return "M" + "L".join(map(placed, points)) + ("Z" if closed else "")
