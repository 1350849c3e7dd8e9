"""The steps on a piece's page: what is set and cut, boxes to tick, and the stage that a tick offers."""

from dataclasses import replace
from datetime import timedelta

import pytest

from app.bench import Cutter, usual_cutter
from app.lengths import Unit, mm, parse_length
from app.orders.step_ticks import Tick
from app.services import bench, orders, quotes
from app.services import shop as shops
from app.services.bench import PieceAt
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.cutters import with_pins
from tests.builders.worked import SHOP, TYPED
from tests.cases import case
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_limits_at_the_counter import with_cutters
from tests.web.test_orders import do

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)

PINNED = with_pins(usual_cutter(Unit.MM, name="Bench cutter"), first=mm(10), pitch=mm(20))
"""Holes at 10, 30, 50, 70, 90, 110 …"""

LAST_CUT, LAST = "frame-1-rails-left-right", "label"

STEPS = [
    "mats-size",
    "mats-mark",
    "mat-1-cut-1",
    "mat-1-cut-2",
    "mat-1-cut-3",
    "mat-1-drop",
    "mat-2-fix",
    "mat-2-cut-1",
    "mat-2-cut-2",
    "mat-2-cut-3",
    "mat-2-drop",
    "glazing-cut",
    "backing-cut",
    "frame-1-rails-top-bottom",
    LAST_CUT,
    "frame-1-join",
    "artwork-place",
    "fit",
    "hang",
    LAST,
]
"""The order of work of the piece of `tests.builders.worked` (B6)."""

SETTINGS = [
    ("100", "pin 90 , then 10 on the scale", "mat 1: bottom"),
    ("80", "pin 70 , then 10 on the scale", "mat 1: top"),
    ("90", "pin 90", "mat 1: right, left mat 2: top"),
    ("100", "pin 90 , then 10 on the scale", "mat 2: right, left"),
    ("110", "pin 110", "mat 2: bottom"),
]
"""By hand. Borders 90, 90, 80, 100 and 100, 100, 90, 110. The under mat is fixed behind the cut top
one, so nothing of it is cut before the top one is done: three settings and three, of which the last of
the one, 90, is the first of the other. From the far end at 200 that is 100, 80, 90, 100, 110; way:
100 + 20 + 10 + 10 + 10 = 150. Edges as they lie, back up: what is left in front lies right (G10)."""


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    with_cutters(stocked, PINNED)
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    do(counter, address, "take", deposit="50", due="2026-12-10")
    return f"{address}/pieces/1"


def tick(counter: Counter, piece: str, *steps: str) -> Shown:
    """Press the box of each step, as it stands on the page, and look at the page after."""
    for step in steps:
        page = counter.get(piece)
        answer = counter.post(f"{piece}/steps", page.form(f"{piece}/steps", step=step))
        assert (answer.status, answer.location) == (303, f"{piece}#step-{step}")
    return counter.get(piece)


def ticked(page: Shown) -> list[str]:
    return [
        (box.get("id") or "").removeprefix("tick-")
        for box in page.each("tickbox")
        if box.get("aria-checked") == "true"
    ]


def ids(page: Shown) -> list[str]:
    return [(step.get("id") or "").removeprefix("step-") for step in page.each("workstep")]


def settings(page: Shown) -> list[tuple[str, str, str]]:
    """(figure, pin and rest, what is cut) of the panel."""
    rows = []
    for row in page.each("setting-row"):
        parts = {name: words(part) for part in row.iter() if (name := part.get("class") or "")}
        cuts = [words(part) for part in row.iter() if part.get("class") == "setting-cuts"]
        rows.append((parts["setting-at"], parts.get("setting-pin", ""), " ".join(cuts)))
    return rows


def test_the_steps_stand_in_the_order_of_the_work(counter: Counter, order: str) -> None:
    page = counter.get(order)
    assert ids(page) == STEPS
    assert ticked(page) == []
    assert "0 of 20 steps" in page.words("bench-bar")
    assert "Next: Cut the blanks to size, mat 1: 600 × 500 mm" in page.words("bench-bar")


