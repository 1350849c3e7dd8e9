"""The page of an order: taken, moved on and back, paid, corrected, and what two tabs do to it."""

from dataclasses import replace
from datetime import date

import pytest

from app.services import orders, quotes
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import HALF, SHOP, TAX, TO_PAY, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, in_another_tab, typed, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)

BAD_AMOUNTS = (
    "-3",
    "1e9",
    "16x",
    "NaN",
    "12 3/0",
    "\N{FRAME WITH PICTURE}",
    "<b>5</b>",
    "9" * 10_000,
)
BAD_DAYS = ("0", "-3", "1e9", "16x", "NaN", "2026-02-30", "1999-01-01", "25/13", "9" * 10_000)


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece, 103.51."""
    return (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )


def do(counter: Counter, order: str, act: str, **typed: str) -> Shown:
    """Fill in one of the forms of an order's page, as it stands, and look at the page after."""
    return counter.go(f"{order}/{act}", filled(counter, order, act, **typed))


def filled(counter: Counter, order: str, act: str, **typed: str) -> dict[str, str]:
    """A form of the order's page; a__b stands for a.b, "stage" chooses among the forms."""
    values = {name.replace("__", "."): value for name, value in typed.items()}
    holding = {name: values[name] for name in ("stage",) if name in values}
    return counter.get(order).form(f"{order}/{act}", **holding) | values


def came_due(store: Store, order: str, day: date) -> None:
    """Set a day that no form takes any more, since it went by meanwhile."""
    at = OrderAt(id=int(order.rpartition("/")[2]), version=0)
    at = replace(at, version=orders.get(store, at.id).version)
    orders.set_due(store, at, day, ACT)


def ledger(page: Shown) -> list[tuple[str, str]]:
    """(what, amount) of the entries shown."""
    entries = [item for part in page.each("ledger") for item in part.iter("li")]
    return [
        (words(entry[0]).split(" Wed ")[0].split(" Thu ")[0], words(entry[1])) for entry in entries
    ]


def record(page: Shown) -> list[str]:
    """The changes shown, the latest first."""
    return [words(change) for part in page.each("history") for change in part.iter("strong")]


# --- taking a quote --------------------------------------------------------------------------


def test_a_quote_offers_the_shops_habits(counter: Counter, quote: str) -> None:
    """Ready in 14 days from 25 November; half of 103.51 as deposit, said but not filled in."""
    page = counter.get(quote)
    fields = page.fields
    assert fields["due"] == "9 Dec 2026"
    assert fields["deposit"] == ""
    assert f"usual is {HALF}" in page.main
    assert fields["method"] == "cash"


def test_a_quote_offers_a_print_that_says_prices_otherwise(counter: Counter, quote: str) -> None:
    """The shop prints line by line, so the total only is what is offered beside it."""
    page = counter.get(quote)
    assert f'href="{quote}/quote.pdf?prices=total"' in page.text
    assert "Quote with the total only (PDF)" in words(page.tree)
    assert "prices=lines" not in page.text


