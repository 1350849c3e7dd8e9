"""Several that are alike on the pages: how many, at what price, how they stand, and one made two (P11)."""

from datetime import timedelta

import pytest

from app.services import plans, quotes
from app.services import stages as progress
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.documents.reading import text_of
from tests.storage.plan_work import planned
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


@pytest.fixture
def order(stocked: Store) -> str:
    """The address of an order of twenty of the worked piece."""
    typed = {**TYPED, "copies": "20"}
    order_id = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), typed, SHOP, ACT)
    progress.take_order(stocked, OrderAt(id=order_id, version=1), progress.Terms(), ACT)
    return f"/orders/{order_id}"


def moved(counter: Counter, order: str, clock: Clock, stage: str, count: str = "") -> Shown:
    clock.time += timedelta(minutes=1)
    return counter.go(f"{order}/pieces/1/stage", to_move(counter, order, stage, count))


def to_move(counter: Counter, order: str, stage: str, count: str) -> dict[str, str]:
    form = counter.get(order).form(f"{order}/pieces/1/stage", stage=stage)
    return form | {"count": count}


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "10,000", "many", "1000"])
def test_what_is_no_number_of_pieces_is_said_and_kept(counter: Counter, text: str) -> None:
    form = counter.get("/quotes/new").fields | dict(TYPED) | {"customer": "Wren", "copies": text}
    shown = counter.post("/quotes", form)
    assert shown.status == 422
    assert shown.fields["copies"] == text
    assert f"“{text}”; a whole number from 1 to 999 is read." in shown.error("copies")


