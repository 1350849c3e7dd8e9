"""Designs to choose from on the pages: side by side on a quote, taken with the order or instead, compared at the counter.

Prices of the worked piece (see `tests/unit/orders/test_designs.py`): A 103.51, B 89.91 with one mat, C 118.51 with acrylic.
"""

import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.unit.orders.test_designs import ACRYLIC, ONE_MAT
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, in_another_tab, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
A, B, C = "103.51", "89.91", "118.51"


@pytest.fixture
def one(stocked: Store) -> str:
    """The address of a quote of the worked piece."""
    return (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )


@pytest.fixture
def three(counter: Counter, one: str) -> str:
    """The same with three designs, as they are added at the counter."""
    for changed in (ONE_MAT, ACRYLIC):
        another(counter, one, changed)
    return one


def another(counter: Counter, quote: str, changed: dict[str, str]) -> Shown:
    page = counter.get(f"{quote}/pieces/1/designs/new?like=1")
    form = page.form(f"{quote}/pieces/1/designs") | changed | {"action": "save"}
    return counter.go(f"{quote}/pieces/1/designs", form)


def send(counter: Counter, quote: str, act: str, **typed: str) -> Shown:
    """Send a form of the order's page as it stands, and look at the page after."""
    return counter.go(f"{quote}/{act}", filled(counter, quote, act) | typed)


def filled(counter: Counter, quote: str, act: str) -> dict[str, str]:
    return counter.get(quote).form(f"{quote}/{act}")


def cards(page: Shown) -> list[str]:
    """What is said of each design, without the words of its drawing."""
    said = [words(card) for card in page.each("design")]
    return [text[text.index("Design ") :] for text in said]


def record(page: Shown) -> list[str]:
    return [words(change) for part in page.each("history") for change in part.iter("strong")]


# --- on a quote ------------------------------------------------------------------------------


def test_another_design_begins_as_a_copy_and_is_no_further_piece(
    counter: Counter, one: str
) -> None:
    page = counter.get(f"{one}/pieces/1/designs/new")
    assert page.heading == "Another design of Harbour at dusk"
    assert page.fields["artwork.size"] == "410 x 310"
    assert page.words("price", tag="p") == A
    page = another(counter, one, ONE_MAT)
    assert "Design B of piece 1 is added." in page.main
    assert len(list(page.each("piece-card"))) == 1
    assert record(page) == ["design B added"]


def test_designs_stand_side_by_side_with_price_and_only_what_differs(
    counter: Counter, three: str
) -> None:
    page = counter.get(three)
    assert f"3 designs , {B} to {C}" in page.main
    first, second, third = cards(page)
    assert first.startswith(f"Design A {A} Choose design A")
    assert second.startswith(f"Design B {B}")
    assert third.startswith(f"Design C {C}")
    assert "Chalk white; under it Slate blue, 10 mm showing" in first
    assert "Acrylic 3 mm" in third
    assert "Float glass 2 mm" in first
    seen = second.partition("More of design B")[0]
    assert "Linden" not in seen  # the same in all
    assert "Backing" not in seen
    assert len(list(page.one("designs").iter("svg"))) >= 3


def test_the_money_of_an_open_quote_is_from_to(counter: Counter, three: str) -> None:
    page = counter.get(three)
    assert page.words("price-range") == f"{B} to {C}"
    assert f"The piece, with tax {B} to {C}" in page.words("totals")
    assert page.fields["payment.amount"] == ""
    assert f"{B} to {C}" in counter.get("/quotes").main
    assert f"{B} to {C}" in counter.get("/").main
    # half of 118.51 is 59.255, half up
    assert "usual is 50 % of what it comes to, up to 59.26" in page.main


