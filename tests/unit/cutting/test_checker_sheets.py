"""The checker on plans for sheets made by hand, true and spoilt (C2, C4)."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from app.cutting import LaidPart, SheetCut, SheetPart, SheetPlan, SheetRest, Unplaced, Way
from app.cutting.checker import faults_of_sheet_plan
from app.lengths import mm
from tests.builders.cutting_plans import SHEET_PLAN, TRIMMED, cut, laid, size

SHEET = SHEET_PLAN.bins[0]
G, M1, M2 = SHEET.parts
WIDE, NARROW = SHEET.offcuts


def with_sheet(**changes: object) -> SheetPlan:
    return replace(SHEET_PLAN, bins=(replace(SHEET, **changes),))


def with_parts(*parts: LaidPart) -> SheetPlan:
    return with_sheet(parts=parts)


def with_cut(number: int, **changes: object) -> SheetPlan:
    """Of the plan's cuts, by number from 1, one changed."""
    cuts = list(SHEET.cuts)
    cuts[number - 1] = replace(cuts[number - 1], **changes)
    return with_sheet(cuts=tuple(cuts))


def with_asked(**changes: object) -> SheetPlan:
    return replace(SHEET_PLAN, asked=replace(SHEET_PLAN.asked, **changes))


def test_a_true_plan_has_no_fault() -> None:
    assert faults_of_sheet_plan(SHEET_PLAN) == ()


def test_a_last_cut_that_trims_a_part_is_no_stage() -> None:
    assert faults_of_sheet_plan(TRIMMED) == ()


def test_cuts_may_come_in_any_order_that_can_be_worked() -> None:
    cuts = SHEET.cuts
    assert faults_of_sheet_plan(with_sheet(cuts=(*cuts[:5], cuts[6], cuts[5], *cuts[7:]))) == ()


def test_a_blade_thicker_than_the_trim_hangs_over_the_edge() -> None:
    """By hand: a trim of 3 under a kerf of 4 leaves 3 to 997 by 3 to 797; the blade begins at -1, or
    at the edge with as much of it as there is."""
    whole = size("994", "794")
    asked = replace(SHEET_PLAN.asked, trim=mm(3), parts=(SheetPart(id="W", size=whole),))
    for first in ("-1", "0"):
        cuts = (
            cut(0, Way.ACROSS, first, "0", "1000"),
            cut(0, Way.DOWN, first, "3", "800"),
            cut(0, Way.ACROSS, "797", "3", "1000"),
            cut(0, Way.DOWN, "997", "3", "797"),
        )
        sheet = replace(SHEET, cuts=cuts, parts=(laid("W", 1, ("3", "3"), whole),), offcuts=())
        assert faults_of_sheet_plan(replace(SHEET_PLAN, asked=asked, bins=(sheet,))) == ()


def test_the_kerf_beyond_a_cut_may_be_all_that_is_left() -> None:
    """By hand: 100 - 97 = 3 is less than the kerf of 4, so the cut at 97 leaves nothing beyond."""
    asked = replace(TRIMMED.asked, kerf=mm(4), parts=(SheetPart(id="P", size=size("97", "100")),))
    sheet = replace(
        TRIMMED.bins[0],
        cuts=(cut(1, Way.DOWN, "97", "0", "100"),),
        parts=(laid("P", 1, ("0", "0"), size("97", "100")),),
    )
    assert faults_of_sheet_plan(replace(TRIMMED, asked=asked, bins=(sheet,))) == ()


