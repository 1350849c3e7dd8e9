"""Notices of geometry and depth: when they are given, with which figures, and when not.

The figures are worked by hand from the handbook rule named in each test.
"""

from dataclasses import replace

import pytest

from app.framing import Mat, Presentation, Spacer, Spec, in_steps, work_out
from app.framing.given_frame import GivenFrame
from app.framing.notice import Concern
from app.framing.notices.fit import faults_of_fit
from app.lengths import Steps, Unit, inches, mm
from tests.builders.specs import (
    BARE,
    DOUBLE,
    MATTED,
    edges,
    frame,
    in_inches,
    mat,
    notices,
    panel,
    size,
)

FLOAT = replace(BARE, presentation=Presentation.FLOAT)
CANVAS = replace(BARE, presentation=Presentation.CANVAS, artwork_thickness=mm(20))
TRAY = replace(BARE, presentation=Presentation.CANVAS_FLOAT, artwork_thickness=mm(20), gap=mm(5))


def concern(spec: Spec, code: str) -> Concern:
    return next(notice.concern for notice in work_out(spec).notices if notice.code == code)


def test_a_sound_piece_calls_for_nothing() -> None:
    assert notices(replace(MATTED, glazing=panel("2"), backing=panel("3"))) == {}


def test_a_border_at_the_smallest_is_not_narrow() -> None:
    """G5: 50 mm / 2 in is the smallest that says nothing."""
    assert notices(replace(MATTED, borders=edges("50", "50", "50", "50"))) == {}
    narrow = notices(replace(MATTED, borders=edges("49.5", "50", "50", "30")))
    assert set(narrow) == {"border-below-smallest"}
    for part in ("left 49.5 mm", "bottom 30 mm", "50 mm or 2 in"):
        assert part in narrow["border-below-smallest"]
    assert "right" not in narrow["border-below-smallest"]


def test_narrow_borders_are_said_as_they_are_cut() -> None:
    """By hand: window 211 - 2 x 5 = 201 in 300 leaves 49.5 at either side; of 99 whole millimetres
    the uneven one goes to the right: 49 and 50 (G5, G9, L2)."""
    exact = work_out(
        replace(
            MATTED,
            artwork=size("211", "211"),
            overlap=mm(5),
            borders=None,
            package=size("300", "401"),
        )
    )
    (before,) = (one.message for one in exact.notices if one.code == "border-below-smallest")
    assert before.startswith("Narrow border: left 49.5 mm, right 49.5 mm.")
    cut = in_steps(exact, Steps(unit=Unit.MM, step=mm(1)))
    (said,) = (one.message for one in cut.notices if one.code == "border-below-smallest")
    assert said == (
        "Narrow border: left 49 mm, seen from the front. The smallest usual border is 50 mm or 2 in."
    )
    assert dict(cut.layers[0].borders.sides())["right"] == mm(50)


def test_an_inch_piece_is_measured_by_the_same_smallest_border() -> None:
    """G5, the lesser of 50 mm and 2 in: window 7 5/8 x 9 5/8 in 11 x 14: sides 1 11/16, above and below 2 3/16."""
    said = notices(in_inches())["border-below-smallest"]
    assert 'left 1 11/16"' in said
    assert "smallest usual border is 50 mm or 2 in" in said
    assert "top" not in said
    assert notices(in_inches(package=size("11.625", "14", Unit.IN))) == {}


def test_a_weighting_beside_four_borders_is_not_used() -> None:
    said = notices(replace(MATTED, weighting=mm(12)))
    assert set(said) == {"weighting-not-used"}
    assert "12 mm" in said["weighting-not-used"]


def test_a_border_of_which_the_lip_leaves_under_60_percent_is_said() -> None:
    """G13: seen = border + allowance/2 - lip. 60 + 1.5 - 25.5 = 36, 60 % of 60; - 26 = 35.5 is less."""
    equal = replace(MATTED, borders=edges("60", "60", "60", "60"))
    assert notices(replace(equal, frames=(frame("40", "25.5"),))) == {}
    said = notices(replace(equal, frames=(frame("40", "26"),)))
    assert set(said) == {"border-mostly-hidden"}
    assert "left 35.5 mm of 60 mm" in said["border-mostly-hidden"]


