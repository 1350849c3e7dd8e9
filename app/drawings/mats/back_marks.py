"""The plan of one mat as it lies on the cutter, with every mark that goes onto it (B5).

Guide lines run right across the board, cuts are drawn bold, from a dot to a bar, each only where no stop
binds the cut. At each cut stand the number of its setting in the order of work and how far it is from the
edge against the guide; of several windows the number alone, and the distance at one end of the line, which
many cuts share. Where a cut begins or ends off the crossing of two lines, a figure of its own says so.
"""

from collections.abc import Sequence

from app.bench import CutLine, Edge, GuidePlan, Marks
from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK, Pencil, drawing, union
from app.drawings.canvas.heading import written_above
from app.drawings.canvas.names import Inside, rooms_of, written_inside
from app.drawings.canvas.notes import NotedDrawing
from app.drawings.canvas.shapes import Outline, drawn, outlined
from app.drawings.canvas.svg import Markup, Point, group, number, part_way, path, polygon
from app.drawings.canvas.symbols import bar, cross, dot
from app.drawings.dimensioning.fitting import LEAST_ACROSS, fitted_with_notes
from app.drawings.dimensioning.running import Running
from app.drawings.mats.at_cuts import AtCut, with_figures, with_numbers, written
from app.drawings.mats.marked import RULE_OF, LyingWindow, MarkedMat, spot
from app.framing import Shape
from app.lengths import Unit

_ACROSS = ((8, 32), (24, 44))
"""Up to so many windows so many letter heights along the longer side."""

_LARGE = ((20, 12), (22, 14), (24, 16), (28, 19))
"""The same, and letter heights along the board itself, tried in turn where one window may have room for all figures
within it: at the first, letters of 16 px on a phone of 390, on which 340 px are left for the drawing."""


def back_marks(marks: Marks, plan: GuidePlan, unit: Unit) -> NotedDrawing:
    """Return a mat's marks as a drawing with its notes, settings and distances as the cutter's scale reads.

    marks, plan: of the same cutter; the plan may be of several pieces. unit: of the piece, which sizes of
    windows are in. Lines are drawn where they are exactly.
    Raises: ValueError for a plan that does not cut this mat.
    """
    mat = MarkedMat(marks, plan, unit, at_cuts=True)
    across = next((n for most, n in _ACROSS if len(mat.windows) <= most), _ACROSS[-1][1])
    for large, least in _LARGE if len(mat.windows) == 1 else ():
        sheet = _sheet(mat, large, least)
        if places := with_figures(mat, sheet.font):
            return NotedDrawing(_drawn(sheet, places), mat.notes(numbered=True))
    sheet = _sheet(MarkedMat(marks, plan, unit), across)
    places = with_numbers(sheet.mat, sheet.font, sheet.written_names())
    return NotedDrawing(_drawn(sheet, places), sheet.mat.notes(numbered=bool(places)))


def _sheet(mat: MarkedMat, across: int, least_across: int = LEAST_ACROSS) -> "_MarkedSheet":
    font = fitted_with_notes(
        mat.edges, lambda font: _MarkedSheet(mat, font).room, (), across, least_across
    )
    return _MarkedSheet(mat, font)


def _drawn(sheet: "_MarkedSheet", places: Sequence[AtCut]) -> str:
    mat, font = sheet.mat, sheet.font
    return drawing(
        sheet.room.inset(-font * 0.5),
        sheet.board(),
        *sheet.rules(),
        sheet.cuts(),
        *written_inside(sheet.names(), font),
        written(places),
        sheet.heading()[1],
        class_="drawing drawing-mat drawing-marks",
        title=f"{mat.heading[0].capitalize()} with its marks",
        desc=_in_words(mat),
    )


