"""The section; figures worked by hand from D1 and G16, G17 of the handbook."""

from dataclasses import replace

import pytest

from app.drawings import section
from app.drawings.section.profile import profile_of
from app.framing import Dimensions, Panel, Presentation, work_out
from app.lengths import Unit, mm
from tests.builders.drawn import (
    many,
    moulding,
    of_class,
    points,
    read,
    sketch,
    sketch_spec,
    spec,
    texts,
)

MANY = many()


def said(dimensions: Dimensions, unit: Unit = Unit.MM) -> list[str]:
    return [one.text for one in texts(read(section(dimensions, unit)))]


def test_every_part_is_named_with_its_thickness_from_the_front():
    dimensions = work_out(replace(sketch_spec(), mount_board=Panel(thickness=mm("1.5"))))
    names = [t for t in said(dimensions) if t.startswith(("gl", "mat", "art", "mount", "back"))]
    assert names == [
        "glazing 2", "mat 1: 1.4", "mat 2: 1.4", "artwork 0.3", "mount board 1.5", "backing 3",
    ]  # fmt: skip


def test_the_stack_is_set_against_the_rebate():
    # 2 + 1.4 + 1.4 + 0.3 + 3 = 8.1 of 14; 2 are kept for the fixing points: 3.9 are left.
    assert {"rebate 14", "stack 8.1", "fixing 2", "room left 3.9"} <= set(said(sketch()))
    assert len(of_class(read(section(sketch(), Unit.MM)), "room")) > 0


def test_what_is_too_deep_is_said_in_words_and_not_by_colour_alone():
    # 2 + 2.8 + 2.8 + 0.3 + 1.5 + 3 = 12.4; 12 - 2 = 10 are to be had.
    svg = section(MANY["too deep"], Unit.MM)
    assert "too deep by 2.4" in said(MANY["too deep"])
    assert "2 kept behind the stack" in " ".join(said(MANY["too deep"]))
    assert of_class(read(svg), "overrun")
    assert not of_class(read(svg), "room")
    assert "too deep by 2.4" in read(svg)[1].text


def test_a_stack_that_just_fits_has_no_room_left_and_no_overrun():
    # 8.1 + 2 = 10.1.
    frame = replace(moulding(), rebate_depth=mm("10.1"))
    dimensions = work_out(replace(sketch_spec(), frames=(frame,)))
    assert "room left 0" in said(dimensions)
    assert not any("too deep" in text for text in said(dimensions))


def test_a_canvas_stands_out_of_its_rebate():
    # 18 + 3 of backing in a rebate of 12.
    texts_ = said(MANY["canvas"])
    assert {"rebate 12", "stack 21", "past rebate 9", "canvas on bars 18"} <= set(texts_)
    assert not any(text.startswith(("fixing", "too deep")) for text in texts_)


@pytest.mark.parametrize(
    ("deep", "word"), [("38", "below rim 2"), ("43", "proud of rim 3"), ("40", None)]
)
def test_a_canvas_in_a_tray_is_set_against_its_rim(deep, word):
    dimensions = work_out(
        spec(500, 400, Presentation.CANVAS_FLOAT, artwork_thickness=mm(deep),
             frames=(moulding(9, 0, 40, 0),))
    )  # fmt: skip
    texts_ = said(dimensions)
    assert {"tray 40", "wall 9", "gap 5", f"canvas {deep}"} <= set(texts_)
    assert [t for t in texts_ if "rim" in t] == ([word] if word else [])


def test_depths_are_true_and_parts_lie_one_behind_the_other():
    profile = profile_of(sketch())
    assert profile.back - profile.front == pytest.approx(14)
    assert [strip.bottom - strip.top for strip in profile.strips] == pytest.approx(
        [2, 1.4, 1.4, 0.3, 3]
    )
    assert profile.strips[0].top == profile.front
    for ahead, behind in zip(profile.strips, profile.strips[1:], strict=False):
        assert behind.top == ahead.bottom


def test_the_lip_reveal_overlap_and_allowance_are_true_where_they_are_small():
    profile = profile_of(sketch())
    glazing, first, second, artwork, _ = profile.strips
    assert profile.lip - profile.wall == pytest.approx(6)
    assert glazing.front[0] - profile.wall == pytest.approx(1.5)
    assert second.back[1] - first.back[1] == pytest.approx(6)
    assert second.back[1] - artwork.front[0] == pytest.approx(5)


