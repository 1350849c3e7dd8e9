"""Marks on the back of a board, worked by hand (B5, G10)."""

from dataclasses import replace

from app.bench import BoardPoint, Edge, Mark, Marks, marks_of
from app.lengths import Size, mm
from tests.builders.at_cutter import CUTTER, framed_by, in_mm, mat, oval, sketch_piece, window


def point(at: BoardPoint) -> tuple[str, str]:
    return (in_mm(at.x), in_mm(at.y))


def windows(marks: Marks) -> dict[str, tuple[str, str]]:
    return {box.name: point(box.at) for box in marks.windows}


def test_a_window_left_of_the_middle_lies_right_of_it_on_the_back() -> None:
    """By hand: 500 wide; x_back = 500 - 60 - 100 = 340 and 500 - 300 - 140 = 60 (G10)."""
    marks = marks_of(
        mat(
            "500",
            "300",
            window("A", "60", "80", "100", "120"),
            window("B", "300", "90", "140", "50"),
        ),
        CUTTER,
    )
    assert marks.back_up
    assert windows(marks) == {"A": ("340", "80"), "B": ("60", "90")}
    assert marks.windows[0].size == Size(mm(100), mm(120))


def test_guide_lines_run_across_the_whole_board_from_the_edge_against_the_guide() -> None:
    """By hand: 325 x 250; the left border of 60 lies to the right, at x = 325 - 60."""
    marks = marks_of(framed_by("60", "65", "70", "80"), CUTTER)
    lines = {
        line.edge.value: (in_mm(line.distance), point(line.begins), point(line.ends))
        for line in marks.guide_lines
    }
    assert lines == {
        "right": ("60", ("265", "250"), ("265", "0")),
        "top": ("70", ("325", "70"), ("0", "70")),
        "left": ("65", ("65", "0"), ("65", "250")),
        "bottom": ("80", ("0", "170"), ("325", "170")),
    }


def test_cuts_on_one_line_share_it() -> None:
    marks = marks_of(
        mat(
            "500",
            "300",
            window("A", "60", "80", "100", "120"),
            window("B", "300", "80", "140", "120"),
        ),
        CUTTER,
    )
    tops = [line for line in marks.guide_lines if line.edge is Edge.TOP]
    assert [[cut.window.name for cut in line.cuts] for line in tops] == [["A", "B"]]
    assert len(marks.guide_lines) == 6
    assert len(marks.cut_lines) == 8


def test_marks_of_a_cut_are_measured_from_the_edges_as_they_lie_with_the_offsets() -> None:
    """By hand: the top cut begins 60 - 1.5 from the edge that lies right, ends 65 + 0.5 from left."""
    cutter = replace(CUTTER, start_offset=mm("1.5"), end_offset=mm("-0.5"))
    marks = marks_of(framed_by("60", "65", "70", "80"), cutter)
    (top,) = (line for line in marks.cut_lines if line.cut.edge is Edge.TOP)
    assert top.from_start == Mark(edge=Edge.RIGHT, distance=mm("58.5"))
    assert top.from_end == Mark(edge=Edge.LEFT, distance=mm("65.5"))
    assert top.begins == BoardPoint(x=mm("266.5"), y=mm(70))
    assert top.ends == BoardPoint(x=mm("65.5"), y=mm(70))


def test_an_attached_mat_is_marked_from_the_top_mats_edges_around_its_smaller_blank() -> None:
    marks = marks_of(sketch_piece()[1], CUTTER)
    assert marks.size == Size(mm(562), mm(449))
    assert (point(marks.blank.at), marks.blank.size) == (("3", "3"), Size(mm(556), mm(443)))
    assert windows(marks) == {"window": ("76", "76")}


def test_a_reverse_bevel_is_marked_on_the_face_and_not_mirrored() -> None:
    """By hand: the hole at the face is smaller by the run of 2 at each edge (G8)."""
    marks = marks_of(
        mat("500", "300", window("A", "60", "80", "100", "120"), run="2", reverse=True), CUTTER
    )
    assert not marks.back_up
    assert windows(marks) == {"A": ("62", "82")}
    assert marks.windows[0].size == Size(mm(96), mm(116))


def test_an_oval_window_is_drawn_by_its_axes_and_has_no_lines() -> None:
    marks = marks_of(mat("500", "300", oval("A", "60", "80", "100", "120")), CUTTER)
    assert windows(marks) == {"A": ("340", "80")}
    assert (marks.guide_lines, marks.cut_lines) == ((), ())
