"""Marks against an independent transformation of the front view: matrices of a geometry library.

What is seen from the front is drawn as polygons and mirrored by the matrix x' = width - x, which
knows nothing of the program's edges (G10). Coordinates are mm; the library's floats are compared to
a millionth.
"""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box
from shapely.affinity import affine_transform

from app.bench import (
    BoardPoint,
    Cutter,
    Edge,
    MatToCut,
    NamedWindow,
    Stroke,
    marks_of,
    plan_settings,
)
from app.drawings.mats.marked import MarkedMat
from app.lengths import Length, Unit
from app.web.pieces.cutter_panel import mat_marks
from tests.property.bench_mats import cutters, mats, pieces

TINY = 1e-6


def as_it_lies(shape: Polygon, mat: MatToCut) -> Polygon:
    """A shape of the front view as it lies on the cutter: back up, mirrored; face up, as it is."""
    if mat.reverse:
        return shape
    return affine_transform(shape, [-1, 0, 0, 1, float(mat.reference.width.mm), 0])


def outline(mat: MatToCut, window: NamedWindow) -> Polygon:
    """A window from the front on the side that lies up."""
    in_by = float(mat.run.mm) if mat.reverse else 0.0
    x, y, width, height = (
        float(length.mm) for length in (window.x, window.y, window.width, window.height)
    )
    return box(x + in_by, y + in_by, x + width - in_by, y + height - in_by)


def xy(at: BoardPoint) -> tuple[float, float]:
    return (float(at.x.mm), float(at.y.mm))


def edge_of_the_board(mat: MatToCut, edge: Edge) -> LineString:
    """An edge named from the front, as it lies."""
    width, height = float(mat.reference.width.mm), float(mat.reference.height.mm)
    front = {
        Edge.LEFT: LineString([(0, 0), (0, height)]),
        Edge.RIGHT: LineString([(width, 0), (width, height)]),
        Edge.TOP: LineString([(0, 0), (width, 0)]),
        Edge.BOTTOM: LineString([(0, height), (width, height)]),
    }[edge]
    return as_it_lies(front, mat)  # type: ignore[arg-type,return-value]


@given(mats(most=3), cutters())
@settings(max_examples=60)
def test_windows_lie_where_the_mirrored_front_view_has_them(mat: MatToCut, cutter: Cutter) -> None:
    marks = marks_of(mat, cutter)
    for window, drawn in zip(mat.windows, marks.windows, strict=True):
        x, y = xy(drawn.at)
        there = box(x, y, x + float(drawn.size.width.mm), y + float(drawn.size.height.mm))
        assert drawn.name == window.name
        assert there.symmetric_difference(as_it_lies(outline(mat, window), mat)).area < TINY * 1000


@given(mats(most=3), cutters(plain=True))
@settings(max_examples=60)
def test_the_cuts_of_a_cutter_without_offsets_are_the_outlines_of_the_windows(
    mat: MatToCut, cutter: Cutter
) -> None:
    marks = marks_of(mat, cutter)
    for window in mat.windows:
        lines = [
            LineString([xy(line.begins), xy(line.ends)])
            for line in marks.cut_lines
            if line.cut.window == window
        ]
        border = as_it_lies(outline(mat, window), mat).exterior
        assert len(lines) == 4
        assert sum(line.length for line in lines) == pytest.approx(border.length)
        assert all(line.within(border.buffer(TINY)) for line in lines)


@given(mats(most=3), cutters())
@settings(max_examples=60)
def test_the_bevel_leans_away_from_the_window(mat: MatToCut, cutter: Cutter) -> None:
    """The board edge against the guide is the window edge's own: board lies between it and the cut,
    and the window beyond (B3)."""
    for line in marks_of(mat, cutter).cut_lines:
        against = edge_of_the_board(mat, line.cut.edge)
        cut = LineString([xy(line.begins), xy(line.ends)])
        middle = as_it_lies(outline(mat, line.cut.window), mat).centroid
        assert against.distance(cut) == pytest.approx(float(line.cut.distance.mm))
        assert against.distance(middle) > against.distance(cut)
        assert cut.distance(as_it_lies(outline(mat, line.cut.window), mat).exterior) < TINY


@given(mats(most=3), cutters())
@settings(max_examples=60)
def test_with_the_guide_on_the_left_the_head_runs_as_the_stroke_says(
    mat: MatToCut, cutter: Cutter
) -> None:
    """Pulled, the head comes towards the hand: who looks along the bar sees the guide on the left
    and the cut run against the look. The sign of the cross product tells (y runs down)."""
    for line in marks_of(mat, cutter).cut_lines:
        against = edge_of_the_board(mat, line.cut.edge).centroid
        (bx, by), (ex, ey) = xy(line.begins), xy(line.ends)
        sign = -1 if cutter.stroke is Stroke.PULL else 1
        look = (sign * (ex - bx), sign * (ey - by))
        left = (look[1], -look[0])
        assert (against.x - bx) * left[0] + (against.y - by) * left[1] > 0


