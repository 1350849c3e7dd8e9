"""A size said without its unit: asked about at its field, drawn and priced as the likely one meanwhile (L4).

The worked piece of tests/builders/worked is 410 × 310; said as "41x31" in its shop of millimetres it is 41 × 31 cm, since
41 is under 60 mm and 41 × 31 in are no usual size either. The longest sheet of the price book is 1600 mm, of glass.
"""

from dataclasses import replace
from datetime import date

import pytest

from app.lengths import Size, mm
from app.orders.quoting.agreement import agree
from app.services import price_book, quotes
from app.services.orders import NewPiece, QuoteHead, save_quote
from app.storage import Store
from tests.builders.worked import ACRYLIC, GLASS, SHOP, TO_PAY, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown
from tests.web.test_quotes import ACT, save_form, saved

SAID = {**TYPED, "artwork.size": "41x31"}


def asked(page: Shown, path: str = "artwork.size") -> str:
    """What is asked at a field, and the words of the buttons that answer."""
    return page.words(id=f"{path.replace('.', '-')}-question")


def test_a_doubtful_size_is_drawn_and_priced_as_the_likely_one_and_asked_about(
    shared_counter: Counter,
) -> None:
    page = shared_counter.post("/quotes?live=1", SAID)
    assert page.status == 200, "while one types it is no fault"
    assert page.words("price") == TO_PAY
    assert page.has("drawing-front")
    assert asked(page) == "cm, in or mm? Taken as 41x31 cm. 41x31 cm 41x31 in 41x31 mm"
    # 410 / 25.4 = 16.1417, nearest thirty-second 16 5/32; 310 / 25.4 = 12.2047, 12 7/32.
    assert page.words(id="artwork-size-said") == "410 × 310 mm · 16 5/32 × 12 7/32 in"
    assert "Taken as 41x31 cm until you say." in page.words(id="drawing")
    assert "Taken as 41x31 cm until you say." in page.words(id="price")
    assert page.fields["artwork.size"] == "41x31"
    assert page.error("artwork.size") == ""


@pytest.mark.parametrize(
    ("unit", "typed", "said"),
    [
        ("mm", "50x70", "500 × 700 mm · 19 11/16 × 27 9/16 in"),  # 19.685, 27.559
        ("mm", "42 x 29,7", "420 × 297 mm · 16 17/32 × 11 11/16 in"),  # 16.535, 11.693
        ("mm", "16x20", "406.4 × 508 mm · 16 × 20 in"),
        ("mm", "70 x 100", "700 × 1000 mm · 27 9/16 × 39 3/8 in"),  # 27.559, 39.370
        ("in", "400 x 500", "15 3/4 × 19 11/16 in · 400 × 500 mm"),  # 15.748, 19.685
    ],
)
def test_the_question_is_about_what_was_said_and_not_about_the_unit_worked_in(
    shared_counter: Counter, unit: str, typed: str, said: str
) -> None:
    page = shared_counter.post("/quotes?live=1", {"unit": unit, "artwork.size": typed})
    assert page.words(id="artwork-size-said") == said
    assert page.fields["unit"] == unit
    assert asked(page).startswith("cm, in or mm? Taken as ")


@pytest.mark.parametrize(
    ("unit", "typed"),
    [
        ("mm", "297 x 420"),
        ("mm", "100 x 150"),
        ("mm", "50x70 mm"),
        ("mm", '16x20"'),
        ("mm", "A9"),
        ("in", "16x20"),
        ("in", "400 x 500 mm"),
    ],
)
def test_a_usual_size_a_mark_and_a_name_are_not_asked_about(
    shared_counter: Counter, unit: str, typed: str
) -> None:
    page = shared_counter.post("/quotes?live=1", {"unit": unit, "artwork.size": typed})
    assert asked(page) == ""
    assert "Taken as" not in page.main


def test_saving_with_the_question_open_is_refused_with_it_and_nothing_is_lost(
    counter: Counter, stocked: Store
) -> None:
    answer = counter.post("/quotes", save_form(artwork__size="41x31"))
    assert answer.status == 422
    assert (
        answer.error("artwork.size") == "Error: “41x31” may be meant in cm, in or mm; choose which."
    )
    assert "“41x31” may be meant in cm, in or mm" in answer.words("error-summary")
    assert asked(answer).endswith("41x31 cm 41x31 in 41x31 mm")
    assert answer.words("price") == TO_PAY
    assert answer.fields.items() >= {**SAID, "customer": "Amber Quill"}.items()
    with stocked.reading() as work:
        assert work.order_lists.count() == 0