def test_the_guide_is_set_as_worked_by_hand(counter: Counter, order: str) -> None:
    page = counter.get(order)
    assert settings(page) == SETTINGS
    assert "5 guide settings" in page.main
    assert "travels" not in page.main, "of no use to who sets it"


def test_a_cutting_step_says_its_setting_large(counter: Counter, order: str) -> None:
    step = counter.get(order).words(id="step-mat-2-cut-3")
    assert "Set the guide: mat 2 bottom, on a slip sheet guide at 110 pin 110 check" in step
    # 110 / 25.4 = 4.3307 in; × 32 = 138.58, so 139/32
    assert "check 4 11/32 in" in step


def test_a_step_says_its_parts_with_the_other_unit_as_a_check(counter: Counter, order: str) -> None:
    """600 / 25.4 = 23.622 in, × 32 = 755.9: 23 5/8; 500 / 25.4 = 19.685, × 32 = 629.9: 19 11/16."""
    assert (
        "Cut the glazing, dull the edges glazing: 600 × 500 mm check 23 5/8 × 19 11/16 in"
        in counter.get(order).words(id="step-glazing-cut")
    )


def test_what_drops_out_is_kept_and_of_which_board(counter: Counter, order: str) -> None:
    page = counter.get(order)
    assert "keep 420 × 320 of Chalk white (M-101)" in page.words(id="step-mat-1-drop")
    assert "keep 400 × 300 of Slate blue (M-140)" in page.words(id="step-mat-2-drop")


def test_equal_fallouts_of_several_windows_stand_together(counter: Counter, stocked: Store) -> None:
    """Three windows of 110 - 10 = 100 by 160 - 10 = 150 (G1), and of the top mat 20 more; the shop
    keeps what 150 × 100 goes into."""
    typed = TYPED | {"artwork.size": "110 x 160", "windows.count": "3"}
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), typed, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert "keep 3 pieces 120 × 170 of Chalk white (M-101)" in page.words(id="step-mat-1-drop")
    assert "keep 3 pieces 100 × 150 of Slate blue (M-140)" in page.words(id="step-mat-2-drop")


def test_what_is_too_small_to_keep_drops_out_unnamed(counter: Counter, stocked: Store) -> None:
    """105 - 10 = 95 wide: less than 100."""
    typed = TYPED | {"artwork.size": "105 x 160", "windows.count": "3"}
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), typed, SHOP, ACT)}"
    )
    dropped = counter.get(f"{address}/pieces/1").words(id="step-mat-2-drop")
    assert "keep" not in dropped
    assert "3 × fallout: 95 × 150 mm" in dropped


def test_marks_say_line_start_and_end_of_every_cut_as_the_board_lies(
    counter: Counter, order: str
) -> None:
    """By hand: back up, the border left of the front lies right; pulled, a cut at the left edge comes
    from the next edge clockwise, the top."""
    marks = counter.get(order).one(id="marks-1")
    rows = [
        [words(cell) for cell in row.iter("td")] for body in marks.iter("tbody") for row in body
    ]
    assert rows == [
        ["right", "90", "100 from the bottom", "80 from the top"],
        ["top", "80", "90 from the right", "90 from the left"],
        ["left", "90", "80 from the top", "100 from the bottom"],
        ["bottom", "100", "90 from the left", "90 from the right"],
    ]


def works_here(store: Store, name: str) -> None:
    kept = shops.get(store)
    shops.save(store, replace(kept.value, people=(name,)), kept.version, ACT)


