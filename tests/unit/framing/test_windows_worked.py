"""Several windows in one mat, worked by hand on paper from G3 to G10 and G20; all in millimetres.

No published table of several windows was found; every figure below is arithmetic that stands beside
it, done by hand. "x y" are places of left-top corners, seen from the front.
"""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest

from app.framing import (
    Align,
    Arrangement,
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
    in_steps,
    mirrored,
    rows_of,
    window_letter,
    work_out,
)
from app.framing.notices.weight import Masses, weigh
from app.lengths import Length, Steps, Unit, inches, mm
from tests.builders.specs import BARE, edges, mat, size

ONE_MAT = replace(BARE, presentation=Presentation.WINDOW, mats=(mat(),))
TWO_MATS = replace(ONE_MAT, mats=(mat(), mat(reveal="6")))
HALF = Steps(unit=Unit.MM, step=mm("0.5"))
WHOLE = Steps(unit=Unit.MM, step=mm(1))


def windows(*sizes: str) -> tuple[Opening, ...]:
    """Windows of these sizes, as "100 140", named A, B, C and so on."""
    sides = (text.split() for text in sizes)
    return tuple(
        Opening(name=window_letter(index), window=size(width, height))
        for index, (width, height) in enumerate(sides)
    )


def rows(*counts: int, **more: str | Align) -> Arrangement:
    gaps = {way: mm(gap) for way, gap in more.items() if way != "align"}
    return Arrangement(rows=counts, align=Align(more.get("align", "centre")), **gaps)


def number(length: Length) -> str:
    return str(length.mm)


def places(worked: Dimensions, layer: int = 1) -> list[str]:
    """ "name x y" of every window of a layer."""
    return [f"{w.name} {number(w.x)} {number(w.y)}" for w in worked.windows_of(layer)]


def sizes(worked: Dimensions, layer: int = 1) -> list[str]:
    return [f"{number(w.size.width)} {number(w.size.height)}" for w in worked.windows_of(layer)]


EIGHT = replace(
    ONE_MAT,
    openings=windows(*["100 140"] * 8),
    arrangement=rows(4, 4, across="25", down="30"),
    borders=edges("60", "60", "60", "70"),
)
"""4 x 100 + 3 x 25 = 475 wide, 2 x 140 + 30 = 310 high; package 475 + 120 by 310 + 130."""

UNEQUAL = replace(
    ONE_MAT,
    openings=windows("100 150", "120 100", "80 130", "200 90", "60 120"),
    arrangement=rows(3, 2, across="20", down="25"),
    borders=Edges.equal(mm(50)),
)
"""Rows 100 + 120 + 80 + 2 x 20 = 340 and 200 + 60 + 20 = 280 wide, 150 and 120 high."""


def test_eight_windows_in_two_rows_give_the_package_and_every_place() -> None:
    worked = work_out(EIGHT)
    assert worked.package == size("595", "440")
    assert places(worked) == [
        *("A 60 60", "B 185 60", "C 310 60", "D 435 60"),
        *("E 60 230", "F 185 230", "G 310 230", "H 435 230"),
    ]
    assert worked.layers[0].borders == edges("60", "60", "60", "70")
    assert worked.notices == ()


def test_from_the_back_the_first_window_is_the_last() -> None:
    """G10: 595 - 60 - 100 = 435, 595 - 185 - 100 = 310, and so on back."""
    worked = work_out(EIGHT)
    back = [mirrored(window, worked.package) for window in worked.windows_of(1)]
    assert [number(w.x) for w in back] == ["435", "310", "185", "60"] * 2
    assert [w.y for w in back] == [w.y for w in worked.windows]


