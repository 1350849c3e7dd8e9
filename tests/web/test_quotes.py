"""The quote page: worked out while typing, kept as an act of its own, priced again, in two tabs."""

from typing import Any

import pytest

from app.services import price_book, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.worked import FACTS, LINES, SHOP, TAX, TO_PAY, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, keyless, words

ACT = Stamp(who="Ilse", now=NOW)

TOO_LONG = "7" * 10_000

UNREADABLE = (
    "-3",
    "1e9",
    "16x",
    "16 x 20 x 3",
    "12 3/0",
    "NaN",
    "\N{FRAME WITH PICTURE}\N{VARIATION SELECTOR-16}",
    "<b>40</b>",
    TOO_LONG,
)
"""Bad input for any field that wants one length or number."""

BAD = {
    "artwork.size": ("", "0", "0 x 40", *UNREADABLE),
    "artwork.thickness": UNREADABLE,
    "artwork.declared_value": UNREADABLE,
    "borders.left": UNREADABLE,
    "borders.right": UNREADABLE,
    "borders.top": UNREADABLE,
    "borders.bottom": UNREADABLE,
    "mats.1.reveal": ("0", *UNREADABLE),
    "overlap": UNREADABLE,
    "allowance": UNREADABLE,
    "hardware.0.count": ("0", "2.5", *UNREADABLE),
    "discount": ("101", *UNREADABLE),
}


def save_form(**changes: str) -> dict[str, str]:
    """The worked piece for a new customer, as the button posts it; a__b stands for a.b."""
    typed = {name.replace("__", "."): value for name, value in changes.items()}
    return {**TYPED, "customer": "Amber Quill", "action": "save", "version": "0", **typed}


def saved(store: Store, name: str = "Amber Quill", typed: dict[str, str] | None = None) -> int:
    """A quote that is kept already. Returns its id."""
    return quotes.save_new(store, CustomerRequest(name=name), typed or TYPED, SHOP, ACT)


def lines_of(page: Shown) -> list[tuple[str, str]]:
    """(label, amount) of the price lines shown."""
    shown = []
    for line in page.each("price-line"):
        summary = line.find("summary")
        assert summary is not None
        what, amount = list(summary)
        shown.append(((what.text or "").strip(), words(amount)))
    return shown


# --- worked out while typing -----------------------------------------------------------------


def test_an_empty_page_asks_for_the_size_and_shows_no_figure(counter: Counter) -> None:
    page = counter.get("/quotes/new")
    assert page.status == 200
    assert "Type the size of the artwork" in page.words(id="price")
    assert not page.has(tag="dl", css_class="facts")
    assert page.fields["unit"] == "mm"


