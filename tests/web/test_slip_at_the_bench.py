"""A border that came out otherwise, typed at the bench: what is told, what is kept as typed, what is offered (B12).

The worked piece, in mm: artwork 410 × 310; window 1 420 × 320 with borders 90, 90, 80, 100; window 2 400 × 300,
borders 100, 100, 90, 110, overlap 5, reveal 10; board 600 × 500; lip 6.5, allowance 3.
"""

from dataclasses import replace

import pytest

from app.bench import usual_cutter
from app.lengths import Unit
from app.orders import Shop
from app.services import quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, keyless
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)

ONE_MAT = {key: text for key, text in TYPED.items() if not key.startswith("mats.1")}
"""Window 400 × 300, borders 90, 90, 80, 100; board 580 × 480."""


def ordered(counter: Counter, store: Store, typed: dict[str, str]) -> str:
    customer = CustomerRequest(name="Amber Quill")
    address = f"/orders/{quotes.save_new(store, customer, typed, SHOP, ACT)}"
    do(counter, address, "take", deposit="50", due="2026-12-10")
    return f"{address}/pieces/1"


@pytest.fixture
def bench(counter: Counter, stocked: Store) -> str:
    return ordered(counter, stocked, TYPED)


def measured(counter: Counter, bench: str, **typed: str) -> Shown:
    """The page after a measure; what is not said is left as the form has it."""
    action = f"{bench}/measured#measured"
    form = counter.get(bench).form(action)
    form |= {f"measured.{name}": text for name, text in typed.items()}
    return counter.post(f"{bench}/measured", form)


def told(page: Shown) -> str:
    return page.words("slip-found")


def test_a_border_is_told_with_its_cure_and_what_was_typed_stays(
    counter: Counter, bench: str
) -> None:
    """By hand: mat 2 left 98 for 100: 402 wide, overlap (410 − 402) / 2 = 4; larger 404 × 304, overlap 3, reveal 8."""
    page = measured(counter, bench, window="2/window", left="98")
    assert page.status == 200
    assert "Mat 2: The piece still holds it." in told(page)
    assert "by 4 mm in width and 5 mm in height" in told(page)
    assert "left 8 mm, right 10 mm, top 10 mm, bottom 10 mm" in told(page)
    assert "Cut the window 2 mm larger at each edge, to 404 × 304 mm" in told(page)
    assert "the overlap would still be 3 mm" in told(page)
    assert (page.fields["measured.left"], page.fields["measured.window"]) == ("98", "2/window")


def test_left_and_right_are_those_of_the_back(counter: Counter, stocked: Store) -> None:
    """By hand, seen from the front borders 95 and 85: on the back 85 is at the left; 84 for 85."""
    uneven = ONE_MAT | {"borders.left": "95", "borders.right": "85"}
    bench = ordered(counter, stocked, uneven)
    page = counter.get(bench)
    assert "If empty: 85" in page.words(id="measured-left-hint")
    assert "If empty: 95" in page.words(id="measured-right-hint")
    found = told(measured(counter, bench, left="84"))
    assert "Cut the window 1 mm larger at each edge, to 402 × 302 mm" in found
    assert "seen inside it: left 79 mm" in found  # 84 + 1.5 - 6.5


def test_a_length_is_typed_as_everywhere(counter: Counter, bench: str) -> None:
    """By hand: 3 7/8 in is 98.425 mm, 1.575 less than 100: 8.425, to a hundredth 8.43, is seen of 10."""
    page = measured(counter, bench, window="2/window", left='3 7/8"')
    assert "left 8.43 mm" in told(page)