@pytest.mark.parametrize(
    "sent",
    ["Bob", "bo", "", "Bo%00", "Bo%0A", "%1B[31mBo", "B" * 5000, "%F0%9F", "Bo,Ilse", "%00" * 3000],
    ids=lambda sent: sent[:12] or "none",
)
def test_a_tick_of_nobody_the_shop_knows_bears_no_name(
    counter: Counter, order: str, stocked: Store, sent: str
) -> None:
    works_here(stocked, "Bo")
    counter.client.cookies.set("bevelbook_who", sent)
    page = tick(counter, order, "mats-size")
    assert "Wed 25 Nov 2026, 10:30 Fresh blade" in page.words(id="step-mats-size")
    assert page.fields["who"] == ""


def test_a_tick_stands_with_who_and_when_and_the_work_goes_on(
    counter: Counter, order: str, clock: Clock, stocked: Store
) -> None:
    works_here(stocked, "Bo")
    counter.client.cookies.set("bevelbook_who", "Bo")
    page = tick(counter, order, "mats-size", "mats-mark")
    assert ticked(page) == ["mats-size", "mats-mark"]
    assert "Wed 25 Nov 2026, 10:30, Bo" in page.words(id="step-mats-size")
    assert "2 of 20 steps" in page.words("bench-bar")
    assert "Next: Set the guide to 100" in page.words("bench-bar")


def test_a_tick_is_taken_back_by_the_same_box_and_stays_in_the_record(
    counter: Counter, order: str, clock: Clock
) -> None:
    tick(counter, order, "fit")
    clock.time += timedelta(minutes=5)
    page = tick(counter, order, "fit")
    assert ticked(page) == []
    record = [words(line) for line in page.one("history").iter("strong")]
    assert len(record) == 2
    assert record[0].startswith("Undone: Clean both faces")


def test_in_place_only_the_steps_come_back(counter: Counter, order: str) -> None:
    form = counter.get(order).form(f"{order}/steps", step="fit")
    answer = counter.post(f"{order}/steps", form, **{"x-partial": "1"})
    assert answer.status == 200
    assert ticked(answer) == ["fit"]
    assert not answer.has(tag="main")
    assert answer.one(id="steps").get("data-swap") is not None


def test_two_phones_tick_side_by_side(counter: Counter, order: str) -> None:
    """Each from a page that knows nothing of the other's tick."""
    page = counter.get(order)
    for step in ("mats-size", "glazing-cut"):
        counter.go(f"{order}/steps", page.form(f"{order}/steps", step=step))
    assert ticked(counter.get(order)) == ["mats-size", "glazing-cut"]
    counter.go(f"{order}/stage", page.form(f"{order}/stage", stage="cut"))


def test_the_last_cutting_step_offers_that_all_is_cut(counter: Counter, order: str) -> None:
    page = tick(counter, order, *STEPS[:14])
    assert not page.has("offer")
    page = tick(counter, order, LAST_CUT)
    assert page.words("offer") == "Mark cut"
    assert page.buttons(f"{order}/stage").count("Mark cut") == 1
    moved = counter.go(f"{order}/stage", page.form(f"{order}/stage", stage="cut"))
    assert "cut" in moved.words("stage")
    assert not moved.has("offer")
    assert ticked(moved) == STEPS[:15]


def test_what_is_still_open_is_said_beside_the_offer(counter: Counter, order: str) -> None:
    page = tick(counter, order, *STEPS[:12], *STEPS[13:15])
    assert page.words("offer") == "1 cutting step is still open. Mark cut"


def test_the_last_step_of_all_offers_framed_once_the_piece_is_cut(
    counter: Counter, order: str
) -> None:
    page = tick(counter, order, *STEPS)
    assert [words(offer) for offer in page.each("offer")] == ["Mark cut"]
    page = counter.go(f"{order}/stage", page.form(f"{order}/stage", stage="cut"))
    assert [words(offer) for offer in page.each("offer")] == ["Mark finished"]
    assert "All done." in page.words("bench-bar")
    framed = counter.go(f"{order}/stage", page.form(f"{order}/stage", stage="framed"))
    assert ticked(framed) == STEPS


