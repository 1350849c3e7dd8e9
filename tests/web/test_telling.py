"""That the customer was told: noted on the order's page, shown on the desk, taken back."""

from datetime import timedelta

import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, in_another_tab, words
from tests.web.test_handing_over import framed
from tests.web.test_orders import do, filled

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    """An order of one piece that is framed on Wednesday 25 November."""
    saved = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return framed(counter, f"/orders/{saved}")


def noted(page: Shown) -> list[tuple[str, bool]]:
    """(what, whether it is struck out) of each telling that is shown."""
    return [
        (words(item[0]).split(" Wed 25 Nov 2026, 10:30")[0], item.get("class") == "corrected")
        for part in page.each(id="told")
        for item in part.iter("li")
    ]


def to_collect(counter: Counter) -> str:
    """The list “to collect” of the desk."""
    return next(
        text for card in counter.get("/").each("card") if "To collect" in (text := words(card))
    )


def test_the_desk_says_who_is_not_told_yet_and_when_one_was(
    counter: Counter, order: str, clock: Clock
) -> None:
    assert "Not told yet." in counter.get(order).words(id="told")
    assert "customer not told yet" in to_collect(counter)
    clock.time = NOW + timedelta(days=7)
    page = do(counter, order, "told", action="phone")
    assert "Noted that Amber Quill was told, phone." in page.main
    assert "Wed 2 Dec 2026, phone" in page.words(id="told")
    assert "told 2 Dec" in to_collect(counter)
    assert "customer not told yet" not in to_collect(counter)


def test_the_buttons_say_that_it_is_noted_and_no_e_mail_without_an_address(
    counter: Counter, order: str
) -> None:
    ways = ["Told by phone", "Told in person", "Told as typed"]
    assert [each for each in counter.get(order).buttons(f"{order}/told") if each] == ways
    customer = counter.get(order).links("order-for")["Amber Quill"]
    form = counter.get(f"{customer}/edit").form(customer)
    counter.go(customer, form | {"email": "amber@quill.example", "action": "save"})
    buttons = counter.get(order).buttons(f"{order}/told")
    assert "Told by e-mail (noted only, nothing is sent)" in buttons


def test_how_is_one_of_the_ways_with_a_word_or_typed_free(counter: Counter, order: str) -> None:
    do(counter, order, "told", told__note="left a message", action="phone")
    page = do(counter, order, "told", told__note="note through the door", action="otherwise")
    assert noted(page) == [
        ("Wed 25 Nov 2026, phone, left a message", False),
        ("Wed 25 Nov 2026, note through the door", False),
    ]


def test_it_is_taken_back_by_a_contrary_entry(counter: Counter, order: str) -> None:
    do(counter, order, "told", action="e-mail")
    page = do(counter, order, "told/1/take-back")
    assert noted(page) == [
        ("Wed 25 Nov 2026, e-mail (undone)", True),
        ("Wed 25 Nov 2026, e-mail", True),
    ]
    assert "Not told yet." in page.words(id="told")
    assert "customer not told yet" in to_collect(counter)
    version = page.fields["version"]
    answer = counter.post(f"{order}/told/1/take-back", {"version": version})
    assert answer.status == 409
    assert "undone already" in answer.words("error-summary")


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-11-26", "still to come"),
        ("2026-11-24", "before the order was taken, on Wed 25 Nov 2026"),
        ("2026-02-30", ""),
        ("", "Type the day of telling"),
        ("1e9", ""),
    ],
)
def test_a_day_that_cannot_be_is_refused_and_kept_as_typed(
    counter: Counter, order: str, day: str, said: str
) -> None:
    form = filled(counter, order, "told", told__day=day, told__note="by letter", action="phone")
    answer = counter.post(f"{order}/told", form)
    assert answer.status == 422
    assert said in answer.error("told.day")
    assert len(answer.error("told.day")) > 20
    assert answer.fields["told.day"] == day
    assert answer.fields["told.note"] == "by letter"
    assert noted(counter.get(order)) == []


def test_how_it_was_is_needed_and_not_endless(counter: Counter, order: str) -> None:
    answer = counter.post(f"{order}/told", filled(counter, order, "told", action="otherwise"))
    assert answer.status == 422
    assert "how the customer was told" in answer.error("told.note")
    form = filled(counter, order, "told", told__note="x" * 81, action="otherwise")
    answer = counter.post(f"{order}/told", form)
    assert answer.status == 422
    assert len(answer.error("told.note")) > 20
    assert answer.fields["told.note"] == "x" * 81
    assert counter.post(f"{order}/told", form | {"action": "smoke"}).status in (409, 422)


def test_the_same_form_twice_is_noted_once(counter: Counter, order: str) -> None:
    form = filled(counter, order, "told", action="phone")
    counter.go(f"{order}/told", form)
    assert counter.post(f"{order}/told", form).status == 303
    assert counter.post(f"{order}/told", in_another_tab(form)).status == 409
    assert len(noted(counter.get(order))) == 1


def test_nobody_is_told_before_anything_is_framed(counter: Counter, order: str) -> None:
    form = filled(counter, order, "told", action="phone")
    page = do(counter, order, "pieces/1/take-back")
    assert not page.has(id="told")
    form["version"] = page.fields["version"]
    answer = counter.post(f"{order}/told", form)
    assert answer.status == 409
    assert "is framed" in answer.words("error-summary")
