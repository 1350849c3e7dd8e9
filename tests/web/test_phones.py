"""Phones at the bench: turned on, paired, let in, revoked; and what is said to whoever is not paired."""

import logging
import re
import ssl
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI
from starlette.testclient import TestClient

from app.services import phones
from app.storage import CannotWrite, NotInPlace, Store
from app.web.app import create_app
from app.web.door import workshop as ways
from app.web.door.addresses import OwnAddress
from app.web.door.doorkeeper import role_of
from app.web.kit.guard import FromNetwork
from app.web.kit.visitor import Role
from app.web.settings import workshop_page
from tests.web.conftest import NOW, OWN_ADDRESS, SHOP, Clock

OURS = "127.0.0.1"
"""An address of every machine; that it reaches no further does not matter here."""

PORT = 18027


class NoSocket:
    """Stands in for a socket in the network: requests come in by `FromNetwork` instead."""

    def getsockname(self) -> tuple[str, int]:
        return OURS, PORT


class NoListener:
    def __init__(self, *_: object, **__: object) -> None:
        self.answers = True

    async def start(self) -> None:
        self.answers = True

    async def stop(self) -> None:
        self.answers = False


@dataclass(frozen=True)
class Place:
    """The computer, and the network around it."""

    computer: TestClient
    app: FastAPI
    store: Store

    def phone(self, address: str = "192.0.2.20") -> TestClient:
        """A phone that is not paired. On http it sends no word of its site, only of its origin."""
        return TestClient(
            FromNetwork(self.app),
            base_url=f"http://{OURS}:{PORT}",
            headers={"origin": f"http://{OURS}:{PORT}"},
            client=(address, 50_000),
            follow_redirects=False,
        )

    def code(self, role: str = "bench") -> str:
        self.computer.post("/settings/workshop/code", data={"role": role})
        found = re.search(r'pairing-code">(\d{3}) (\d{3})<', self.computer.get(PAGE).text)
        assert found
        return found[1] + found[2]

    def paired(self, name: str = "Bench", role: str = "bench") -> TestClient:
        phone = self.phone()
        answer = phone.post("/pair", data={"code": self.code(role), "name": name})
        assert answer.status_code == 303
        return phone


PAGE = "/settings/workshop"


@pytest.fixture
def place(stocked: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch) -> Iterator[Place]:
    monkeypatch.setattr(workshop_page, "own_addresses", lambda: (OwnAddress(address=OURS),))
    monkeypatch.setattr(ways, "socket_at", lambda *_: NoSocket())
    monkeypatch.setattr(ways, "Listener", NoListener)
    app = create_app(stocked, now=clock)
    with TestClient(
        app, base_url=OWN_ADDRESS, headers={"sec-fetch-site": "same-origin"}
    ) as computer:
        yield Place(computer, app, stocked)


@pytest.fixture
def open_place(place: Place) -> Place:
    place.computer.post(f"{PAGE}/on", data={"address": OURS, "port": str(PORT)})
    return place


def test_it_is_off_until_it_is_turned_on(place: Place) -> None:
    page = place.computer.get(PAGE)
    assert "answers this computer alone" in page.text
    assert "Pair a phone" not in page.text
    assert place.app.state.context.phone_url is None
    answer = place.computer.post(f"{PAGE}/on", data={"address": OURS, "port": str(PORT)})
    assert f"Phones reach Bevelbook at http://{OURS}:{PORT}." in answer.text
    assert place.app.state.context.phone_url == f"http://{OURS}:{PORT}"
    assert "plain http" in answer.text
    place.computer.post(f"{PAGE}/off")
    assert place.app.state.context.phone_url is None


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"address": OURS, "port": "80"}, "“80”; a whole number from 1024 to 65535"),
        ({"address": OURS, "port": "x"}, "“x”; a whole number from 1024 to 65535"),
        ({"address": "192.0.2.99", "port": "8027"}, f"Choose an address of this computer: {OURS}"),
        ({"address": "0.0.0.0", "port": "8027"}, f"Choose an address of this computer: {OURS}"),
    ],
)
def test_a_place_that_is_none_is_refused(place: Place, typed: dict[str, str], said: str) -> None:
    answer = place.computer.post(f"{PAGE}/on", data=typed)
    assert answer.status_code == 422
    assert said in answer.text
    assert not phones.access(place.store).is_on


