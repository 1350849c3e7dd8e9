"""The mats at the cutter on tickets, read back from PDFs and compared with figures worked by hand.

The rules are those of the handbook (B1 to B6, C5, G9, G10, G20, L3); the arithmetic stands beside
each table. The usual cutter's guide begins at its far end, 200 mm or 8 in.
"""

import re
from dataclasses import replace

import pytest

from app.bench import Cutter, PinRow, Scale, Stops, usual_cutter
from app.lengths import Size, Unit, inches, mm
from app.orders import Paper, Shop
from tests.builders.cutters import with_both_scales
from tests.builders.printed import EIGHT, INCHES, OVAL, SKETCH, TRIPLE, a_shop, an_order
from tests.documents.reading import page_sizes, runs, text_of
from tests.documents.test_ticket_figures import ticket

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

INCH_CUTTER = Cutter(
    name="Long bench",
    cut_length=inches(60),
    guide_reach=inches(8),
    scales=(
        Scale(unit=Unit.IN, step=inches("1/32"), pins=PinRow(first=inches(1), pitch=inches(1))),
    ),
    deepest_board=inches("1/8"),
)


def said_on_ticket(typed: dict[str, str], shop: Shop | None = None) -> str:
    shop = shop or a_shop()
    return text_of(ticket(an_order(typed, shop=shop), shop))


def in_order(lines: tuple[str, ...], text: str) -> bool:
    places = [text.find(line) for line in lines]
    return -1 not in places and places == sorted(places)


# Borders 70 70 70 80; + 6 for mat 2; + 4 more for mat 3. Attached, so mat by mat, and each time the
# nearer one first. Checks: 80 / 25.4 × 32 = 100.8, 70: 88.2, 76: 95.7, 86: 108.3, 90: 113.4.
TRIPLE_SETTINGS = (
    "mark the back of mat 1",
    "1 3 5/32 80 mat 1 bottom",
    "2 2 3/4 70 mat 1 right, top, left",
    "lift mat 1 off face down, the window drops out; keep: 307 × 430 of Chalk white",
    "mat 1 face down, fallout in: fix mat 2 face down behind it, mark from mat 1’s edges",
    "3 3 76 mat 2 right, top, left",
    "4 3 3/8 86 mat 2 bottom",
    "lift mat 2 off face down",
    "fix mat 3 face down behind it",
    "5 3 17/32 90 mat 3 bottom",
    "6 3 5/32 80 mat 3 right, top, left",
    "lift mat 3 off face down, the window drops out; keep: 287 × 410 of Moss",
)


def test_three_mats_are_cut_setting_by_setting_in_their_order() -> None:
    text = said_on_ticket(TRIPLE)
    assert in_order(TRIPLE_SETTINGS, text)
    assert "Mats at the cutter Mat cutter, scale in mm, 6 guide settings" in text
    assert "From the back left and right exchanged" in text


# Windows 100 × 150: package 60 + 4 × 100 + 3 × 30 + 60 = 610, 60 + 2 × 150 + 30 + 70 = 460. Distances
# over the four sides: 60, 190, 320, 450 across, 60 and 240 from the top, 250 and 70 from the bottom.
# A guide that reaches 500 goes through them from the far end down.
EIGHT_SETTINGS = (
    "1 17 23/32 450 mat right of D, H; left of A, E",
    "2 12 19/32 320 mat right of C, G; left of B, F",
    "3 9 27/32 250 mat bottom of A–D",
    "4 9 7/16 240 mat top of E–H",
    "5 7 15/32 190 mat right of B, F; left of C, G",
    "6 2 3/4 70 mat bottom of E–H",
    "7 2 3/8 60 mat right of A, E; top of A–D; left of D, H",
)
# One that reaches 200 is set for the last three, and what lies beyond is cut by straight-edge.
EIGHT_WITHIN_REACH = (
    "1 7 15/32 190 mat right of B, F; left of C, G",
    "2 2 3/4 70 mat bottom of E–H",
    "3 2 3/8 60 mat right of A, E; top of A–D; left of D, H",
    "beyond the cutter: draw these lines and cut them",
    "top of E–H at 240 from the top edge",
    "left of A, E at 450 from the left edge",
    "left of B, F at 320 from the left edge",
    "at 250 from the bottom edge",
)


@pytest.fixture(scope="module")
def eight() -> bytes:
    return ticket(an_order(EIGHT))


def test_eight_windows_need_seven_settings_and_stand_on_one_page() -> None:
    shop = a_shop(cutters=(replace(usual_cutter(Unit.MM), guide_reach=mm(500)),))
    pdf = ticket(an_order(EIGHT, shop=shop), shop)
    text = text_of(pdf)
    assert in_order(EIGHT_SETTINGS, text)
    assert "scale in mm, 7 guide settings" in text
    assert len(page_sizes(pdf)) == 1


def test_what_the_guide_does_not_reach_is_no_setting_but_a_line_to_draw(eight: bytes) -> None:
    text = text_of(eight)
    assert in_order(EIGHT_WITHIN_REACH, text)
    assert "scale in mm, 3 guide settings" in text
    assert len(page_sizes(eight)) == 1


