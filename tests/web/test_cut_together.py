"""Pieces whose mats are cut together: the list by setting, its boxes, what is left out, what cannot be read."""

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from app.bench import Scale
from app.cutting import SheetProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.documents.ticket import together
from app.lengths import Unit, inches, mm
from app.services import plans, quotes
from app.services import stages as progress
from app.services.open_work import problems_for
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_bench_page_steps import PINNED, tick, ticked
from tests.web.test_limits_at_the_counter import with_cutters
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)

SINGLE = {name: text for name, text in TYPED.items() if not name.startswith("mats.1")} | {
    "artwork.title": "Linocut",
    "borders.left": "100",
    "borders.top": "100",
    "borders.bottom": "100",
}
"""The piece of `tests.builders.worked` behind one mat, its borders 100 all round."""

UNMATTED = {name: text for name, text in TYPED.items() if not name.startswith(("mats", "borders"))}
UNMATTED |= {"artwork.title": "On the stretcher", "presentation": "canvas"}

BOTH = "/bench/together?piece=1.1&piece=2.1"

SETTINGS = [
    ("100", ["1/1 Mat 1: bottom", "2/1 Mat: right, top, left, bottom"]),
    ("80", ["1/1 Mat 1: top"]),
    ("90", ["1/1 Mat 1: right, left", "1/1 Mat 2: top"]),
    ("100", ["1/1 Mat 2: right, left"]),
    ("110", ["1/1 Mat 2: bottom"]),
]
"""By hand. The worked piece alone is set to 100, 80, 90, 100, 110; the single mat wants 100 and takes the first."""


def taken(store: Store, typed: dict[str, str]) -> int:
    """An order of one piece; returns its id."""
    order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), typed, SHOP, ACT)
    progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), ACT)
    return order


@pytest.fixture
def two(counter: Counter, stocked: Store) -> Counter:
    """Orders 1 and 2: the worked piece with two mats, and a linocut with one."""
    with_cutters(stocked, PINNED)
    assert (taken(stocked, TYPED), taken(stocked, SINGLE)) == (1, 2)
    return counter


def lines(page: Shown) -> list[tuple[str, list[str]]]:
    """Of each setting its figure and what is cut there, the pieces by the ends of their numbers."""
    found = []
    for part in page.each("together-setting"):
        at = [words(each) for each in part.iter() if each.get("class") == "setting-at"]
        cuts = [words(each) for each in part.iter() if each.get("class") == "together-words"]
        if at:
            found.append(
                (at[0], [_short(cut) for cut in cuts if ": " in cut and "fallout in" not in cut])
            )
    return found


def _short(line: str) -> str:
    return re.sub(r"^\d{4}-0*(\d+/\d) (?:Harbour at dusk|Linocut) ", r"\1 ", line)


def press(counter: Counter, at: str, address: str = BOTH) -> Shown:
    """Press the box of an element, as it stands on the page, and look at the page after."""
    page = counter.get(address)
    action = address.replace("/together?", "/together/steps?")
    answer = counter.post(action, page.form(action, at=at))
    assert answer.status == 303, answer.main
    assert answer.location == f"{address}#{at}"
    return counter.get(address)


# --- the list ---------------------------------------------------------------------------------


def test_the_pieces_are_cut_by_setting_as_worked_by_hand(two: Counter) -> None:
    page = two.get(BOTH)
    assert lines(page) == SETTINGS
    assert "5 guide settings instead of 6 piece by piece." in page.main
    assert "No order has fewer." in page.main
    assert "pin 90 , then 10 on the scale" in page.words(id="setting-1")


def test_the_pieces_are_named_with_what_is_fetched_for_them(two: Counter) -> None:
    """The linocut's mat is 100 + 400 + 100 wide and 100 + 300 + 100 high (G4)."""
    pieces = two.get(BOTH).words("together-pieces")
    assert "mat 1: Chalk white (M-101), 600 × 500 mm" in pieces
    assert "mat 2: Slate blue (M-140), 594 × 494 mm" in pieces
    assert "mat: Chalk white (M-101), 600 × 500 mm" in pieces