SPOILT: dict[str, tuple[Callable[[], SheetPlan], str]] = {
    "a part is moved": (
        lambda: with_parts(replace(G, x=mm("10.5")), M1, M2),
        "“G” copy 1 is not a piece that the cuts on “full” no. 1 free.",
    ),
    "parts overlap": (
        lambda: with_parts(G, M1, replace(M2, x=mm(400))),
        "“M” copy 1 and “M” copy 2 on “full” no. 1 overlap.",
    ),
    "the kerf is forgotten": (
        lambda: with_parts(G, M1, replace(M2, x=mm(410))),
        "“M” copy 1 and “M” copy 2 on “full” no. 1 lie closer than the kerf.",
    ),
    "a part is smaller than wanted": (
        lambda: with_parts(replace(G, size=size("500", "370")), M1, M2),
        "“G” copy 1 lies as 500 × 370 mm in the plan; 500 × 380 mm is wanted.",
    ),
    "a part is said to lie straight": (
        lambda: with_parts(G, replace(M1, turned=False), M2),
        "“M” copy 1 lies as 400 × 300 mm in the plan; 300 × 400 mm is wanted.",
    ),
    "a part is turned that may not": (
        lambda: with_parts(replace(G, size=size("380", "500"), turned=True), M1, M2),
        "“G” copy 1 lies turned, which it may not.",
    ),
    "a part lies in the trim": (
        lambda: with_parts(replace(G, y=mm(9)), M1, M2),
        "“G” copy 1 reaches beyond what can be used of “full” no. 1.",
    ),
    "a part has no size": (
        lambda: with_parts(replace(G, size=size("0", "380")), M1, M2),
        "“G” copy 1 on “full” no. 1 has no size.",
    ),
    "a cut is shifted": (
        lambda: with_cut(8, at=mm(409)),
        "“M” copy 1 is not a piece that the cuts on “full” no. 1 free.",
    ),
    "a cut stops short": (
        lambda: with_cut(7, end=mm(380)),
        "On “full” no. 1: Cut 7 (stage 2, down at 510 mm from 10 mm to 380 mm) does not cross one "
        "piece from edge to edge.",
    ),
    "a cut runs on into the next piece": (
        lambda: with_cut(7, end=mm(694)),
        "On “full” no. 1: Cut 7 (stage 2, down at 510 mm from 10 mm to 694 mm) does not cross one "
        "piece from edge to edge.",
    ),
    "a cut is made before the one that frees its piece": (
        lambda: with_sheet(
            cuts=(*SHEET.cuts[:4], SHEET.cuts[6], *SHEET.cuts[4:6], *SHEET.cuts[7:])
        ),
        "On “full” no. 1: Cut 5 (stage 2, down at 510 mm from 10 mm to 390 mm) does not cross one "
        "piece from edge to edge.",
    ),
    "a cut is made along an edge": (
        lambda: with_cut(7, at=mm(990)),
        "On “full” no. 1: Cut 7 (stage 2, down at 990 mm from 10 mm to 390 mm) does not cross one "
        "piece from edge to edge.",
    ),
    "a cut names another stage": (
        lambda: with_cut(7, stage=1),
        "On “full” no. 1: Cut 7 (stage 1, down at 510 mm from 10 mm to 390 mm) is of stage 2.",
    ),
    "a cut is said to trim": (
        lambda: with_cut(5, stage=0),
        "On “full” no. 1: Cut 5 (stage 0, across at 390 mm from 10 mm to 990 mm) is said to trim an "
        "edge, but takes off no trim of 10 mm.",
    ),
    "too little is trimmed": (
        lambda: with_cut(1, at=mm(5)),
        "On “full” no. 1: Cut 1 (stage 0, across at 5 mm from 0 mm to 1000 mm) is said to trim an "
        "edge, but takes off no trim of 10 mm.",
    ),
    "a cut is missing": (
        lambda: with_sheet(cuts=SHEET.cuts[:-1]),
        "“M” copy 2 is not a piece that the cuts on “full” no. 1 free.",
    ),
    "a last cut frees two parts": (
        lambda: replace(
            TRIMMED,
            asked=replace(
                TRIMMED.asked,
                parts=(*TRIMMED.asked.parts, SheetPart(id="R", size=size("40", "20"))),
            ),
            bins=(
                replace(
                    TRIMMED.bins[0],
                    parts=(*TRIMMED.bins[0].parts, laid("R", 1, ("60", "30"), size("40", "20"))),
                ),
            ),
        ),
        "Cut 3 on “full” no. 1 is one beyond the 2 stages and frees 2 parts; a last cut may only "
        "trim one.",
    ),
    "a last cut frees none": (
        lambda: replace(
            TRIMMED,
            bins=(
                replace(
                    TRIMMED.bins[0],
                    cuts=(
                        *TRIMMED.bins[0].cuts,
                        cut(2, Way.DOWN, "50", "50", "100"),
                        cut(3, Way.ACROSS, "60", "0", "50"),
                    ),
                ),
            ),
        ),
        "Cut 5 on “full” no. 1 is one beyond the 2 stages and frees 0 parts; a last cut may only "
        "trim one.",
    ),
    "cuts go two stages too far": (
        lambda: replace(
            TRIMMED,
            bins=(
                replace(
                    TRIMMED.bins[0],
                    cuts=(*TRIMMED.bins[0].cuts, cut(4, Way.DOWN, "80", "30", "50")),
                ),
            ),
        ),
        "On “full” no. 1: Cut 4 (stage 4, down at 80 mm from 30 mm to 50 mm) is 2 stages beyond the "
        "2 allowed.",
    ),
    "an offcut overlaps a part": (
        lambda: with_sheet(offcuts=(replace(WIDE, x=mm(500), size=size("490", "380")), NARROW)),
        "“G” copy 1 and the offcut at 500 mm from the left, 10 mm from the top on “full” no. 1 "
        "overlap.",
    ),
    "an offcut is no piece": (
        lambda: with_sheet(offcuts=(replace(WIDE, size=size("400", "380")), NARROW)),
        "The offcut at 514 mm from the left, 10 mm from the top is not a piece that the cuts on "
        "“full” no. 1 free.",
    ),
    "an offcut is given twice": (
        lambda: with_sheet(offcuts=(WIDE, WIDE, NARROW)),
        "The offcut at 514 mm from the left, 10 mm from the top and the offcut at 514 mm from the "
        "left, 10 mm from the top on “full” no. 1 overlap.",
    ),
    "an offcut is not worth keeping": (
        lambda: with_sheet(
            offcuts=(*SHEET.offcuts, SheetRest(x=mm(10), y=mm(698), size=size("980", "92")))
        ),
        "The offcut of 980 × 92 mm on “full” no. 1 is not worth keeping.",
    ),
    "an offcut is forgotten": (
        lambda: with_sheet(offcuts=(WIDE,)),
        "172 × 300 mm are left over on “full” no. 1 and worth keeping, but no offcut of the plan.",
    ),
    "a part is left out though a new sheet holds it": (
        lambda: replace(
            with_asked(parts=(*SHEET_PLAN.asked.parts, SheetPart(id="E", size=size("780", "980")))),
            unplaced=(Unplaced(id="E", copies=1, code="c", reason="r"),),
        ),
        "“E” is left out, but “full” holds it and there is one more of that.",
    ),
    "a part is placed twice": (
        lambda: with_parts(G, M1, replace(M2, copy=1)),
        "“M” copy 1 is placed 2 times.",
    ),
    "a part is missing": (
        lambda: with_parts(G, M1),
        "Of “M” 2 are wanted, but 1 are placed and 0 left out.",
    ),
    "a sheet is not on offer": (
        lambda: with_sheet(stock="old"),
        "The stock “old” is opened, but it is not on offer.",
    ),
    "the bound is above the cost": (
        lambda: replace(SHEET_PLAN, lower_bound=Fraction(2)),
        "The bound of 2 is above the cost of 1, so it is no bound.",
    ),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_plan_is_told_by_a_sentence(name: str) -> None:
    spoil, sentence = SPOILT[name]
    assert sentence in faults_of_sheet_plan(spoil())


def test_four_in_a_ring_fit_a_square_but_no_cut_goes_through() -> None:
    """By hand: four parts of 60 by 40 around a hole of 20 fill a square of 100, and every line across
    it, at any height, runs through one of them."""
    four = (
        laid("R", 1, ("0", "0"), size("60", "40")),
        laid("R", 2, ("60", "0"), size("40", "60"), turned=True),
        laid("R", 3, ("40", "60"), size("60", "40")),
        laid("R", 4, ("0", "40"), size("40", "60"), turned=True),
    )
    asked = replace(
        TRIMMED.asked, stages=None, parts=(SheetPart(id="R", size=size("60", "40"), copies=4),)
    )
    for cuts in ((), *((one,) for one in _straight_cuts())):
        sheet = replace(TRIMMED.bins[0], cuts=cuts, parts=four)
        faults = faults_of_sheet_plan(replace(TRIMMED, asked=asked, bins=(sheet,)))
        assert any("is not a piece that the cuts" in fault for fault in faults)
        assert not any("overlap" in fault for fault in faults)


def _straight_cuts() -> list[SheetCut]:
    return [cut(1, way, at, "0", "100") for way in Way for at in ("20", "40", "50", "60", "80")]