class _MarkedSheet:
    """The drawing at one letter height."""

    def __init__(self, mat: MarkedMat, font: float) -> None:
        self.mat, self.font = mat, font
        boxes = [lying.outline.box for lying in mat.windows]
        # Dots and arrows as large as letters would hide small windows.
        smallest = min(min(box.width, box.height) for box in boxes)
        self.pen = max(min(font, smallest / 2.5), font * 0.45)
        self.along = [
            Running(
                RULE_OF[edge],
                mat.edges,
                mat.readings[edge],
                font,
                from_end=edge in (Edge.RIGHT, Edge.BOTTOM),
            )
            for edge in Edge
        ]

    @property
    def around(self) -> Box:
        """The board with the figures beside it."""
        return union((self.mat.edges, *(rule.room for rule in self.along)))

    @property
    def room(self) -> Box:
        """The box around everything but the notes."""
        return union((self.around, self.heading()[0]))

    def board(self) -> Markup:
        """Return the board, and guide lines right across it."""
        mat, thin = self.mat, self.pen * 0.08
        dashes = f"{number(self.font * 0.55)} {number(self.font * 0.4)}"
        windows = tuple(lying.outline for lying in mat.windows)
        curved = (one for one in windows if one.shape is not Shape.RECTANGLE)
        lines = ((spot(line.begins), spot(line.ends)) for line in mat.marks.guide_lines)
        ink = group(
            (
                *(
                    (rectangle(mat.edges, stroke_dasharray=dashes, stroke_opacity=0.6),)
                    if mat.blank != mat.edges
                    else ()
                ),
                outlined(
                    (Outline(mat.blank), *windows),
                    fill_rule="evenodd",
                    fill=INK,
                    fill_opacity=0.07,
                    stroke="none",
                ),
                rectangle(mat.blank, stroke_width=self.font * 0.09),
                *(drawn(one, stroke_width=self.font * 0.12) for one in curved),
            ),
            class_="ink",
            fill="none",
            stroke=INK,
            stroke_width=thin,
        )
        guides = path(
            *lines,
            class_="guide",
            fill="none",
            stroke=INK,
            stroke_width=thin,
            stroke_dasharray=dashes,
        )
        return Markup(ink + Pencil.MEASURE.draws(guides))

    def rules(self) -> tuple[Markup, ...]:
        """Return the figures along each side."""
        return tuple(rule.marks() for rule in self.along)

    def cuts(self) -> Markup:
        """Cuts from dot to bar, and the middles of ovals."""
        crosses = (
            cross(
                spot(lying.middle),
                self.font * 0.5,
                self.font * 0.09,
            )
            for lying in self.mat.windows
            if lying.middle is not None
        )
        return group(
            (*(mark for one in self.mat.marks.cut_lines for mark in self._cut(one)), *crosses),
            class_="ink cuts",
        )

    def _cut(self, one: CutLine) -> tuple[Markup, ...]:
        (x1, y1), (x2, y2) = spot(one.begins), spot(one.ends)
        level = one.cut.edge_as_it_lies in (Edge.TOP, Edge.BOTTOM)
        stroke = path(
            ((x1, y1), (x2, y2)),
            class_="cut",
            fill="none",
            stroke=INK,
            stroke_width=self.pen * 0.15,
        )
        begin = dot((x1, y1), self.pen * 0.24)
        end = bar((x2, y2), self.pen * 0.36, upright=level, width=self.pen * 0.15)
        return (
            stroke,
            *((begin,) if one.cut.start_to_mark else ()),
            *((end,) if one.cut.end_to_mark else ()),
            *self._arrow((x1, y1), (x2, y2)),
        )

    def _arrow(self, begins: Point, ends: Point) -> tuple[Markup, ...]:
        """Return a head on the way, where the cut is long enough to show one."""
        (x1, y1), (x2, y2) = begins, ends
        long = abs(x2 - x1) + abs(y2 - y1)
        if long < self.pen * 2.5:
            return ()
        x, y = part_way(begins, ends, 0.5)
        ahead, aside = self.pen * 0.55 / long, self.pen * 0.3 / long
        along, across = (
            ((x2 - x1) * ahead, (y2 - y1) * ahead),
            ((y1 - y2) * aside, (x2 - x1) * aside),
        )
        head = (
            (x + along[0], y + along[1]),
            (x - along[0] + across[0], y - along[1] + across[1]),
            (x - along[0] - across[0], y - along[1] - across[1]),
        )
        return (polygon(head, fill=INK, stroke="none"),)

    def names(self) -> tuple[Inside, ...]:
        """Return the windows' names and sizes inside them, where there are several."""
        if len(self.mat.windows) < 2:
            return ()
        return tuple(self._name(lying) for lying in self.mat.windows)

    def written_names(self) -> tuple[Box, ...]:
        """Return the room that the names of the windows take."""
        return rooms_of(self.names(), self.font)

    def _name(self, lying: LyingWindow) -> Inside:
        """Return a name; below the cross where there is one."""
        box = lying.outline.inside
        if lying.middle is not None:
            _, y = spot(lying.middle)
            box = Box.between(box.x, y + self.font * 0.5, box.right, box.bottom)
        return Inside(box, lying.window.name, self.mat.size_text(lying.size))

    def heading(self) -> tuple[Box, Markup]:
        """Tell which side lies up."""
        return written_above(self.around, self.mat.edges.centre[0], self.mat.heading, self.font)


def _in_words(mat: MarkedMat) -> str:
    count = len(mat.marks.cut_lines)
    if not count:
        return "No cut runs along the guide."
    lines = len(mat.marks.guide_lines)
    said = [f"{count} cuts on {lines} guide lines."]
    if settings := mat.settings_in_words():
        said.append(f"Settings in the order of work: {settings}.")
    hand = sum(line.cut.by_straight_edge for line in mat.marks.cut_lines)
    if hand:
        said.append(f"{hand} by straight-edge.")
    return " ".join(said)