def test_a_stage_moved_from_elsewhere_loses_no_tick(counter: Counter, order: str) -> None:
    tick(counter, order, "mats-size")
    do(counter, order.rpartition("/pieces")[0], "pieces/1/stage", stage="cut")
    page = counter.get(order)
    assert ticked(page) == ["mats-size"]
    assert ticked(tick(counter, order, "fit")) == ["mats-size", "fit"]


def test_a_piece_changed_since_says_so_at_the_steps_that_changed(
    counter: Counter, order: str, stocked: Store
) -> None:
    """A border of 95, at the right as well, makes the blank 610, so that it is to be cut again; the label is as it was."""
    tick(counter, order, "mats-size", LAST)
    number = int(order.split("/")[2])
    kept = orders.get(stocked, number)
    wider = quotes.worked_out(stocked, TYPED | {"borders.left": "95"}, SHOP, today=NOW.date())
    orders.replace_piece(stocked, OrderAt(id=number, version=kept.version), 1, wider, ACT)
    page = counter.get(order)
    assert ticked(page) == [LAST]
    assert page.words(id="done").startswith("1 of ")
    assert "Next: Cut the blanks to size, mat 1: 610 × 500 mm" in page.words("bench-bar")
    changed = page.words(id="step-mats-size")
    assert "Changed since it was ticked, so it is open again." in changed
    assert (
        "Then it said: Cut the blanks to size, mat 1: 600 × 500 mm, mat 2: 594 × 494 mm" in changed
    )
    assert "1 × mat 1" not in changed
    tick(counter, order, "mats-size")
    page = counter.get(order)
    assert ticked(page) == ["mats-size", LAST]
    assert "Changed since" not in page.words(id="step-mats-size")
    assert "Changed since" not in page.words(id=f"step-{LAST}")


def test_a_quote_shows_its_steps_without_boxes(counter: Counter, stocked: Store) -> None:
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), TYPED, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert ids(page) == STEPS
    assert page.buttons(f"{address}/pieces/1/steps") == []
    assert not page.has("bench-bar")


@pytest.mark.parametrize("step", ["", "no-such-step", "mat-9-cut-1", "<b>", "x" * 10_000])
def test_a_step_that_there_is_not_is_said_on_the_page(
    counter: Counter, order: str, step: str
) -> None:
    answer = counter.post(f"{order}/steps", {"step": step, "ticked": "1"})
    assert answer.status == 409
    assert "has no step" in answer.words("error-summary")
    assert ids(answer) == STEPS


def test_a_collected_piece_is_not_ticked_any_more(counter: Counter, order: str) -> None:
    whole = order.rpartition("/pieces")[0]
    form = counter.get(order).form(f"{order}/steps", step="fit")
    for stage in ("cut", "framed"):
        do(counter, whole, "pieces/1/stage", stage=stage)
    do(counter, whole, "hand-over", action="owed")
    answer = counter.post(f"{order}/steps", form)
    assert answer.status == 409
    assert "The piece is “collected”" in answer.words("error-summary")
    assert counter.get(order).buttons(f"{order}/steps") == []


def test_a_piece_without_mats_has_no_guide_to_set(counter: Counter, stocked: Store) -> None:
    typed = {
        "artwork.size": "400 x 300",
        "presentation": "canvas",
        "frames.0.material": "LIN-20",
    }
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), typed, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert not page.has("setting-row")
    assert not page.has("mat-marks")
    assert ids(page)[0] == "frame-1-rails-top-bottom"


# --- two scales ---------------------------------------------------------------------------------


NEAREST = {"70": '2 3/4"', "80": '3 5/32"', "310": '12 7/32"'}
"""Handbook L3: 7 cm is 2 3/4 in plus 0.15 mm, 8 cm is 3 5/32 in less 0.17 mm, 31 cm 12 7/32 in less
0.36 mm."""


