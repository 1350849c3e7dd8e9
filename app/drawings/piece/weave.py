"""The cloth that some mats are faced with: threads both ways, around the windows.

A strip of threads is one thick line whose dashes are the threads.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import sqrt

from app.colours import Colour
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.shapes import Outline
from app.drawings.canvas.svg import Markup, Point, group, number, path
from app.framing import Shape

_PITCH = 0.0035
"""From thread to thread, as a share of the longer side: what can still be seen in a drawing of 500 px."""

_FINEST = 1.2
"""Millimetres from thread to thread. Source: from memory, a coarse linen."""

_STRENGTH = 0.24
_SLICES = 12
"""Into how many slices a round edge is divided, each as wide as the window is at its widest there."""


def weave(blank: Box, windows: tuple[Outline, ...], face: Colour) -> Markup:
    """Return the threads of a mat around its windows: half of them lit, half in shade, so that from afar its colour stays."""
    half = max(_FINEST, max(blank.width, blank.height) * _PITCH) / 2
    strips = tuple(_strips(blank, windows))
    runs = (*_runs(strips, across=True), *_runs(strips, across=False))
    tones = zip(_tones(face), (0.0, half), strict=True)
    return group(
        (
            group(runs, stroke=tone.hex, stroke_opacity=_STRENGTH, stroke_dashoffset=offset or None)
            for tone, offset in tones
        ),
        class_="weave",
        fill="none",
        stroke_dasharray=f"{number(half)} {number(half)}",
    )


def _tones(face: Colour) -> tuple[Colour, Colour]:
    """Return a darker and a lighter colour, each as far from the face."""
    darker, lighter = max(face.luma, 1), max(252 - face.luma, 1)
    away = 0.6 * min(darker, lighter)
    return face.lit(-round(100 * away / darker)), face.lit(round(100 * away / lighter))


def _runs(strips: tuple[Box, ...], *, across: bool) -> Iterator[Markup]:
    """Yield the middle lines of strips, so thick as the strips are, those of one thickness together."""
    found: dict[str, list[tuple[Point, Point]]] = {}
    for strip in strips:
        x, y = strip.centre
        ends = ((strip.x, y), (strip.right, y)) if across else ((x, strip.y), (x, strip.bottom))
        found.setdefault(number(strip.height if across else strip.width), []).append(ends)
    for thick, lines in found.items():
        yield path(*lines, stroke_width=thick)


def _strips(blank: Box, windows: tuple[Outline, ...]) -> Iterator[Box]:
    """Yield what lies of a blank beside its windows, as rectangles."""
    slices = tuple(each for window in windows for each in _sliced(window))
    downs = {y for each in slices for y in (each.y, each.bottom)}
    for top, bottom in pairwise(sorted({blank.y, blank.bottom, *downs})):
        middle = (top + bottom) / 2
        holes = sorted((h.x, h.right) for h in slices if h.y < middle < h.bottom)
        at = blank.x
        for left, right in (*holes, (blank.right, blank.right)):
            if left > at and bottom > top:
                yield Box.between(at, top, left, bottom)
            at = max(at, right)


def _sliced(window: Outline) -> Iterator[Box]:
    """Yield rectangles that cover a window: itself, or slices of what is round of it."""
    box = window.box
    if window.shape is Shape.RECTANGLE:
        yield box
        return
    spring = window.rise or box.height / 2
    last = box.height if window.shape is Shape.OVAL else spring
    for part in range(_SLICES):
        top, bottom = (last * at / _SLICES for at in (part, part + 1))
        nearest = min(max(top, spring), bottom)
        half = box.width / 2 * sqrt(max(0.0, 1 - ((nearest - spring) / spring) ** 2))
        yield Box(box.centre[0] - half, box.y + top, half * 2, bottom - top)
    if window.shape is Shape.ARCH:
        yield Box.between(box.x, box.y + spring, box.right, box.bottom)
