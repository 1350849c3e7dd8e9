"""Shapes of a moulding's face: one outline for the front and the section, and the light on it.

Light falls from the left and above, on every drawing alike; what a shape's slopes do follows from what the
shape is called in the trade (common practice).
"""

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from app.drawings import Colour, Finish, FrameLook, FrontView, Look, front, section
from app.drawings.canvas.shading import Side
from app.drawings.piece.light import shade
from app.drawings.piece.profiles import cut_through, facets
from app.drawings.section.profile import profile_of
from app.framing import ProfileShape, work_out
from app.lengths import Unit
from tests.builders.drawn import many, moulding, of_class, points, read, sketch, sketch_spec

SHAPES = (None, *ProfileShape)
WALNUT = FrameLook(colour=Colour.parse("#6d4c34"))
WIDE = work_out(replace(sketch_spec(), frames=(moulding(40, 8, 20),)))


def light(look: FrameLook, side: Side, share: float) -> int:
    """The lightness of a side of a face 40 wide, so far from its outside edge."""
    at = share * 40
    (found,) = [f for f in facets(look.shape, 32, 8) if f.start <= at < f.end]
    return shade(look, found, side).luma


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize(("wall", "lip"), [(19, 6), (32, 8), (9, 0), (3, 2.5)])
def test_the_parts_of_a_face_follow_one_another_from_the_outside_to_the_sight_edge(
    shape, fine, wall, lip
):
    found = facets(shape, wall, lip, fine=fine)
    assert found[0].start == 0
    assert found[-1].end == pytest.approx(wall + lip)
    assert all(first.end == pytest.approx(last.start) for first, last in pairwise(found))
    assert all(one.start < one.end for one in found)
    assert all(-1 < one.tilt < 1 and 0 < one.height <= 1 for one in found)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_rails_cover_the_face_on_every_side_in_every_view(shape):
    look = Look(frames=(replace(WALNUT, shape=shape),))
    for view in FrontView:
        drawn = read(front(WIDE, look, view=view))
        # Each part reaches the sight edge, so that no seam shows; the first begins at the outside.
        tops = [points(one) for one in (of_class(drawn, "rail") + of_class(drawn, "lip"))[::4]]
        starts = [top[0][1] for top in tops]
        assert starts[0] == 0
        assert starts == sorted(starts)
        assert {top[3] for top in tops} == {(40, 40)}


@pytest.mark.parametrize("shape", SHAPES)
def test_the_section_cuts_through_the_face_that_the_front_shows(shape):
    """Where the face rises inwards in the section, its part of the front faces outwards."""
    outline = cut_through(shape, 32, 8, 10)
    assert outline[0][0] == 0
    assert outline[-1][0] == 40
    assert min(y for _, y in outline) == 0
    assert max(y for _, y in outline) < 10
    for one in facets(shape, 32, 8):
        middle = (one.start + one.end) / 2
        ((x1, y1), (x2, y2)) = next(p for p in pairwise(outline) if p[0][0] <= middle < p[1][0])
        # Depths grow as the face falls; a bend has fewer parts in the front, so nearly level ones may differ.
        slope = (y1 - y2) / (x2 - x1)
        assert slope * one.tilt >= 0 or abs(one.tilt) < 0.12


def test_a_section_shows_the_shape_and_a_plain_one_where_none_is_said():
    assert profile_of(sketch()) == profile_of(sketch(), None)
    drawn = {section(WIDE, Unit.MM, Look(frames=(replace(WALNUT, shape=s),))) for s in SHAPES}
    assert len(drawn) == len(SHAPES)
    shaped = profile_of(WIDE, ProfileShape.SCOOP)
    scoop = Look(frames=(replace(WALNUT, shape=ProfileShape.SCOOP),))
    assert "height in front of the rebate is only indicated" in section(WIDE, Unit.MM, scoop)
    assert "shape in front of the rebate is only indicated" in section(WIDE, Unit.MM)
    assert (shaped.wall, shaped.lip) == (profile_of(WIDE).wall, profile_of(WIDE).lip)
    assert shaped.front == profile_of(WIDE).front


def test_a_tray_has_its_own_section_whatever_its_shape():
    tray = many()["tray"]
    assert profile_of(tray, ProfileShape.SCOOP) == profile_of(tray)


def test_the_hollow_of_a_scoop_is_lit_where_its_slope_faces_up():
    """It falls inwards: at the top of a frame that slope faces down, at the bottom up to the light."""
    scoop = replace(WALNUT, finish=Finish.MATT, shape=ProfileShape.SCOOP)
    sides = [light(scoop, side, 0.25) for side in (Side.BOTTOM, Side.RIGHT, Side.LEFT, Side.TOP)]
    assert sides == sorted(sides, reverse=True)
    assert len(set(sides)) == 4


def test_a_reverse_is_lit_the_other_way_round():
    reverse = replace(WALNUT, finish=Finish.MATT, shape=ProfileShape.REVERSE)
    sides = [light(reverse, side, 0.6) for side in (Side.TOP, Side.LEFT, Side.RIGHT, Side.BOTTOM)]
    assert sides == sorted(sides, reverse=True)
    assert len(set(sides)) == 4


def test_a_rounded_face_grows_darker_from_the_light_to_the_shade_without_a_jump():
    rounded = replace(WALNUT, finish=Finish.MATT, shape=ProfileShape.ROUNDED)
    found = facets(ProfileShape.ROUNDED, 32, 8)
    top = [shade(rounded, one, Side.TOP).luma for one in found]
    bottom = [shade(rounded, one, Side.BOTTOM).luma for one in found]
    assert top == sorted(top, reverse=True)
    # The foot of the lit side lies low, where less light comes to.
    assert bottom[1:] == sorted(bottom[1:])
    assert max(abs(a - b) for a, b in pairwise(top)) < 30


def test_a_bevel_has_one_slope_and_a_step_has_level_treads():
    (slope,) = [f for f in facets(ProfileShape.BEVELLED, 32, 8) if f.end - f.start > 20]
    assert slope.tilt < -0.3
    treads = [f for f in facets(ProfileShape.STEPPED, 32, 8) if f.end - f.start > 8]
    assert [f.tilt for f in treads] == [0, 0, 0]
    assert [f.height for f in treads] == sorted((f.height for f in treads), reverse=True)


@pytest.mark.parametrize("shape", SHAPES)
def test_gloss_mirrors_the_light_more_than_satin_and_satin_more_than_matt(shape):
    tones = [
        max(
            shade(replace(WALNUT, finish=finish), one, side).luma
            for one in facets(shape, 32, 8)
            for side in Side
        )
        for finish in (Finish.MATT, Finish.SATIN, Finish.GLOSS)
    ]
    assert tones == sorted(tones)
    assert tones[0] < tones[2]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("colour", ["#000000", "#242326", "#ffffff", "#f3f1ea"])
def test_black_and_white_frames_show_four_different_rails(shape, colour):
    look = Look(frames=(FrameLook(colour=Colour.parse(colour), shape=shape),))
    fills = {one.get("fill") for one in of_class(read(front(WIDE, look)), "rail")}
    assert len(fills) >= 4


@pytest.mark.parametrize("shape", SHAPES)
def test_a_drawing_for_paper_has_no_more_parts_than_the_other(shape):
    look = Look(frames=(FrameLook.described(WALNUT.colour, "oiled", "walnut", shape),))
    seen, alone = (front(WIDE, look, view=view) for view in FrontView)
    assert len(re.findall(r"<\w", alone)) < len(re.findall(r"<\w", seen))
    assert len(seen.encode()) < 20_000
