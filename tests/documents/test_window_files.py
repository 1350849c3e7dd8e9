"""Window files read back: DXF by the library, SVG as XML; coordinates by hand from G7, G8 and G10.

The mirror is checked against a matrix of its own: x' = width - x, y' = y.
"""

from dataclasses import replace
from io import StringIO
from math import pi
from typing import Any
from xml.etree import ElementTree

import ezdxf
import ezdxf.bbox
import ezdxf.path
import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from app.documents.window_files import WindowFile, window_dxf, window_svg
from app.drawings.mats.outlines import HoleAt, SeenFrom
from app.errors import NotFound
from app.framing import (
    Bevel,
    Dimensions,
    Edges,
    Mat,
    Opening,
    Point,
    Presentation,
    Shape,
    Slot,
    Spec,
    UnderMats,
    UnderWay,
    work_out,
)
from app.lengths import Length, Unit, mm
from tests.builders.values import size

SVG = "{http://www.w3.org/2000/svg}"
BACK, FRONT = SeenFrom.BACK, SeenFrom.FRONT
FACE = HoleAt.FACE


def spec(**more: object) -> Spec:
    given: dict[str, object] = {
        "unit": Unit.MM,
        "artwork": size("200", "300"),
        "presentation": Presentation.WINDOW,
        "overlap": mm(5),
        "gap": mm(10),
        "mats": (Mat(thickness=mm("1.4")),),
        **more,
    }
    return Spec(**given)  # type: ignore[arg-type]


def uneven(**more: object) -> Dimensions:
    """A window of 190 × 290 in borders of 60, 90, 70, 80: 340 × 440."""
    borders = Edges(left=mm(60), right=mm(90), top=mm(70), bottom=mm(80))
    return work_out(spec(borders=borders, **more))


def four_shapes(**more: object) -> Dimensions:
    """In 700 × 500: A 240 × 170 at 60, 60; B oval 110 × 150 at 350, 60; C arched 110 × 160 at 500, 60,
    rise 55; D 200 × 100 at 60, 280 with a slot of 90 × 12 in the middle, 25 under it."""
    shapes = (
        Opening(name="A", window=size("240", "170"), at=Point(x=mm(60), y=mm(60))),
        Opening(name="B", window=size("110", "150"), shape=Shape.OVAL, at=Point(x=mm(350), y=mm(60))),
        Opening(name="C", window=size("110", "160"), shape=Shape.ARCH, at=Point(x=mm(500), y=mm(60))),
        Opening(name="D", window=size("200", "100"), at=Point(x=mm(60), y=mm(280)),
                slot=Slot(size=size("90", "12"), gap=mm(25))),
    )  # fmt: skip
    return work_out(spec(package=size("700", "500"), openings=shapes, **more))


def two_mats(way: UnderWay) -> Dimensions:
    """As `uneven`, and a second mat with a reveal of 6, its blank 3 smaller at each edge: window 1 is
    202 × 302, the package 352 × 452."""
    mats = (Mat(thickness=mm("1.4")), Mat(thickness=mm("1.4"), reveal=mm(6)))
    return uneven(mats=mats, under=UnderMats(way=way, trim=mm(3)))


def dxf(cut: Dimensions, file: WindowFile | None = None) -> Any:
    return ezdxf.read(StringIO(window_dxf(cut, file or WindowFile()).decode("utf-8")))


def on(document: Any, layer: str) -> list[Any]:
    return list(document.modelspace().query(f'*[layer=="{layer}"]'))


def corners(line: Any) -> list[tuple[float, float]]:
    return [(x, y) for x, y in line.get_points("xy")]


def rectangle(left: float, foot: float, right: float, top: float) -> list[tuple[float, float]]:
    return [(left, foot), (right, foot), (right, top), (left, top)]


def svg(cut: Dimensions, file: WindowFile | None = None) -> ElementTree.Element:
    return ElementTree.fromstring(window_svg(cut, file or WindowFile(), title="A piece"))