def test_taking_a_quote_gives_number_date_and_deposit_in_one(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take", deposit="50", due="2026-12-10", method="card")
    assert page.heading == "Order 2026-0001"
    assert "Order 2026-0001 is taken." in page.main
    assert "due Thu 10 Dec 2026" in page.main
    assert ledger(page) == [("Deposit, card", "50.00")]
    assert page.words("price") == "53.51"  # 103.51 − 50.00
    assert record(page) == ["ordered"]


def test_an_order_can_be_taken_without_deposit_and_date(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take", deposit="", due="")
    assert page.words("price") == TO_PAY
    assert ledger(page) == []
    assert "due" not in page.words("order-head")


def test_a_deposit_of_zero_is_no_entry(counter: Counter, quote: str) -> None:
    assert ledger(do(counter, quote, "take", deposit="0")) == []


def test_a_deposit_above_the_total_is_refused_and_nothing_is_kept(
    counter: Counter, quote: str
) -> None:
    answer = counter.post(f"{quote}/take", filled(counter, quote, "take", deposit="103.52"))
    assert answer.status == 422
    assert "103.52 is more than is still to pay, 103.51" in answer.error("deposit")
    assert answer.fields["deposit"] == "103.52"
    assert counter.get(quote).heading == "Quote Q-2026-0001"
    assert do(counter, quote, "take", deposit=TO_PAY).heading == "Order 2026-0001"


@pytest.mark.parametrize("given", BAD_AMOUNTS, ids=lambda given: given[:12])
def test_a_deposit_that_is_no_amount_is_said_beside_it_and_kept(
    counter: Counter, quote: str, given: str
) -> None:
    form = filled(counter, quote, "take", deposit=given, due="2026-12-10", method="transfer")
    answer = counter.post(f"{quote}/take", form)
    assert answer.status == 422
    assert len(answer.error("deposit")) > 20
    assert answer.fields.items() >= typed(form).items()


@pytest.mark.parametrize("given", BAD_DAYS, ids=lambda given: given[:12])
def test_a_day_that_is_none_is_said_beside_it_and_kept(
    counter: Counter, quote: str, given: str
) -> None:
    form = filled(counter, quote, "take", due=given, deposit="20")
    answer = counter.post(f"{quote}/take", form)
    assert answer.status == 422
    assert len(answer.error("due")) > 20
    assert answer.fields.items() >= typed(form).items()


def test_a_method_that_is_not_offered_is_refused(counter: Counter, quote: str) -> None:
    answer = counter.post(f"{quote}/take", filled(counter, quote, "take", method="shells"))
    assert answer.status == 422
    assert "“shells” is not a choice here" in answer.error("method")


def test_numbers_run_without_gaps(counter: Counter, stocked: Store, quote: str) -> None:
    second = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), TYPED, SHOP, ACT)}"
    )
    counter.post(f"{quote}/take", filled(counter, quote, "take", deposit="999"))
    assert do(counter, second, "take").heading == "Order 2026-0001"
    assert do(counter, quote, "take").heading == "Order 2026-0002"


def test_an_order_taken_back_and_taken_again_keeps_its_number(
    counter: Counter, stocked: Store, quote: str
) -> None:
    do(counter, quote, "take", deposit="")
    assert "Order" in do(counter, quote, "pieces/1/take-back").buttons(f"{quote}/take")
    other = f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), TYPED, SHOP, ACT)}"
    assert do(counter, other, "take").heading == "Order 2026-0002"
    assert do(counter, quote, "take").heading == "Order 2026-0001"


def test_a_quote_that_is_an_order_cannot_be_taken_twice(counter: Counter, quote: str) -> None:
    form = filled(counter, quote, "take") | {"deposit": HALF}
    counter.go(f"{quote}/take", form)
    answer = counter.post(f"{quote}/take", in_another_tab(form))
    assert answer.status == 409
    assert answer.heading == "Order 2026-0001"
    assert ledger(answer) == [("Deposit, cash", HALF)]


# --- the way of the work ---------------------------------------------------------------------


def test_an_order_goes_its_way_to_collected(counter: Counter, quote: str) -> None:
    do(counter, quote, "take")
    for stage in ("cut", "framed"):
        page = do(counter, quote, "pieces/1/stage", stage=stage)
        assert f"Piece 1 is {stage}." in page.main
    page = do(counter, quote, "hand-over", action="owed")
    assert "Piece 1 is collected." in page.main
    assert record(page) == ["collected", "framed", "cut", "ordered"]
    assert page.buttons(f"{quote}/pieces/1/stage") == []