def test_a_border_wholly_behind_the_lip_is_a_risk_and_no_figure_below_zero() -> None:
    """G13: 3 + 1.5 - 6 = -1.5 on the left; 20 + 1.5 - 12 = 9.5 would still be seen."""
    spec = replace(MATTED, borders=edges("3", "60", "4.5", "60"), frames=(frame("25", "6"),))
    said = notices(spec)
    assert said["border-hidden"].startswith(
        "The lip hides the mat entirely on the left and at the top."
    )
    assert "\N{MINUS SIGN}" not in said["border-hidden"]
    assert "border-mostly-hidden" not in said
    assert concern(spec, "border-hidden") is Concern.RISK


def test_an_artwork_that_stands_past_its_glass_is_a_risk() -> None:
    """G4, G25: 406.4 x 508 under an overlap of 5: 396.4 + 2 x 3 = 402.4 x 504; 2 mm past each edge."""
    spec = replace(
        MATTED, artwork=size("406.4", "508"), borders=edges("3", "3", "3", "3"), frames=()
    )
    said = notices(spec)["artwork-past-glass"]
    assert "406.4 \N{MULTIPLICATION SIGN} 508 mm, is larger than its glass size, 402.4" in said
    assert "2 mm at the left, 2 mm at the right, 2 mm at the top, 2 mm at the bottom" in said
    assert concern(spec, "artwork-past-glass") is Concern.RISK


def test_an_artwork_past_one_edge_of_its_glass_is_said_there() -> None:
    """G25: an overlap of 5 behind a border of 3 leaves 2 past the edge; a border of 5 holds it all."""
    said = notices(replace(MATTED, borders=edges("3", "60", "60", "60"), frames=()))
    assert "does not lie wholly behind its glass" in said["artwork-past-glass"]
    assert "it stands out 2 mm at the left." in said["artwork-past-glass"]
    level = notices(replace(MATTED, borders=edges("5", "60", "60", "60"), frames=()))
    assert "artwork-past-glass" not in level


def test_an_artwork_that_is_larger_than_the_rebate_does_not_go_into_the_frame() -> None:
    """G11: 2 + 2 past the edges is more than 3 of play; past one edge alone 2 lies in the play."""
    narrow = replace(MATTED, borders=edges("3", "3", "60", "60"), frames=(frame(),))
    (fault,) = faults_of_fit(work_out(narrow))
    assert fault.path == "borders.left"
    assert "does not go into the frame" in fault.message
    one_side = replace(MATTED, borders=edges("3", "60", "60", "60"), frames=(frame(),))
    assert faults_of_fit(work_out(one_side)) == ()
    assert faults_of_fit(work_out(replace(narrow, frames=()))) == ()


def test_only_the_inner_frame_hides_a_border() -> None:
    """G13, G18: the outer lip lies on the inner frame."""
    assert notices(replace(MATTED, frames=(frame(), frame("60", "15", "20", "3")))) == {}


def test_a_window_given_by_package_and_borders_says_what_it_covers() -> None:
    """G6: 400 - 100 = 300 wide over 310: 5 each edge; 500 - 110 = 390 high over 380: 5 bare."""
    spec = replace(
        MATTED,
        artwork=size("310", "380"),
        package=size("400", "500"),
        borders=edges("50", "50", "55", "55"),
    )
    said = notices(spec)
    assert set(said) == {"artwork-covered", "artwork-bare"}
    assert "width" in said["artwork-covered"]
    assert "5 mm" in said["artwork-covered"]
    assert "10 mm larger" in said["artwork-bare"]
    assert "5 mm stays bare at each edge" in said["artwork-bare"]
    assert concern(spec, "artwork-bare") is Concern.RISK


