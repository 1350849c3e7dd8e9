"""A turned screen is bound to the order that it was turned from, and to what is begun from there; no name opens a record."""

from typing import Any

import pytest
from fastapi.routing import iter_route_contexts

from app.services import customers, orders
from app.storage import Store
from app.web.kit.access import BESIDE_CUSTOMER, ORDER_ID
from app.web.kit.facing import COOKIE
from tests.builders.worked import TYPED
from tests.web.shown import Counter
from tests.web.test_every_route import filled

OURS, OTHERS = "Imke Sand", "Xavier Otherman"
THEIRS = {
    "name": OTHERS,
    "phone": "07700 900 222",
    "email": "xavier@otherman.example",
    "address": "9 Secret Lane",
}
CLOSED = "The screen faces the customer"


@pytest.fixture
def two(counter: Counter) -> Counter:
    """A counter with a quote for each of two customers, who have the numbers 1 and 2, as their quotes have."""
    counter.post("/customers", {"name": OURS, "phone": "07700 900 111"})
    counter.post("/customers", THEIRS)
    for number, name in enumerate((OURS, OTHERS), 1):
        saved = counter.post("/quotes", TYPED | {"customer": f"{name} #{number}", "action": "save"})
        assert saved.address == f"/orders/{number}"
    return counter


def turn(counter: Counter, page: str = "/", to: str = "customer", **more: str) -> None:
    assert counter.post("/turn", {"to": to, "next": page, **more}).status == 303


def of_orders(counter: Counter) -> set[tuple[str, str]]:
    """Every route that names an order and is open beside a customer, from the table of the app."""
    app: Any = counter.client.app
    routes = {
        (method, route.path)
        for route in iter_route_contexts(app.routes)
        for method in (route.methods or ())
        if route.path and f"{{{ORDER_ID}}}" in route.path
    }
    return routes & BESIDE_CUSTOMER


@pytest.mark.parametrize("turned_from", ["/orders/1", "/orders/1/pieces/1/change", "/", "/stock"])
def test_another_order_is_closed_by_every_route_that_names_one(
    two: Counter, turned_from: str
) -> None:
    turn(two, turned_from)
    routes = of_orders(two)
    assert len(routes) >= 15
    for method, path in sorted(routes):
        for number in ("2", "300", "0", "abc", "9" * 30):
            answer = two.client.request(method, filled(path, order_id=number))
            assert answer.status_code == 403, (method, path, number)
            assert CLOSED in answer.text
            assert OTHERS not in answer.text


def test_the_order_that_it_was_turned_from_is_open(two: Counter) -> None:
    turn(two, "/orders/1/pieces/1")
    for page in ("", "/wall", "/pieces/new", "/pieces/1/change", "/pieces/1/show"):
        assert two.get(f"/orders/1{page}").status == 200


def test_a_page_that_is_covered_binds_the_screen_though_it_is_not_gone_back_to(
    two: Counter,
) -> None:
    turn(two, "/turn", **{"from": "/orders/1/pieces/1"})
    assert two.get("/orders/1").status == 200
    assert two.get("/orders/2").status == 403


def test_it_is_turned_from_another_order_only_once_it_was_turned_back(two: Counter) -> None:
    turn(two, "/orders/1")
    turn(two, "/orders/2")
    assert two.get("/orders/2").status == 403
    assert two.get("/orders/1").status == 200
    turn(two, to="shop")
    turn(two, "/orders/2")
    assert two.get("/orders/2").status == 200
    assert two.get("/orders/1").status == 403


@pytest.mark.parametrize("written", ["1", "", "no such", "0123456789abcdef.1.x", "x.1.2"])
def test_a_cookie_that_nobody_can_read_opens_no_order(two: Counter, written: str) -> None:
    two.client.cookies.set(COOKIE, written)
    assert two.get("/orders/1").status == 403
    assert two.get("/quotes/new").status == 200


def test_a_quote_that_is_begun_while_it_is_turned_is_open(two: Counter) -> None:
    turn(two)
    saved = two.post("/quotes", TYPED | {"customer": "Rinn Vale", "action": "save"})
    assert saved.address == "/orders/3"
    assert two.get("/orders/3").status == 200
    assert two.get("/orders/3/wall").status == 200
    assert two.get("/orders/1").status == 403


def test_a_new_quote_names_nobody_but_whose_order_is_open(two: Counter) -> None:
    turn(two, "/orders/1")
    assert two.get("/quotes/new?customer=1").fields["customer"] == OURS
    for number in ("2", "77"):
        page = two.get(f"/quotes/new?customer={number}")
        assert page.fields["customer"] == ""
        assert OTHERS not in page.text


