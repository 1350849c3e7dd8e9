"""Each edge of a window against its own board edge, with start and end (B1, B3, B5)."""

from dataclasses import replace

import pytest

from app.bench import Cut, Cutter, Edge, MatToCut, Reads, Stroke, cuts_of
from app.framing import Shape
from app.lengths import mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, oval, rows_of_eight, window


def by_edge(of: MatToCut, cutter: Cutter) -> dict[Edge, Cut]:
    return {cut.edge: cut for cut in cuts_of(of, cutter)}


def test_a_setting_is_the_border_where_the_scale_reads_the_back_line() -> None:
    cuts = by_edge(framed_by("60", "65", "70", "80"), CUTTER)
    assert {edge.value: str(cut.wanted.mm) for edge, cut in cuts.items()} == {
        "left": "60",
        "right": "65",
        "top": "70",
        "bottom": "80",
    }


def test_a_scale_that_reads_the_face_is_set_less_by_the_bevels_run() -> None:
    """By hand: 70 - 1.4 at 45 degrees through 1.4 mm (B1)."""
    cuts = by_edge(framed_by("70", "70", "70", "70"), replace(CUTTER, reads=Reads.FACE))
    assert cuts[Edge.LEFT].wanted == mm("68.6")
    assert cuts[Edge.LEFT].distance == mm(70)


def test_the_cutters_correction_is_added_with_its_sign() -> None:
    short = replace(CUTTER, guide_correction=mm("-0.75"))
    assert by_edge(framed_by("70", "70", "70", "70"), short)[Edge.TOP].wanted == mm("69.25")


@pytest.mark.parametrize(
    ("edge", "start", "end"),
    [
        # Back up, the left edge lies to the right; with it against a guide on the left the mat is
        # turned half round, so that its bottom is at the far end, where a pulled cut begins.
        (Edge.LEFT, (Edge.BOTTOM, "80"), (Edge.TOP, "70")),
        (Edge.TOP, (Edge.LEFT, "60"), (Edge.RIGHT, "65")),
        (Edge.RIGHT, (Edge.TOP, "70"), (Edge.BOTTOM, "80")),
        (Edge.BOTTOM, (Edge.RIGHT, "65"), (Edge.LEFT, "60")),
    ],
)
def test_a_pulled_cut_begins_at_the_far_end(
    edge: Edge, start: tuple[Edge, str], end: tuple[Edge, str]
) -> None:
    cut = by_edge(framed_by("60", "65", "70", "80"), CUTTER)[edge]
    assert (cut.start.edge, str(cut.start.distance.mm)) == start
    assert (cut.end.edge, str(cut.end.distance.mm)) == end


def test_a_pushed_cut_runs_the_other_way() -> None:
    pulled = by_edge(framed_by("60", "65", "70", "80"), CUTTER)
    pushed = by_edge(framed_by("60", "65", "70", "80"), replace(CUTTER, stroke=Stroke.PUSH))
    for edge in Edge:
        assert (pushed[edge].start, pushed[edge].end) == (pulled[edge].end, pulled[edge].start)


def test_a_cut_begins_and_ends_beyond_the_corner_by_the_offsets() -> None:
    """By hand: top cut from left 60 - 1.5 to right 65 + 0.5; 200 + 1.5 - 0.5 long (B5)."""
    cutter = replace(CUTTER, start_offset=mm("1.5"), end_offset=mm("-0.5"))
    cut = by_edge(framed_by("60", "65", "70", "80"), cutter)[Edge.TOP]
    assert (cut.start.distance, cut.end.distance) == (mm("58.5"), mm("65.5"))
    assert cut.length == mm(201)


def test_a_reverse_bevel_is_cut_face_up_at_the_smaller_hole() -> None:
    """By hand: border 60 + run 2 at the face; where the blade comes out it is 60 again (G8)."""
    reverse = mat("320", "260", window("A", "60", "60", "200", "140"), run="2", reverse=True)
    at_the_line = by_edge(reverse, CUTTER)[Edge.LEFT]
    at_the_other = by_edge(reverse, replace(CUTTER, reads=Reads.FACE))[Edge.LEFT]
    assert (at_the_line.wanted, at_the_other.wanted) == (mm(62), mm(60))
    assert at_the_line.edge_as_it_lies is Edge.LEFT
    assert at_the_line.start.edge is Edge.TOP


def test_back_up_left_and_right_change_places_and_top_stays() -> None:
    cuts = by_edge(framed_by("60", "65", "70", "80"), CUTTER)
    lies = {edge: cut.edge_as_it_lies for edge, cut in cuts.items()}
    assert lies == {
        Edge.LEFT: Edge.RIGHT,
        Edge.RIGHT: Edge.LEFT,
        Edge.TOP: Edge.TOP,
        Edge.BOTTOM: Edge.BOTTOM,
    }


def test_windows_on_one_line_are_cut_in_the_direction_of_the_stroke() -> None:
    cuts = [c for c in cuts_of(rows_of_eight(), CUTTER) if c.edge is Edge.TOP]
    first_row = [c.window.name for c in cuts if c.distance == mm(60)]
    assert first_row == ["A0", "A1", "A2", "A3"]


def test_an_oval_window_has_no_cut_along_the_guide() -> None:
    assert cuts_of(mat("300", "300", oval("A", "50", "50", "200", "200")), CUTTER) == ()


def test_the_straight_sides_of_an_arch_end_where_it_begins_to_round() -> None:
    """By hand: 50 from the top + a rise of 60 = 110 from the top, and no offset there."""
    arched = replace(window("A", "60", "50", "120", "200"), shape=Shape.ARCH, rise=mm(60))
    cutter = replace(CUTTER, start_offset=mm(1), end_offset=mm(2))
    cuts = by_edge(mat("240", "310", arched), cutter)
    assert set(cuts) == {Edge.LEFT, Edge.RIGHT, Edge.BOTTOM}
    left, right = cuts[Edge.LEFT], cuts[Edge.RIGHT]
    assert (left.start.edge, left.start.distance) == (Edge.BOTTOM, mm(59))
    assert (left.end.edge, left.end.distance) == (Edge.TOP, mm(110))
    assert (right.start.edge, right.start.distance) == (Edge.TOP, mm(110))
    assert left.length == mm(141)


def test_an_arch_that_is_round_from_its_foot_has_only_that_straight() -> None:
    arched = replace(window("A", "60", "50", "120", "60"), shape=Shape.ARCH, rise=mm(60))
    assert set(by_edge(mat("240", "170", arched), CUTTER)) == {Edge.BOTTOM}
