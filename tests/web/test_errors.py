"""What goes wrong: pages for people, one JSON shape for programs, a reference for a bug."""

import logging
import re
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient
from starlette.types import Message, Scope

from app.services import customers, desk
from app.storage import Store
from app.web.api import dimensions
from app.web.app import create_app
from tests.apart import run_apart
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter

SHAPE = {"error"}
INNER = {"code", "message", "fields"}


@pytest.fixture
def unlucky(stocked: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[Counter]:
    """An app whose desk has a bug, in a browser that sees the answer."""

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a secret of the inside")

    monkeypatch.setattr(desk, "view", broken)
    with TestClient(
        create_app(stocked), base_url=OWN_ADDRESS, raise_server_exceptions=False
    ) as client:
        yield Counter(client)


def test_an_address_with_nothing_is_a_page_that_leads_on(counter: Counter) -> None:
    page = counter.get("/nothing-here")
    assert page.status == 404
    assert page.heading == "Nothing is here"
    assert {"/", "/orders"} <= set(page.links().values())


def test_a_missing_order_is_named(counter: Counter) -> None:
    page = counter.get("/orders/77")
    assert page.status == 404
    assert "77" in page.main


def test_a_wrong_method_is_a_page(counter: Counter) -> None:
    page = counter.post("/")
    assert page.status == 405
    assert "does not take that kind of request" in page.main


def test_a_request_that_no_form_makes_is_a_page(counter: Counter) -> None:
    page = counter.get("/quotes/new?customer=abc")
    assert page.status == 422
    assert "“abc”" in page.main


def test_html_in_an_address_is_not_html_in_the_page(counter: Counter) -> None:
    page = counter.get("/quotes/new?customer=%3Cscript%3Ealert(1)%3C/script%3E")
    assert page.status == 422
    assert "<script>alert" not in page.text


def test_a_bug_shows_a_reference_and_logs_the_traceback(
    unlucky: Counter, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, logger="bevelbook.web"):
        page = unlucky.get("/")
    assert page.status == 500
    assert "secret" not in page.text
    assert "ZeroDivisionError" not in page.text
    found = re.search(r"Reference ([0-9a-f]{8})", page.main)
    assert found
    (record,) = [each for each in caplog.records if each.name == "bevelbook.web"]
    assert found[1] in record.getMessage()
    assert "GET /" in record.getMessage()
    assert record.exc_info
    assert record.exc_info[0] is ZeroDivisionError


def test_each_bug_has_a_reference_of_its_own(unlucky: Counter) -> None:
    first, second = (unlucky.get("/").words("shown-number") for _ in range(2))
    assert first != second


def test_a_bug_page_keeps_the_headers_of_every_page(unlucky: Counter) -> None:
    headers = unlucky.get("/").headers
    assert "default-src 'none'" in headers["content-security-policy"]


def test_a_bug_keeps_what_was_typed_to_be_sent_again(
    unlucky: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = {"name": "Amber Quill", "notes": "Brings <large> & old prints.", "once": "k" * 22}
    with monkeypatch.context() as broken:
        broken.setattr(customers, "add", desk.view)
        page = unlucky.post("/customers", typed)
    assert page.status == 500
    assert "What you typed is kept on this page" in page.main
    assert page.form("/customers") == typed
    assert unlucky.post("/customers", page.form("/customers")).status == 303
    assert "Amber Quill" in unlucky.get("/customers").main
    asked = unlucky.get("/")  # nothing was typed here
    assert asked.status == 500
    assert "typed" not in asked.main
    assert "Send it again" not in asked.main


def test_the_rest_goes_on_after_a_bug(unlucky: Counter) -> None:
    unlucky.get("/")
    assert unlucky.get("/quotes").status == 200


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/nothing", 404),
        ("GET", "/api/dimensions", 405),
        ("POST", "/api/dimensions", 422),
    ],
)
def test_programs_are_told_in_one_shape(
    api: TestClient, method: str, path: str, status: int
) -> None:
    answer = api.request(method, path)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/json"
    assert set(answer.json()) == SHAPE
    assert set(answer.json()["error"]) == INNER


def test_a_bug_tells_a_program_its_reference_in_that_shape(
    stocked: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("a secret of the inside")

    monkeypatch.setattr(dimensions, "work_out", broken)
    body = {"unit": "mm", "artwork": {"width": "297", "height": "420"}, "presentation": "close"}
    with TestClient(
        create_app(stocked), base_url=OWN_ADDRESS, raise_server_exceptions=False
    ) as client:
        answer = client.post("/api/dimensions", json=body)
    assert answer.status_code == 500
    assert set(answer.json()["error"]) == INNER
    assert answer.json()["error"]["code"] == "bug"
    assert "secret" not in answer.text


def test_before_the_first_run_every_page_leads_to_it(api: TestClient) -> None:
    for path in ("/", "/orders", "/quotes", "/quotes/new", "/orders/1", "/orders/1/pieces/1"):
        answer = api.get(path, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/welcome")


def test_an_error_page_before_the_first_run_has_no_menu(api: TestClient) -> None:
    answer = api.get("/nothing-here")
    assert answer.status_code == 404
    assert "/quotes" not in answer.text


def test_no_page_is_kept_by_the_browser(counter: Counter) -> None:
    """What is shown must be what is stored, also after the back button."""
    for path in ("/", "/orders", "/quotes/new", "/nothing-here"):
        assert counter.get(path).headers["cache-control"] == "no-store"


def test_files_are_kept_because_their_address_changes_with_them(counter: Counter) -> None:
    page = counter.get("/")
    sheets = [
        link.get("href") or ""
        for link in page.each(tag="link")
        if "css" in (link.get("href") or "")
    ]
    assert sheets
    for href in sheets:
        answer = counter.get(href)
        assert answer.status == 200
        assert "immutable" in answer.headers["cache-control"]


def test_nothing_outside_the_static_folder_is_served(counter: Counter) -> None:
    for path in (
        "/static/../pyproject.toml",
        "/static/%2e%2e/pyproject.toml",
        "/static//etc/passwd",
    ):
        assert counter.get(path).status == 404


def test_a_request_that_the_browser_takes_back_is_no_bug(
    stocked: Store, caplog: pytest.LogCaptureFixture
) -> None:
    """While one types, each key aborts the request before it, at times in the middle of its body."""
    coming = [
        {"type": "http.request", "body": b"artwork.size=4", "more_body": True},
        {"type": "http.disconnect"},
    ]
    answered: list[Message] = []

    async def receive() -> Message:
        return coming.pop(0)

    async def send(message: Message) -> None:
        answered.append(message)

    scope: Scope = {
        "type": "http",
        "http_version": "1.1",
        "method": "POST",
        "scheme": "http",
        "path": "/quotes",
        "raw_path": b"/quotes",
        "root_path": "",
        "query_string": b"live=1",
        "server": ("127.0.0.1", 80),
        "client": ("127.0.0.1", 50000),
        "headers": [
            (b"host", b"127.0.0.1"),
            (b"content-type", b"application/x-www-form-urlencoded"),
            (b"sec-fetch-site", b"same-origin"),
        ],
    }
    run_apart(create_app(stocked)(scope, receive, send))
    assert answered[0]["status"] == 400
    assert not [record for record in caplog.records if record.levelno >= logging.ERROR]
