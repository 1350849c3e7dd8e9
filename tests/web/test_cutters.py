"""The shop's cutters on their pages: described, changed, put first, removed, corrected by a test cut."""

from dataclasses import replace

import pytest

from app.bench import Cutter, PinRow, Reads, Scale, Stroke, usual_cutter
from app.lengths import Length, Unit, inches, mm
from app.orders import Shop
from app.services import shop as shops
from app.storage import Store
from app.web.settings.cutters_page import cutter_card
from tests.web.shown import Counter, Shown, words
from tests.web.test_bench_page_steps import settings
from tests.web.test_limits_at_the_counter import with_cutters

pytestmark = pytest.mark.slow

LIST = "/settings/cutters"
BENCH = usual_cutter(Unit.MM, name="Bench cutter")
WALL = replace(usual_cutter(Unit.IN, name="Wall cutter"), cuts_ovals=True)


def shop_of(store: Store) -> Shop:
    return shops.get(store).value


def keep(counter: Counter, address: str, **typed: str) -> Shown:
    """The form of a cutter posted with some fields changed."""
    form = counter.get(address).form(address) | _by_path(typed)
    return counter.post(address, form | {"action": "save"})


SCALE = ("unit", "step", "pins__first", "pins__pitch")
"""The fields of the first scale, in few words."""


def _by_path(typed: dict[str, str]) -> dict[str, str]:
    whole = {f"scales.0.{name}" if name in SCALE else name: text for name, text in typed.items()}
    return {name.replace("__", "."): text for name, text in whole.items()}


# --- describing -------------------------------------------------------------------------------------


def test_until_one_is_described_the_usual_one_is_shown(counter: Counter) -> None:
    page = counter.get(LIST)
    assert "A usual cutter until you describe yours" in page.main
    assert page.facts["longest cut"] == "1016 mm"  # 40 in (handbook section 4)
    assert page.links()["Describe your cutter"] == f"{LIST}/new"
    assert page.links()["Cutters"] == LIST


def test_a_cutter_is_described_field_by_field(counter: Counter, stocked: Store) -> None:
    answer = keep(
        counter, f"{LIST}/new", name="Bench cutter", cut_length='32"', guide_reach="170", step="1",
        deepest_board="2,5", reads="face", stroke="push", pins__first="10", pins__pitch="20",
        guide_correction="-0.25", start_offset="1.5", end_offset="\N{MINUS SIGN}0.5", cuts_ovals="1",
    )  # fmt: skip
    assert (answer.status, answer.location) == (303, LIST)
    assert shop_of(stocked).cutters == (
        Cutter(
            name="Bench cutter",
            cut_length=inches(32),
            guide_reach=mm(170),
            scales=(Scale(unit=Unit.MM, step=mm(1), pins=PinRow(first=mm(10), pitch=mm(20))),),
            deepest_board=mm("2.5"),
            reads=Reads.FACE,
            stroke=Stroke.PUSH,
            guide_correction=mm("-0.25"),
            start_offset=mm("1.5"),
            end_offset=mm("-0.5"),
            cuts_ovals=True,
        ),
    )
    assert counter.get(LIST).facts["pins"] == "from 10 mm, every 20 mm"


def test_a_cutter_with_a_scale_in_inches_begins_in_inches(counter: Counter, stocked: Store) -> None:
    page = counter.get(f"{LIST}/new?unit=in")
    assert (page.fields["cut_length"], page.fields["scales.0.step"]) == ("40", "1/32")
    form = page.form(f"{LIST}/new") | {"name": "Wall cutter", "guide_reach": "7 1/2"}
    counter.go(f"{LIST}/new", form | {"action": "save"})
    (cutter,) = shop_of(stocked).cutters
    assert (cutter.unit, cutter.guide_reach) == (Unit.IN, inches("7.5"))


