"""The figures on a ticket, read back from its PDF and compared with figures worked by hand.

The rules are those of the handbook (G1 to G14, D1 to D3, P2); the arithmetic stands beside each
table. Densities are common data, see `app.framing.notices.weight`.
"""

from dataclasses import replace

import pytest

from app.documents.ticket.page import tally_of
from app.documents.ticket.ticket import ticket_pdf
from app.lengths import Unit
from app.orders import Order, Paper, Shop
from tests.builders.printed import INCHES, OWN_FRAME, SKETCH, TRAY, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import Run, runs, text_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

LEAST_CUT = 14
"""Points: cut sizes are read at arm's length."""


def ticket(order: Order, shop: Shop | None = None, paper: Paper = Paper.A4) -> bytes:
    return ticket_pdf(
        order,
        shop or a_shop(),
        None,
        paper=paper,
        phone_url="http://shop.example:8377",
        today=TODAY,
    )


@pytest.fixture(scope="module")
def sketch() -> bytes:
    return ticket(an_order(SKETCH, note="Ring the bell at the yard door."))


@pytest.fixture(scope="module")
def sketch_text(sketch: bytes) -> str:
    return text_of(sketch)


# 420 × 297, overlap 5, reveal 6, borders 70 70 70 80, under trim 3, face 25, lip 6, allowance 3:
# window 2 = 420 − 10 × 297 − 10; window 1 = window 2 + 12; package = 70 + 422 + 70 × 70 + 299 + 80;
# blank 2 = package − 6; rebate = package + 3; outside = rebate + 2 × 19; inside the lip = rebate − 12.
CUT_IN_MM = (
    ("blank", "22 1/8 × 17 11/16", "562 × 449"),
    ("window", "16 5/8 × 11 25/32", "422 × 299"),
    ("blank", "21 7/8 × 17 7/16", "556 × 443"),
    ("window", "16 5/32 × 11 5/16", "410 × 287"),
)
RAILS_IN_MM = (
    ("2 rails top, bottom", "23 3/4 603", "21 25/32 553"),
    ("2 rails left, right", "19 9/32 490", "17 5/16 440"),
)


def test_every_mat_has_its_blank_and_window_with_a_check_in_inches(sketch_text: str) -> None:
    for label, check, figure in CUT_IN_MM:
        assert f"{label} {check} {figure}" in sketch_text


def test_glazing_mount_board_and_backing_have_the_packages_size(sketch: bytes) -> None:
    cut = [run for run in runs(sketch) if run.text == "562 × 449" and run.points >= LEAST_CUT]
    assert len(cut) == 4  # blank of mat 1, glazing, mount board, backing


def test_rails_have_long_point_short_point_and_count(sketch_text: str) -> None:
    for label, long, short in RAILS_IN_MM:
        assert f"{label} {long} {short}" in sketch_text
    assert "long point short point" in sketch_text


# 2 × (603 + 490) = 2186, and 4 × 8.5 lost at the saw: 2220, from one stick of 3000.
def test_the_moulding_to_take_is_all_long_points_and_the_loss_at_the_saw(sketch_text: str) -> None:
    assert "Frame W25 Walnut hollow 25: uses 2220 of one 3000 stick" in sketch_text


# 2 + 2 × 1.4 + 0.3 + 1.4 + 3 = 9.5 of 14.
def test_the_stack_is_summed_against_the_rebate(sketch_text: str) -> None:
    assert "9.5 of 14 in the rebate, 4.5 left" in sketch_text
    assert "glazing 2 + mats 2.8 + artwork 0.3 + mount board 1.4 + backing 3" in sketch_text
    assert "562 × 449 in a rebate of 565 × 452 · 3 play in total" in sketch_text


