"""The desk: each order stands in the one list where it asks for something, and in no other."""

from datetime import date, timedelta

import pytest
from lxml.html import HtmlElement as Element

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.desk.page import due_words
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import came_due, do

ACT = Stamp(who="Ilse", now=NOW)


def quote(store: Store, name: str, title: str = "Harbour", act: Stamp = ACT) -> str:
    typed = {**TYPED, "artwork.title": title}
    return f"/orders/{quotes.save_new(store, CustomerRequest(name=name), typed, SHOP, act)}"


def card(desk: Shown, title: str) -> Element:
    """The list of that title."""
    for each in desk.each("card"):
        head = each.find("h2")
        assert head is not None
        if words(head[0]) == title:
            return each
    raise AssertionError(f"no list {title}")


def listed(desk: Shown, title: str) -> tuple[int, list[str]]:
    """(how many, the customers shown) of a list."""
    found = card(desk, title)
    return int(words(found[0][1])), [words(each) for each in found.iter("strong")]


def tally(desk: Shown) -> dict[str, str]:
    """What is counted, and the number."""
    return {words(part[0]): words(next(part.iter("b"))) for part in desk.each("tally-part")}


def test_an_empty_shop_is_told_where_to_begin(counter: Counter) -> None:
    desk = counter.get("/")
    assert desk.heading == "Wednesday 25 November"
    assert "No open work" in desk.main
    assert "/quotes/new" in desk.links().values()
    assert not desk.has("card")


def test_an_order_wanders_from_list_to_list(counter: Counter, stocked: Store) -> None:
    order = quote(stocked, "Amber Quill")
    assert listed(counter.get("/"), "Quotes to ring about") == (1, ["Amber Quill"])
    do(counter, order, "take", deposit="50", due="2026-12-01")
    desk = counter.get("/")
    assert listed(desk, "Quotes to ring about") == (0, [])
    assert listed(desk, "Work by due date") == (1, ["Amber Quill"])
    assert tally(desk) == {"overdue": "0", "to cut": "1", "to collect": "0", "owed": "53.51"}
    assert "1 piece · make the cutting plan" in desk.words("tally")
    assert listed_at(counter, "/orders?due=week") == ["2026-0001"]
    do(counter, order, "pieces/1/stage", stage="cut")
    desk = counter.get("/")
    assert tally(desk)["to cut"] == "0"
    assert listed(desk, "Work by due date") == (1, ["Amber Quill"])
    do(counter, order, "pieces/1/stage", stage="framed")
    desk = counter.get("/")
    assert listed(desk, "Work by due date") == (0, [])
    assert listed_at(counter, "/orders?due=week") == []
    assert listed(desk, "To collect") == (1, ["Amber Quill"])
    assert desk.links("desk")["Amber Quill 2026-0001"] == order, "several of one customer differ"
    assert "owes 53.51" in words(card(desk, "To collect"))
    assert "EUR, 1 order" in desk.words("tally")
    owing = counter.get("/orders?owing=1&sort=owed").main
    assert "53.51" in owing
    assert "103.51" in owing
    do(counter, order, "entries")
    desk = counter.get("/")
    assert "paid" in words(card(desk, "To collect"))
    assert "all is paid" in desk.words("tally")
    do(counter, order, "hand-over")
    desk = counter.get("/")
    assert listed(desk, "To collect") == (0, [])
    assert tally(desk) == {"overdue": "0", "to cut": "0", "to collect": "0", "owed": "0"}


def listed_at(counter: Counter, path: str) -> list[str]:
    """The numbers in the list at an address."""
    page = counter.get(path)
    return [words(row[0]) for body in page.each(tag="tbody") for row in body.iter("tr")]


