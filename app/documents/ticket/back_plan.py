"""A mat as it lies on the cutter, drawn for paper: guide lines with their settings, windows, cuts.

Unlike the screen's drawing it is made to the size that it has on the sheet, so that its letters are
as large as a ticket's must be whatever the mat's proportions. A mat with one window has its borders
beside its four sides; of several windows each guide line has the number of its setting, on the side
where the screen's drawing has it too.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from app.bench import BoardBox as Lying
from app.bench import CutLine, Edge, GuideLine, GuidePlan, Marks
from app.documents.kit.printing import Figures
from app.documents.ticket.plan_canvas import (
    BESIDE,
    BOLD,
    CAPTION,
    FIGURE,
    FINE,
    PLAIN,
    RING,
    THIN,
    PlanSheet,
    border_as_it_lies,
    ringed,
    written,
)
from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.label_spacing import spread
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.shading import Side
from app.drawings.canvas.shapes import Outline, drawn
from app.drawings.canvas.svg import Markup, Point, element, number, path
from app.drawings.mats.marked import RULE_OF
from app.framing import Shape

_APART = 2 * RING + 0.3
_INSIDE = 1.0
"""How far at least a smaller blank is drawn inside the edge that counts, mm, so that both are seen."""

_TICK = 0.9
_DOT, _BAR = 0.75, 1.1
_LETTER = 0.85
"""Of the room that `width_of` keeps for a letter: paper has a narrower face."""

_INK: dict[str, Any] = {"fill": "none", "stroke": "#000"}
_FONT = "Bevelbook Sans, DejaVu Sans, sans-serif"


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing as SVG with what it shows in words. width, height: on paper, mm. captioned: whether
    its caption stands in it.
    """

    svg: str
    words: str
    width: float
    height: float
    captioned: bool


def back_plan(
    marks: Marks, plan: GuidePlan, figures: Figures, *, caption: str, room: tuple[float, float]
) -> Picture:
    """Return one mat as large as fits a room of (width, height) mm of paper, its borders as the scale reads.

    marks, plan: of the same cutter. figures: of the ticket. caption: of one line or two; stands in the one window where there is
    room for the first.
    """
    sheet = PlanSheet(marks, room)
    drawing = _BackDrawing(sheet, plan, figures)
    names = tuple(drawing.names(*caption.split("\n")))
    svg = element(
        "svg",
        *drawing.board(),
        *drawing.windows(),
        *drawing.ends(),
        *(drawing.borders() if drawing.alone else drawing.rings()),
        *names,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(sheet.width)} {number(sheet.height)}",
        width=f"{number(sheet.width)}mm",
        height=f"{number(sheet.height)}mm",
        font_family=_FONT,
    )
    return Picture(
        svg=svg,
        words=f"{caption.replace('\n', ', ')}. {drawing.said()}",
        width=sheet.width,
        height=sheet.height,
        captioned=drawing.alone and bool(names),
    )


