"""Both scales, stops and squaring arm on the pages of a cutter, and what they do to a ticket at the bench."""

from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from app.bench import Scale, Stops, Stroke
from app.drawings import CUTTER_KEY
from app.lengths import Unit, inches, mm
from app.storage import Store
from tests.builders.cutters import HALVES, SIXTEENTHS, with_both_scales
from tests.web.shown import Counter, Shown
from tests.web.test_bench_page_steps import settings
from tests.web.test_cutters import BENCH, LIST, MEASURED, WALL, shop_of
from tests.web.test_first_run import ANSWERS
from tests.web.test_limits_at_the_counter import with_cutters

pytestmark = pytest.mark.slow

BOTH = with_both_scales(BENCH)
SECOND = {
    "scales.1.unit": "in",
    "scales.1.step": "1/16",
    "scales.1.pins.first": "1/2",
    "scales.1.pins.pitch": "1/2",
}
"""Bare numbers: those of the second scale are in the unit that the page is not in."""


def keep(counter: Counter, address: str, typed: dict[str, str]) -> Shown:
    form = counter.get(address).form(address) | typed
    return counter.post(address, form | {"action": "save"})


def test_a_second_scale_is_described_beside_the_first(counter: Counter, stocked: Store) -> None:
    first = {"scales.0.pins.first": "10", "scales.0.pins.pitch": "10"}
    answer = keep(counter, f"{LIST}/new", {"name": "Bench cutter", **first, **SECOND})
    assert (answer.status, answer.location) == (303, LIST)
    assert shop_of(stocked).cutters == (BOTH,)
    facts = counter.get(LIST).facts
    assert facts["scale"] == "mm, steps of 0.5 mm"
    assert facts["pins"] == "from 10 mm, every 10 mm"
    assert facts["second scale"] == 'inches, steps of 1/16"'
    assert facts["second pins"] == 'from 1/2", every 1/2"'


def test_without_a_word_of_a_second_scale_there_is_one(counter: Counter, stocked: Store) -> None:
    page = counter.get(f"{LIST}/new")
    assert page.fields["scales.1.unit"] == ""
    assert page.fields["scales.1.step"] == ""
    keep(counter, f"{LIST}/new", {"name": "Bench cutter"})
    assert shop_of(stocked).cutters == (BENCH,)


@pytest.mark.parametrize("first", list(Unit))
def test_a_cutter_with_all_of_it_kept_untouched_is_the_same(
    counter: Counter, stocked: Store, first: Unit
) -> None:
    stops = Stops(near=True, far=True, near_correction=mm("-0.25"), far_correction=inches("1/64"))
    cutter = replace(BOTH.read_in(first), stops=stops, arm_reach=mm(1100))
    with_cutters(stocked, cutter)
    shown = keep(counter, f"{LIST}/1", {})
    assert shown.status == 303, shown.words("error-summary")
    assert shop_of(stocked).cutters == (cutter,)


def test_a_second_scale_is_taken_away_by_emptying_its_fields(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, BOTH)
    assert keep(counter, f"{LIST}/1", dict.fromkeys(SECOND, "")).status == 303
    assert shop_of(stocked).cutters == (replace(BOTH, scales=(HALVES,)),)


def test_stops_and_the_squaring_arm_are_described(counter: Counter, stocked: Store) -> None:
    typed = {
        "stops.near": "1",
        "stops.far": "1",
        "stops.near_correction": "-0.5",
        "stops.far_correction": "0.25",
        "arm_reach": "110 cm",
    }
    assert keep(counter, f"{LIST}/new", {"name": "Bench cutter", **typed}).status == 303
    (cutter,) = shop_of(stocked).cutters
    assert cutter.stops == Stops(
        near=True, far=True, near_correction=mm("-0.5"), far_correction=mm("0.25")
    )
    assert cutter.arm_reach == mm(1100)
    facts = counter.get(LIST).facts
    assert (facts["stops"], facts["squaring arm up to"]) == ("near and far", "1100 mm")
    assert facts["added to the near stop"] == "\N{MINUS SIGN}0.5 mm"
    assert facts["added to the far stop"] == "0.25 mm"


def test_without_stops_and_arm_nothing_is_said_of_them(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, WALL)
    facts = counter.get(LIST).facts
    assert {"stops", "squaring arm up to", "second scale"}.isdisjoint(facts)


