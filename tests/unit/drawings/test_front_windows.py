"""Several windows and round ones from the front; figures by hand from G3, G8, G9 and G20."""

import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest

from app.drawings import Colour, Look, front
from app.framing import work_out
from app.lengths import mm
from tests.builders.drawn import SVG, extent, of_class, read
from tests.unit.drawings.several import arch, eight, eight_spec, many_windows, oval, uneven

MANY = many_windows()


def strokes(element: ElementTree.Element) -> list[str]:
    """The outlines of a path, one by one."""
    return [f"M{one}" for one in (element.get("d") or "").split("M")[1:]]


def box_of(stroke: str) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of an outline of straight lines."""
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", stroke)]
    return (min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2]))


def test_eight_windows_lie_at_their_places_with_faces_larger_by_twice_the_board():
    (face,) = of_class(read(front(eight(), Look())), "mat-face")
    blank, *holes = [box_of(one) for one in strokes(face)]
    assert blank == (20.5, 20.5, 615.5, 475.5)
    # Windows of 100 × 150 every 125 across and every 175 down, from 80.5; faces 1.4 further out.
    corners = [(80.5 + 125 * column, 80.5 + 175 * row) for row in range(2) for column in range(4)]
    assert holes == [pytest.approx((x - 1.4, y - 1.4, x + 101.4, y + 151.4)) for x, y in corners]


def test_each_window_has_its_artwork_5_behind_its_edges():
    root = read(front(eight(), Look(kind="photograph")))
    art = [extent(next(one.iter(f"{SVG}rect"))) for one in of_class(root, "artwork")]
    assert art == [
        pytest.approx((75.5 + 125 * column, 75.5 + 175 * row, 110, 160))
        for row in range(2)
        for column in range(4)
    ]


def test_every_window_has_its_bevel_and_every_under_mat_its_own():
    assert len(of_class(read(front(eight(), Look())), "bevel")) == 8 * 4
    assert len(of_class(read(front(MANY["three mats"], Look())), "bevel")) == 3 * 4 * 4
    assert of_class(read(front(MANY["reverse bevels"], Look())), "bevel") == []


@pytest.mark.parametrize("kind", ["photograph", "watercolour", "textile", ""])
def test_no_two_of_eight_placeholders_are_alike(kind):
    art = of_class(read(front(eight(), Look(kind=kind))), "artwork")
    drawn = [
        [(one.tag, one.get("fill"), one.get("transform") is not None) for one in each.iter()]
        for each in art
    ]
    assert not any(one == other for one, other in combinations(drawn, 2))


def test_a_picture_is_not_repeated_in_every_window():
    look = Look(kind="photograph", image="data:image/png;base64,")
    assert not list(read(front(eight(), look)).iter(f"{SVG}image"))


def test_an_oval_is_an_ellipse_by_its_axes_and_its_face_one_with_longer_ones():
    root = read(front(oval(), Look()))
    (face,) = of_class(root, "mat-face")
    # Axes of 290 and 390 about (60 + 145, 60 + 195); half axes at the face 1.4 longer.
    assert strokes(face)[1] == "M58.6,255A146.4,196.4,0,0,1,351.4,255A146.4,196.4,0,0,1,58.6,255Z"
    shades = {one.get("fill") for one in of_class(root, "bevel")}
    assert len(shades) > 8, "a round bevel is lit all round"


def test_the_bevel_of_an_oval_is_dark_at_the_top_and_lit_at_the_bottom():
    _, *facets = of_class(read(front(oval(), Look())), "bevel")
    luma = {}
    for one in facets:
        _, y = re.findall(r"M(-?[\d.]+),(-?[\d.]+)A", one.get("d") or "")[0]
        luma[float(y)] = Colour.parse(one.get("fill") or "").luma
    assert luma[min(luma)] < luma[max(luma)]


def test_an_arch_has_straight_sides_under_half_an_oval():
    (face,) = of_class(read(front(arch(), Look())), "mat-face")
    # The round top ends 80 under the top, at 140; its rise at the face is 81.4.
    assert strokes(face)[1] == "M58.6,140A146.4,81.4,0,0,1,351.4,140L351.4,451.4L58.6,451.4Z"


def test_grooves_run_round_the_windows_and_not_round_title_slots():
    (grooves,) = of_class(read(front(MANY["title slot and groove"], Look())), "grooves")
    core, _ = grooves
    # Window 1 is 240 + 10 by 340 + 10; its face 1.4 out, the groove 10 further: 272.8 by 372.8,
    # from 70 - 11.4 in a package that lies 20.5 inside.
    assert [box_of(one) for one in strokes(core)] == [
        pytest.approx((79.1, 79.1, 79.1 + 272.8, 79.1 + 372.8))
    ]
    assert len(of_class(read(front(MANY["title slot and groove"], Look())), "title")) == 1


def test_only_what_floats_throws_a_shadow():
    assert len(of_class(read(front(uneven(), Look())), "float")) == 1
    floating = tuple(replace(one, floats=True, gap=mm(8)) for one in eight_spec().openings)
    assert (
        len(
            of_class(
                read(front(work_out(replace(eight_spec(), openings=floating)), Look())), "float"
            )
        )
        == 8
    )


def test_a_window_given_outright_still_shows_an_artwork_behind_it():
    art = [
        extent(next(one.iter(f"{SVG}rect")))
        for one in of_class(read(front(uneven(), Look())), "artwork")
    ]
    # B: 100 × 140 with 5 covered at each edge.
    assert art[1][2:] == pytest.approx((110, 150))