@pytest.mark.parametrize("row", range(3))
def test_a_check_value_is_never_the_round_figure_that_framers_read_as_its_equal(
    counter: Counter, stocked: Store, row: int
) -> None:
    """Source: case len-4 (common practice; the differences are arithmetic) and handbook L3."""
    pair = case("len-4")
    metric, imperial = pair.inputs["mm"][row], pair.inputs["in"][row]
    assert abs(mm(metric) - parse_length(imperial, unit=Unit.IN)) == mm(
        pair.expected["difference_mm"][row]
    )
    with_cutters(stocked, replace(PINNED, guide_reach=mm(400)))
    typed = TYPED | {
        "mats.1.material": "",
        "mats.1.reveal": "",
        "borders.left": metric,
        "borders.top": metric,
        "borders.bottom": metric,
    }
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), typed, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert [figure for figure, _, _ in settings(page)] == [metric]
    (check,) = {words(part) for part in page.each("setting-check")}
    assert check == f"check {NEAREST[metric].rstrip(chr(34))} in"
    assert check != f"check {imperial} in"


@pytest.mark.parametrize("row", range(3))
def test_a_scale_in_inches_is_set_in_inches_on_a_metric_ticket(
    counter: Counter, stocked: Store, row: int
) -> None:
    """Source: case len-4 and handbook L3: the nearest 1/32 in, not the round figure."""
    metric = case("len-4").inputs["mm"][row]
    scale = replace(usual_cutter(Unit.IN, name="Old cutter"), guide_reach=mm(400))
    with_cutters(stocked, scale)
    typed = TYPED | {"mats.1.material": "", "mats.1.reveal": ""}
    typed |= dict.fromkeys(("borders.left", "borders.top", "borders.bottom"), metric)
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), typed, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert [figure for figure, _, _ in settings(page)] == [NEAREST[metric].rstrip('"')]
    assert "The scale of “Old cutter” is in inches and the ticket in mm" in page.main
    assert "Old cutter, scale in inches." in page.main


