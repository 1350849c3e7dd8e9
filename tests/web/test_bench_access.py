"""What a phone of the bench may ask for: every route of the app is declared, and answers as it is declared."""

import re
from collections.abc import Iterator

import pytest
from fastapi.routing import iter_route_contexts
from starlette.testclient import TestClient

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from app.web.kit.access import AT_THE_BENCH, OFFICE_ALONE, OFFICE_ALONE_UNDER, is_declared
from app.web.kit.closed_links import without_closed
from app.web.kit.visitor import Role, Visitor
from tests.builders.hasty import new_sample
from tests.web.at_bench import phone_on
from tests.web.test_every_route import filled


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with new_sample(tmp_path_factory.mktemp("access") / DATABASE_NAME, orders=60) as store:
        yield store


@pytest.fixture(scope="module")
def phone(store: Store) -> Iterator[TestClient]:
    with phone_on(store) as client:
        client.follow_redirects = False
        yield client


@pytest.fixture(scope="module")
def routes(store: Store) -> frozenset[tuple[str, str]]:
    return frozenset(
        (method, route.path)
        for route in iter_route_contexts(create_app(store).routes)
        for method in (route.methods or ())
        if route.path and method != "HEAD"
    )


def test_of_every_route_it_is_declared_who_may_ask(routes: frozenset[tuple[str, str]]) -> None:
    """A route that is new is declared in `web/kit/access.py`, for the bench or for the office alone."""
    assert {route for route in routes if not is_declared(*route)} == set()


def test_nothing_is_declared_that_is_no_route(routes: frozenset[tuple[str, str]]) -> None:
    paths = {path for _, path in routes}
    assert AT_THE_BENCH - routes == set()
    assert OFFICE_ALONE - paths == set()
    assert all(any(path.startswith(part) for path in paths) for part in OFFICE_ALONE_UNDER)


def test_every_route_but_those_of_the_bench_is_refused(
    phone: TestClient, routes: frozenset[tuple[str, str]]
) -> None:
    answered = {
        route: phone.request(route[0], filled(route[1], slug="shop")).status_code
        for route in routes
    }
    refused = {route for route, status in answered.items() if status == 403}
    allowed = {route for route, status in answered.items() if status != 403}
    # A piece is moved to no stage of the bench by a form that names none.
    asks_more = {
        ("POST", "/orders/{order_id}/pieces/{number}/stage"),
        ("POST", "/orders/{order_id}/pieces/{number}/take-back"),
    }
    assert len(refused) > 100
    assert allowed | asks_more == AT_THE_BENCH


def test_an_address_that_no_route_has_is_refused(phone: TestClient) -> None:
    for method in ("GET", "HEAD", "POST", "PUT", "DELETE"):
        assert phone.request(method, "/nothing-here").status_code == 403
    assert phone.put("/stock").status_code == 403


def test_what_is_refused_is_said_with_a_way_back(phone: TestClient) -> None:
    answer = phone.get("/customers")
    assert answer.status_code == 403
    assert "paired for the bench; it shows tickets, steps, cutting plans and stock" in answer.text
    assert "Phone at the cutter" in answer.text
    assert '<a class="button button-primary" href="/">Go to the desk</a>' in answer.text


def test_a_program_is_refused_in_the_one_shape_of_errors(phone: TestClient) -> None:
    answer = phone.post("/api/price", json={})
    assert answer.status_code == 403
    assert answer.json()["error"]["code"] == "not-for-visitor"


def test_the_head_of_a_page_is_that_of_what_the_phone_is_given(phone: TestClient) -> None:
    given, head = phone.get("/stock"), phone.head("/stock")
    assert head.status_code == 200
    assert (
        head.headers["content-length"] == str(len(given.content)) == given.headers["content-length"]
    )


def test_a_phone_of_the_office_is_given_everything(store: Store) -> None:
    with phone_on(store, Visitor(role=Role.OFFICE, phone="Counter")) as office:
        assert office.get("/customers").status_code == 200


def test_the_navigation_shows_what_may_be_opened(phone: TestClient) -> None:
    page = phone.get("/").text
    menu = re.search(r'<nav class="menu".*?</nav>', page, re.DOTALL)
    assert menu
    assert re.findall(r'href="([^"]*)"', menu[0]) == ["/", "/stock"]
    assert 'action="/find"' not in page
    assert 'href="/handbook"' not in page


@pytest.mark.parametrize(
    "path",
    ["/orders/1/pieces/1", "/plans/1", "/stock/items/1", "/bench/together?piece=1.1"],
    ids=["ticket", "plan", "label", "list"],
)
def test_where_the_codes_of_papers_lead_it_is_let_in(phone: TestClient, path: str) -> None:
    assert phone.get(path).status_code in {200, 404}


def opens_stock_alone(method: str, address: str) -> bool:
    return method == "GET" and address.startswith("/stock")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('<a href="/stock?q=a&amp;b=1">Rack</a>', '<a href="/stock?q=a&amp;b=1">Rack</a>'),
        ('<a class="x" href="/buying">to <b>buy</b></a>', "<span>to <b>buy</b></span>"),
        ('<a class="button button-quiet" href="/buying">Buy</a>', ""),
        ('<a class="chip" href="/buying">Buying</a>', ""),
        ('<a href="#what">Below</a>', '<a href="#what">Below</a>'),
        ('<a href="tel:020">ring</a>', "<span>ring</span>"),
        ('<form method="post" action="/stock"><input></form>', ""),
        (
            '<form action="/stock/count"><input></form>',
            '<form action="/stock/count"><input></form>',
        ),
        ('<form method="post"><input></form>', '<form method="post"><input></form>'),
        ('<p class="actions">\n<a class="button" href="/buying">Buy</a>\n</p>', ""),
    ],
)
def test_links_that_would_be_refused_go(before: str, after: str) -> None:
    assert without_closed(before, opens_stock_alone) == after
