"""Hatching of a cut surface, worked out line by line so that no pattern needs an identifier."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from app.drawings.canvas.canvas import INK
from app.drawings.canvas.svg import Markup, Point, group, part_way, path, polygon

MOST_LINES = 200
"""A surface gets no more lines than this, whatever its size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HatchMaterial:
    """How a cut material is drawn. lean: 1 hatches rising to the right, -1 falling, 0 not at all.

    pitch: letter heights between hatch lines.
    """

    fill: str
    stroke: str = "#6d5f4c"
    lean: int = 0
    pitch: float = 0.55


WOOD = HatchMaterial(fill="#e3cfae", stroke="#a5855a", lean=1, pitch=0.75)
GLASS = HatchMaterial(fill="#cfe3ea", stroke="#7fa5b3", lean=1, pitch=1.4)
SPACER = HatchMaterial(fill="#f4f1e8", stroke="#8b8778", lean=-1, pitch=0.3)
FILLET = HatchMaterial(fill="#dfc27f", stroke="#94702f", lean=-1, pitch=0.4)
MAT = HatchMaterial(fill="#f6f0e0")
UNDER_MAT = HatchMaterial(fill="#ddd2b9")
ARTWORK = HatchMaterial(fill="#4a5b66")
OBJECT = HatchMaterial(fill="#d9c3b4", stroke="#93705c", lean=1, pitch=1.1)
CANVAS_BAR = HatchMaterial(fill="#ecd9b6", stroke="#b3936a", lean=-1, pitch=0.8)
MOUNT_BOARD = HatchMaterial(fill="#efe6d0", stroke="#b7aa8c", lean=-1, pitch=0.5)
BACKING = HatchMaterial(fill="#cdb48e", stroke="#94754a", lean=1, pitch=0.32)


def cut(outline: Sequence[Point], material: HatchMaterial, font: float, *within: Markup) -> Markup:
    """Return a cut surface: its outline filled and hatched, with an edge in ink. within: what is drawn under the edge."""
    hatching = tuple(_hatch(outline, material.lean, material.pitch * font)) if material.lean else ()
    strokes = path(*hatching, fill="none", stroke=material.stroke, stroke_width=font * 0.04)
    return group(
        (
            polygon(outline, fill=material.fill, stroke="none"),
            *((strokes,) if hatching else ()),
            *within,
            polygon(outline, fill="none", stroke=INK, stroke_width=font * 0.06),
        )
    )


def hatched(
    outline: Sequence[Point], pitch: float, *, lean: int = 1
) -> tuple[tuple[Point, Point], ...]:
    """Return the hatch lines of an outline alone, one every pitch."""
    return tuple(_hatch(outline, lean, pitch))


def _hatch(outline: Sequence[Point], lean: int, pitch: float) -> Iterator[tuple[Point, Point]]:
    """Lines at 45 degrees inside any outline, one every pitch."""
    keys = [x + lean * y for x, y in outline]
    across = pitch * 2**0.5
    across = max(across, (max(keys) - min(keys)) / MOST_LINES)
    at = (min(keys) // across + 1) * across
    while at < max(keys):
        crossings = sorted(_crossings(outline, lean, at))
        yield from zip(crossings[::2], crossings[1::2], strict=False)
        at += across


def _crossings(outline: Sequence[Point], lean: int, at: float) -> Iterator[Point]:
    """Yield where the line x + lean * y = at meets the outline."""
    for start, end in pairwise((*outline, outline[0])):
        first, second = (x + lean * y - at for x, y in (start, end))
        if (first < 0) != (second < 0):
            yield part_way(start, end, first / (first - second))
