"""The cut core of a board around a window, lit as it slopes (G8)."""

from collections.abc import Iterator
from math import cos, hypot, pi, sin

from app.colours import Colour
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.shading import FALL, Side, falling, mitred
from app.drawings.canvas.shapes import Outline, outlined
from app.drawings.canvas.svg import Markup, Point, element, number, placed
from app.drawings.piece.layout import HolePlace
from app.framing import Shape

_FACETS = 24
"""Into how many parts of one shade the bevel of a whole oval is divided."""


def bevel(hole: HolePlace, core: Colour, *, fine: bool = True) -> Iterator[Markup]:
    """Yield the bevel of one window; a reverse or a straight cut hides it. fine: lit side by side."""
    outer, inner = hole.face, hole.window
    if outer.box.width <= inner.box.width:
        return
    if not fine:
        yield _whole(outer, inner, core)
        return
    match inner.shape:
        case Shape.RECTANGLE:
            yield from _straight(outer.box, inner.box, tuple(Side), core)
        case Shape.OVAL:
            yield from _round(outer, inner, (0, 2 * pi), core)
        case Shape.ARCH:
            foot = (_foot(outer), _foot(inner))
            yield from _round(outer, inner, (pi, 2 * pi), core)
            yield from _straight(*foot, (Side.RIGHT, Side.BOTTOM, Side.LEFT), core)


def _shade(core: Colour, fall: float) -> str:
    """Return the light on a window's bevel, which faces inward: it is lit where a slope facing outward is in shade."""
    return core.lit(-round(fall) - 8).hex


def _whole(outer: Outline, inner: Outline, core: Colour) -> Markup:
    return outlined((outer, inner), fill=_shade(core, 0), fill_rule="evenodd", class_="bevel")


def _straight(outer: Box, inner: Box, sides: tuple[Side, ...], core: Colour) -> Iterator[Markup]:
    for side, strip in mitred(outer, inner):
        if side in sides:
            fill = _shade(core, FALL[side])
            yield element("polygon", points=strip, fill=fill, class_="bevel")


def _foot(arch: Outline) -> Box:
    """Return the part of an arch with straight sides."""
    box = arch.box
    return Box.between(box.x, box.y + arch.rise, box.right, box.bottom)


def _round(
    outer: Outline, inner: Outline, angles: tuple[float, float], core: Colour
) -> Iterator[Markup]:
    """Facets between two curves over a middle shade, which closes the seams between them."""
    yield _whole(outer, inner, core)
    first, last = angles
    facets = round(_FACETS * (last - first) / (2 * pi))
    step = (last - first) / facets
    for facet in range(facets):
        begin, end = first + facet * step, first + (facet + 1) * step
        yield element(
            "path",
            d=_facet(outer, inner, begin, end),
            fill=_shade(core, falling(*_facing(inner, (begin + end) / 2))),
            class_="bevel",
        )


def _radii(outline: Outline) -> tuple[Point, float, float]:
    """Middle and half axes of the oval that an outline's round part belongs to."""
    box = outline.box
    down = outline.rise or box.height / 2
    return (box.centre[0], box.y + down), box.width / 2, down


def _facing(outline: Outline, angle: float) -> Point:
    """Return the direction, of length 1, that the curve faces outwards at an angle."""
    _, rx, ry = _radii(outline)
    x, y = cos(angle) * ry, sin(angle) * rx
    return (x / hypot(x, y), y / hypot(x, y))


def _facet(outer: Outline, inner: Outline, begin: float, end: float) -> str:
    (a, b, rx, ry), (c, d, sx, sy) = _arc(outer, begin, end), _arc(inner, begin, end)
    return f"M{a}A{rx},{ry},0,0,1,{b}L{d}A{sx},{sy},0,0,0,{c}Z"


def _arc(outline: Outline, begin: float, end: float) -> tuple[str, str, str, str]:
    """Return both ends of a part of the curve, and its half axes, as they are written."""
    (x, y), rx, ry = _radii(outline)
    first, last = (placed((x + rx * cos(at), y + ry * sin(at))) for at in (begin, end))
    return first, last, number(rx), number(ry)