def test_a_caution_about_the_blade_stands_before_the_first_cut(two: Counter) -> None:
    assert "blade" in two.get(BOTH).words(id="do-size")


def test_marks_are_drawn_of_the_piece_that_is_asked_for(two: Counter) -> None:
    page = two.get(BOTH)
    assert not page.has(id="marks")
    shown = two.get(f"{BOTH}&marks=2.1")
    assert "Marks of 2026-0002/1" in shown.words(id="marks")
    assert [part.get("id") for part in shown.each("mat-marks")] == ["marks-1"]


def test_a_piece_is_left_out_by_a_link(two: Counter) -> None:
    page = two.get(two.get(BOTH).links("together-pieces")["Leave out 2026-0001/1"])
    assert lines(page) == [("100", ["2/1 Mat: right, top, left, bottom"])]
    assert "1 guide setting." in page.main


def test_several_that_are_alike_are_counted(counter: Counter, stocked: Store) -> None:
    taken(stocked, SINGLE | {"copies": "20"})
    taken(stocked, SINGLE)
    page = counter.get(BOTH)
    assert "Linocut 20 of these" in page.words("together-pieces")
    assert "All 21 boards are cut at 100" in page.words(id="setting-1")


# --- boxes ------------------------------------------------------------------------------------


def test_a_box_is_the_step_of_the_piece(two: Counter) -> None:
    """The piece alone visits 100 twice; its second visit, of the under mat, is the fourth setting here."""
    page = press(two, "at-4-1-1-mat-2-cut-2")
    assert ticked(page) == ["at-4-1-1-mat-2-cut-2"]
    assert ticked(two.get("/orders/1/pieces/1")) == ["mat-2-cut-2"]
    assert ticked(two.get("/orders/2/pieces/1")) == []


def test_a_step_ticked_on_the_page_of_the_piece_is_ticked_here(two: Counter) -> None:
    tick(two, "/orders/2/pieces/1", "mat-1-cut-1")
    assert ticked(two.get(BOTH)) == ["at-1-2-1-mat-1-cut-1"]


def test_all_cuts_of_a_setting_are_ticked_at_once_and_taken_back(two: Counter) -> None:
    page = press(two, "setting-1")
    assert "setting-1" in ticked(page)
    assert ticked(two.get("/orders/1/pieces/1")) == ["mat-1-cut-1"]
    assert ticked(two.get("/orders/2/pieces/1")) == ["mat-1-cut-1"]
    page = press(two, "setting-1")
    assert ticked(page) == []
    assert ticked(two.get("/orders/1/pieces/1")) == []


def test_some_of_a_setting_are_shown_as_some_and_the_rest_is_ticked(two: Counter) -> None:
    page = press(two, "at-1-1-1-mat-1-cut-1")
    assert page.one(id="tick-setting-1").get("aria-checked") == "mixed"
    press(two, "setting-1")
    record = two.get("/orders/1/pieces/1").words("history")
    assert record.count("mat 1 bottom") == 1


def test_two_phones_do_not_conflict_and_a_tick_twice_is_one(two: Counter, clock: Clock) -> None:
    """Both send the form that they were shown before either ticked."""
    action = BOTH.replace("/together?", "/together/steps?")
    form = two.get(BOTH).form(action, at="setting-1")
    other = two.get(BOTH).form(action, at="at-1-1-1-mat-1-cut-1")
    for sent in (form, other, form):
        clock.time += timedelta(minutes=1)
        assert two.post(action, sent).status == 303
    assert ticked(two.get("/orders/1/pieces/1")) == ["mat-1-cut-1"]
    assert two.get("/orders/1/pieces/1").words("history").count("mat 1 bottom") == 1


def test_with_a_script_the_steps_alone_are_renewed(two: Counter) -> None:
    action = BOTH.replace("/together?", "/together/steps?")
    form = two.get(BOTH).form(action, at="setting-1")
    answer = two.post(action, form, **{"x-partial": "1"})
    assert answer.status == 200  # of 2 pieces 11 and 4 steps
    assert not answer.has(tag="h1")
    assert "2 of 15 steps" in answer.words(id="done")


