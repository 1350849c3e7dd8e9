"""An object in a box: what its stack comes to, and what is said of its room (G22, D1, D7).

The figures are worked by hand: mats 1.4, spacers 25, object 20, glass 2, mount board 3, backing 3.
"""

from dataclasses import replace

import pytest

from app.framing import DEFAULTS, Fillet, Mat, ObjectInBox, Presentation, Spacer, Spec, work_out
from app.framing.notice import Concern
from app.lengths import Unit, inches, mm
from tests.builders.specs import (
    BARE,
    MATTED,
    edges,
    faults,
    frame,
    mat,
    notices,
    panel,
    size,
)

FLAT = replace(
    MATTED,
    artwork=size("200", "300"),
    artwork_thickness=mm(20),
    presentation=Presentation.FLOAT,
    borders=edges("60", "60", "60", "60"),
    frames=(frame(depth="46"),),
    glazing=panel("2"),
    spacer=Spacer(depth=mm(25), width=mm(5)),
    mount_board=panel("3"),
    backing=panel("3"),
)
"""The parts of the box around an artwork that is no object."""

BOX = replace(FLAT, boxed=ObjectInBox(clearance=mm(3)))
"""An object of 200 x 300, 20 high, on a mount board in a float; window 220 x 320."""


def of_height(height: str, spec: Spec = BOX) -> Spec:
    return replace(spec, artwork_thickness=mm(height))


@pytest.mark.parametrize(
    ("height", "stack"),
    [("0", "34.4"), ("20", "34.4"), ("25", "34.4"), ("26.4", "34.4")],
)
def test_an_object_within_its_walls_adds_nothing_to_the_stack(height: str, stack: str) -> None:
    """G22: 2 + max(1.4 + 25, object) + 3 + 3."""
    assert work_out(of_height(height)).stack == mm(stack)


def test_an_artwork_that_is_no_object_lies_behind_the_mats_as_before() -> None:
    """D1: 2 + 25 + 1.4 + 20 + 3 + 3."""
    assert work_out(FLAT).stack == mm("54.4")
    assert not [code for code in notices(FLAT) if code.startswith("object")]


def test_a_fillet_is_a_part_of_the_walls() -> None:
    """D1, G22: 2 + 1.4 + 2.5 + 25 + 3 + 3."""
    lip = Fillet(face=mm(10), lip=mm(4), tuck=mm(4), thickness=mm("2.5"))
    assert work_out(replace(BOX, fillet=lip)).stack == mm("36.9")


def test_without_glazing_an_object_higher_than_its_walls_sets_the_stack() -> None:
    """G22: max(26.4, 30) + 3 + 3; nothing lies on it, so it is said and not refused."""
    open_box = of_height("30", replace(BOX, glazing=None))
    assert work_out(open_box).stack == mm(36)
    said = notices(open_box)
    assert "3.6 mm" in said["object-stands-out"]
    assert "object-close-to-glazing" not in said


def test_a_clearance_of_what_is_usual_or_more_calls_for_nothing() -> None:
    """26.4 - 20 = 6.4; 26.4 - 23.4 = 3, which is just enough."""
    assert "object-close-to-glazing" not in notices(BOX)
    assert "object-close-to-glazing" not in notices(of_height("23.4"))


@pytest.mark.parametrize(
    ("height", "clear", "spacer"),
    [("25", "1.4 mm", "26.6 mm"), ("23.5", "2.9 mm", "25.1 mm"), ("26.4", "0 mm", "28 mm")],
)
def test_a_clearance_under_the_usual_names_the_spacers_that_would_do(
    height: str, clear: str, spacer: str
) -> None:
    """25 + 3 - 1.4 = 26.6; 23.5 + 3 - 1.4 = 25.1; 26.4 + 3 - 1.4 = 28."""
    said = notices(of_height(height))["object-close-to-glazing"]
    assert clear in said
    assert f"at least {spacer}" in said
    assert work_out(of_height(height)).stack == mm("34.4")


def test_the_clearance_wanted_is_the_shops() -> None:
    """26.4 - 20 = 6.4 of 8 wanted: 20 + 8 - 1.4 = 26.6."""
    wide = replace(BOX, boxed=ObjectInBox(clearance=mm(8)))
    said = notices(wide)["object-close-to-glazing"]
    assert "8 mm" in said
    assert "at least 26.6 mm" in said
    assert DEFAULTS[Unit.MM].object_clearance == mm(3)
    assert DEFAULTS[Unit.IN].object_clearance == inches("1/8")


@pytest.mark.parametrize("height", ["26.5", "30"])
def test_glass_may_not_lie_on_an_object(height: str) -> None:
    """26.4 are to be had; 30 + 3 - 1.4 = 31.6 would do."""
    found = faults(of_height(height))
    assert set(found) == {"spacer"}
    assert "26.4 mm" in found["spacer"]
    assert f"{height} mm" in found["spacer"]
    if height == "30":
        assert "at least 31.6 mm" in found["spacer"]


def test_without_spacers_an_object_behind_a_mat_is_refused_at_them() -> None:
    """1.4 - 6 < 0; 6 + 3 - 1.4 = 7.6."""
    found = faults(of_height("6", replace(BOX, spacer=None)))
    assert set(found) == {"spacer"}
    assert "at least 7.6 mm" in found["spacer"]
    bare = faults(of_height("6", replace(BOX, spacer=None, mats=(), borders=None)))
    assert "nothing holds the glass off" in bare["spacer"]
    assert "at least 9 mm" in bare["spacer"]