def test_equal_windows_are_one_row_of_the_cut_list(eight: bytes) -> None:
    assert "8 windows A–H 3 15/16 × 5 29/32 100 × 150" in text_of(eight)
    assert min(run.points for run in runs(eight) if run.text == "100 × 150") >= 14


def test_eight_positions_are_given_from_the_back(eight: bytes) -> None:
    rows = "A 450 60 B 320 60 C 190 60 D 60 60 E 450 240 F 320 240 G 190 240 H 60 240"
    assert f"Mat from the back window from left from top {rows}" in text_of(eight)


def test_what_the_guide_does_not_reach_is_said_before_the_settings(eight: bytes) -> None:
    text = text_of(eight)
    limit = "the guide reaches 200 mm"
    assert in_order((limit, "mark the back of the mat"), text)
    assert "Draw these lines on the board" in text


# Fallouts of 100 × 150 are kept from 150 × 100; a shop that keeps from 160 × 100 keeps none.
def test_equal_fallouts_are_kept_together_from_the_keep_size_on(eight: bytes) -> None:
    assert "keep: 8 pieces 100 × 150 of Chalk white" in text_of(eight)
    assert "keep:" not in said_on_ticket(EIGHT, a_shop(keep=Size(mm(160), mm(100))))


# 70 mm = 2 24.2/32 in, 80 = 3 4.8/32, 76 = 2 31.7/32, 86 = 3 12.3/32. Checks of what is set, half up:
# 3 5/32 = 80.169, 2 3/4 = 69.85, 3 = 76.2, 3 3/8 = 85.725.
INCH_SETTINGS = (
    "1 80.2 3 5/32 pin 3, then 5/32 mat 1 bottom",
    "2 69.9 2 3/4 pin 2, then 3/4 mat 1 right, top, left",
    "3 76.2 3 pin 3 mat 2 right, top, left",
    "4 85.7 3 3/8 pin 3, then 3/8 mat 2 bottom",
)


def test_a_scale_in_inches_is_set_in_inches_on_a_ticket_in_mm() -> None:
    shop = a_shop(cutters=(INCH_CUTTER,))
    pdf = ticket(an_order(SKETCH, shop=shop), shop)
    text = text_of(pdf)
    assert in_order(INCH_SETTINGS, text)
    assert "In millimetres, but the guide’s settings and marks in inches" in text
    assert "562 × 449" in text
    assert "Set and mark in inches, as the scale of Long bench reads; grey: mm" in text
    loud = next(run for run in runs(pdf) if run.text.startswith("Set and mark"))
    assert loud.points > 11


# The piece in inches of the samples, borders 2 1/2 and 3 in: 63.5 and 76.2 mm, on the scale 63.5 and 76.
# A cut begins 1.3 mm beyond its corner: 62.2, at 62, and 74.9, at 75; checks to 1/32 in: 63.5 is 2 16/32,
# 62 is 2 14.1/32, 75 is 2 30.5/32, 76 is 2 31.7/32.
MM_MARKS = (
    "Mat: cuts start and end, in mm (inches)",
    "right 75 (2 15/16) from bottom 63.5 (2 1/2) from top",
    "left 62 (2 7/16) from top 76 (3) from bottom",
    "bottom 62 (2 7/16) from left 63.5 (2 1/2) from right",
)


def test_an_inch_ticket_marks_in_mm_where_the_scale_is_in_mm() -> None:
    cutter = replace(usual_cutter(Unit.MM), start_offset=mm("1.3"))
    shop = a_shop(Unit.IN, cutters=(cutter,))
    text = text_of(ticket(an_order(INCHES, shop=shop), shop, Paper.LETTER))
    assert "In inches, but the guide’s settings and marks in millimetres" in text
    for line in MM_MARKS:
        assert line in text
    assert "2 1/2 63.5 mat right, top, left" in text
    assert "3 76 mat bottom" in text
    assert not re.search(r"\d\.\d{3}\)? from", text)


# On sixteenths, where a cut begins 1.3 mm beyond its corner: 62.2 mm is 39.2 of them, 2 7/16; 74.9 is 47.2, 2 15/16.
def test_on_a_cutter_with_both_scales_each_ticket_has_its_own() -> None:
    both = with_both_scales(usual_cutter(Unit.MM, name="Long bench"))
    shop = a_shop(cutters=(replace(both, start_offset=mm("1.3")),))
    inch_pdf = ticket(an_order(INCHES, shop=shop), shop)
    in_inches, in_mm = text_of(inch_pdf), said_on_ticket(SKETCH, shop)
    assert "Every figure on this ticket is in inches" in in_inches
    assert "Long bench, scale in inches, 2 guide settings" in in_inches
    assert "2 63.5 2 1/2 pin 2 1/2 mat right, top, left" in in_inches
    assert "Mat: cuts start and end" in in_inches
    assert "right 2 15/16 from bottom 2 1/2 from top" in in_inches
    assert "Every figure on this ticket is in millimetres" in in_mm
    assert "Long bench, scale in mm, 4 guide settings" in in_mm
    assert "3 3 76 pin 70, then 6 mat 2 right, top, left" in in_mm
    assert "Set and mark" not in in_inches + in_mm


