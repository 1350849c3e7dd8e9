"""Who may speak to the app: our own pages and programs on this machine, and nobody else's pages."""

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from app.storage import Store
from app.web.app import LARGEST_BODY, create_app
from tests.builders.worked import TYPED

OWN = "http://127.0.0.1:8027"
PAGES = ("/", "/welcome", "/nothing-here", "/static/css/base.css", "/api/openapi.json", "/orders")


@pytest.fixture
def client(stocked: Store) -> Iterator[TestClient]:
    """A client that sends no header of its own about where it comes from."""
    with TestClient(create_app(stocked), base_url=OWN) as client:
        yield client


def post(client: TestClient, **headers: str) -> int:
    """The status that an otherwise good change is answered with."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return client.post("/quotes?live=1", data=TYPED, headers=named).status_code


@pytest.mark.parametrize(
    "host", ["127.0.0.1", "127.0.0.1:8027", "localhost:1", "[::1]:8027", "LOCALHOST"]
)
def test_names_of_this_machine_are_answered(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "shop.example",
        "127.0.0.1.shop.example",
        "localhost.shop.example:8027",
        "127.0.0.1@shop.example",
        "127.0.0.2",
        "0.0.0.0",
        "",
        "[::2]:80",
        "localhost:80:80",
        "x" * 5_000,
    ],
    ids=lambda host: host[:24] or "none",
)
def test_any_other_name_is_refused(client: TestClient, host: str) -> None:
    """A foreign name that resolves to this machine is how a page of another site would reach in."""
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "Open it as http://127.0.0.1" in answer.text
    assert len(answer.text) < 300


def test_a_name_in_the_settings_is_answered_too(stocked: Store) -> None:
    app = create_app(stocked, hosts=["Shop.test"])
    with TestClient(app, base_url="http://shop.test:8027") as client:
        assert client.get("/").status_code == 200
        origin = {"origin": "http://shop.test:8027"}
        assert client.post("/quotes?live=1", data=TYPED, headers=origin).status_code == 200


def test_the_address_that_is_listened_on_is_answered_and_no_other_of_them(stocked: Store) -> None:
    app = create_app(stocked, hosts=["127.0.0.2"])
    with TestClient(app, base_url="http://127.0.0.2:8027") as client:
        assert client.get("/").status_code == 200
        for host in ("127.0.0.3", "shop.example"):
            assert client.get("/", headers={"host": host}).status_code == 421


def test_our_own_pages_may_change_things(client: TestClient) -> None:
    assert post(client, sec_fetch_site="same-origin") == 200
    assert post(client, origin=OWN) == 200


def test_a_program_without_a_browser_may_change_things(client: TestClient) -> None:
    assert post(client) == 200


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none", "", "SAME-ORIGIN "])
def test_a_page_of_another_site_may_not(client: TestClient, site: str) -> None:
    assert post(client, sec_fetch_site=site) == 403
    assert post(client, sec_fetch_site=site, origin=OWN) == 403


@pytest.mark.parametrize(
    "origin",
    [
        "null",
        "http://shop.example",
        "https://127.0.0.1:8027",
        "http://127.0.0.1",
        "http://127.0.0.1:8028",
        "http://127.0.0.1:8027.shop.example",
        "http://localhost:8027",
        "",
    ],
)
def test_a_foreign_origin_may_not(client: TestClient, origin: str) -> None:
    assert post(client, origin=origin) == 403


def test_a_cookie_without_a_word_about_its_page_may_not(client: TestClient) -> None:
    """An old browser sends our cookie with a form of another site and says nothing else."""
    assert post(client, cookie="bevelbook_who=Ilse") == 403


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "BREW"])
def test_every_unsafe_method_is_guarded(client: TestClient, method: str) -> None:
    answer = client.request(method, "/", headers={"origin": "http://shop.example"})
    assert answer.status_code == 403


def test_a_refused_change_changes_nothing(client: TestClient, stocked: Store) -> None:
    form = {"artwork.size": "A3", "customer": "Amber Quill", "action": "save"}
    assert client.post("/quotes", data=form, headers={"origin": "null"}).status_code == 403
    with stocked.reading() as work:
        assert work.order_lists.count() == 0


@pytest.mark.parametrize("path", PAGES)
def test_every_answer_keeps_a_page_to_our_own_files(client: TestClient, path: str) -> None:
    headers = client.get(path, follow_redirects=False).headers
    policy = headers["content-security-policy"]
    assert policy.startswith("default-src 'none';")
    assert "unsafe" not in policy
    assert "http" not in policy
    assert "*" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cross-origin-opener-policy"] == "same-origin"


@pytest.mark.parametrize(
    "headers",
    [{"host": "shop.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"}],
    ids=["foreign host", "null origin", "cross-site"],
)
def test_a_refusal_carries_the_same_headers(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post("/quotes", headers=headers)
    assert answer.status_code in (403, 421)
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_what_is_too_large_is_refused_before_it_is_read(client: TestClient) -> None:
    answer = client.post("/quotes?live=1", data={"artwork.size": "7" * (LARGEST_BODY + 1)})
    assert answer.status_code == 413
    assert "too large" in answer.text
    assert "content-security-policy" in answer.headers


def test_a_program_is_told_so_in_the_one_shape(client: TestClient) -> None:
    answer = client.post("/api/dimensions", content=b" " * (LARGEST_BODY + 1))
    assert answer.status_code == 413
    assert "too large" in answer.json()["error"]["message"]


def test_a_large_body_without_a_length_is_refused_too(client: TestClient) -> None:
    def chunks() -> Iterator[bytes]:
        for _ in range(LARGEST_BODY // 65_536 + 2):
            yield b"a" * 65_536

    form = {"content-type": "application/x-www-form-urlencoded"}
    answer = client.post("/quotes?live=1", content=chunks(), headers=form)
    assert answer.status_code == 413


def test_more_fields_than_any_form_has_are_refused(client: TestClient) -> None:
    answer = client.post("/quotes?live=1", data={f"field{number}": "1" for number in range(600)})
    assert answer.status_code == 400


def test_an_upload_where_none_is_wanted_is_refused(client: TestClient) -> None:
    answer = client.post("/quotes?live=1", files={"artwork.size": ("a.txt", b"A3")})
    assert answer.status_code == 400