def test_a_design_is_taken_left_open_and_removed(counter: Counter, three: str) -> None:
    page = send(counter, three, "pieces/1/designs/2/take")
    assert f"Design B of piece 1 is chosen, at {B}." in page.main
    assert page.words("price", tag="p") == B
    assert page.words("design-taken") == "design B"
    assert len(cards(page)) == 2
    assert "2 other designs, not chosen" in page.main
    page = send(counter, three, "pieces/1/designs/leave-open")
    assert page.words("price-range") == f"{B} to {C}"
    page = send(counter, three, "pieces/1/designs/3/remove")
    assert page.words("price-range") == f"{B} to {A}"
    assert record(page)[:3] == [
        "design C removed",
        "none chosen after all, design B was",
        "design B chosen",
    ]


def test_a_quote_with_one_design_looks_as_it_did(counter: Counter, one: str) -> None:
    page = counter.get(one)
    assert cards(page) == []
    assert "Compare" not in page.main
    assert page.words("price", tag="p") == A


def test_a_design_is_changed_by_itself(counter: Counter, three: str) -> None:
    address = f"{three}/pieces/1?design=3"
    page = counter.get(f"{three}/pieces/1/change?design=3")
    assert "design C" in page.words("subheading")
    assert page.fields["glazing.material"] == "A-3"
    form = page.form(address) | {"glazing.material": "", "action": "save"}
    page = counter.change(address, form)
    assert "Piece 1, design C, is changed" in page.main
    # without glazing 15.00 and 4 + 8 × 0.3 = 6.4 min go: 56.12 min × 0.60 = 33.672; 103.51 − 15.00 − 37.51 + 33.67
    assert cards(page)[2].startswith("Design C 84.67")
    assert cards(page)[0].startswith(f"Design A {A}")
    assert record(page)[0] == f"design C changed: {C} → 84.67"


def test_what_is_typed_of_the_artwork_in_one_design_stands_in_all(
    counter: Counter, three: str
) -> None:
    address = f"{three}/pieces/1?design=2"
    form = counter.get(f"{three}/pieces/1/change?design=2").form(address)
    page = counter.go(address, form | {"artwork.title": "Harbour at dawn", "action": "save"})
    assert "its price stays as agreed" in page.main
    assert record(page)[0] == "title changed, price as agreed"
    assert record(page).count("title changed, price as agreed") == 1
    assert page.words("price-range") == f"{B} to {C}"
    for design in (1, 2, 3):
        typed = counter.get(f"{three}/pieces/1/change?design={design}").fields
        assert typed["artwork.title"] == "Harbour at dawn"


def test_a_size_that_differs_is_said_with_the_way_to_mend_it(counter: Counter, one: str) -> None:
    page = another(counter, one, {"artwork.size": "400 x 310"})
    assert (
        "Design B is for an artwork of 400 × 310 mm, design A for one of 410 × 310 mm." in page.main
    )


def test_a_design_that_cannot_be_made_comes_back_as_typed(counter: Counter, one: str) -> None:
    page = counter.get(f"{one}/pieces/1/designs/new")
    form = page.form(f"{one}/pieces/1/designs") | {"glazing.material": "nothing", "action": "save"}
    answer = counter.post(f"{one}/pieces/1/designs", form)
    assert answer.status == 422
    assert answer.fields["glazing.material"] == "nothing"
    assert cards(counter.get(one)) == []


def test_a_quote_can_be_priced_again_design_by_design(counter: Counter, three: str) -> None:
    page = counter.get(f"{three}/pieces/1/price-again?design=3")
    assert page.heading == "Harbour at dusk, design C, priced again"
    assert "Nothing has changed" in page.main


# --- two tabs --------------------------------------------------------------------------------


def test_a_design_taken_in_two_tabs_is_taken_once(counter: Counter, three: str) -> None:
    take = f"{three}/pieces/1/designs/2/take"
    form = counter.get(three).form(take)
    counter.go(take, form)
    answer = counter.post(take, in_another_tab(form))
    assert answer.status == 409
    assert "changed in the meantime" in answer.words("error-summary")
    assert [each for each in record(counter.get(three)) if "chosen" in each] == ["design B chosen"]