# 86 mm is 3 3/8 in less 0.275 mm, which is 0.0108 in.
def test_what_lies_between_the_marks_of_the_scale_is_said() -> None:
    text = said_on_ticket(SKETCH, a_shop(cutters=(INCH_CUTTER,)))
    assert 'between the steps of the scale, 1/32"; the nearest step is at most 0.011" off' in text


def test_an_oval_says_that_it_needs_a_cutter_for_ovals() -> None:
    text = said_on_ticket(OVAL)
    assert "a straight-line cutter cannot make A (oval)" in text
    assert "window, oval, half axes 101 and 131 7 15/16 × 10 5/16 202 × 262" in text
    assert "mat 1 on the cutter for ovals: A (oval 202 × 262)" in text
    assert "its middle 171 201" in text


# 1.5 before and 1 behind each corner; borders 76 76 76 86 for mat 2.
def test_starts_and_ends_stand_on_the_ticket_of_a_cutter_with_offsets() -> None:
    cutter = replace(
        INCH_CUTTER, scales=(Scale(unit=Unit.MM, step=mm("0.5")),), guide_reach=mm(200),
        start_offset=mm("1.5"), end_offset=mm(1),
    )  # fmt: skip
    text = said_on_ticket(SKETCH, a_shop(cutters=(cutter,)))
    assert "Where cuts start and end each from its edge" in text
    assert "left, top to bottom 68.5 79 74.5 85" in text


@pytest.mark.parametrize(
    "lines",
    [
        ("Glazing G2", "Glass edges cut:", "Backing B3", "Frame W25", "Saw or chopper:"),
        ("Mats at the cutter", "Fresh blade,", "mark the back of mat 1"),
        (
            "join the frame", "Adhesives and solvents:", "fit mats, artwork and back",
            "Points and staples", "fix the rings level", "Over a bed", "label with number",
        ),
    ],
)  # fmt: skip
def test_cautions_stand_at_their_steps(lines: tuple[str, ...]) -> None:
    assert in_order(lines, said_on_ticket(SKETCH))


# A package of 562 × 449 with borders 70 70 70 80; the under mat 76 76 76 86, worked from the same edges. Pulled, cuts
# begin 1.5 before the far corner and end 1 past the near one. Bottom: 70 − 1, 562 − 70 + 1.5. Right as it lies, its top at
# the arm: 69, 449 − 80 + 1.5; top: 69, 493.5; left, its bottom at the arm: 80 − 1, 449 − 70 + 1.5.
STOPPED = replace(
    usual_cutter(Unit.MM),
    start_offset=mm("1.5"),
    end_offset=mm(1),
    stops=Stops(near=True, far=True),
    arm_reach=mm(560),
)
STOP_ROWS = (
    "lay mat 1 back up, with nothing to mark",
    "mat 1 bottom · stops near 69, far 493.5",
    "mat 1 top, right, left",
    "near 69, far 493.5: top",
    "near 69, far 370.5: right",
    "near 79, far 380.5: left",
    "cut from mat 1’s edges",
    "near 75, far 364.5: right",
)


@pytest.mark.parametrize("paper", list(Paper))
def test_stops_stand_with_the_setting_of_the_guide(paper: Paper) -> None:
    shop = a_shop(cutters=(STOPPED,), paper=paper)
    pdf = ticket(an_order(SKETCH, shop=shop), shop)
    text = text_of(pdf)
    assert in_order(STOP_ROWS, text)
    assert "cuts start" not in text
    assert min(run.points for run in runs(pdf) if "493.5" in run.text) > 12


def test_with_one_stop_only_the_starts_are_told() -> None:
    text = said_on_ticket(SKETCH, a_shop(cutters=(replace(STOPPED, stops=Stops(near=True)),)))
    assert in_order(("mark the back of mat 1", "near stop 69: right, top · 79: left"), text)
    assert in_order(("Where cuts start cut mat 1 mat 2", "right, from bottom 78.5 84.5"), text)
    assert "far stop" not in text


def test_the_settings_of_the_squaring_arm_stand_over_the_cut_list() -> None:
    text = said_on_ticket(SKETCH, a_shop(cutters=(STOPPED,)))
    assert in_order(
        (
            "The squaring arm of “Mat cutter” reaches 560 mm, and longer are mat 1 (562 mm)",
            "Stop on the squaring arm 556 width of mat 2 · 449 height of mat 1, mount board, backing · "
            "443 height of mat 2 · 562 width of mat 1, mount board, backing (beyond the arm: measure and mark)",
            "562 × 449",
        ),
        text,
    )


def test_a_ticket_for_a_cutter_without_stops_says_nothing_of_them() -> None:
    text = said_on_ticket(SKETCH)
    assert "near stop" not in text
    assert "squaring arm" not in text