def test_a_window_that_covers_next_to_nothing_says_so() -> None:
    """G6: 300 wide over 304: 2 each edge, less than half of the usual 5."""
    spec = replace(
        MATTED,
        artwork=size("304", "310"),
        package=size("400", "400"),
        borders=edges("50", "50", "50", "50"),
    )
    said = notices(spec)
    assert "2 mm" in said["artwork-barely-covered"]
    assert "5 mm" in said["artwork-covered"]


def test_a_float_in_a_given_window_says_its_real_gap() -> None:
    """G2, G6: package 400 x 500, borders 60: window 280 x 380 around 260 x 350: gaps 10 and 15."""
    spec = replace(
        MATTED,
        presentation=Presentation.FLOAT,
        artwork=size("260", "350"),
        package=size("400", "500"),
        borders=edges("60", "60", "60", "60"),
    )
    said = notices(spec)
    assert set(said) == {"float-gap"}
    assert "width the gap around the artwork is 10 mm" in said["float-gap"]
    assert "height the gap around the artwork is 15 mm" in said["float-gap"]


def test_a_float_in_a_window_smaller_than_its_artwork_is_a_risk() -> None:
    """G2, G6: window 280 x 380 over an artwork of 290 wide hides 5 at each edge."""
    spec = replace(
        MATTED,
        presentation=Presentation.FLOAT,
        artwork=size("290", "350"),
        package=size("400", "500"),
        borders=edges("60", "60", "60", "60"),
    )
    said = notices(spec)
    assert set(said) == {"float-covered", "float-gap"}
    assert "5 mm" in said["float-covered"]
    assert "width" in said["float-covered"]
    assert concern(spec, "float-covered") is Concern.RISK


def test_an_overlap_of_nothing_lets_the_artwork_through() -> None:
    """G1: window = artwork, so nothing holds it."""
    said = notices(replace(MATTED, overlap=mm(0)))
    assert set(said) == {"artwork-barely-covered"}
    assert "0 mm" in said["artwork-barely-covered"]


def test_a_package_larger_than_a_close_artwork_is_loose_and_the_lip_covers_less() -> None:
    """G15: 300 - 297 = 3, 425 - 420 = 5; lip 6 - 1.5 - 1.5 = 3 in width, 6 - 1.5 - 2.5 = 2 in height."""
    said = notices(replace(BARE, package=size("300", "425"), frames=(frame(),)))
    assert set(said) == {"package-loose", "artwork-covered-by-lip"}
    assert "3 mm in width" in said["package-loose"]
    assert "5 mm in height" in said["package-loose"]
    assert "3 mm in width" in said["artwork-covered-by-lip"]
    assert "2 mm in height" in said["artwork-covered-by-lip"]
    assert "4.5 mm" not in said["artwork-covered-by-lip"]


def test_a_package_so_loose_that_the_lip_misses_the_artwork_is_a_risk() -> None:
    """G15: 320 - 297 = 23, half 11.5; lip 6 - 1.5 = 4.5 covers none of it: 7 bare at each edge."""
    spec = replace(BARE, package=size("320", "420"), frames=(frame(),))
    said = notices(spec)
    assert set(said) == {"package-loose", "artwork-bare", "artwork-covered-by-lip"}
    assert "7 mm" in said["artwork-bare"]
    assert "4.5 mm in height" in said["artwork-covered-by-lip"]
    assert "width" not in said["artwork-covered-by-lip"]
    assert concern(spec, "artwork-bare") is Concern.RISK


def test_a_close_fit_says_what_the_lip_covers() -> None:
    """G15: lip - allowance/2 = 6 - 1.5 = 4.5 each edge."""
    for spec in (replace(BARE, frames=(frame(),)), replace(CANVAS, frames=(frame(depth="0"),))):
        said = notices(spec)
        assert set(said) == {"artwork-covered-by-lip"}
        assert "4.5 mm" in said["artwork-covered-by-lip"]