@pytest.mark.parametrize(
    ("align", "expected"),
    [
        # All rows begin at the row's top: 50, and 50 + 150 + 25 = 225.
        ("top", ["A 50 50", "B 170 50", "C 310 50", "D 80 225", "E 300 225"]),
        # (150 - 100)/2 = 25 and (150 - 130)/2 = 10 under the row's top; (120 - 90)/2 = 15.
        ("centre", ["A 50 50", "B 170 75", "C 310 60", "D 80 240", "E 300 225"]),
        # 150 - 100 = 50 and 150 - 130 = 20 under it; 120 - 90 = 30.
        ("bottom", ["A 50 50", "B 170 100", "C 310 70", "D 80 255", "E 300 225"]),
    ],
)
def test_unequal_windows_meet_at_top_centre_or_bottom(align: str, expected: list[str]) -> None:
    """The second row is centred: 50 + (340 - 280)/2 = 80. Package 440 by 150 + 25 + 120 + 100."""
    worked = work_out(
        replace(UNEQUAL, arrangement=rows(3, 2, across="20", down="25", align=Align(align)))
    )
    assert worked.package == size("440", "395")
    assert places(worked) == expected
    assert worked.layers[0].borders == Edges.equal(mm(50))


def test_package_and_borders_give_equal_gaps() -> None:
    """Across (700 - 100 - 400)/3 = 200/3, down 500 - 60 - 80 - 280 = 80."""
    worked = work_out(
        replace(
            EIGHT,
            arrangement=rows(4, 4),
            package=size("700", "500"),
            borders=edges("50", "50", "60", "80"),
        )
    )
    assert worked.gaps is not None
    assert (worked.gaps.across, worked.gaps.down) == (mm("200/3"), mm(80))
    assert places(worked)[:5] == ["A 50 60", "B 650/3 60", "C 1150/3 60", "D 550 60", "E 50 280"]
    assert worked.layers[0].borders == edges("50", "50", "60", "80")


def test_solved_gaps_in_steps_differ_by_one_step_and_the_last_window_stays_at_its_border() -> None:
    """216 2/3 is cut at 216.5 and 383 1/3 at 383.5, so the gaps are 66.5, 67, 66.5."""
    worked = work_out(
        replace(
            EIGHT,
            arrangement=rows(4, 4),
            package=size("700", "500"),
            borders=edges("50", "50", "60", "80"),
        )
    )
    cut = in_steps(worked, HALF)
    assert places(cut)[:4] == ["A 50 60", "B 433/2 60", "C 767/2 60", "D 550 60"]
    assert cut.layers[0].borders == edges("50", "50", "60", "80")
    assert cut.gaps is None


def test_the_tightest_row_sets_the_gap_and_the_others_are_centred() -> None:
    """Three of 150: (650 - 80 - 450)/2 = 60; two of 150 alone would have had 270. The second row is
    360 wide and begins at 40 + (570 - 360)/2 = 145."""
    worked = work_out(
        replace(
            ONE_MAT,
            openings=windows(*["150 100"] * 5),
            arrangement=rows(3, 2, down="40"),
            package=size("650", "320"),
            borders=Edges.equal(mm(40)),
        )
    )
    assert places(worked) == [
        *("A 40 40", "B 250 40", "C 460 40"),
        *("D 145 180", "E 355 180"),
    ]


def test_package_and_gaps_give_the_borders_with_the_weighting_below() -> None:
    """(600 - 475)/2 = 62.5 at the sides; (450 - 310 - 10)/2 = 65 above, 75 below (G5)."""
    worked = work_out(replace(EIGHT, borders=None, package=size("600", "450"), weighting=mm(10)))
    assert worked.layers[0].borders == edges("62.5", "62.5", "65", "75")
    assert places(worked)[0] == "A 125/2 65"


def test_a_package_alone_gives_gaps_as_wide_as_the_borders() -> None:
    """(500 - 3 x 100)/4 = 50 between and beside; (300 - 140)/2 = 80 above and below."""
    worked = work_out(
        replace(ONE_MAT, openings=windows(*["100 140"] * 3), package=size("500", "300"))
    )
    assert places(worked) == ["A 50 80", "B 200 80", "C 350 80"]
    assert worked.layers[0].borders == edges("50", "50", "80", "80")


