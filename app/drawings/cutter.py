"""A mat cutter from above, with what is measured where: the same for every cutter, and to no scale.

Owns the drawing and what its letters stand for. Figures of a shop's own cutter are not on it.
"""

from collections.abc import Iterable, Iterator

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK, Pencil, drawing, lettering
from app.drawings.canvas.svg import Markup, Point, element, group, path
from app.drawings.canvas.symbols import Sign, SymbolKind

CUTTER_KEY = (
    "The longest cut: how far the head runs along the bar.",
    "How far the guide goes, from the line that is cut.",
    "The scale, read at the guide.",
    "A second scale in the other unit, where there is one.",
    "The first hole for a pin, from the line that is cut.",
    "From hole to hole.",
    "The border that the guide is set for: the mat lies back up, with one edge against it.",
    "The near stop, from the squaring arm.",
    "The far stop, from the squaring arm.",
    "The longest side that the squaring arm measures.",
)
"""What the letters stand for, from A."""

_LETTERS = "ABCDEFGHIJ"
"""No numbers, which a reader might take for figures of the cutter."""

_VIEW = Box(0, 6, 380, 396)
_FONT = 15.0
_BAR = Box.between(236, 24, 258, 376)
_LINE = _BAR.x
"""Where the blade runs, along the bar."""
_GUIDE = Box.between(132, 46, 150, 352)
_ARM = Box.between(20, 340, _LINE, 354)
_MAT = Box.between(_GUIDE.right, 164, 334, _ARM.y)
_WINDOW = Box.between(_LINE, 204, 300, 300)
_SCALES = (Box.between(40, 54, _LINE, 68), Box.between(40, 72, _LINE, 86))
_TICKS = (6.5, 12.25)
_FIRST_HOLE, _HOLES, _PITCH, _HOLE_ROW = 32.0, 7, 22.0, 97.0
_STOPS = (_WINDOW.bottom, _WINDOW.y)
_THIN = _FONT * 0.07


def cutter_from_above() -> str:
    """Return the drawing as an SVG document."""
    return drawing(
        _VIEW,
        Pencil.PLAIN.draws(*_parts(), *_names()),
        Pencil.MEASURE.draws(*_measures()),
        class_="drawing drawing-cutter",
        title="A mat cutter from above, and what is measured where",
        desc="The bar runs away from you; the head with the blade runs along it. To its left the guide lies "
        "parallel to it, and slides on one or two scales that have holes for a pin. The squaring arm stands across "
        "the near end of the bar. A mat lies back up, one edge against the guide and its near edge at the "
        "squaring arm; two stops on the bar bind the way of the head. "
        + " ".join(f"{letter}: {text}" for letter, text in zip(_LETTERS, CUTTER_KEY, strict=True)),
    )


def _parts() -> Iterator[Markup]:
    """What the cutter is made of, and a mat on it with its window dashed."""
    yield _part(_MAT, 0.06)
    yield rectangle(_WINDOW, fill="none", stroke=INK, stroke_width=_THIN, stroke_dasharray="5 4")
    for scale, pitch in zip(_SCALES, _TICKS, strict=True):
        yield _part(scale, 0)
        yield _ticks(scale, pitch)
    yield from (
        element("circle", cx=_hole(each), cy=_HOLE_ROW, r=3.2, fill="none", stroke=INK)
        for each in range(_HOLES)
    )
    yield _part(_ARM, 0.22)
    yield _part(_GUIDE, 0.22)
    yield _part(_BAR, 0.3)
    yield _part(Box(_BAR.x - 8, 236, _BAR.width + 16, 30), 0.45)
    for row, place in enumerate(_STOPS):
        yield _part(Box(_BAR.right, place if row == 0 else place - 14, 16, 14), 0.55)


def _part(box: Box, shade: float) -> Markup:
    """Return one part, shaded with the ink of the page, so that it shows on a light and a dark one."""
    return rectangle(box, fill=INK, fill_opacity=shade, stroke=INK, stroke_width=_THIN)


def _ticks(scale: Box, pitch: float) -> Markup:
    count = int(scale.width / pitch)
    places = (scale.right - pitch * each for each in range(1, count))
    strokes = [
        ((x, scale.y), (x, scale.y + scale.height * (0.75 if each % 4 == 3 else 0.4)))
        for each, x in enumerate(places)
    ]
    return path(*strokes, fill="none", stroke=INK, stroke_width=_THIN)


def _hole(number: int) -> float:
    return _LINE - _FIRST_HOLE - _PITCH * number


def _names() -> Iterator[Markup]:
    """The words for the parts; what is measured has letters."""
    for text, at, turned in (
        ("bar", (_BAR.centre[0], 20.0), False),
        ("guide", (_GUIDE.x - 6, 300.0), True),
        ("mat", (192.0, 322.0), False),
        ("head", (206.0, 256.0), False),
        ("squaring arm", (_ARM.x + 50, _ARM.bottom + 15), False),
    ):
        yield lettering(text, at, _FONT * 0.9, turned=turned, fill=INK)


def _measures() -> Iterator[Markup]:
    arm = _ARM.y
    near, far = _STOPS
    levels: Iterable[tuple[str, float, float, float]] = (
        ("B", 34, _SCALES[0].x, _LINE),
        ("G", 224, _GUIDE.right, _LINE),
        ("J", 386, _ARM.x, _LINE),
    )
    for letter, y, left, right in levels:
        yield from _measured(letter, (left, y), (right, y))
    for letter, x, top, bottom in (
        ("A", 362.0, _BAR.y, _BAR.bottom),
        ("H", 290.0, near, arm),
        ("I", 318.0, far, arm),
    ):
        yield from _measured(letter, (x, top), (x, bottom))
    y = 114.0
    first, second = _hole(0), _hole(1)
    yield _span((first, y), (_LINE, y))
    yield _span((second, y), (first, y))
    yield _ring("E", ((first + _LINE) / 2, y + 16))
    yield _ring("F", ((second + first) / 2 - 5, y + 16))
    for letter, scale in zip("CD", _SCALES, strict=True):
        yield _ring(letter, (24, scale.centre[1] + (-3 if letter == "C" else 4)))


def _measured(letter: str, begin: Point, end: Point) -> Iterator[Markup]:
    """Yield a dimension line, open in the middle for the ring with its letter."""
    (x1, y1), (x2, y2) = begin, end
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    gap = _FONT * 0.75
    across = y1 == y2
    before = (middle[0] - gap, y1) if across else (x1, middle[1] - gap)
    after = (middle[0] + gap, y1) if across else (x1, middle[1] + gap)
    yield _span(begin, before, far_end=False)
    yield _span(end, after, far_end=False)
    yield _ring(letter, middle)


def _span(begin: Point, end: Point, *, far_end: bool = True) -> Markup:
    """Return a line with a tick across its beginning, and across its end too."""
    (x1, y1), (x2, y2) = begin, end
    dx, dy = (0.0, 5.0) if y1 == y2 else (5.0, 0.0)
    strokes = [(begin, end), ((x1 - dx, y1 - dy), (x1 + dx, y1 + dy))]
    if far_end:
        strokes.append(((x2 - dx, y2 - dy), (x2 + dx, y2 + dy)))
    return path(*strokes, fill="none", stroke=INK, stroke_width=_THIN * 1.2)


def _ring(letter: str, at: Point) -> Markup:
    return group((Sign(kind=SymbolKind.SETTING, text=letter).drawn(at, _FONT, turned=False),))