@pytest.mark.parametrize(
    ("lip", "code"),
    [("1.5", "lip-does-not-hold"), ("1.6", "lip-barely-holds"), ("3", "lip-barely-holds")],
)
def test_a_lip_that_the_package_can_slip_past_is_said(lip: str, code: str) -> None:
    """G11: with allowance 3 a lip of 1.5 holds nothing, one up to 3 shows an edge when it slips."""
    said = notices(replace(MATTED, frames=(frame(lip=lip),)))
    assert set(said) == {code}
    assert f"{lip} mm" in said[code]
    assert notices(replace(MATTED, frames=(frame(lip="3.1"),))) == {}


def test_a_trays_lip_and_allowance_are_not_used() -> None:
    """G17."""
    assert set(notices(replace(TRAY, frames=(frame("12", "6", "40", "3"),)))) == {
        "tray-lip-not-used"
    }
    assert notices(replace(TRAY, frames=(frame("12", "0", "40", "0"),))) == {}


def test_a_canvas_deeper_than_its_tray_stands_proud() -> None:
    """G17: 38 - 30 = 8."""
    said = notices(replace(TRAY, artwork_thickness=mm(38), frames=(frame("12", "0", "30", "0"),)))
    assert set(said) == {"canvas-stands-proud"}
    assert "8 mm" in said["canvas-stands-proud"]


def test_a_canvas_past_the_rebate_gives_the_size_of_the_clips() -> None:
    """G16: 20 + 3 - 14 = 9; a rebate as deep as the canvas needs none."""
    said = notices(replace(CANVAS, backing=panel("3"), frames=(frame(),)))
    assert "offset clips of 9 mm" in said["canvas-past-rebate"]
    assert "canvas-past-rebate" not in notices(replace(CANVAS, frames=(frame(depth="20"),)))


def test_a_stack_too_deep_says_by_how_much_and_what_would_fit() -> None:
    """D1: 2 + 3 + 1.4 + 1.4 + 2 + 3 = 12.8, with 2 for the points 14.8: 0.8 over 14."""
    spec = replace(
        DOUBLE,
        glazing=panel("2"),
        spacer=Spacer(depth=mm(3), width=mm(5)),
        mount_board=panel("2"),
        backing=panel("3"),
    )
    said = notices(spec)
    assert set(said) == {"stack-too-deep"}
    for part in ("12.8 mm", "2 mm", "0.8 mm more", "14 mm", "at least 14.8 mm"):
        assert part in said["stack-too-deep"]
    assert concern(spec, "stack-too-deep") is Concern.RISK
    assert notices(replace(spec, frames=(frame(depth="14.8"),))) == {}
    assert notices(replace(spec, frames=(frame(depth="0"),))) == {}


@pytest.mark.parametrize(
    ("depth", "fits"), [("11/32", False), ("23/64", False), ("24/64", True), ("1/2", True)]
)
def test_an_inch_piece_keeps_as_much_room_for_the_points(depth: str, fits: bool) -> None:
    """D1: 9/32 and 2 mm = 0.36 in. 11/32 leaves 1.59 mm, 23/64 1.98 mm, 24/64 2.38 mm."""
    moulding = replace(
        frame(),
        face=inches(1),
        lip=inches("1/4"),
        allowance=inches("1/8"),
        rebate_depth=inches(depth),
    )
    spec = in_inches(
        package=size("12", "14", Unit.IN),
        glazing=replace(panel(), thickness=inches("3/32")),
        backing=replace(panel(), thickness=inches("1/8")),
        frames=(moulding,),
    )
    assert work_out(spec).stack == inches("9/32")
    assert ("stack-too-deep" not in notices(spec)) is fits


def test_a_frame_deeper_than_the_one_around_it_is_said() -> None:
    """G18: 14 deep inside 10."""
    said = notices(replace(MATTED, frames=(frame(), frame("50", "6", "10", "3"))))
    assert set(said) == {"frame-in-frame-depth"}
    assert "10 mm" in said["frame-in-frame-depth"]
    assert "14 mm" in said["frame-in-frame-depth"]


