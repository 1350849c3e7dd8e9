"""Ovals within ovals: the least distance by hand, and what is said of it (G3, G20)."""

from dataclasses import replace

import pytest

from app.framing import Dimensions, Mat, Notice, Opening, Shape, Spec, in_steps, work_out
from app.framing.ovals import least_between
from app.lengths import Length, Steps, Unit, inches, mm
from tests.builders.specs import MATTED, edges, size

HALF = Steps(unit=Unit.MM, step=mm("0.5"))


def half(width: str, height: str) -> tuple[Length, Length]:
    """Half axes of an oval of a width and a height."""
    return (mm(width) / 2, mm(height) / 2)


@pytest.mark.parametrize(
    ("outer", "inner", "apart"),
    [
        # k = 338/350; (1 - k)(2500 - 1936/k) = 16.98056, √ 4.1207.
        (half("600", "100"), half("588", "88"), "4.120"),
        (half("100", "600"), half("88", "588"), "4.120"),
        # k = 138/150; 0.08 × (2500 - 1936/0.92) = 31.65217, √ 5.62603.
        (half("200", "100"), half("188", "88"), "5.626"),
        # A circle in a circle is as far all round.
        (half("200", "200"), half("188", "188"), "6"),
        # Similar ovals, 0.9 of each axis: 10 and 5 at the ends of the axes, 5 is the least.
        (half("200", "100"), half("180", "90"), "5"),
    ],
)
def test_the_least_distance_between_two_ovals(
    outer: tuple[Length, Length], inner: tuple[Length, Length], apart: str
) -> None:
    assert least_between(outer, inner) == mm(apart)


def with_two_mats(opening: Opening, *, unit: Unit = Unit.MM) -> Spec:
    mats = (Mat(thickness=mm("1.4")), Mat(thickness=mm("1.4"), reveal=mm(6)))
    return replace(
        MATTED,
        unit=unit,
        mats=mats,
        package=None,
        borders=edges("60", "60", "60", "60"),
        openings=(opening,),
    )


def narrowing(cut: Dimensions) -> list[Notice]:
    return [notice for notice in cut.notices if notice.code == "oval-reveal-narrows"]


def test_a_long_oval_says_how_its_reveal_shrinks_at_the_shoulders() -> None:
    """Inner window 588 × 88, the one above 600 × 100: 6 asked, 4.12 there."""
    spec = with_two_mats(Opening(name="A", window=size("588", "88"), shape=Shape.OVAL))
    (notice,) = narrowing(in_steps(work_out(spec), HALF))
    assert notice.message == (
        "Mat 2 is to show 6 mm in window A, but only about 4.1 mm of it is seen where the curve is tightest: "
        "an oval inside another one never shows the same width all around."
    )


def test_within_a_step_nothing_is_said() -> None:
    """200 × 100 over 188 × 88: 5.626 of 6 are seen; 0.374 is less than half a millimetre."""
    spec = with_two_mats(Opening(name="A", window=size("188", "88"), shape=Shape.OVAL))
    assert narrowing(in_steps(work_out(spec), HALF)) == []


def test_a_low_round_top_is_half_of_a_long_oval() -> None:
    """588 wide with a rise of 44: as the oval of 588 × 88."""
    arch = Opening(name="A", window=size("588", "300"), shape=Shape.ARCH, rise=mm(44))
    (notice,) = narrowing(in_steps(work_out(with_two_mats(arch)), HALF))
    assert "about 4.1 mm" in notice.message
    straight = replace(arch, shape=Shape.RECTANGLE, rise=None)
    assert narrowing(in_steps(work_out(with_two_mats(straight)), HALF)) == []


def test_on_a_ticket_in_inches_it_is_said_in_fractions() -> None:
    """Steps of 1/32 in; 600 × 100 mm is cut as 23 5/8 × 3 15/16 in, the reveal of 6 mm as 1/4 in, 6.35 mm:
    300.0375 and 50.00625 less that, k = 1 - 12.7/350.04375: √ 18.6706 = 4.3210 mm, 10.9/64 in."""
    spec = with_two_mats(
        Opening(name="A", window=size("588", "88"), shape=Shape.OVAL), unit=Unit.IN
    )
    (notice,) = narrowing(in_steps(work_out(spec), Steps(unit=Unit.IN, step=inches("1/32"))))
    assert 'show 1/4" in window A' in notice.message
    assert 'about 11/64" of it' in notice.message


def test_reveals_between_steps_say_what_they_make_of_the_innermost_window() -> None:
    """In steps of 1 mm: 287 × 410 + 2 × 6.4 is 299.8 × 422.8, cut as 300 × 423; the reveal as 6: the window
    below is 288 × 411, 1 larger, which is a step and nothing to say. With 6.4 twice it is 289 × 412: 312.6
    × 435.6, cut as 313 × 436, less 24, 2 larger."""
    mats = (Mat(thickness=mm("1.4")), Mat(thickness=mm("1.4"), reveal=mm("6.4")))
    ones = Steps(unit=Unit.MM, step=mm(1))
    spec = replace(MATTED, mats=mats, borders=edges("60", "60", "60", "60"), package=None)
    once = in_steps(work_out(spec), ones)
    assert "window-off-for-even-reveals" not in [notice.code for notice in once.notices]
    twice = in_steps(work_out(replace(spec, mats=(*mats, mats[1]))), ones)
    assert [w.size for w in twice.windows] == [
        size("313", "436"),
        size("301", "424"),
        size("289", "412"),
    ]
    (notice,) = [n for n in twice.notices if n.code == "window-off-for-even-reveals"]
    assert notice.message.endswith(
        "the window next to the artwork comes out 2 mm larger than worked out."
    )


@pytest.mark.parametrize(
    ("reveal", "height", "said"),
    [
        # Above: 287 × 410.8 + 4 × 6.4 is 312.6 × 436.4, cut as 313 × 436, less 24: 289 × 412, 2 and 1.2 off.
        ("6.4", "420.8", "2 mm larger"),
        # Above: 287 × 410.3 + 4 × 5.6 is 309.4 × 432.7, cut as 309 × 433, less 24: 285 × 409, 2 and 1.3 off.
        ("5.6", "420.3", "2 mm smaller"),
    ],
)
def test_the_side_that_is_most_off_is_said(reveal: str, height: str, said: str) -> None:
    under = Mat(thickness=mm("1.4"), reveal=mm(reveal))
    spec = replace(
        MATTED,
        artwork=size("297", height),
        mats=(Mat(thickness=mm("1.4")), under, under),
        borders=edges("60", "60", "60", "60"),
        package=None,
    )
    cut = in_steps(work_out(spec), Steps(unit=Unit.MM, step=mm(1)))
    (notice,) = [n for n in cut.notices if n.code == "window-off-for-even-reveals"]
    assert f"comes out {said} than worked out" in notice.message
