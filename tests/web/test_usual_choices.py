"""What the shop usually takes stands in a new quote, until somebody makes a field their own.

The piece is the worked one (tests/builders/worked): 3.749 kg with what is behind glass, 630 wide outside.
"""

import json
from dataclasses import replace
from fractions import Fraction

import pytest

from app.lengths import mm
from app.orders import Shop
from app.orders.usual_choices import UsualChoices, UsualHanging, UsualPart
from app.pricing import Charge, ChargeBy, CostPer, Kind
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.materials import counted, sold_at
from tests.builders.worked import LINES, TO_PAY, TYPED
from tests.web.conftest import NOW, SHOP
from tests.web.reading import Page
from tests.web.shown import Counter

ACT = Stamp(who="Ilse", now=NOW)
WIRE = counted(
    "W-1", "Coated wire", Kind.HARDWARE, "1.00", sold_at("2.00"),
    per=CostPer.METRE, charge=Charge(by=ChargeBy.LENGTH),
)  # fmt: skip

RINGS = UsualPart(material="R-1", count=2)
USUAL = UsualChoices(
    mat="M-101",
    glazing="G-2",
    backing="B-3",
    hanging=(
        UsualHanging(up_to_kg=Fraction(2), parts=(UsualPart(material="R-1"),)),
        UsualHanging(up_to_kg=Fraction(5), up_to_width=mm(700), parts=(RINGS,)),
        UsualHanging(parts=(UsualPart(material="R-1", count=4), UsualPart(material="W-1"))),
    ),
)
SIZE = {"artwork.size": "410 x 310", "frames.0.material": "LIN-20"}
REST = {
    path: TYPED[path]
    for path in (
        "mats.1.material",
        "mats.1.reveal",
        "borders.left",
        "borders.top",
        "borders.bottom",
    )
}


@pytest.fixture
def habits(counter: Counter, stocked: Store) -> Counter:
    """The counter of a shop that has habits."""
    price_book.add(stocked, WIRE, ACT)
    kept = shops.get(stocked)
    shops.save(stocked, replace(kept.value, usual_choices=USUAL), kept.version, ACT)
    return counter


def begun(counter: Counter) -> dict[str, str]:
    return counter.get("/quotes/new").fields


def worked(counter: Counter, form: dict[str, str], **typed: str) -> dict[str, str]:
    """The fields of the page after the button of a browser without scripts."""
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    page = counter.post("/quotes", {**form, **changed, "action": "recalculate"})
    return page.fields


def test_a_shop_without_habits_begins_with_empty_fields(counter: Counter) -> None:
    fields = begun(counter)
    assert fields["glazing.material"] == fields["mats.0.material"] == ""
    assert fields["hardware.0.material"] == ""
    assert "by-habit" not in counter.get("/quotes/new").text


def test_a_new_quote_begins_with_what_is_usual_and_says_so(habits: Counter) -> None:
    page = habits.get("/quotes/new")
    assert page.fields["mats.0.material"] == "M-101"
    assert page.fields["glazing.material"] == "G-2"
    assert page.fields["backing.material"] == "B-3"
    assert page.fields["mount_board.material"] == ""
    assert page.fields["hardware.0.material"] == "", "its weight is not known yet"
    assert page.words(id="glazing-material-said") == "usual"


def test_the_usual_hanging_is_filled_in_once_the_piece_can_be_weighed(habits: Counter) -> None:
    """3.749 kg is over 2 and within 5, and 630 within 700: two rings. All lines are those of the worked piece."""
    form = {**begun(habits), **SIZE, **REST}
    page = habits.post("/quotes", {**form, "action": "recalculate"})
    assert page.fields["hardware.0.material"] == "R-1"
    assert page.fields["hardware.0.count"] == "2"
    assert page.words(id="hardware-0-material-said") == "Hanging ring usual"
    assert page.words("price") == TO_PAY
    assert {"Hanging ring", "Backing board"} <= {label for label, _ in LINES}


