"""A test cut against tables worked by hand (B7)."""

from dataclasses import replace

import pytest

from app.bench import (
    MatToCut,
    Measured,
    Reads,
    Stops,
    Stroke,
    correct,
)
from app.errors import Invalid
from app.framing import Edges
from app.lengths import ZERO, Size, mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, oval, window

ASKED = framed_by("50", "50", "50", "50")
"""A board of 300 x 200 with a window of 200 x 100."""

CLEAN = Edges.equal(ZERO)


def measured(
    *borders: str, past_start: Edges = CLEAN, past_end: Edges = CLEAN, size: Size | None = None
) -> Measured:
    """Borders left, right, top, bottom; the window is what they leave of 300 x 200."""
    left, right, top, bottom = (mm(border) for border in borders)
    rest = Size(mm(300) - left - right, mm(200) - top - bottom)
    return Measured(
        borders=Edges(left=left, right=right, top=top, bottom=bottom),
        window=size or rest,
        past_start=past_start,
        past_end=past_end,
    )


def paths(raised: pytest.ExceptionInfo[Invalid]) -> list[str]:
    return [fault.path for fault in raised.value.faults]


def test_borders_that_come_out_too_wide_make_the_guide_set_less() -> None:
    """By hand: 50.5 for 50 on every side: minus half a millimetre. Cuts by their marks at 50 run 0.5 past
    corners at 50.5, and are at them once the guide is right."""
    half = Edges.equal(mm("0.5"))
    found = correct(CUTTER, ASKED, measured(*("50.5",) * 4, past_start=half, past_end=half))
    assert found.guide == mm("-0.5")
    assert found.cutter.guide_correction == mm("-0.5")
    assert (found.start, found.end, found.notices) == (ZERO, ZERO, ())


def test_corners_that_are_clean_where_the_border_came_out_too_wide_would_be_short_of_the_next_one() -> (
    None
):
    """By hand: the cuts ended at 50.5 with the corner there; the next corner lies at 50, 0.5 further."""
    found = correct(CUTTER, ASKED, measured(*("50.5",) * 4))
    assert (found.start, found.end) == (mm("0.5"), mm("0.5"))


def test_a_corner_that_moves_with_the_guide_is_no_error_of_the_stops() -> None:
    """By hand: borders 50.5 for 50, all cuts 1 past. They ended at 50.5 - 1 = 49.5 with a stop at 50: off by 0.5."""
    one = Edges.equal(mm(1))
    found = correct(BOTH, ASKED, measured(*("50.5",) * 4, past_start=one, past_end=one))
    assert (found.guide, found.near, found.far) == (mm("-0.5"), mm("0.5"), mm("-0.5"))
    assert found.past_start == found.past_end == Edges.equal(mm("0.5"))


def test_each_end_counts_from_the_border_that_it_runs_towards() -> None:
    """By hand: pulled with the guide to the left, the cut along the left edge as the board lies begins at the
    top, that along the top at the right, along the right at the bottom, along the bottom at the left."""
    found = correct(
        CUTTER,
        ASKED,
        measured("50", "50", "50.5", "50", past_start=Edges.equal(mm("0.5"))),
    )
    half = mm("0.5")
    assert found.past_start == Edges(left=ZERO, top=half, right=half, bottom=half)
    assert found.past_end == Edges(left=ZERO, top=ZERO, right=-half, bottom=ZERO)


def test_a_mark_is_drawn_at_the_nearest_step() -> None:
    """By hand: an overcut of 0.3 asks for a mark at 49.7; it is drawn at 49.5, and the cut runs 0.2 further."""
    old = replace(CUTTER, end_offset=mm("0.3"))
    found = correct(old, ASKED, measured(*("50",) * 4, past_end=Edges.equal(mm("0.2"))))
    assert found.end == ZERO


