"""A form that makes something is kept once, however often it is sent."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest

from app.services import customers, orders, stock
from app.storage import Store
from tests.builders.worked import TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter

RECEIVED = {"material": "LIN-20", "count": "10", "length": "3000", "unit_cost": "28.20"}


def quote_form(counter: Counter) -> dict[str, str]:
    form = counter.get("/quotes/new").form("/quotes")
    return form | TYPED | {"customer": "Adaeze Holt", "action": "save"}


def test_the_same_quote_sent_twice_is_kept_once(counter: Counter, stocked: Store) -> None:
    form = quote_form(counter)
    first, second = counter.post("/quotes", form), counter.post("/quotes", form)
    assert (first.status, second.status) == (303, 409)
    assert "saved before, at" in second.main
    assert second.links()["Go to what was saved"] == first.location
    assert orders.listed(stocked).total == 1
    assert customers.listed(stocked).total == 1


def test_it_may_be_meant_a_second_time(counter: Counter, stocked: Store) -> None:
    form = quote_form(counter)
    counter.post("/quotes", form)
    asked = counter.post("/quotes", form)
    again = asked.form("/quotes")
    assert again["artwork.size"] == TYPED["artwork.size"]
    assert counter.post("/quotes", again).address == "/orders/2"
    assert orders.listed(stocked).total == 2


def test_what_was_changed_in_between_is_another_form(counter: Counter, stocked: Store) -> None:
    form = quote_form(counter)
    counter.post("/quotes", form)
    assert counter.post("/quotes", form | {"artwork.title": "Harbour at dawn"}).status == 303
    assert orders.listed(stocked).total == 2


def test_a_refused_form_may_be_sent_again(counter: Counter, stocked: Store) -> None:
    wrong = quote_form(counter) | {"customer": ""}
    assert [counter.post("/quotes", wrong).status for _ in range(2)] == [422, 422]
    assert counter.post("/quotes", quote_form(counter)).status == 303
    assert orders.listed(stocked).total == 1


def test_recalculating_what_was_saved_is_no_second_save(counter: Counter) -> None:
    form = quote_form(counter)
    counter.post("/quotes", form)
    assert counter.post("/quotes?live=1", form, **{"x-partial": "1"}).status == 200


def test_after_an_hour_the_same_form_is_meant(counter: Counter, clock: Clock) -> None:
    form = {"name": "Rinn Vale", "once": "1"}
    counter.go("/customers", form)
    clock.time = NOW + timedelta(minutes=59)
    assert counter.post("/customers", form).status == 409
    clock.time = NOW + timedelta(minutes=61)
    assert counter.post("/customers", form).status == 303


def test_two_at_the_same_moment_make_one(counter: Counter, stocked: Store) -> None:
    form = counter.get("/customers/new").form("/customers") | {"name": "Rinn Vale"}
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda _: counter.post("/customers", form).status, range(4)))
    assert sorted(answers) == [303, 409, 409, 409]
    assert customers.listed(stocked).total == 1


@pytest.mark.parametrize("page", ["/stock/receive", "/stock/offcuts/new"])
def test_forms_of_the_stock_are_kept_once_too(counter: Counter, page: str) -> None:
    assert counter.get(page).form(page)["once"] == "1"


def test_a_delivery_pressed_twice_is_on_the_rack_once(counter: Counter, stocked: Store) -> None:
    form = counter.get("/stock/receive").form("/stock/receive") | RECEIVED
    first, second = (counter.post("/stock/receive", form) for _ in range(2))
    assert (first.status, second.status) == (303, 409)
    assert stock.listed(stocked).rows[0].kept.on_hand == 10
    assert stock.listed(stocked).total == 1
