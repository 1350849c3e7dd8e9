"""Every form that writes bears a key, and every route that takes one knows it."""

from collections.abc import Iterator

import pytest
from fastapi.dependencies.models import Dependant
from fastapi.routing import APIRoute, iter_route_contexts
from starlette.testclient import TestClient

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from app.web.kit.context import get_long_typed, get_typed, get_typed_with_file
from app.web.materials.price_file_routes import get_brought
from app.web.settings.routes import get_logo
from tests.builders.hasty import new_sample
from tests.landed.addresses import addresses_of
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter

REPEATABLE = {
    "/find": "looks for words and writes nothing",
    "/turn": "says which way the screen faces, in a cookie",
    "/who": "says who works at this screen, in a cookie",
    "/plans/1/ticks": "ticks say what is to be",
    "/orders/1/pieces/1/steps": "ticks say what is to be",
    "/bench/together/steps": "ticks say what is to be",
}
"""What may be posted again and again from one page, and why."""

READERS = {get_typed, get_long_typed, get_typed_with_file, get_brought, get_logo}
"""What reads a form and knows its key."""


def generic(address: str) -> str:
    """An address with 1 for each number in it."""
    path = address.partition("?")[0]
    return "/".join("1" if part.isdigit() else part for part in path.split("/"))


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Counter, tuple[str, ...]]]:
    """A sample shop that is served, and the addresses of its pages."""
    with (
        new_sample(tmp_path_factory.mktemp("forms") / DATABASE_NAME, orders=40) as store,
        TestClient(create_app(store), base_url=OWN_ADDRESS) as client,
    ):
        yield Counter(client), tuple(addresses_of(store.path))


@pytest.mark.slow
def test_every_form_that_is_posted_bears_a_key_of_its_own(
    sample: tuple[Counter, tuple[str, ...]],
) -> None:
    counter, addresses = sample
    seen: set[str] = set()
    keys: list[str] = []
    repeatable: set[str] = set()
    for address in addresses:
        if ".pdf" in address:
            continue
        page = counter.get(address)
        if page.status != 200 or "html" not in page.headers.get("content-type", ""):
            continue
        for form in page.each(tag="form"):
            if form.get("method") != "post":
                continue
            action = generic(form.get("action") or address)
            held = [each.get("value") for each in form.iter("input") if each.get("name") == "once"]
            if form.get("data-repeatable") is not None:
                repeatable.add(action)
                assert (address, action, held) == (address, action, [])
            else:
                seen.add(action)
                assert (address, action, len(held)) == (address, action, 1)
                keys += [str(key) for key in held]
    assert len(seen) > 45
    assert len(set(keys)) == len(keys) > 500
    assert repeatable <= set(REPEATABLE)
    assert len(repeatable) >= 3


def _reads(dependant: Dependant) -> bool:
    return dependant.call in READERS or any(map(_reads, dependant.dependencies))


def test_every_route_that_takes_a_form_knows_its_key(store: Store) -> None:
    app = create_app(store)
    posted = {
        route.path: route
        for route in (each.original_route for each in iter_route_contexts(app.routes))
        if isinstance(route, APIRoute) and "POST" in (route.methods or ())
    }
    assert len(posted) > 80
    without = {path for path, route in posted.items() if not _reads(route.dependant)}
    assert {path for path in without if not path.startswith("/api/")} == set()