def test_a_live_answer_brings_the_texts_that_its_form_is_to_show(habits: Counter) -> None:
    form = {**begun(habits), **SIZE, **REST}
    page = habits.post("/quotes?live=1", form, **{"x-partial": "1"})
    filled = json.loads(page.one(id="usual-choices").get("data-filled") or "")
    assert filled["hardware.0.material"] == "R-1"
    assert filled["hardware.0.count"] == "2"
    assert filled["hardware.1.material"] == ""
    assert filled["glazing.material"] == "G-2"


def test_a_row_that_is_filled_in_grows_on_a_live_page_that_has_it_not(habits: Counter) -> None:
    """Four rings and a wire: the page of a new quote has one row, so the second comes with the answer, and a third one to go on."""
    form = {**begun(habits), **SIZE, **REST, "borders.left": "140"}
    assert "hardware.1.material" not in form
    page = habits.post("/quotes?live=1", form, **{"x-partial": "1"})
    grown = [each.get("name") for each in page.one(id="hardware-rows").iter("input")]
    assert grown == [f"hardware.{row}.{name}" for row in (1, 2) for name in ("material", "count")]
    assert page.fields["hardware.1.material"] == "W-1"


def test_usual_hanging_follows_the_size_both_ways(habits: Counter) -> None:
    """A wider border makes it 730 wide, so the last choice holds it: four rings and a wire."""
    two = worked(habits, {**begun(habits), **SIZE, **REST})
    four = worked(habits, two, borders__left="140")
    assert (four["hardware.0.material"], four["hardware.0.count"]) == ("R-1", "4")
    assert (four["hardware.1.material"], four["hardware.1.count"]) == ("W-1", "1")
    again = worked(habits, four, borders__left="90")
    assert (again["hardware.0.count"], again["hardware.1.material"]) == ("2", "")


def test_a_piece_that_does_not_hang_any_more_loses_its_usual_hanging(habits: Counter) -> None:
    """Without a frame nothing hangs; and nobody weighed a frame that the customer brings."""
    form = worked(habits, {**begun(habits), **SIZE, **REST})
    bare = worked(habits, form, frame__source="none")
    assert bare["hardware.0.material"] == bare["hardware.0.count"] == ""
    brought = {
        "frame__source": "own", "given_frame__rebate": "600 x 500", "given_frame__depth": "20",
        "given_frame__lip": "5", "frames__0__material": "",
    }  # fmt: skip
    own = worked(habits, form, **brought)
    assert own["hardware.0.material"] == ""
    assert (
        worked(habits, own, frame__source="made", frames__0__material="LIN-20")["hardware.0.count"]
        == "2"
    )


def test_what_was_removed_stays_removed(habits: Counter) -> None:
    form = worked(habits, {**begun(habits), **SIZE, **REST})
    form = worked(
        habits, form, glazing__material="", hardware__0__material="", hardware__0__count=""
    )
    assert form["glazing.material"] == form["hardware.0.material"] == ""
    form = worked(habits, form, borders__left="140")
    assert form["glazing.material"] == form["hardware.0.material"] == ""
    assert form["backing.material"] == "B-3", "what was left alone stays usual"


def test_what_was_changed_is_theirs_even_where_it_is_usual_again(habits: Counter) -> None:
    form = worked(habits, {**begun(habits), **SIZE, **REST}, hardware__0__count="3")
    assert form["hardware.0.count"] == "3"
    form = worked(habits, form, hardware__0__count="2")
    form = worked(habits, form, borders__left="140")
    assert form["hardware.0.count"] == "2"


def test_a_further_part_makes_all_hanging_parts_theirs(habits: Counter) -> None:
    form = worked(habits, {**begun(habits), **SIZE, **REST})
    form = worked(habits, form, hardware__1__material="W-1")
    form = worked(habits, form, borders__left="140")
    assert (form["hardware.0.count"], form["hardware.1.material"]) == ("2", "W-1")


