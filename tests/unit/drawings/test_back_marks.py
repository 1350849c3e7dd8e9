"""Marks of a mat as it lies on the cutter; figures by hand from B1, B3, B5, G7 and G10."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache, partial
from itertools import combinations
from xml.etree import ElementTree

import pytest

from app.bench import Cutter, Stops, marks_of, mats_to_cut, plan_settings, usual_cutter
from app.drawings import NotedDrawing, back_marks
from app.framing import Dimensions, in_steps, work_out
from app.lengths import Steps, Unit, inches, mm
from tests.builders.cutters import with_pins
from tests.builders.drawn import (
    borders,
    many,
    mat,
    moulding,
    of_class,
    points,
    read,
    spec,
    texts,
)
from tests.unit.drawings.several import arch, eight, many_windows, oval

PLAIN = replace(usual_cutter(Unit.MM), guide_reach=mm(5000))
OFF = replace(PLAIN, start_offset=mm("1.5"), end_offset=mm("-0.5"), guide_correction=mm("0.5"))
STEPS = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.5")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/32")),
}


def drawn(
    dimensions: Dimensions,
    cutter: Cutter = PLAIN,
    layer: int = 1,
    unit: Unit = Unit.MM,
    *,
    alone: bool = False,
) -> NotedDrawing:
    mats = mats_to_cut(in_steps(dimensions, STEPS[unit]))
    plan = plan_settings(mats[layer - 1 : layer] if alone else mats, cutter, ticket=unit)
    return back_marks(marks_of(mats[layer - 1], cutter), plan, unit)


def said(drawing: NotedDrawing) -> list[str]:
    written = [one.text for one in texts(read(drawing.svg))]
    return [text.replace("\u00a0", " ") for text in (*written, *drawing.notes)]


def uneven() -> Dimensions:
    """A window of 410 × 287 in borders of 60 left, 90 right, 70 above, 80 below: 560 × 437."""
    return work_out(
        spec(420, 297, mats=(mat(),), borders=borders(60, 90, 70, 80), frames=(moulding(),))
    )


def cuts(drawing: NotedDrawing) -> list[list[tuple[float, float]]]:
    return [points(one) for one in of_class(read(drawing.svg), "cut")]


def every() -> Iterator[tuple[str, Callable[[], NotedDrawing]]]:
    pieces = {**many(), **many_windows()}
    for name, dimensions in pieces.items():
        for layer in range(1, len(dimensions.layers) + 1):
            for kind, cutter in (("plain", PLAIN), ("off", OFF)):
                for unit in Unit:
                    yield (
                        f"{name} {layer} {kind} {unit}",
                        partial(drawn, dimensions, cutter, layer, unit, alone=True),
                    )


EVERY = dict(every())
"""How each is drawn: all of them take seconds, which whoever only collects tests need not wait."""


@cache
def svg_of(name: str) -> str:
    return EVERY[name]().svg


@pytest.fixture(params=EVERY, ids=str)
def root(request: pytest.FixtureRequest) -> ElementTree.Element:
    return read(svg_of(request.param))


def test_no_text_lies_on_another(root):
    for one, other in combinations(texts(root), 2):
        assert not one.overlaps(other), (one, other)


def test_every_text_lies_inside_the_sheet(root):
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    for one in texts(root):
        assert left <= one.left, one
        assert one.right <= left + width, one
        assert top <= one.top, one
        assert one.bottom <= top + height, one


def test_it_has_a_title_and_words_and_nothing_inline(root):
    assert root[0].text
    assert root[1].text
    for one in root.iter():
        assert {"style", "id", "onload", "onclick"}.isdisjoint(one.attrib)


def test_cuts_run_where_the_mirrored_window_is_in_the_direction_of_the_stroke():
    # From the back the window lies 90 from the left, 70 from the top: to 500 and 357. Pulled with
    # the edge against the guide, the far end of a left edge is its top.
    assert sorted(cuts(drawn(uneven()))) == sorted(
        [
            [(90, 70), (90, 357)],
            [(500, 70), (90, 70)],
            [(500, 357), (500, 70)],
            [(90, 357), (500, 357)],
        ]
    )


def test_guide_lines_run_right_across_the_board():
    (guides,) = of_class(read(drawn(uneven()).svg), "guide")
    ends = points(guides)
    lines = {tuple(sorted(pair)) for pair in zip(ends[::2], ends[1::2], strict=True)}
    assert lines == {
        ((90, 0), (90, 437)), ((500, 0), (500, 437)), ((0, 70), (560, 70)), ((0, 357), (560, 357)),
    }  # fmt: skip


def test_each_line_has_its_distance_and_the_number_of_its_setting():
    figures = said(drawn(uneven()))
    for figure in ("60", "70", "80", "90", "1", "2", "3", "4"):
        assert figures.count(figure) == 1, figure
    # The guide comes from its far end, so the widest border is set first.
    assert "Guide: 1 at 90, 2 at 80, 3 at 70, 4 at 60." in figures


def test_equal_borders_share_one_number():
    dimensions = work_out(
        spec(300, 200, mats=(mat(),), borders=borders(60, 60, 60, 60), frames=(moulding(),))
    )
    figures = said(drawn(dimensions))
    assert figures.count("1") == figures.count("60") == 4
    assert "Guide: 1 at 60." in figures


def test_where_lines_cross_no_figure_is_needed_for_start_and_end():
    assert "from crossing to crossing" in " ".join(said(drawn(uneven())))


def test_it_is_said_beside_which_side_the_figures_of_each_edge_stand():
    """A line measured from the left runs from top to bottom, so that its figure stands above."""
    assert (
        "Figures stand at the end of their line, not at the border: from the left above, "
        "from the top at the right, from the right below, from the bottom at the left."
    ) in " ".join(said(drawn(eight())))


def test_with_one_window_number_and_distance_stand_at_the_cut_beside_its_line():
    """The window lies from 90 to 500 across and from 70 to 357 down, back up; each figure stands inside it, nearer to
    its own line than to the others."""
    drawing = drawn(uneven())
    assert "then how far its line is from the edge." in " ".join(said(drawing))
    assert "at the end of their line" not in " ".join(said(drawing))
    at = {one.text: one for one in texts(read(drawing.svg))}
    assert 90 < at["90"].left < at["90"].right < 295
    assert 295 < at["60"].left < at["60"].right < 500
    assert 70 < at["70"].top < at["70"].bottom < 213
    assert 213 < at["80"].top < at["80"].bottom < 357


def test_with_several_windows_each_cut_has_its_number_and_each_line_its_distance_at_its_end():
    drawing = drawn(eight())
    assert "Where a cut starts stands the number of its setting, on a disc." in drawing.notes
    figures = said(drawing)
    # The four windows of a row share their line from the top: one distance, but a number at each of their cuts.
    assert len([text for text in figures if text.isdigit() and len(text) == 1]) >= 32


def test_offsets_have_figures_of_their_own_and_the_scale_its_correction():
    drawing = drawn(uneven(), OFF)
    figures = said(drawing)
    # Every cut begins 1.5 before its corner and ends 0.5 short of it; 60 becomes 58.5 and 60.5.
    for border in ("60", "70", "80", "90"):
        assert figures.count(border) == 1
    for figure in ("58.5", "60.5", "68.5", "70.5", "78.5", "80.5", "88.5", "90.5"):
        assert figures.count(figure) == 1, figure
    assert "Guide: 1 at 90.5, 2 at 80.5, 3 at 70.5, 4 at 60.5." in figures
    assert [(90, 68.5), (90, 356.5)] in cuts(drawing)


def test_eight_windows_have_32_cuts_on_twelve_lines():
    drawing = drawn(eight())
    assert len(cuts(drawing)) == 32
    (guides,) = of_class(read(drawing.svg), "guide")
    # Four lines from the left and four from the right; two from the top and two from the bottom.
    assert len(points(guides)) == 2 * 12
    assert read(drawing.svg)[1].text.startswith("32 cuts on 12 guide lines.")
    assert {"A", "B", "C", "D", "E", "F", "G", "H"} <= set(said(drawing))


def test_the_side_that_lies_up_is_said():
    assert {"BACK OF MAT 1", "left and right are exchanged"} <= set(said(drawn(uneven())))
    reverse = said(drawn(many()["reverse"]))
    assert {"FACE OF MAT 1", "face up for the reverse bevel"} <= set(reverse)


def test_an_oval_has_the_middle_and_the_axes_that_a_cutter_for_ovals_needs():
    drawing = drawn(oval())
    figures = " ".join(said(drawing))
    # 60 + 145 from the left, 60 + 195 from the top.
    assert {"205", "255"} <= set(said(drawing))
    assert "Cutter for ovals, by its axes about the cross: A 290 × 390." in figures
    assert read(drawing.svg)[1].text == "No cut runs along the guide."


def test_the_sides_of_an_arch_begin_and_end_where_it_rounds():
    drawing = drawn(arch())
    # 60 + 80 from the top; the oval that the top belongs to is 290 by 2 × 80.
    assert "140" in said(drawing)
    assert "A 290 × 160." in " ".join(said(drawing))
    assert [(60, 140), (60, 450)] in cuts(drawing)


def test_an_under_mat_fixed_behind_is_marked_from_the_top_mats_edges():
    drawing = drawn(many_windows()["trimmed behind"], layer=2)
    assert "Measure from the ring of mat 1; start at the dot" in " ".join(said(drawing))
    assert "BACK OF MAT 2" in said(drawing)


def test_settings_and_marks_are_in_the_unit_and_the_steps_of_the_scale():
    """The borders of 60, 90, 70, 80 mm are cut in 1/32 in: 2 12/32 = 60.33, 3 17/32 = 89.69, 2 24/32 =
    69.85, 3 5/32 = 80.17. The scale takes the nearest half mm."""
    figures = said(drawn(uneven(), unit=Unit.IN))
    assert "Millimetres. Measure from the edge; start at the dot, stop at the bar," in " ".join(
        figures
    )
    assert "Guide: 1 at 89.5, 2 at 80, 3 at 70, 4 at 60.5." in " ".join(figures)
    assert [text for text in figures if text in ("60.5", "89.5", "70", "80")] == [
        "89.5",
        "70",
        "60.5",
        "80",
    ]


def test_where_cuts_begin_and_end_is_in_the_steps_of_the_scale():
    """On a scale in inches: 1.5 mm beyond 60.33 is 58.83 mm, 2 10.1/32 in; 0.5 short of 89.69 is 90.19,
    3 17.6/32."""
    inch = replace(
        usual_cutter(Unit.IN), guide_reach=mm(5000), start_offset=mm("1.5"), end_offset=mm("-0.5")
    )
    figures = said(drawn(uneven(), inch))
    assert "Inches. Measure from the ring; start at the dot, stop at the bar." in " ".join(figures)
    assert {"2 5/16", "3 9/16"} <= set(figures)
    assert not [text for text in figures if "." in text and text.replace(".", "").isdigit()]


def test_window_sizes_say_their_unit_where_the_marks_have_the_other_one():
    """Marks of an arch are set in mm; the axes of its round top are those of a piece in inches."""
    assert "axes about the cross:" in " ".join(said(drawn(arch(), unit=Unit.IN)))
    assert '"' in " ".join(said(drawn(arch(), unit=Unit.IN)))
    assert '"' not in " ".join(said(drawn(arch())))


def test_a_pin_is_said_with_what_is_left():
    holes = with_pins(PLAIN, first=mm(25), pitch=mm(25))
    figures = " ".join(said(drawn(uneven(), holes)))
    assert "1 at 90 (pin 75, then 15)" in figures


def test_a_plan_of_other_mats_is_refused():
    mats = mats_to_cut(in_steps(uneven(), STEPS[Unit.MM]))
    other = plan_settings(mats_to_cut(in_steps(arch(), STEPS[Unit.MM])), PLAIN)
    with pytest.raises(ValueError, match="no setting for layer 1"):
        back_marks(marks_of(mats[0], PLAIN), other, Unit.MM)


def stopped(**stops: bool) -> Cutter:
    return replace(OFF, guide_correction=mm(0), stops=Stops(**stops))


def ends_drawn(cutter: Cutter) -> tuple[int, int]:
    """How many starts and ends are drawn: a dot is a circle, a bar a short stroke across."""
    root = read(drawn(uneven(), cutter).svg)
    (group,) = of_class(root, "cuts")
    dots = sum(one.tag.endswith("circle") for one in group.iter())
    strokes = sum(one.tag.endswith("path") and one.get("class") != "cut" for one in group.iter())
    return dots, strokes


def test_only_ends_without_a_stop_are_drawn():
    # Pulled, a cut begins at the far stop and ends at the near one.
    assert ends_drawn(stopped()) == (4, 4)
    assert ends_drawn(stopped(near=True)) == (4, 0)
    assert ends_drawn(stopped(far=True)) == (0, 4)
    assert ends_drawn(stopped(near=True, far=True)) == (0, 0)


def test_between_two_stops_the_figures_are_those_of_the_guide_alone():
    figures = said(drawn(uneven(), stopped(near=True, far=True)))
    for figure in ("60", "70", "80", "90", "1", "2", "3", "4"):
        assert figures.count(figure) == 1, figure
    for mark in ("58.5", "68.5", "78.5", "88.5", "60.5", "70.5", "80.5", "90.5"):
        assert mark not in figures


@pytest.mark.parametrize(
    ("cutter", "words"),
    [
        (stopped(), "start at the dot, stop at the bar."),
        (stopped(near=True), "start at the dot, run to the stop."),
        (stopped(far=True), "start at the stop, end at the bar."),
        (stopped(near=True, far=True), "stops begin and end every cut, so that no end is marked."),
        (
            replace(PLAIN, stops=Stops(near=True)),
            "start at the crossing, run to the stop.",
        ),
    ],
)
def test_it_says_from_where_to_where_a_cut_runs(cutter: Cutter, words: str):
    assert words in " ".join(said(drawn(uneven(), cutter)))