def test_the_question_is_among_the_other_faults_of_a_form_that_came_back(counter: Counter) -> None:
    form = save_form(customer="", artwork__size="41x31", frames__0__material="zz9")
    answer = counter.post("/quotes", form)
    assert "“41x31” may be" in answer.error("artwork.size")
    assert "“zz9”" in answer.error("frames.0.material")
    assert answer.error("customer")
    assert "without the frame" in answer.words(id="drawing")
    assert "as if “41x31” were not typed" not in answer.words(id="drawing")


def test_an_answer_is_a_mark_in_the_size_and_is_kept_with_the_piece(
    counter: Counter, stocked: Store
) -> None:
    """The button without JavaScript; then saved, opened again, changed: it is asked once."""
    form = save_form(artwork__size="41x31", action="say:artwork.size:41x31 cm")
    answered = counter.post("/quotes", form)
    assert answered.status == 200
    assert answered.fields["artwork.size"] == "41x31 cm"
    assert asked(answered) == ""
    assert answered.words("price") == TO_PAY
    order = counter.post("/quotes", {**form, "artwork.size": "41x31 cm", "action": "save"}).address
    again = counter.get(f"{order}/pieces/1/change")
    assert again.fields["artwork.size"] == "41x31 cm"
    assert asked(again) == ""
    with stocked.reading() as work:
        spec = work.orders.get(1).pieces[0].agreed.spec
    assert spec.artwork == Size(mm(410), mm(310))
    assert spec.unit.value == "mm"


def test_a_button_fills_only_fields_of_the_form(counter: Counter) -> None:
    page = counter.post("/quotes", {**SAID, "version": "3", "action": "say:version:4"})
    assert page.fields["version"] == "3"


@pytest.mark.parametrize(
    ("path", "fields"),
    [
        ("package.size", {"sizing": "package", "package.size": "50 x 60"}),
        ("windows.0.size", {"windows.0.size": "30x40"}),
        ("windows.1.size", {"windows.count": "2", "windows.1.size": "10x15"}),
        ("windows.0.size", {"windows.0.size": "30x40", "windows.0.kind": "hole"}),
        ("windows.0.size", {"windows.0.size": "30x40", "artwork.size": ""}),
    ],
)
def test_every_size_that_a_customer_says_is_asked_about(
    shared_counter: Counter, path: str, fields: dict[str, str]
) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, **fields})
    assert asked(page, path) == (
        f"cm, in or mm? Taken as {fields[path]} cm. {fields[path]} cm {fields[path]} in {fields[path]} mm"
    )
    refused = shared_counter.post("/quotes", save_form() | fields)
    assert refused.status == 422
    assert "may be meant in cm, in or mm" in refused.error(path)
    assert "Take one of these" not in refused.main, "an answer is no standard size to take"


def test_a_size_that_is_not_used_and_a_title_slot_are_not_asked_about(
    shared_counter: Counter,
) -> None:
    """A slot of 60 × 20 mm is as large as slots are; a package counts only where it is given, and says so."""
    fields = {"package.size": "50 x 60", "windows.0.slot": "60x20", "windows.1.size": "10x15"}
    page = shared_counter.post("/quotes?live=1", {**TYPED, **fields})
    assert page.status == 200
    assert asked(page, "package.size").startswith("Not used: the borders are fixed")
    assert asked(page, "windows.1.size") == ""
    assert "Taken as" not in page.main


def test_several_doubtful_sizes_are_each_taken_and_each_asked_about(
    shared_counter: Counter,
) -> None:
    fields = {"artwork.size": "41x31", "sizing": "package", "package.size": "50 x 60"}
    page = shared_counter.post("/quotes?live=1", {**TYPED, **fields})
    assert "Taken as 41x31 cm and 50 x 60 cm until you say." in page.words(id="drawing")
    assert page.facts["glass size"] == "500 × 600 mm"