@pytest.mark.parametrize("cutter", [BENCH, WALL])
def test_a_cutter_kept_untouched_is_the_same(
    counter: Counter, stocked: Store, cutter: Cutter
) -> None:
    odd = replace(cutter, guide_correction=-inches("1/128"), start_offset=mm("0.0625"))
    with_cutters(stocked, odd)
    assert keep(counter, f"{LIST}/1").status == 303
    assert shop_of(stocked).cutters == (odd,)


def test_choosing_the_other_scale_does_not_change_what_the_numbers_mean(
    counter: Counter, stocked: Store
) -> None:
    """200 stays 200 mm; only the step must be one of the new scale, and is asked for."""
    with_cutters(stocked, BENCH)
    shown = keep(counter, f"{LIST}/1", unit="in")
    assert shown.status == 422
    assert "a scale in inches is read in steps such as 1/16" in shown.error("scales.0.step")
    assert keep(counter, f"{LIST}/1", unit="in", step='1/32"').status == 303
    (cutter,) = shop_of(stocked).cutters
    assert (cutter.unit, cutter.guide_reach, cutter.step) == (Unit.IN, mm(200), inches("1/32"))


def test_every_fault_stands_beside_its_field_and_what_was_typed_stays(
    counter: Counter, stocked: Store
) -> None:
    shown = keep(
        counter, f"{LIST}/new", name="", cut_length="", guide_reach="1e9", step="0",
        deepest_board="NaN", pins__first="10", guide_correction="11", start_offset="\N{FRAME WITH PICTURE}",
        end_offset="12 3/0",
    )  # fmt: skip
    assert shown.status == 422
    said = {
        path: shown.error(path)
        for path in (
            "name", "cut_length", "guide_reach", "scales.0.step", "deepest_board",
            "scales.0.pins.pitch",
            "guide_correction", "start_offset", "end_offset",
        )
    }  # fmt: skip
    assert all(said.values()), said
    assert "1e9" in said["guide_reach"]
    assert "11 mm" in said["guide_correction"]
    assert shown.fields["start_offset"] == "\N{FRAME WITH PICTURE}"
    assert shown.fields["end_offset"] == "12 3/0"
    assert shop_of(stocked).cutters == ()


@pytest.mark.parametrize(("pitch", "first", "missing"), [("10", "", "first"), ("", "10", "pitch")])
def test_holes_need_their_first_one_and_their_pitch(
    counter: Counter, stocked: Store, pitch: str, first: str, missing: str
) -> None:
    typed = {"name": "Bench cutter", "pins__first": first, "pins__pitch": pitch}
    shown = keep(counter, f"{LIST}/new", **typed)
    assert shown.status == 422
    faults = {path: shown.error(f"scales.0.pins.{path}") for path in ("first", "pitch")}
    assert "give both, or neither where there are none" in faults[missing]
    assert [path for path, fault in faults.items() if fault] == [missing]
    assert shop_of(stocked).cutters == ()


@pytest.mark.parametrize("text", ["0", "-3", "16x", "16 x 20 x 3", "9" * 10_000, "<b>5</b>"])
def test_a_length_that_cannot_be_one_is_quoted(counter: Counter, text: str) -> None:
    shown = keep(counter, f"{LIST}/new", name="Bench cutter", cut_length=text)
    assert shown.status == 422
    assert shown.error("cut_length")
    assert shown.fields["cut_length"] == text