def part(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """What is drawn in the group of an id."""
    (found,) = [one for one in root.iter() if one.get("id") == name]
    return [one for one in found if one.tag in {f"{SVG}rect", f"{SVG}ellipse", f"{SVG}path"}]


def numbers(one: ElementTree.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(one.get(name, "nan")) for name in names)


def test_a_dxf_is_in_millimetres_of_a_known_version_and_without_faults():
    document = dxf(four_shapes())
    assert document.dxfversion == "AC1024", "R2010"
    assert document.header["$INSUNITS"] == 4, "millimetres, DXF reference, $INSUNITS"
    assert document.header["$MEASUREMENT"] == 1
    assert not document.audit().has_errors


@pytest.mark.parametrize("side", list(SeenFrom))
def test_the_extents_of_a_dxf_reach_the_file(side):
    """Around the blank of 340 × 440 from its left-bottom corner, as the library measures it too.
    Source: DXF reference, HEADER variables $EXTMIN and $EXTMAX."""
    document = dxf(uneven(), WindowFile(side=side))
    assert tuple(document.header["$EXTMIN"]) == (0, 0, 0)
    assert tuple(document.header["$EXTMAX"]) == (340, 440, 0)
    drawn = ezdxf.bbox.extents(document.modelspace())
    assert tuple(document.header["$EXTMAX"]) == pytest.approx(tuple(drawn.extmax))


def test_the_window_lies_in_its_borders_from_the_front_with_y_upwards():
    document = dxf(uneven(), WindowFile(side=FRONT))
    (window,) = on(document, "MAT-1")
    assert window.closed
    # 60 from the left, 80 from the foot: to 250 and 370.
    assert corners(window) == rectangle(60, 80, 250, 370)
    (blank,) = on(document, "BLANKS")
    assert corners(blank) == rectangle(0, 0, 340, 440)


def test_from_the_back_left_and_right_are_exchanged():
    (window,) = on(dxf(uneven()), "MAT-1")
    # 90 from the left.
    assert corners(window) == rectangle(90, 80, 280, 370)


def test_at_the_face_the_hole_is_larger_by_the_bevels_run_and_smaller_on_a_reverse_one():
    (window,) = on(dxf(uneven(), WindowFile(hole=FACE)), "MAT-1")
    assert corners(window) == rectangle(88.6, 78.6, 281.4, 371.4)
    reverse = uneven(mats=(Mat(thickness=mm("1.4"), bevel=Bevel(reverse=True)),))
    (window,) = on(dxf(reverse, WindowFile(hole=FACE)), "MAT-1")
    assert corners(window) == rectangle(91.4, 81.4, 278.6, 368.6)


def test_an_oval_is_one_ellipse_by_its_longer_axis():
    document = dxf(four_shapes(), WindowFile(side=FRONT))
    (oval,) = document.modelspace().query("ELLIPSE")
    assert oval.dxf.layer == "MAT-1"
    # B: middle at 350 + 55 and 500 - 60 - 75; half axes 55 and 75.
    assert tuple(oval.dxf.center)[:2] == (405, 365)
    assert tuple(oval.dxf.major_axis)[:2] == (0, 75)
    assert oval.dxf.ratio == pytest.approx(55 / 75)
    assert (oval.dxf.start_param, oval.dxf.end_param) == pytest.approx((0, 2 * pi))


def test_a_round_window_is_a_circle():
    one = (
        Opening(
            name="A", window=size("120", "120"), shape=Shape.OVAL, at=Point(x=mm(60), y=mm(70))
        ),
    )
    document = dxf(work_out(spec(package=size("300", "400"), openings=one)))
    (circle,) = document.modelspace().query("CIRCLE")
    # From the back 300 - 60 - 60 = 180; 400 - 70 - 60 = 270 up.
    assert tuple(circle.dxf.center)[:2] == (180, 270)
    assert circle.dxf.radius == 60


def test_an_arch_with_half_a_circle_is_one_outline_with_a_bulge():
    document = dxf(four_shapes(), WindowFile(side=FRONT))
    arches = [one for one in on(document, "MAT-1") if one.dxftype() == "LWPOLYLINE" and one.has_arc]
    (arch,) = arches
    assert arch.closed
    # C: from 500 to 610; foot at 500 - 220 = 280; round from 500 - 60 - 55 = 385.
    assert list(arch.get_points("xyb")) == [
        (500, 280, 0), (610, 280, 0), (610, 385, 1), (500, 385, 0),
    ]  # fmt: skip


def test_an_arch_that_is_lower_or_higher_is_half_an_ellipse_over_its_sides():
    for rise, axis, ratio, turn in (
        ("40", (55, 0), 40 / 55, (0, pi)),
        ("80", (0, 80), 55 / 80, (-pi / 2, pi / 2)),
    ):
        one = Opening(
            name="A", window=size("110", "160"), shape=Shape.ARCH, rise=mm(rise),
            at=Point(x=mm(60), y=mm(70)),
        )  # fmt: skip
        cut = work_out(spec(package=size("300", "400"), openings=(one,)))
        document = dxf(cut, WindowFile(side=FRONT))
        (sides,) = on(document, "MAT-1")[:1]
        spring = 400 - 70 - float(rise)
        assert corners(sides) == [(60, spring), (60, 170), (170, 170), (170, spring)]
        assert not sides.closed
        (top,) = document.modelspace().query("ELLIPSE")
        assert tuple(top.dxf.center)[:2] == (115, spring)
        assert tuple(top.dxf.major_axis)[:2] == axis
        assert top.dxf.ratio == pytest.approx(ratio)
        # It begins at the right end of the sides, runs over the top, and ends at the left one.
        ends = [tuple(point)[:2] for point in (top.start_point, top.end_point)]
        assert ends == [pytest.approx((170, spring)), pytest.approx((60, spring))]
        highest = max(point.y for point in top.flattening(0.001))
        assert highest == pytest.approx(330, abs=0.001)
        assert (turn[1] - turn[0]) == pytest.approx(pi)


def outlines(document: Any) -> dict[str, list[Polygon]]:
    """Every closed outline of a file by its layer; curves flattened to 1/1000 mm."""
    found: dict[str, list[Polygon]] = {}
    for one in document.modelspace():
        path = ezdxf.path.make_path(one)
        points = [(point.x, point.y) for point in path.flattening(0.001)]
        found.setdefault(one.dxf.layer, []).append(Polygon(points))
    return found


@pytest.mark.parametrize("hole", list(HoleAt))
def test_the_back_is_the_front_mirrored_by_an_independent_matrix(hole):
    cut = four_shapes(groove=mm(8))
    front = outlines(dxf(cut, WindowFile(side=FRONT, hole=hole)))
    back = outlines(dxf(cut, WindowFile(side=BACK, hole=hole)))
    assert set(front) == set(back) == {"MAT-1", "BLANKS", "GROOVES"}
    for layer, polygons in front.items():
        for one, other in zip(polygons, back[layer], strict=True):
            turned = affine_transform(one, (-1, 0, 0, 1, 700, 0))
            assert turned.symmetric_difference(other).area < 0.2, layer


def bounds(one: ElementTree.Element) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of what an SVG element outlines."""
    if one.tag == f"{SVG}rect":
        x, y, width, height = numbers(one, "x", "y", "width", "height")
        return (x, y, x + width, y + height)
    if one.tag == f"{SVG}ellipse":
        cx, cy, rx, ry = numbers(one, "cx", "cy", "rx", "ry")
        return (cx - rx, cy - ry, cx + rx, cy + ry)
    # M left spring A rx ry 0 0 1 right spring L right foot L left foot Z
    words = (one.get("d") or "").split()
    left, spring, ry, right, foot = (float(words[n]) for n in (1, 2, 5, 9, 13))
    return (left, spring - ry, right, foot)


@pytest.mark.parametrize("side", list(SeenFrom))
@pytest.mark.parametrize("hole", list(HoleAt))
def test_svg_and_dxf_show_the_same_outlines(side, hole):
    cut, file = four_shapes(groove=mm(8)), WindowFile(side=side, hole=hole)
    from_dxf, root = outlines(dxf(cut, file)), svg(cut, file)
    for group, layer in (("blank", "BLANKS"), ("windows", "MAT-1"), ("grooves", "GROOVES")):
        drawn = [bounds(one) for one in part(root, f"mat-1-{group}")]
        lying = [one.bounds for one in from_dxf[layer]]
        upright = [(left, 500 - top, right, 500 - foot) for left, foot, right, top in lying]
        assert len(drawn) == len(upright) > 0
        for one, other in zip(drawn, upright, strict=True):
            assert one == pytest.approx(other, abs=0.002), group


def test_an_svg_has_one_unit_to_the_millimetre_and_nothing_but_outlines():
    root = svg(four_shapes(groove=mm(8)))
    assert root.get("viewBox") == "0 0 700 500"
    assert (root.get("width"), root.get("height")) == ("700mm", "500mm")
    assert root.get("fill") == "none"
    allowed = {"svg", "title", "g", "rect", "ellipse", "path"}
    assert {one.tag.removeprefix(SVG) for one in root.iter()} == allowed
    for one in root.iter():
        assert {"style", "class", "transform", "stroke-dasharray"}.isdisjoint(one.attrib)


def test_an_svg_names_its_windows_and_its_layers():
    root = svg(four_shapes(groove=mm(8)))
    groups = [one.get("id") for one in root.iter(f"{SVG}g")]
    assert groups == ["mat-1", "mat-1-blank", "mat-1-windows", "mat-1-grooves"]
    named = [one[0].text for one in part(root, "mat-1-windows")]
    assert named == ["A", "B", "C", "D", "D slot"]


def test_windows_of_an_svg_lie_where_they_were_placed():
    a, b, c, d, slot = part(svg(four_shapes(), WindowFile(side=FRONT)), "mat-1-windows")
    assert numbers(a, "x", "y", "width", "height") == (60, 60, 240, 170)
    assert numbers(b, "cx", "cy", "rx", "ry") == (405, 135, 55, 75)
    assert c.get("d") == "M 500 115 A 55 55 0 0 1 610 115 L 610 220 L 500 220 Z"
    assert numbers(d, "x", "y", "width", "height") == (60, 280, 200, 100)
    assert numbers(slot, "x", "y", "width", "height") == (115, 405, 90, 12)


def test_grooves_lie_outside_the_windows_at_the_face():
    document = dxf(four_shapes(groove=mm(8)), WindowFile(side=FRONT))
    # A: 1.4 of bevel and 8 further on every side.
    assert corners(on(document, "GROOVES")[0]) == rectangle(50.6, 260.6, 309.4, 449.4)


def test_all_mats_in_one_file_lie_over_one_another_as_in_the_piece():
    for way in UnderWay:
        document = dxf(two_mats(way), WindowFile(side=FRONT))
        first, second = on(document, "MAT-1") + on(document, "MAT-2")
        # Window 1 at 60, 80 from the foot; window 2 is 6 further in on every side.
        assert corners(first) == rectangle(60, 80, 262, 382)
        assert corners(second) == rectangle(66, 86, 256, 376)
        assert [corners(one) for one in on(document, "BLANKS")] == [
            rectangle(0, 0, 352, 452),
            rectangle(3, 3, 349, 449),
        ]


def test_a_mat_by_itself_begins_at_the_corner_of_its_blank():
    for way in UnderWay:
        document = dxf(two_mats(way), WindowFile(side=BACK, layer=2))
        (blank,), (window,) = on(document, "BLANKS"), on(document, "MAT-2")
        assert corners(blank) == rectangle(0, 0, 346, 446)
        # From the right edge of the blank 90 + 6 - 3, from its foot 80 + 6 - 3.
        assert corners(window) == rectangle(93, 83, 283, 373)
        assert not on(document, "MAT-1")


def test_coordinates_are_exact_to_a_thousandth():
    third = Length.of("1/3", Unit.MM)
    borders = Edges.equal(mm(60) + third)
    cut = work_out(spec(borders=borders))
    (window,) = part(svg(cut, WindowFile(side=FRONT)), "mat-1-windows")
    assert window.get("x") == "60.333"
    assert svg(cut).get("width") == "310.667mm"
    (line,) = on(dxf(cut, WindowFile(side=FRONT)), "MAT-1")
    assert corners(line)[0] == (60.333, 60.333)
    # 190 + 60 1/3
    assert corners(line)[1][0] == 250.333


def test_a_name_that_is_no_plain_word_is_written_safely():
    odd = (Opening(name='<&"É', window=size("120", "160"), at=Point(x=mm(60), y=mm(70))),)
    cut = work_out(spec(package=size("300", "400"), openings=odd))
    (window,) = part(svg(cut), "mat-1-windows")
    assert window[0].text == '<&"É'
    assert len(on(dxf(cut), "MAT-1")) == 1


def test_a_mat_that_the_piece_has_not_is_refused_in_words():
    with pytest.raises(
        NotFound, match="Mat 3 was asked for; the piece has 2 mats, 1 to 2 from the top"
    ):
        window_svg(two_mats(UnderWay.ATTACHED), WindowFile(layer=3), title="")
    with pytest.raises(NotFound, match="Mat 2 was asked for; the piece has one mat"):
        window_dxf(uneven(), WindowFile(layer=2))
    bare = work_out(replace(spec(), mats=(), presentation=Presentation.CLOSE))
    with pytest.raises(NotFound, match="no mat, so there is no window"):
        window_dxf(bare, WindowFile())