def test_typing_shows_every_figure_that_was_worked_by_hand(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", TYPED)
    assert page.status == 200
    assert page.words("price") == TO_PAY
    assert page.facts.items() >= FACTS.items()
    assert tuple(lines_of(page)) == LINES
    assert f"Tax 20 % included {TAX}" in page.words(id="price")


def test_the_shops_own_view_shows_what_the_piece_brings(counter: Counter) -> None:
    facts = counter.post("/quotes?live=1", TYPED).facts
    assert facts["without tax"] == "86.26"
    assert facts["material cost"] == "23.00"
    assert facts["margin"] == "63.26 (73 %)"
    assert facts["work"] == "63 min"
    assert facts["earned per hour"] == "60.71"


def test_each_line_says_how_it_came_about(counter: Counter) -> None:
    price = counter.post("/quotes?live=1", TYPED).words(id="price")
    assert "2 × 630 mm + 2 × 530 mm = 2320 mm." in price
    assert "Lost at the saw: 4 × 8.5 mm = 34 mm." in price
    assert "Up to the next 100 mm: 2400 mm." in price
    assert "2.4 m × 10.00 a metre = 24.00." in price
    assert "600 × 500 mm is covered by 1/4 of a sheet." in price
    assert "62.52 min at 36.00 an hour = 37.51." in price


def test_a_line_that_jumps_near_by_says_where_and_by_how_much(counter: Counter) -> None:
    """The frame takes 2354 of 2400 mm: 54 less are 27 narrower, 46 more 23, so it jumps at 24; at 10.00 a metre. The mats
    are a quarter of 1200 × 1000, which is 600 × 500 as well as they are: with the next half millimetre it is a half.
    Glass goes evenly with its area.
    """
    page = counter.post("/quotes?live=1", TYPED)
    told = [[words(item) for item in each.iter("li")] for each in page.each("price-steps")]
    assert told[0] == [
        "Would be 1.00 less if 27 mm narrower or lower (2.3 m charged)",
        "Would be 1.00 more if 23.5 mm wider or higher (2.5 m charged)",
    ]
    assert told[1] == ["Would be 10.00 more if 0.5 mm wider or higher (1/2 of a sheet)"]
    assert not any(
        "Float glass" in (each.get("aria-label") or "") for each in page.each("price-steps")
    )


def test_a_price_that_was_agreed_before_says_nothing_of_sizes_near_by(
    counter: Counter, stocked: Store
) -> None:
    order = saved(stocked)
    form = {**counter.get(f"/orders/{order}/pieces/1/change").fields, "artwork.title": "Dusk"}
    page = counter.post(f"/orders/{order}/pieces/1?live=1", form)
    assert page.words("price") == TO_PAY
    assert not page.has("price-steps")


def test_the_button_of_a_browser_without_scripts_shows_the_same(counter: Counter) -> None:
    """What the button posts is answered with the same page as what is sent while typing."""
    live = counter.post("/quotes?live=1", TYPED)
    button = counter.post("/quotes", {**TYPED, "action": "recalculate"})
    assert button.status == 200
    assert button.words("price") == TO_PAY
    assert keyless(button.text) == keyless(live.text)


def test_working_it_out_keeps_nothing(counter: Counter, stocked: Store) -> None:
    counter.post("/quotes?live=1", save_form())
    counter.post("/quotes", save_form(action="recalculate"))
    with stocked.reading() as work:
        assert work.order_lists.count() == 0
        assert work.customers.listed().total == 0


def test_what_was_understood_stands_beside_what_was_typed(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", {**TYPED, "artwork.size": "16 1/8 x 12in"})
    # 16 1/8 in = 409.575 mm, to a tenth 409.6; 12 in = 304.8 mm
    assert "409.6 × 304.8 mm" in page.words(id="artwork-size-said")
    assert page.fields["artwork.size"] == "16 1/8 x 12in"


def test_a_material_typed_by_its_code_says_its_name(counter: Counter) -> None:
    typed = {**TYPED, "glazing.material": "Float glass 2 mm", "frames.0.material": "limew"}
    page = counter.post("/quotes?live=1", typed)
    assert page.words(id="mats-0-material-said") == "Chalk white"
    assert page.words(id="mats-1-material-said") == "Slate blue"
    assert page.words(id="frames-0-material-said") == "Linden, limewashed"
    assert page.words(id="hardware-0-material-said") == "Hanging ring"
    assert page.words(id="glazing-material-said") == "", "it is its name that was typed"


def test_mats_that_a_canvas_has_no_use_for_say_so_and_stay_typed(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", {**TYPED, "presentation": "canvas"})
    assert page.words(id="mats-0-material-said") == "not used here"
    assert page.fields["mats.0.material"] == "M-101"


def test_a_name_stands_at_its_own_row_where_one_before_is_blank(counter: Counter) -> None:
    typed = {
        **TYPED,
        "hardware.0.material": "",
        "hardware.0.count": "",
        "hardware.1.material": "R-1",
    }
    page = counter.post("/quotes?live=1", typed)
    assert page.words(id="hardware-0-material-said") == ""
    assert page.fields["hardware.1.material"] == "R-1"
    assert page.words(id="hardware-1-material-said") == "Hanging ring"


@pytest.mark.parametrize("view", ["seen", "measured", "section", "wall"])
def test_each_view_of_the_drawing_can_be_asked_for(counter: Counter, view: str) -> None:
    page = counter.post("/quotes?live=1", {**TYPED, "view": view})
    assert page.has(tag="svg")
    chosen = [radio for radio in page.each(tag="input") if radio.get("checked") is not None]
    assert [radio.get("value") for radio in chosen if radio.get("name") == "view"] == [view]


def test_an_unknown_view_is_the_usual_one(counter: Counter) -> None:
    assert counter.post("/quotes?live=1", {**TYPED, "view": "<x>"}).status == 200


def test_a_rush_and_a_discount_are_worked_out_on_the_sum(counter: Counter) -> None:
    """103.51 less 10 % (10.351, half up 10.35) is 93.16; with 25 % (23.29) 116.45."""
    page = counter.post("/quotes?live=1", {**TYPED, "discount": "10", "rush": "1"})
    price = page.words(id="price")
    assert page.words("price") == "116.45"
    assert "Discount \N{MINUS SIGN}10.35" in price
    assert "Rush 23.29" in price


# --- keeping it ------------------------------------------------------------------------------


def test_a_saved_quote_is_answered_by_its_own_page_with_the_price(counter: Counter) -> None:
    answer = counter.post("/quotes", save_form())
    assert (answer.status, answer.location) == (303, "/orders/1#take")
    page = counter.get(answer.location)
    assert page.heading == "Quote Q-2026-0001"
    assert "Amber Quill" in page.words("order-head")
    assert page.words("price") == TO_PAY
    assert page.facts.items() >= FACTS.items()
    assert "The quote is saved as Q-2026-0001." in page.main
    assert "Fri 25 Dec 2026" in page.main  # valid for 30 days from 25 November


def test_the_word_about_what_was_done_is_said_once(counter: Counter) -> None:
    counter.go("/quotes", save_form())
    assert "The quote is saved" not in counter.get("/orders/1").main


def test_an_unknown_name_is_a_new_customer(counter: Counter, stocked: Store) -> None:
    form = save_form(customer__phone="0123 456", customer__email="amber@quill.example")
    counter.go("/quotes", form)
    with stocked.reading() as work:
        (customer,) = work.customers.listed().rows
        assert (customer.name, customer.phone, customer.email) == (
            "Amber Quill",
            "0123 456",
            "amber@quill.example",
        )


def test_a_known_customer_is_found_by_label_and_by_name(counter: Counter, stocked: Store) -> None:
    saved(stocked, "Amber Quill")
    counter.go("/quotes", save_form(customer="Amber Quill #1"))
    counter.go("/quotes", save_form(customer="amber quill"))
    with stocked.reading() as work:
        assert work.customers.listed().total == 1
        assert work.order_lists.count() == 3


def test_the_only_customer_of_a_name_like_it_can_be_taken_without_javascript(
    counter: Counter, stocked: Store
) -> None:
    """A part of a name may be that of somebody new, so it is offered and not taken."""
    saved(stocked, "Amber Quill")
    page = counter.post("/quotes", save_form(customer="amb", action="recalculate"))
    assert page.words(id="customer-said") == "new customer"
    assert page.words(id="customer-question") == "Somebody known? Amber Quill #1"
    (button,) = (each for each in page.each(tag="button") if words(each) == "Amber Quill #1")
    taken = counter.post("/quotes", save_form(customer="amb", action=button.get("value") or ""))
    assert taken.fields["customer"] == "Amber Quill #1"
    assert taken.words(id="customer-question") == ""
    assert "for Amber Quill" in taken.words("subheading")
    counter.go("/quotes", save_form(customer="Amber Quill #1"))
    with stocked.reading() as work:
        assert work.customers.listed().total == 1


def test_a_part_of_a_phone_or_email_is_the_only_customer_who_has_it(
    counter: Counter, stocked: Store
) -> None:
    counter.go(
        "/quotes", save_form(customer__phone="0123 456", customer__email="amber@quill.example")
    )
    for part in ("123 456", "amber@"):
        page = counter.post("/quotes?live=1", {**TYPED, "customer": part})
        assert page.words(id="customer-said") == "known customer: Amber Quill"
        counter.go("/quotes", save_form(customer=part))
    with stocked.reading() as work:
        assert work.customers.listed().total == 1


def test_who_is_meant_is_said_while_typing(counter: Counter, stocked: Store) -> None:
    """A slip in a known name would otherwise make a second customer without a word."""

    def said(**form: str) -> str:
        typed = {name.replace("__", "."): text for name, text in form.items()}
        return counter.post("/quotes?live=1", {**TYPED, **typed}).words(id="customer-said")

    saved(stocked, "Amber Quill")
    assert said(customer="") == ""
    assert said(customer="Amber Quil") == "new customer"
    assert said(customer="amber quill") == "known customer"
    assert said(customer="Amber Quill #1") == "known customer"
    anew = {"customer__new": "Amber Quill"}  # as is asked, since the known one may have this phone
    counter.go("/quotes", save_form(customer__phone="111 222", **anew))
    assert said(customer="Amber Quill", customer__phone="333") == "new customer"
    counter.go("/quotes", save_form(customer__phone="333 444", **anew))
    assert said(customer="Amber Quill") == "3 of this name"
    assert said(customer="Amber Quill", customer__phone="333444") == "known customer"


def test_a_quote_begun_at_a_customers_page_names_them(counter: Counter, stocked: Store) -> None:
    saved(stocked, "Amber Quill")
    page = counter.get("/quotes/new?customer=1")
    assert page.fields["customer"] == "Amber Quill #1"
    assert "for Amber Quill" in page.words("subheading")
    assert counter.get("/quotes/new?customer=99").status == 404
    assert counter.get("/quotes/new?customer=abc").status == 422


def test_a_name_that_two_customers_share_is_asked_about(counter: Counter, stocked: Store) -> None:
    counter.go("/quotes", save_form(customer__phone="111 222"))
    counter.go("/quotes", save_form(customer__phone="333 444"))
    answer = counter.post("/quotes", save_form())
    assert answer.status == 422
    assert "2 customers are called “Amber Quill”" in answer.error("customer")
    assert answer.fields.items() >= TYPED.items()
    counter.go("/quotes", save_form(customer__phone="333444"))
    with stocked.reading() as work:
        assert work.customers.listed().total == 2


def test_a_quote_without_a_customer_is_not_kept_and_nothing_typed_is_lost(counter: Counter) -> None:
    answer = counter.post("/quotes", save_form(customer="  "))
    assert answer.status == 422
    assert "The name is empty" in answer.error("customer")
    assert answer.fields.items() >= TYPED.items()
    assert answer.words("price") == TO_PAY


def test_faults_of_the_customer_and_of_the_piece_are_said_at_once(counter: Counter) -> None:
    form = save_form(customer="", artwork__size="16x", discount="120", customer__email="nowhere")
    answer = counter.post("/quotes", form)
    assert answer.status == 422
    assert answer.error("artwork.size")
    assert answer.error("discount")
    assert answer.error("customer")
    assert answer.fields["customer.email"] == "nowhere"


def test_html_in_a_name_is_shown_as_it_was_typed(counter: Counter) -> None:
    name = "<script>alert(1)</script> & Söhne"
    page = counter.go("/quotes", save_form(customer=name, artwork__title="<b>Dusk</b>"))
    assert name in page.words("order-head")
    assert "<b>Dusk</b>" in page.main
    assert not any("alert" in words(script) for script in page.each(tag="script"))
    assert "<b>Dusk</b>" not in page.text


def test_a_name_that_is_too_long_is_said_and_kept(counter: Counter) -> None:
    answer = counter.post("/quotes", save_form(customer="Q" * 10_000))
    assert answer.status == 422
    assert "10000 characters" in answer.error("customer")
    assert answer.fields["customer"] == "Q" * 10_000


# --- bad input -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "given"),
    [(path, given) for path, givens in BAD.items() for given in givens],
    ids=lambda value: value[:14] or "empty",
)
def test_bad_input_is_said_beside_its_field_and_kept(
    shared_counter: Counter, path: str, given: str
) -> None:
    form = {**save_form(), path: given}
    answer = shared_counter.post("/quotes", form)
    assert answer.status == 422
    sentence = answer.error(path).removeprefix("Error: ")
    assert sentence.endswith((".", "!", "?"))
    assert len(sentence) < 300, "a person reads it"
    kept = {name: value for name, value in form.items() if name != "action"}
    assert answer.fields.items() >= kept.items()
    assert answer.has("error-summary")
    links = [link.get("href") for link in answer.one("error-summary").iter("a")]
    target = path.replace(".", "-").replace("_", "-")
    assert f"#{target}" in links
    assert answer.has(id=target)
    assert shared_counter.get("/orders/1").status == 404, "nothing was kept"


@pytest.mark.parametrize("path", ["artwork.title", "artwork.condition", "artwork.place"])
def test_a_text_that_is_too_long_is_said_and_kept(shared_counter: Counter, path: str) -> None:
    answer = shared_counter.post("/quotes", {**save_form(), path: TOO_LONG})
    assert answer.status == 422
    assert "10000 characters" in answer.error(path)
    assert answer.fields[path] == TOO_LONG


@pytest.mark.parametrize(
    ("path", "value"), [("presentation", "shadow"), ("sizing", "x"), ("artwork.kind", "<b>")]
)
def test_a_choice_that_is_not_offered_is_refused(
    shared_counter: Counter, path: str, value: str
) -> None:
    answer = shared_counter.post("/quotes", {**save_form(), path: value})
    assert answer.status == 422
    assert "is not a choice here" in answer.error(path)


def test_an_impossible_piece_says_all_its_faults_at_their_fields(shared_counter: Counter) -> None:
    """An overlap of 160 at each edge takes 320 of 310: nothing of the height is left."""
    answer = shared_counter.post("/quotes", save_form(overlap="160"))
    assert answer.status == 422
    assert "160 mm" in answer.error("overlap")
    assert "310 mm" in answer.error("overlap")


def test_sizes_are_exampled_in_the_unit_worked_in(shared_counter: Counter) -> None:
    """A bare 16x20 in a shop of millimetres is 16 × 20 mm, so it is no example of a size there."""
    bare = shared_counter.get("/quotes/new").words(id="artwork-size-hint")
    assert bare == '400 x 500, 30 x 40 cm, 16x20", A3 …'
    inches = shared_counter.post("/quotes?live=1", {"artwork.size": "16x20", "unit": "in"})
    assert inches.words(id="artwork-size-hint").startswith("16x20, ")


def test_a_package_is_exampled_in_the_unit_worked_in_as_usual_frames_are(
    shared_counter: Counter,
) -> None:
    """The live form gets it with its answer, whichever unit the page began with."""
    said = {
        unit: shared_counter.post(
            "/quotes?live=1", {"artwork.size": "A3", "unit": unit}, **{"x-partial": "1"}
        ).words(id="package-size-hint")
        for unit in ("mm", "in")
    }
    assert said == {
        "mm": '500 x 600, 50 x 60 cm, 20x24" …',
        "in": "20x24, 20 1/4 x 24, 50 x 60 cm …",
    }


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "61 x 40 mm",
            "61 × 40 mm · 2 13/32 × 1 9/16 in",
        ),  # 61 / 25.4 = 2.4016, 40 / 25.4 = 1.5748
        ("16 mm x 20 mm", "16 × 20 mm · 5/8 × 25/32 in"),  # 0.6299, 0.7874
    ],
)
def test_what_a_size_was_understood_as_stands_beside_it(
    shared_counter: Counter, typed: str, said: str
) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "artwork.size": typed})
    assert page.words(id="artwork-size-said") == said


