"""The piece from the front. Figures of the sketch are worked by hand from the handbook's rules:

window 2 = 420 - 10 by 297 - 10 (G1), window 1 = 12 larger (G3), faces 2.8 larger (G8);
package = 422 + 140 by 299 + 150 (G4); rebate = 565 by 452, sight = 553 by 440 (G11);
long points = 565 + 38 by 452 + 38 (G12). The package lies (603 - 562) / 2 = 20.5 inside.
"""

import re
from dataclasses import replace

import pytest

from app.drawings import Colour, Finish, FrameLook, FrontView, Look, front
from app.framing import Edges, work_out
from app.lengths import mm
from tests.builders.drawn import (
    SVG,
    extent,
    many,
    of_class,
    points,
    read,
    sketch,
    sketch_spec,
)

WALNUT = Look(
    frames=(FrameLook(colour=Colour.parse("#5a3f2b")),),
    mats=(Colour.parse("#f4efe3"), Colour.parse("#5f7480")),
    kind="watercolour",
)
MANY = many()


def around(x: float, y: float, width: float, height: float) -> list[tuple[float, float]]:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def test_the_package_of_the_sketch_lies_20_and_a_half_inside_603_by_490():
    root = read(front(sketch(), WALNUT))
    (board,) = of_class(root, "mount-board")
    assert extent(board) == pytest.approx((20.5, 20.5, 562, 449))
    # Without the shadow on the wall only a hair's breadth is left about the piece.
    alone = [
        float(n) for n in read(front(sketch(), WALNUT, view=FrontView.ALONE)).get("viewBox").split()
    ]
    assert alone == pytest.approx([0, 0, 603, 490], abs=5)


def test_a_frame_to_come_is_an_outline_around_the_package():
    """A face of 20 whose lip of 6 lies over the package of 562 × 449: 14 around it, its sight 6 inside."""
    bare = work_out(replace(sketch_spec(), frames=()))
    (outline,) = of_class(read(front(bare, WALNUT, frame_to_come=True)), "frame-to-come")
    edges, mitres = outline
    outer, inner = around(-14, -14, 590, 477), around(6, 6, 550, 437)
    corners = [
        tuple(map(float, pair.split(",")))
        for pair in re.findall(r"-?[\d.]+,-?[\d.]+", edges.get("d"))
    ]
    assert corners == [*outer, *inner]
    assert edges.get("d").count("Z") == 2
    ends = [
        tuple(map(float, pair.split(",")))
        for pair in re.findall(r"-?[\d.]+,-?[\d.]+", mitres.get("d"))
    ]
    assert ends == [end for pair in zip(outer, inner, strict=True) for end in pair]
    assert not of_class(read(front(bare, WALNUT)), "frame-to-come")


def test_each_rail_runs_from_its_long_point_to_the_sight():
    rails = of_class(read(front(sketch(), WALNUT)), "rail")[:4]
    outer, inner = around(0, 0, 603, 490), around(25, 25, 553, 440)
    assert [points(rail) for rail in rails] == [
        [outer[0], outer[1], inner[1], inner[0]],
        [outer[1], outer[2], inner[2], inner[1]],
        [outer[2], outer[3], inner[3], inner[2]],
        [outer[3], outer[0], inner[0], inner[3]],
    ]


def test_the_lip_is_drawn_at_its_width_of_6():
    top = points(of_class(read(front(sketch(), WALNUT)), "lip")[0])
    assert top == [(19, 19), (584, 19), (578, 25), (25, 25)]


def test_the_mitres_run_at_45_degrees_from_the_corners():
    for name, dimensions in MANY.items():
        for mitres in of_class(read(front(dimensions, WALNUT)), "mitre"):
            ends = points(mitres)
            for (x1, y1), (x2, y2) in zip(ends[::2], ends[1::2], strict=True):
                # Two decimals are written, so the last may differ by one.
                assert abs(x2 - x1) == pytest.approx(abs(y2 - y1), abs=0.011), name
                assert abs(x2 - x1) > 1, name