def test_the_corrections_of_the_cutter_are_in_its_settings(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Half a millimetre more everywhere: 100.5, 80.5, 90.5, 100.5, 110.5."""
    corrected: Cutter = replace(PINNED, guide_correction=mm("0.5"))
    with_cutters(stocked, corrected)
    page = counter.get(order)
    assert [figure for figure, _, _ in settings(page)] == [
        "100.5",
        "80.5",
        "90.5",
        "100.5",
        "110.5",
    ]
    assert settings(page)[0][1] == "pin 90 , then 10.5 on the scale"
    assert "The correction of the guide, 0.5 mm, is in every setting already" in page.main
    assert "Bench cutter, scale in mm." in page.main


# --- what the stage says of the steps -----------------------------------------------------------


def by_stage(page: Shown) -> list[str]:
    """The steps that are shown as done by a stage."""
    return [
        (step.get("id") or "").removeprefix("step-")
        for step in page.each("workstep")
        if "workstep-passed" in (step.get("class") or "")
    ]


TO_CUT = [*STEPS[:15]]
"""All of them cut a part, or are marking and fixing behind, without which no mat could be cut."""


def move(counter: Counter, order: str, stage: str, **more: str) -> Shown:
    page = counter.get(order)
    return counter.go(f"{order}/stage", page.form(f"{order}/stage", stage=stage) | more)


def test_a_piece_that_is_cut_shows_the_steps_of_cutting_as_done_by_its_stage(
    counter: Counter, order: str, stocked: Store
) -> None:
    tick(counter, order, "mats-size", "fit")
    page = move(counter, order, "cut")
    assert ticked(page) == ["mats-size", "fit"]
    assert by_stage(page) == [step for step in TO_CUT if step != "mats-size"]
    assert "done, by the stage “cut” of Wed 25 Nov 2026, 10:30" in page.words(id="step-glazing-cut")
    assert "16 of 20 steps" in page.words("bench-bar")
    assert "Next: Join the frame" in page.words("bench-bar")
    # Nobody ticked them, and nothing is written that says so.
    ticks = bench.at_bench(stocked, PieceAt(order_id=1, number=1), SHOP).ticks
    assert [each.step for each in ticks] == ["mats-size", "fit"]


def test_a_piece_that_is_framed_has_every_step_done_until_that_is_taken_back(
    counter: Counter, order: str
) -> None:
    move(counter, order, "cut")
    page = move(counter, order, "framed")
    assert by_stage(page) == STEPS
    assert "by the stage “framed” of" in page.words(id="step-hang")
    assert "by the stage “cut” of" in page.words(id="step-glazing-cut")
    assert "All done." in page.words("bench-bar")
    page = counter.go(f"{order}/take-back", page.form(f"{order}/take-back"))
    assert by_stage(page) == TO_CUT
    page = counter.go(f"{order}/take-back", page.form(f"{order}/take-back"))
    assert by_stage(page) == []


def test_of_several_alike_a_stage_says_what_is_done_once_the_last_has_come_to_it(
    counter: Counter, stocked: Store
) -> None:
    order_id = quotes.save_new(
        stocked, CustomerRequest(name="Bo Reed"), TYPED | {"copies": "3"}, SHOP, ACT
    )
    do(counter, f"/orders/{order_id}", "take", deposit="50", due="2026-12-10")
    address = f"/orders/{order_id}/pieces/1"
    assert by_stage(move(counter, address, "cut", count="2")) == []
    assert by_stage(move(counter, address, "cut", count="")) == TO_CUT


def test_where_a_part_is_spoiled_the_stage_says_nothing_of_what_is_done(
    counter: Counter, order: str
) -> None:
    move(counter, order, "cut")
    page = counter.go(f"{order}/spoiled", {"spoiled.part": "glazing", "spoiled.note": ""})
    assert by_stage(page) == []
    page = counter.go(f"{order}/cut-anew", page.form(f"{order}/cut-anew"))
    assert by_stage(page) == TO_CUT


def test_a_tick_of_the_words_before_they_were_put_otherwise_stands_as_it_was(
    counter: Counter, order: str, stocked: Store
) -> None:
    """Blanks were once sized edge to edge, in words that ran name and figure together; the parts are the same."""
    parts = "; 1 × mat 1 600 × 500; 1 × mat 2 594 × 494"
    for words_then, changed in (
        (f"size edge to edge: mat 1 600 × 500, mat 2 594 × 494{parts}", False),
        (f"size edge to edge: mat 1 605 × 500, mat 2 594 × 494{parts.replace('600', '605')}", True),
    ):
        with stocked.writing() as work:
            old = Tick(step="mats-size", words=words_then, ticked=True, at=NOW, by="Ilse")
            work.ticks.add(1, (old,))
        shown = counter.get(order).words(id="step-mats-size")
        assert ("Changed since it was ticked" in shown) is changed


def test_a_step_says_its_figure_once_beside_what_is_done(counter: Counter, order: str) -> None:
    page = counter.get(order)
    for step, text, figure in (
        ("mats-size", "Cut the blanks to size mat 1: 600 × 500 mm", "600 × 500"),
        ("backing-cut", "Cut the backing backing: 600 × 500 mm", "600 × 500"),
        (
            LAST_CUT,
            "cut to the long point (short point 490), equal end to end 2 × frame rail: 530 mm",
            "530",
        ),
        ("frame-1-join", "Join the frame to its outside size, diagonals equal", "630 × 530"),
        (
            "mat-1-cut-1",
            "Set the guide: mat 1 bottom, on a slip sheet guide at 100 pin 90 , then",
            "100",
        ),
    ):
        shown = page.words(id=f"step-{step}")
        assert text in shown
        assert shown.count(figure) == 1
    # Once it is done its figures make room, and the sentence says them.
    assert "Cut the backing 600 × 500" in tick(counter, order, "backing-cut").words(
        id="step-backing-cut"
    )