def test_the_longest_sheet_of_the_price_book_says_what_is_too_long(
    counter: Counter, stocked: Store
) -> None:
    """58 in = 1473.2 mm: glass of 1600 mm holds them, boards of 1200 mm do not."""
    typed = {"unit": "in", "artwork.size": "40 x 58"}
    assert asked(counter.post("/quotes?live=1", typed)) == ""
    for glass in (GLASS, ACRYLIC):
        price_book.save(stocked, glass.code, replace(glass, active=False), 1, ACT)
    assert asked(counter.post("/quotes?live=1", typed)).startswith(
        "cm, in or mm? Taken as 40 x 58 cm."
    )


def kept_unasked(store: Store, typed: dict[str, str]) -> None:
    """A quote as it was kept when nothing was asked: 41 × 31 mm, taken by the unit worked in."""
    with store.reading() as work:
        artwork, agreed = agree(typed, SHOP, work.materials.meant, today=NOW.date())
    saved(store)
    head = QuoteHead(customer_id=1, valid_until=date(2026, 12, 25))
    save_quote(store, head, [NewPiece(artwork=artwork, agreed=agreed)], ACT)


SMALL = {**TYPED, "artwork.size": "41x31", "overlap": "2"}


def test_a_piece_agreed_before_anything_was_asked_keeps_its_size_and_price(
    counter: Counter, stocked: Store
) -> None:
    """41 × 31 mm was what it was taken for, so that is its answer; it is not asked about now."""
    kept_unasked(stocked, SMALL)
    page = counter.get("/orders/2/pieces/1/change")
    assert page.status == 200
    assert page.fields["artwork.size"] == "41x31 mm"
    assert asked(page) == ""
    assert "as agreed" in page.words("price-label")
    form = page.fields | {"artwork.title": "A medal", "action": "save", "version": "1"}
    order = counter.go("/orders/2/pieces/1", form)
    assert "price stays as agreed" in order.main
    assert counter.get("/orders/2/pieces/1/price-again").status == 200
    assert counter.go("/orders/2/pieces/1/price-again", {"version": "2"}).status == 200
    like = counter.get("/orders/2/pieces/new?like=1")
    assert like.fields["artwork.size"] == "41x31 mm"
    with stocked.reading() as work:
        assert work.orders.get(2).pieces[0].agreed.spec.artwork == Size(mm(41), mm(31))


def test_a_program_says_its_unit_and_is_not_asked(counter: Counter, stocked: Store) -> None:
    asked = {"unit": "mm", "artwork": {"size": "41x31"}, "presentation": "close"}
    answer = counter.client.post("/api/price", json=asked)
    assert answer.status_code == 200
    assert answer.json()["dimensions"]["package"] == {"width": "41", "height": "31"}
    piece = quotes.worked_out_as_given(stocked, SMALL, SHOP, today=NOW.date())
    assert piece.agreed.spec.artwork == Size(mm(41), mm(31))


IN_INCHES = {
    **TYPED,
    "artwork.size": '16x20"',
    **{f"borders.{side}": "" for side in ("right", "top", "bottom")},
}


def test_a_bare_border_of_a_size_in_inches_is_asked_about_and_taken_for_inches(
    shared_counter: Counter,
) -> None:
    """L4: 16 in less 2 x the overlap and twice 3 in of border: the glass size is over 500 mm wide, not 402."""
    page = shared_counter.post("/quotes?live=1", {**IN_INCHES, "borders.left": "3"})
    assert page.status == 200
    assert asked(page, "borders.left") == "Border left: in or mm? Taken as 3 in. 3 in 3 mm"
    assert "Taken as 3 in until you say." in page.words(id="price")
    meant = shared_counter.post("/quotes?live=1", {**IN_INCHES, "borders.left": "3 in"})
    assert asked(meant, "borders.left") == ""
    assert meant.words("price") == page.words("price")


def test_an_artwork_that_does_not_go_into_its_frame_is_refused_at_the_border(
    shared_counter: Counter,
) -> None:
    """G11, G25: an overlap of 5 over borders of 1 leaves 4 mm past each edge, more than the play of 3."""
    page = shared_counter.post("/quotes?live=1", {**TYPED, "overlap": "5", **NARROW})
    assert page.status == 422
    assert "does not go into the frame" in page.error("borders.left")
    assert "Make the border at least as wide" in page.error("borders.left")


NARROW = {"mats.1.material": "", "mats.1.reveal": ""} | {
    f"borders.{side}": "1 mm" for side in ("left", "right", "top", "bottom")
}