def test_a_canvas_gets_neither_glass_nor_boards_until_it_is_shown_otherwise(
    habits: Counter,
) -> None:
    form = worked(habits, {**begun(habits), **SIZE}, presentation="canvas")
    assert form["glazing.material"] == form["backing.material"] == form["mats.0.material"] == ""
    assert worked(habits, form, presentation="window")["glazing.material"] == "G-2"


def test_an_object_of_unknown_weight_is_given_no_parts(habits: Counter) -> None:
    form = {**begun(habits), **SIZE, "presentation": "close", "artwork.kind": "object",
            "artwork.thickness": "4", "spacer.depth": ""}  # fmt: skip
    assert worked(habits, form)["hardware.0.material"] == ""


def test_the_list_of_mouldings_prices_the_piece_with_the_hanging_that_is_usual_then(
    habits: Counter,
) -> None:
    """Without a frame nothing hangs; with the moulding two rings do, and it costs what it will cost when chosen."""
    form = {**begun(habits), **SIZE, **REST, "frames.0.material": "lin"}
    page = habits.post("/quotes/materials?at=frames.0.material&q=lin", form)
    assert TO_PAY in page.text


def test_saved_without_working_it_out_it_has_what_is_usual(habits: Counter) -> None:
    form = {**begun(habits), **SIZE, **REST, "customer": "Amber Quill", "action": "save"}
    page = habits.go("/quotes", form)
    assert "2 × Hanging ring (R-1)" in page.main
    assert f"Price {TO_PAY}" in page.main


def test_a_piece_that_was_agreed_is_not_filled(habits: Counter) -> None:
    form = {**begun(habits), **SIZE, **REST, "customer": "Amber Quill", "action": "save"}
    form = {**form, "glazing.material": "", "usual": ""}
    order = habits.post("/quotes", form).address
    page = habits.get(f"{order}/pieces/1/change")
    assert page.fields["glazing.material"] == ""
    assert "usual" not in page.fields


def test_a_further_piece_begins_with_what_is_usual_and_another_design_as_its_piece(
    habits: Counter,
) -> None:
    form = {**begun(habits), **SIZE, **REST, "customer": "Amber Quill", "action": "save"}
    order = habits.post("/quotes", {**form, "backing.material": ""}).address
    assert habits.get(f"{order}/pieces/new").fields["backing.material"] == "B-3"
    assert habits.get(f"{order}/pieces/new?like=1").fields["backing.material"] == ""


def test_what_the_price_book_offers_no_more_is_not_filled_in(
    habits: Counter, stocked: Store
) -> None:
    price_book.retire(stocked, "G-2", price_book.get(stocked, "G-2").version, ACT)
    assert begun(habits)["glazing.material"] == ""


@pytest.mark.parametrize(
    "carried", ["[", "[]", '{"glazing.material": 3}', '{"customer": "x"}', "[" * 9000]
)
def test_what_the_hidden_field_cannot_mean_fills_nothing(habits: Counter, carried: str) -> None:
    form = worked(habits, {**TYPED, "glazing.material": "", "usual": carried})
    assert form["glazing.material"] == ""


# --- the settings ------------------------------------------------------------------------------


def shop_of(store: Store) -> Shop:
    return shops.get(store).value


def keep(counter: Counter, **typed: str) -> Page:
    form = Page(counter.client.get("/settings/usual").text).values
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    sent = {**form, **changed, "action": "save"}
    return Page(counter.client.post("/settings/usual", data=sent).text)