@pytest.mark.parametrize(
    ("typed", "path", "sentence"),
    [
        (
            {**SECOND, "scales.1.unit": "mm", "scales.1.step": "1"},
            "scales.1.unit",
            "Two scales are in millimetres; a cutter has one in millimetres, one in inches, or one of each.",
        ),
        ({**SECOND, "scales.1.unit": ""}, "scales.1.unit", "not which unit it is in; choose one"),
        ({"scales.1.unit": "in"}, "scales.1.step", 'Type the finest step that you read off the scale'),
        ({**SECOND, "scales.1.step": "0.3"}, "scales.1.step", "is read in steps such as 1/16"),
        ({**SECOND, "scales.1.step": "16x"}, "scales.1.step", "16x"),
        ({**SECOND, "scales.1.pins.pitch": ""}, "scales.1.pins.pitch", "give both, or neither"),
        ({**SECOND, "scales.1.pins.pitch": "0"}, "scales.1.pins.pitch", "must be above zero"),
        ({"stops.far_correction": "10.5"}, "stops.far_correction", "no correction: look at the stop and at where its scale begins"),
        ({"stops.near_correction": "NaN"}, "stops.near_correction", "NaN"),
        ({"scales.0.pins.first": "201", "scales.0.pins.pitch": "10"}, "scales.0.pins.first", "the guide goes up to 200 mm only"),
        ({"scales.0.pins.first": "10", "scales.0.pins.pitch": "0.001"}, "scales.0.pins.pitch", "closer than the scale can be read, 0.5 mm"),
        ({"scales.0.pins.first": "10", "scales.0.pins.pitch": "201"}, "scales.0.pins.pitch", "further than the guide goes, 200 mm"),
        ({**SECOND, "scales.1.pins.first": "8"}, "scales.1.pins.first", 'The first hole is at 8"'),
        ({"stops.near_correction": "0.5"}, "stops.near_correction", "the cutter is said to have no near stop"),
        ({"stops.near": "1", "stops.far_correction": "0.5"}, "stops.far_correction", "no far stop"),
        ({"start_offset": "40"}, "start_offset", "measure once more how far it runs past its corner"),
        ({"scales.0.step": "x"}, "scales.0.step", "cannot be read as a length"),
        ({"arm_reach": "0"}, "arm_reach", "must be above zero"),
        ({"arm_reach": "11 m"}, "arm_reach", "11 m"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_at_its_field_and_what_was_typed_stays(
    counter: Counter, stocked: Store, typed: dict[str, str], path: str, sentence: str
) -> None:
    shown = keep(counter, f"{LIST}/new", {"name": "Bench cutter", **typed})
    assert shown.status == 422
    assert sentence in shown.error(path)
    assert {name: shown.fields[name] for name in typed} == typed
    assert shop_of(stocked).cutters == ()


def test_the_page_says_in_which_unit_each_number_is(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BOTH, WALL)
    page = counter.get(f"{LIST}/1")
    assert "in the unit of the first scale" in page.main
    assert "Numbers are in the unit of the scale, now millimetres" in page.main
    assert "Numbers are in the unit of this scale, now inches" in page.main
    assert (page.fields["scales.0.step"], page.fields["scales.1.step"]) == ("0.5", "1/16")
    assert "Numbers are in the unit of this scale, now millimetres" in counter.get(f"{LIST}/2").main


def test_bare_numbers_are_in_the_unit_that_is_chosen_for_their_scale(
    counter: Counter, stocked: Store
) -> None:
    """What nobody touched, 1016 mm, 200 mm and 3 mm, stays what it was."""
    typed = {
        "name": "Wall cutter",
        "scales.0.unit": "in",
        "scales.0.step": "1/16",
        "scales.0.pins.first": "1/2",
        "scales.0.pins.pitch": "1/2",
        "arm_reach": "40",
        "guide_correction": "1/64",
        "scales.1.unit": "mm",
        "scales.1.step": "1",
    }
    assert keep(counter, f"{LIST}/new", typed).status == 303
    (cutter,) = shop_of(stocked).cutters
    assert cutter.scales == (SIXTEENTHS, Scale(unit=Unit.MM, step=mm(1)))
    assert (cutter.cut_length, cutter.guide_reach, cutter.deepest_board) == (
        mm(1016),
        mm(200),
        mm(3),
    )
    assert (cutter.arm_reach, cutter.guide_correction) == (inches(40), inches("1/64"))


def test_with_a_fault_the_page_comes_back_in_the_unit_that_was_chosen(
    counter: Counter, stocked: Store
) -> None:
    typed = {"name": "", "scales.0.unit": "in", "scales.0.step": "1/16", "guide_reach": "8"}
    page = keep(counter, f"{LIST}/new", typed)
    assert page.status == 422
    assert (page.fields["guide_reach"], page.fields["cut_length"]) == ("8", "1016 mm")
    assert "Numbers are in the unit of the scale, now inches" in page.main
    again = page.form(f"{LIST}/new") | {"name": "Wall cutter", "action": "save"}
    assert counter.post(f"{LIST}/new", again).status == 303
    (cutter,) = shop_of(stocked).cutters
    assert (cutter.guide_reach, cutter.cut_length) == (inches(8), mm(1016))


def test_another_unit_for_the_page_keeps_what_was_typed(counter: Counter, stocked: Store) -> None:
    page = counter.get(f"{LIST}/new")
    assert "My scale is in inches" in page.buttons(f"{LIST}/new")
    typed = {"name": "Wall cutter", "guide_reach": "180", "stroke": "push", "stops.near": "1"}
    page = counter.post(f"{LIST}/new", page.form(f"{LIST}/new") | typed | {"action": "in"})
    assert (page.status, page.fields["name"], page.fields["guide_reach"]) == (
        200,
        "Wall cutter",
        "180 mm",
    )
    assert (page.fields["cut_length"], page.fields["scales.0.step"]) == ("40", "1/32")
    assert "My scale is in millimetres" in page.buttons(f"{LIST}/new")
    counter.go(f"{LIST}/new", page.form(f"{LIST}/new") | {"action": "save"})
    (cutter,) = shop_of(stocked).cutters
    assert (cutter.unit, cutter.guide_reach, cutter.cut_length) == (Unit.IN, mm(180), inches(40))
    assert (cutter.stroke, cutter.stops) == (Stroke.PUSH, Stops(near=True))


def test_what_is_possible_and_hardly_meant_is_said_when_it_is_kept(
    counter: Counter, stocked: Store
) -> None:
    form = counter.get(f"{LIST}/new").form(f"{LIST}/new") | {"name": "Bench cutter"}
    page = counter.go(f"{LIST}/new", form | {"arm_reach": "9000", "action": "save"})
    assert "Its squaring arm measures up to 9000 mm, which is longer than any board" in page.text


def test_of_two_tabs_both_second_scales_are_shown_in_their_unit(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, BOTH)
    mine = counter.get(f"{LIST}/1").form(f"{LIST}/1") | {"scales.1.step": "1/64"}
    keep(counter, f"{LIST}/1", {"scales.1.step": "1/32"})
    answer = counter.post(f"{LIST}/1", mine | {"action": "save"})
    assert answer.status == 409
    assert "Second scale read in steps of 1/32 1/64" in answer.main
    counter.go(f"{LIST}/1", answer.form(f"{LIST}/1") | {"action": "save"})
    kept = replace(SIXTEENTHS, step=inches("1/64"))
    assert shop_of(stocked).cutters == (replace(BOTH, scales=(HALVES, kept)),)


def test_a_drawing_shows_what_is_measured_where(counter: Counter) -> None:
    page = counter.get(f"{LIST}/new")
    for sentence in CUTTER_KEY:
        assert sentence in page.main
    assert "A mat cutter from above, and what is measured where" in page.text


# --- a test cut ------------------------------------------------------------------------------------


def test_a_test_cut_is_set_and_read_on_either_scale(counter: Counter, stocked: Store) -> None:
    """A border of 50 mm has the pin at 50; one of 2 in the hole at 2."""
    with_cutters(stocked, BOTH)
    page = counter.get(f"{LIST}/1/test")
    assert settings(page) == [("50", "pin 50", "mat: right, top, left, bottom")]
    other = page.links()["Read the scale in inches"]
    page = counter.get(other)
    assert settings(page) == [("2", "pin 2", "mat: right, top, left, bottom")]
    assert page.links()["Read the scale in millimetres"] == f"{LIST}/1/test?scale=mm"
    assert page.form(f"{LIST}/1/test")["scale"] == "in"


def test_what_is_read_on_the_second_scale_corrects_the_cutter_for_both(
    counter: Counter, stocked: Store
) -> None:
    """By hand, of a board of 10 × 8 in with borders of 2: 2 1/32 + 5 15/16 + 2 1/32 = 10, so 1/32 in too wide, and
    cuts by marks at 2 run 1/32 past their corners."""
    with_cutters(stocked, BOTH)
    address = f"{LIST}/1/test"
    measured = dict.fromkeys(MEASURED, "") | {
        f"borders.{side}": "2 1/32" for side in ("left", "top", "right", "bottom")
    }
    measured |= {
        f"past_{end}.{side}": "1/32"
        for end in ("start", "end")
        for side in ("left", "top", "right", "bottom")
    }
    measured |= {"window.width": "5 15/16", "window.height": "3 15/16"}
    form = counter.get(f"{address}?scale=in").form(address) | measured
    page = counter.post(address, form | {"action": "compare"})
    assert page.status == 200
    assert '1/32" too wide on average' in page.main
    found = page.one(id="found")
    keeping = {field.get("name") or "": field.get("value") or "" for field in found.iter("input")}
    counter.go(address, keeping | {"action": "keep"})
    assert shop_of(stocked).cutters == (replace(BOTH, guide_correction=-inches("1/32")),)


def test_a_cutter_with_one_scale_has_no_other_to_read(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, BENCH)
    page = counter.get(f"{LIST}/1/test?scale=in")
    assert settings(page) == [("50", "", "mat: right, top, left, bottom")]
    assert not any(text.startswith("Read the scale") for text in page.links())


# --- the first run ---------------------------------------------------------------------------------


def test_a_cutter_of_the_first_run_may_have_both_scales(
    first_page: TestClient, bare: Store
) -> None:
    cutter = {"cutter.name": "Bench cutter", "cutter.unit": "mm", "cutter.both": "1"}
    first_page.post("/welcome", data={**ANSWERS, **cutter})
    shop = bare.current_shop()
    assert shop is not None
    assert [cutter.scales for cutter in shop.cutters] == [
        (Scale(unit=Unit.MM, step=mm("0.5")), Scale(unit=Unit.IN, step=inches("1/32")))
    ]