def test_sides_that_differ_a_little_are_corrected_by_their_mean() -> None:
    """By hand: 0.5, 0, 0.5, 1 too wide: mean 0.5; not more than two steps apart, so nothing is said."""
    found = correct(CUTTER, ASKED, measured("50.5", "50", "50.5", "51"))
    assert found.guide == mm("-0.5")
    assert found.errors == Edges(left=mm("0.5"), right=ZERO, top=mm("0.5"), bottom=mm(1))
    assert found.notices == ()


def test_what_the_scales_step_took_is_no_error_of_the_guide() -> None:
    """By hand: a face reading of 50 - 1.4 = 48.6 is set at 48.5, so 49.9 is what must come out."""
    reads_face = replace(CUTTER, reads=Reads.FACE)
    short = Edges.equal(mm("-0.1"))
    found = correct(reads_face, ASKED, measured(*("49.9",) * 4, past_start=short, past_end=short))
    assert (found.guide, found.start, found.end) == (ZERO, ZERO, ZERO)


def test_a_new_correction_adds_to_the_old_one() -> None:
    """By hand: starts 1 past corners 0.5 too far in: 0.5 sooner than before. Ends 0.25 short: 0.75 short of the
    corner that was asked for."""
    old = replace(CUTTER, guide_correction=mm(1), start_offset=mm(2), end_offset=mm(-1))
    found = correct(
        old,
        ASKED,
        measured(
            *("50.5",) * 4,
            past_start=Edges.equal(mm(1)),
            past_end=Edges.equal(mm("-0.25")),
        ),
    )
    assert found.cutter.guide_correction == mm("0.5")
    assert found.cutter.start_offset == mm("1.5")
    assert found.cutter.end_offset == mm("-0.25")


def test_a_cut_that_runs_past_its_corner_begins_later_and_one_that_stops_short_ends_later() -> None:
    """By hand: starts 1, 1, 0.5, 0.5 past: begin 0.75 later; ends 0.5 short: end 0.5 further."""
    found = correct(
        CUTTER,
        ASKED,
        measured(
            *("50",) * 4,
            past_start=Edges(left=mm(1), right=mm(1), top=mm("0.5"), bottom=mm("0.5")),
            past_end=Edges.equal(mm("-0.5")),
        ),
    )
    assert (found.start, found.end) == (mm("-0.75"), mm("0.5"))


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        # Two cuts run towards the left, each by a mark at 50.
        (
            measured(
                *("52", "50", "50", "50"),
                past_start=replace(CLEAN, bottom=mm(2)),
                past_end=replace(CLEAN, top=mm(2)),
            ),
            "borders-uneven",
        ),
        (measured(*("50",) * 4, past_start=replace(CLEAN, top=mm(2))), "starts-uneven"),
        (measured(*("50",) * 4, past_end=replace(CLEAN, left=mm(-2))), "ends-uneven"),
    ],
)
def test_what_one_correction_cannot_cure_is_said(readings: Measured, code: str) -> None:
    (notice,) = correct(CUTTER, ASKED, readings).notices
    assert notice.code == code
    assert "2 mm" in notice.message


def test_readings_that_do_not_add_up_to_the_board_are_refused() -> None:
    """By hand: 50 + 197 + 50 = 297 on a board of 300; two steps of half a millimetre may be lost."""
    with pytest.raises(Invalid) as raised:
        correct(CUTTER, ASKED, measured(*("50",) * 4, size=Size(mm(197), mm(101))))
    assert paths(raised) == ["window.width"]
    assert "297 mm together, and the board is 300 mm" in raised.value.message


def test_a_border_far_off_is_no_matter_of_a_correction() -> None:
    with pytest.raises(Invalid) as raised:
        correct(CUTTER, ASKED, measured("61", "50", "50", "50"))
    assert paths(raised) == ["borders.left"]
    assert "11 mm" in raised.value.message


def test_every_useless_reading_is_said_at_its_field() -> None:
    with pytest.raises(Invalid) as raised:
        correct(
            CUTTER,
            ASKED,
            Measured(
                borders=Edges(left=ZERO, right=mm(50), top=mm(50), bottom=mm(-50)),
                window=Size(mm(200), mm(100)),
                past_start=replace(CLEAN, left=mm(11)),
                past_end=replace(CLEAN, bottom=mm(-11)),
            ),
        )
    assert paths(raised) == [
        "borders.left",
        "borders.bottom",
        "past_start.left",
        "past_end.bottom",
    ]


