"""The back of a mat drawn for paper: guide lines, window, and the four settings in large figures.

Unlike the screen's plan it is made to the size that it has on the sheet, so that its letters are
as large as a ticket's must be whatever the mat's proportions. One unit is one millimetre of paper.
"""

from dataclasses import dataclass

from app.documents.printing import Figures
from app.drawings.boxes import Box, coordinate, rectangle
from app.drawings.lettering import width_of
from app.drawings.sheet import union
from app.drawings.svg import Markup, Point, Value, element, group, number, path, words
from app.framing import Dimensions, Edges, Layer, Shape, UnderWay, Window
from app.framing.windows import mirrored
from app.lengths import Size

POINT_MM = 25.4 / 72
FIGURE = 12 * POINT_MM
CAPTION = 9.5 * POINT_MM
_ROOM = 5.2
"""Room beside the mat for a figure."""
_TICK = 0.9

_FONT = "Bevelbook Sans, DejaVu Sans, sans-serif"


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing as SVG with what it shows in words. width, height: on paper, mm."""

    svg: str
    words: str
    width: float
    height: float


def from_back(borders: Edges) -> Edges:
    """Borders as they lie with the back up: left and right exchanged (G10)."""
    return Edges(left=borders.right, right=borders.left, top=borders.top, bottom=borders.bottom)


def edges_of(cut: Dimensions, layer: Layer) -> Size:
    """What a mat's borders are measured between: its blank, or the top mat it is fixed behind (G7)."""
    own = cut.spec.under.way is UnderWay.OWN_EDGES
    return layer.blank if own else cut.package


def back_plan(
    cut: Dimensions, layer: int, figures: Figures, *, caption: str, room: tuple[float, float]
) -> Picture:
    """One mat with its back up, as large as fits a room of (width, height) mm of paper.

    The borders are those set on the cutter, in steps, to the nearest window (G7, L2). caption: stands
    in the window where there is room for it; several windows have their names instead.
    """
    mat = cut.layers[layer - 1]
    whole = edges_of(cut, mat)
    width, height = coordinate(whole.width), coordinate(whole.height)
    scale = min((room[0] - 2 * _ROOM) / width, (room[1] - 2 * _ROOM) / height)
    edges = Box(_ROOM, _ROOM, width * scale, height * scale)
    holes = [_hole(mirrored(window, whole), edges, scale) for window in cut.windows_of(layer)]
    across, down = edges.width + 2 * _ROOM, edges.height + 2 * _ROOM
    borders = from_back(mat.borders)
    svg = element(
        "svg",
        *(_guides(edges, hole.box) for hole in holes),
        _outlines(edges, _blank(mat, whole, edges, scale)),
        *(hole.drawn() for hole in holes),
        _dimensions(edges, union(hole.box for hole in holes), borders, figures),
        *(
            mark
            for hole in holes
            for mark in _caption(hole.box, hole.name if len(holes) > 1 else caption)
        ),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(across)} {number(down)}",
        width=f"{number(across)}mm",
        height=f"{number(down)}mm",
        font_family=_FONT,
    )
    sides = ", ".join(f"{side} {figures.length(border)}" for side, border in borders.sides())
    said = f"{caption}, left and right exchanged. Borders: {sides}."
    return Picture(svg=svg, words=said, width=across, height=down)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hole:
    """A window in its place on the plan. rise: of an arch's round top."""

    name: str
    box: Box
    shape: Shape
    rise: float

    def drawn(self) -> Markup:
        """Its outline; a straight-line cutter makes only the rectangle (G20)."""
        box, (x, y) = self.box, self.box.centre
        line: dict[str, Value] = {"fill": "#fff", "stroke": "#000", "stroke_width": 0.5}
        match self.shape:
            case Shape.RECTANGLE:
                return rectangle(box, **line)
            case Shape.OVAL:
                return element("ellipse", cx=x, cy=y, rx=box.width / 2, ry=box.height / 2, **line)
            case Shape.ARCH:
                round_top = f"A{number(box.width / 2)},{number(self.rise)},0,0,1,"
                spring = number(box.y + self.rise)
                return element(
                    "path",
                    d=f"M{number(box.x)},{spring}{round_top}{number(box.right)},{spring}"
                    f"V{number(box.bottom)}H{number(box.x)}Z",
                    **line,
                )


