"""A test cut against tables worked by hand, and against a cutter with known faults (B7)."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.bench import (
    Correction,
    Cutter,
    Edge,
    MatToCut,
    Measured,
    Reads,
    Stops,
    Stroke,
    correct,
    cuts_of,
)
from app.errors import Invalid
from app.framing import Edges
from app.lengths import ZERO, Length, Size, mm
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
    """By hand: 50.5 for 50 on every side: minus half a millimetre."""
    found = correct(CUTTER, ASKED, measured("50.5", "50.5", "50.5", "50.5"))
    assert found.guide == mm("-0.5")
    assert found.cutter.guide_correction == mm("-0.5")
    assert (found.start, found.end, found.notices) == (ZERO, ZERO, ())


def test_sides_that_differ_a_little_are_corrected_by_their_mean() -> None:
    """By hand: 0.5, 0, 0.5, 1 too wide: mean 0.5; not more than two steps apart, so nothing is said."""
    found = correct(CUTTER, ASKED, measured("50.5", "50", "50.5", "51"))
    assert found.guide == mm("-0.5")
    assert found.errors == Edges(left=mm("0.5"), right=ZERO, top=mm("0.5"), bottom=mm(1))
    assert found.notices == ()


def test_what_the_scales_step_took_is_no_error_of_the_guide() -> None:
    """By hand: a face reading of 50 - 1.4 = 48.6 is set at 48.5, so 49.9 is what must come out."""
    reads_face = replace(CUTTER, reads=Reads.FACE)
    found = correct(reads_face, ASKED, measured("49.9", "49.9", "49.9", "49.9"))
    assert found.guide == ZERO


def test_a_new_correction_adds_to_the_old_one() -> None:
    old = replace(CUTTER, guide_correction=mm(1), start_offset=mm(2), end_offset=mm(-1))
    found = correct(
        old,
        ASKED,
        measured(
            *("50.5",) * 4,
            past_start=Edges.equal(mm("0.5")),
            past_end=Edges.equal(mm("-0.75")),
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
        (measured("52", "50", "50", "50"), "borders-uneven"),
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


type Faults = tuple[Length, Length, Length]
"""By how much guide, start and end are off."""

HUNDREDTHS = st.integers(-300, 300).map(lambda n: Length(Fraction(n, 100)))


def cut_on(faulty: Faults, cutter: Cutter) -> Measured:
    """What comes off a cutter whose guide and stops are off by known amounts."""
    guide, start, end = faulty
    run = ASKED.run if cutter.reads is Reads.FACE else ZERO
    borders = {
        cut.edge: cutter.on_scale(cut.wanted) + run + guide for cut in cuts_of(ASKED, cutter)
    }
    edges = Edges(
        left=borders[Edge.LEFT],
        right=borders[Edge.RIGHT],
        top=borders[Edge.TOP],
        bottom=borders[Edge.BOTTOM],
    )
    return Measured(
        borders=edges,
        window=Size(mm(300) - edges.left - edges.right, mm(200) - edges.top - edges.bottom),
        past_start=Edges.equal(cutter.start_offset + start),
        past_end=Edges.equal(cutter.end_offset + end),
    )


@given(st.tuples(HUNDREDTHS, HUNDREDTHS, HUNDREDTHS), st.sampled_from(Reads))
def test_a_second_test_cut_finds_nothing_left_to_correct(faulty: Faults, reads: Reads) -> None:
    """The corrections cancel the faults; what is left in a border is the scale's half step."""
    first = replace(CUTTER, reads=reads)
    once = correct(first, ASKED, cut_on(faulty, first))
    assert (once.guide, once.start, once.end) == tuple(-fault for fault in faulty)
    again = cut_on(faulty, once.cutter)
    assert all(abs(border - mm(50)) <= CUTTER.step / 2 for _, border in again.borders.sides())
    assert again.past_start == again.past_end == CLEAN
    twice: Correction = correct(once.cutter, ASKED, again)
    assert (twice.guide, twice.start, twice.end) == (ZERO, ZERO, ZERO)
    assert twice.cutter == once.cutter


def cut_between_stops(faulty: Faults, cutter: Cutter) -> Measured:
    """What comes off a cutter whose guide and stops stand off by known amounts, to the wider border, to the
    near edge and to the far one; overcuts are what its blade needs."""
    guide, near, far = faulty
    plain = cut_on((guide, ZERO, ZERO), replace(cutter, start_offset=ZERO, end_offset=ZERO))
    at_near, at_far = {}, {}
    for cut in cuts_of(ASKED, cutter):
        assert cut.stops.near is not None
        assert cut.stops.far is not None
        board = mm(200) if cut.edge.upright else mm(300)
        overcuts = (cutter.end_offset, cutter.start_offset)
        at_near[cut.edge.value] = mm(50) - (cut.stops.near - near) - overcuts[0]
        at_far[cut.edge.value] = (cut.stops.far + far) - (board - mm(50)) - overcuts[1]
    return replace(plain, past_start=Edges(**at_far), past_end=Edges(**at_near))


@given(st.tuples(HUNDREDTHS, HUNDREDTHS, HUNDREDTHS), HUNDREDTHS, HUNDREDTHS)
def test_a_second_test_cut_between_stops_finds_nothing_left_to_correct(
    faulty: Faults, start: Length, end: Length
) -> None:
    """A pulled cutter; the corrections of the stops cancel what they stand off by, the overcuts stay."""
    first = replace(BOTH, start_offset=start, end_offset=end)
    once = correct(first, ASKED, cut_between_stops(faulty, first))
    assert (once.near, once.far) == (faulty[1], -faulty[2])
    assert (once.start, once.end) == (ZERO, ZERO)
    twice = correct(once.cutter, ASKED, cut_between_stops(faulty, once.cutter))
    assert twice.cutter == once.cutter