def test_the_windows_of_the_sketch_lie_in_their_borders_with_faces_larger_by_twice_the_board():
    root = read(front(sketch(), WALNUT))
    faces = {
        one.get("class"): points(of_class(one, "mat-face")[0])
        for one in (of_class(root, "mat-1")[0], of_class(root, "mat-2")[0])
    }
    bevels = {
        layer: points(of_class(of_class(root, f"mat-{layer}")[0], "bevel")[0]) for layer in (1, 2)
    }
    # Window 1: 20.5 + 70 from the left and the top; its face 1.4 further out on every side.
    assert faces["mat mat-1"] == around(20.5, 20.5, 562, 449) + around(89.1, 89.1, 424.8, 301.8)
    assert bevels[1] == [(89.1, 89.1), (513.9, 89.1), (512.5, 90.5), (90.5, 90.5)]
    # Window 2: 6 further in.
    assert faces["mat mat-2"][4:] == around(95.1, 95.1, 412.8, 289.8)
    assert bevels[2] == [(95.1, 95.1), (507.9, 95.1), (506.5, 96.5), (96.5, 96.5)]


def test_the_artwork_of_the_sketch_reaches_5_behind_the_window_on_every_side():
    art = of_class(
        read(front(sketch(), replace(WALNUT, image="data:image/png;base64,"))), "artwork"
    )
    # Window 2 begins at 96.5 and is 410 by 287.
    assert extent(art[0]) == pytest.approx((91.5, 91.5, 420, 297))


def test_parts_lie_one_over_the_other_as_in_the_frame():
    order = [
        one.get("class")
        for one in read(front(sketch(), WALNUT))
        if one.get("class") in {"mount-board", "artwork", "mat mat-2", "mat mat-1", "frame"}
    ]
    assert order == ["mount-board", "artwork", "mat mat-2", "mat mat-1", "frame"]


def test_a_reverse_bevel_is_hidden_and_a_straight_cut_has_none():
    assert of_class(read(front(MANY["reverse"], WALNUT)), "bevel") == []
    assert len(of_class(read(front(MANY["sketch"], WALNUT)), "bevel")) == 8


def test_a_canvas_in_a_tray_has_its_gap_all_round_and_no_lip():
    root = read(front(MANY["tray"], replace(WALNUT, image="x.png")))
    # Wall 9, gap 5: the inside is 510 by 410 at 9, the canvas 500 by 400 at 14 (G17).
    assert extent(of_class(root, "tray")[0]) == pytest.approx((9, 9, 510, 410))
    assert extent(of_class(root, "artwork")[0]) == pytest.approx((14, 14, 500, 400))
    assert of_class(root, "lip") == []
    assert len(of_class(root, "float")) == 1


def test_the_outer_frame_holds_the_inner_one():
    frames = of_class(read(front(MANY["two frames"], WALNUT)), "frame")
    # Package 530 × 440 (390 + 140, 290 + 150); inner frame 533 + 2 × 7 = 547 × 457 outside;
    # outer rebate 550 × 460, sight 538 × 448, outside 550 + 2 × 39 = 628 × 538 (G18).
    inner, outer = (points(of_class(frame, "rail")[0]) for frame in frames)
    assert inner == [(40.5, 40.5), (587.5, 40.5), (575.5, 52.5), (52.5, 52.5)]
    assert outer == [(0, 0), (628, 0), (583, 45), (45, 45)]


def test_a_piece_without_a_frame_is_drawn_to_the_edge_of_its_package():
    root = read(front(MANY["mat without frame"], WALNUT))
    assert extent(of_class(root, "mount-board")[0]) == pytest.approx((0, 0, 390, 300))
    assert of_class(root, "frame") == []


