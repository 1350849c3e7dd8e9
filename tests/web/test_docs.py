"""The page that describes the JSON: complete, true, and its examples answered by this shop."""

import json
from html import unescape
from re import findall

import pytest
from starlette.testclient import TestClient

from app.services import price_book
from app.storage import Stamp, Store
from tests.builders.watercolour import backing, glazing, moulding
from tests.web.conftest import NOW
from tests.web.reading import Page

ACT = Stamp(who="", now=NOW)


@pytest.fixture
def examples(page: TestClient, store: Store) -> list[str]:
    """Every block of JSON on the page."""
    for material in (moulding(), glazing(), backing()):
        price_book.add(store, material, ACT)
    return [unescape(block) for block in findall(r"<pre[^>]*><code>(.*?)</code>", html(page))]


def html(page: TestClient) -> str:
    return page.get("/docs").text.replace("\n", " ")


def test_every_address_of_the_json_is_described(page: TestClient) -> None:
    links = Page(page.get("/docs").text).links
    described = [path for path in links if path.startswith("/api/")]
    paths = page.get("/api/openapi.json").json()["paths"]
    assert described == [path for path in paths if path.startswith("/api/")]
    assert {"/api/dimensions", "/api/price", "/api/cutting/sheets"} <= set(described)


def test_the_pages_for_people_are_not_part_of_the_json(page: TestClient) -> None:
    paths = page.get("/api/openapi.json").json()["paths"]
    assert all(path.startswith("/api/") for path in paths)


def test_fields_are_listed_with_those_within_them(page: TestClient) -> None:
    text = Page(page.get("/docs").text).text
    for field in ("artwork.width", "mats[].reveal", "mats[].material", "hardware[].count"):
        assert field in text
    assert '"mm" | "in"' in text


def test_the_examples_are_answered_as_the_page_says(page: TestClient, examples: list[str]) -> None:
    *pairs, refusal = map(json.loads, examples)
    addresses = ("dimensions", "bench/day", "cutting/sticks", "cutting/sheets", "price")
    assert len(pairs) == 2 * len(addresses)
    for address, asked, answered in zip(addresses, pairs[::2], pairs[1::2], strict=True):
        assert page.post(f"/api/{address}", json=asked).json() == answered
    assert set(refusal["error"]) == {"code", "message", "fields"}
    given = page.post("/api/price", json={"artwork": {"size": "16x"}}).json()
    assert set(given["error"]) == set(refusal["error"])


def test_a_shop_without_materials_is_told_so(page: TestClient) -> None:
    answer = page.get("/docs")
    assert answer.status_code == 200


def test_the_page_loads_nothing_from_elsewhere(page: TestClient) -> None:
    sources = findall(r'(?:src|href)="([^"]+)"', html(page))
    assert sources
    assert all(source.startswith(("/", "#")) for source in sources)
