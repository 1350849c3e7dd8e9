"""A measured window against figures worked by hand: what holds, what cures it, what it hints at (B12).

The piece, in mm. Artwork 420 × 297 behind two mats, overlap 5, reveal 6, borders 70, 70, 70, 80:
    window 2   420 − 10 = 410   297 − 10 = 287      (G1)   borders 76, 76, 76, 86 (G7, attached)
    window 1   410 + 12 = 422   287 + 12 = 299      (G3)
    board      70 + 422 + 70 = 562   70 + 299 + 80 = 449   (G4)
"""

from dataclasses import replace

import pytest

from app.bench import (
    CureKind,
    Cutter,
    Edge,
    MeasuredWindow,
    Reads,
    Slip,
    SlipJob,
    Stops,
    mats_to_cut,
    slip_of,
)
from app.errors import Invalid
from app.framing import (
    Concern,
    Dimensions,
    Edges,
    Fillet,
    Frame,
    Opening,
    Presentation,
    Shape,
    Spec,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import Length, Size, Unit, inches, mm
from tests.builders.at_cutter import CUTTER, HALF, piece_cut
from tests.builders.specs import MATTED, in_inches

LEFT, TOP, RIGHT, BOTTOM = Edge

TWO = piece_cut("6")
ONE = piece_cut()
"""Window 410 × 287, borders 70, 70, 70, 80; board 550 × 437."""


def job_of(cut: Dimensions, cutter: Cutter = CUTTER) -> SlipJob:
    return SlipJob(cut=cut, mats=mats_to_cut(cut), cutter=cutter)


def slip(
    cut: Dimensions,
    layer: int = 1,
    window: str = "window",
    *,
    cutter: Cutter = CUTTER,
    width: str = "",
    height: str = "",
    **borders: str,
) -> Slip:
    """Borders by their names as seen from the front, in mm."""
    measured = MeasuredWindow(
        layer=layer,
        window=window,
        borders={Edge(name): mm(text) for name, text in borders.items()},
        width=mm(width) if width else None,
        height=mm(height) if height else None,
    )
    return slip_of(job_of(cut, cutter), measured)


def said(found: Slip) -> dict[str, str]:
    """The message of each effect by its code."""
    return {notice.code: notice.message for notice in found.effects}


def concerns(found: Slip) -> dict[str, Concern]:
    return {notice.code: notice.concern for notice in found.effects}


def test_what_came_out_as_asked_for_needs_nothing() -> None:
    found = slip(ONE, left="70", top="70", width="410")
    assert found.cure.kind is CureKind.NOTHING
    assert set(found.off.values()) == {mm(0)}
    assert found.summary == "as asked for"
    assert found.holds
    assert found.hint.code == "guide-true"


def test_a_window_too_large_at_one_edge_is_evened_where_the_artwork_stays_covered() -> None:
    """By hand: 68 for 70: 412 wide, overlap (420 − 412) / 2 = 4; larger 414 × 291, overlap 5 − 2 = 3."""
    found = slip(ONE, left="68")
    assert found.off == {LEFT: mm(-2), TOP: mm(0), RIGHT: mm(0), BOTTOM: mm(0)}
    assert "by 4 mm in width and 5 mm in height" in said(found)["artwork-covered"]
    assert found.holds
    assert found.cure.kind is CureKind.LARGER
    assert found.cure.size == Size(mm(414), mm(291))
    assert "2 mm larger at each edge, to 414 × 291 mm" in found.cure.message
    assert "the overlap would still be 3 mm" in found.cure.message


def test_edges_are_named_in_sentences_as_they_lie_on_the_back() -> None:
    """G10: the left edge seen from the front is the right one seen from the back."""
    found = slip(ONE, left="68")
    assert found.summary == "right border 68 mm in place of 70 mm"
    assert slip(ONE, bottom="79").summary == "bottom border 79 mm in place of 80 mm"


def test_a_window_too_small_at_an_edge_is_cut_again_there() -> None:
    """By hand: 73 for 70: 407 wide, overlap (420 − 407) / 2 = 6.5; cut again at 70 it is 410 × 287."""
    found = slip(ONE, right="73")
    assert "by 6.5 mm in width and 5 mm in height" in said(found)["artwork-covered"]
    assert (found.cure.kind, found.cure.size) == (CureKind.AGAIN, Size(mm(410), mm(287)))
    assert "cut again left at 70 mm" in found.cure.message


def test_a_bare_artwork_asks_for_a_new_mat() -> None:
    """By hand: 58 for 70: 422 wide, (420 − 422) / 2 = −1."""
    found = slip(ONE, left="58")
    assert concerns(found)["artwork-bare"] is Concern.RISK
    assert "1 mm stays bare at each edge" in said(found)["artwork-bare"]
    assert not found.holds
    assert found.cure.kind is CureKind.ANEW
    assert "cut the mat anew" in found.cure.message


def test_what_was_asked_for_bare_is_no_fault_of_the_cut() -> None:
    """G6 by hand: package 430 × 560 less borders: window 310 × 430 around 297 × 420; 59 for 60: 311, 7 bare."""
    bare = replace(MATTED, package=Size(mm(430), mm(560)))
    found = slip(in_steps(work_out(bare), HALF), left="59")
    assert "7 mm stays bare at each edge" in said(found)["artwork-bare"]
    assert concerns(found)["artwork-bare"] is Concern.LOOK
    assert found.holds


def test_what_holds_but_would_not_if_it_were_evened_is_left() -> None:
    """By hand: 66 for 70: overlap (420 − 414) / 2 = 3 holds; evened 5 − 4 = 1 is barely covered (under 2.38)."""
    found = slip(ONE, left="66")
    assert "by 3 mm in width" in said(found)["artwork-covered"]
    assert (found.holds, found.cure.kind) == (True, CureKind.LEAVE)


def test_little_cover_is_worth_a_look() -> None:
    """By hand: 64 for 70: 416 wide, overlap 2, under half the usual 3/16 in (2.38)."""
    found = slip(ONE, left="64")
    assert concerns(found)["artwork-barely-covered"] is Concern.LOOK
    assert "covers only 2 mm in width" in said(found)["artwork-barely-covered"]


def test_the_reveal_of_an_attached_under_mat_follows_edge_by_edge() -> None:
    """By hand: its border 74 for 76 at the front's left: 6 − 2 = 4 there; evened 4 all round, overlap 3."""
    found = slip(TWO, 2, left="74")
    assert said(found)["reveal-uneven"] == (
        "What shows of mat 2 is not even: left 6 mm, right 4 mm, top 6 mm, bottom 6 mm; 6 mm was asked for."
    )
    assert found.cure.size == Size(mm(414), mm(291))
    assert "4 mm of mat 2 would be seen" in found.cure.message


def test_a_slip_of_the_top_mat_shows_more_of_the_one_under_it() -> None:
    """By hand: 68 for 70: 6 + 2 = 8 there; the overlap is no matter of the top mat."""
    found = slip(TWO, 1, left="68")
    assert "right 8 mm" in said(found)["reveal-uneven"]
    assert "artwork-covered" not in said(found)
    assert found.cure.size == Size(mm(426), mm(303))
    assert "8 mm of mat 2 would be seen" in found.cure.message


def test_nothing_seen_of_an_under_mat_is_a_risk() -> None:
    """By hand: its border 69 for 76: 6 − 7 = −1."""
    found = slip(TWO, 2, top="69")
    assert concerns(found)["reveal-gone"] is Concern.RISK
    assert "At the top nothing of mat 2 is seen any more" in said(found)["reveal-gone"]
    assert "At the left and top nothing" in said(slip(TWO, 2, right="69", top="69"))["reveal-gone"]
    wide = slip(TWO, 2, width="424", height="301")
    assert said(wide)["reveal-gone"].startswith("At every edge nothing of mat 2 is seen any more")
    assert not found.holds


def test_a_reveal_that_its_bevel_takes_up_is_said() -> None:
    """By hand: its border 71 for 76: 1 mm of reveal, and the bevel runs 1.4 (G8, 45°)."""
    found = slip(TWO, 2, top="71")
    assert "The bevel alone takes 1.4 mm" in said(found)["reveal-only-bevel"]


def test_a_border_that_is_nearly_gone_is_no_matter_of_a_larger_window() -> None:
    """By hand: 0.5 for 70 is 69.5 off; a tenth of the narrowest border is 7."""
    found = slip(TWO, 1, left="0.5")
    assert not found.holds
    assert found.cure.kind is CureKind.ANEW
    assert said(found)["border-far-off"] == (
        "The right border is 0.5 mm where 70 mm was asked for. That is off by more than 7 mm, a tenth of the narrowest "
        "border, and is seen at once."
    )
    assert "border-far-off" not in said(slip(TWO, 1, left="63"))
    assert "border-far-off" in said(slip(TWO, 1, left="62.5"))


def test_a_larger_window_shows_no_more_than_twice_the_reveal() -> None:
    """By hand: 64 for 70 shows 6 + 6 = 12, twice 6; 63.5 shows 12.5."""
    assert slip(TWO, 1, left="64").cure.kind is CureKind.LARGER
    found = slip(TWO, 1, left="63.5")
    assert (found.holds, found.cure.kind) == (True, CureKind.LEAVE)
    assert "12.5 mm of mat 2 would show, more than twice the 6 mm that was asked for: leave it" in (
        found.cure.message
    )


def test_a_cure_says_where_guide_and_pin_are_set_for_which_edges() -> None:
    """B2 by hand, holes every 10: 68 is 60 and 8 beyond it, 78 is 70 and 8; cut again at 70 is hole 70."""
    message = slip(ONE, left="68").cure.message
    assert "78 (pin 70, then 8 on the scale): bottom" in message
    assert "68 (pin 60, then 8 on the scale): right, top, left" in message
    assert "Set the guide to 70 (pin 70): left." in slip(ONE, right="73").cure.message
    assert "fixed behind" not in message


def test_a_cure_says_where_the_stops_are_set() -> None:
    """B9 by hand: of the larger window 414 × 291 the left edge runs from 68 to 359 of a board of 437."""
    stops = replace(CUTTER, stops=Stops(near=True, far=True))
    message = slip(ONE, cutter=stops, left="68").cure.message
    assert "near stop 78, far stop 369" in message
    assert "near stop 68, far stop 359" in message


def test_an_upper_mat_is_cut_again_only_before_the_next_is_fixed_behind_it() -> None:
    for found in (slip(TWO, 1, left="68"), slip(TWO, 1, left="72")):
        assert (
            "Do it before mat 2 is fixed behind mat 1: the blade would cut both."
            in found.cure.message
        )
    assert "fixed behind" not in slip(TWO, 2, left="74").cure.message


def test_mats_on_their_own_edges_are_laid_with_even_reveals() -> None:
    """By hand: 2 too large in width in all: 6 − 1 = 5 at left and right, laid in the middle."""
    own = piece_cut("6", way=UnderWay.OWN_EDGES, trim="3")
    found = slip(own, 2, left="71")
    assert "left 5 mm, right 5 mm, top 6 mm, bottom 6 mm" in said(found)["reveal-uneven"]


def test_the_window_alone_counts_half_for_either_edge() -> None:
    """By hand: 412 for 410: 69 and 69 for 70 and 70."""
    found = slip(ONE, width="412")
    assert found.off == {LEFT: mm(-1), TOP: mm(0), RIGHT: mm(-1), BOTTOM: mm(0)}
    assert found.known == (LEFT, RIGHT)
    assert found.cure.size == Size(mm(412), mm(289))


def test_two_of_three_give_the_third() -> None:
    """By hand: board 550: 68 and 410 leave 72; 550 − 411 − 70 = 69."""
    assert slip(ONE, left="68", width="410").off[RIGHT] == mm(2)
    assert slip(ONE, right="70", width="411").off[LEFT] == mm(-1)


FRAMED = in_steps(work_out(MATTED), HALF)
"""Artwork 297 × 420, window 287 × 410, borders 60, 60, 60, 70; lip 6, allowance 3."""


def test_what_is_seen_of_a_border_inside_the_lip() -> None:
    """G13 by hand: 58 + 1.5 − 6 = 53.5."""
    found = slip(FRAMED, left="58")
    assert said(found)["border-seen"].endswith("seen inside it: right 53.5 mm.")


def test_a_window_that_reaches_behind_the_lip_does_not_hold() -> None:
    """G13 by hand: 4.5 + 1.5 − 6 = 0."""
    wide = replace(MATTED, overlap=mm(30), borders=Edges.equal(mm(20)))
    found = slip(in_steps(work_out(wide), HALF), left="4.5")
    assert concerns(found)["window-behind-lip"] is Concern.RISK
    assert "At the right the lip of the frame, 6 mm," in said(found)["window-behind-lip"]


FLOATED = in_steps(work_out(replace(MATTED, presentation=Presentation.FLOAT)), HALF)
"""Gap 10: window 317 × 440."""


def test_a_float_is_told_by_its_gap() -> None:
    """By hand: 63 for 60: 314 wide, gap (314 − 297) / 2 = 8.5; 57: larger 323 × 446, gap 13."""
    assert (
        "a gap of 8.5 mm in width and 10 mm in height"
        in said(slip(FLOATED, left="63"))["float-gap"]
    )
    found = slip(FLOATED, left="57")
    assert found.cure.size == Size(mm(323), mm(446))
    assert "the gap would be 13 mm" in found.cure.message


def test_a_float_that_is_covered_does_not_float() -> None:
    """By hand: 82 for 60: 295 wide, (295 − 297) / 2 = −1; it is cut again."""
    found = slip(FLOATED, left="82")
    assert "covers 1 mm of the artwork" in said(found)["float-covered"]
    assert not found.holds
    assert found.cure.kind is CureKind.AGAIN


def test_a_fillet_is_told_by_its_tuck() -> None:
    """G19 by hand: tuck 4: outside 295 × 418; window 289 wide for 287: (295 − 289) / 2 = 3; 296 falls through."""
    fillet = Fillet(face=mm(10), lip=mm(5), tuck=mm(4), thickness=mm(3))
    cut = in_steps(work_out(replace(MATTED, fillet=fillet)), HALF)
    assert (
        "lies 3 mm in width and 4 mm in height behind" in said(slip(cut, left="58"))["fillet-tuck"]
    )
    assert concerns(slip(cut, left="51"))["fillet-tuck"] is Concern.RISK


TRIPLE: Spec = replace(
    MATTED,
    openings=tuple(
        Opening(name=name, artwork=Size(mm(110), mm(160)), overlap=mm(5)) for name in "ABC"
    ),
    borders=Edges.equal(mm(60)),
    package=Size(mm(470), mm(270)),
)
"""Three windows of 100 × 150 in a board of 470 × 270, borders 60: two bridges of (470 − 420) / 2 = 25."""


def test_of_several_windows_the_one_that_was_measured_is_told() -> None:
    """By hand: B begins at 60 + 100 + 25 = 185; 178 for 185 leaves a bridge of 18, under 3/4 in (19.05)."""
    cut = in_steps(work_out(TRIPLE), HALF)
    found = slip(cut, window="B", left="178")
    assert found.window == "B"
    assert "Between A and B 18 mm of board is left" in said(found)["bridge-below-least"]
    assert "bridge-below-least" not in said(slip(cut, window="B", left="180"))


def test_windows_that_would_lie_on_each_other_were_measured_wrongly() -> None:
    cut = in_steps(work_out(TRIPLE), HALF)
    with pytest.raises(Invalid) as raised:
        slip(cut, window="B", left="150")
    assert "Windows A and B overlap" in raised.value.message
    assert raised.value.faults[0].path == "window"


@pytest.mark.parametrize(
    ("typed", "path", "words"),
    [
        ({"left": "0"}, "left", "right border was measured as 0 mm"),
        ({"left": "-3"}, "left", "it must be above zero"),
        ({"top": "437"}, "top", "the board is only 437 mm"),
        ({"width": "600"}, "width", "window’s width was measured as 600 mm"),
        ({"left": "490"}, "left", "leaves no room for the rest in a board of 550 mm"),
        ({"left": "200", "width": "350"}, "width", "550 mm together"),
        ({"left": "70", "width": "410", "right": "72"}, "width", "measured as 552 mm together"),
    ],
)
def test_measures_that_cannot_be_are_refused_at_their_field(
    typed: dict[str, str], path: str, words: str
) -> None:
    with pytest.raises(Invalid) as raised:
        slip(ONE, **typed)
    assert [fault.path for fault in raised.value.faults] == [path]
    assert words in raised.value.message


def test_three_readings_may_differ_from_the_board_by_two_steps() -> None:
    """By hand: 70 + 410 + 71 = 551, and the board is 550; two steps of 0.5 are allowed."""
    assert slip(ONE, left="70", width="410", right="71").off[RIGHT] == mm(1)


def test_a_window_that_is_gone_is_said() -> None:
    for layer, window in ((3, "window"), (1, "B")):
        with pytest.raises(Invalid) as raised:
            slip(ONE, layer, window)
        assert raised.value.faults[0].path == "window"
        assert "no window" in raised.value.message


def test_the_hint_has_the_sign_of_a_test_cut() -> None:
    """B7 by hand: 70.5 for 70 with a correction of 0.5 so far: asked less measured, 0.5 − 0.5 = 0."""
    found = slip(ONE, cutter=replace(CUTTER, guide_correction=mm("0.5")), left="71")
    assert found.hint.code == "guide-off"
    assert "This border is 1 mm too wide." in found.hint.message
    assert "to −0.5 mm instead of 0.5 mm" in found.hint.message
    assert "make a test cut to find the correction" in found.hint.message


def test_what_the_scales_step_took_is_no_hint() -> None:
    """By hand: a face reading of 70 − 1.4 = 68.6 is set at 68.5, so 69.9 is what comes out."""
    found = slip(ONE, cutter=replace(CUTTER, reads=Reads.FACE), left="69.9", right="69.9")
    assert found.hint.code == "guide-true"


def test_several_edges_hint_by_their_mean_or_not_at_all() -> None:
    """By hand: 1, 1, 1.5 and 0.5 too wide: 1 on average; 1 too wide and 3 too narrow: no correction."""
    even = slip(ONE, left="71", top="71", right="71.5", bottom="80.5")
    assert "These borders are 1 mm too wide on average" in even.hint.message
    assert slip(ONE, left="71", top="67").hint.code == "edges-differ"


def test_more_than_any_correction_is_a_wrong_setting() -> None:
    """By hand: 85 for 70 is 15, and 10 is the most that is corrected."""
    assert slip(ONE, left="85").hint.code == "setting-misread"


def test_an_oval_hints_at_nothing() -> None:
    oval = replace(
        MATTED,
        openings=(Opening(name="A", shape=Shape.OVAL, artwork=MATTED.artwork),),
    )
    found = slip(in_steps(work_out(oval), HALF), window="A", left="58")
    assert found.hint.code == "no-hint"
    assert "by 4 mm in width" in said(found)["artwork-covered"]


def test_a_piece_in_inches_is_told_in_inches() -> None:
    """By hand: 8 × 10 in, overlap 3/16: window 7 5/8 × 9 5/8 in a board of 11 × 14: borders 1 11/16, 2 3/16.
    1 5/8 for 1 11/16: 1/16 too large; larger 7 3/4 × 9 3/4, overlap 3/16 − 1/16 = 1/8."""
    cut = work_out(in_inches())
    measured = MeasuredWindow(layer=1, window="window", borders={LEFT: Length.of("1.625", Unit.IN)})
    found = slip_of(job_of(cut), measured)
    assert found.off[LEFT] == -inches("1/16")
    assert found.cure.size == Size(Length.of("7.75", Unit.IN), Length.of("9.75", Unit.IN))
    assert 'the overlap would still be 1/8"' in found.cure.message


def test_without_a_frame_nothing_is_said_of_a_lip() -> None:
    assert {"border-seen", "window-behind-lip"}.isdisjoint(said(slip(ONE, left="68")))
    thin = replace(
        MATTED, frames=(Frame(face=mm(20), lip=mm(0), rebate_depth=mm(9), allowance=mm(0)),)
    )
    assert "right 58 mm" in said(slip(in_steps(work_out(thin), HALF), left="58"))["border-seen"]