def test_a_material_that_is_not_in_the_book_is_said_at_its_field(shared_counter: Counter) -> None:
    answer = shared_counter.post("/quotes", save_form(frames__0__material="nothing like it"))
    assert answer.status == 422
    assert "No moulding called “nothing like it”" in answer.error("frames.0.material")
    assert answer.fields["frames.0.material"] == "nothing like it"


def test_a_part_of_a_name_stands_for_the_only_match(shared_counter: Counter) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "frames.0.material": "limew"})
    assert page.words("price") == TO_PAY


def test_a_part_that_several_match_is_asked_about(shared_counter: Counter) -> None:
    answer = shared_counter.post("/quotes", save_form(glazing__material="mm"))
    assert answer.status == 422
    assert "2 glazings match “mm”: choose one" in answer.error("glazing.material")


def test_a_material_of_another_kind_is_not_taken(shared_counter: Counter) -> None:
    answer = shared_counter.post("/quotes", save_form(glazing__material="LIN-20"))
    assert answer.status == 422
    assert "No glazing called “LIN-20”" in answer.error("glazing.material")


def test_an_empty_row_before_a_filled_one_is_said(shared_counter: Counter) -> None:
    answer = shared_counter.post("/quotes", save_form(mats__0__material=""))
    assert answer.status == 422
    assert "The mat 1 is empty" in answer.error("mats.0.material")