def test_the_quote_page_says_number_and_price_of_one(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1/change")
    assert page.fields["copies"] == "20"
    assert page.words("price-each").startswith("20 × ")
    quantities = [words(line) for part in page.each("price-line") for line in part.iter("small")]
    assert any(text.startswith("20 × ") and "a metre" in text for text in quantities)
    assert any(text.endswith("min, once") for text in quantities)


def test_some_are_framed_and_some_collected(counter: Counter, order: str, clock: Clock) -> None:
    assert "20 alike" in counter.get(order).words("piece-card")
    moved(counter, order, clock, "cut")
    said = moved(counter, order, clock, "framed", "12")
    assert "12 of the 20 of piece 1 are framed." in said.main
    assert "20 alike : 8 cut, 12 framed" in said.words("piece-card")
    both = {words(button) for form in said.each(tag="form") for button in form.iter("button")}
    assert {"Mark finished", "Hand over"} <= both
    refused = counter.post(f"{order}/pieces/1/stage", to_move(counter, order, "framed", "9"))
    assert refused.status == 409
    assert "9 cannot become “framed”: of 20 only 8 “cut” are ready for it." in refused.main
    unread = counter.post(f"{order}/pieces/1/stage", to_move(counter, order, "framed", "a few"))
    assert "How many is “a few”; a whole number is read, and blank for all." in unread.main
    moved(counter, order, clock, "framed")
    asked = counter.go(f"{order}/pieces/1/stage", to_move(counter, order, "collected", "8"))
    assert "Harbour at dusk (8 of 20)" in asked.words(id="hand-over")
    form = asked.form(f"{order}/hand-over") | {"action": "owed"}
    clock.time += timedelta(minutes=1)
    shown = counter.go(f"{order}/hand-over", form)
    assert "8 of the 20 of piece 1 are collected." in shown.main
    assert "12 framed, 8 collected" in shown.words("piece-card")
    assert "8 collected" in shown.words("history")
    assert "12 framed, 8 collected" in counter.get(f"{order}/pieces/1").main
    back = counter.go(f"{order}/pieces/1/take-back", shown.form(f"{order}/pieces/1/take-back"))
    assert "collected" not in back.words("piece-card")


def test_desk_and_lists_say_how_many(counter: Counter, order: str) -> None:
    for path in ("/", "/orders", "?q=Quill", "/customers/1"):
        assert "20 × Harbour at dusk" in counter.get(path).main


def test_a_step_that_is_ticked_asks_how_many(counter: Counter, order: str, clock: Clock) -> None:
    moved(counter, order, clock, "cut")
    assert counter.get(f"{order}/pieces/1").has("how-many")


def test_a_piece_is_split_after_a_look_at_what_that_comes_to(counter: Counter, order: str) -> None:
    asked = counter.get(f"{order}/pieces/1/split")
    assert "split 20 into two" in asked.heading
    looked = counter.get(f"{order}/pieces/1/split?count=8")
    assert "Difference of the two to what was agreed" in looked.main
    assert "12 × " in looked.main
    version = looked.fields["version"]
    done = counter.go(
        f"{order}/pieces/1/split",
        looked.form(f"{order}/pieces/1/split", version=version, count="8"),
    )
    assert "8 of piece 1 are piece 2 now." in done.main
    cards = [words(card) for card in done.each("piece-card")]
    assert ["12 alike" in cards[0], "8 alike" in cards[1]] == [True, True]
    assert "20 → 12 alike" in done.words("history")


def test_what_is_planned_already_is_not_split_off(
    counter: Counter, stocked: Store, order: str
) -> None:
    """The plan holds the parts of the first twenty; five more that are alike are in no plan, and may go."""
    plan = planned(stocked)
    said = counter.get(f"{order}/pieces/1/split?count=5")
    assert said.status == 422
    # mat, glazing, mount board, backing and four rails of each: 5 × 8
    assert "40 parts in plan P-2026-0001 are planned or cut already" in said.error("count")
    assert "Delete the plan, split the piece and plan again" in said.error("count")
    assert said.fields["count"] == "5"
    form = {"version": counter.get(order).fields["version"], "count": "5"}
    assert counter.post(f"{order}/pieces/1/split", form).status == 422
    assert "piece 2" not in counter.get(order).main
    more = counter.get(f"{order}/pieces/1/change").fields | {"copies": "25", "action": "save"}
    looked = counter.post(f"{order}/pieces/1", more)
    assert counter.post(f"{order}/pieces/1", looked.fields | {"action": "save"}).status == 303
    assert counter.get(f"{order}/pieces/1/split?count=5").status == 200
    assert counter.get(f"{order}/pieces/1/split?count=6").status == 422
    at = plans.PlanAt(id=plan, version=plans.get(stocked, plan).version)
    plans.drop_plan(stocked, at)
    assert counter.get(f"{order}/pieces/1/split?count=6").status == 200


@pytest.mark.parametrize("count", ["0", "20", "-1", "1.5", "x"])
def test_what_cannot_be_split_off_is_said_and_kept(
    counter: Counter, order: str, count: str
) -> None:
    shown = counter.get(f"{order}/pieces/1/split?count={count}")
    assert shown.status == 422
    assert shown.fields["count"] == count
    assert "whole number" in shown.error("count")


def test_one_ticket_says_how_many_and_has_a_box_for_each(counter: Counter, order: str) -> None:
    pdf = counter.client.get(f"{order}/pieces/1/ticket.pdf")
    text = text_of(pdf.content)
    assert "20 of these" in text
    assert "× 20" in text
    assert "☐☐☐☐☐" * 4 in "".join(text.split())


def test_the_bench_says_how_many_at_its_head_and_at_each_step(counter: Counter, order: str) -> None:
    """Two rails of each length for each of twenty are forty; a window drops out of each mat."""
    page = counter.get(f"{order}/pieces/1")
    assert "20 of these : do every step for all of them; sizes are for one" in page.words(
        "order-head"
    )
    assert "40 × frame rail, 2 for each: 630 mm" in page.words(id="step-frame-1-rails-top-bottom")
    assert "20 × glazing: 600 × 500 mm" in page.words(id="step-glazing-cut")
    assert "each of the 20" in page.words(id="step-fit")
    assert "keep 20 pieces 420 × 320 of Chalk white" in page.words(id="step-mat-1-drop")


def test_prices_by_number_are_kept_and_shown(counter: Counter, order: str) -> None:
    page = counter.get("/settings/prices")
    form = page.form("/settings/prices") | {
        "number_breaks.0.from_number": "10",
        "number_breaks.0.off": "5",
        "action": "save",
    }
    counter.go("/settings/prices", form)
    kept = counter.get("/settings/prices").fields
    assert (kept["number_breaks.0.from_number"], kept["number_breaks.0.off"]) == ("10", "5")
    assert "Discount for many alike" in counter.get(f"{order}/pieces/1/price-again").main
    wrong = form | {"number_breaks.1.from_number": "20", "number_breaks.1.off": "3"}
    wrong["version"] = kept["version"]
    refused = counter.post("/settings/prices", wrong)
    assert refused.status == 422
    assert "3 % off from 20 alike comes after 5 % off from 10" in refused.error(
        "number_breaks.1.from_number"
    )


def test_an_operation_is_told_to_be_done_once(counter: Counter) -> None:
    fields = counter.get("/settings/work").fields
    names = {fields[path]: path for path in fields if path.endswith(".name")}
    guide = names["Set the guide and cut the windows"].replace(".name", ".once")
    assert fields[guide] == "1"
    assert fields[names["Clean, check, label and wrap"].replace(".name", ".once")] == ""


def test_a_piece_that_is_cut_is_neither_split_nor_changed_and_says_why(
    counter: Counter, stocked: Store
) -> None:
    number = quotes.save_new(
        stocked, CustomerRequest(name="Anna"), {**TYPED, "copies": "3"}, SHOP, ACT
    )
    order = f"/orders/{number}"
    do(counter, order, "take")
    do(counter, order, "pieces/1/stage", stage="cut")
    answer = counter.client.get(f"{order}/pieces/1/split")
    assert answer.status_code == 409
    assert "Piece 1 is cut; pieces can be added or changed only until the first cut" in answer.text
    page = counter.get(f"{order}/pieces/1/change")
    assert "This piece is cut, so it is only looked at here" in page.words("error-summary")
    assert "Save the change" not in page.buttons()
    assert page.fields["artwork.size"] == TYPED["artwork.size"]
    again = page.fields | {"artwork.size": "300 x 300"}
    for how in ({"action": "recalculate"}, {"action": "save"}):
        shown = counter.post(f"{order}/pieces/1", again | how)
        assert "Piece 1 is cut" in shown.main or "only looked at here" in shown.main
        assert "Save the change" not in shown.buttons()
        assert shown.fields["artwork.size"] == "300 x 300"
    live = counter.post(f"{order}/pieces/1?live=1", again, **{"x-partial": "1"})
    assert "only looked at here" in live.text
    assert "Save the change" not in live.text


def test_a_receipt_counts_what_is_still_in_work_once(
    counter: Counter, order: str, clock: Clock
) -> None:
    """Of 20 are 5 cut and 3 of these framed and gone: 15 that are not cut and 2 that are make 17 in work."""
    moved(counter, order, clock, "cut", "5")
    framed = moved(counter, order, clock, "framed", "3")
    assert "20 pieces, with tax" in framed.words("totals")
    form = framed.form(f"{order}/hand-over") | {"action": "owed"}
    clock.time += timedelta(minutes=1)
    counter.go(f"{order}/hand-over", form)
    receipt = text_of(counter.client.get(f"{order}/receipts/1.pdf").content)
    assert "Still with us: Harbour at dusk, 17 of 20 (in work)." in receipt
