"""A frame that is given and an outside that is asked for: package, borders and what cannot be (G23, G24, D1).

Every figure is worked by hand. Standard sizes: ISO 216 (A3 is 297 × 420) and, as common practice, those of
photographs and of ready-made frames (30 × 40, 40 × 50 cm).
"""

from dataclasses import replace

import pytest

from app.errors import Fault, Invalid
from app.framing import Concern, Presentation, Spec, in_steps, work_out
from app.framing.checks.given_frame import NO_SUCH_DIAGONALS
from app.framing.given_frame import Diagonals, GivenFrame
from app.framing.notices.given_size import even_outsides
from app.lengths import STANDARD_SIZES, StandardSize, Steps, Unit, mm
from tests.builders.specs import MATTED, edges, faults, frame, mat, notices, panel, size

NARROW = frame(face="20", lip="6")
"""Its wall is 20 - 6 = 14 beside the rebate; with the allowance of 3 it takes 31 of an outside."""

LYING = replace(MATTED, artwork=size("420", "297"), borders=None, frames=(NARROW,))
"""A3 lying, behind a window of 410 x 287."""

OUTSIDE = replace(LYING, outside=size("500", "400"))

REBATE = GivenFrame(rebate=size("402", "502"), depth=mm(14), allowance=mm(3))
"""For 40 x 50 cm, measured: a little larger."""

GIVEN = replace(MATTED, borders=None, frames=(), given_frame=REBATE)
"""A3 upright, window 287 x 410, in a frame for 40 x 50 cm."""


def given(spec: Spec = GIVEN, **changes: object) -> Spec:
    return replace(spec, given_frame=replace(REBATE, **changes))  # type: ignore[arg-type]


# --- the outside is given (G23)


def test_a_package_is_what_the_outside_leaves() -> None:
    """500 − 2 × (20 − 6) − 3 = 469 and 400 − 31 = 369."""
    piece = work_out(OUTSIDE)
    assert piece.package == size("469", "369")
    assert piece.outside == size("500", "400")
    assert piece.frames[0].rebate == size("472", "372")


def test_borders_follow_and_are_equal_on_two_sides_each() -> None:
    """(469 − 410)/2 = 29.5 beside, (369 − 287)/2 = 41 above and below."""
    borders = work_out(OUTSIDE).layers[0].borders
    assert borders == edges("29.5", "29.5", "41", "41")


def test_a_weighting_is_taken_off_before_the_halves() -> None:
    """(369 − 287 − 10)/2 = 36, and 46 below."""
    borders = work_out(replace(OUTSIDE, weighting=mm(10))).layers[0].borders
    assert borders == edges("29.5", "29.5", "36", "46")


def test_several_frames_are_taken_off_outer_first() -> None:
    """Outer: 520 − 2 × (30 − 8) − 3 = 473 is the outside of the inner; 473 − 31 = 442."""
    two = replace(OUTSIDE, outside=size("520", "420"), frames=(NARROW, frame("30", "8")))
    piece = work_out(two)
    assert piece.package == size("442", "342")
    assert [one.outside for one in piece.frames] == [size("473", "373"), size("520", "420")]


def test_without_a_frame_the_outside_is_the_package() -> None:
    assert work_out(replace(OUTSIDE, frames=())).package == size("500", "400")


def test_borders_beside_an_outside_leave_the_window() -> None:
    """G6: 469 − 60 − 60 = 349 and 369 − 60 − 70 = 239."""
    both = replace(OUTSIDE, borders=edges("60", "60", "60", "70"))
    assert work_out(both).windows[0].size == size("349", "239")


def test_an_outside_smaller_than_the_frame_is_refused_in_words() -> None:
    said = faults(replace(OUTSIDE, outside=size("31", "400")))
    assert list(said) == ["outside.width"]
    for part in ("31 mm in width", "takes 31 mm", "nothing"):
        assert part in said["outside.width"]


def test_an_outside_that_leaves_no_border_says_how_large_it_must_be() -> None:
    """410 + 31 = 441."""
    said = faults(replace(OUTSIDE, outside=size("430", "400")))
    assert list(said) == ["outside.width"]
    for part in ("outside is 430 mm", "glass size of 399 mm", "11 mm too small", "over 441 mm"):
        assert part in said["outside.width"]


def test_package_and_outside_are_one_too_many() -> None:
    said = faults(replace(OUTSIDE, package=size("469", "369")))
    assert list(said) == ["outside"]
    assert "leave the other out" in said["outside"]


def test_a_canvas_sets_its_own_outside() -> None:
    canvas = replace(OUTSIDE, presentation=Presentation.CANVAS, mats=())
    assert list(faults(canvas)) == ["outside"]