def test_blanks_and_marks_are_ticked_too(two: Counter) -> None:
    press(two, "do-size")
    press(two, "at-mark-2-1-mats-mark")
    assert ticked(two.get("/orders/2/pieces/1")) == ["mats-size", "mats-mark"]
    assert ticked(two.get("/orders/1/pieces/1")) == ["mats-size"]


def test_a_piece_that_is_left_out_keeps_what_is_done(two: Counter) -> None:
    press(two, "setting-1")
    press(two, "at-2-1-1-mat-1-cut-2")
    one = "/bench/together?piece=2.1"
    assert ticked(two.get(one)) == ["at-1-2-1-mat-1-cut-1"]
    assert ticked(two.get("/orders/1/pieces/1")) == ["mat-1-cut-1", "mat-1-cut-2"]


# --- changes while the page is open -----------------------------------------------------------


def changed(counter: Counter, **typed: str) -> None:
    """Change the linocut."""
    page = counter.get("/orders/2/pieces/1/change")
    values = {name.replace("__", "."): value for name, value in typed.items()}
    piece = "/orders/2/pieces/1"
    counter.change(piece, page.form(piece) | values | {"action": "save"})


def test_a_piece_that_is_changed_says_so_at_its_step(two: Counter) -> None:
    press(two, "setting-1")
    changed(two, borders__left="90", borders__top="90", borders__bottom="90")
    page = two.get(BOTH)
    line = page.words(id="at-3-2-1-mat-1-cut-1")
    assert (
        "Changed since it was ticked, so it is open again. Then it said: Set the guide to 100 (pin 90, then 10 on the scale)"
        in line
    )


def test_a_box_of_before_a_change_ticks_nothing(two: Counter) -> None:
    action = BOTH.replace("/together?", "/together/steps?")
    form = two.get(BOTH).form(action, at="setting-1")
    changed(two, borders__left="90", borders__top="90", borders__bottom="90")
    answer = two.post(action, form)
    assert answer.status == 409
    assert "was changed since this page was opened, and nothing was ticked" in answer.main
    assert ("90", ["1/1 Mat 1: right, left", "1/1 Mat 2: top"]) not in lines(answer)
    assert ticked(two.get("/orders/1/pieces/1")) == []


def test_a_piece_that_left_the_work_meanwhile_is_named(two: Counter) -> None:
    action = BOTH.replace("/together?", "/together/steps?")
    form = two.get(BOTH).form(action, at="setting-1")
    do(two, "/orders/2/pieces/1", "stage", stage="cancelled")
    answer = two.post(action, form)
    assert answer.status == 409
    assert "The piece is “cancelled”" in answer.main
    assert "2026-0002/1 Linocut is cancelled." in answer.main
    assert ticked(two.get("/orders/1/pieces/1")) == []


def test_a_new_scale_moves_the_settings_and_keeps_the_ticks(two: Counter, stocked: Store) -> None:
    press(two, "at-1-2-1-mat-1-cut-1")
    with_cutters(stocked, replace(PINNED, guide_correction=mm("0.5")))
    page = two.get(BOTH)
    assert [at for at, _ in lines(page)] == ["100.5", "80.5", "90.5", "100.5", "110.5"]
    assert "Changed since it was ticked" in page.words(id="at-1-2-1-mat-1-cut-1")


BOTH_SCALES = replace(PINNED, scales=(PINNED.scale, Scale(unit=Unit.IN, step=inches("1/8"))))
"""Eighths of an inch, 3.175 mm, beside half millimetres."""

IN_INCHES = SINGLE | {
    "unit": "in",
    "artwork.size": "16 x 12 in",
    "borders.left": "4",
    "borders.top": "4",
    "borders.bottom": "4 1/16",
    "borders.right": "3 15/16",
}


