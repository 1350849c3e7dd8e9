"""Due dates fall on days on which the shop is open; today is Wednesday 25 November 2026."""

from datetime import timedelta

import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown
from tests.web.test_orders import do, filled

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
PROMISES = "/settings/promises"


def keep(counter: Counter, **typed: str) -> Shown:
    """Keep the promises with some fields typed anew; a__b stands for a.b."""
    values = {name.replace("__", "."): value for name, value in typed.items()}
    form = counter.get(PROMISES).form(PROMISES) | values | {"action": "save"}
    return counter.post(PROMISES, {name: value for name, value in form.items() if value})


@pytest.fixture
def quote(counter: Counter, stocked: Store) -> str:
    saved = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return f"/orders/{saved}"


def test_a_shop_is_open_from_monday_to_saturday_until_it_says_otherwise(counter: Counter) -> None:
    fields = counter.get(PROMISES).fields
    days = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    assert [fields[f"open.{day}"] for day in days] == ["1"] * 6 + [""]
    assert fields["open.closed"] == ""


def test_the_suggested_day_is_the_next_open_one(counter: Counter, quote: str) -> None:
    """18 days from Wednesday 25 November is Sunday 13 December; closed on Monday, it is Tuesday."""
    assert keep(counter, ready_days="18").status == 303
    assert counter.get(quote).fields["due"] == "14 Dec 2026"
    assert keep(counter, open__closed="2026-12-14").status == 303
    assert counter.get(quote).fields["due"] == "15 Dec 2026"
    assert keep(counter, open__tuesday="", open__closed="").status == 303
    assert counter.get(quote).fields["due"] == "14 Dec 2026"


def test_spans_of_closed_days_are_read_and_written_back(counter: Counter) -> None:
    typed = "2026-12-24 to 2027-01-02\n2026-12-08"
    assert keep(counter, open__closed=typed).status == 303
    page = counter.get(PROMISES)
    kept = page.fields["open.closed"]
    assert kept.split("\n") == ["8 Dec 2026", "24 Dec 2026 to 2 Jan 2027"]
    assert "Tue 8 Dec 2026; Thu 24 Dec 2026 to Sat 2 Jan 2027" in page.main
    assert keep(counter, open__closed=kept.replace(" 2026", "").replace(" 2027", "")).status == 303
    assert counter.get(PROMISES).fields["open.closed"] == kept


def test_closed_days_are_understood_in_the_order_of_the_shop(counter: Counter) -> None:
    """A shop that writes the month first is told so, by each line that cannot be."""
    form = counter.get("/settings/shop").fields
    counter.post("/settings/shop", form | {"day_order": "month-first"})
    assert "12/13 or 24 Dec to 2 Jan" in counter.get(PROMISES).main
    answer = keep(counter, open__closed="25/12")
    assert "the month stands first here; type it as 12/13" in answer.error("open.closed")
    assert keep(counter, open__closed="12/25").status == 303
    assert counter.get(PROMISES).fields["open.closed"] == "25 Dec 2026"


def test_closed_days_are_told_while_they_are_typed(counter: Counter) -> None:
    asked = "/days?field=open.closed&towards=closed&text="
    answer = counter.get(f"{asked}24+Dec+to+2+Jan%0A8.12.").text
    assert "Thu 24 Dec 2026 to Sat 2 Jan 2027; Tue 8 Dec 2026" in answer
    assert "is no day that can be read" in counter.get(f"{asked}50+x+40").text


def test_a_typed_day_on_which_the_shop_is_closed_is_taken_with_a_notice(
    counter: Counter, quote: str
) -> None:
    page = do(counter, quote, "take", due="2026-12-13")
    said = "The shop is closed on Sun 13 Dec 2026; it is open next on Mon 14 Dec 2026."
    assert said in page.main
    assert "due Sun 13 Dec 2026 – the shop is closed then" in page.words("order-head")
    page = do(counter, quote, "terms", terms__due="2026-12-20")
    assert "The shop is closed on Sun 20 Dec 2026" in page.main
    page = do(counter, quote, "terms", terms__due="2026-12-21")
    assert "closed" not in page.main


def test_a_closed_day_is_told_beside_its_field(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", due="2026-12-13")
    said = "Sun 13 Dec 2026, in 18 days: the shop is closed; open next on Mon 14 Dec"
    assert f'id="terms-due-said" data-swap>{said}</span>' in counter.get(quote).text


@pytest.mark.parametrize("given", ["yesterday", "24 November 2026", "13 December 2025"])
def test_no_work_is_promised_for_a_past_day(counter: Counter, quote: str, given: str) -> None:
    answer = counter.post(f"{quote}/take", filled(counter, quote, "take", due=given))
    assert answer.status == 422
    assert "is past. Type a day from today on, or leave the field empty." in answer.error("due")
    assert answer.fields["due"] == given
    do(counter, quote, "take", due="2026-12-14")
    answer = counter.post(f"{quote}/terms", filled(counter, quote, "terms", terms__due=given))
    assert "is past." in answer.error("terms.due")


def test_a_promised_day_that_went_by_may_stay(counter: Counter, quote: str, clock: Clock) -> None:
    do(counter, quote, "take", due="2026-11-26")
    clock.time = NOW + timedelta(days=2)
    page = do(counter, quote, "terms", terms__note="He rang.")
    assert "Date and note are saved." in page.main


@pytest.mark.parametrize(
    "given",
    ["Christmas", "2026-02-30", "2027-01-02 to 2026-12-24", "2026-12-24 to", "1e9", "9" * 99],
)
def test_what_is_no_day_is_said_beside_it_and_kept(counter: Counter, given: str) -> None:
    answer = keep(counter, open__closed=given)
    assert answer.status == 422
    assert len(answer.error("open.closed")) > 20
    assert answer.fields["open.closed"] == given


def test_a_shop_that_is_never_open_is_refused(counter: Counter) -> None:
    days = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    answer = keep(counter, **{f"open__{day}": "" for day in days})
    assert answer.status == 422
    assert "at least one day" in answer.error("open.monday")