def test_work_that_leaves_unpaid_is_said_so(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    for stage in ("cut", "framed"):
        assert "still to pay." not in do(counter, quote, "pieces/1/stage", stage=stage).main
    page = do(counter, quote, "hand-over", action="owed")
    assert "Piece 1 is collected. 53.51 is still to pay." in page.main


@pytest.mark.parametrize("stage", ["framed", "collected", "quoted", "declined", "nowhere", ""])
def test_a_stage_that_cannot_follow_is_refused_in_plain_words(
    counter: Counter, quote: str, stage: str
) -> None:
    do(counter, quote, "take")
    version = counter.get(quote).fields["version"]
    answer = counter.post(f"{quote}/pieces/1/stage", {"stage": stage, "version": version})
    assert answer.status == 409
    assert answer.heading == "Order 2026-0001"
    assert stage in answer.words("error-summary")
    assert record(answer) == ["ordered"]


def test_an_order_stage_is_refused_for_a_quote(counter: Counter, quote: str) -> None:
    version = counter.get(quote).fields["version"]
    answer = counter.post(f"{quote}/stage", {"stage": "ordered", "version": version})
    assert answer.status == 409
    assert "take it as an order first" in answer.words("error-summary")


def test_a_stale_move_changes_nothing_and_shows_how_things_stand(
    counter: Counter, quote: str
) -> None:
    do(counter, quote, "take")
    stale = filled(counter, quote, "pieces/1/stage", stage="cut")
    counter.go(f"{quote}/pieces/1/stage", stale)
    answer = counter.post(f"{quote}/pieces/1/stage", stale | {"stage": "cancelled"})
    assert answer.status == 409
    assert "changed in the meantime" in answer.words("error-summary")
    assert record(answer) == ["cut", "ordered"]
    assert "Mark finished" in answer.buttons(f"{quote}/pieces/1/stage")


def test_a_change_is_taken_back_and_both_stay_in_the_record(counter: Counter, quote: str) -> None:
    do(counter, quote, "take")
    do(counter, quote, "pieces/1/stage", stage="cut")
    page = do(counter, quote, "pieces/1/take-back")
    assert record(page) == ["undone, cut → ordered", "cut", "ordered"]
    assert "Mark cut" in page.buttons(f"{quote}/pieces/1/stage")


def test_taking_back_goes_on_to_the_change_before(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="")
    do(counter, quote, "pieces/1/stage", stage="cut")
    do(counter, quote, "pieces/1/take-back")
    page = do(counter, quote, "pieces/1/take-back")
    assert page.heading.endswith("2026-0001")
    assert record(page)[0] == "undone, ordered → quoted"
    version = page.fields["version"]
    answer = counter.post(f"{quote}/pieces/1/take-back", {"version": version})
    assert answer.status == 409
    assert "nothing to undo" in answer.words("error-summary")


def test_taking_back_is_offered_only_where_a_change_stands(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="")
    page = do(counter, quote, "pieces/1/take-back")
    assert page.buttons(f"{quote}/pieces/1/take-back") == []


def test_money_stays_when_an_order_is_taken_back(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    page = do(counter, quote, "pieces/1/take-back")
    assert ledger(page) == [("Deposit, cash", "50.00")]
    assert "Received 50.00" in page.main


def two_pieces(counter: Counter, quote: str) -> None:
    """A second piece of the same price on the quote, 207.02 together."""
    page = counter.get(f"{quote}/pieces/new?like=1")
    counter.go(f"{quote}/pieces", page.form(f"{quote}/pieces") | {"action": "save"})


# 103.51 for the piece that is left of two.
def test_a_declined_piece_is_counted_nowhere(counter: Counter, quote: str) -> None:
    two_pieces(counter, quote)
    assert "2 pieces, with tax 207.02" in counter.get(quote).words("totals")
    page = do(counter, quote, "pieces/2/stage", stage="declined")
    assert f"1 piece, with tax {TO_PAY}" in page.words("totals")
    listed = counter.get("/quotes").main
    assert "Harbour at dusk" in listed
    assert "2 pieces" not in listed
    assert "Harbour at dusk; Harbour at dusk" not in listed
    do(counter, quote, "take")
    page = do(counter, quote, "pieces/1/stage", stage="cancelled")
    assert "No piece is charged" in page.words("totals")


def test_another_design_is_offered_on_a_quote_and_not_on_an_order(
    counter: Counter, quote: str
) -> None:
    address = f"{quote}/pieces/new?like=1"
    assert "Another design" in counter.get(quote).main
    page = do(counter, quote, "take")
    assert "Another design" not in page.main
    assert "Add a further piece" in page.main
    answer = counter.get(address)
    assert answer.status == 409
    assert "would be made and charged as one more piece" in answer.main


def test_a_declined_quote_can_be_quoted_again(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "stage", stage="declined")
    assert "declined" in page.words("order-head")
    assert "Quote (PDF)" not in page.links()  # nothing is left that it would quote
    assert "Order" not in page.buttons(f"{quote}/take")
    page = do(counter, quote, "pieces/1/stage", stage="quoted")
    assert page.words("price") == TO_PAY
    assert "Order" in page.buttons(f"{quote}/take")


def test_a_cancelled_order_says_what_to_return(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    page = do(counter, quote, "pieces/1/stage", stage="cancelled")
    assert "To refund 50.00" in page.words("totals")


def test_two_pieces_move_apart_and_the_order_stands_at_the_least(
    counter: Counter, quote: str
) -> None:
    form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", form)
    do(counter, quote, "take", deposit="")
    page = do(counter, quote, "pieces/2/stage", stage="cut")
    assert page.words("stage", tag="span") == "ordered"
    page = do(counter, quote, "stage", stage="cancelled")
    assert "cancelled" in page.words("order-head")
    # both at once were one act, so both come back at once
    page = do(counter, quote, "pieces/1/take-back")
    assert page.words("stage", tag="span") == "ordered"


def test_a_piece_can_leave_its_quote_but_not_the_last_one(counter: Counter, quote: str) -> None:
    form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", form)
    page = do(counter, quote, "pieces/2/remove")
    assert page.words("price") == TO_PAY
    assert page.buttons(f"{quote}/pieces/1/remove") == []
    answer = counter.post(f"{quote}/pieces/1/remove", {"version": page.fields["version"]})
    assert answer.status == 409
    assert "Decline the quote instead" in answer.words("error-summary")


def test_a_piece_that_is_cut_is_not_changed_any_more(counter: Counter, quote: str) -> None:
    do(counter, quote, "take")
    page = do(counter, quote, "pieces/1/stage", stage="cut")
    assert "Change" not in page.links()
    form = {**TYPED, "artwork.title": "Too late", "action": "save"}
    answer = counter.post(f"{quote}/pieces/1", form | {"version": page.fields["version"]})
    assert answer.status == 409
    assert "only until the first cut" in answer.words("error-summary")
    assert answer.fields["artwork.title"] == "Too late"
    assert "Too late" not in counter.get(quote).main


# --- the money -------------------------------------------------------------------------------


def test_the_balance_is_offered_and_paid(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    assert counter.get(quote).fields["payment.amount"] == "53.51"
    page = do(counter, quote, "entries")
    assert page.words("price") == "0.00"
    assert ledger(page) == [("Deposit, cash", "50.00"), ("Payment, cash", "53.51")]
    assert "53.51 received is recorded." in page.main


def test_the_sums_with_their_tax_are_shown(counter: Counter, quote: str) -> None:
    totals = counter.get(quote).words("totals")
    assert f"The piece, with tax {TO_PAY}" in totals
    assert f"of that Tax 20 % {TAX}" in totals


@pytest.mark.parametrize("given", ["", "0", *BAD_AMOUNTS], ids=lambda given: given[:12] or "empty")
def test_a_payment_that_is_no_amount_is_said_beside_it_and_kept(
    counter: Counter, quote: str, given: str
) -> None:
    form = filled(counter, quote, "entries", payment__amount=given, payment__note="by the daughter")
    answer = counter.post(f"{quote}/entries", form)
    assert answer.status == 422
    assert len(answer.error("payment.amount")) > 20
    assert answer.fields.items() >= typed(form).items()
    assert ledger(answer) == []


def test_more_than_is_owed_is_not_received(counter: Counter, quote: str) -> None:
    form = filled(counter, quote, "entries", payment__amount="103.52")
    answer = counter.post(f"{quote}/entries", form)
    assert answer.status == 422
    assert "103.52 is more than is still to pay, 103.51" in answer.error("payment.amount")


def test_money_is_given_back_up_to_what_was_received(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    form = filled(counter, quote, "entries", payment__kind="refund", payment__amount="50.01")
    answer = counter.post(f"{quote}/entries", form)
    assert answer.status == 422
    assert "50.01 is more than was received, 50.00" in answer.error("payment.amount")
    page = counter.go(f"{quote}/entries", form | {"payment.amount": "20"})
    assert ledger(page)[-1] == ("Refund, cash", "\N{MINUS SIGN}20.00")
    assert page.words("price") == "73.51"  # 103.51 − 50 + 20
    assert "20.00 given back is recorded." in page.main


@pytest.mark.parametrize("kind", ["correction", "gift", "<b>"])
def test_a_kind_of_entry_that_is_not_offered_is_refused(
    counter: Counter, quote: str, kind: str
) -> None:
    form = filled(counter, quote, "entries", payment__kind=kind, payment__amount="10")
    answer = counter.post(f"{quote}/entries", form)
    assert answer.status == 422
    assert answer.error("payment.kind")


def test_an_entry_is_corrected_by_a_contrary_one(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    page = do(counter, quote, "entries/1/correct")
    assert ledger(page) == [
        ("Deposit, cash (corrected)", "50.00"),
        ("Correction, cash", "\N{MINUS SIGN}50.00"),
    ]
    assert page.words("price") == TO_PAY
    assert "Correct" not in page.buttons()


def test_a_correction_is_made_once_and_never_corrected_itself(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    version = do(counter, quote, "entries/1/correct").fields["version"]
    for entry, why in (
        ("1", "was corrected already"),
        ("2", "cannot be corrected"),
        ("9", "not in"),
    ):
        answer = counter.post(f"{quote}/entries/{entry}/correct", {"version": version})
        assert answer.status == 409
        assert why in answer.words("error-summary")
        assert len(ledger(answer)) == 2


def test_a_payment_that_was_given_back_is_not_corrected(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    do(counter, quote, "entries", payment__kind="refund", payment__amount="30")
    version = counter.get(quote).fields["version"]
    answer = counter.post(f"{quote}/entries/1/correct", {"version": version})
    assert answer.status == 409
    assert "correct the refund first" in answer.words("error-summary")


def rows(page: Shown) -> list[str]:
    """The lines of sums in the money part."""
    parts = page.one("totals").iter()
    return [words(line) for line in parts if "price-row" in (line.get("class") or "").split()]


def paid_up(counter: Counter, quote: str) -> None:
    """Taken with 50.00 down, and the other 53.51 paid."""
    do(counter, quote, "take", deposit="50")
    do(counter, quote, "entries", payment__amount="53.51")


def test_goodwill_after_payment_is_to_return_and_its_tax_is_less(
    counter: Counter, quote: str
) -> None:
    """103.51 − 10.00 = 93.51, of which 20/120 is 15.585, half up 15.59; 103.51 was paid."""
    paid_up(counter, quote)
    page = do(counter, quote, "reductions", goodwill__amount="10", goodwill__reason="a scratch")
    assert "10.00 is taken off. 10.00 is to refund" in page.main
    assert (page.words("price-label"), page.words("price")) == ("To refund", "10.00")
    assert rows(page)[-5:] == [
        "The piece, with tax 103.51",
        "Taken off −10.00",
        "Comes to 93.51",
        "of that Tax 20 % 15.59",
        "Received 103.51",
    ]
    again = do(
        counter, quote, "entries", payment__kind="refund", payment__amount="10", payment__note=""
    )
    assert again.words("price") == "0.00"


def test_goodwill_before_payment_lowers_what_is_owed_in_lists_and_on_the_desk(
    counter: Counter, quote: str
) -> None:
    """103.51 − 50.00 − 10.00 = 43.51."""
    do(counter, quote, "take", deposit="50")
    page = do(counter, quote, "reductions", goodwill__amount="10", goodwill__reason="late")
    assert page.words("price") == "43.51"
    assert page.fields["payment.amount"] == "43.51"
    assert "93.51" in counter.get("/orders").main
    assert "43.51" in counter.get("/").main
    assert "53.51" not in counter.get("/").main


def test_goodwill_is_undone_by_a_contrary_entry_and_both_stay(counter: Counter, quote: str) -> None:
    paid_up(counter, quote)
    do(counter, quote, "reductions", goodwill__amount="10", goodwill__reason="a scratch")
    form = counter.get(quote).form(f"{quote}/reductions/1/undo")
    page = counter.go(f"{quote}/reductions/1/undo", form)
    assert page.words("price") == "0.00"
    assert ("Undone: a scratch", "10.00") in ledger(page)
    assert ("a scratch", "−10.00") in ledger(page)
    assert page.buttons(f"{quote}/reductions/1/undo") == []
    again = counter.post(f"{quote}/reductions/1/undo", form | {"version": page.fields["version"]})
    assert again.status == 409
    assert "undone already" in again.words("error-summary")


@pytest.mark.parametrize(
    ("typed", "at", "why"),
    [
        (("103.52", "a scratch"), "goodwill.amount", "more than the order comes to, 103.51"),
        (("0", "a scratch"), "goodwill.amount", "zero"),
        (("much", "a scratch"), "goodwill.amount", "“much”"),
        (("10", " "), "goodwill.reason", "The reason is empty"),
        (("10", "x" * 121), "goodwill.reason", "121 characters"),
    ],
)
def test_goodwill_that_cannot_be_is_said_and_kept_as_typed(
    counter: Counter, quote: str, typed: tuple[str, str], at: str, why: str
) -> None:
    do(counter, quote, "take")
    fields = dict(zip(("goodwill.amount", "goodwill.reason"), typed, strict=True))
    form = counter.get(quote).form(f"{quote}/reductions") | fields
    page = counter.post(f"{quote}/reductions", form)
    assert page.status == 422
    assert why in page.error(at)
    assert page.fields.items() >= fields.items()
    assert page.words("price") == "103.51"


def test_a_quote_is_changed_rather_than_reduced(counter: Counter, quote: str) -> None:
    page = counter.get(quote)
    assert "goodwill.amount" not in page.fields
    form = {"version": page.fields["version"], "goodwill.amount": "10", "goodwill.reason": "x"}
    answer = counter.post(f"{quote}/reductions", form)
    assert answer.status == 409
    assert "not ordered yet" in answer.words("error-summary")


def test_a_piece_cancelled_after_goodwill_leaves_no_sum_below_zero(
    counter: Counter, quote: str
) -> None:
    """Two pieces, 207.02; 150.00 is taken off; with one cancelled only 103.51 is there to take from."""
    form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", form)
    do(counter, quote, "take")
    do(counter, quote, "reductions", goodwill__amount="150", goodwill__reason="water damage")
    page = do(counter, quote, "pieces/2/stage", stage="cancelled")
    assert page.words("price") == "0.00"
    assert "Taken off −103.51" in rows(page)
    back = do(counter, quote, "pieces/2/take-back")
    assert back.words("price") == "57.02"  # 207.02 − 150.00


def test_a_stale_payment_is_not_written_and_not_lost(counter: Counter, quote: str) -> None:
    form = filled(
        counter, quote, "entries", payment__amount="33.10", payment__note="by the daughter"
    )
    do(counter, quote, "take", deposit="50")
    answer = counter.post(f"{quote}/entries", form)
    assert answer.status == 409
    assert answer.fields["payment.amount"] == "33.10"
    assert answer.fields["payment.note"] == "by the daughter"
    assert ledger(answer) == [("Deposit, cash", "50.00")]
    page = counter.go(f"{quote}/entries", answer.form(f"{quote}/entries"))
    assert ledger(page)[-1] == ("Payment, cash \N{EN DASH} by the daughter", "33.10")


# --- date and note ---------------------------------------------------------------------------


def test_date_and_note_are_kept(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "terms", terms__due="2026-12-24", terms__note="Ring <b>before</b>")
    assert "due Thu 24 Dec 2026" in page.main
    assert "Ring <b>before</b>" in page.main


def test_date_and_note_have_a_heading_of_their_own(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "terms", terms__due="2026-12-15", terms__note="ring before")
    assert "Date and note Ready on Tue 15 Dec 2026" in [
        words(heading) for heading in page.each(tag="summary")
    ]
    assert page.main.count("ring before") == 2, "to be read, and in its field"
    assert "Ready on Tue 15 Dec 2026" in page.main


def test_the_due_date_that_was_noted_is_the_one_that_is_offered(
    counter: Counter, quote: str
) -> None:
    page = do(counter, quote, "terms", terms__due="2026-12-24")
    assert page.fields["due"] == "24 Dec 2026"


def test_a_stale_note_is_shown_beside_what_is_stored(counter: Counter, quote: str) -> None:
    form = filled(counter, quote, "terms", terms__note="mine, typed at length")
    do(counter, quote, "terms", terms__note="theirs")
    answer = counter.post(f"{quote}/terms", form)
    assert answer.status == 409
    assert answer.fields["terms.note"] == "mine, typed at length"
    assert "theirs" in answer.main
    assert "theirs" in counter.get(quote).main


@pytest.mark.parametrize("given", BAD_DAYS, ids=lambda given: given[:12])
def test_a_new_date_that_is_none_is_said_and_the_note_kept(
    counter: Counter, quote: str, given: str
) -> None:
    form = filled(counter, quote, "terms", terms__due=given, terms__note="ring before")
    answer = counter.post(f"{quote}/terms", form)
    assert answer.status == 422
    assert len(answer.error("terms.due")) > 20
    assert answer.fields.items() >= typed(form).items()


def test_a_note_that_is_too_long_is_said_and_kept(counter: Counter, quote: str) -> None:
    form = filled(counter, quote, "terms", terms__note="n" * 10_000)
    answer = counter.post(f"{quote}/terms", form)
    assert answer.status == 422
    assert "10000 characters" in answer.error("terms.note")
    assert answer.fields["terms.note"] == "n" * 10_000


def test_no_two_fields_of_the_page_share_an_id(counter: Counter, quote: str) -> None:
    ids = [element.get("id") for element in counter.get(quote).tree.iter() if element.get("id")]
    assert sorted(ids) == sorted(set(ids))


def test_an_order_is_overdue_the_day_after_it_was_due(
    counter: Counter, quote: str, clock: Clock
) -> None:
    do(counter, quote, "take", due="2026-12-10")
    clock.time = NOW.replace(month=12, day=10)
    assert "overdue" not in counter.get(quote).main
    clock.time = NOW.replace(month=12, day=11)
    assert "overdue" in counter.get(quote).main


def test_who_did_what_when_is_in_the_record(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take", deposit="")
    assert "Wed 25 Nov 2026, 10:30" in page.words("history")
