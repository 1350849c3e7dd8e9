"""A clock that was set ahead or back is told above every page, before something is dated by it.

The shop's last entry is of Wednesday, 25 November 2026, 10:30.
"""

from datetime import UTC, datetime, timedelta

import pytest

from app.days import Doubt, clock_doubt
from app.services import clock as clocks
from app.storage import Stamp, Store
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter
from tests.web.test_invoices import an_order, issued
from tests.web.test_orders import do

AHEAD = datetime(2027, 3, 3, 9, 0, tzinfo=UTC)
PAGES = ("/", "/orders", "/quotes/new", "/materials", "/stock", "/customers", "/settings/shop")


def customer(counter: Counter, name: str = "Rinn Vale") -> None:
    form = counter.get("/customers/new").form("/customers")
    assert counter.post("/customers", form | {"name": name}).status == 303


def alarm(counter: Counter, page: str = "/") -> str:
    """What stands above a page, "" for nothing."""
    shown = counter.get(page)
    return shown.words("notice-risk") if shown.has("notice-risk") else ""


# By hand: 45 days of rest are allowed, and an hour back.
@pytest.mark.parametrize(
    ("after", "doubt"),
    [
        (timedelta(0), None),
        (timedelta(days=45), None),
        (timedelta(days=45, seconds=1), Doubt.AHEAD),
        (timedelta(hours=-1), None),
        (timedelta(hours=-1, seconds=-1), Doubt.BEHIND),
    ],
)
def test_what_a_clock_is_asked_about(after: timedelta, doubt: Doubt | None) -> None:
    assert clock_doubt(NOW + after, NOW) is doubt


def test_a_shop_at_work_is_told_nothing(counter: Counter, clock: Clock) -> None:
    customer(counter)
    for days in range(0, 400, 40):
        clock.time = NOW + timedelta(days=days)
        assert alarm(counter) == ""
        customer(counter, f"Rinn Vale {days}")


@pytest.mark.parametrize("page", PAGES)
def test_a_clock_that_is_ahead_is_told_above_every_page(
    counter: Counter, clock: Clock, page: str
) -> None:
    customer(counter)
    clock.time = AHEAD
    said = alarm(counter, page)
    assert "This computer says Wed 3 Mar 2027; the last entry here is of Wed 25 Nov 2026." in said
    assert "set its clock right before anything is entered" in said


def test_it_stays_told_though_something_is_entered(counter: Counter, clock: Clock) -> None:
    customer(counter)
    clock.time = AHEAD
    customer(counter, "Rinn Holt")
    assert "the last entry here is of Wed 25 Nov 2026" in alarm(counter)
    clock.time = NOW + timedelta(days=1)  # it is set right
    assert alarm(counter) == ""


def test_a_clock_that_is_behind_is_told(counter: Counter, clock: Clock) -> None:
    customer(counter)
    clock.time = NOW - timedelta(days=30)
    expected = "This computer says Mon 26 Oct 2026; the last entry here is of Wed 25 Nov 2026."
    # 1 November is the first day of this version, and what was entered says more.
    assert expected in alarm(counter)
    clock.time = NOW - timedelta(hours=3)
    assert alarm(counter).count("Wed 25 Nov 2026, ") == 2


@pytest.mark.parametrize("moment", [AHEAD, NOW - timedelta(days=90)])
def test_that_it_is_right_is_said_once(counter: Counter, clock: Clock, moment: datetime) -> None:
    customer(counter)
    clock.time = moment
    link = counter.get("/").links()["It is right"]
    asked = counter.get(link)
    assert "says" in asked.form(link)
    assert "taken for right" in counter.go(link, asked.form(link)).main
    assert alarm(counter) == ""
    customer(counter, "Rinn Holt")
    clock.time = moment + timedelta(days=3)
    assert alarm(counter) == ""


def test_nobody_agrees_to_another_day_than_was_shown(counter: Counter, clock: Clock) -> None:
    customer(counter)
    clock.time = AHEAD
    form = counter.get("/settings/clock").form("/settings/clock")
    clock.time = AHEAD + timedelta(days=700)
    again = counter.post("/settings/clock", form)
    assert again.status == 200
    assert "Wed 31 Jan 2029" in again.main
    assert alarm(counter) != ""


def test_before_the_first_entry_the_version_is_the_floor(counter: Counter, clock: Clock) -> None:
    clock.time = datetime(1970, 1, 1, 0, 5, tzinfo=UTC)
    said = alarm(counter)
    assert "This computer says Thu 1 Jan 1970" in said
    assert "this version of Bevelbook is not older than Sun 1 Nov 2026" in said
    clock.time = NOW
    assert alarm(counter) == ""


def test_the_page_of_a_clock_in_order_says_so(counter: Counter) -> None:
    assert "Nothing speaks against it" in counter.get("/settings/clock").main


def test_a_clock_that_cannot_be_held_against_anything_breaks_no_page(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise LookupError("no such table")

    monkeypatch.setattr(clocks, "read", fail)
    assert counter.get("/orders").status == 200


def test_it_is_kept_with_the_data(stocked: Store) -> None:
    clocks.confirm(stocked, Stamp(who="", now=AHEAD))
    assert clocks.read(stocked, AHEAD).doubt is None
    assert clocks.read(stocked, NOW).doubt is Doubt.BEHIND


def test_after_a_clock_that_was_ahead_invoices_go_on_today(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    """One of the very series bears a later day: the page asks, and both answers hold."""
    orders = [an_order(counter, stocked, name) for name in ("Amber Quill", "Rinn Vale")]
    clock.time = NOW + timedelta(days=20)  # Tuesday, 15 December
    do(counter, orders[0], "invoices")
    clock.time = NOW
    page = counter.get(orders[1])
    form = page.form(f"{orders[1]}/invoices")
    assert form["invoice.dated"] == ""
    asked = page.words(id="invoice-dated")
    assert "Wed 25 Nov 2026, today; its number then follows one of a later day" in asked
    assert "Tue 15 Dec 2026, as R-2026-0001; days go on running with numbers" in asked
    refused = counter.post(f"{orders[1]}/invoices", form | {"invoice.note": "Thank you."})
    assert refused.status == 422
    assert "set its clock right first" in refused.error("invoice.dated")
    assert refused.fields["invoice.note"] == "Thank you."
    again = refused.form(f"{orders[1]}/invoices") | {"invoice.dated": "last"}
    assert issued(counter.go(f"{orders[1]}/invoices", again)) == [
        "Invoice R-2026-0002 Tue 15 Dec 2026 103.51"
    ]


def test_nothing_is_asked_where_no_later_day_is_borne(counter: Counter, stocked: Store) -> None:
    order = an_order(counter, stocked)
    assert "invoice.dated" not in counter.get(order).fields