def test_the_bevel_opens_to_the_front_and_a_reverse_one_to_the_back():
    # 45 degrees through 1.4 mm runs 1.4 mm (G8).
    (_, first, *_) = profile_of(sketch()).strips
    assert first.back[1] - first.front[1] == pytest.approx(1.4)
    (reverse, _) = profile_of(MANY["reverse"]).strips
    assert reverse.front[1] - reverse.back[1] == pytest.approx(1.4)


def test_the_artwork_that_floats_lies_inside_the_window():
    strips = {strip.name: strip for strip in profile_of(MANY["float"]).strips}
    assert strips["artwork"].front[0] - strips["mat"].back[1] == pytest.approx(10)
    assert strips["spacer"].front[1] - strips["spacer"].front[0] == pytest.approx(5)


def test_what_is_not_to_scale_is_said():
    notes = " ".join(said(sketch()))
    assert "Not all to scale: some widths are cut short and the thinnest parts are drawn" in notes
    assert "only indicated" in notes
    assert "Not all to scale" not in " ".join(said(MANY["tray"]))


def test_a_thin_part_is_still_seen():
    svg = read(section(sketch(), Unit.MM))
    _, _, width, _ = (float(n) for n in svg.get("viewBox").split())
    (parts,) = of_class(svg, "section")
    heights = []
    for one in parts.iter("{http://www.w3.org/2000/svg}polygon"):
        ys = [y for _, y in points(one)]
        heights.append(max(ys) - min(ys))
    # At least 2 px at 500 px wide.
    assert min(heights) * 500 / width >= 2


def test_an_artwork_without_a_thickness_is_named_so():
    assert "artwork, no thickness" in said(MANY["close without frame"])


def test_an_object_stands_inside_its_spacers_and_is_no_layer_of_the_stack():
    # G22: 2 + 1.4 + 25 + 3 + 3 = 34.4 of 46; 26.4 - 20 = 6.4 clear; 46 - 2 - 34.4 = 9.6 left.
    texts_ = said(MANY["object"])
    assert {"rebate 46", "stack 34.4", "clear 6.4", "room left 9.6", "object 20"} <= set(texts_)
    assert "spacer 25" in texts_
    profile = profile_of(MANY["object"])
    strips = {strip.name: strip for strip in profile.strips}
    floor = strips["mount board"].top
    assert strips["spacer"].bottom == pytest.approx(floor)
    assert strips["object"].bottom == pytest.approx(floor)
    assert floor - strips["object"].top == pytest.approx(20)
    assert strips["object"].top - strips["glazing"].bottom == pytest.approx(6.4)
    assert strips["mat"].bottom == pytest.approx(strips["spacer"].top)
    assert strips["object"].front[0] - strips["mat"].back[1] == pytest.approx(10)
    assert strips["object"].front[0] >= strips["spacer"].front[1]
    assert strips["backing"].bottom - profile.front == pytest.approx(34.4)


def test_an_object_higher_than_its_open_box_stands_out_in_front_of_the_spacers():
    # G22: max(12, 30) + 1.5, without a mat and without glazing.
    texts_ = said(MANY["object without glazing"])
    assert {"stack 31.5", "object 30", "spacer 12"} <= set(texts_)
    assert not any(text.startswith("clear") for text in texts_)
    strips = {strip.name: strip for strip in profile_of(MANY["object without glazing"]).strips}
    assert strips["spacer"].top - strips["object"].top == pytest.approx(18)
    assert strips["spacer"].bottom == strips["object"].bottom == strips["mount board"].top


def test_an_object_that_would_lift_its_mat_is_drawn_inside_the_window():
    dimensions = work_out(
        replace(MANY["object"].spec, presentation=Presentation.WINDOW, artwork_thickness=mm("25.5"))
    )
    strips = {strip.name: strip for strip in profile_of(dimensions).strips}
    assert strips["object"].front[0] == pytest.approx(strips["mat"].back[1])
    under = replace(dimensions.spec, artwork_thickness=mm(20))
    strips = {strip.name: strip for strip in profile_of(work_out(under)).strips}
    assert strips["mat"].back[1] - strips["object"].front[0] == pytest.approx(5)