class _BackDrawing:
    """What is drawn on a sheet."""

    def __init__(self, sheet: PlanSheet, plan: GuidePlan, figures: Figures) -> None:
        self.sheet, self.marks, self.scale = sheet, sheet.marks, plan.marked_on(figures.unit)
        self.numbers = plan.numbers
        self.offset = bool(plan.cutter.start_offset or plan.cutter.end_offset)
        self.alone = len(sheet.marks.windows) == 1

    def board(self) -> Iterator[Markup]:
        """Draw guide lines right across, the blank in full lines, and the edges that count dashed (G7).

        Lines that cross at no mark are drawn only where their settings are read off them (B9).
        """
        at, marks = self.sheet.at, self.marks
        if marks.guide_lines and (marks.to_mark or not self.alone):
            lines = ((at(one.begins), at(one.ends)) for one in marks.guide_lines)
            yield path(*lines, **_INK, stroke_width=THIN, stroke_dasharray="1.2 0.9")
        if marks.blank.size != marks.size:
            corners = self.sheet.edges.corners
            yield path(corners, closed=True, **_INK, stroke_width=FINE, stroke_dasharray="0.8 0.6")
        yield rectangle(self._blank(), **_INK, stroke_width=PLAIN)

    def _blank(self) -> Box:
        """Return where the blank is drawn: one that is smaller than the edges that count, visibly inside them (G7)."""
        edges, box = self.sheet.edges, self.sheet.box(self.marks.blank)
        if self.marks.blank.size == self.marks.size:
            return box
        return Box.between(
            max(box.x, edges.x + _INSIDE),
            max(box.y, edges.y + _INSIDE),
            min(box.right, edges.right - _INSIDE),
            min(box.bottom, edges.bottom - _INSIDE),
        )

    def windows(self) -> Iterator[Markup]:
        """Draw the outlines of windows, and the middle of the oval that a curved one is cut by (G20)."""
        for window, lying in zip(self.marks.mat.windows, self.marks.windows, strict=True):
            rise = 0.0 if window.rise is None else coordinate(window.rise) * self.sheet.scale
            outline = Outline(self.sheet.box(lying), window.shape, rise)
            yield drawn(outline, fill="#fff", stroke="#000", stroke_width=BOLD)
            if window.shape is not Shape.RECTANGLE:
                x, y = outline.box.centre
                y = outline.box.y + rise if rise else y
                strokes = (((x - 1.4, y), (x + 1.4, y)), ((x, y - 1.4), (x, y + 1.4)))
                yield path(*strokes, **_INK, stroke_width=FINE)

    def ends(self) -> Iterator[Markup]:
        """Mark cuts that begin or end off the crossings of lines, where no stop binds them: from a dot to a bar (B5, B9)."""
        for one in self.marks.cut_lines if self.offset else ():
            yield from self._ends(one)

    def _ends(self, one: CutLine) -> Iterator[Markup]:
        (x1, y1), (x2, y2) = self.sheet.at(one.begins), self.sheet.at(one.ends)
        if one.cut.start_to_mark:
            yield element("circle", cx=x1, cy=y1, r=_DOT, fill="#000")
        if not one.cut.end_to_mark:
            return
        across, down = (_BAR, 0.0) if one.cut.edge_as_it_lies.upright else (0.0, _BAR)
        yield path(((x2 - across, y2 - down), (x2 + across, y2 + down)), **_INK, stroke_width=BOLD)

    def borders(self) -> Iterator[Markup]:
        """Draw a line across each border, its figure beside the mat, and its setting's number on its disc."""
        (lying,) = self.marks.windows
        window, edges = self.sheet.box(lying), self.sheet.edges
        x, y = window.centre
        spans = (
            ((edges.x, y), (window.x, y)),
            ((window.right, y), (edges.right, y)),
            ((x, edges.y), (x, window.y)),
            ((x, window.bottom), (x, edges.bottom)),
        )
        yield path(*spans, **_INK, stroke_width=FINE)
        half = _TICK / 2
        ends = (end for span in spans for end in span)
        ticks = (((a - half, b + half), (a + half, b - half)) for a, b in ends)
        yield path(*ticks, **_INK, stroke_width=PLAIN)
        numbered: list[tuple[str, Point]] = []
        for edge in Edge:
            figure, ring = self._border(lying, edge, window.centre)
            yield figure
            numbered += [ring] if ring[0] else []
        if numbered:
            yield from ringed(numbered)

    def _border(self, lying: Lying, edge: Edge, centre: Point) -> tuple[Markup, tuple[str, Point]]:
        """Write a figure along its side, and return the number and the place of the ring before it."""
        text = self.scale.text(border_as_it_lies(self.marks, lying, edge))
        ring = self._number_at(edge)
        wide = width_of(text, FIGURE) * _LETTER + (2 * RING + 1 if ring else 0)
        before, behind = wide / 2 - RING, RING + 0.5 if ring else 0.0
        sheet, (x, y) = self.sheet, centre
        if edge.upright:
            across = BESIDE / 2 if edge is Edge.LEFT else sheet.width - BESIDE / 2
            at = (across + FIGURE * 0.34, y - behind)
            return written(text, at, turned=True), (ring, (across, y + before))
        down = BESIDE / 2 if edge is Edge.TOP else sheet.height - BESIDE / 2
        return written(text, (x + behind, down + FIGURE * 0.34)), (ring, (x - before, down))

    def _number_at(self, edge: Edge) -> str:
        """Return the setting of the cut at an edge; empty for one that is not cut along the guide."""
        cuts = (line.cut for line in self.marks.cut_lines)
        return next((self.numbers[cut] for cut in cuts if cut.edge_as_it_lies is edge), "")

    def rings(self) -> Iterator[Markup]:
        """Draw the number of the setting beside one end of every guide line, kept apart."""
        strokes, numbered = [], []
        for edge in Edge:
            lines = [line for line in self.marks.guide_lines if line.edge is edge]
            lines.sort(key=self._along)
            wishes = [self._along(line) for line in lines]
            places = spread(wishes, [_APART] * len(wishes))
            near, far = self._beside(edge)
            for line, wish, place in zip(lines, wishes, places, strict=True):
                ends = ((wish, near), (place, far))
                if not edge.upright:
                    ends = ((near, wish), (far, place))
                strokes.append(ends)
                numbered.append((self.numbers[line.cuts[0]], ends[1]))
        if numbered:
            yield path(*strokes, **_INK, stroke_width=THIN)
            yield from ringed(numbered)

    def _beside(self, edge: Edge) -> tuple[float, float]:
        """Return where the lines of an edge leave the board, and where their rings stand."""
        if RULE_OF[edge] in (Side.TOP, Side.LEFT):
            return BESIDE, RING + 0.2
        whole = self.sheet.height if edge.upright else self.sheet.width
        return whole - BESIDE, whole - RING - 0.2

    def _along(self, line: GuideLine) -> float:
        x, y = self.sheet.at(line.begins)
        return x if line.edge.upright else y

    def names(self, caption: str, beneath: str = "") -> Iterator[Markup]:
        """Write the names of several windows, or the caption in the only one where there is room, and what is said beneath it."""
        for window, lying in zip(self.marks.mat.windows, self.marks.windows, strict=True):
            text, box = caption if self.alone else lying.name, self.sheet.box(lying)
            x, y = box.centre
            low = CAPTION * (0.35 if window.shape is Shape.RECTANGLE else 1.5)
            fits = width_of(text, CAPTION) * _LETTER <= box.width - 1
            if fits and box.height >= CAPTION * 1.3:
                more = self._line_below(beneath, box, low) if self.alone else ()
                up = CAPTION * 0.6 if more and window.shape is Shape.RECTANGLE else 0.0
                yield from more
                yield written(text, (x, y + low - up), size=CAPTION, weight=400)

    def _line_below(self, text: str, box: Box, low: float) -> tuple[Markup, ...]:
        """Write a line below the caption in a window; nothing where it has no room."""
        x, y = box.centre
        down = y + low + CAPTION * (0.6 if low < CAPTION else 1.2)
        if not text or width_of(text, CAPTION) * _LETTER > box.width - 1 or down > box.bottom - 1:
            return ()
        return (written(text, (x, down), size=CAPTION, weight=400),)

    def said(self) -> str:
        """Say what is drawn, for whoever cannot see it."""
        if not self.alone:
            windows, lines = len(self.marks.windows), len(self.marks.guide_lines)
            return f"{windows} windows, {lines} guide lines."
        (lying,) = self.marks.windows
        sides = (
            f"{edge.value} {self.scale.text(border_as_it_lies(self.marks, lying, edge))}"
            for edge in (Edge.LEFT, Edge.RIGHT, Edge.TOP, Edge.BOTTOM)
        )
        return f"Borders: {', '.join(sides)}."
