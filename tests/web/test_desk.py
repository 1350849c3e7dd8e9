"""The desk: each order lies in the trays where it asks for something, and in no other."""

from datetime import timedelta

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)


def quote(store: Store, name: str, title: str = "Harbour", **changes: str) -> str:
    typed = {**TYPED, "artwork.title": title, **changes}
    return f"/orders/{quotes.save_new(store, CustomerRequest(name=name), typed, SHOP, ACT)}"


def tray(desk: Shown, title: str) -> tuple[int, list[str]]:
    """(how many, the customers shown) of a tray."""
    for card in desk.each("card"):
        head = card.find("h2")
        assert head is not None
        name, count = list(head)
        if words(name) == title:
            return int(words(count)), [words(each) for each in card.iter("strong")]
    raise AssertionError(f"no tray {title}")


def test_an_empty_shop_is_told_where_to_begin(counter: Counter) -> None:
    desk = counter.get("/")
    assert desk.heading == "Wed 25 Nov 2026"
    assert "/quotes/new" in desk.links().values()
    assert not desk.has("card")


def test_an_order_wanders_from_tray_to_tray(counter: Counter, stocked: Store) -> None:
    order = quote(stocked, "Amber Quill")
    assert tray(counter.get("/"), "Open quotes") == (1, ["Amber Quill"])
    do(counter, order, "take", deposit="50", due="2026-12-01")
    desk = counter.get("/")
    assert tray(desk, "Open quotes") == (0, [])
    assert tray(desk, "To cut") == (1, ["Amber Quill"])
    assert tray(desk, "Due this week") == (1, ["Amber Quill"])
    do(counter, order, "pieces/1/stage", stage="cut")
    desk = counter.get("/")
    assert tray(desk, "To cut") == (0, [])
    assert tray(desk, "To frame") == (1, ["Amber Quill"])
    do(counter, order, "pieces/1/stage", stage="framed")
    desk = counter.get("/")
    assert tray(desk, "To frame") == (0, [])
    assert tray(desk, "Due this week") == (0, [])
    assert tray(desk, "To collect") == (1, ["Amber Quill"])
    assert tray(desk, "Owed") == (1, ["Amber Quill"])
    assert "53.51 of 103.51" in desk.main
    assert "EUR 53.51 in all" in desk.main
    do(counter, order, "entries")
    do(counter, order, "pieces/1/stage", stage="collected")
    desk = counter.get("/")
    assert tray(desk, "To collect") == (0, [])
    assert tray(desk, "Owed") == (0, [])


def test_unfinished_work_is_overdue_after_its_day(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    do(counter, quote(stocked, "Amber Quill"), "take", due="2026-12-01")
    clock.time = NOW + timedelta(days=6)  # 1 December
    assert tray(counter.get("/"), "Overdue") == (0, [])
    clock.time = NOW + timedelta(days=7)
    desk = counter.get("/")
    assert tray(desk, "Overdue") == (1, ["Amber Quill"])
    assert tray(desk, "Due this week") == (0, [])


def test_a_week_ahead_is_seven_days(counter: Counter, stocked: Store) -> None:
    do(counter, quote(stocked, "Within"), "take", due="2026-12-02")
    do(counter, quote(stocked, "Beyond"), "take", due="2026-12-03")
    assert tray(counter.get("/"), "Due this week") == (1, ["Within"])


def test_quotes_past_their_day_lie_apart(counter: Counter, stocked: Store, clock: Clock) -> None:
    quote(stocked, "Amber Quill")
    clock.time = NOW + timedelta(days=30)
    assert tray(counter.get("/"), "Open quotes") == (1, ["Amber Quill"])
    clock.time = NOW + timedelta(days=31)
    desk = counter.get("/")
    assert tray(desk, "Open quotes") == (0, [])
    assert tray(desk, "Quotes out of date") == (1, ["Amber Quill"])


def test_declined_and_cancelled_work_lies_in_no_tray(counter: Counter, stocked: Store) -> None:
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
    assert links["1 quoted"] == "/quotes"
    assert links["1 ordered"] == "/orders?stage=ordered"
    assert links["0 collected"] == "/orders?stage=collected"


def test_the_list_behind_a_tray_holds_what_the_tray_counts(
    counter: Counter, stocked: Store
) -> None:
    for name in ("One", "Two", "Three"):
        do(counter, quote(stocked, name), "take", due="2026-11-30")
    desk = counter.get("/")
    for card in desk.each("card"):
        head = card.find("h2")
        assert head is not None
        link, count = list(head)
        if words(link) == "Quotes out of date":
            continue
        listed = counter.get(link.get("href") or "")
        rows = [row for body in listed.each(tag="tbody") for row in body.iter("tr")]
        assert len(rows) == int(words(count)), words(link)


def test_a_long_tray_shows_the_first_and_says_how_many_more(
    counter: Counter, stocked: Store
) -> None:
    for number in range(10):
        quote(stocked, f"Customer {number}")
    count, shown = tray(counter.get("/"), "Open quotes")
    assert (count, len(shown)) == (10, 8)
    assert "and 2 more" in counter.get("/").main


def test_html_in_names_is_shown_as_typed(counter: Counter, stocked: Store) -> None:
    quote(stocked, "<i>Amber</i>", title="<b>Dusk</b>")
    desk = counter.get("/")
    assert "<i>Amber</i>" in desk.main
    assert "<b>Dusk</b>" in desk.main