def test_steps_of_a_ticket_on_the_other_scale_go_by_their_cuts(
    counter: Counter, stocked: Store
) -> None:
    """Alone it is cut at eighths: 4 in for the left and the top, and half-way goes up, 4 for 3 15/16 and 4 1/8 for
    4 1/16: two steps. Among others in millimetres it is 101.5 (4 in is 101.6), 103 (103.1875) and 100 (100.0125): the
    step of three edges has its box at the last of them.
    """
    with_cutters(stocked, BOTH_SCALES)
    taken(stocked, IN_INCHES)
    taken(stocked, SINGLE)
    page = counter.get(BOTH)
    mine = {at: [cut for cut in cuts if cut.startswith("1/1")] for at, cuts in lines(page)}
    assert mine == {
        "103": ["1/1 Mat: bottom"],
        "101.5": ["1/1 Mat: right, top"],
        "100": ["1/1 Mat: left"],
    }
    assert (
        "This list is read on the scale in millimetres of Bench cutter; the ticket of 2026-0001/1 is in inches."
        in page.main
    )
    assert "The scale of “Bench cutter” is in mm and the ticket in inches" not in page.main
    boxes = [
        str(box.get("id")) for box in page.each("tickbox") if "-1-1-mat-1-cut" in str(box.get("id"))
    ]
    assert boxes == ["tick-at-1-1-1-mat-1-cut-1", "tick-at-3-1-1-mat-1-cut-2"]
    assert "The rest of this step is cut at setting 3; its box to tick is there." in page.words(
        id="setting-2"
    )
    press(counter, "at-3-1-1-mat-1-cut-2")
    assert ticked(counter.get("/orders/1/pieces/1")) == ["mat-1-cut-2"]


def test_a_ticket_that_the_cutter_has_no_scale_for_is_said_so(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, PINNED)
    taken(stocked, IN_INCHES)
    taken(stocked, SINGLE)
    page = counter.get(BOTH)
    assert "The scale of “Bench cutter” is in mm and the ticket in inches" in page.main
    assert "This list is read on the scale" not in page.main


def test_an_edge_beyond_the_guide_is_a_line_to_draw_and_says_the_unit_of_its_ticket(
    counter: Counter, stocked: Store
) -> None:
    """By hand: the guide reaches 102, the bottom of 4 1/16 in is 103.1875 mm and no setting of it."""
    with_cutters(stocked, replace(BOTH_SCALES, guide_reach=mm(102)))
    taken(stocked, IN_INCHES)
    taken(stocked, SINGLE)
    page = counter.get(BOTH)
    assert "103" not in [at for at, _ in lines(page)]
    assert "draw this line and cut it, bottom at" in page.main
    assert "from the bottom edge, on a slip sheet (inches)" in page.main


# --- what is left out, and what cannot be read ------------------------------------------------


def test_pieces_that_are_not_to_be_cut_are_named_and_left_out(two: Counter, stocked: Store) -> None:
    quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    taken(stocked, UNMATTED)
    taken(stocked, TYPED)
    do(two, "/orders/5/pieces/1", "stage", stage="cut")
    page = two.get(f"{BOTH}&piece=3.1&piece=4.1&piece=5.1&piece=1.7&piece=99.1")
    assert lines(page) == SETTINGS
    for said in (
        "Harbour at dusk is not ordered yet.",
        "2026-0003/1 On the stretcher has no mat.",
        "2026-0004/1 Harbour at dusk is cut already.",
        "2026-0001 has no piece 7.",
        "99",
    ):
        assert said in page.main


@pytest.mark.parametrize("named", ["abc", "0.1", "1.0", "-1.1", "1", "1.1.1", "", "9" * 30 + ".1"])
def test_what_names_no_piece_is_said(two: Counter, named: str) -> None:
    page = two.get(f"{BOTH}&piece={named}")
    assert page.status == 200
    assert "names no piece." in page.main
    assert lines(page) == SETTINGS


def test_the_same_piece_twice_is_there_once(two: Counter) -> None:
    assert lines(two.get(f"{BOTH}&piece=1.1&piece=2.1")) == SETTINGS


