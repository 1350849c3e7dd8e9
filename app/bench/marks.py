"""Marks on the board as it lies on the cutter: guide lines, cuts and windows as coordinates.

Owns the mirror: back up, left and right are exchanged (G10). Coordinates run from the left-top
corner of the edges that count, as the mat lies, to the right and down. Drawing them is not done here.
"""

from dataclasses import dataclass

from app.bench.cuts import Cut, Mark, cuts_of, line_on_top
from app.bench.cutter import Cutter
from app.bench.edge import Edge
from app.bench.mats import MatToCut, NamedWindow
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPoint:
    """A point of the board as it lies."""

    x: Length
    y: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardBox:
    """A rectangle of the board as it lies, by its left-top corner. name: of the window."""

    name: str
    at: BoardPoint
    size: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideLine:
    """A line to draw right across the board.

    edge: the board edge, as it lies, that it is measured from and that lies against the guide.
    cuts: those that run on it.
    """

    edge: Edge
    distance: Length
    begins: BoardPoint
    ends: BoardPoint
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """One cut to draw, in the direction of the stroke, with the marks as they are measured.

    from_start, from_end: board edges as they lie, and how far from them the cut begins and ends.
    """

    cut: Cut
    begins: BoardPoint
    ends: BoardPoint
    from_start: Mark
    from_end: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """A mat with its marks. size: of the edges that count; blank: where the board itself lies."""

    mat: MatToCut
    size: Size
    blank: BoardBox
    windows: tuple[BoardBox, ...]
    guide_lines: tuple[GuideLine, ...]
    cut_lines: tuple[CutLine, ...]

    @property
    def to_mark(self) -> bool:
        """Whether any end of a cut is marked; else stops bind them all (B9)."""
        return any(line.cut.start_to_mark or line.cut.end_to_mark for line in self.cut_lines)

    @property
    def back_up(self) -> bool:
        """Whether this is the back of the board, with left and right exchanged."""
        return self.mat.back_up


def marks_of(mat: MatToCut, cutter: Cutter) -> Marks:
    """Return every mark of a mat for a cutter, exact. Source: handbook B5, G10."""
    cuts = cuts_of(mat, cutter)
    trim = mat.trim
    return Marks(
        mat=mat,
        size=mat.reference,
        blank=BoardBox(name="", at=BoardPoint(x=trim.width, y=trim.height), size=mat.blank),
        windows=tuple(_window(mat, window) for window in mat.windows),
        guide_lines=_guide_lines(mat, cuts),
        cut_lines=tuple(_cut_line(mat, cut) for cut in cuts),
    )


def _window(mat: MatToCut, window: NamedWindow) -> BoardBox:
    """Return the outline on the side that lies up; mirrored, x = width - x - width of the window."""
    left, top, right, bottom = (line_on_top(mat, window, edge) for edge in Edge)
    reference = mat.reference
    return BoardBox(
        name=window.name,
        at=BoardPoint(x=right if mat.back_up else left, y=top),
        size=Size(reference.width - left - right, reference.height - top - bottom),
    )


def _guide_lines(mat: MatToCut, cuts: tuple[Cut, ...]) -> tuple[GuideLine, ...]:
    """Return one for each board edge and distance, however many cuts run on it."""
    on_line: dict[tuple[Edge, Length], list[Cut]] = {}
    for cut in cuts:
        on_line.setdefault((cut.edge_as_it_lies, cut.distance), []).append(cut)
    return tuple(
        GuideLine(
            edge=edge,
            distance=distance,
            begins=_along(mat.reference, edge, distance, Mark(edge=edge.clockwise, distance=ZERO)),
            ends=_along(
                mat.reference, edge, distance, Mark(edge=edge.counterclockwise, distance=ZERO)
            ),
            cuts=tuple(on_it),
        )
        for (edge, distance), on_it in on_line.items()
    )


def _cut_line(mat: MatToCut, cut: Cut) -> CutLine:
    edge = cut.edge_as_it_lies
    start, end = (
        Mark(edge=mat.as_it_lies(mark.edge), distance=mark.distance)
        for mark in (cut.start, cut.end)
    )
    return CutLine(
        cut=cut,
        begins=_along(mat.reference, edge, cut.distance, start),
        ends=_along(mat.reference, edge, cut.distance, end),
        from_start=start,
        from_end=end,
    )


def _along(board: Size, edge: Edge, distance: Length, mark: Mark) -> BoardPoint:
    """Return the point on the line at a distance from one edge that a mark measures from another."""
    across, lengthways = _in_from(board, edge, distance), _in_from(board, mark.edge, mark.distance)
    if edge.upright:
        return BoardPoint(x=across, y=lengthways)
    return BoardPoint(x=lengthways, y=across)


def _in_from(board: Size, edge: Edge, distance: Length) -> Length:
    """Return the coordinate of a place at a distance from an edge."""
    match edge:
        case Edge.LEFT | Edge.TOP:
            return distance
        case Edge.RIGHT:
            return board.width - distance
        case Edge.BOTTOM:
            return board.height - distance
