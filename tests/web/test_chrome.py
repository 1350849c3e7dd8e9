"""What stands around every page: a notice is said once, by the next page, and by no part of one."""

from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from app.services import shop as shops
from app.storage import Stamp, Store
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown

NOTICE = "Customer added."


def named(counter: Counter) -> None:
    """An act whose notice is still to be said."""
    form = {"name": "Rinn Vale"}
    answer = counter.client.post("/customers", data=form, follow_redirects=False)
    assert answer.status_code == 303


def test_a_notice_is_said_once(counter: Counter) -> None:
    named(counter)
    assert NOTICE in counter.get("/customers").main
    assert NOTICE not in counter.get("/customers").main


def test_a_part_of_a_page_leaves_the_notice_to_the_next_page(counter: Counter) -> None:
    named(counter)
    part = counter.post("/quotes?live=1", {"artwork.size": "A3"}, **{"x-partial": "1"})
    assert NOTICE not in part.text
    assert "Working here" not in part.text
    assert counter.get("/customers/find?q=rinn").text.count("Rinn Vale") > 0
    assert NOTICE in counter.get("/customers").main


def test_a_part_names_no_navigation(counter: Counter) -> None:
    page = counter.get("/customers").text
    assert 'href="/customers" aria-current="page"' in page
    assert "aria-current" not in counter.get("/customers/find?q=a").text


@pytest.fixture
def staffed(counter: Counter, stocked: Store) -> Counter:
    """A counter of a shop in which more than one may be at the screen."""
    kept = shops.get(stocked)
    people = replace(kept.value, people=("Ilse", "Jun"))
    shops.save(stocked, people, kept.version, Stamp(who="Ilse", now=NOW))
    return counter


def next_of(page: Shown) -> str:
    return page.form("/who")["next"]


def test_who_works_here_is_set_on_the_list_as_it_is_narrowed(staffed: Counter) -> None:
    assert next_of(staffed.get("/orders?stage=cut&sort=due")) == "/orders?stage=cut&sort=due"


def test_after_a_refused_form_it_leads_to_the_page_that_the_form_was_sent_from(
    staffed: Counter,
) -> None:
    refused = staffed.post(
        "/customers", {"name": ""}, referer=f"{staffed.client.base_url}/customers/new?name=x"
    )
    assert refused.status == 422
    assert next_of(refused) == "/customers/new?name=x"
    elsewhere = staffed.post("/customers", {"name": ""}, referer="http://shop.example/customers")
    assert next_of(elsewhere) == "/"


def test_where_only_forms_are_sent_says_so_with_its_own_status(counter: Counter) -> None:
    page = counter.get("/orders/1/entries")
    assert page.status == 405
    assert page.heading == "Nothing to see here"
    assert "405" in page.main
    assert "422" not in page.main


def test_a_damaged_file_is_said_above_every_page(
    page: TestClient, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was found when the file was opened, with the way to the copies."""
    assert 'role="alert"' not in page.get("/").text
    monkeypatch.setattr(store, "damaged", ("Page 7 of the file is damaged.", "Another one."))
    for address in ("/", "/orders", "/settings/data"):
        shown = page.get(address).text
        assert (
            "The file with the shop&#39;s data is damaged. Page 7 of the file is damaged." in shown
        )
        assert "2 in all" in shown
        assert '<a href="/settings/data">Settings, Data</a>' in shown


def test_an_address_of_any_length_is_not_gone_back_to(counter: Counter) -> None:
    assert counter.post("/who", {"next": "/orders?q=" + "x" * 3000}).location.startswith(
        "/orders?q="
    )
    assert counter.post("/who", {"next": "/orders?q=" + "x" * 100_000}).location == "/"