def test_where_no_gap_can_give_way_the_borders_do_and_it_is_said() -> None:
    """One row: across (500 - 120 - 300)/2 = 40. Down 400 - 140 - 120 = 140 more than asked, half of
    it to the top and half to the bottom."""
    worked = work_out(
        replace(
            ONE_MAT,
            openings=windows(*["100 140"] * 3),
            package=size("500", "400"),
            borders=Edges.equal(mm(60)),
        )
    )
    assert places(worked) == ["A 60 130", "B 200 130", "C 340 130"]
    assert [notice.code for notice in worked.notices] == ["borders-not-as-given"]
    assert "top 130 mm instead of 60 mm, bottom 130 mm" in worked.notices[0].message


def test_free_places_end_at_the_right_and_bottom_borders() -> None:
    """Right edges 150 and 320, bottoms 200 and 200: package 320 + 55 by 200 + 65."""
    free = (
        Opening(name="A", window=size("100", "140"), at=Point(x=mm(50), y=mm(60))),
        Opening(
            name="B",
            window=size("120", "120"),
            at=Point(x=mm(200), y=mm(80)),
            shape=Shape.OVAL,
        ),
    )
    worked = work_out(replace(ONE_MAT, openings=free, borders=edges("50", "55", "60", "65")))
    assert worked.package == size("375", "265")
    assert places(worked) == ["A 50 60", "B 200 80"]
    fixed = work_out(replace(ONE_MAT, openings=free, package=size("400", "300")))
    assert fixed.layers[0].borders == edges("50", "80", "60", "100")
    assert places(fixed) == places(worked)


def test_a_place_is_that_of_the_window_in_the_top_mat() -> None:
    """Reveal 6: the top window of 100 x 140 is 112 x 152; the under one begins 6 further in."""
    free = (Opening(name="A", window=size("100", "140"), at=Point(x=mm(50), y=mm(60))),)
    worked = work_out(replace(TWO_MATS, openings=free, borders=Edges.equal(mm(50))))
    assert (places(worked, 1), sizes(worked, 1)) == (["A 50 60"], ["112 152"])
    assert (places(worked, 2), sizes(worked, 2)) == (["A 56 66"], ["100 140"])
    assert worked.package == size("212", "262")


def test_windows_of_an_under_mat_are_measured_from_the_edges_that_its_borders_are() -> None:
    """G7: attached 60 + 6 = 66; on its own edges, 3 trimmed, 63. Layer 1 has windows of 112 and gaps
    of 25: 60, 197, 334, 471."""
    double = replace(EIGHT, mats=TWO_MATS.mats)
    attached = work_out(double)
    assert places(attached, 1)[:4] == ["A 60 60", "B 197 60", "C 334 60", "D 471 60"]
    assert places(attached, 2)[:4] == ["A 66 66", "B 203 66", "C 340 66", "D 477 66"]
    assert places(attached, 2)[4] == "E 66 248"
    own = work_out(replace(double, under=UnderMats(way=UnderWay.OWN_EDGES, trim=mm(3))))
    assert places(own, 2)[:4] == ["A 63 63", "B 200 63", "C 337 63", "D 474 63"]
    assert own.layers[1].borders == edges("63", "63", "63", "73")
    assert places(own, 1) == places(attached, 1)


def test_each_window_follows_its_own_artwork_by_overlap_or_float() -> None:
    """150 - 2 x 5 = 140 and 100 - 10 = 90; by its own overlap 3: 94; floated by 12: 100 + 24."""
    artwork = size("150", "100")
    worked = work_out(
        replace(
            ONE_MAT,
            openings=(
                Opening(name="print", artwork=artwork),
                Opening(name="card", artwork=artwork, overlap=mm(3)),
                Opening(name="leaf", artwork=artwork, floats=True, gap=mm(12)),
            ),
            arrangement=rows(1, 1, 1, down="30"),
            borders=Edges.equal(mm(50)),
        )
    )
    assert sizes(worked) == ["140 90", "144 94", "174 124"]
    assert worked.artworks == (("print", artwork), ("card", artwork), ("leaf", artwork))