def test_the_choices_are_kept_by_code_name_or_a_part_of_it(
    counter: Counter, stocked: Store
) -> None:
    keep(
        counter, mat="chalk", glazing="Float glass 2 mm", backing="b-3",
        hanging__0__up_to_kg="1.5 kg", hanging__0__up_to_width="60 cm",
        hanging__0__parts__0__material="ring", hanging__0__parts__0__count="2",
        hanging__1__parts__0__material="R-1", hanging__1__parts__0__count="4",
    )  # fmt: skip
    assert shop_of(stocked).usual_choices == UsualChoices(
        mat="M-101",
        glazing="G-2",
        backing="B-3",
        hanging=(
            UsualHanging(up_to_kg=Fraction(3, 2), up_to_width=mm(600), parts=(RINGS,)),
            UsualHanging(parts=(UsualPart(material="R-1", count=4),)),
        ),
    )


def test_the_form_shows_what_was_kept(habits: Counter) -> None:
    values = Page(habits.client.get("/settings/usual").text).values
    assert values["glazing"] == "G-2"
    assert values["hanging.1.up_to_kg"] == "5 kg"
    assert values["hanging.1.up_to_width"] == "700"
    assert values["hanging.2.parts.1.material"] == "W-1"


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"glazing": "M-101"}, "glazing", "“M-101” is not one glazing of the price book"),
        ({"mat": "a"}, "mat", "“a” is not one mat"),
        (
            {"hanging__0__up_to_kg": "2"},
            "hanging-0-parts-0-material",
            "Name one part or up to 2 that such a piece hangs by.",
        ),
        (
            {"hanging__0__up_to_kg": "heavy", "hanging__0__parts__0__material": "R-1"},
            "hanging-0-up-to-kg",
            "“heavy” cannot be read as a weight",
        ),
        (
            {"hanging__0__parts__0__material": "R-1", "hanging__1__parts__0__material": "R-1"},
            "hanging-1-up-to-kg",
            "The choice before it has no limit, so this one is never reached",
        ),
        (
            {"hanging__0__parts__0__material": "R-1", "hanging__0__parts__0__count": "0"},
            "hanging-0-parts-0-count",
            "The count is “0”; a whole number from 1 to 99 is read.",
        ),
    ],
)
def test_a_choice_that_cannot_be_is_refused_and_stays_typed(
    counter: Counter, stocked: Store, typed: dict[str, str], field: str, sentence: str
) -> None:
    answer = keep(counter, **typed)
    assert sentence in answer.errors[field]
    assert all(answer.values[name.replace("__", ".")] == text for name, text in typed.items())
    assert shop_of(stocked) == SHOP


def test_a_material_off_offer_cannot_be_usual(counter: Counter, stocked: Store) -> None:
    price_book.retire(stocked, "G-2", price_book.get(stocked, "G-2").version, ACT)
    assert "“G-2” is discontinued" in keep(counter, glazing="G-2").errors["glazing"]


def test_usual_rings_that_are_emptied_take_their_count_and_the_wire_along(
    habits: Counter,
) -> None:
    four = worked(habits, {**begun(habits), **SIZE, **REST}, borders__left="140")
    typed = {**four, "hardware.0.material": ""}
    live = habits.post("/quotes?live=1", typed, **{"x-partial": "1"})
    filled = json.loads(live.one(id="usual-choices").get("data-filled") or "")
    # The field that was emptied is not written into; what goes with it is.
    assert filled["hardware.1.material"] == filled["hardware.0.count"] == ""
    bare = worked(habits, four, hardware__0__material="")
    for path in ("hardware.0.count", "hardware.1.material", "hardware.1.count"):
        assert bare.get(path, "") == ""
    saved = {**four, "hardware.0.material": "", "customer": "Anna", "action": "save"}
    assert habits.post("/quotes", saved).status == 303


def test_a_usual_wire_that_is_emptied_leaves_the_rings(habits: Counter) -> None:
    four = worked(habits, {**begun(habits), **SIZE, **REST}, borders__left="140")
    left = worked(habits, four, hardware__1__material="")
    assert (left["hardware.0.material"], left["hardware.0.count"]) == ("R-1", "4")
    assert left.get("hardware.1.count", "") == ""