# m²: package 0.252338, window 1 0.126178, blank 2 0.246308, window 2 0.117670. kg: mats
# (0.126160 + 0.128638) × 0.98 = 0.2497; glazing × 5 = 1.2617; mount board × 0.98 = 0.2473; backing
# × 2.25 = 0.5678; rails 2.186 m × 0.31 = 0.6777; artwork and fixings 0.15. Together 3.154 kg, 30.93 N.
# Fixings 490/3 down, 603 − 25 apart; drop 113.33 over 289: 21.4°; pull 30.93 / (2 × 0.3651) = 42.4 N;
# parts for 4 × 42.36 = 169.4 N, which is 17.3 kg. Wire √(578² + 226.67²) = 620.9 taut, 100 wound at each end.
def test_weight_and_hanging_are_worked_out(sketch_text: str) -> None:
    assert "about 3.2 kg" in sketch_text
    assert (
        "wire at 21°, pulls 4.4 kg (43 N) · each part bears at least 17.4 kg (170 N)" in sketch_text
    )
    assert (
        "Fixings 163.5 below the frame’s top edge, 578 between centres; wire about 0.83 m"
        in sketch_text
    )


def test_the_head_says_whose_it_is_where_it_is_kept_and_when_it_is_due(sketch_text: str) -> None:
    assert "2026-0148 piece 1 of 1 Mairi Quill" in sketch_text
    assert "Estuary, low tide · watercolour · 420 × 297" in sketch_text
    assert "due Thu 10 Dec 2026 stored at Rack B2" in sketch_text
    assert "/orders/12/pieces/1" in sketch_text


def test_one_loud_line_names_the_one_unit(sketch: bytes) -> None:
    band = next(run for run in runs(sketch) if run.text.startswith("Every figure on this ticket"))
    assert band.text == "Every figure on this ticket is in millimetres"
    assert band.points > 12


def test_what_to_take_and_what_was_noted_stand_with_the_checks(sketch_text: str) -> None:
    assert "Take 2 × R1 Hanging ring · 1 × H5 Hanging wire Condition" in sketch_text
    assert "Condition Slight cockling at the top edge" in sketch_text
    assert "Note Ring the bell at the yard door." in sketch_text


# 16 × 20, overlap 3/16, borders 2 1/2 and 3: window 15 5/8 × 19 5/8, package 20 5/8 × 25 1/8, rebate
# 20 3/4 × 25 1/4. Face − lip = 19 mm = 0.748 in: outside 22.246 × 26.746, up to 1/16: 22 1/4 × 26 3/4;
# less twice the face of 25 mm: 22.25 − 1.9685 = 20.2815, which a rule reads as 20 9/32 (515.14 mm), and
# 26.75 − 1.9685 = 24.7815, 24 25/32 (629.44 mm).
INCH_FIGURES = (
    "blank 523.9 × 638.2 20 5/8 × 25 1/8",
    "window 396.9 × 498.5 15 5/8 × 19 5/8",
    "2 rails left, right 679.5 26 3/4 629.4 24 25/32",
    "2 rails top, bottom 565.2 22 1/4 515.1 20 9/32",
)


def test_an_inch_ticket_is_in_inches_with_checks_in_mm() -> None:
    shop = a_shop(Unit.IN)
    text = text_of(ticket(an_order(INCHES, shop=shop), shop, Paper.LETTER))
    for line in INCH_FIGURES:
        assert line in text
    assert "22 1/4 × 26 3/4 outside · 20 9/32 × 24 25/32 inside the lip" in text
    assert "Every figure on this ticket is in inches" in text
    assert "63.5 2 1/2 mat right, top, left" in text


# Canvas 500 × 400, gap 5: inside 510 × 410; wall 20: outside 550 × 450.
def test_a_tray_is_cut_around_the_canvas_and_its_gap() -> None:
    text = text_of(ticket(an_order(TRAY)))
    assert "2 rails top, bottom 21 21/32 550 20 3/32 510" in text
    assert "2 rails left, right 17 23/32 450 16 5/32 410" in text
    assert "canvas 500 × 400 in 510 × 410 · gap 5 at each edge" in text


def test_uneven_borders_are_named_as_they_lie_with_the_back_up() -> None:
    uneven = {**SKETCH, "borders.left": "61", "borders.right": "74"}
    raw = text_of(ticket(an_order(uneven)))
    assert "74 mat 1 left" in raw
    assert "61 mat 1 right" in raw


