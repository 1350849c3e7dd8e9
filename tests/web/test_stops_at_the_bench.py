"""Stops and squaring arm on a piece's page, in the JSON and on the page of a test cut, by hand (B7, B9, B11).

The piece of `tests.builders.worked`: a package of 600 x 500 with borders 90 90 80 100, the under mat fixed behind
it with 100 100 90 110. The cutter is pulled: a cut begins at the far stop, 1.5 before its corner, and ends 1 past it.
"""

from dataclasses import replace
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.bench import Cutter, Stops, Stroke, cuts_of, usual_cutter
from app.lengths import Unit, mm
from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.at_cutter import framed_by
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words
from tests.web.test_api_bench import SKETCH, bench
from tests.web.test_cutter_scales import keep
from tests.web.test_cutters import LIST, TEST, changes, compared, shop_of
from tests.web.test_limits_at_the_counter import with_cutters

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
PLAIN = replace(
    usual_cutter(Unit.MM, name="Bench cutter"), start_offset=mm("1.5"), end_offset=mm(1)
)
TWO = replace(PLAIN, stops=Stops(near=True, far=True))
ONE = replace(PLAIN, stops=Stops(near=True))


def piece_page(counter: Counter, store: Store, cutter: Cutter) -> Shown:
    with_cutters(store, cutter)
    order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return counter.get(f"/orders/{order}/pieces/1")


def cut_between(page: Shown) -> list[list[str]]:
    """What is cut at each setting of the panel, with its stops."""
    return [
        [words(part) for part in row.iter() if part.get("class") == "setting-cuts"]
        for row in page.each("setting-row")
    ]


def test_the_stops_stand_beside_the_setting_in_the_order_of_work(
    counter: Counter, stocked: Store
) -> None:
    """Bottom of mat 1: 90 - 1 and 600 - 90 + 1.5; its right edge as it lies, the left one of the front, has its top
    at the arm: 80 - 1 and 500 - 100 + 1.5; its left one the bottom: 100 - 1 and 500 - 80 + 1.5. In inches, to
    1/32: 89 is 3 16/32, 511.5 20 4/32, 79 3 4/32, 401.5 15 26/32."""
    rows = cut_between(piece_page(counter, stocked, TWO))
    assert rows[0] == ["mat 1: bottom near stop 89 3 1/2 in far stop 511.5 20 1/8 in"]
    assert rows[2][0] == "mat 1: right near stop 79 3 1/8 in far stop 401.5 15 13/16 in"
    assert rows[2][1].startswith("mat 1: left near stop 99 ")
    assert " far stop 421.5 " in rows[2][1]


def test_a_step_has_its_stops_large_and_in_its_words(counter: Counter, stocked: Store) -> None:
    step = piece_page(counter, stocked, TWO).words(id="step-mat-1-cut-1")
    assert "Set the guide: mat 1 bottom, on a slip sheet guide at 100" in step
    assert "bottom near stop 89 3 1/2 in" in step


def marks(page: Shown) -> tuple[list[str], list[list[str]]]:
    table = page.one(id="marks-1")
    heads = [words(cell) for cell in table.iter("th")]
    rows = [[words(cell) for cell in row.iter("td")] for row in table.iter("tr")][1:]
    return heads, rows


@pytest.mark.parametrize(
    ("cutter", "heads", "first"),
    [
        (
            PLAIN,
            ["Edge", "Line at", "Start", "End"],
            ["right", "90", "98.5 from the bottom", "79 from the top"],
        ),
        (ONE, ["Edge", "Line at", "Start"], ["right", "90", "98.5 from the bottom"]),
        (TWO, ["Edge", "Line at"], ["right", "90"]),
    ],
    ids=["none", "one", "two"],
)
def test_marks_that_stops_make_needless_are_left_out(
    counter: Counter, stocked: Store, cutter: Cutter, heads: list[str], first: list[str]
) -> None:
    said, rows = marks(piece_page(counter, stocked, cutter))
    assert said == heads
    assert rows[0] == first


def test_the_blanks_are_sized_each_length_once(counter: Counter, stocked: Store) -> None:
    """The under mat is 3 smaller at each edge."""
    page = piece_page(counter, stocked, replace(PLAIN, arm_reach=mm(550)))
    (body,) = page.one("arm-settings").iter("tbody")
    rows = [[words(cell) for cell in row] for row in body]
    assert [row[:2] for row in rows] == [
        ["500", "height of mat 1, backing"],
        ["494", "height of mat 2"],
        ["600", "width of mat 1, backing (beyond the arm: measure and mark)"],
        ["594", "width of mat 2 (beyond the arm: measure and mark)"],
    ]
    assert (
        "The squaring arm of “Bench cutter” reaches 550 mm, and longer are mat 1 (600 mm)"
        in page.main
    )


def test_a_cutter_without_stops_and_arm_has_neither(counter: Counter, stocked: Store) -> None:
    page = piece_page(counter, stocked, PLAIN)
    assert not page.has("setting-stop")
    assert not page.has("arm-settings")
    assert "stop" not in page.words(id="step-mat-1-cut-1")


def test_an_end_that_no_stop_reaches_is_said_and_marked(counter: Counter, stocked: Store) -> None:
    """By hand: on a bar of 505 the far stops at 511.5 and 501.5 + 0: of mat 1 top and bottom are beyond it."""
    page = piece_page(counter, stocked, replace(TWO, cut_length=mm(505)))
    assert (
        "They cannot be set for window bottom, window top: mark the ends that have no stop."
        in page.main
    )
    heads, rows = marks(page)
    assert heads == ["Edge", "Line at", "Start"]
    assert [row[2] for row in rows] == ["stop", "88.5 from the right", "stop", "88.5 from the left"]