@given(mats(most=3), cutters())
@settings(max_examples=60)
def test_start_and_end_are_measured_from_the_edges_that_they_name(
    mat: MatToCut, cutter: Cutter
) -> None:
    """Both by distance in the mirrored view, and each beyond its corner by the cutter's offset."""
    for line in marks_of(mat, cutter).cut_lines:
        corners = as_it_lies(outline(mat, line.cut.window), mat)
        for at, mark, front, offset in (
            (line.begins, line.from_start, line.cut.start, cutter.start_offset),
            (line.ends, line.from_end, line.cut.end, cutter.end_offset),
        ):
            edge = edge_of_the_board(mat, front.edge)
            assert edge.distance(Point(xy(at))) == pytest.approx(float(mark.distance.mm))
            assert mark.distance == front.distance
            assert edge.distance(corners) - edge.distance(Point(xy(at))) == pytest.approx(
                float(offset.mm), abs=TINY
            )


@given(mats(most=3), cutters())
@settings(max_examples=40)
def test_guide_lines_carry_every_cut_once_and_span_the_board(mat: MatToCut, cutter: Cutter) -> None:
    marks = marks_of(mat, cutter)
    on_lines = [cut for line in marks.guide_lines for cut in line.cuts]
    assert len(on_lines) == len(marks.cut_lines) == 4 * len(mat.windows)
    width, height = float(mat.reference.width.mm), float(mat.reference.height.mm)
    for line in marks.guide_lines:
        drawn = LineString([xy(line.begins), xy(line.ends)])
        assert drawn.length == pytest.approx(height if line.edge.upright else width)
        for cut in line.cuts:
            assert edge_of_the_board(mat, cut.edge).distance(drawn) == pytest.approx(
                float(line.distance.mm)
            )


def on_steps(length: Length, cutter: Cutter) -> Fraction:
    """The nearest step of the scale, half-way up, by looking at both neighbours; in its unit."""
    step = cutter.step.in_unit(cutter.unit)
    number = length.in_unit(cutter.unit)
    below = number - number % step
    return below if number - below < step / 2 else below + step


def read_back(text: str) -> Fraction:
    """A bare figure as a person reads it: "62.5", "2 7/16", "−1/8"."""
    sign = -1 if text.startswith("−") else 1
    return sign * sum((Fraction(part) for part in text.lstrip("−").split()), Fraction(0))


@given(mats(most=2), cutters(), st.sampled_from(Unit))
@settings(max_examples=60)
def test_every_mark_is_a_whole_number_of_steps_of_the_scale_on_any_ticket(
    mat: MatToCut, cutter: Cutter, ticket: Unit
) -> None:
    """Source: L3, B5. Each mark has one figure, on the page and in the JSON alike; no inch is a decimal."""
    lines = marks_of(mat, cutter).cut_lines
    rows = mat_marks(mat, cutter, ticket, name="mat").rows
    for line, row in zip(lines, rows, strict=True):
        for said, exact in (
            (row.line, line.cut.distance),
            (row.start.partition(" from ")[0].partition(" past ")[0], line.from_start.distance),
            (row.end.partition(" from ")[0].partition(" past ")[0], line.from_end.distance),
        ):
            figure, _, check = said.partition(" (")
            assert read_back(figure) == abs(on_steps(exact, cutter))
            assert bool(check) is (ticket is not cutter.unit)
            assert not (cutter.unit is Unit.IN and "." in figure)


@given(pieces(most=2), cutters(), st.sampled_from(Unit))
@settings(max_examples=40)
def test_a_drawing_with_marks_has_the_figures_of_the_scale_and_no_others(
    piece: tuple[MatToCut, ...], cutter: Cutter, ticket: Unit
) -> None:
    plan = plan_settings(piece, cutter, ticket=ticket)
    for mat in piece:
        marked = MarkedMat(marks_of(mat, cutter), plan, ticket)
        said = {
            read_back(part.text)
            for readings in marked.readings.values()
            for reading in readings
            for part in reading.parts
            if part.text
        }
        wanted = {
            on_steps(distance, cutter)
            for line in marked.marks.cut_lines
            for distance in (line.cut.distance, line.from_start.distance, line.from_end.distance)
        }
        assert said == wanted
