"""Lines without a piece at the counter: sold, added, changed, struck, handed over; bad input keeps what was typed (P12)."""

from dataclasses import replace

import pytest

from app.pricing import Kind
from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.lines import GOODS
from tests.builders.materials import counted, sold_at
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
CARDS = {"goods": "CARD", "number": "12"}
PLATE = {"what": "Brass plate", "price": "24.99", "minutes": "45", "note": "Two lines"}


@pytest.fixture(autouse=True)
def goods(stocked: Store) -> None:
    with stocked.writing() as work:
        work.materials.add_all(GOODS, now=NOW)


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece, 103.51."""
    asked = CustomerRequest(name="Amber Quill")
    return f"/orders/{quotes.save_new(stocked, asked, TYPED, SHOP, ACT)}"


def sell(counter: Counter, action: str = "save", **typed: str) -> Shown:
    """Fill the form in and look at the page after."""
    form = counter.get("/sell").form("/sell")
    return counter.go("/sell", form | {"customer": "Ben Alder"} | typed | {"action": action})


def add(counter: Counter, order: str, **typed: str) -> Shown:
    form = counter.get(f"{order}/lines/new").form(f"{order}/lines")
    return counter.go(f"{order}/lines", form | typed | {"action": "save"})


def do(counter: Counter, order: str, act: str, **typed: str) -> Shown:
    holding = {name: text for name, text in typed.items() if name == "stage"}
    form = counter.get(order).form(f"{order}/{act}", **holding)
    return counter.go(f"{order}/{act}", form | typed)


def lines(page: Shown) -> list[str]:
    return [words(next(part.iter("h3"))) for part in page.each("line-card")]


def record(page: Shown) -> list[str]:
    return [words(change) for part in page.each("history") for change in part.iter("strong")]


def test_the_ways_in_stand_where_quotes_begin(counter: Counter, quote: str) -> None:
    assert "/sell" in counter.get("/").links().values()
    assert "/sell" in counter.get("/quotes").links().values()
    assert "/sell?customer=1" in counter.get("/customers/1").links().values()
    assert counter.get("/sell?customer=1").fields["customer"] == "Amber Quill #1"
    assert f"{quote}/lines/new" in counter.get(quote).links().values()


def test_a_quote_of_goods_alone(counter: Counter) -> None:
    """12 × 3.50 = 42.00, of which a sixth is tax."""
    page = sell(counter, **CARDS)
    assert page.heading == "Quote Q-2026-0001"
    assert "The quote is saved as Q-2026-0001." in page.main
    assert lines(page) == ["Greeting card, heron quoted 42.00"]
    assert "12 × 3.50 each" in page.main
    assert page.words("price") == "42.00"
    assert "of that Tax 20 % 7.00" in page.main
    assert "Ben Alder" in counter.get("/quotes").main
    assert "Greeting card, heron" in counter.get("/quotes").main


def test_the_page_says_what_it_comes_to_before_it_is_kept(counter: Counter) -> None:
    form = counter.get("/sell").form("/sell") | CARDS | {"action": "recalculate"}
    page = counter.post("/sell", form)
    assert page.words("price") == "42.00"
    assert page.fields["number"] == "12"
    assert "Greeting card, heron" in page.main
    assert counter.get("/quotes").main.count("Q-2026") == 0


def test_the_same_form_posted_twice_makes_one_quote(counter: Counter) -> None:
    form = counter.get("/sell").form("/sell") | CARDS | {"customer": "Ben", "action": "save"}
    first, second = counter.post("/sell", form), counter.post("/sell", form)
    assert (first.status, second.status) == (303, 303)
    assert second.location == first.location == "/orders/1"
    assert "Q-2026-0002" not in counter.get("/quotes").main


def test_the_same_line_posted_twice_is_added_once(counter: Counter, quote: str) -> None:
    form = counter.get(f"{quote}/lines/new").form(f"{quote}/lines")
    form |= CARDS | {"action": "save"}
    first, second = counter.post(f"{quote}/lines", form), counter.post(f"{quote}/lines", form)
    assert (first.status, second.status) == (303, 303)
    assert second.location == first.location
    assert len(lines(counter.get(quote))) == 1


def test_a_sale_over_the_counter_is_one_act(counter: Counter) -> None:
    page = sell(counter, "sell", **CARDS, method="gift voucher")
    assert page.heading == "Order 2026-0001"
    assert "Sold, paid and handed over." in page.main
    assert "Payment, gift voucher" in page.main
    assert page.words("price") == "0.00"
    assert page.words("order-head").count("collected") == 1


def test_lines_stand_beside_a_piece_and_go_its_way(counter: Counter, quote: str) -> None:
    """103.51 + 42.00 + 24.99 = 170.50."""
    add(counter, quote, **CARDS)
    page = add(counter, quote, **PLATE)
    assert page.words("price") == "170.50"
    assert "1 piece and 2 lines, with tax" in page.main
    page = do(counter, quote, "take", deposit="", due="")
    assert lines(page) == [
        "Greeting card, heron ordered 42.00",
        "Brass plate ordered 24.99",
    ]
    assert "Mark cut" in page.buttons()
    do(counter, quote, "stage", stage="cut")
    page = do(counter, quote, "lines/2/stage", stage="framed")
    assert "Line 2 is done." in page.main
    assert lines(page)[1] == "Brass plate done 24.99"
    do(counter, quote, "stage", stage="framed")
    page = do(counter, quote, "hand-over", action="owed")
    assert "Piece 1 and 2 lines are collected." in page.main
    assert page.words("order-head").count("collected") == 1
    assert "Line 2 (Brass plate): done" in record(page)
    page = do(counter, quote, "lines/1/take-back")
    assert "Line 1 (Greeting card, heron): undone, collected → ordered" in record(page)


def test_a_struck_line_stays_in_the_record_and_may_come_back(counter: Counter, quote: str) -> None:
    add(counter, quote, **CARDS)
    page = do(counter, quote, "lines/1/strike")
    assert page.words("price") == "103.51"
    assert "Line 1 (Greeting card, heron): struck" in record(page)
    page = do(counter, quote, "lines/1/put-back")
    assert page.words("price") == "145.51"
    assert record(page)[0] == "Line 1 (Greeting card, heron): put back"


def test_a_changed_line_is_agreed_anew_and_says_so(counter: Counter, quote: str) -> None:
    add(counter, quote, **PLATE)
    form = counter.get(f"{quote}/lines/1/change").form(f"{quote}/lines/1")
    assert form["price"] == "24.99"
    page = counter.go(f"{quote}/lines/1", form | {"note": "Three", "action": "save"})
    assert "Line 1 is saved; its price stays as agreed." in page.main
    form = counter.get(f"{quote}/lines/1/change").form(f"{quote}/lines/1")
    page = counter.go(f"{quote}/lines/1", form | {"price": "30", "action": "save"})
    assert "Line 1 (Brass plate): changed: 24.99 → 30.00" in record(page)


def test_the_second_of_two_tabs_is_shown_both(counter: Counter, quote: str) -> None:
    add(counter, quote, **PLATE)
    old = counter.get(f"{quote}/lines/1/change").form(f"{quote}/lines/1")
    counter.go(f"{quote}/lines/1", old | {"price": "30", "action": "save"})
    page = counter.post(f"{quote}/lines/1", old | {"price": "28", "action": "save"})
    assert page.heading == "Two versions of line 1"
    assert "30" in page.main
    assert "28" in page.main
    kept = page.form(f"{quote}/lines/1") | {"action": "save"}
    assert "24.99 → 30.00" in counter.go(f"{quote}/lines/1", kept).main
    assert counter.get(quote).words("price") == "131.51"  # 103.51 + 28.00


BAD = [
    ({"number": "0"}, "number", "“0”"),
    ({"number": "-1"}, "number", "“-1”"),
    ({"number": "1.5"}, "number", "“1.5”"),
    ({"number": "10,000"}, "number", "“10,000”"),
    ({"number": "9" * 10_000}, "number", "a whole number from 1 to 9999"),
    ({"price": "free"}, "price", "“free”"),
    ({"price": "0"}, "price", "is zero"),
    ({"price": "-3"}, "price", "“-3”"),
    ({"what": "w" * 121}, "what", "at most 120"),
    ({"note": "n" * 501}, "note", "at most 500"),
    ({"tax": "gone"}, "tax", "no tax rate “gone”"),
    ({"goods": "nothing of ours"}, "goods", "No goods called “nothing of ours”"),
]


@pytest.mark.parametrize(("typed", "path", "said"), BAD)
def test_bad_input_is_said_at_its_field_and_everything_typed_is_kept(
    counter: Counter, quote: str, typed: dict[str, str], path: str, said: str
) -> None:
    form = counter.get(f"{quote}/lines/new").form(f"{quote}/lines")
    form |= PLATE | typed | {"action": "save"}
    page = counter.post(f"{quote}/lines", form)
    assert page.status == 422
    assert said in page.error(path)
    for name, text in (PLATE | typed).items():
        if name != "tax":
            assert page.fields[name] == text
    assert lines(counter.get(quote)) == []


def test_goods_that_an_open_order_waits_for_are_not_taken_out(counter: Counter) -> None:
    sell(counter, **CARDS)
    page = counter.get("/materials/CARD/remove")
    refused = counter.post("/materials/CARD/remove", page.form("/materials/CARD/remove"))
    assert "CARD is on a line of Q-2026-0001 that is not handed over" in refused.main


def test_a_customer_who_is_missing_is_asked_for_beside_what_is_wrong_with_the_line(
    counter: Counter,
) -> None:
    form = counter.get("/sell").form("/sell") | {"what": "Repair", "action": "save"}
    page = counter.post("/sell", form)
    assert page.status == 422
    assert page.error("customer")
    assert "Say what one costs" in page.error("price")
    assert page.fields["what"] == "Repair"


def test_the_job_sheet_is_of_work_alone(counter: Counter, quote: str) -> None:
    add(counter, quote, **CARDS)
    refused = counter.get(f"{quote}/lines/1/job.pdf")
    assert refused.status == 409
    assert "has no such work" in refused.main


def test_a_quote_of_two_lines_is_sold_over_the_counter(counter: Counter) -> None:
    sell(counter, **CARDS)
    add(counter, "/orders/1", **PLATE)
    form = counter.get("/orders/1").form("/orders/1/take")
    page = counter.go("/orders/1/take", form | {"action": "sell", "method": "card"})
    assert "Sold, paid and handed over." in page.main
    assert "Payment, card" in page.main
    assert page.words("price") == "0.00"


def test_todays_price_stands_beside_the_one_that_was_agreed(
    counter: Counter, stocked: Store
) -> None:
    """3.50 then, 4.00 now."""
    sell(counter, **CARDS)
    with stocked.writing() as work:
        kept = work.materials.get("CARD")
        dearer = replace(kept.value, selling=sold_at("4.00"))
        work.materials.save("CARD", dearer, kept.version, now=NOW)
    page = counter.get("/orders/1/lines/1/change")
    assert page.words("price") == "42.00"
    assert "At today's prices it is 48.00." in page.main
    form = page.form("/orders/1/lines/1")
    page = counter.go("/orders/1/lines/1", form | {"action": "anew"})
    assert "Line 1 is changed, at today's prices." in page.main
    assert page.words("price") == "48.00"


def test_a_rate_that_is_gone_stays_in_view_and_is_said(counter: Counter, quote: str) -> None:
    add(counter, quote, **PLATE, tax="none")
    form = counter.get("/settings/tax").form("/settings/tax")
    without = {name: text for name, text in form.items() if not name.startswith("rates.1.")}
    counter.go("/settings/tax", without | {"action": "save"})
    assert "Brass plate" in counter.get(quote).main
    page = counter.get(f"{quote}/lines/1/change")
    assert page.fields["tax"] == "none"
    assert "There is no tax rate “none”" in page.error("tax")


@pytest.fixture
def brass(stocked: Store) -> None:
    """An extra whose code is in the name of goods: BRASS, and “Picture hook, brass”."""
    label = counted("BRASS", "Label of metal", Kind.EXTRA, "2.00", sold_at("5.00"))
    with stocked.writing() as work:
        work.materials.add_all([label], now=NOW)


@pytest.mark.usefixtures("brass")
@pytest.mark.parametrize("text", ["BRASS", "brass", "label of metal"])
@pytest.mark.parametrize("action", ["save", "sell"])
def test_a_code_or_name_of_another_kind_is_not_sold_as_goods_that_are_like_it(
    counter: Counter, text: str, action: str
) -> None:
    form = counter.get("/sell").form("/sell")
    typed = {"customer": "Ben Alder", "goods": text, "number": "1", "action": action}
    page = counter.post("/sell", form | typed)
    assert page.status == 422
    assert f"“{text}” is an extra, no goods" in page.error("goods")
    assert page.fields["goods"] == text
    assert "Picture hook, brass" not in page.main
    assert "Q-2026-0001" not in counter.get("/quotes").main


def test_goods_that_are_only_like_what_is_typed_are_asked_about_before_they_are_sold(
    counter: Counter,
) -> None:
    form = counter.get("/sell").form("/sell")
    typed = {"customer": "Ben Alder", "goods": "pict", "number": "2", "action": "sell"}
    page = counter.post("/sell", form | typed)
    assert page.status == 422
    assert "Is HOOK, Picture hook, brass, meant?" in page.error("goods")
    assert page.fields["goods"] == "pict"
    assert "2026-0001" not in counter.get("/orders").main
    page = counter.go("/sell", page.form("/sell") | {"goods": "HOOK", "action": "sell"})
    assert "Sold, paid and handed over." in page.main


def test_a_quote_still_takes_goods_by_a_part_of_their_name(counter: Counter) -> None:
    assert lines(sell(counter, goods="heron"))[0].startswith("Greeting card, heron quoted")


def test_work_that_is_sold_at_once_is_said_to_be_taken_as_done_and_can_be_ordered_again(
    counter: Counter,
) -> None:
    page = sell(counter, "sell", **PLATE)
    assert "Taken as done: Brass plate." in page.main
    assert "undo its line until it is ordered" in page.main
    do(counter, "/orders/1", "lines/1/take-back")
    page = do(counter, "/orders/1", "lines/1/take-back")
    assert lines(page) == ["Brass plate ordered 24.99"]


def test_goods_that_are_sold_at_once_are_no_work(counter: Counter) -> None:
    assert "Taken as done" not in sell(counter, "sell", **CARDS).main


def test_work_of_a_quote_that_is_sold_at_once_is_named_as_well(counter: Counter) -> None:
    sell(counter, **PLATE)
    form = counter.get("/orders/1").form("/orders/1/take")
    page = counter.go("/orders/1/take", form | {"action": "sell", "method": "card"})
    assert "Sold, paid and handed over. Taken as done: Brass plate." in page.main


def test_a_sale_over_the_counter_needs_no_name(counter: Counter) -> None:
    for number in ("2", "3"):
        page = sell(counter, "sell", customer="", goods="CARD", number=number)
        assert "Sold, paid and handed over." in page.main
    assert "Counter sale" in page.main
    shown = counter.get("/customers").main
    assert shown.count("Counter sale") == 1


def test_a_quote_without_a_name_asks_for_it(counter: Counter) -> None:
    form = counter.get("/sell").form("/sell")
    refused = counter.post("/sell", form | CARDS | {"customer": "", "action": "save"})
    assert "The name is empty" in refused.error("customer")


def test_the_counter_asks_for_neither_a_name_nor_what_goods_are_called(counter: Counter) -> None:
    page = counter.get("/sell")
    labels = {words(each) for each in page.each(tag="label")}
    assert not any(label.endswith("needed") for label in labels), labels
    form = page.form("/sell") | {"what": "Brass plate", "action": "recalculate"}
    asked = counter.post("/sell", form)
    assert any("Price each" in words(e) and "needed" in words(e) for e in asked.each(tag="label"))


def test_several_goods_that_a_word_fits_are_named(counter: Counter, stocked: Store) -> None:
    with stocked.writing() as work:
        work.materials.add(replace(GOODS[0], code="CARD-2", name="Greeting card, tern"), now=NOW)
    form = counter.get("/sell").form("/sell") | {"goods": "greeting", "action": "save"}
    said = counter.sent("/sell", form | {"customer": "Ben Alder"}).error("goods")
    assert (
        "“greeting” fits several goods: CARD, Greeting card, heron; CARD-2, Greeting card, tern."
        in said
    )


def test_a_phone_without_a_name_is_asked_about_at_the_counter(counter: Counter) -> None:
    form = counter.get("/sell").form("/sell") | CARDS
    form |= {"customer.phone": "01632 960 101", "action": "sell"}
    refused = counter.sent("/sell", form)
    assert refused.status == 422
    assert (
        "Whose phone number is it? Type the name, or leave the phone number blank"
        in refused.error("customer")
    )
    assert counter.sent("/sell", form | {"customer.phone": ""}).status == 303
