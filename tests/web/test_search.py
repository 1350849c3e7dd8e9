"""One field finds what is kept, from every page, and opens what is meant without a doubt."""

from collections.abc import Iterator

import pytest

from app.lengths import mm
from app.orders import Customer
from app.services import customers, quotes, stock
from app.services.who_is_meant import CustomerRequest
from app.stock.offcuts import Offcut
from app.storage import DATABASE_NAME, Stamp, Store
from tests.builders.hasty import new_store
from tests.builders.values import euro
from tests.builders.worked import BOOK, MOULDING, SHOP, TYPED
from tests.web.conftest import NOW, browser_on
from tests.web.shown import Counter
from tests.web.test_order_lists import GARBAGE
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)


def quoted(store: Store, name: str, title: str, place: str, phone: str = "") -> str:
    typed = {**TYPED, "artwork.title": title, "artwork.place": place}
    asked = CustomerRequest(name=name, phone=phone)
    return f"/orders/{quotes.save_new(store, asked, typed, SHOP, ACT)}"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Counter]:
    """Order 2026-0001 (Dunes, Adaeze Holt), an open quote (Harbour, Bram Holt), a customer with nothing, an offcut."""
    with new_store(tmp_path_factory.mktemp("search") / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        with browser_on(store) as client:
            counter = Counter(client)
            dunes = quoted(store, "Adaeze Holt", "Dunes", "Drawer 7", phone="01632 960 411")
            do(counter, dunes, "take", deposit="103.51", due="2026-12-10")
            do(counter, dunes, "invoices")
            quoted(store, "Bram Holt", "Harbour", "Rack B2")
            customers.add(store, Customer(name="Corin Vance", email="corin@vance.example"), ACT)
            kept = Offcut(
                material=MOULDING.code, unit_cost=euro("5.00"), length=mm(900), place="Rack B2"
            )
            stock.keep_offcut(store, kept, ACT)
            yield counter


def test_the_field_stands_in_the_head_of_every_page(shop: Counter) -> None:
    for page in ("/", "/orders", "/orders/1", "/settings", "/nowhere"):
        assert shop.get(page).has(id="find"), page


@pytest.mark.parametrize(
    ("typed", "opened"),
    [
        ("2026-0001", "/orders/1"),
        ("q-2026-0001", "/orders/1"),
        ("Q-2026-0002", "/orders/2"),
        ("dunes", "/orders/1"),
        ("drawer 7", "/orders/1"),
        ("corin", "/customers/3"),
        ("vance.example", "/customers/3"),
        ("R-2026-0001", "/orders/1"),
        ("k-2026-0001", "/stock/items/1"),
        ("lin-20", "/materials/LIN-20/edit"),
    ],
)
def test_what_is_meant_without_a_doubt_is_opened(shop: Counter, typed: str, opened: str) -> None:
    answer = shop.get(f"/find?q={typed}")
    assert (answer.status, answer.location) == (303, opened)


def test_what_may_be_several_is_listed_with_its_stage(shop: Counter) -> None:
    page = shop.get("/find?q=holt")
    assert page.status == 200
    links = page.links()
    assert links["2026-0001"] == "/orders/1"
    assert links["Q-2026-0002"] == "/orders/2"
    assert links["Adaeze Holt"] == "/customers/1"
    assert "ordered" in page.main
    assert "Thu 10 Dec 2026" in page.main
    assert page.one(id="find").get("value") == "holt"


def test_a_telephone_number_leads_to_the_orders_of_its_owner(shop: Counter) -> None:
    page = shop.get("/find?q=960411")
    assert page.links()["2026-0001"] == "/orders/1"
    assert "Q-2026-0002" not in page.main


def test_a_place_finds_what_lies_there(shop: Counter) -> None:
    page = shop.get("/find?q=rack b2")
    assert {"/orders/2", "/stock/items/1"} <= set(page.links().values())


def test_a_number_may_be_typed_without_its_noughts(shop: Counter) -> None:
    page = shop.get("/find?q=2")
    assert page.links()["Q-2026-0002"] == "/orders/2"


def test_nothing_found_says_what_could_be(shop: Counter) -> None:
    page = shop.get("/find?q=zzzz")
    assert page.status == 200
    assert "Nothing is called so" in page.main


def test_nothing_typed_asks_what_to_find(shop: Counter) -> None:
    assert shop.get("/find").heading == "Find"


@pytest.mark.parametrize("query", GARBAGE)
def test_no_address_upsets_it(shop: Counter, query: str) -> None:
    assert shop.get(f"/find?{query}").status in {200, 303}
