"""Handing over: the pieces leave, the balance is taken or stays owed, and a receipt says so."""

from datetime import timedelta

import pytest

from app.services import quotes
from app.services.orders import NewPiece, QuoteHead, save_quote
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.lines import GOODS
from tests.builders.worked import SHOP, TO_PAY, TYPED
from tests.documents.reading import text_of
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, in_another_tab
from tests.web.test_orders import do, filled, ledger, record

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


def framed(counter: Counter, order: str, *, deposit: str = "50") -> str:
    """An order of 103.51 that is framed."""
    do(counter, order, "take", deposit=deposit)
    for stage in ("cut", "framed"):
        do(counter, order, "pieces/1/stage", stage=stage)
    return order


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    """The worked piece, framed; 103.51, of which 50.00 was paid and 53.51 is open."""
    saved = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return framed(counter, f"/orders/{saved}")


@pytest.fixture
def two(counter: Counter, stocked: Store) -> str:
    """An order of two worked pieces: the first is framed, the second is not cut yet."""
    one = quotes.worked_out(stocked, TYPED, SHOP, today=NOW.date())
    first = quotes.save_new(stocked, CustomerRequest(name="Bo Reed"), TYPED, SHOP, ACT)
    with stocked.reading() as work:
        customer_id = work.orders.get(first).customer_id
    head = QuoteHead(customer_id=customer_id, valid_until=NOW.date() + timedelta(days=30))
    pieces = [NewPiece(artwork=one.artwork, agreed=one.agreed)] * 2
    return framed(counter, f"/orders/{save_quote(stocked, head, pieces, ACT)}", deposit="0")


def test_one_act_hands_over_takes_the_balance_and_offers_the_receipt(
    counter: Counter, order: str
) -> None:
    assert counter.get(order).fields["handover.amount"] == "53.51"  # 103.51 − 50.00
    page = do(counter, order, "hand-over", handover__method="card", action="received")
    assert "Piece 1 is collected. 53.51 received is recorded." in page.main
    assert ledger(page) == [("Deposit, cash", "50.00"), ("Payment, card", "53.51")]
    assert page.words("price") == "0.00"
    assert record(page)[0] == "collected"
    assert page.links("hand-over") == {"Receipt (PDF)": f"{order}/receipts/1.pdf"}


def test_the_balance_stays_owed_only_where_that_is_said(counter: Counter, order: str) -> None:
    """The button says it in words with the amount; an amount that stands in the field is not received then."""
    assert "Hand over, 53.51 stays owed" in counter.get(order).buttons(f"{order}/hand-over")
    page = do(counter, order, "hand-over", action="owed")
    assert "Piece 1 is collected. 53.51 is still to pay." in page.main
    assert ledger(page) == [("Deposit, cash", "50.00")]


@pytest.mark.parametrize(
    ("given", "said"),
    [("30", "30.00 is typed as received, and 53.51 is said to stay owed."), ("thirty", "thirty")],
)
def test_a_part_that_is_typed_as_received_is_not_dropped(
    counter: Counter, order: str, given: str, said: str
) -> None:
    form = filled(counter, order, "hand-over", handover__amount=given, action="owed")
    answer = counter.post(f"{order}/hand-over", form)
    assert answer.status == 422
    assert said in answer.error("handover.amount")
    assert answer.fields["handover.amount"] == given
    page = counter.get(order)
    assert ledger(page) == [("Deposit, cash", "50.00")]
    assert record(page)[0] == "framed"


@pytest.mark.parametrize("given", ["", "0"])
def test_all_of_it_stays_owed_where_nothing_is_typed(
    counter: Counter, order: str, given: str
) -> None:
    page = do(counter, order, "hand-over", handover__amount=given, action="owed")
    assert "Piece 1 is collected. 53.51 is still to pay." in page.main


def test_less_than_the_balance_may_be_received(counter: Counter, order: str) -> None:
    """It is asked first, as it is of an empty field: 53.51 − 30.00 = 23.51."""
    form = filled(counter, order, "hand-over", handover__amount="30", action="received")
    answer = counter.post(f"{order}/hand-over", form)
    assert answer.status == 422
    assert answer.error("handover.amount") == (
        "Error: 30.00 is typed as received, and 23.51 would still be to pay. Type what is received, or choose "
        "“Hand over, 23.51 stays owed”."
    )
    assert answer.fields["handover.amount"] == "30"
    assert ledger(counter.get(order)) == [("Deposit, cash", "50.00")]
    buttons = answer.buttons(f"{order}/hand-over")
    assert [each for each in buttons if "stays owed" in each] == ["Hand over, 23.51 stays owed"]
    page = do(counter, order, "hand-over", handover__amount="30", action="rest owed")
    assert "30.00 received is recorded. 23.51 is still to pay." in page.main


@pytest.mark.parametrize("given", ["", "0"])
def test_collecting_with_a_balance_open_asks_first(
    counter: Counter, order: str, given: str
) -> None:
    form = filled(counter, order, "hand-over", handover__amount=given, handover__method="card")
    answer = counter.post(f"{order}/hand-over", form)
    assert answer.status == 422
    assert "53.51 is still to pay. Type what is received, or choose" in answer.error(
        "handover.amount"
    )
    assert answer.fields["handover.method"] == "card"
    assert record(counter.get(order))[0] == "framed"