def test_a_title_slot_is_centred_under_its_window_and_ends_the_field() -> None:
    """Slot at 60 + (200 - 80)/2 = 120 and 60 + 150 + 15 = 225; package 320 by 150 + 15 + 20 + 120."""
    titled = (
        Opening(name="A", window=size("200", "150"), slot=Slot(size=size("80", "20"), gap=mm(15))),
    )
    worked = work_out(replace(ONE_MAT, openings=titled, borders=Edges.equal(mm(60))))
    assert places(worked) == ["A 60 60", "A slot 120 225"]
    assert worked.package == size("320", "305")
    assert worked.layers[0].borders == Edges.equal(mm(60))


def test_a_title_slot_shows_the_reveals_of_under_mats_as_its_window_does() -> None:
    """Top mat: window 212 x 162, slot 92 x 32 at 60 + 60 = 120 and 60 + 162 + 15 = 237."""
    titled = (
        Opening(name="A", window=size("200", "150"), slot=Slot(size=size("80", "20"), gap=mm(15))),
    )
    worked = work_out(replace(TWO_MATS, openings=titled, borders=Edges.equal(mm(60))))
    assert (places(worked, 1), sizes(worked, 1)) == (
        ["A 60 60", "A slot 120 237"],
        ["212 162", "92 32"],
    )
    assert (places(worked, 2), sizes(worked, 2)) == (
        ["A 66 66", "A slot 126 243"],
        ["200 150", "80 20"],
    )
    assert worked.package == size("332", "329")


def test_a_slot_wider_than_its_window_keeps_the_neighbours_away() -> None:
    """Cells 140 and 100: window A at 50 + (140 - 100)/2 = 70, B at 50 + 140 + 20 = 210."""
    worked = work_out(
        replace(
            ONE_MAT,
            openings=(
                Opening(
                    name="A",
                    window=size("100", "100"),
                    slot=Slot(size=size("140", "20"), gap=mm(25)),
                ),
                Opening(name="B", window=size("100", "100")),
            ),
            arrangement=rows(2, across="20"),
            borders=Edges.equal(mm(50)),
        )
    )
    assert places(worked) == ["A 70 50", "A slot 50 175", "B 210 50"]
    assert worked.package == size("360", "245")
    assert worked.layers[0].borders == Edges.equal(mm(50))


def test_an_arch_rises_by_half_its_width_and_grows_about_its_middle() -> None:
    """200 wide: rise 100; with a reveal of 6 the top window is 212 x 312 and rises 106."""
    arched = (Opening(name="A", window=size("200", "300"), shape=Shape.ARCH),)
    worked = work_out(replace(TWO_MATS, openings=arched, borders=Edges.equal(mm(60))))
    assert [w.rise for w in worked.windows] == [mm(106), mm(100)]
    assert sizes(worked, 1) == ["212 312"]
    flat = (Opening(name="A", window=size("200", "300"), shape=Shape.ARCH, rise=mm(40)),)
    worked = work_out(replace(TWO_MATS, openings=flat, borders=Edges.equal(mm(60))))
    assert [w.rise for w in worked.windows] == [mm(46), mm(40)]


def test_areas_of_round_windows_agree_with_the_circle() -> None:
    """Against math.pi: an oval of axes 200 x 100, and a half circle of 100 on 200 x 200."""

    def area(shape: Shape, width: str, height: str) -> Fraction:
        opening = Opening(name="A", window=size(width, height), shape=shape)
        worked = work_out(replace(ONE_MAT, openings=(opening,), borders=Edges.equal(mm(60))))
        return worked.windows[0].area_m2 * 1_000_000

    assert float(area(Shape.OVAL, "200", "100")) == pytest.approx(pi * 100 * 50, rel=1e-6)
    assert float(area(Shape.ARCH, "200", "300")) == pytest.approx(
        200 * 200 + pi * 100**2 / 2, rel=1e-6
    )
    assert area(Shape.RECTANGLE, "200", "100") == 20_000