def test_a_socket_that_cannot_be_had_is_said_above_every_page(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    def taken(*_: object) -> None:
        raise OSError(98, "Address already in use")

    monkeypatch.setattr(ways, "socket_at", taken)
    place.computer.post(f"{PAGE}/on", data={"address": OURS, "port": str(PORT)})
    desk = place.computer.get("/").text
    assert f"Phones do not reach Bevelbook: another program has port {PORT} at {OURS}." in desk
    assert 'href="/settings/workshop"' in desk
    place.computer.post(f"{PAGE}/off")
    assert "Phones do not reach" not in place.computer.get("/").text


def test_a_phone_is_paired_by_its_code_and_let_in(open_place: Place) -> None:
    phone = open_place.phone()
    page = phone.get(f"/pair?code={(code := open_place.code())}")
    assert page.status_code == 200
    assert f'value="{code}"' in page.text
    answer = phone.post("/pair", data={"code": code, "name": " Bench ", "next": "/orders?q=a"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/orders?q=a")
    cookie = answer.headers["set-cookie"]
    assert re.match(r"bevelbook_phone_[0-9a-f]{8}=[\w-]{43};", cookie)
    for word in ("HttpOnly", "SameSite=lax", "Max-Age=34560000", "Path=/"):
        assert word in cookie
    assert "Secure" not in cookie
    assert SHOP.name in phone.get("/stock").text
    listed = open_place.computer.get(PAGE).text
    assert "Bench <small>Bench</small>" in listed
    assert "Paired Wed 25 Nov 2026" in listed
    assert "pairing-code" not in listed  # it was used


def test_a_code_pairs_one_phone_alone(open_place: Place) -> None:
    code = open_place.code()
    assert open_place.phone().post("/pair", data={"code": code, "name": "A"}).status_code == 303
    again = open_place.phone().post("/pair", data={"code": code, "name": "B"})
    assert again.status_code == 422
    assert "This code does not hold" in again.text
    assert 'value="B"' in again.text
    assert "set-cookie" not in again.headers


@pytest.mark.parametrize(
    ("name", "said"), [("", "Give the phone a name"), ("Bench", "take another")]
)
def test_a_name_that_is_not_to_be_had_leaves_the_code(
    open_place: Place, name: str, said: str
) -> None:
    open_place.paired("Bench")
    code = open_place.code()
    refused = open_place.phone().post("/pair", data={"code": code, "name": name})
    assert refused.status_code == 422
    assert said in refused.text
    assert open_place.phone().post("/pair", data={"code": code, "name": "C"}).status_code == 303


def test_wrong_codes_are_said_at_the_computer_where_a_new_one_goes_on(open_place: Place) -> None:
    assert "wrong code" not in open_place.computer.get(PAGE).text
    code = int(open_place.code())
    for number in range(10):
        typed = {"code": f"{(code + 1 + number) % 10**6:06d}", "name": "C"}
        answer = open_place.phone(f"192.0.2.{number}").post("/pair", data=typed)
        assert answer.status_code == 422
        if number == 0:
            assert "1 wrong code was tried. Somebody" in open_place.computer.get(PAGE).text
    typed = {"code": f"{code:06d}", "name": "C"}
    assert open_place.phone("192.0.2.99").post("/pair", data=typed).status_code == 429
    until = NOW + timedelta(minutes=10)
    said = open_place.computer.get(PAGE).text
    assert "10 wrong codes were tried; no code is looked at until" in said
    assert f"until {until:%H:%M}. Make a new code to go on." in said
    typed = {"code": open_place.code(), "name": "C"}
    assert "wrong code" not in open_place.computer.get(PAGE).text
    assert open_place.phone("192.0.2.99").post("/pair", data=typed).status_code == 303


@pytest.mark.parametrize(
    "error",
    [
        NotInPlace(Path("/home/amber/shop/bevelbook.sqlite3")),
        CannotWrite(Path("/home/amber/shop/bevelbook.sqlite3"), "it is read-only"),
        OSError(5, "Input/output error", "/home/amber/shop"),
    ],
)
def test_whoever_is_not_paired_learns_nothing_of_the_computer_where_pairing_fails(
    open_place: Place, monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def refuse(*_: object) -> None:
        raise error

    typed = {"code": open_place.code(), "name": "Bench"}
    with monkeypatch.context() as refusing:
        refusing.setattr(phones, "pair", refuse)
        answer = open_place.phone().post("/pair", data=typed)
    assert answer.status_code == 503
    assert "This phone could not be paired: something is wrong at the computer" in answer.text
    assert 'value="Bench"' in answer.text
    assert "amber" not in answer.text
    assert "sqlite" not in answer.text
    assert open_place.phone().post("/pair", data=typed).status_code == 303


def test_a_file_that_is_not_in_its_place_is_nothing_to_whoever_is_not_paired(
    open_place: Place,
) -> None:
    typed = {"code": open_place.code(), "name": "Bench"}
    file = open_place.store.path
    file.rename(file.with_suffix(".away"))
    try:
        for method in ("GET", "POST"):
            for path in ("/", "/orders", "/pair", "/api/orders", "/nothing"):
                answer = open_place.phone().request(
                    method, path, data=typed if method == "POST" else None
                )
                assert answer.status_code in (200, 403, 422, 503), path
                assert str(file.parent) not in answer.text
                assert file.name not in answer.text
    finally:
        file.with_suffix(".away").rename(file)


PATHS = (
    *("/", "/orders", "/settings/workshop", "/nothing-here", "/static/css/base.css"),
    *("/static/css/all.css", "/api/openapi.json", "/favicon.ico", "/docs", "/pair/", "/who"),
)


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST", "DELETE"])
def test_whoever_is_not_paired_learns_how_to_pair_and_nothing_else(
    open_place: Place, path: str, method: str
) -> None:
    answer = open_place.phone().request(method, path)
    assert answer.status_code == 403
    assert SHOP.name not in answer.text
    assert answer.headers["cache-control"] == "no-store"
    policy = answer.headers["content-security-policy"]
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    if path.startswith("/api/") and method != "HEAD":
        assert answer.json()["error"]["code"] == "not-let-in"
    elif method != "HEAD":
        assert "make a pairing code" in answer.text


def test_the_page_for_others_needs_no_further_file_and_leads_on(open_place: Place) -> None:
    answer = open_place.phone().get("/orders/1/pieces/1?view=section")
    assert 'name="next" value="/orders/1/pieces/1?view=section"' in answer.text
    assert not re.search(r'(?:src|href)="(?!data:)', answer.text)


@pytest.mark.parametrize("leads_to", ["//shop.example", "https://shop.example/", "/\\shop.example"])
def test_after_pairing_nothing_leads_away(open_place: Place, leads_to: str) -> None:
    form = {"code": open_place.code(), "name": "Bench", "next": leads_to}
    assert open_place.phone().post("/pair", data=form).headers["location"] == "/"


@pytest.mark.parametrize(
    "host", ["shop.example", "localhost", "192.0.2.7:18027", "[::1]:18027", "127.0.0.1.example"]
)
def test_a_foreign_name_is_refused_in_the_network(open_place: Place, host: str) -> None:
    phone = open_place.paired()
    answer = phone.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert SHOP.name not in answer.text


@pytest.mark.parametrize("origin", ["null", "http://shop.example", f"https://{OURS}:{PORT}", ""])
def test_a_page_of_another_site_changes_nothing_and_pairs_nothing(
    open_place: Place, origin: str
) -> None:
    phone = open_place.paired()
    assert phone.post("/who", data={"who": ""}, headers={"origin": origin}).status_code == 403
    form = {"code": open_place.code(), "name": "Other"}
    strange = open_place.phone()
    assert strange.post("/pair", data=form, headers={"origin": origin}).status_code == 403
    assert [each.name for each in phones.access(open_place.store).phones] == ["Bench"]


def test_a_revoked_phone_is_out_at_its_next_request(open_place: Place) -> None:
    phone, other = open_place.paired("Lost", "office"), open_place.paired("Bench")
    assert phone.get("/orders").status_code == 200
    lost = phones.access(open_place.store).phones[0]
    said = open_place.computer.post(f"{PAGE}/phones/{lost.id}/revoke")
    assert "Lost is revoked." in said.text
    refused = phone.get("/orders")
    assert refused.status_code == 403
    assert SHOP.name not in refused.text
    assert phone.post("/who", data={"who": ""}).status_code == 403
    assert other.get("/stock").status_code == 200
    assert open_place.computer.post(f"{PAGE}/phones/{lost.id}/revoke").status_code == 404


def test_turned_off_nobody_is_let_in_and_on_again_the_paired_are(open_place: Place) -> None:
    phone = open_place.paired()
    open_place.computer.post(f"{PAGE}/off")
    assert phone.get("/stock").status_code == 421  # it answers to no name in the network
    open_place.computer.post(f"{PAGE}/on", data={"address": OURS, "port": str(PORT)})
    assert phone.get("/stock").status_code == 200


def test_phones_are_let_in_and_put_out_at_the_computer_alone(open_place: Place) -> None:
    phone = open_place.paired("Desk", "office")
    for path in ("", "/on", "/off", "/code", "/phones/1/revoke"):
        answer = phone.request("POST" if path else "GET", f"{PAGE}{path}")
        assert (path, answer.status_code) == (path, 403)
        assert "on the computer itself" in answer.text
    assert phones.access(open_place.store).is_on
    assert phones.access(open_place.store).phones


def test_a_paired_phone_is_not_asked_to_pair_again(open_place: Place) -> None:
    answer = open_place.paired().get("/pair?code=123456")
    assert (answer.status_code, answer.headers["location"]) == (303, "/")


def test_a_cookie_that_is_nobodys_lets_nobody_in(open_place: Place) -> None:
    name = next(iter(open_place.paired().cookies.keys()))
    for value in ("", "x", "A" * 43, "ü" * 8):
        phone = open_place.phone()
        cookie = f"{name}={value}".encode()
        assert phone.get("/", headers={b"cookie": cookie}).status_code == 403


def test_while_phones_cannot_be_looked_up_none_is_let_in(
    open_place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = open_place.paired()

    def refuse(_store: Store) -> phones.Access:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(phones, "access", refuse)
    answer = phone.get("/stock")
    assert answer.status_code == 403
    assert SHOP.name not in answer.text


def test_wrong_codes_are_limited_said_in_words_and_logged(
    open_place: Place, caplog: pytest.LogCaptureFixture
) -> None:
    code = open_place.code()
    form = {"code": f"{(int(code) + 1) % 10**6:06d}", "name": "Guess"}
    with caplog.at_level(logging.WARNING):
        for _ in range(5):
            assert open_place.phone().post("/pair", data=form).status_code == 422
        paused = open_place.phone().post("/pair", data={"code": code, "name": "Guess"})
    assert paused.status_code == 429
    assert "too many wrong codes" in paused.text
    assert "Try again in 10 minutes" in paused.text
    assert 590 <= int(paused.headers["retry-after"]) <= 601
    assert caplog.text.count("a wrong pairing code was typed at 192.0.2.20") == 5
    assert "no pairing code of 192.0.2.20 is looked at" in caplog.text
    assert code not in caplog.text
    elsewhere = open_place.phone("192.0.2.21").post("/pair", data={"code": code, "name": "Bench"})
    assert elsewhere.status_code == 303


def test_a_form_that_is_none_pairs_nothing(open_place: Place) -> None:
    phone = open_place.phone()
    for body in (b"", b"\xff\xfe", b"code=1&" * 40, b"name=" + b"x" * 100_000):
        assert phone.post("/pair", content=body).status_code == 422
    assert phones.access(open_place.store).phones == ()


def test_when_a_phone_was_there_last_is_shown_and_kept_now_and_then(
    open_place: Place, clock: Clock
) -> None:
    phone = open_place.paired()
    clock.time = NOW.replace(hour=11, minute=10)
    phone.get("/stock")
    assert "last seen Wed 25 Nov 2026, 11:10" in open_place.computer.get(PAGE).text
    assert phones.access(open_place.store).phones[0].seen_at == NOW


def test_a_role_that_nobody_knows_sees_least() -> None:
    assert [role_of(word) for word in ("office", "bench", "owner", "")] == [
        Role.OFFICE,
        Role.BENCH,
        Role.BENCH,
        Role.BENCH,
    ]


def test_over_https_cookies_are_sent_by_https_alone(open_place: Place) -> None:
    phone = TestClient(
        FromNetwork(open_place.app),
        base_url=f"https://{OURS}:{PORT}",
        headers={"origin": f"https://{OURS}:{PORT}"},
        follow_redirects=False,
    )
    answer = phone.post("/pair", data={"code": open_place.code(), "name": "Bench"})
    assert answer.status_code == 303
    assert answer.headers["set-cookie"].endswith("; Secure")


def test_https_begins_at_tls_1_2() -> None:
    """What serves takes the library's own kind of context, whose least version it is. Source: RFC 8996 (TLS 1.0 and 1.1 are deprecated)."""
    kind = uvicorn.Config(lambda: None).ssl_version
    assert ssl.SSLContext(kind).minimum_version >= ssl.TLSVersion.TLSv1_2