def test_corrections_that_add_up_to_too_much_are_refused_at_the_cutters_field() -> None:
    with pytest.raises(Invalid) as raised:
        correct(replace(CUTTER, guide_correction=mm(-6)), ASKED, measured("55", "55", "55", "55"))
    assert paths(raised) == ["guide_correction"]


@pytest.mark.parametrize(
    "asked",
    [
        mat("300", "200"),
        mat("300", "200", oval("A", "50", "50", "200", "100")),
        mat("300", "200", window("A", "50", "50", "200", "100"), reverse=True),
    ],
)
def test_only_one_rectangular_window_with_a_usual_bevel_is_a_test_cut(asked: MatToCut) -> None:
    with pytest.raises(Invalid) as raised:
        correct(CUTTER, asked, measured(*("50",) * 4))
    assert paths(raised) == ["test"]


BOTH = replace(CUTTER, stops=Stops(near=True, far=True))


def test_what_ran_past_at_a_stop_corrects_the_stop_and_leaves_the_overcut() -> None:
    """By hand: pulled, the cut begins at the far stop and ends at the near one. Starts 0.5 past: the far stop
    comes 0.5 nearer to the arm; ends 1 short: the near stop too, by 1."""
    old = replace(
        BOTH,
        start_offset=mm("1.5"),
        end_offset=mm(1),
        stops=replace(BOTH.stops, near_correction=mm("0.25"), far_correction=mm(2)),
    )
    found = correct(
        old,
        ASKED,
        measured(*("50",) * 4, past_start=Edges.equal(mm("0.5")), past_end=Edges.equal(mm(-1))),
    )
    # On the scale the near stop stands at 49 + 0.25, which is 49.5: a quarter short of itself.
    assert (found.start, found.end) == (ZERO, ZERO)
    assert (found.near, found.far) == (mm("-0.75"), mm("-0.5"))
    assert (found.cutter.start_offset, found.cutter.end_offset) == (mm("1.5"), mm(1))
    assert found.cutter.stops == replace(
        old.stops, near_correction=mm("-0.5"), far_correction=mm("1.5")
    )


def test_a_pushed_cut_begins_at_the_near_stop() -> None:
    pushed = replace(BOTH, stroke=Stroke.PUSH)
    found = correct(pushed, ASKED, measured(*("50",) * 4, past_start=Edges.equal(mm("0.5"))))
    assert (found.near, found.far) == (mm("0.5"), ZERO)


def test_with_one_stop_the_other_end_still_corrects_the_overcut() -> None:
    """By hand: pulled, a near stop binds the ends; starts went by their mark."""
    near = replace(CUTTER, stops=Stops(near=True))
    found = correct(
        near,
        ASKED,
        measured(*("50",) * 4, past_start=Edges.equal(mm("0.5")), past_end=Edges.equal(mm(1))),
    )
    assert (found.start, found.end, found.near, found.far) == (mm("-0.5"), ZERO, mm(1), ZERO)
    assert found.cutter.stops == Stops(near=True, near_correction=mm(1))


def test_what_the_scales_step_took_is_no_error_of_a_stop() -> None:
    """By hand: an overcut of 0.3 asks the near stop to 49.7; it stands at 49.5 and the cut runs 0.2 further."""
    old = replace(BOTH, end_offset=mm("0.3"))
    found = correct(old, ASKED, measured(*("50",) * 4, past_end=Edges.equal(mm("0.2"))))
    assert found.near == ZERO


def test_a_stop_corrected_by_too_much_is_refused_at_the_cutters_field() -> None:
    old = replace(BOTH, stops=replace(BOTH.stops, far_correction=mm(-6)))
    with pytest.raises(Invalid) as raised:
        correct(old, ASKED, measured(*("50",) * 4, past_start=Edges.equal(mm(5))))
    assert paths(raised) == ["stops.far_correction"]