def test_two_cutters_are_told_apart_by_their_names(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    shown = keep(counter, f"{LIST}/new", name="bench CUTTER")
    assert "There is a cutter called “bench CUTTER” already" in shown.error("name")
    assert keep(counter, f"{LIST}/1", name="Bench Cutter").status == 303


def test_a_shop_has_room_for_twelve(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, *(replace(BENCH, name=f"Cutter {n}") for n in range(12)))
    shown = keep(counter, f"{LIST}/new", name="One more")
    assert "at most 12" in shown.error("name")


def test_that_there_is_no_room_is_told_before_the_form_is_filled_in(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, *(replace(BENCH, name=f"Cutter {n}") for n in range(12)))
    page = counter.get(LIST)
    assert "The shop has 12 cutters; at most 12 are kept." in page.main
    assert f"{LIST}/new" not in page.links().values()
    page = counter.get(f"{LIST}/new")
    assert "The shop has 12 cutters; at most 12 are kept." in page.main
    assert "Save" not in page.buttons(f"{LIST}/new")


def test_a_name_that_is_markup_is_only_a_name(counter: Counter, stocked: Store) -> None:
    keep(counter, f"{LIST}/new", name="<script>alert(1)</script>")
    assert "<script>alert(1)" not in counter.get(LIST).text
    assert "<script>alert(1)</script>" in counter.get(LIST).main


# --- the list --------------------------------------------------------------------------------------


def test_another_cutter_is_put_first(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH, WALL)
    page = counter.get(LIST)
    counter.go(f"{LIST}/2/first", page.form(f"{LIST}/2/first"))
    assert shop_of(stocked).cutters == (WALL, BENCH)
    assert shop_of(stocked).cutter == WALL


def test_a_cutter_is_removed_after_it_was_asked(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH, WALL)
    asked = counter.get(f"{LIST}/1/remove")
    assert "Tickets then speak of Wall cutter." in asked.main
    assert shop_of(stocked).cutters == (BENCH, WALL)
    counter.go(f"{LIST}/1/remove", asked.form(f"{LIST}/1/remove"))
    assert shop_of(stocked).cutters == (WALL,)


def test_a_cutter_that_is_not_there_is_not_found(counter: Counter) -> None:
    for path in ("1", "1/remove", "1/test", "0", "x"):
        assert counter.get(f"{LIST}/{path}").status == 404


@pytest.mark.parametrize("act", ["first", "remove"])
def test_an_act_on_a_list_of_yesterday_does_nothing(
    counter: Counter, stocked: Store, act: str
) -> None:
    with_cutters(stocked, BENCH, WALL)
    answer = counter.post(f"{LIST}/2/{act}", {"version": "1"})
    assert answer.status == 409
    assert shop_of(stocked).cutters == (BENCH, WALL)


# --- two tabs --------------------------------------------------------------------------------------


def test_the_second_of_two_tabs_sees_both_and_can_keep_what_it_typed(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, WALL, BENCH)
    mine = counter.get(f"{LIST}/2").form(f"{LIST}/2") | {"guide_reach": "180", "action": "save"}
    keep(counter, f"{LIST}/2", guide_reach="190")
    answer = counter.post(f"{LIST}/2", mine)
    assert answer.status == 409
    assert "The guide goes up to 190 180" in answer.main
    counter.go(f"{LIST}/2", answer.form(f"{LIST}/2") | {"action": "save"})
    assert shop_of(stocked).cutters[1].guide_reach == mm(180)


def test_a_cutter_that_moved_in_the_meantime_is_found_by_its_name(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, BENCH, WALL)
    mine = counter.get(f"{LIST}/1").form(f"{LIST}/1") | {"guide_reach": "180", "action": "save"}
    with_cutters(stocked, WALL, BENCH)
    answer = counter.post(f"{LIST}/1", mine)
    counter.go(f"{LIST}/2", answer.form(f"{LIST}/2") | {"action": "save"})
    assert shop_of(stocked).cutters == (WALL, replace(BENCH, guide_reach=mm(180)))


def test_a_cutter_that_was_removed_in_the_meantime_can_be_kept_as_a_new_one(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, BENCH, WALL)
    mine = counter.get(f"{LIST}/1").form(f"{LIST}/1") | {"guide_reach": "180", "action": "save"}
    with_cutters(stocked, WALL)
    answer = counter.post(f"{LIST}/1", mine)
    counter.go(f"{LIST}/new", answer.form(f"{LIST}/new") | {"action": "save"})
    assert shop_of(stocked).cutters == (WALL, replace(BENCH, guide_reach=mm(180)))


# --- a test cut ------------------------------------------------------------------------------------

TEST = f"{LIST}/1/test"

BORDERS = {f"borders.{side}": "50.5" for side in ("left", "top", "right", "bottom")}
MEASURED = BORDERS | {
    "window.width": "139",
    "window.height": "99",
    "past_start.left": "1",
    "past_start.top": "1",
    "past_start.right": "0.5",
    "past_start.bottom": "0.5",
    "past_end.bottom": "-2",
}
"""By hand, of a board of 240 × 200 with borders of 50: 50.5 + 139 + 50.5 = 240, 50.5 + 99 + 50.5 = 200.
Half a millimetre too wide; starts 3 / 4 = 0.75 past corners 0.5 too far in, so 0.25 past those asked for; ends
2 / 4 = 0.5 short, so 1 short of those asked for."""


def compared(counter: Counter, **typed: str) -> Shown:
    form = counter.get(TEST).form(TEST) | MEASURED
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    return counter.post(TEST, form | changed | {"action": "compare"})


def changes(page: Shown) -> dict[str, list[str]]:
    """(now, corrected) of each figure."""
    rows = [row for body in page.one(id="found").iter("tbody") for row in body]
    return {words(row[0]): [words(row[1]), words(row[2])] for row in rows}


def test_a_test_mat_is_proposed_with_the_settings_to_cut_it_with(
    counter: Counter, stocked: Store
) -> None:
    """240 × 200 with 50 all round leaves 140 × 100; equal borders need one setting (B3)."""
    with_cutters(stocked, replace(BENCH, guide_correction=mm("-0.5")))
    page = counter.get(TEST)
    assert (page.fields["board"], page.fields["border"]) == ("240 × 200", "50")
    assert settings(page) == [("49.5", "", "mat: right, top, left, bottom")]
    assert "The window becomes 140 × 100 mm." in page.main
    assert not page.has(id="found")


def test_another_test_mat_shows_its_own_settings(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, WALL)
    form = counter.get(TEST).form(TEST) | {"border": "2 1/2", "action": "propose"}
    assert [figure for figure, _, _ in settings(counter.post(TEST, form))] == ["2 1/2"]


def test_the_corrections_stand_beside_the_cutter_with_their_reasons(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, replace(BENCH, guide_correction=mm(1)))
    page = compared(counter)
    assert page.status == 200
    assert changes(page) == {
        "Added to every setting": ["1 mm", "0.5 mm"],
        "The guide for this border": ["51 mm", "50.5 mm"],
        "Cuts begin past the corner by": ["0 mm", "−0.25 mm"],
        "Cuts end past the corner by": ["0 mm", "1 mm"],
    }
    assert "The borders came out 0.5 mm too wide on average" in page.main
    assert "so each is set 0.5 mm less" in page.main
    assert (
        "The cuts began 0.25 mm past the corners that were asked for on average (left +0.5 mm, "
        "right 0 mm, top +0.5 mm, bottom 0 mm), so they begin 0.25 mm later"
    ) in page.main
    assert "The cuts ended 1 mm short of the corners that were asked for" in page.main
    assert "so they end 1 mm later" in page.main
    assert "You measured from the corners as they were cut." in page.main
    assert "The cuts end up to 2 mm apart from each other" in page.main


def test_nothing_is_kept_until_it_is_said(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    page = compared(counter)
    assert shop_of(stocked).cutters == (BENCH,)
    counter.go(TEST, _keeping(page))
    assert shop_of(stocked).cutters == (
        replace(
            BENCH,
            guide_correction=mm("-0.5"),
            start_offset=mm("-0.25"),
            end_offset=mm(1),
        ),
    )


def _keeping(page: Shown) -> dict[str, str]:
    """The form that keeps the corrections."""
    found = page.one(id="found")
    return {field.get("name") or "": field.get("value") or "" for field in found.iter("input")} | {
        "action": "keep"
    }


def test_a_clean_test_cut_has_nothing_to_keep(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    clean = dict.fromkeys(
        ("past_start__left", "past_start__top", "past_start__right", "past_start__bottom",
         "past_end__bottom"), ""
    )  # fmt: skip
    fifty = {f"borders__{side}": "50" for side in ("left", "top", "right", "bottom")}
    page = compared(counter, **fifty, **clean, window__width="140", window__height="100")
    assert "there is nothing to correct" in page.main
    assert "Save the corrected cutter" not in page.buttons()


def test_less_than_half_a_step_is_said_to_change_little(counter: Counter, stocked: Store) -> None:
    """One border of four half a millimetre wide: 0.125 on average, a quarter of the scale's step."""
    with_cutters(stocked, BENCH)
    fifty = {f"borders__{side}": "50" for side in ("top", "right", "bottom")}
    page = compared(counter, **fifty, window__width="139.5", window__height="100")
    assert "less than half a step of its scale, 0.5 mm" in page.main
    assert changes(page)["Added to every setting"] == ["0 mm", "−0.125 mm"]


def test_what_was_not_measured_is_asked_for_at_its_field(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    page = compared(counter, borders__left="", window__width="16x", past_end__top="NaN")
    assert page.status == 422
    assert page.error("borders.left") == "Error: Type what was measured."
    assert "16x" in page.error("window.width")
    assert "NaN" in page.error("past_end.top")
    assert page.fields["borders.top"] == "50.5"
    assert settings(page), "the settings stay in sight"


def test_readings_that_do_not_add_up_are_not_worth_a_correction(
    counter: Counter, stocked: Store
) -> None:
    """50.5 + 136 + 50.5 = 237 on a board of 240."""
    with_cutters(stocked, BENCH)
    page = compared(counter, window__width="136")
    assert "237 mm together, and the board is 240 mm" in page.error("window.width")


def test_a_correction_past_ten_millimetres_is_no_correction(
    counter: Counter, stocked: Store
) -> None:
    """10 there are, and half a millimetre more that the test cut asks for."""
    with_cutters(stocked, replace(BENCH, guide_correction=mm(-10)))
    page = compared(counter)
    assert page.status == 422
    assert "no correction: look at the guide" in page.words("error-summary")


@pytest.mark.parametrize(
    ("typed", "path"),
    [({"board": "16x"}, "board"), ({"border": "100"}, "border"), ({"thickness": "0"}, "thickness")],
)
def test_a_test_mat_that_cannot_be_is_said_at_its_field(
    counter: Counter, stocked: Store, typed: dict[str, str], path: str
) -> None:
    with_cutters(stocked, BENCH)
    page = compared(counter, **typed)
    assert page.status == 422
    assert page.error(path)
    assert page.fields["borders.left"] == "50.5"


def test_a_test_mat_beyond_the_cutter_says_so(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    form = counter.get(TEST).form(TEST) | {"board": "1100 x 600", "action": "propose"}
    assert "longer than the cut length, 1016 mm" in counter.post(TEST, form).main


def test_a_cutter_changed_in_the_meantime_is_compared_once_more(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, BENCH)
    keeping = _keeping(compared(counter))
    other = replace(BENCH, guide_correction=mm(2))
    with_cutters(stocked, other)
    answer = counter.post(TEST, keeping)
    assert answer.status == 409
    assert "nothing was saved" in answer.words("error-summary")
    assert changes(answer)["Added to every setting"] == ["2 mm", "1.5 mm"]
    assert shop_of(stocked).cutters == (other,)
    counter.go(TEST, _keeping(answer))
    assert shop_of(stocked).cutter.guide_correction == mm("1.5")


@pytest.mark.parametrize(
    ("length", "unit", "said"),
    [
        (inches(47), Unit.MM, '1193.8 mm (47")'),  # 47 × 25.4 = 1193.8
        (inches(32), Unit.MM, '812.8 mm (32")'),  # 32 × 25.4 = 812.8
        (mm(1500), Unit.MM, "1500 mm"),
        (inches("481/8"), Unit.IN, '60 1/8"'),
    ],
)
def test_a_reach_is_said_as_its_maker_says_it(length: Length, unit: Unit, said: str) -> None:
    cutter = replace(usual_cutter(unit), cut_length=length)
    assert dict(cutter_card(1, cutter).facts)["longest cut"] == said