def test_all_windows_of_a_mat_are_taken_off_its_weight() -> None:
    """0.595 x 0.440 m less 8 x 0.100 x 0.140 m, at 1000 g per m²: 0.2618 - 0.112 = 0.1498 kg."""
    worked = work_out(EIGHT)
    assert weigh(worked, Masses(mats=(1000,))).kg == Fraction(1498, 10000)


def test_what_drops_out_is_as_large_as_the_hole_at_the_face_and_sound_as_the_one_at_the_back() -> (
    None
):
    """G8 at 45° through 1.4: 387 + 2.8 by 264 + 2.8."""
    opening = Opening(name="A", window=size("387", "264"))
    plain = replace(ONE_MAT, openings=(opening,), borders=Edges.equal(mm(60)))
    (fallout,) = work_out(plain).fallouts
    assert (fallout.size, fallout.sound) == (size("389.8", "266.8"), size("387", "264"))
    reverse = replace(plain, mats=(Mat(thickness=mm("1.4"), bevel=Bevel(reverse=True)),))
    (fallout,) = work_out(reverse).fallouts
    assert (fallout.size, fallout.sound) == (size("387", "264"), size("384.2", "261.2"))


def test_the_sound_part_of_a_round_fallout_lies_inside_its_outline() -> None:
    """Oval 7/10 of 200 x 100: its corner at 70, 35 has (70/100)² + (35/50)² = 0.98 < 1. Arch: under a
    rise of 100 a height of 300 keeps 200."""
    oval = Opening(name="A", window=size("200", "100"), shape=Shape.OVAL)
    arch = Opening(name="B", window=size("200", "300"), shape=Shape.ARCH)
    worked = work_out(
        replace(
            ONE_MAT,
            openings=(oval, arch),
            arrangement=rows(2, across="50"),
            borders=Edges.equal(mm(60)),
        )
    )
    assert [f.sound for f in worked.fallouts] == [size("140", "70"), size("200", "200")]
    assert [f.name for f in worked.fallouts] == ["A", "B"]


def test_a_groove_runs_at_its_distance_from_the_edge_at_the_face() -> None:
    """60 - 1.4 - 8 = 50.6 from the edges; 100 + 2 x 9.4 = 118.8 by 158.8."""
    worked = work_out(replace(EIGHT, groove=mm(8)))
    assert len(worked.grooves) == 8
    first = worked.grooves[0]
    assert (first.name, first.x, first.y) == ("A", mm("50.6"), mm("50.6"))
    assert first.size == size("118.8", "158.8")
    cut = in_steps(worked, HALF).grooves[0]
    assert (cut.x, cut.size) == (mm("50.5"), size("119", "159"))


def test_grooves_leave_title_slots_out() -> None:
    titled = Opening(
        name="A", window=size("200", "150"), slot=Slot(size=size("80", "20"), gap=mm(30))
    )
    worked = work_out(
        replace(ONE_MAT, openings=(titled,), borders=Edges.equal(mm(60)), groove=mm(8))
    )
    assert [groove.name for groove in worked.grooves] == ["A"]