def test_nothing_that_can_be_cut_leads_to_the_choice(two: Counter) -> None:
    page = two.get("/bench/together?piece=abc&piece=99.1")
    assert page.status == 200
    assert "“abc” names no piece." in page.main
    assert page.heading == "Cut mats together"


def test_more_pieces_than_a_bench_holds_are_left_out_in_words(
    counter: Counter, stocked: Store
) -> None:
    for _ in range(42):
        taken(stocked, SINGLE)
    page = counter.get("/bench/together?" + "&".join(f"piece={n}.1" for n in range(1, 43)))
    assert (
        "At most 40 pieces are cut together; 2026-0041/1 Linocut is left for the next time."
        in page.main
    )
    assert "1 guide setting instead of 40 piece by piece." in page.main
    many = counter.get("/bench/together?" + "&".join(f"piece={n}.7" for n in range(1, 400)))
    assert "The address names 399 pieces; only the first 200 were looked at." in many.main


def test_a_list_that_is_too_long_for_one_paper_says_so(
    two: Counter, monkeypatch: pytest.MonkeyPatch, made_here: None
) -> None:
    monkeypatch.setattr(together, "MOST_ROWS", 5)
    answer = two.get(BOTH.replace("/together?", "/together/list.pdf?"))
    assert answer.status == 409
    assert "lines of work; one paper takes at most 5. Print it for fewer pieces" in answer.main
    assert "Setting 1" in answer.main


def test_a_form_that_names_no_step_ticks_nothing(two: Counter) -> None:
    action = BOTH.replace("/together?", "/together/steps?")
    for steps in ("", "abc", "1.1/", "1.1/mat-9-cut-1", "99.1/mats-size", "1.9/mats-size"):
        answer = two.post(action, {"steps": steps, "said": "", "ticked": "1"})
        assert answer.status == 409, steps
    assert ticked(two.get(BOTH)) == []


# --- ways there -------------------------------------------------------------------------------


def test_pieces_are_chosen_by_boxes(two: Counter, stocked: Store) -> None:
    taken(stocked, UNMATTED)
    page = two.get("/bench/together/choose?piece=2.1")
    boxes = [box for box in page.each(tag="input") if box.get("type") == "checkbox"]
    ticked = {box.get("value"): box.get("checked") is not None for box in boxes}
    assert ticked == {"1.1": False, "2.1": True}
    assert "Chalk white (M-101), Slate blue (M-140)" in page.main


def test_the_desk_leads_to_the_mats_of_the_orders_that_are_ticked(two: Counter) -> None:
    page = two.get("/")
    orders = [box.get("value") for box in page.each(tag="input") if box.get("name") == "order"]
    assert sorted(filter(None, orders)) == ["1", "2"]
    assert "Cut mats together" in page.buttons("/bench/together")
    answer = two.get("/bench/together?order=1&order=2&order=77&order=x")
    assert (answer.status, answer.location) == (303, BOTH)


def test_the_bench_page_of_a_piece_leads_to_others(two: Counter) -> None:
    links = two.get("/orders/2/pieces/1").links()
    assert links["Cut with others"] == "/bench/together/choose?piece=2.1"


def test_a_cutting_plan_leads_to_the_mats_of_its_pieces(two: Counter, stocked: Store) -> None:
    asked = [
        problem for problem in problems_for(stocked) if isinstance(problem.asked, SheetProblem)
    ]
    plans.keep_plan(stocked, [simple_sheet_plan(problem.asked) for problem in asked], ACT)
    links = two.get("/plans/1").links()
    assert sorted(links["Cut its mats together"].partition("?")[2].split("&")) == [
        "piece=1.1",
        "piece=2.1",
    ]


def test_nothing_to_choose_says_so(counter: Counter) -> None:
    assert "No mat waits to be cut" in counter.get("/bench/together").main


def test_what_names_no_order_in_an_address_is_said(two: Counter) -> None:
    page = two.get(two.get("/bench/together?order=abc").location)
    assert "“abc” names no order and is left out." in page.text