def _cut_figures(pdf: bytes) -> list[Run]:
    wanted = {figure for _, _, figure in CUT_IN_MM} | {"603", "490", "553", "440"}
    return [run for run in runs(pdf) if run.text in wanted]


@pytest.mark.parametrize("paper", list(Paper))
def test_cut_sizes_have_at_least_14_points(paper: Paper) -> None:
    figures = _cut_figures(ticket(an_order(SKETCH), paper=paper))
    assert len(figures) == 11
    assert min(run.points for run in figures) >= LEAST_CUT


@pytest.mark.parametrize("paper", list(Paper))
def test_a_frame_that_is_brought_in_is_taken_apart_before_anything_is_cut(paper: Paper) -> None:
    """G24: what is measured again then is worth more than what was measured closed."""
    text = " ".join(text_of(ticket(an_order(OWN_FRAME), paper=paper)).split())
    apart = text.index("take the customer's frame apart")
    assert apart < text.index("clean frame and rebate") < text.index("Glazing")
    assert apart < text.index("M1 Chalk white")
    assert text.count("measure the rebate again: 565 × 452") == 1


def test_of_twenty_alike_parts_are_counted_for_all_and_what_is_taken_is_for_each() -> None:
    """By hand of the sketch: 2 × 20 = 40; 2220 of moulding as for one."""
    one = ticket(an_order(SKETCH))
    text = text_of(ticket(an_order({**SKETCH, "copies": "20"})))
    assert "40 rails (2 × 20) top, bottom 23 3/4 603" in text
    assert "40 rails (2 × 20) left, right 19 9/32 490" in text
    assert "uses 2220 of one 3000 stick for each of the 20" in text
    assert "uses 2220 of one 3000 stick; opposite rails the same length" in text_of(one)
    assert "20 of these a box for each that is framed; sizes, depth and weight are of one" in text
    assert "Glazing × 20" in text
    assert "Frame × 20" not in text


@pytest.mark.parametrize(
    ("copies", "boxes", "note"),
    [
        (1, 0, ""),
        (20, 20, "a box for each that is framed"),
        (100, 100, "a box for each that is framed"),
        (120, 12, "a box for every 10 that are framed"),
        (125, 13, "a box for every 10 that are framed, the last for 5"),
    ],
)
def test_the_boxes_of_those_that_are_alike_say_what_they_are_for(
    copies: int, boxes: int, note: str
) -> None:
    tally = tally_of(copies)
    assert (sum(map(len, tally.boxes)), tally.note) == (boxes, note) if tally else copies == 1


def test_a_ticket_tells_no_price(sketch_text: str) -> None:
    assert "EUR" not in sketch_text
    assert "137" not in sketch_text


def test_a_rushed_piece_says_so_loudly() -> None:
    pdf = ticket(an_order({**SKETCH, "rush": "1"}))
    assert max(run.points for run in runs(pdf) if run.text.lower() == "rush") >= 11
    assert "RUSH" in text_of(pdf)
    assert "RUSH" not in text_of(ticket(an_order(SKETCH)))


def test_the_shops_own_word_for_a_mat_is_used() -> None:
    shop = a_shop()
    shop = replace(shop, mat_word=type(shop.mat_word)("mount"))
    text = text_of(ticket(an_order(SKETCH, shop=shop), shop))
    assert "Mount 1 M1 Chalk white" in text
    assert "Mat 1" not in text


# 1300 − 10 + 12 + 140 = 1442 and 900 − 10 + 12 + 150 = 1052 do not go on a sheet of 1120 × 815.
def test_a_part_larger_than_its_sheet_says_so() -> None:
    text = text_of(ticket(an_order({**SKETCH, "artwork.size": "1300 x 900"})))
    assert "Mat 1 M1 Chalk white, sheet 1120 × 815: too small for this part" in text
    assert "1442 × 1052" in text