def test_three_photographs_in_an_inch_mat() -> None:
    """4 x 6 in less 2 x 3/16 is 3 5/8 x 5 5/8; (20 - 4 - 3 x 3 5/8)/2 = 2 9/16 between them, and the
    second begins at 2 + 3 5/8 + 2 9/16 = 8 3/16, the third at 14 3/8."""
    photographs = tuple(
        Opening(name=name, artwork=size("4", "6", Unit.IN)) for name in ("1964", "1972", "1980")
    )
    spec = Spec(
        unit=Unit.IN,
        artwork=size("4", "6", Unit.IN),
        presentation=Presentation.WINDOW,
        overlap=inches("3/16"),
        gap=inches("3/8"),
        mats=(Mat(thickness=inches("1/16")),),
        openings=photographs,
        package=size("20", "10", Unit.IN),
        borders=Edges.equal(inches(2)),
    )
    worked = work_out(spec)
    assert [w.x for w in worked.windows] == [inches(2), inches("131/16"), inches("115/8")]
    assert worked.windows[0].size == size("29/8", "45/8", Unit.IN)
    assert worked.gaps is not None
    assert worked.gaps.across == inches("41/16")
    cut = in_steps(worked, Steps(unit=Unit.IN, step=inches("1/16")))
    assert [w.x for w in cut.windows] == [w.x for w in worked.windows]


def test_tops_and_bottoms_meet_after_rounding_too() -> None:
    """In whole mm 100.5 goes up to 101 and 120.25 down to 120: the tops stay one line, and so do
    the bottoms, whichever of them the row is set by."""
    openings = windows("80 100.5", "80 120.25", "80 90.75")
    for align, edge in ((Align.TOP, 0), (Align.BOTTOM, 1)):
        worked = work_out(
            replace(
                ONE_MAT,
                openings=openings,
                arrangement=rows(3, across="20", align=align),
                borders=Edges.equal(mm("50.25")),
            )
        )
        cut = in_steps(worked, WHOLE).windows
        assert [w.size.height for w in cut] == [mm(101), mm(120), mm(91)]
        assert len({w.y + w.size.height * edge for w in cut}) == 1


def test_a_place_that_was_typed_stays_where_it_was_and_remainders_go_right_and_down() -> None:
    """100.25 is cut at 100.5 in halves. Places 50 and 60 stay; the package 200.3 is cut at 200.5, so
    that 200.5 - 50 - 100.5 = 50 is left at the right."""
    free = (Opening(name="A", window=size("100.25", "100.25"), at=Point(x=mm(50), y=mm(60))),)
    worked = work_out(replace(ONE_MAT, openings=free, package=size("200.3", "220.3")))
    cut = in_steps(worked, HALF)
    assert places(cut) == ["A 50 60"]
    assert sizes(cut) == ["201/2 201/2"]
    assert cut.layers[0].borders == edges("50", "50", "60", "60")


def test_a_title_slot_keeps_its_gap_in_steps() -> None:
    titled = Opening(
        name="A", window=size("200.3", "150.3"), slot=Slot(size=size("80.2", "20.2"), gap=mm(15))
    )
    worked = work_out(replace(ONE_MAT, openings=(titled,), borders=Edges.equal(mm(60))))
    window, slot = in_steps(worked, HALF).windows
    assert slot.y - window.y - window.size.height == mm(15)


def test_an_arch_keeps_straight_sides_in_steps() -> None:
    """In whole mm a rise of 99.8 would be 100, all of a height of 100.2."""
    arch = Opening(name="A", window=size("180", "100.2"), shape=Shape.ARCH, rise=mm("99.8"))
    worked = work_out(replace(ONE_MAT, openings=(arch,), borders=Edges.equal(mm(60))))
    (cut,) = in_steps(worked, WHOLE).windows
    assert (cut.size.height, cut.rise) == (mm(100), mm(99))


def test_rows_of_columns_put_what_is_left_over_last() -> None:
    assert rows_of(8, 4) == (4, 4)
    assert rows_of(10, 4) == (4, 4, 2)
    assert rows_of(3, 4) == (3,)


def test_windows_are_lettered_past_the_alphabet() -> None:
    assert [window_letter(index) for index in (0, 7, 25, 26, 27)] == ["A", "H", "Z", "AA", "AB"]
