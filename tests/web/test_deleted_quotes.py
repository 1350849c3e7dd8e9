"""A quote that was a mistake is deleted in one act: asked about first, kept in the record, taken back at will (M4)."""

import pytest

from app.orders import Stage
from app.services import orders, quotes, ticket_prints
from app.services.who_is_meant import CustomerRequest
from app.storage import Store
from tests.builders.lines import GOODS
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, words
from tests.web.test_orders import ACT, do, record

pytestmark = pytest.mark.slow


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece, Q-2026-0001."""
    number = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return f"/orders/{number}"


def delete(counter: Counter, quote: str) -> str:
    """Delete a quote as its page asks, and return the form that did it as it was sent."""
    form = counter.get(f"{quote}/delete").form(f"{quote}/delete")
    counter.go(f"{quote}/delete", form)
    return form["version"]


def test_the_only_piece_is_removed_with_its_quote_after_a_question(
    counter: Counter, quote: str
) -> None:
    links = counter.get(quote).links()
    assert links["Delete the piece and the quote"] == f"{quote}/delete"
    assert links["Delete this quote"] == f"{quote}/delete"
    asked = counter.get(f"{quote}/delete")
    assert "Delete quote Q-2026-0001?" in asked.main
    assert "stays noted as deleted and is not given again" in asked.main
    delete(counter, quote)
    page = counter.get(quote)
    assert [words(each) for each in page.each("stage")] == ["deleted", "deleted"]
    assert record(page)[0] == "deleted with the quote"
    assert page.buttons(f"{quote}/take") == []


def test_a_deleted_quote_stands_in_no_list_and_its_number_is_explained(
    counter: Counter, stocked: Store, quote: str
) -> None:
    assert "Q-2026-0001" in counter.get("/").main
    delete(counter, quote)
    assert "Q-2026-0001" not in counter.get("/").main
    listed = counter.get("/quotes?stage=declined")
    assert "Q-2026-0001" in listed.main
    assert [words(each) for each in listed.each("stage") if each.tag == "span"] == ["deleted"]
    following = quotes.save_new(stocked, CustomerRequest(name="Ben Alder"), TYPED, SHOP, ACT)
    assert orders.get(stocked, following).number == "Q-2026-0002"


def test_a_declined_quote_is_not_called_deleted(counter: Counter, quote: str) -> None:
    do(counter, quote, "stage", stage="declined")
    assert words(counter.get("/quotes").one("stage", tag="span")) == "declined"
    answer = counter.client.get(f"{quote}/delete")
    assert answer.status_code == 409
    assert "Q-2026-0001 is declined; only an open quote can be deleted." in answer.text


def test_twice_is_once(counter: Counter, stocked: Store, quote: str) -> None:
    version = delete(counter, quote)
    again = counter.go(f"{quote}/delete", {"version": version})
    assert "Quote Q-2026-0001 is deleted." in again.main
    (piece,) = orders.get(stocked, int(quote.rpartition("/")[2])).pieces
    assert len(piece.changes) == 1


def test_a_deletion_is_taken_back(counter: Counter, quote: str) -> None:
    delete(counter, quote)
    page = do(counter, quote, "take-back")
    assert "Quote Q-2026-0001 is brought back." in page.main
    assert page.words("stage", tag="span") == "quoted"
    assert record(page) == ["brought back with the quote", "deleted with the quote"]
    do(counter, quote, "stage", stage="declined")
    assert words(counter.get("/quotes").one("stage", tag="span")) == "declined"


def test_a_quote_of_a_line_alone_is_deleted_by_striking_it(
    counter: Counter, stocked: Store
) -> None:
    with stocked.writing() as work:
        work.materials.add_all(GOODS, now=NOW)
    form = counter.get("/sell").form("/sell")
    form |= {"customer": "Ben Alder", "goods": "CARD", "number": "12", "action": "save"}
    page = counter.go("/sell", form)
    assert page.links()["Strike it and delete the quote"] == "/orders/1/delete"
    delete(counter, "/orders/1")
    page = counter.get("/orders/1")
    assert page.words("stage", tag="span").startswith("deleted")
    listed = counter.get("/quotes?deleted=1")
    assert [words(each) for each in listed.each("stage")] == ["deleted"]


def test_all_that_stands_on_it_goes_and_comes_back_together(
    counter: Counter, stocked: Store, quote: str
) -> None:
    form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", form)
    delete(counter, quote)
    order = orders.get(stocked, 1)
    assert [piece.stage for piece in order.pieces] == [Stage.DECLINED, Stage.DECLINED]
    assert order.deleted
    do(counter, quote, "take-back")
    assert orders.get(stocked, 1).stage is Stage.QUOTED


def test_a_quote_with_money_stays(counter: Counter, quote: str) -> None:
    do(counter, quote, "entries", payment__amount="10")
    page = counter.get(quote)
    assert "Delete this quote" not in page.links()
    answer = counter.post(f"{quote}/delete", {"version": page.fields["version"]})
    assert answer.status == 409
    assert "A payment is recorded for Q-2026-0001" in answer.words("error-summary")


def test_an_order_stays_and_so_does_a_quote_that_was_one(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="")
    page = counter.get(quote)
    answer = counter.post(f"{quote}/delete", {"version": page.fields["version"]})
    assert "2026-0001 was taken as an order" in answer.words("error-summary")
    do(counter, quote, "pieces/1/take-back")
    page = counter.get(quote)
    assert "Delete this quote" not in page.links()
    answer = counter.post(f"{quote}/delete", {"version": page.fields["version"]})
    assert answer.status == 409


def test_a_quote_with_a_printed_ticket_stays(counter: Counter, stocked: Store, quote: str) -> None:
    answer = counter.client.get(f"{quote}/pieces/1/ticket.pdf")
    printed = ticket_prints.printed_tickets(
        stocked, (kept := orders.get(stocked, 1)), kept.pieces, SHOP
    )
    if answer.status_code != 200 or not printed:
        pytest.fail("the ticket of a quoted piece is expected to print and to be noted")
    assert "Delete this quote" not in counter.get(quote).links()
    version = counter.get(quote).fields["version"]
    refused = counter.post(f"{quote}/delete", {"version": version})
    assert "A ticket of Q-2026-0001 was printed" in refused.words("error-summary")


def test_an_old_page_does_not_delete_what_was_added_since(counter: Counter, quote: str) -> None:
    form = counter.get(f"{quote}/delete").form(f"{quote}/delete")
    added = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", added)
    answer = counter.post(f"{quote}/delete", form)
    assert answer.status == 409
    assert counter.get(quote).words("stage", tag="span") == "quoted"


def test_a_deleted_quote_shows_what_it_was_and_is_only_brought_back(
    counter: Counter, quote: str
) -> None:
    kept = counter.get(f"{quote}/pieces/1/change").fields
    delete(counter, quote)
    page = counter.get(quote)
    assert "This quote is deleted" in page.words(id="deleted")
    assert "Harbour at dusk" in page.main
    acts = [form.get("action") for form in page.each(tag="form") if form.get("method") == "post"]
    assert [act for act in acts if act and act.startswith(quote)] == [f"{quote}/take-back"]
    assert page.buttons(f"{quote}/take-back") == ["Undo the deletion"]
    links = page.links()
    assert not any(name in links for name in ("Quote (PDF)", "For another customer", "Change"))
    for words_of_a_living_one in ("valid until", "declined", "Record payment"):
        assert words_of_a_living_one not in page.main
    printed = counter.client.get(f"{quote}/quote.pdf")
    assert (printed.status_code, "Q-2026-0001 is deleted; undo that" in printed.text) == (
        409,
        True,
    )
    saved = counter.post(
        f"{quote}/pieces/1", kept | {"version": page.fields["version"], "action": "save"}
    )
    assert saved.status == 409
    assert "Q-2026-0001 is deleted. Undo that on its page" in saved.main


@pytest.mark.parametrize(
    ("act", "typed"),
    [
        ("entries", {"payment.amount": "5"}),
        ("terms", {"terms.note": "Ring the bell"}),
        ("pieces/1/stage", {"stage": "quoted"}),
        ("customer", {"customer": "Ben Alder"}),
        ("target", {"target.amount": "90", "action": "meet"}),
    ],
)
def test_nothing_else_is_done_to_a_deleted_quote(
    counter: Counter, stocked: Store, quote: str, act: str, typed: dict[str, str]
) -> None:
    delete(counter, quote)
    before = orders.get(stocked, 1)
    version = counter.get(quote).fields["version"]
    answer = counter.post(f"{quote}/{act}", typed | {"version": version})
    assert answer.status in {409, 422}
    assert "Q-2026-0001 is deleted" in answer.main
    assert orders.get(stocked, 1) == before


def test_the_list_of_quotes_leaves_deleted_ones_out_until_they_are_asked_for(
    counter: Counter, stocked: Store, quote: str
) -> None:
    quotes.save_new(stocked, CustomerRequest(name="Ben Alder"), TYPED, SHOP, ACT)
    delete(counter, quote)
    page = counter.get("/quotes")
    assert "Q-2026-0001" not in page.main
    assert "Q-2026-0002" in page.main
    assert "1 quote" in page.main
    only = counter.get(page.links("chips")["deleted"])
    assert "Q-2026-0001" in only.main
    assert "Q-2026-0002" not in only.main
    assert "Q-2026-0001" in counter.get("/quotes?q=Q-2026-0001").main
