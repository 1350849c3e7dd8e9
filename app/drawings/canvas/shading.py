"""How light falls on a piece: from the left and above, on every drawing alike."""

from collections.abc import Iterator
from enum import StrEnum

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.shapes import Outline, outlined
from app.drawings.canvas.svg import Markup, placed, polygon
from app.framing import Shape


class Side(StrEnum):
    """A side of a rectangle, in the order of its corners."""

    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"
    LEFT = "left"


FALL = {Side.TOP: 10, Side.LEFT: 6, Side.RIGHT: -6, Side.BOTTOM: -10}
"""Tenths of the light that a slope facing outward gets on each side; one facing inward gets the
contrary."""

SHADOW = "#1a120a"
_SOFT_STEPS = 7
_INNER_STEPS = 4


def falling(x: float, y: float) -> float:
    """Return the light on a slope that faces a direction (of length 1), in tenths as `FALL` has it."""
    return -FALL[Side.LEFT] * x - FALL[Side.TOP] * y


def mitred(outer: Box, inner: Box) -> Iterator[tuple[Side, str]]:
    """Yield the mitred strip of each side between two rectangles as the points of a polygon, outer edge first."""
    out, ins = (tuple(map(placed, box.corners)) for box in (outer, inner))
    for first, side in enumerate(Side):
        second = (first + 1) % 4
        yield side, f"{out[first]} {out[second]} {ins[second]} {ins[first]}"


def soft_shadow(box: Box, drop: float, strength: float) -> Iterator[Markup]:
    """Yield the shadow of a raised rectangle, soft at its edges: `drop` is how far it falls.

    Built from faint rectangles, one over the other, since a gradient needs an identifier and two
    drawings on a page would share it. strength: opacity in the middle, 0 to 1.
    """
    fallen = box.moved(drop * 0.6, drop * 0.8)
    each = 1 - (1 - strength) ** (1 / _SOFT_STEPS)
    for step in range(_SOFT_STEPS):
        spread = drop * (0.7 - 1.4 * step / (_SOFT_STEPS - 1))
        grown = Box.between(
            fallen.x - spread, fallen.y - spread, fallen.right + spread, fallen.bottom + spread
        )
        yield rectangle(grown, rx=max(spread + drop * 0.7, 0), fill=SHADOW, fill_opacity=each)


def shadow_in(hole: Outline, depth: float, strength: float) -> Iterator[Markup]:
    """Yield the shadow of a hole's edge on what lies in it.

    Of a round one it spills over the far edge, so whatever the hole is cut in must be drawn after.
    """
    if hole.shape is Shape.RECTANGLE:
        yield from inner_shadow(hole.box, depth, strength)
        return
    for step in range(1, _INNER_STEPS + 1):
        reach = depth * step / _INNER_STEPS
        yield outlined(
            (hole, hole.moved(reach * 0.7, reach)),
            fill=SHADOW,
            fill_opacity=strength / _INNER_STEPS,
            fill_rule="evenodd",
        )


def inner_shadow(hole: Box, depth: float, strength: float) -> Iterator[Markup]:
    """Yield the shadow that the edge of a hole throws on what lies in it, along its top and left."""
    for step in range(1, _INNER_STEPS + 1):
        reach = min(depth * step / _INNER_STEPS, hole.width, hole.height)
        yield polygon(
            (
                (hole.x, hole.y),
                (hole.right, hole.y),
                (hole.right, hole.y + reach),
                (hole.x + reach * 0.7, hole.y + reach),
                (hole.x + reach * 0.7, hole.bottom),
                (hole.x, hole.bottom),
            ),
            fill=SHADOW,
            fill_opacity=strength / _INNER_STEPS,
        )
