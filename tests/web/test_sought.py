"""What is looked for stands in no address: names and telephone numbers least of all."""

import re
from collections.abc import Iterator
from urllib.parse import parse_qs, urlsplit

import pytest
from starlette.testclient import TestClient

from app.orders import Customer
from app.services import customers
from app.storage import Stamp, Store
from app.web.kit.sought import Memory
from tests.web.conftest import NOW, browser_on

NAME = "Wren"


@pytest.fixture
def page(store: Store) -> Iterator[TestClient]:
    """A shop with sixty customers of one family, in a browser that follows no redirect by itself."""
    for number in range(60):
        customer = Customer(name=f"{NAME} {number:02d}", phone=f"07700 900 {number:03d}")
        customers.add(store, customer, Stamp(who="", now=NOW))
    with browser_on(store) as client:
        client.follow_redirects = False
        yield client


def led_to(page: TestClient, **typed: str) -> str:
    answer = page.post("/find", data=typed)
    assert answer.status_code == 303
    return answer.headers["location"]


def addresses_in(html: str) -> list[str]:
    return re.findall(r'(?:href|action|data-finder|formaction)="([^"]*)"', html)


def test_what_is_typed_is_posted_and_found_without_standing_in_an_address(page: TestClient) -> None:
    address = led_to(page, q=NAME)
    assert urlsplit(address).path == "/find"
    assert list(parse_qs(urlsplit(address).query)) == ["s"]
    found = page.get(address)
    assert found.status_code == 200
    assert f"Found for “{NAME}”" in found.text
    assert f"{NAME} 07" in found.text
    assert [each for each in addresses_in(found.text) if NAME.casefold() in each.casefold()] == []
    assert f'name="q" type="search" maxlength="200" value="{NAME}"' in found.text


def test_reload_and_back_find_the_same(page: TestClient) -> None:
    address = led_to(page, q=NAME)
    assert page.get(address).text == page.get(address).text
    assert led_to(page, q=NAME) == address


def test_what_is_meant_without_a_doubt_is_gone_to_at_once(page: TestClient) -> None:
    assert re.fullmatch(r"/customers/\d+", led_to(page, q="07700 900 013"))


def test_the_link_to_the_whole_list_bears_no_name(page: TestClient) -> None:
    found = page.get(led_to(page, q=NAME)).text
    (more,) = re.findall(r'href="(/customers\?[^"]*)"', found)
    assert "Customers" in page.get(more).text
    assert f'value="{NAME}"' in page.get(more).text


@pytest.mark.parametrize("path", ["/orders", "/quotes", "/customers"])
def test_a_list_is_searched_by_a_form_that_is_posted(page: TestClient, path: str) -> None:
    listed = page.get(path).text
    form = re.search(r'<form class="filters".*?</form>', listed, re.DOTALL)
    assert form
    assert 'method="post" action="/find"' in form[0]
    assert f'<input type="hidden" name="in" value="{path}">' in form[0]


def test_pages_and_filters_of_a_list_carry_the_id_alone(page: TestClient) -> None:
    address = led_to(page, q=NAME, **{"in": "/customers"})
    assert re.fullmatch(r"/customers\?s=[0-9a-f]{24}", address)
    first = page.get(address).text
    assert f"{NAME} 00" in first
    (second,) = set(re.findall(r'href="(/customers\?[^"]*page=2)"', first))
    assert NAME not in second
    assert f"{NAME} 30" in page.get(second.replace("&amp;", "&")).text


def test_the_filters_of_a_list_stay_while_words_are_looked_for(page: TestClient) -> None:
    address = led_to(page, q=NAME, sort="due", stage="cut", **{"in": "/orders"})
    asked = parse_qs(urlsplit(address).query)
    assert (urlsplit(address).path, asked["sort"], asked["stage"]) == ("/orders", ["due"], ["cut"])
    assert set(asked) == {"sort", "stage", "s"}
    carried = page.get(address).text
    assert '<input type="hidden" name="sort" value="due">' in carried
    assert '<input type="hidden" name="s"' not in carried


def test_words_taken_off_a_list_leave_the_whole_of_it(page: TestClient) -> None:
    assert led_to(page, q=" ", **{"in": "/customers"}) == "/customers"


def test_filters_that_no_address_holds_are_left_out(page: TestClient) -> None:
    assert led_to(page, q="", stage="x" * 100_000, **{"in": "/orders"}) == "/orders"


def test_a_form_leads_to_no_other_page(page: TestClient) -> None:
    assert led_to(page, q="zzzz", **{"in": "//elsewhere.example"}).startswith("/find?s=")


@pytest.mark.parametrize("path", ["/find", "/customers", "/orders"])
def test_an_address_of_old_still_answers(page: TestClient, path: str) -> None:
    answer = page.get(f"{path}?q={NAME}")
    assert answer.status_code == 200
    assert f'value="{NAME}"' in answer.text
    assert [each for each in addresses_in(answer.text) if NAME in each] == []


@pytest.mark.parametrize("path", ["/find", "/customers", "/orders", "/stock"])
def test_an_id_that_is_not_known_any_more_is_said(page: TestClient, path: str) -> None:
    answer = page.get(f"{path}?s={'0' * 24}")
    assert answer.status_code == 200
    said = "What was looked for is not known any more" in answer.text
    assert said or "Nothing is on the rack yet" in answer.text


def test_customers_are_found_by_a_post_while_one_types(page: TestClient) -> None:
    assert f"{NAME} 05" in page.post("/customers/find", data={"q": f"{NAME} 05"}).text
    form = page.get("/quotes/new").text
    assert 'data-finder="/customers/find" data-finder-free data-finder-private' in form


def test_of_very_many_texts_the_last_used_are_known() -> None:
    memory = Memory(most=2)
    first, second = memory.id_of("a"), memory.id_of("b")
    assert memory.words_of(first) == "a"
    memory.id_of("c")
    assert memory.words_of(first) == "a"
    assert memory.words_of(second).forgotten


def test_an_id_tells_nothing_of_its_words_to_another_process() -> None:
    assert Memory().id_of(NAME) != Memory().id_of(NAME)