def test_uneven_borders_say_why_and_offer_what_makes_them_equal() -> None:
    """All 41 needs 410 + 82 + 31 = 523 by 400; all 29 needs 410 + 58 + 31 = 499 by 287 + 58 + 31 = 376."""
    piece = work_out(OUTSIDE)
    (said,) = [one.message for one in piece.notices if one.code == "borders-uneven"]
    for part in ("29.5 mm left and right", "41 mm top and bottom", "410 × 287 mm"):
        assert part in said
    offered = even_outsides(piece, Steps(unit=Unit.MM, step=mm(1)))
    assert [(one.outside, one.border) for one in offered] == [
        (size("523", "400"), mm(41)),
        (size("499", "376"), mm(29)),
    ]
    for one in offered:
        borders = work_out(replace(OUTSIDE, outside=one.outside)).layers[0].borders
        assert borders == edges(*[str(one.border.mm)] * 4)


def test_borders_of_45_and_56_and_a_half_are_cut_as_45_45_56_57() -> None:
    """An opening of 290 × 187 in a package of 380 × 300: 45 beside; 113/2 above, and in whole steps 56 and 57."""
    piece = work_out(replace(OUTSIDE, artwork=size("300", "197"), outside=size("411", "331")))
    cut = in_steps(piece, Steps(unit=Unit.MM, step=mm(1)))
    assert cut.layers[0].borders == edges("45", "45", "56", "57")
    assert "borders-uneven" in {one.code for one in cut.notices}
    nearest, _ = even_outsides(piece, Steps(unit=Unit.MM, step=mm(1)))
    assert (nearest.outside, nearest.border) == (size("411", "308"), mm(45))


def test_equal_borders_are_not_spoken_of() -> None:
    """410 + 82 + 31 = 523 and 287 + 82 + 31 = 400."""
    assert "borders-uneven" not in notices(replace(OUTSIDE, outside=size("523", "400")))


# --- the frame is given (G24)


def test_a_package_is_the_rebate_less_the_allowance() -> None:
    """402 − 3 and 502 − 3; (399 − 287)/2 = 56 and (499 − 410)/2 = 44.5."""
    piece = work_out(GIVEN)
    assert piece.package == size("399", "499")
    assert piece.layers[0].borders == edges("56", "56", "44.5", "44.5")
    assert piece.frames == ()


@pytest.mark.parametrize(
    "standard", [one for one in STANDARD_SIZES if one.name in ("A3", "A2", "A4")]
)
def test_a_frame_for_a_standard_size_takes_a_sheet_of_it(standard: StandardSize) -> None:
    """ISO 216: a rebate as large as the sheet and the allowance holds it close, with nothing left over."""
    sheet = standard.size
    room = size(str(sheet.width.mm + 3), str(sheet.height.mm + 3))
    close = replace(GIVEN, artwork=sheet, presentation=Presentation.CLOSE, mats=())
    assert work_out(given(close, rebate=room)).package == sheet


def test_of_two_opposite_sides_the_smaller_counts() -> None:
    piece = work_out(given(opposite=size("400", "503")))
    assert piece.package == size("397", "499")


def test_the_outside_is_known_only_where_it_was_measured() -> None:
    assert work_out(GIVEN).outside == size("402", "502")
    assert work_out(given(outside=size("430", "530"))).outside == size("430", "530")


def test_a_lip_follows_from_face_and_outside() -> None:
    """20 − (430 − 402)/2 = 6; then 56 + 1.5 − 6 is seen of a border."""
    measured = replace(REBATE, outside=size("430", "530"), face=mm(20))
    assert measured.known_lip == mm(6)
    assert REBATE.known_lip is None


def test_what_is_too_deep_for_the_rebate_is_said() -> None:
    """D1: 2 + 1.4 + 3 + 6 = 12.4 with the artwork of 6, and 2 for the points: 14.4 of 14."""
    deep = replace(GIVEN, artwork_thickness=mm(6), glazing=panel("2"), backing=panel("3"))
    (said,) = [one for one in work_out(deep).notices if one.code == "stack-too-deep"]
    assert "0.4 mm more than the rebate of 14 mm" in said.message
    assert "moulding" not in said.message


def test_a_square_frame_is_not_spoken_of() -> None:
    assert "frame-out-of-square" not in notices(GIVEN)


def test_a_frame_that_leans_less_than_its_allowance_is_a_look() -> None:
    """3 : 4 : 5. 400 × 300, diagonals 501 and 499: (251001 − 249001)/(4 × 400) = 1.25."""
    leaning = given(
        replace(GIVEN, artwork=size("300", "200")),
        rebate=size("400", "300"),
        diagonals=Diagonals(falling=mm(501), rising=mm(499)),
    )
    assert leaning.given_frame is not None
    assert leaning.given_frame.lean == mm("1.25")
    (said,) = [one for one in work_out(leaning).notices if one.code == "frame-out-of-square"]
    assert said.concern is Concern.LOOK
    assert "differ by 2 mm" in said.message