def test_a_design_changed_in_two_tabs_shows_both(counter: Counter, three: str) -> None:
    address = f"{three}/pieces/1?design=3"
    form = counter.get(f"{three}/pieces/1/change?design=3").form(address) | {"action": "save"}
    counter.change(address, form | {"glazing.material": "G-2"})
    answer = counter.sent(address, form | {"glazing.material": ""})
    assert answer.status == 409
    assert answer.heading == "Two versions"
    assert "G-2" in answer.main
    page = counter.go(address, answer.form(address) | {"action": "save"})
    assert cards(page)[2].startswith("Design C 84.67")


# --- ordering --------------------------------------------------------------------------------


def test_the_form_of_ordering_offers_the_choice(counter: Counter, three: str) -> None:
    page = counter.get(three)
    offered = words(page.one(id="design-1"))
    assert all(text in offered for text in (f"Design A, {A}", f"Design B, {B}", f"Design C, {C}"))
    page = send(counter, three, "take", **{"design.1": "3", "deposit": "50"})
    assert page.heading == "Order 2026-0001"
    assert page.words("price", tag="p") == "68.51"  # 118.51 − 50.00
    assert record(page)[:2] == ["ordered", "design C chosen"]


def test_ordering_without_a_choice_asks_in_words_and_keeps_what_was_typed(
    counter: Counter, three: str
) -> None:
    answer = counter.post(f"{three}/take", filled(counter, three, "take") | {"deposit": "40"})
    assert answer.status == 422
    assert (
        "3 designs are offered and none of them is chosen; say which one it is to be"
        in answer.error("design.1")
    )
    assert answer.fields["deposit"] == "40"
    assert counter.get(three).heading == "Quote Q-2026-0001"


def test_a_deposit_is_held_against_the_design_that_is_chosen(counter: Counter, three: str) -> None:
    form = filled(counter, three, "take") | {"design.1": "2", "deposit": "89.92"}
    answer = counter.post(f"{three}/take", form)
    assert answer.status == 422
    assert "89.92 is more than is still to pay, 89.91" in answer.error("deposit")
    assert counter.go(f"{three}/take", form | {"deposit": B}).heading == "Order 2026-0001"


@pytest.fixture
def ordered(counter: Counter, three: str) -> str:
    send(counter, three, "take", **{"design.1": "3", "deposit": ""})
    return three


def test_on_an_order_the_others_stay_readable(counter: Counter, ordered: str) -> None:
    page = counter.get(ordered)
    assert "Another design" not in page.main
    first, second = cards(page)
    assert first.startswith(f"Design A {A} Choose design A instead")
    assert "Slate blue (M-140)" in first
    assert second.startswith(f"Design B {B}")
    assert page.buttons(f"{ordered}/pieces/1/designs/1/remove") == []
    assert "A-3" in counter.get(f"{ordered}/pieces/1").main


# C 118.51 was ordered, B is 89.91: 28.60 less.
def test_taking_another_one_instead_shows_old_new_and_difference_first(
    counter: Counter, ordered: str
) -> None:
    page = counter.get(f"{ordered}/pieces/1/designs/2/take")
    assert page.heading == "Harbour at dusk: design B instead of C"
    assert "28.60 less" in page.main
    assert page.facts["design C"] == C
    assert page.facts["design B"] == B
    assert page.facts["difference"] == "−28.60"
    assert page.facts["the order comes to"] == B
    assert "Nothing of it is in a cutting plan" in page.main
    assert counter.get(ordered).words("price", tag="p") == C
    take = f"{ordered}/pieces/1/designs/2/take"
    page = counter.go(take, page.form(take))
    assert page.words("price", tag="p") == B
    assert page.words("design-taken") == "design B"
    assert "design B chosen" in record(page)


def test_once_it_is_cut_another_one_is_refused_with_the_way_out(
    counter: Counter, ordered: str
) -> None:
    take = f"{ordered}/pieces/1/designs/2/take"
    form = counter.get(take).form(take)
    cut = counter.get(ordered).form(f"{ordered}/pieces/1/stage", stage="cut")
    page = counter.go(f"{ordered}/pieces/1/stage", cut)
    assert "instead" not in " ".join(cards(page))
    answer = counter.post(take, form | {"version": page.fields["version"]})
    assert answer.status == 409
    assert "is cut and is made by design C" in answer.words("error-summary")
    assert "undo the last change" in answer.words("error-summary")
    assert counter.get(take).status == 409


