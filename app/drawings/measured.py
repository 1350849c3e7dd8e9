"""The piece from the front in lines, with its dimensions around it.

Above and to the left: borders and window of the top mat, package, outside. Below and to the right:
what lies inside: under windows with their reveals, artwork, rebate, sight, faces.
"""

from collections.abc import Iterator

from app.drawings.boxes import Box, rectangle
from app.drawings.dimension_lines import fitted
from app.drawings.lanes import Lane, Span
from app.drawings.layout import Layout, is_tray, lay_out
from app.drawings.light import Side
from app.drawings.notes import written_under
from app.drawings.sheet import INK, drawing
from app.drawings.svg import Markup, group, number, path
from app.drawings.wording import outside_in_words, piece_in_words
from app.framing import Dimensions, Presentation, in_steps
from app.lengths import ZERO, Length, Steps, Unit, show

_ACROSS = (Side.TOP, Side.BOTTOM)


def measured(dimensions: Dimensions, unit: Unit, steps: Steps | None = None) -> str:
    """The measured view as an SVG document, figures in one unit.

    steps: where given, figures are those that the shop cuts (L2), else the exact ones.
    """
    cut = in_steps(dimensions, steps) if steps else dimensions
    layout = lay_out(cut)
    lanes = {side: _lanes(cut, layout, side, unit) for side in Side}
    font, placed = fitted(layout.outside, lanes)
    notes = _notes(cut, unit)
    room, written = written_under(placed.room, notes, font)
    return drawing(
        room.inset(-font * 0.5),
        _lines(cut, layout, font),
        placed.marks(),
        written,
        class_="drawing drawing-measured",
        title=f"{outside_in_words(cut, unit)}, with its dimensions",
        desc=piece_in_words(cut, unit),
    )


def _along(box: Box, side: Side) -> tuple[float, float]:
    return (box.x, box.right) if side in _ACROSS else (box.y, box.bottom)


def _depth(box: Box, outside: Box, side: Side) -> float:
    """How far a rectangle's edge lies inside the outside, on one side."""
    match side:
        case Side.TOP:
            return box.y - outside.y
        case Side.BOTTOM:
            return outside.bottom - box.bottom
        case Side.LEFT:
            return box.x - outside.x
        case Side.RIGHT:
            return outside.right - box.right


class _Ruler:
    """Makes the spans of one side."""

    def __init__(self, layout: Layout, side: Side, unit: Unit) -> None:
        self.layout, self.side, self.unit = layout, side, unit

    def span(self, name: str, length: Length, ends: tuple[float, float], inside: Box) -> Span:
        """A named dimension between two places of a rectangle's edge."""
        figure = show(length, self.unit)
        return Span(
            start=ends[0],
            end=ends[1],
            text=f"{name} {figure}" if name else figure,
            reach=_depth(inside, self.layout.outside, self.side),
        )

    def whole(self, name: str, size: tuple[Length, Length], box: Box) -> Span:
        """A rectangle's width or height, as the side asks."""
        length = size[0] if self.side in _ACROSS else size[1]
        return self.span(name, length, _along(box, self.side), box)


def _lanes(cut: Dimensions, layout: Layout, side: Side, unit: Unit) -> list[Lane]:
    """The lanes of a side, the shortest chain next to the drawing."""
    ruler = _Ruler(layout, side, unit)
    outer = side in (Side.TOP, Side.LEFT)
    lanes = list(_outer_lanes(cut, ruler) if outer else _inner_lanes(cut, ruler))
    return sorted(filter(None, lanes), key=lambda lane: lane[-1].end - lane[0].start)


def _outer_lanes(cut: Dimensions, ruler: _Ruler) -> Iterator[Lane]:
    layout = ruler.layout
    if layout.mats:
        yield _border_lane(cut, ruler)
    package = (cut.package.width, cut.package.height)
    if layout.frames:
        outside = (cut.outside.width, cut.outside.height)
        yield (ruler.whole("outside", outside, layout.outside),)
    if cut.package != cut.spec.artwork or not layout.frames:
        yield (
            ruler.whole("inside of tray" if is_tray(cut) else "package", package, layout.package),
        )


def _border_lane(cut: Dimensions, ruler: _Ruler) -> Lane:
    """Border, window, border of the top mat."""
    place, borders, window = ruler.layout.mats[0], cut.layers[0].borders, cut.windows[0].size
    first, last = _along(place.edges, ruler.side)
    near, far = _along(place.window, ruler.side)
    sides = (
        (borders.left, borders.right) if ruler.side in _ACROSS else (borders.top, borders.bottom)
    )
    name = "window" if len(cut.windows) == 1 else "window 1:"
    return (
        ruler.span("", sides[0], (first, near), place.window),
        ruler.whole(name, (window.width, window.height), place.window),
        ruler.span("", sides[1], (far, last), place.window),
    )