@pytest.mark.parametrize("turned", [False, True])
def test_a_frame_that_leans_more_is_a_risk_either_way_round(turned: bool) -> None:
    """(253009 − 247009)/1600 = 3.75, over an allowance of 3; said as 3.8."""
    room = size("300", "400") if turned else size("400", "300")
    leaning = given(
        replace(GIVEN, artwork=size("200", "200")),
        rebate=room,
        diagonals=Diagonals(falling=mm(503), rising=mm(497)),
    )
    (said,) = [one for one in work_out(leaning).notices if one.code == "frame-out-of-square"]
    assert said.concern is Concern.RISK
    for part in ("lean by 3.8 mm", "play of 3 mm", "do not go in"):
        assert part in said.message


@pytest.mark.parametrize(
    ("falling", "rising", "part"),
    [
        (510, 510, "489.8 mm"),  # 2 × (160000 + 90000) − 260100 = 239900, whose root is 489.79
        (500, 505, "the other one is 500 mm"),
        (700, 500, "do not meet"),  # 400 + 300 is as long as that diagonal
        (90, 500, "do not meet"),
    ],
)
def test_diagonals_that_no_such_frame_has_are_refused(falling: int, rising: int, part: str) -> None:
    asked = given(
        rebate=size("400", "300"), diagonals=Diagonals(falling=mm(falling), rising=mm(rising))
    )
    (fault,) = [one for one in _faults(asked) if one.path == "given_frame.diagonals"]
    assert fault.code == NO_SUCH_DIAGONALS
    assert part in fault.message


def _faults(spec: Spec) -> tuple[Fault, ...]:
    with pytest.raises(Invalid) as raised:
        work_out(spec)
    return raised.value.faults


def test_diagonals_that_a_tape_misses_by_a_little_are_taken() -> None:
    """With 400 × 300 and 502 the other is 498: 500000 − 252004 = 247996, root 497.99; 501 is 3 off."""
    near = given(
        replace(GIVEN, artwork=size("300", "200")),
        rebate=size("400", "300"),
        diagonals=Diagonals(falling=mm(502), rising=mm(501)),
    )
    assert work_out(near).package == size("397", "297")


@pytest.mark.parametrize(
    ("changes", "path", "part"),
    [
        ({"rebate": size("0", "502")}, "given_frame.rebate.width", "above zero"),
        ({"opposite": size("402", "-1")}, "given_frame.opposite.height", "above zero"),
        ({"depth": mm(-1)}, "given_frame.depth", "below zero"),
        ({"outside": size("402", "530")}, "given_frame.outside.width", "rebate within it"),
        ({"face": mm(0)}, "given_frame.face", "above zero"),
        ({"face": mm(6), "lip": mm(6)}, "given_frame.lip", "narrower"),
        ({"lip": mm(201)}, "given_frame.lip", "nothing would be seen"),
    ],
)
def test_measures_that_no_frame_has_are_refused(
    changes: dict[str, object], path: str, part: str
) -> None:
    said = faults(given(**changes))
    assert path in said
    assert part in said[path]


def test_a_rebate_too_small_says_how_large_it_must_be() -> None:
    """287 + 3 = 290."""
    said = faults(given(rebate=size("280", "502")))
    assert list(said) == ["given_frame.rebate.width"]
    for part in ("rebate is 280 mm", "glass size of 277 mm", "over 290 mm"):
        assert part in said["given_frame.rebate.width"]


def test_a_ready_made_frame_too_small_is_said_of_the_frame() -> None:
    assert list(faults(given(rebate=size("280", "502"), own=False))) == ["given_frame.width"]


def test_one_frame_is_enough() -> None:
    assert list(faults(replace(GIVEN, frames=(NARROW,)))) == ["given_frame"]


@pytest.mark.parametrize("also", [{"package": size("400", "500")}, {"outside": size("400", "500")}])
def test_a_frame_that_is_given_gives_the_size(also: dict[str, object]) -> None:
    said = faults(replace(GIVEN, **also))  # type: ignore[arg-type]
    assert list(said) == list(also)


def test_a_canvas_is_held_by_a_given_rebate_but_not_by_a_given_tray() -> None:
    canvas = replace(GIVEN, artwork=size("399", "499"), mats=(), presentation=Presentation.CANVAS)
    assert work_out(canvas).package == size("399", "499")
    tray = replace(canvas, presentation=Presentation.CANVAS_FLOAT)
    assert "tray" in " ".join(faults(tray).values())


# --- as it came


def test_what_is_in_a_frame_goes_back_as_it_came() -> None:
    """Glass and backing are as large as the package; nothing is said of mats or borders."""
    reglazed = replace(
        GIVEN,
        artwork=REBATE.package,
        presentation=Presentation.AS_IT_CAME,
        mats=(),
        glazing=panel("2"),
        backing=panel("3"),
    )
    piece = work_out(reglazed)
    assert piece.glazing == piece.backing == size("399", "499")
    assert piece.stack == mm(5)
    assert notices(reglazed) == {}


def test_it_came_in_a_frame() -> None:
    said = faults(replace(MATTED, mats=(mat(),), presentation=Presentation.AS_IT_CAME))
    assert "where the frame comes from" in said["presentation"]