def test_unfinished_work_is_overdue_after_its_day(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    do(counter, quote(stocked, "Amber Quill"), "take", due="2026-12-01")
    clock.time = NOW + timedelta(days=6)  # 1 December
    desk = counter.get("/")
    assert tally(desk)["overdue"] == "0"
    assert "today" in words(card(desk, "Work by due date"))
    clock.time = NOW + timedelta(days=7)
    desk = counter.get("/")
    assert tally(desk)["overdue"] == "1"
    assert "oldest 1 day" in desk.words("tally")
    assert "1 day late" in words(card(desk, "Work by due date"))
    assert listed(desk, "Work by due date") == (1, ["Amber Quill"])
    assert listed_at(counter, "/orders?due=late&sort=due") == ["2026-0001"]
    assert listed_at(counter, "/orders?due=week") == []


def test_a_week_ahead_is_seven_days(counter: Counter, stocked: Store) -> None:
    do(counter, quote(stocked, "Within"), "take", due="2026-12-02")
    do(counter, quote(stocked, "Beyond"), "take", due="2026-12-03")
    assert listed_at(counter, "/orders?due=week") == ["2026-0001"]
    assert "Within" in counter.get("/orders?due=week").main


@pytest.mark.parametrize(
    ("due", "said"),
    [
        (date(2026, 11, 16), "9 days late"),
        (date(2026, 11, 24), "1 day late"),
        (date(2026, 11, 25), "today"),
        (date(2026, 11, 26), "tomorrow"),
        (date(2026, 12, 3), "Thu 3 Dec"),
        (date(2027, 1, 4), "Mon 4 Jan"),
        (date(2027, 6, 4), "Fri 4 Jun 2027"),
        (None, "no date"),
    ],
)
def test_a_day_is_said_as_one_says_it_today(due: date | None, said: str) -> None:
    assert due_words(due, date(2026, 11, 25)) == said


def test_work_stands_by_its_day_and_each_order_once(counter: Counter, stocked: Store) -> None:
    for name, due in (("Later", "2026-12-03"), ("Undated", ""), ("Sooner", "2026-11-26")):
        do(counter, quote(stocked, name), "take", due=due)
    do(counter, "/orders/3", "pieces/1/stage", stage="cut")
    desk = counter.get("/")
    assert listed(desk, "Work by due date") == (3, ["Sooner", "Later", "Undated"])
    lines = [words(line) for line in card(desk, "Work by due date").iter("li")]
    assert lines[0] == "tomorrow Sooner 2026-0003 Harbour 2026-0003 Drawer 3 cut"
    assert lines[1] == "Thu 3 Dec Later 2026-0001 Harbour 2026-0001 Drawer 3 ordered"
    assert lines[2] == "no date Undated 2026-0002 Harbour 2026-0002 Drawer 3 ordered"


def test_who_waits_longest_for_the_owner_comes_first(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    for name in ("First", "Second"):
        do(counter, quote(stocked, name), "take")
    for order in ("/orders/2", "/orders/1"):
        do(counter, order, "pieces/1/stage", stage="cut")
        do(counter, order, "pieces/1/stage", stage="framed")
        clock.time = clock.time + timedelta(days=1)
    desk = counter.get("/")
    assert listed(desk, "To collect") == (2, ["Second", "First"])
    lines = [words(line) for line in card(desk, "To collect").iter("li")]
    assert [line.partition(" Second")[0].partition(" First")[0] for line in lines] == [
        "2 days",
        "1 day",
    ]
    assert "longest ready 2 days" in desk.words("tally")


def test_quotes_past_their_day_come_first_and_say_so(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    quote(stocked, "Amber Quill")
    clock.time = NOW + timedelta(days=30)
    desk = counter.get("/")
    assert listed(desk, "Quotes to ring about") == (1, ["Amber Quill"])
    assert "until 25 Dec" in words(card(desk, "Quotes to ring about"))
    assert len(listed_at(counter, "/quotes?valid=open")) == 1
    quote(stocked, "Later", act=Stamp(who="Ilse", now=clock.time))
    clock.time = NOW + timedelta(days=31)
    desk = counter.get("/")
    assert listed(desk, "Quotes to ring about") == (2, ["Amber Quill", "Later"])
    assert "expired 25 Dec Amber Quill" in words(card(desk, "Quotes to ring about"))
    assert listed_at(counter, "/quotes?valid=expired") == ["Q-2026-0001"]
    assert listed_at(counter, "/quotes?valid=open") == ["Q-2026-0002"]
    assert listed_at(counter, "/quotes?sort=valid") == ["Q-2026-0001", "Q-2026-0002"]


def test_declined_and_cancelled_work_stands_in_no_list(counter: Counter, stocked: Store) -> None:
    do(counter, quote(stocked, "Declined"), "stage", stage="declined")
    order = quote(stocked, "Cancelled")
    do(counter, order, "take", deposit="")
    do(counter, order, "pieces/1/stage", stage="cancelled")
    desk = counter.get("/")
    assert not [card for card in desk.each("card") if list(card.iter("strong"))]


def test_the_stages_are_counted_and_lead_to_their_lists(counter: Counter, stocked: Store) -> None:
    quote(stocked, "One")
    do(counter, quote(stocked, "Two"), "take")
    desk = counter.get("/")
    links = {words(link): link.get("href") for link in desk.one("way").iter("a")}
    assert links["1 quoted"] == "/quotes?stage=quoted&sort=valid"
    assert links["1 ordered"] == "/orders?stage=ordered"
    assert links["0 collected"] == "/orders?stage=collected"


def test_the_list_behind_a_number_holds_what_it_counts(counter: Counter, stocked: Store) -> None:
    for name in ("One", "Two", "Three"):
        order = quote(stocked, name)
        do(counter, order, "take")
        came_due(stocked, order, date(2026, 11, 24))
    quote(stocked, "Four")
    desk = counter.get("/")
    heads = [head for each in desk.each("card") if (head := each.find("h2")) is not None]
    counted = [(head[0].get("href"), int(words(head[1]))) for head in heads]
    for part in desk.each("tally-part"):
        link, note = next(part.iter("a")), words(part)
        number = 3 if "owed" in note else int(words(link))
        counted.append((link.get("href"), number))
    assert [number for _, number in counted] == [3, 0, 1, 3, 3, 0, 3]
    for href, number in counted:
        assert len(listed_at(counter, href or "")) == number, href


def test_a_long_list_shows_the_first_and_says_how_many_more(
    counter: Counter, stocked: Store
) -> None:
    for number in range(10):
        quote(stocked, f"Customer {number}")
    count, shown = listed(counter.get("/"), "Quotes to ring about")
    assert (count, len(shown)) == (10, 4)
    assert counter.get("/").links()["and 6 more still valid"] == "/quotes?valid=open&sort=valid"
    for number in range(1, 11):
        do(counter, f"/orders/{number}", "take")
    for number in range(3):
        do(counter, quote(stocked, f"Customer {number}"), "take")
    desk = counter.get("/")
    count, shown = listed(desk, "Work by due date")
    assert (count, len(shown)) == (13, 12)
    assert desk.links()["and 1 more"] == "/orders?due=open&sort=due"
    assert len(listed_at(counter, "/orders?due=open&sort=due")) == 13


def test_html_in_names_is_shown_as_typed(counter: Counter, stocked: Store) -> None:
    quote(stocked, "<i>Amber</i>", title="<b>Dusk</b>")
    desk = counter.get("/")
    assert "<i>Amber</i>" in desk.main
    assert "<b>Dusk</b>" in desk.main