STOPPED: dict[str, Any] = {
    **SKETCH["cutter"],
    "corrections": {"start": "1.5", "end": "1"},
    "stops": {"near": True, "far": True, "corrections": {"far": "-0.5"}},
}


def stops_in(tree: dict[str, Any]) -> dict[str, Any]:
    cuts = [cut for setting in tree["settings"] for cut in setting["cuts"]]
    return {f"{cut['layer']}{cut['edge']}": cut.get("stops") for cut in cuts}


def test_each_cut_of_an_answer_has_what_the_cutter_has(api: TestClient) -> None:
    """By hand: a package of 567 x 449, borders 70 75 70 80. The bottom has the left edge of the front at the arm:
    70 - 1, and 567 - 75 + 1.5 - 0.5."""
    said = stops_in(bench(api, {**SKETCH, "cutter": STOPPED}))
    assert said["1bottom"] == {"near": "69", "far": "493"}
    assert said["1top"] == {"near": "74", "far": "498"}  # 75 - 1; 567 - 70 + 1.5 - 0.5
    assert said["2right"] == {"near": "75", "far": "364"}  # 76 - 1; 449 - 86 + 1.5 - 0.5
    near = {**STOPPED, "stops": {"near": True}}
    assert stops_in(bench(api, {**SKETCH, "cutter": near}))["1bottom"] == {"near": "69"}


def test_a_guide_on_the_right_has_the_arm_at_the_other_end(api: TestClient) -> None:
    """A pulled cutter with its guide on the right is described as pushed. By hand: the bottom now has the right edge of the
    front at the arm, where the cut ends: 75 - 1; it begins at the far stop: 567 - 70 + 1.5 - 0.5."""
    right = {**STOPPED, "stroke": "push", "stops": {**STOPPED["stops"], "guide": "right"}}
    assert stops_in(bench(api, {**SKETCH, "cutter": right}))["1bottom"] == {
        "near": "74",
        "far": "498",
    }


def test_without_stops_an_answer_says_nothing_of_them(api: TestClient) -> None:
    assert set(stops_in(bench(api, SKETCH)).values()) == {None}


def test_a_test_cut_corrects_the_stops_that_bound_it(counter: Counter, stocked: Store) -> None:
    """By hand: starts 0.75 past on average, at the far stop; ends 0.5 short, at the near one. Borders of 50 on a
    board of 240 x 200: near 49, far 151.5 and 191.5, all on the scale."""
    with_cutters(stocked, TWO)
    page = compared(counter)
    assert changes(page) == {
        "Added to every setting": ["0 mm", "−0.5 mm"],
        "The guide for this border": ["50 mm", "49.5 mm"],
        "Added to every near stop": ["0 mm", "−1 mm"],
        "Added to every far stop": ["0 mm", "−0.25 mm"],
    }
    assert "the cuts began 0.25 mm past the corners that were asked for on average" in page.main
    assert "the cuts ended 1 mm short of the corners that were asked for on average" in page.main
    assert "so it is set 1 mm nearer to the squaring arm" in page.main
    counter.post(TEST, page.form(TEST) | {"action": "keep"})
    kept = shop_of(stocked).cutters[0]
    assert kept.stops == replace(TWO.stops, near_correction=mm(-1), far_correction=mm("-0.25"))
    assert (kept.start_offset, kept.end_offset) == (TWO.start_offset, TWO.end_offset)


def test_a_pulled_head_with_its_guide_to_the_right_ends_at_the_near_stop(
    counter: Counter, stocked: Store
) -> None:
    """By hand: a border of 70 at the squaring arm and an overcut of 0.5 at the end of a cut, which is the near one of
    a pulled head wherever the guide lies: 70 - 0.5 = 69.5."""
    typed = {"name": "Right", "stops.near": "1", "stops.guide_on_right": "1", "stroke": "pull"}
    typed |= {"start_offset": "1", "end_offset": "0.5"}
    assert keep(counter, f"{LIST}/new", typed).status == 303
    (cutter,) = shop_of(stocked).cutters
    mat = framed_by("70", "70", "70", "70")
    assert {cut.stops.near for cut in cuts_of(mat, cutter)} == {mm("69.5")}


@pytest.mark.parametrize("stroke", list(Stroke))
@pytest.mark.parametrize("on_right", [False, True])
def test_a_cutter_described_before_means_what_it_meant(
    counter: Counter, stocked: Store, stroke: Stroke, on_right: bool
) -> None:
    cutter = replace(TWO, stroke=stroke, stops=replace(TWO.stops, guide_on_right=on_right))
    with_cutters(stocked, cutter)
    assert keep(counter, f"{LIST}/1", {}).status == 303
    assert shop_of(stocked).cutters == (cutter,)


def test_on_which_side_the_guide_lies_is_described_with_the_stops(
    counter: Counter, stocked: Store
) -> None:
    typed = {"name": "Guide on the right", "stops.near": "1", "stops.guide_on_right": "1"}
    assert keep(counter, f"{LIST}/new", typed).status == 303
    (cutter,) = shop_of(stocked).cutters
    assert cutter.stops == Stops(near=True, guide_on_right=True)
    assert cutter.stroke is Stroke.PUSH, "pulled, as one with its guide to the left is pushed"
    assert counter.get(LIST).facts["guide"] == "to the right of the bar"
    form = counter.get(f"{LIST}/1")
    chosen = form.form(f"{LIST}/1")
    assert (chosen["stops.guide_on_right"], chosen["stroke"]) == ("1", "pull")
    assert "The guide lies" in form.main
    assert "to the right, choose the other" not in form.main
    keep(counter, f"{LIST}/1", {"stops.guide_on_right": ""})
    assert "guide" not in counter.get(LIST).facts
