"""A form that writes is kept once, however often it is sent."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import timedelta

import pytest

from app.services import customers, orders, stock
from app.storage import SENT, Answer, SentBefore, SentForm, Store, empty
from app.storage.tables.sent_forms import SentFormRow
from tests.builders.worked import TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown

RECEIVED = {"material": "LIN-20", "count": "10", "length": "3000", "unit_cost": "28.20"}


KNOWN = {"customer.told": "Adaeze Holt #1"}
"""What a page bears that said that the customer is known."""


def quote_form(counter: Counter) -> dict[str, str]:
    form = counter.get("/quotes/new").form("/quotes")
    return form | TYPED | {"customer": "Adaeze Holt", "action": "save"}


def customer_form(counter: Counter) -> dict[str, str]:
    return counter.get("/customers/new").form("/customers") | {"name": "Rinn Vale"}


def notice_of(shown: Shown) -> str:
    """The notice that an answer sets for the next page, as it is sent."""
    return shown.headers["set-cookie"].partition(";")[0]


def test_the_same_quote_sent_twice_is_kept_once(counter: Counter, stocked: Store) -> None:
    form = quote_form(counter)
    first, second = counter.post("/quotes", form), counter.post("/quotes", form)
    assert (first.status, second.status) == (303, 303)
    assert second.location == first.location
    assert notice_of(second) == notice_of(first)
    assert orders.listed(stocked).total == 1
    assert customers.listed(stocked).total == 1


def test_the_notice_is_shown_the_second_time_too(counter: Counter) -> None:
    form = customer_form(counter)
    first, second = counter.go("/customers", form), counter.go("/customers", form)
    assert first.words("notice-done") == second.words("notice-done")
    assert not counter.get("/customers").has("notice-done")


def test_after_back_a_changed_form_asks_before_it_makes_a_second_one(
    counter: Counter, stocked: Store
) -> None:
    form = quote_form(counter)
    first = counter.post("/quotes", form)
    asked = counter.post("/quotes", form | {"artwork.title": "Harbour at dawn"})
    assert asked.status == 409
    assert "saved before, at" in asked.main
    assert "Q-2026-0001" in asked.main
    assert asked.links()["Open what was saved"] == first.location
    assert orders.listed(stocked).total == 1


def test_it_may_be_meant_as_a_further_one_and_is_that_once(
    counter: Counter, stocked: Store
) -> None:
    form = quote_form(counter)
    counter.post("/quotes", form)
    asked = counter.post("/quotes", form | {"artwork.title": "Harbour at dawn"})
    again = asked.form("/quotes")
    assert again["artwork.title"] == "Harbour at dawn"
    assert again["artwork.size"] == TYPED["artwork.size"]
    answers = [counter.post("/quotes", again | KNOWN).address for _ in range(2)]
    assert answers == ["/orders/2", "/orders/2"]
    assert orders.listed(stocked).total == 2


def test_two_forms_that_hold_the_same_are_two(counter: Counter, stocked: Store) -> None:
    """Two equal sales at the counter, each on a page of its own."""
    answers = [counter.post("/quotes", quote_form(counter) | said).address for said in ({}, KNOWN)]
    assert answers == ["/orders/1", "/orders/2"]


def test_what_has_a_version_is_told_by_that(counter: Counter) -> None:
    """A customer is changed; after Back it is changed otherwise: two versions, and no further customer."""
    counter.post("/customers", customer_form(counter))
    form = counter.get("/customers/1/edit").form("/customers/1")
    assert counter.post("/customers/1", form | {"name": "Rinn Vale-Holt"}).status == 303
    otherwise = counter.post("/customers/1", form | {"name": "Rinn Holt"})
    assert otherwise.status == 409
    assert "Two versions" in otherwise.heading


def test_a_change_sent_twice_is_answered_as_the_first_time(counter: Counter) -> None:
    """Its version is an older one the second time, and nobody is asked about that."""
    counter.post("/customers", customer_form(counter))
    form = counter.get("/customers/1/edit").form("/customers/1") | {"name": "Rinn Vale-Holt"}
    answers = [counter.post("/customers/1", form) for _ in range(2)]
    assert [(each.status, each.location) for each in answers] == [(303, answers[0].location)] * 2


def test_a_refused_form_may_be_sent_again(counter: Counter, stocked: Store) -> None:
    right = quote_form(counter)
    wrong = right | {"customer": ""}
    assert [counter.post("/quotes", wrong).status for _ in range(2)] == [422, 422]
    assert counter.post("/quotes", right).status == 303
    assert orders.listed(stocked).total == 1


def test_recalculating_what_was_saved_is_no_second_save(counter: Counter) -> None:
    form = quote_form(counter)
    counter.post("/quotes", form)
    assert counter.post("/quotes?live=1", form, **{"x-partial": "1"}).status == 200
    assert counter.post("/quotes", form | {"action": "recalculate"}).status == 200


def test_a_form_is_known_for_a_day(counter: Counter, stocked: Store, clock: Clock) -> None:
    form = customer_form(counter)
    counter.post("/customers", form)
    clock.time = NOW + timedelta(hours=23, minutes=59)
    assert counter.post("/customers", form).address == "/customers/1"
    clock.time = NOW + timedelta(hours=24, minutes=1)
    assert counter.post("/customers", form).address == "/customers/2"
    assert customers.listed(stocked).total == 2


def test_without_a_key_every_form_is_the_first(counter: Counter, stocked: Store) -> None:
    """As a program sends one that reads no page."""
    answers = [counter.post("/customers", {"name": "Rinn Vale"}).address for _ in range(2)]
    assert answers == ["/customers/1", "/customers/2"]


def test_a_page_of_before_there_were_keys_asks_within_the_hour(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    form = {"name": "Rinn Vale", "once": "1"}
    counter.go("/customers", form)
    clock.time = NOW + timedelta(minutes=59)
    assert counter.post("/customers", form).status == 409
    assert counter.post("/customers", form | {"name": "Rinn Holt"}).address == "/customers/2"
    assert counter.post("/customers", form | {"again": "1"}).address == "/customers/3"
    clock.time = NOW + timedelta(minutes=120)
    assert counter.post("/customers", form).status == 303


def test_several_at_the_same_moment_write_once_and_are_answered_alike(
    counter: Counter, stocked: Store
) -> None:
    form = customer_form(counter)
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda _: counter.post("/customers", form), range(4)))
    assert {(each.status, each.location) for each in answers} == {(303, answers[0].location)}
    assert {notice_of(each) for each in answers} == {notice_of(answers[0])}
    assert customers.listed(stocked).total == 1


def test_one_that_waits_goes_on_where_the_first_was_refused(
    counter: Counter, stocked: Store
) -> None:
    wrong = customer_form(counter) | {"name": ""}
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda _: counter.post("/customers", wrong).status, range(4)))
    assert answers == [422] * 4
    assert counter.post("/customers", wrong | {"name": "Rinn Vale"}).status == 303


def test_a_delivery_pressed_twice_is_on_the_rack_once(counter: Counter, stocked: Store) -> None:
    form = counter.get("/stock/receive").form("/stock/receive") | RECEIVED
    first, second = (counter.post("/stock/receive", form) for _ in range(2))
    assert (first.status, second.status) == (303, 303)
    assert first.location == second.location
    assert stock.listed(stocked).rows[0].kept.on_hand == 10
    assert stock.listed(stocked).total == 1


@pytest.mark.parametrize("page", ["/stock/receive", "/stock/offcuts/new"])
def test_each_time_that_a_form_is_shown_it_has_another_key(counter: Counter, page: str) -> None:
    keys = {counter.get(page).form(page)["once"] for _ in range(3)}
    assert len(keys) == 3
    drawn = {key.rpartition(".")[2] for key in keys}  # after the life of the data
    assert {len(key) for key in drawn} == {22}  # 128 bits, six to a letter
    assert len(drawn) == 3


@contextmanager
def sending(store: Store) -> Iterator[SentForm]:
    """A request that brought a form, the same one each time."""
    form = SentForm.of("k" * 22, "/customers?", {"name": "Rinn Vale"}, at=NOW)
    token = SENT.set(form)
    try:
        yield form
    finally:
        SENT.reset(token)


def test_what_a_form_wrote_and_its_key_are_one_transaction(stocked: Store) -> None:
    with sending(stocked) as form:
        with pytest.raises(ZeroDivisionError), stocked.writing():
            raise ZeroDivisionError
        assert not form.kept
        with stocked.writing():
            pass
        assert form.kept


def test_what_was_written_and_never_answered_is_not_written_twice(stocked: Store) -> None:
    """As after a loss of power between the two."""
    with sending(stocked), stocked.writing():
        pass
    with sending(stocked) as form:
        assert stocked.answer_to(form) is None
        with pytest.raises(SentBefore) as before, stocked.writing():
            pass
    assert before.value.led_to == ""


def test_what_was_written_and_refused_after_all_may_be_sent_again(stocked: Store) -> None:
    with sending(stocked) as form:
        with stocked.writing():
            pass
        stocked.refused(form)
    with sending(stocked), stocked.writing():
        pass


def test_where_all_forms_led_is_forgotten_with_the_names_in_it(stocked: Store) -> None:
    with sending(stocked) as form:
        with stocked.writing():
            pass
        stocked.answered(form, Answer(location="/customers/1", notice="Rinn Vale was saved."))
        with stocked.writing() as work:
            work.sent_forms.forget_what_was_said()
        assert stocked.answer_to(form) is None
    assert stocked.fold()
    assert b"Rinn Vale was saved" not in stocked.path.read_bytes()


def test_removing_a_customer_forgets_what_forms_said_of_one(
    counter: Counter, stocked: Store
) -> None:
    counter.post("/customers", customer_form(counter) | {"name": "Odalys Marwick"})
    form = counter.get("/customers/1/remove").form("/customers/1/remove")
    assert counter.post("/customers/1/remove", form).status == 303
    with stocked.reading() as work:
        said = [row.notice for row in work.session.query(SentFormRow)]
    assert len(said) == 2
    assert not any("Odalys" in each for each in said)


def test_a_form_that_took_everything_out_has_nowhere_to_be_noted(stocked: Store) -> None:
    with sending(stocked) as form:
        with stocked.writing():
            pass
        empty(stocked)
        stocked.answered(form, Answer(location="/welcome", notice=""))
        assert stocked.answer_to(form) is None