# --- compared --------------------------------------------------------------------------------


def test_at_the_counter_nothing_of_the_shop_is_seen(counter: Counter, three: str) -> None:
    page = counter.get(f"{three}/pieces/1/designs")
    first, second, third = cards(page)
    assert first.startswith(f"Design A {A} with tax Choose design A")
    assert "Acrylic 3 mm" in third
    assert "Linden, limewashed" not in second
    assert "Linden, limewashed" in page.main  # said once, of all
    for own in ("cost", "margin", "M-101", "A-3", "LIN-20", "earned"):
        assert own not in page.main


def test_what_a_design_lacks_is_said_in_words(counter: Counter, one: str) -> None:
    another(
        counter,
        one,
        {
            "glazing.material": "",
            "mats.0.material": "",
            "mats.1.material": "",
            "presentation": "close",
        },
    )
    for where in ("show", "designs"):
        shown = counter.get(f"{one}/pieces/1/{where}")
        said = [words(each) for each in shown.each(tag="dd")]
        assert "no glass" in said
        assert "no mat" in said
        assert "–" not in said


def test_a_customer_sees_every_design_of_an_open_quote_with_its_price(
    counter: Counter, three: str
) -> None:
    """Above the range stand all three, each with what it costs; once one is taken it stands alone."""
    counter.post("/turn", {"to": "customer", "next": "/orders/1"})
    page = counter.get(three)
    (row,) = page.each("open-designs")
    assert [words(each).partition("Design ")[2] for each in row.iter("li")] == [
        f"A {A}",
        f"B {B}",
        f"C {C}",
    ]
    shown = counter.get(f"{three}/pieces/1/show").form(f"{three}/pieces/1/designs/2/take")
    counter.post(f"{three}/pieces/1/designs/2/take", shown)
    taken = counter.get(three)
    assert not taken.has("open-designs")
    assert len(list(taken.each("drawing"))) == 1


WIDE = {f"borders.{side}": "120" for side in ("left", "right", "top", "bottom")}


@pytest.mark.parametrize("where", ["show", "designs"])
def test_at_the_counter_all_are_drawn_to_one_scale(counter: Counter, one: str, where: str) -> None:
    """The view of each drawing is as large as that of the largest, so its artwork is as large in every column."""
    another(counter, one, WIDE)
    shown = counter.get(f"{one}/pieces/1/{where}")
    views = [each.get("viewBox", "").split()[2:] for each in shown.each("drawing")]
    assert len(views) == 2
    assert views[0] == views[1]
    alone = counter.get(f"{one}/pieces/1/show?design=1").one("drawing")
    assert alone.get("viewBox", "").split()[2:] == views[0]


def test_some_of_them_are_compared(counter: Counter, three: str) -> None:
    page = counter.get(f"{three}/pieces/1/designs?of=1&of=3")
    assert [card[:8] for card in cards(page)] == ["Design A", "Design C"]
    assert "under it Slate blue" not in " ".join(cards(page))  # both have it
    assert page.links()["On paper (PDF)"] == f"{three}/pieces/1/designs.pdf?of=1&of=3"


@pytest.mark.parametrize("query", ["of=0", "of=-1", "of=99", "of=1&of=1"])
def test_what_is_not_there_is_left_out(counter: Counter, three: str, query: str) -> None:
    assert counter.get(f"{three}/pieces/1/designs?{query}").status == 200


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("pieces/1/designs?of=x", 422),
        ("pieces/1/change?design=9", 404),
        ("pieces/1/change?design=0", 404),
        ("pieces/1/designs/9/take", 404),
        ("pieces/1/designs/new?like=9", 404),
        ("pieces/2/designs", 404),
    ],
)
def test_an_address_of_no_design_says_so(
    counter: Counter, three: str, address: str, status: int
) -> None:
    assert counter.get(f"{three}/{address}").status == status