def test_an_outer_lip_that_hides_the_inner_frame_is_said() -> None:
    """G18, G13: of a face of 10, 10 + 1 - 11 = 0 is seen inside a lip of 11 with allowance 2."""
    slip = frame("10", "5", "8", "2")
    said = notices(replace(MATTED, frames=(slip, frame("40", "11", "20", "2"))))
    assert set(said) == {"inner-frame-hidden"}
    assert "frame 2" in said["inner-frame-hidden"]
    assert notices(replace(MATTED, frames=(slip, frame("40", "8", "20", "2")))) == {}


def test_a_reveal_no_wider_than_the_bevel_shows_no_board_face() -> None:
    """G3, G8: a board of 1.4 runs 1.4 at 45 degrees, so of a reveal of 1.4 only the bevel is seen."""
    said = notices(replace(DOUBLE, mats=(mat(), mat(reveal="1.4"))))
    assert set(said) == {"reveal-only-bevel"}
    assert "1.4 mm" in said["reveal-only-bevel"]
    assert notices(replace(DOUBLE, mats=(mat(), mat(reveal="1.5")))) == {}


def test_a_reveal_of_a_board_cut_straight_shows_its_face_however_narrow() -> None:
    straight = Mat(
        thickness=mm("1.4"), reveal=mm(1), bevel=replace(DOUBLE.mats[1].bevel, degrees=90)
    )
    assert notices(replace(DOUBLE, mats=(mat(), straight))) == {}


def tight(spec: Spec, step: str) -> str | None:
    cut = in_steps(work_out(spec), Steps(unit=spec.unit, step=mm(step)))
    return notices(cut).get("tight-after-rounding")


def test_rounding_that_eats_half_the_allowance_is_said_and_none_that_does_not() -> None:
    """L2. Package 407.5 x 540, cut 408 x 540 in steps of 1; walls 2 x (25 - 6) = 38.

    Allowance 1: outside 446.5, cut 447: clearance 447 - 38 - 408 = 1. Allowance 0.5: 446, cut 446:
    clearance 0, under 0.25. Allowance 0.6: 446.1, cut 447: clearance 1.
    """
    piece = replace(MATTED, artwork=size("297.5", "420"))
    assert tight(replace(piece, frames=(frame(allowance="1"),)), "1") is None
    assert tight(replace(piece, frames=(frame(allowance="0.6"),)), "1") is None
    said = tight(replace(piece, frames=(frame(allowance="0.5"),)), "1")
    assert said is not None
    assert "0 mm" in said
    assert "0.5 mm" in said
    assert tight(replace(piece, frames=(frame(allowance="0.5"),)), "0.5") is None


def test_a_package_that_rounding_makes_too_large_says_by_how_much() -> None:
    """L2. No allowance: outside 407.5 + 38 = 445.5, cut in steps of 1 to 446: 446 - 38 - 408 = 0.

    Face 25.25: 2 x 19.25 = 38.5, outside 446, cut 446: 446 - 38.5 - 408 = -0.5: does not enter.
    """
    piece = replace(MATTED, artwork=size("297.5", "420"))
    assert tight(replace(piece, frames=(frame(allowance="0"),)), "1") is None
    said = tight(replace(piece, frames=(frame("25.25", allowance="0"),)), "1")
    assert said is not None
    assert "0.5 mm" in said
    assert "does not fit" in said


def test_notices_of_a_turned_piece_are_the_same() -> None:
    spec = replace(FLOAT, frames=(frame(lip="1"),), spacer=Spacer(depth=mm(20), width=mm(5)))
    turned = replace(spec, artwork=spec.artwork.turned())
    assert set(notices(spec)) == set(notices(turned)) == {"lip-does-not-hold", "stack-too-deep"}


def test_the_package_is_called_by_the_glass_or_the_canvas() -> None:
    assert MATTED.package_word == "glass size"
    assert CANVAS.package_word == "canvas size"
    given = GivenFrame(rebate=size("403", "303"), allowance=mm(3))
    assert replace(CANVAS, given_frame=given).package_word == "room for canvas"