def test_the_single_window_of_a_piece_is_not_asked_for(counter: Counter, stocked: Store) -> None:
    page = counter.get(ordered(counter, stocked, ONE_MAT))
    assert page.fields["measured.window"] == "1/window"
    assert not page.has(tag="select", id="measured-window")


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"window": "2/window"}, "left", "Type what was measured"),
        ({"left": "98"}, "window", "Choose the window that was measured."),
        ({"window": "2/window", "left": "0"}, "left", "0"),
        ({"window": "2/window", "left": "-5"}, "left", "-5"),
        ({"window": "2/window", "right": "abc"}, "right", "abc"),
        ({"window": "2/window", "right": "650"}, "right", "the board is only 600 mm"),
        ({"window": "2/window", "left": "300", "width": "310"}, "width", "610 mm together"),
        ({"window": "3/window", "left": "98"}, "window", "no window “window” in layer 3 any more"),
        ({"window": "nonsense", "left": "98"}, "window", "any more"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_kept(
    counter: Counter, bench: str, typed: dict[str, str], field: str, sentence: str
) -> None:
    page = measured(counter, bench, **typed)
    assert page.status == 422
    assert sentence in page.error(f"measured.{field}")
    assert not page.has("slip-found")
    for name, text in typed.items():
        if name != "window":
            assert page.fields[f"measured.{name}"] == text


def test_a_mat_that_must_be_cut_anew_is_noted_as_spoiled_with_its_measure(
    counter: Counter, bench: str
) -> None:
    """By hand: mat 2 left 88 for 100: reveal 10 − 12 = −2, and 412 is wider than the artwork's 410."""
    page = measured(counter, bench, window="2/window", left="88")
    assert "The piece does not hold it as it is." in told(page)
    assert "1 mm stays bare at each edge" in told(page)
    assert "At the left nothing of mat 2 is seen any more" in told(page)
    assert "cut mat 2 anew" in told(page)
    note = "left border 88 mm in place of 100 mm"
    form = page.form(f"{bench}/spoiled", **{"spoiled.note": note})
    answer = counter.post(f"{bench}/spoiled", form)
    assert answer.status == 303
    assert note in counter.get(bench).words(id="spoiled")


def test_nothing_is_kept_of_a_measure(counter: Counter, bench: str) -> None:
    before = keyless(counter.get(bench).text)
    measured(counter, bench, window="2/window", left="98")
    assert keyless(counter.get(bench).text) == before


def test_the_hint_leads_to_the_test_cut_of_the_cutter(
    counter: Counter, bench: str, stocked: Store
) -> None:
    page = measured(counter, bench, window="2/window", left="98")
    assert "This border is 2 mm too narrow" in told(page)
    assert page.links("slip-found")["Test cut"] == "/settings/cutters"
    kept = shops.get(stocked)
    own: Shop = replace(kept.value, cutters=(usual_cutter(Unit.MM, name="Bench cutter"),))
    shops.save(stocked, own, kept.version, ACT)
    page = measured(counter, bench, window="2/window", left="98")
    assert page.links("slip-found")["Test cut"] == "/settings/cutters/1/test"


def test_of_several_windows_each_has_its_name(counter: Counter, stocked: Store) -> None:
    four = ONE_MAT | {"artwork.size": "100 x 150", "windows.count": "4", "arrangement.rows": "4"}
    page = counter.get(ordered(counter, stocked, four))
    words = [option.text for option in page.one(tag="select", id="measured-window")]
    assert words == ["Choose the window", "window A", "window B", "window C", "window D"]


def test_of_several_alike_it_is_of_one(counter: Counter, stocked: Store) -> None:
    bench = ordered(counter, stocked, ONE_MAT | {"copies": "3"})
    page = measured(counter, bench, left="80")
    assert "This is for one of the 3" in told(page)
    assert "cut the mat anew" in told(page)
    assert page.buttons(f"{bench}/spoiled") == ["Note it as spoiled"]


def test_a_shop_that_says_mount_reads_mount(counter: Counter, bench: str, stocked: Store) -> None:
    kept = shops.get(stocked)
    shops.save(
        stocked, replace(kept.value, mat_word=type(kept.value.mat_word)("mount")), kept.version, ACT
    )
    page = measured(counter, bench, window="1/window", top="78")
    assert "Mount 1: The piece still holds it." in told(page)
    assert "What shows of mount 2" in told(page)


def test_a_piece_that_nobody_works_on_is_not_measured(counter: Counter, stocked: Store) -> None:
    customer = CustomerRequest(name="Bo Reed")
    bench = f"/orders/{quotes.save_new(stocked, customer, TYPED, SHOP, ACT)}/pieces/1"
    assert not counter.get(bench).has(id="measured")
    page = counter.post(f"{bench}/measured", {"measured.window": "1/window", "measured.left": "88"})
    assert page.status == 422
    assert "nobody works on it" in page.main