def test_the_button_of_the_stage_asks_too(counter: Counter, order: str) -> None:
    version = counter.get(order).fields["version"]
    answer = counter.post(f"{order}/stage", {"stage": "collected", "version": version})
    assert answer.status == 422
    assert "53.51 is still to pay." in answer.error("handover.amount")
    assert answer.fields["handover.amount"] == "53.51"
    assert record(counter.get(order))[0] == "framed"


@pytest.mark.parametrize("of", ["order", "two"])
def test_the_button_of_a_piece_leads_to_the_form_and_to_no_error(
    counter: Counter, request: pytest.FixtureRequest, of: str
) -> None:
    """Nothing was typed yet. The first piece leaves: its price is filled in, and the form stands at the top."""
    order = request.getfixturevalue(of)
    version = counter.get(order).fields["version"]
    form = {"stage": "collected", "version": version}
    page = counter.go(f"{order}/pieces/1/stage", form)
    assert "collected" not in " ".join(record(page))
    assert "need a change" not in page.main
    assert page.error("handover.amount") == ""
    assert page.fields["handover.piece"] == "1"
    assert "Hand over" in page.buttons(f"{order}/hand-over")
    assert page.fields["handover.amount"] == ("53.51" if of == "order" else TO_PAY)
    assert "Hand over" in page.words("next-act")


def test_what_is_paid_is_collected_without_a_question(counter: Counter, order: str) -> None:
    do(counter, order, "entries")
    version = counter.get(order).fields["version"]
    asked = {"stage": "collected", "version": version}
    page = counter.go(f"{order}/pieces/1/stage", asked)
    assert "Piece 1 is collected. The receipt can be printed." in page.main
    assert page.links("notice-done") == {"Open it (PDF)": f"{order}/receipts/1.pdf"}


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("53.52", "53.52 is more than is still to pay, 53.51"),
        ("-3", ""),
        ("NaN", ""),
        ("1e9", ""),
        ("\N{FRAME WITH PICTURE}", ""),
    ],
)
def test_an_amount_that_cannot_be_received_is_refused_and_nothing_is_kept(
    counter: Counter, order: str, given: str, said: str
) -> None:
    form = filled(counter, order, "hand-over", handover__amount=given, action="received")
    answer = counter.post(f"{order}/hand-over", form)
    assert answer.status == 422
    assert said in answer.error("handover.amount")
    assert len(answer.error("handover.amount")) > 20
    assert answer.fields["handover.amount"] == given
    page = counter.get(order)
    assert ledger(page) == [("Deposit, cash", "50.00")]
    assert record(page)[0] == "framed"


@pytest.mark.parametrize("piece", ["2", "abc", "-1", "99999999999"])
def test_a_piece_that_is_none_is_refused(counter: Counter, order: str, piece: str) -> None:
    form = filled(counter, order, "hand-over", action="owed", handover__piece=piece)
    assert counter.post(f"{order}/hand-over", form).status in (404, 409)
    assert record(counter.get(order))[0] == "framed"


def test_the_same_form_twice_and_two_tabs_keep_one_payment(counter: Counter, order: str) -> None:
    form = filled(counter, order, "hand-over", action="received")
    counter.go(f"{order}/hand-over", form)
    assert counter.post(f"{order}/hand-over", form).status == 303
    answer = counter.post(f"{order}/hand-over", in_another_tab(form))
    assert answer.status == 409
    assert ledger(counter.get(order)) == [("Deposit, cash", "50.00"), ("Payment, cash", "53.51")]


def test_a_mistake_is_taken_back_the_stage_and_the_entry_each(counter: Counter, order: str) -> None:
    do(counter, order, "hand-over", action="received")
    page = do(counter, order, "take-back")
    assert record(page)[0] == "undone, collected → framed"
    page = do(counter, order, "entries/2/correct")
    assert ledger(page)[1:] == [
        ("Payment, cash (corrected)", "53.51"),
        ("Correction, cash", "−53.51"),
    ]
    struck = [item.get("class") for part in page.each("ledger") for item in part.iter("li")]
    assert struck == [None, "corrected", "corrected"]
    assert page.fields["handover.amount"] == "53.51"
    assert counter.get(f"{order}/receipts/1.pdf").status == 404


def test_only_what_is_framed_is_handed_over(counter: Counter, two: str) -> None:
    """Two pieces of 103.51 each: 207.02 in all; one leaves with 100.00 paid, so 107.02 stays owed."""
    page = do(counter, two, "hand-over", handover__amount="100", action="rest owed")
    assert "Piece 1 is collected. 100.00 received is recorded. 107.02 is still to pay." in (
        page.main
    )
    assert page.buttons(f"{two}/hand-over") == []
    assert "Piece 1: collected" in record(page)
    assert "Piece 2: collected" not in record(page)


# --- the receipt -----------------------------------------------------------------------------