def known(store: Store, order_id: int) -> tuple[str, str, str]:
    found = customers.get(store, orders.get(store, order_id).customer_id).value
    return found.name, found.phone, found.address


@pytest.mark.parametrize("phone", ["", "07700 900 999"])
def test_a_name_that_somebody_has_opens_nobodys_record(
    two: Counter, store: Store, phone: str
) -> None:
    turn(two)
    typed = TYPED | {"customer": OTHERS, "customer.phone": phone}
    assert "9 Secret Lane" not in two.post("/quotes", typed | {"action": "recalculate"}).text
    page = two.go("/quotes", typed | {"action": "save"})
    assert known(store, 3) == (OTHERS, phone, "")
    for secret in (THEIRS["phone"], THEIRS["email"], THEIRS["address"]):
        assert secret not in page.text


def test_a_name_with_their_phone_is_theirs(two: Counter, store: Store) -> None:
    turn(two)
    typed = TYPED | {"customer": OTHERS, "customer.phone": "07700900222", "action": "save"}
    two.go("/quotes", typed)
    assert known(store, 3) == (OTHERS, "07700 900 222", "9 Secret Lane")


@pytest.mark.parametrize("text", ["#2", "Xavier Otherman #2", "07700 900 222", "@otherman.example"])
def test_a_number_of_somebody_is_no_name_beside_a_customer(two: Counter, text: str) -> None:
    turn(two)
    refused = two.post("/quotes", TYPED | {"customer": text, "action": "save"})
    assert refused.status == 422
    assert "is no name" in refused.error("customer")
    assert "9 Secret Lane" not in refused.text
    assert two.get("/orders/3").status == 403


def test_who_was_chosen_before_it_was_turned_is_meant_still(two: Counter, store: Store) -> None:
    facing = two.go("/quotes", TYPED | {"customer": f"{OTHERS} #2", "action": "turn"})
    form = facing.form("/quotes")
    assert form["customer"] == OTHERS
    again = two.post("/quotes", form | {"action": "recalculate"}).form("/quotes")
    two.go("/quotes", again | {"action": "save"})
    assert orders.get(store, 3).customer_id == 2


def test_the_shop_is_asked_once_it_is_turned_back_whether_it_is_the_same_person(
    two: Counter,
) -> None:
    turn(two)
    two.post("/quotes", TYPED | {"customer": OTHERS, "action": "save"})
    assert "#2" not in two.get("/orders/3").text
    turn(two, "/orders/3", to="shop")
    assert "Is it Xavier Otherman #2?" in two.get("/orders/3").text


@pytest.mark.parametrize(
    "page", ["/quotes", "/orders/1/pieces", "/orders/1/pieces/1", "/orders/1/pieces/1/designs"]
)
def test_a_form_that_turns_the_screen_stands_at_an_address_of_its_own(
    two: Counter, page: str
) -> None:
    """So that Back and reload ask for a page, and send no form again."""
    typed = TYPED | {"customer": "Rinn Vale", "artwork.title": "Harbour", "version": "1"}
    for faces in ("customer", "shop"):
        turning = two.post(page, typed | {"action": "turn"})
        assert turning.status == 303
        assert "Rinn" not in turning.location
        came = two.get(turning.location)
        assert came.status == 200
        assert f'data-faces="{faces}"' in came.text
        assert came.form(page)["artwork.title"] == "Harbour"


def test_what_one_customer_typed_is_not_shown_to_the_next(two: Counter) -> None:
    first = two.post("/quotes", TYPED | {"customer": OURS, "action": "turn"}).location
    assert OURS in two.get(first).text
    turn(two, to="shop")
    turn(two)
    assert OURS not in two.get(first).text


def test_what_is_said_beside_a_customer_is_not_for_the_shop(two: Counter) -> None:
    turn(two, "/orders/1")
    typed = TYPED | {"customer": "Rinn Vale", "frames.0.material": "no such", "action": "save"}
    refused = two.post("/quotes", typed).text
    assert "Choose from the list, by a part of the name." in refused
    assert "its code" not in refused
    missing = two.get("/orders/1/pieces/9/change")
    assert missing.status == 404
    assert "found by number or customer" not in missing.text


def test_a_piece_that_is_cut_is_only_looked_at(two: Counter) -> None:
    order = two.get("/orders/1")
    two.go("/orders/1/take", order.form("/orders/1/take"))
    cut = two.get("/orders/1/pieces/1").form("/orders/1/pieces/1/stage")
    two.go("/orders/1/pieces/1/stage", cut)
    assert "Undo the last change" in two.get("/orders/1/pieces/1/change").text
    turn(two, "/orders/1")
    page = two.get("/orders/1/pieces/1/change")
    assert "it is only looked at here" in page.text
    assert "Undo" not in page.text