def test_turning_the_piece_exchanges_width_and_height_of_every_part():
    given = replace(sketch_spec(), borders=Edges.equal(mm(70)))
    turned = replace(given, artwork=given.artwork.turned())
    lying, upright = (read(front(work_out(one), WALNUT)) for one in (given, turned))
    for name in ("mat-face", "bevel", "rail", "lip", "profile", "mitre"):
        flat = [{(y, x) for x, y in points(one)} for one in of_class(lying, name)]
        tall = [set(points(one)) for one in of_class(upright, name)]
        assert len(flat) == len(tall) > 0
        assert all(one in tall for one in flat), name


def test_the_light_falls_from_the_left_and_above():
    root = read(front(sketch(), WALNUT))
    top, right, bottom, left = (
        sum(Colour.parse(rail.get("fill")).parts) for rail in of_class(root, "rail")[:4]
    )
    assert top > left > right > bottom
    top, right, bottom, left = (
        sum(Colour.parse(bevel.get("fill")).parts) for bevel in of_class(root, "bevel")[:4]
    )
    assert top < left < right < bottom


@pytest.mark.parametrize("finish", Finish)
def test_a_black_frame_still_shows_four_different_rails(finish):
    look = Look(frames=(FrameLook(colour=Colour.parse("#000000"), finish=finish),))
    shades = {rail.get("fill") for rail in of_class(read(front(sketch(), look)), "rail")[:4]}
    assert len(shades) == 4


def test_the_drawing_says_in_words_what_it_shows():
    root = read(front(sketch(), WALNUT))
    assert root.get("role") == "img"
    assert root[0].tag == f"{SVG}title"
    assert root[0].text == "A landscape piece, 603 × 490 mm outside, seen from the front"
    assert root[1].text == (
        "The artwork, 420 × 297 mm, lies behind the window of two mats, 410 × 287 mm. "
        "The frame's face is 25 mm wide."
    )
    said = {name: read(front(one, WALNUT))[1].text for name, one in MANY.items()}
    assert "stands in a tray with 5 mm all round" in said["tray"]
    assert "floats on its mount board" in said["box"]
    assert "There is no frame" in said["mat without frame"]
    assert "Two frames, from the inner one: faces 12 mm, 45 mm wide" in said["two frames"]


def test_an_address_of_a_picture_is_escaped():
    (art,) = of_class(read(front(sketch(), Look(image='a.png" onload="x<&'))), "artwork")
    assert art.get("href") == 'a.png" onload="x<&'
    assert "onload" not in art.attrib


KINDS = ("", "Watercolour", "oil on canvas", "Poster", "photograph", "Pencil drawing", "embroidery",
         "certificate", "something else 🖼")  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_a_placeholder_never_leaves_the_artworks_edges(kind):
    root = read(front(MANY["close without frame"], Look(kind=kind), view=FrontView.ALONE))
    (art,) = of_class(root, "artwork")
    for one in art:
        if one.tag == f"{SVG}rect":
            x, y, width, height = extent(one)
            corners = [(x, y), (x + width, y + height)]
        elif one.tag in (f"{SVG}ellipse", f"{SVG}circle"):
            cx, cy = float(one.get("cx")), float(one.get("cy"))
            rx, ry = (float(one.get(n) or one.get("r")) for n in ("rx", "ry"))
            corners = [(cx - rx, cy - ry), (cx + rx, cy + ry)]
        elif "q" in (one.get("d") or ""):
            corners = points(one)[:1]
        else:
            corners = points(one) or [
                (float(one.get("x1")), float(one.get("y1"))),
                (float(one.get("x2")), float(one.get("y2"))),
            ]
        assert all(0 <= x <= 300 and 0 <= y <= 200 for x, y in corners), one.attrib


def test_kinds_have_placeholders_of_their_own():
    drawn = {front(MANY["close without frame"], Look(kind=kind)) for kind in KINDS[1:8]}
    assert len(drawn) == 7
    plain = front(MANY["close without frame"], Look())
    assert front(MANY["close without frame"], Look(kind="brass plaque")) == plain


def test_coordinates_have_two_decimals_at_most():
    for name, dimensions in MANY.items():
        assert not re.search(r"\d\.\d{3}", front(dimensions, WALNUT)), name
