"""The lists of quotes and orders: filters, search, sorting and pages, all in the address."""

from collections.abc import Iterator
from datetime import date

import pytest

from app.services import orders, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, NewPiece, Stamp, Store
from tests.builders.hasty import new_store
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.web.conftest import NOW, browser_on
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import came_due, do

ACT = Stamp(who="Ilse", now=NOW)

GARBAGE = (
    "stage=nowhere",
    "stage=",
    "sort=%00",
    "due=never",
    "owing=maybe",
    "page=0",
    "page=-1",
    "page=1e9",
    "page=NaN",
    "page=999999999999999999999",
    "page=%D9%A3",
    "q=" + "x" * 10_000,
    "q=%22",
    "q=%27%3B+drop+table+orders%3B--",
    "q=*",
    "q=a+AND+(",
    "q=%F0%9F%96%BC",
    "q=%00",
    "q=%FF%FE",
    "nothing=known&stage=ordered&stage=cut",
    "a" * 5_000,
)


def add(store: Store, name: str, title: str = "Harbour", place: str = "") -> str:
    typed = {**TYPED, "artwork.title": title, "artwork.place": place}
    return f"/orders/{quotes.save_new(store, CustomerRequest(name=name), typed, SHOP, ACT)}"


def names(page: Shown) -> list[str]:
    """The customers of a list, in its order."""
    rows = [row for body in page.each(tag="tbody") for row in body.iter("tr")]
    return [words(row[1]) for row in rows]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Counter]:
    """One quote and one declined; orders: two ordered (one owing, one late), one cut, one framed."""
    with new_store(tmp_path_factory.mktemp("lists") / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        with browser_on(store) as client:
            yield filled(store, Counter(client))


def filled(store: Store, counter: Counter) -> Counter:
    add(store, "Quoted")
    do(counter, add(store, "Declined"), "stage", stage="declined")
    do(counter, add(store, "Owing", "Dunes"), "take", deposit="", due="2026-11-30")
    late = add(store, "Late", "Müller's mill")
    do(counter, late, "take", deposit="103.51")
    came_due(store, late, date(2026, 11, 20))
    cut = add(store, "Cut", "Harbour", "Drawer 7")
    do(counter, cut, "take", deposit="103.51", due="2027-01-10")
    do(counter, cut, "pieces/1/stage", stage="cut")
    framed = add(store, "Framed")
    do(counter, framed, "take", deposit="103.51")
    came_due(store, framed, date(2026, 11, 1))
    do(counter, framed, "pieces/1/stage", stage="cut")
    do(counter, framed, "pieces/1/stage", stage="framed")
    return counter


def test_quotes_and_orders_are_listed_apart(shop: Counter) -> None:
    assert sorted(names(shop.get("/quotes"))) == ["Declined", "Quoted"]
    assert sorted(names(shop.get("/orders"))) == ["Cut", "Framed", "Late", "Owing"]


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("stage=ordered", ["Late", "Owing"]),
        ("stage=cut", ["Cut"]),
        ("stage=framed", ["Framed"]),
        ("stage=collected", []),
        ("due=late", ["Late"]),
        ("due=week", ["Owing"]),
        ("owing=1", ["Owing"]),
        ("stage=cut&owing=1", []),
        ("q=mill", ["Late"]),
        ("q=muller", ["Late"]),
        ("q=DUN", ["Owing"]),
        ("q=drawer+7", ["Cut"]),
        ("q=2026-0001", ["Owing"]),
        ("q=harbour+cut", ["Cut"]),
        ("q=harbour&stage=framed", ["Framed"]),
        ("q=nobody", []),
    ],
)
def test_a_list_holds_what_its_address_asks_for(
    shop: Counter, query: str, expected: list[str]
) -> None:
    page = shop.get(f"/orders?{query}")
    assert sorted(names(page)) == expected
    if not expected:
        assert "Nothing matches" in page.main
        assert "/orders" in page.links().values()


def test_a_list_says_how_many_it_holds(shop: Counter) -> None:
    assert words(shop.get("/orders").one(tag="caption")) == "4 orders"
    assert words(shop.get("/orders?stage=cut").one(tag="caption")) == "1 order"
    assert words(shop.get("/quotes?stage=declined").one(tag="caption")) == "1 quote"