def test_an_extra_row_appears_when_the_last_one_is_filled(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", TYPED)
    assert {"mats.2.material", "hardware.1.material"} <= page.fields.keys()
    assert "hardware.2.material" not in page.fields


# --- a further piece -------------------------------------------------------------------------


def test_a_further_piece_is_added_to_its_quote(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/new")
    assert "Amber Quill" in page.words("subheading")
    assert "customer" not in page.fields
    form = {**TYPED, "version": page.fields["version"], "action": "save"}
    order = counter.go("/orders/1/pieces", form)
    # 103.51 + 103.51 = 207.02; tax 207.02 × 20 / 120 = 34.503…
    assert "2 pieces, with tax 207.02" in order.main
    assert "34.50" in order.main


def test_a_further_piece_from_a_stale_page_is_kept_from_being_lost(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    version = counter.get("/orders/1/pieces/new").fields["version"]
    note = counter.get("/orders/1").form("/orders/1/terms")
    counter.go("/orders/1/terms", {**note, "note": "ring before"})
    form = {**TYPED, "artwork.title": "A second one", "version": version, "action": "save"}
    answer = counter.post("/orders/1/pieces", form)
    assert answer.status == 409
    assert answer.fields.items() >= {**TYPED, "artwork.title": "A second one"}.items()
    again = {**form, "version": answer.fields["version"]}
    assert "A second one" in counter.go("/orders/1/pieces", again).main


# --- a piece changed, in one tab and in two --------------------------------------------------


def test_a_piece_comes_back_as_it_was_typed(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/1/change")
    assert page.fields.items() >= TYPED.items()
    assert page.fields["borders.right"] == ""


def test_an_untouched_piece_to_change_shows_what_it_comes_to(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/1/change")
    assert (page.status, page.words("price")) == (200, TO_PAY)


def test_a_changed_piece_is_agreed_anew(counter: Counter, stocked: Store) -> None:
    """Without glass 15.00 and its 6.4 min (3.84) fall away: 62.52 − 6.4 = 56.12 min = 33.67."""
    saved(stocked)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    changed = {**form, "glazing.material": ""}
    seen = counter.post("/orders/1/pieces/1", {**changed, "action": "recalculate"}).fields["seen"]
    page = counter.go("/orders/1/pieces/1", {**changed, "seen": seen, "action": "save"})
    # 24 + 10 + 10 + 6 + 1 + 33.67 = 84.67
    assert page.words("price") == "84.67"


DESCRIBED = {
    "artwork.title": "Reeds at low water",
    "artwork.kind": "pastel",
    "artwork.condition": "foxed at the left",
    "artwork.declared_value": "250",
    "artwork.place": "Rack C",
}


def record(page: Shown) -> list[str]:
    return [words(line) for part in page.each("history") for line in part.iter("li")]


def test_describing_the_artwork_anew_leaves_the_price_as_it_was_agreed(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    saved(stocked)
    raise_the_moulding(stocked)
    clock.time = NOW.replace(day=27)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    page = counter.go("/orders/1/pieces/1", {**form, **DESCRIBED, "action": "save"})
    assert page.words("price") == TO_PAY
    assert "its price stays as agreed" in page.main
    for said in ("Reeds at low water", "pastel", "Rack C", "priced Wed 25 Nov"):
        assert said in page.main
    assert record(page) == [
        "title, kind, condition, declared value, place changed, price as agreed "
        "Fri 27 Nov 2026, 10:30"
    ]
    assert counter.get("/orders/1/pieces/1/change").fields.items() >= DESCRIBED.items()


def test_a_kept_price_is_said_while_only_the_artwork_is_described_anew(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    raise_the_moulding(stocked)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    page = counter.post("/orders/1/pieces/1", {**form, "artwork.title": "Reeds"})
    assert page.words("price") == TO_PAY
    assert "as agreed Wed 25 Nov 2026" in page.words("price-label")
    again = counter.post("/orders/1/pieces/1", {**form, "discount": "10"})
    assert again.words("price") == "93.16"  # 103.51 − 10.35, at the agreed moulding
    again = counter.post("/orders/1/pieces/1", {**form, "discount": "10", "todays_prices": "1"})
    assert again.words("price") == "95.32"  # 105.91 − 10.59, at today's moulding
    assert "as agreed" not in again.main


def test_a_price_that_is_kept_anew_keeps_the_artwork_as_it_was_described_last(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    counter.go("/orders/1/pieces/1", {**form, **DESCRIBED, "action": "save"})
    raise_the_moulding(stocked)
    form = counter.get("/orders/1/pieces/1/price-again").form("/orders/1/pieces/1/price-again")
    page = counter.go("/orders/1/pieces/1/price-again", form)
    assert page.words("price") == "105.91"
    assert "Reeds at low water" in page.main
    assert record(page)[0].startswith("changed: 103.51 → 105.91")
    assert counter.get("/orders/1/pieces/1/change").fields.items() >= DESCRIBED.items()


def test_the_title_can_be_changed_when_a_material_is_gone(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    delete_the_moulding(stocked)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    page = counter.go("/orders/1/pieces/1", {**form, "artwork.title": "Reeds", "action": "save"})
    assert "Reeds" in page.main
    assert page.words("price") == TO_PAY


def test_a_bad_fact_of_the_artwork_is_said_beside_it_and_nothing_is_kept(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    bad = {**form, "artwork.title": "Reeds", "artwork.declared_value": "much", "action": "save"}
    page = counter.post("/orders/1/pieces/1", bad)
    assert page.status == 422
    assert page.fields["artwork.declared_value"] == "much"
    assert "Reeds" not in counter.get("/orders/1").main


def two_tabs(counter: Counter) -> dict[str, str]:
    """Two tabs change the title; the first saves. Returns the form of the second."""
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    counter.go("/orders/1/pieces/1", {**form, "artwork.title": "From tab one", "action": "save"})
    return {**form, "artwork.title": "From tab two", "mats.1.reveal": "12", "action": "save"}


def test_the_second_of_two_tabs_sees_both_versions(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.post("/orders/1/pieces/1", two_tabs(counter))
    assert page.status == 409
    assert page.heading == "Two versions"
    rows = [[words(cell) for cell in row.iter("td")] for row in page.each(tag="tr")]
    assert ["From tab one", "From tab two"] in [row[-2:] for row in rows]
    assert ["10", "12"] in [row[-2:] for row in rows]
    assert f"Stored now ({TO_PAY})" in page.main
    stored = counter.get("/orders/1")
    assert "From tab one" in stored.main
    assert "From tab two" not in stored.main


def test_only_what_differs_is_shown_of_two_versions(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.post("/orders/1/pieces/1", two_tabs(counter))
    rows = [row for body in page.each(tag="tbody") for row in body.iter("tr")]
    assert len(rows) == 2


def test_what_was_typed_in_the_second_tab_can_be_kept(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.post("/orders/1/pieces/1", two_tabs(counter))
    form = page.form("/orders/1/pieces/1")
    order = counter.go("/orders/1/pieces/1", {**form, "action": "save"})
    assert "From tab two" in order.main
    # reveal 12: window 1 is 400 + 24 = 424, so the package is 90 + 424 + 90 = 604
    assert order.facts["window of mat 1"] == "424 × 324 mm"


def test_what_is_stored_can_be_kept(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.post("/orders/1/pieces/1", two_tabs(counter))
    assert page.links("actions")["Cancel"] == "/orders/1"


def test_what_was_typed_can_be_gone_on_with(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.post("/orders/1/pieces/1", two_tabs(counter))
    form = page.form("/orders/1/pieces/1")
    again = counter.post("/orders/1/pieces/1", {**form, "action": "recalculate"})
    assert again.fields["artwork.title"] == "From tab two"
    order = counter.go("/orders/1/pieces/1", {**again.form("/orders/1/pieces/1"), "action": "save"})
    assert "From tab two" in order.main


@pytest.mark.parametrize("version", ["", "-1", "NaN", "9" * 30, "٣"])
def test_a_version_that_is_none_counts_as_old(
    counter: Counter, stocked: Store, version: str
) -> None:
    saved(stocked)
    answer = counter.post("/orders/1/pieces/1", {**TYPED, "version": version, "action": "save"})
    assert answer.status == 409


# --- an old quote ----------------------------------------------------------------------------


def test_a_later_price_never_alters_a_quote(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    raise_the_moulding(stocked)
    page = counter.get("/orders/1")
    assert page.words("price") == TO_PAY


def raise_the_moulding(store: Store) -> None:
    """4.00 a metre becomes 4.40."""
    kept = price_book.get(store, "LIN-20")
    dearer = type(kept.value)(**{**fields_of(kept.value), "cost": euro("4.40")})
    price_book.save(store, "LIN-20", dearer, kept.version, ACT)


def fields_of(value: Any) -> dict[str, Any]:
    return {name: getattr(value, name) for name in value.__dataclass_fields__}


def test_pricing_again_shows_old_and_new_and_keeps_the_old_until_asked(
    counter: Counter, stocked: Store
) -> None:
    """4.40 × 2.5 = 11.00 a metre: 2.4 m come to 26.40, so 105.91 in all."""
    saved(stocked)
    raise_the_moulding(stocked)
    page = counter.get("/orders/1/pieces/1/price-again")
    rows = {
        words(row[0]): [words(cell) for cell in row[1:]]
        for body in page.each(tag="tbody")
        for row in body.iter("tr")
    }
    assert [row for label, row in rows.items() if "Linden" in label] == [["24.00", "26.40"]]
    assert "changed" in next(label for label in rows if "Linden" in label)
    assert "103.51 105.91" in page.words(tag="tfoot")
    assert counter.get("/orders/1").words("price") == TO_PAY
    form = page.form("/orders/1/pieces/1/price-again")
    assert counter.go("/orders/1/pieces/1/price-again", form).words("price") == "105.91"


def test_the_lines_of_both_prices_add_up_to_what_is_to_pay(
    counter: Counter, stocked: Store
) -> None:
    """A tenth of 103.51 and of 105.91 comes off: 103.51 − 10.35 = 93.16, 105.91 − 10.59 = 95.32."""
    saved(stocked, typed={**TYPED, "discount": "10"})
    raise_the_moulding(stocked)
    page = counter.get("/orders/1/pieces/1/price-again")
    assert "Discount −10.35 −10.59" in page.words(tag="tbody")
    assert "93.16 95.32" in page.words(tag="tfoot")


def test_pricing_again_on_the_same_day_changes_nothing(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/1/price-again")
    assert "Nothing has changed." in page.main
    assert "changed" not in page.words(tag="table")


def test_a_quote_goes_out_of_date_after_its_last_day(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    saved(stocked)
    clock.time = NOW.replace(month=12, day=25)
    assert "expired" not in counter.get("/orders/1").main
    clock.time = NOW.replace(month=12, day=26)
    page = counter.get("/orders/1")
    assert "expired" in page.main
    assert page.words("price") == TO_PAY


def delete_the_moulding(store: Store) -> None:
    price_book.remove(store, "LIN-20", price_book.get(store, "LIN-20").version)


def test_a_quote_outlives_the_materials_that_it_names(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    delete_the_moulding(stocked)
    for path in ("/orders/1", "/orders/1/pieces/1", "/"):
        assert counter.get(path).status == 200
    page = counter.get("/orders/1")
    assert page.words("price") == TO_PAY
    assert page.facts["moulding"] == "Linden, limewashed (LIN-20)"
    assert "630" in counter.get("/orders/1/pieces/1").main


def test_pricing_again_leads_to_the_field_of_a_material_that_is_gone(
    counter: Counter, stocked: Store
) -> None:
    saved(stocked)
    form = counter.get("/orders/1/pieces/1/price-again")
    delete_the_moulding(stocked)
    for answer in (
        counter.get("/orders/1/pieces/1/price-again"),
        counter.post("/orders/1/pieces/1/price-again", {"version": "1", **form.fields}),
    ):
        assert (answer.status, answer.location) == (303, "/orders/1/pieces/1/change")
        page = counter.get(answer.location)
        assert "No moulding called “LIN-20”" in page.error("frames.0.material")
    assert counter.get("/orders/1").words("price") == TO_PAY


def test_changing_a_piece_names_the_material_that_is_gone(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    delete_the_moulding(stocked)
    page = counter.get("/orders/1/pieces/1/change")
    assert "No moulding called “LIN-20”" in page.error("frames.0.material")
    assert page.fields.items() >= TYPED.items()


@pytest.mark.parametrize(
    "path",
    [
        "/orders/7",
        "/orders/7/pieces/1",
        "/orders/7/pieces/new",
        "/orders/7/pieces/1/change",
        "/orders/7/pieces/1/price-again",
        "/orders/1/pieces/9",
        "/orders/1/pieces/9/change",
        "/orders/1/pieces/9/price-again",
    ],
)
def test_what_is_not_there_is_said_so(counter: Counter, stocked: Store, path: str) -> None:
    saved(stocked)
    assert counter.get(path).status == 404


@pytest.mark.parametrize("path", ["/orders/abc", "/orders/1/pieces/x", "/orders/1e9", "/orders/-1"])
def test_an_address_that_names_no_order_is_no_bug(counter: Counter, path: str) -> None:
    assert counter.get(path).status == 404


@pytest.mark.parametrize("number", ["99999999999999999999999", str(2**63)])
def test_a_number_too_large_for_any_order_is_not_found(counter: Counter, number: str) -> None:
    assert counter.get(f"/orders/{number}").status == 404
    assert counter.get(f"/orders/{number}/pieces/{number}").status == 404
    assert counter.get(f"/orders/{number}/quote.pdf").status == 404
    assert counter.get(f"/orders/{number}/pieces/1/ticket.pdf").status == 404
    assert counter.get(f"/customers/{number}").status == 404
    assert counter.get(f"/quotes/new?customer={number}").status == 404