@pytest.mark.documents
@pytest.mark.poppler
def test_the_receipt_says_what_went_what_was_paid_and_what_is_owed(
    counter: Counter, order: str, clock: Clock
) -> None:
    """103.51 less 50.00 of an earlier day, less 30.00 on the day: 23.51. Paid later, it says so."""
    clock.time = NOW + timedelta(days=7)
    typed = {"handover__amount": "30", "handover__method": "card"}
    do(counter, order, "hand-over", **typed, action="rest owed")
    text = text_of(counter.client.get(f"{order}/receipts/1.pdf").content)
    for said in (
        "Receipt 2026-0001",
        "Amber Quill",
        "Handed over on Wed 2 Dec 2026",
        f"Order total {TO_PAY}",
        "Paid before −50.00",
        "Received Wed 2 Dec 2026, card −30.00",
        "Still owed EUR 23.51",
        "This receipt is not an invoice.",
    ):
        assert said in text
    assert "Printed on" not in text
    clock.time = NOW + timedelta(days=9)
    do(counter, order, "entries", payment__amount="23.51")
    text = text_of(counter.client.get(f"{order}/receipts/1.pdf").content)
    for said in ("Printed on Fri 4 Dec 2026", "Paid since −23.51", "Still owed EUR 0.00"):
        assert said in text


@pytest.mark.documents
@pytest.mark.poppler
def test_the_receipt_names_what_is_still_in_the_shop(counter: Counter, two: str) -> None:
    do(counter, two, "hand-over", action="owed")
    text = text_of(counter.client.get(f"{two}/receipts/1.pdf").content)
    assert "Still with us:" in text
    assert "(in work)" in text
    assert "Received Wed 25 Nov 2026 0.00" in text
    assert "Still owed EUR 207.02" in text


# --- what is to be given back ----------------------------------------------------------------


def test_after_goodwill_the_refund_is_filled_in(counter: Counter, order: str) -> None:
    """All 103.51 is paid, the rest by card; 10.00 off makes 10.00 to return, as it was last paid."""
    do(counter, order, "entries", payment__method="card")
    page = do(counter, order, "reductions", goodwill__amount="10", goodwill__reason="A scratch")
    assert "10.00 is to refund" in page.main
    shown = {name: page.fields[f"payment.{name}"] for name in ("kind", "amount", "method")}
    assert shown == {"kind": "refund", "amount": "10.00", "method": "card"}
    page = do(counter, order, "entries")
    assert ("Refund, card", "−10.00") in ledger(page)
    assert page.words("price") == "0.00"


def test_after_cancelling_the_deposit_is_offered_back(counter: Counter, order: str) -> None:
    page = do(counter, order, "pieces/1/stage", stage="cancelled")
    shown = {name: page.fields[f"payment.{name}"] for name in ("kind", "amount", "method")}
    assert shown == {"kind": "refund", "amount": "50.00", "method": "cash"}


def test_where_only_cards_go_no_more_than_their_price_is_filled_in(
    counter: Counter, order: str
) -> None:
    """Two cards at 5.00 go while the piece is being made: 10.00 of the 63.51 that is still to pay."""
    do(counter, order, "pieces/1/take-back")
    form = counter.get(f"{order}/lines/new").form(f"{order}/lines")
    form |= {"what": "Cards", "number": "2", "price": "5", "action": "save"}
    counter.go(f"{order}/lines", form)
    page = counter.get(order)
    assert page.words("handing") == "Cards"
    assert page.fields["handover.amount"] == "10.00"
    assert "The amount is for what goes now; 53.51 more is still to pay." in page.main
    page = do(counter, order, "hand-over", action="owed")
    assert "1 line is collected. 63.51 is still to pay." in page.main


def test_a_part_that_goes_is_asked_for_at_the_price_that_was_met(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    """Twenty for 1200.00 are 60.00 each; cards of 10.50 that came later keep their price: 3 × 60.00 + 10.50 = 190.50."""
    with stocked.writing() as work:
        work.materials.add_all(GOODS, now=NOW)
    typed = {**TYPED, "copies": "20"}
    saved = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), typed, SHOP, ACT)
    order = f"/orders/{saved}"
    do(counter, order, "target", target__amount="1200", action="meet")
    form = counter.get(f"{order}/lines/new").form(f"{order}/lines")
    counter.go(f"{order}/lines", form | {"goods": "CARD", "number": "3", "action": "save"})
    do(counter, order, "take", deposit="")
    do(counter, order, "pieces/1/stage", stage="cut")
    page = do(counter, order, "pieces/1/stage", stage="framed", count="3")
    assert page.fields["handover.amount"] == "190.50"
    clock.time += timedelta(minutes=1)
    page = do(counter, order, "hand-over", action="received")
    assert page.words("price") == "1,020.00"  # 17 × 60.00
    page = do(counter, order, "pieces/1/stage", stage="framed", count="16")
    assert page.fields["handover.amount"] == "960.00"
    clock.time += timedelta(minutes=1)
    do(counter, order, "hand-over", action="received")
    page = do(counter, order, "pieces/1/stage", stage="framed")
    assert page.fields["handover.amount"] == "60.00"
