"""A quote is saved and gone on from by one button of its form: to its paper, or to the order that is taken of it.

The piece is the worked one (tests/builders/worked). The shop's habit is to be ready in 14 days.
"""

import pytest

from app.orders import Stage
from app.services import orders
from app.storage import Store
from tests.builders.worked import TO_PAY
from tests.web.shown import Counter, Shown
from tests.web.test_quotes import save_form, saved

ONWARD = ("Save and print", "Save and order")


def changed_form(counter: Counter, **changes: str) -> dict[str, str]:
    return {**counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1"), **changes}


def landed(counter: Counter, address: str, form: dict[str, str]) -> Shown:
    """The page of the order that a post leads to, with its notice."""
    answer = counter.post(address, form)
    assert (answer.status, answer.address) == (303, "/orders/1")
    return counter.get(answer.address)


def test_a_new_quote_has_the_buttons_and_each_is_an_action_of_the_form(counter: Counter) -> None:
    page = counter.get("/quotes/new")
    assert page.buttons()[-4:] == ["Save the quote", *ONWARD, "Work it out"]
    actions = {each.get("value") for each in page.each(tag="button") if each.get("name")}
    assert {"save", "print", "order"} <= actions


def test_saving_and_printing_leads_to_the_paper(counter: Counter, stocked: Store) -> None:
    answer = counter.post("/quotes", save_form(action="print"))
    assert (answer.status, answer.address) == (303, "/orders/1/quote.pdf")
    assert orders.get(stocked, 1).stage is Stage.QUOTED


def test_saving_and_ordering_takes_the_order_as_is_usual(counter: Counter, stocked: Store) -> None:
    page = landed(counter, "/quotes", save_form(action="order"))
    order = orders.get(stocked, 1)
    assert order.stage is Stage.ORDERED
    assert order.order_number
    assert order.due is not None
    assert order.ordered_on is not None
    assert 14 <= (order.due - order.ordered_on).days <= 17, "14 days, and on to an open one"
    assert (
        f"The quote is saved as Q-2026-0001. Order {order.order_number} is taken, ready on"
        in page.main
    )
    assert "without a deposit" in page.main
    assert not order.entries


@pytest.mark.parametrize("action", ["print", "order"])
def test_what_cannot_be_saved_is_neither_printed_nor_ordered(
    counter: Counter, stocked: Store, action: str
) -> None:
    page = counter.post("/quotes", save_form(action=action, artwork__size="16x"))
    assert page.status == 422
    assert page.has("error-summary")
    assert page.fields["artwork.size"] == "16x"
    assert counter.get("/orders/1").status == 404


@pytest.mark.parametrize("action", ["print", "order"])
def test_while_one_types_nothing_is_kept(counter: Counter, action: str) -> None:
    page = counter.post("/quotes?live=1", save_form(action=action))
    assert page.words("price") == TO_PAY
    assert counter.get("/orders/1").status == 404


def test_a_changed_piece_of_a_quote_goes_on_to_the_order(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/1/change")
    assert set(ONWARD) <= set(page.buttons())
    form = changed_form(counter, **{"artwork.title": "Harbour", "action": "order"})
    assert counter.post("/orders/1/pieces/1", form).address == "/orders/1"
    assert orders.get(stocked, 1).stage is Stage.ORDERED
    assert orders.get(stocked, 1).pieces[0].artwork.title == "Harbour"


def test_a_piece_of_an_order_is_printed_but_not_ordered_again(
    counter: Counter, stocked: Store
) -> None:
    counter.post("/quotes", save_form(action="order"))
    buttons = counter.get("/orders/1/pieces/1/change").buttons()
    assert "Save and print" in buttons
    assert "Save and order" not in buttons
    number = orders.get(stocked, 1).order_number
    form = changed_form(counter, **{"artwork.title": "Harbour", "action": "order"})
    page = landed(counter, "/orders/1/pieces/1", form)
    assert "It is not ordered yet" in page.main
    assert orders.get(stocked, 1).order_number == number
    assert orders.get(stocked, 1).pieces[0].artwork.title == "Harbour", "it is saved"


def test_a_design_is_not_ordered_before_one_is_taken(counter: Counter, stocked: Store) -> None:
    saved(stocked)
    page = counter.get("/orders/1/pieces/1/designs/new")
    assert "Save and print" in page.buttons()
    assert "Save and order" not in page.buttons()
    form = page.form("/orders/1/pieces/1/designs")
    counter.post("/orders/1/pieces/1/designs", {**form, "action": "save"})
    form = changed_form(counter, action="order")
    assert "It is not ordered yet" in landed(counter, "/orders/1/pieces/1", form).main
    assert orders.get(stocked, 1).stage is Stage.QUOTED
