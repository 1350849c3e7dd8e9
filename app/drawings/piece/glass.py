"""What glazing shows of the room: two quiet bands of light across it, within the frame."""

from collections.abc import Iterator

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.svg import Markup, Point, group, path

_BANDS = ((0.2, 0.31), (0.335, 0.36))
"""Where each begins and ends along the way from the left-top corner to the right-bottom one, in shares."""

_STRENGTH, _LOW_STRENGTH = 0.08, 0.025


def reflection(sight: Box, *, low: bool) -> Markup:
    """Return the bands of light on glazing; hardly any where it mirrors less than plain glass."""
    bands = (tuple(_band(sight, begin, end)) for begin, end in _BANDS)
    strokes = path(*bands, closed=True)
    strength = _LOW_STRENGTH if low else _STRENGTH
    return group((strokes,), class_="glass", fill="#ffffff", fill_opacity=strength)


def _band(box: Box, begin: float, end: float) -> Iterator[Point]:
    """Yield what lies in a box between two lines at 45 degrees, clockwise from the upper end of the first."""
    first, last = (share * (box.width + box.height) for share in (begin, end))
    yield _above(box, first)
    if first < box.width < last:
        yield (box.right, box.y)
    yield _above(box, last)
    yield _below(box, last)
    if first < box.height < last:
        yield (box.x, box.bottom)
    yield _below(box, first)


def _above(box: Box, way: float) -> Point:
    """Return where the line so far from the left-top corner meets the top or the right side."""
    across = min(way, box.width)
    return (box.x + across, box.y + way - across)


def _below(box: Box, way: float) -> Point:
    """Return where it meets the left side or the bottom."""
    down = min(way, box.height)
    return (box.x + way - down, box.y + down)