def test_inches_are_said_in_inches() -> None:
    """1/16 + 1 - 1 = 1/16 clear of 1/8: 1 + 1/8 - 1/16 = 1 1/16."""
    spec = replace(
        BOX,
        unit=Unit.IN,
        boxed=ObjectInBox(clearance=inches("1/8")),
        mats=(Mat(thickness=inches("1/16")),),
        artwork_thickness=inches(1),
        spacer=Spacer(depth=inches(1), width=inches("3/16")),
    )
    said = notices(spec)["object-close-to-glazing"]
    assert '1/16"' in said
    assert 'at least 1 1/16"' in said


@pytest.mark.parametrize("shown", [Presentation.CANVAS, Presentation.CANVAS_FLOAT])
def test_an_object_is_no_canvas(shown: Presentation) -> None:
    spec = replace(BOX, presentation=shown, mats=(), borders=None)
    found = faults(spec)
    assert set(found) == {"presentation"}
    assert "mount board" in found["presentation"]


def test_an_object_goes_in_a_window_in_a_float_and_close() -> None:
    close = replace(BOX, presentation=Presentation.CLOSE, mats=(), borders=None)
    assert work_out(close).stack == mm(33)  # 2 + 25 + 3 + 3
    assert work_out(replace(BOX, presentation=Presentation.WINDOW)).stack == mm("34.4")
    assert work_out(replace(BOX, mats=(), borders=None)).stack == mm(33)


def test_a_mat_over_the_edges_of_an_object_needs_the_room_behind_it() -> None:
    """Behind the mat are the 25 of the spacers: an object of 25 goes there, one of 26 does not."""
    window = replace(BOX, presentation=Presentation.WINDOW)
    assert "object-under-mat" not in notices(of_height("25", window))
    said = notices(of_height("26", window))["object-under-mat"]
    assert "25 mm" in said
    assert "object-under-mat" not in notices(of_height("26"))  # it floats
    uncovered = replace(window, overlap=mm(0))
    assert "object-under-mat" not in notices(of_height("26", uncovered))


def test_an_object_that_spacers_leave_no_room_is_said() -> None:
    """G22, G14: a package of 200 x 300 less 2 x 5 leaves 190 x 290 for an object of 200 x 300."""
    close = replace(BOX, presentation=Presentation.CLOSE, mats=(), borders=None)
    said = notices(close)["object-wider-than-box"]
    assert "190 × 290 mm" in said
    assert "210 × 310 mm" in said
    roomy = replace(close, package=size("210", "310"))
    assert "object-wider-than-box" not in notices(roomy)
    assert "object-wider-than-box" not in notices(replace(close, spacer=None, glazing=None))
    assert "object-wider-than-box" not in notices(BOX)


def test_an_object_needs_a_mount_board() -> None:
    assert "object-without-mount-board" not in notices(BOX)
    assert "mount board" in notices(replace(BOX, mount_board=None))["object-without-mount-board"]


def test_an_object_whose_height_is_not_given_is_asked_for_it() -> None:
    said = notices(of_height("0"))
    assert "object-height-missing" in said
    assert "object-height-missing" not in notices(BOX)


def concern(spec: Spec, code: str) -> Concern:
    return next(one.concern for one in work_out(spec).notices if one.code == code)


def test_a_box_always_says_its_depth_and_the_rebate_that_holds_it() -> None:
    """D7, D1: 1.4 + 25 from glass to mount board; 34.4 + 2 for the points."""
    said = notices(BOX)["object-depth"]
    for part in ("glass to mount board", "26.4 mm", "20 mm", "6.4 mm", "36.4 mm"):
        assert part in said
    assert concern(BOX, "object-depth") is Concern.NOTE
    assert "26.4 mm" in notices(of_height("0"))["object-depth"]
    assert "36.4 mm" in notices(replace(BOX, frames=()))["object-depth"]
    unglazed = notices(replace(BOX, glazing=None))["object-depth"]
    assert "glass" not in unglazed
    assert "26.4 mm" in unglazed


def test_a_box_too_deep_for_its_rebate_says_so_as_any_stack() -> None:
    """D1: 34.4 + 2 - 30 = 6.4; with one of 36.4 it goes."""
    said = notices(replace(BOX, frames=(frame(depth="30"),)))["stack-too-deep"]
    assert "6.4 mm more" in said
    assert "at least 36.4 mm" in said
    assert "stack-too-deep" not in notices(replace(BOX, frames=(frame(depth="36.4"),)))


def test_a_turned_box_says_the_same() -> None:
    """G21."""
    turned = replace(BOX, artwork=BOX.artwork.turned())
    assert work_out(turned).stack == work_out(BOX).stack
    assert set(notices(turned)) == set(notices(BOX))


def test_several_mats_all_count() -> None:
    """1.4 + 1.4 + 25 - 25 = 2.8: 25 + 3 - 2.8 = 25.2."""
    double = replace(BOX, mats=(mat(), mat(reveal="6")))
    assert "at least 25.2 mm" in notices(of_height("25", double))["object-close-to-glazing"]


def test_a_box_with_other_faults_says_those_alone() -> None:
    assert set(faults(of_height("-1"))) == {"artwork.thickness"}
    below_zero = faults(replace(BOX, spacer=Spacer(depth=mm(-3), width=mm(5))))
    assert set(below_zero) == {"spacer"}
    assert "lie on" not in below_zero["spacer"]


def test_nothing_but_the_object_and_its_frame_may_be_given() -> None:
    alone = replace(
        BARE, artwork_thickness=mm(20), boxed=ObjectInBox(clearance=mm(3)), frames=(frame(),)
    )
    assert work_out(alone).stack == mm(20)
    assert "object-without-mount-board" in notices(alone)