def test_a_list_shows_the_figures_of_each_order(shop: Counter) -> None:
    (row,) = [
        row for body in shop.get("/orders?q=owing").each(tag="tbody") for row in body.iter("tr")
    ]
    assert [words(cell) for cell in row] == [
        "2026-0001",
        "Owing",
        "Dunes",
        "ordered",
        "Mon 30 Nov 2026",
        "",
        "103.51",
        "103.51",
    ]


def test_late_work_is_flagged_by_a_word(shop: Counter) -> None:
    page = shop.get("/orders?stage=ordered")
    flagged = [words(row) for row in page.each(tag="tr") if "overdue" in words(row).split()]
    assert len(flagged) == 1
    assert "Late" in flagged[0]


def test_by_due_date_the_first_comes_first(shop: Counter) -> None:
    assert names(shop.get("/orders?sort=due")) == ["Framed", "Late", "Owing", "Cut"]


def test_a_filter_is_set_and_taken_off_by_its_link(shop: Counter) -> None:
    page = shop.get("/orders?q=harbour")
    link = page.links("chips")["cut"]
    narrowed = shop.get(link)
    assert names(narrowed) == ["Cut"]
    assert narrowed.fields["q"] == "harbour"
    current = [chip for chip in narrowed.each("chip-current") if words(chip) == "cut"]
    assert [chip.get("aria-current") for chip in current] == ["true"]
    assert sorted(names(shop.get(narrowed.links("chips")["cut"]))) == ["Cut", "Framed"]


def test_a_search_keeps_the_filters(shop: Counter) -> None:
    page = shop.get("/orders?stage=ordered&sort=due&owing=1")
    assert page.fields.items() >= {"stage": "ordered", "sort": "due", "owing": "1"}.items()


def test_what_was_searched_stands_in_the_field(shop: Counter) -> None:
    assert shop.get("/orders?q=%3Cb%3Emill").fields["q"] == "<b>mill"


@pytest.mark.parametrize("query", GARBAGE, ids=lambda query: query[:24])
@pytest.mark.parametrize("path", ["/orders", "/quotes", "/"])
def test_garbage_in_the_address_is_left_out(shop: Counter, path: str, query: str) -> None:
    assert shop.get(f"{path}?{query}").status == 200


def test_a_list_has_pages_and_the_links_between_them(counter: Counter, stocked: Store) -> None:
    first = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    piece = orders.get(stocked, first).pieces[0]
    again = NewPiece(artwork=piece.artwork, agreed=piece.agreed)
    head = orders.QuoteHead(customer_id=1, valid_until=NOW.date())
    with stocked.writing() as work:
        for _ in range(104):
            orders.add_quote(work, head, [again], ACT)
    page = counter.get("/quotes")
    assert len(names(page)) == 25
    assert "105 quotes" in page.words(tag="caption")
    links = page.links("pages")
    assert list(links) == ["1", "2", "3", "5"]
    assert len(names(counter.get(links["3"]))) == 25
    assert len(names(counter.get(links["5"]))) == 5
    assert "stage=quoted" in counter.get("/quotes?stage=quoted").links("pages")["2"]


def test_a_page_past_the_end_is_the_last_one(counter: Counter, stocked: Store) -> None:
    add(stocked, "Amber Quill")
    assert names(counter.get("/quotes?page=400")) == ["Amber Quill"]


def test_an_empty_list_says_how_to_begin(counter: Counter) -> None:
    page = counter.get("/orders")
    assert "An order begins as a quote." in page.main
    assert "/quotes/new" in page.links().values()


def test_of_one_day_the_highest_number_stands_first(counter: Counter, stocked: Store) -> None:
    """The second quote is ordered before the first, which gets the higher number."""
    first, second = add(stocked, "Amber Quill"), add(stocked, "Bo Reed")
    do(counter, second, "take")
    do(counter, first, "take")
    rows = [words(row[0]) for row in counter.get("/orders").one(tag="tbody").iter("tr")]
    assert rows == ["2026-0002", "2026-0001"]
    assert names(counter.get("/orders")) == ["Amber Quill", "Bo Reed"]
