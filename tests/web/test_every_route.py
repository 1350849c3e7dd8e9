"""Every route of the app, taken from its own table: numbers that nothing bears, and questions about heads."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from inspect import getsource

import pytest
from fastapi.routing import APIRoute, iter_route_contexts
from starlette.testclient import TestClient

from app.storage import DATABASE_NAME
from app.web.app import PAGES, create_app
from tests.builders.hasty import new_sample
from tests.web.conftest import OWN_ADDRESS

NOBODYS = ("0", "-1", str(2**63), str(10**30), "abc")
"""No number of anything: SQLite's largest is 2**63 - 1."""

SLUG = "shop"
"""A section of the settings, for the one part of an address that is no number."""


@dataclass(frozen=True)
class Served:
    """A sample shop that is served; everything that is numbered has a number 1 in it."""

    client: TestClient
    routes: tuple[tuple[str, str], ...]

    def paths(self, method: str) -> list[str]:
        return [path for each, path in self.routes if each == method]


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with new_sample(tmp_path_factory.mktemp("routes") / DATABASE_NAME, orders=60) as store:
        app = create_app(store)
        routes = tuple(
            (method, route.path)
            for route in iter_route_contexts(app.routes)
            for method in sorted(route.methods or ())
            if route.path
        )
        with TestClient(
            app,
            base_url=OWN_ADDRESS,
            raise_server_exceptions=False,
            follow_redirects=False,
            headers={"sec-fetch-site": "same-origin"},
        ) as client:
            yield Served(client, routes)


def parts_of(path: str) -> list[str]:
    return re.findall(r"{(\w+)}", path)


def filled(path: str, **given: str) -> str:
    """An address in which every part is 1, or what is given for it."""
    return re.sub(r"{(\w+)}", lambda part: given.get(part[1], "1"), path)


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_number_that_nothing_bears_is_not_found_on_any_route(served: Served, method: str) -> None:
    asked = {
        filled(path, **{part: number})
        for path in served.paths(method)
        for part in parts_of(path)
        for number in NOBODYS
    }
    assert len(asked) > 100
    answered = {path: served.client.request(method, path).status_code for path in asked}
    assert {path: status for path, status in answered.items() if status != 404} == {}


def test_what_is_not_found_is_a_page(served: Served) -> None:
    answer = served.client.get(f"/orders/{2**63}/pieces/new")
    assert answer.status_code == 404
    assert "Nothing is here" in answer.text


# Source: RFC 9110, 9.3.2: HEAD is answered as GET would be, with its fields and without its content.
@pytest.mark.slow
def test_a_question_about_the_head_is_answered_wherever_a_page_is_given(served: Served) -> None:
    for path in served.paths("GET"):
        address = filled(path, slug=SLUG)
        given = served.client.get(address)
        head = served.client.head(address)
        assert (address, head.status_code) == (address, given.status_code)
        assert head.content == b""
        for name in ("content-type", "content-security-policy", "cache-control", "location"):
            assert (address, head.headers.get(name)) == (address, given.headers.get(name))


def test_the_head_of_a_page_says_how_long_the_page_is(served: Served) -> None:
    given = served.client.get("/customers")
    assert served.client.head("/customers").headers["content-length"] == str(len(given.content))


def test_where_no_page_is_given_a_question_about_the_head_is_refused_as_one(served: Served) -> None:
    assert served.client.head("/who").status_code == 405
    assert served.client.head("/api/dimensions").status_code == 405
    assert served.client.head("/nothing-here").status_code == 404


def test_a_foreign_name_is_refused_for_the_head_too(served: Served) -> None:
    assert served.client.head("/", headers={"host": "shop.example"}).status_code == 421


def test_every_answer_says_what_it_is(served: Served) -> None:
    """Text says its letters too. Source: RFC 9110, 8.3."""
    kinds = set()
    for path in served.paths("GET"):
        answer = served.client.get(filled(path, slug=SLUG))
        if answer.content:
            kind = answer.headers["content-type"]
            assert not kind.startswith("text/") or kind.endswith("; charset=utf-8"), path
            kinds.add(kind)
    assert {"text/html; charset=utf-8", "text/csv; charset=utf-8"} <= kinds


def test_every_paper_is_one_that_may_be_watched() -> None:
    """Whoever gives a PDF leaves its making to a child, and beyond a second to the page that says how far it is."""
    papers = {
        route.path: getsource(route.endpoint)
        for router in PAGES
        for route in router.routes
        if isinstance(route, APIRoute) and route.path.endswith((".pdf", "/labels"))
    }
    assert len(papers) >= 11
    watched = re.compile(r"return (printed|in_child)\(here, ")
    given = {path for path, source in papers.items() if not watched.search(source)}
    assert given == {"/prints/{print_id}/paper.pdf"}  # a paper that is made