def _hole(window: Window, edges: Box, scale: float) -> _Hole:
    return _Hole(
        name=window.name,
        box=Box(
            edges.x + coordinate(window.x) * scale,
            edges.y + coordinate(window.y) * scale,
            coordinate(window.size.width) * scale,
            coordinate(window.size.height) * scale,
        ),
        shape=window.shape,
        rise=coordinate(window.rise) * scale if window.rise else 0.0,
    )


def _blank(mat: Layer, whole: Size, edges: Box, scale: float) -> Box:
    """The blank about the middle of the edges it is measured from."""
    return edges.inset(coordinate(whole.width - mat.blank.width) / 2 * scale)


def _guides(edges: Box, window: Box) -> Markup:
    """Where the guide's lines run over the whole back."""
    lines = (
        ((window.x, edges.y), (window.x, edges.bottom)),
        ((window.right, edges.y), (window.right, edges.bottom)),
        ((edges.x, window.y), (edges.right, window.y)),
        ((edges.x, window.bottom), (edges.right, window.bottom)),
    )
    return path(*lines, fill="none", stroke="#000", stroke_width=0.12, stroke_dasharray="1.2 0.9")


def _outlines(edges: Box, blank: Box) -> Markup:
    """The blank in full lines; the edges it is measured from in dashes where they differ."""
    trimmed = (
        (rectangle(edges, stroke_width=0.15, stroke_dasharray="0.8 0.6"),) if blank != edges else ()
    )
    return group(
        (*trimmed, rectangle(blank, stroke_width=0.25)),
        fill="none",
        stroke="#000",
    )


def _dimensions(edges: Box, window: Box, borders: Edges, figures: Figures) -> Markup:
    """A line across each border and its figure beside the mat."""
    x, y = window.centre
    spans: tuple[tuple[Point, Point], ...] = (
        ((edges.x, y), (window.x, y)),
        ((window.right, y), (edges.right, y)),
        ((x, edges.y), (x, window.y)),
        ((x, window.bottom), (x, edges.bottom)),
    )
    ticks = [
        ((px - _TICK / 2, py + _TICK / 2), (px + _TICK / 2, py - _TICK / 2))
        for span in spans
        for px, py in span
    ]
    lift = FIGURE * 0.3
    places: tuple[tuple[Point, bool], ...] = (
        ((edges.x - lift, y), True),
        ((edges.right + FIGURE * 0.98, y), True),
        ((x, edges.y - lift), False),
        ((x, edges.bottom + FIGURE * 0.98), False),
    )
    return group(
        (
            path(*spans, fill="none", stroke="#000", stroke_width=0.2),
            path(*ticks, fill="none", stroke="#000", stroke_width=0.35),
            *(
                _text(figures.length(border), at, FIGURE, turned=turned, weight=600)
                for (at, turned), (_, border) in zip(places, borders.sides(), strict=True)
            ),
        )
    )


def _caption(window: Box, caption: str) -> tuple[Markup, ...]:
    x, y = window.centre
    if width_of(caption, CAPTION) > window.width - 2 or window.height < CAPTION * 2:
        return ()
    return (_text(caption, (x, y + CAPTION * 0.35), CAPTION, turned=False, weight=400),)


def _text(text: str, at: Point, size: float, *, turned: bool, weight: int) -> Markup:
    return element(
        "text",
        words(text),
        x=at[0],
        y=at[1],
        font_size=size,
        font_weight=weight,
        text_anchor="middle",
        transform=f"rotate(-90 {number(at[0])} {number(at[1])})" if turned else None,
    )