def _inner_lanes(cut: Dimensions, ruler: _Ruler) -> Iterator[Lane]:
    layout = ruler.layout
    if len(layout.mats) > 1:
        yield _under_lane(cut, ruler)
    artwork = ruler.whole(
        "artwork", (cut.spec.artwork.width, cut.spec.artwork.height), layout.artwork
    )
    yield (*_gap(cut, ruler), artwork)
    for index, (place, sizes) in enumerate(zip(layout.frames, cut.frames, strict=True)):
        if index or not is_tray(cut):
            which = f" {index + 1}:" if len(layout.frames) > 1 else ""
            rebate = (sizes.rebate.width, sizes.rebate.height)
            yield (ruler.whole(f"rebate{which}", rebate, place.rebate),)
        yield _face_lane(cut, ruler, index)


def _under_lane(cut: Dimensions, ruler: _Ruler) -> Lane:
    """The reveals on one side, and the window next to the artwork."""
    places = ruler.layout.mats
    spans = []
    if ruler.side is Side.BOTTOM:
        for outer, inner, mat in zip(places, places[1:], cut.spec.mats[1:], strict=False):
            ends = (outer.window.x, inner.window.x)
            spans.append(ruler.span("reveal", mat.reveal or ZERO, ends, inner.window))
    size = cut.windows[-1].size
    name = f"window {len(places)}:"
    return (*spans, ruler.whole(name, (size.width, size.height), places[-1].window))


def _gap(cut: Dimensions, ruler: _Ruler) -> Iterator[Span]:
    """The gap beside an artwork that floats, once, below."""
    floats = cut.spec.presentation in (Presentation.FLOAT, Presentation.CANVAS_FLOAT)
    if floats and ruler.side is Side.BOTTOM:
        layout = ruler.layout
        opening = layout.mats[-1].window if layout.mats else layout.package
        ends = (opening.x, layout.artwork.x)
        if ends[0] < ends[1]:
            yield ruler.span("gap", cut.spec.gap, ends, layout.artwork)


def _face_lane(cut: Dimensions, ruler: _Ruler, index: int) -> Lane:
    """The face on one side, and the sight."""
    place, sizes = ruler.layout.frames[index], cut.frames[index]
    which = f" {index + 1}:" if len(cut.frames) > 1 else ""
    tray = index == 0 and is_tray(cut)
    spans = []
    if ruler.side is Side.BOTTOM:
        ends = (place.outside.x, place.sight.x)
        face = cut.spec.frames[index].face
        spans.append(ruler.span(f"{'wall' if tray else 'face'}{which}", face, ends, place.outside))
    sight = ruler.whole(f"sight{which}", (sizes.sight.width, sizes.sight.height), place.sight)
    return tuple(spans) if tray else (*spans, sight)


def _notes(cut: Dimensions, unit: Unit) -> tuple[str, ...]:
    spec = cut.spec
    said = ["All figures in millimetres." if unit is Unit.MM else "All figures in inches."]
    if spec.mats:
        said.append("Windows are measured at the back of the board.")
    if (
        spec.presentation is Presentation.WINDOW
        and spec.mats
        and not (spec.borders and spec.package)
    ):
        said.append(f"The mat covers {show(spec.overlap, unit)} of the artwork at each edge.")
    if cut.frames and not is_tray(cut):
        said.append("Dashed: hidden by a lip or a mat.")
    return (" ".join(said),)


def _lines(cut: Dimensions, layout: Layout, font: float) -> Markup:
    """The piece in ink: what is seen in full lines, what is hidden in dashes."""
    floats = cut.spec.presentation in (Presentation.FLOAT, Presentation.CANVAS_FLOAT)
    covered = bool(layout.mats) and not floats
    return group(
        (
            rectangle(layout.artwork, fill=INK, fill_opacity=0.07, stroke="none"),
            _edge(layout.artwork, font, hidden=covered),
            *(rectangle(mat.face, stroke_opacity=0.45) for mat in layout.mats),
            *(rectangle(mat.window) for mat in layout.mats),
            _edge(layout.package, font, hidden=bool(layout.frames)),
            *(_frame(frame.outside, frame.sight) for frame in layout.frames),
        ),
        class_="ink",
        fill="none",
        stroke=INK,
        stroke_width=font * 0.07,
    )


def _edge(box: Box, font: float, *, hidden: bool) -> Markup:
    dashes = f"{number(font * 0.5)} {number(font * 0.35)}"
    return rectangle(
        box,
        stroke_dasharray=dashes if hidden else None,
        stroke_opacity=0.6 if hidden else None,
    )


def _frame(outside: Box, sight: Box) -> Markup:
    """Outside and sight with their mitres, lightly toned."""
    return group(
        (
            path(
                outside.corners,
                sight.corners,
                closed=True,
                fill=INK,
                fill_opacity=0.05,
                fill_rule="evenodd",
            ),
            path(*zip(outside.corners, sight.corners, strict=True), stroke_opacity=0.6),
        )
    )
