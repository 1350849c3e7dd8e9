"""Who sits at this machine is let in, and other users of it are not, though they reach its loopback address as well."""

import os
import socket
import sys
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.requests import Request
from starlette.testclient import TestClient

from app.__main__ import main
from app.storage import Keys, Store, keys_of
from app.web.app import create_app
from app.web.connection import Peer
from app.web.door import other_end, own_machine
from app.web.door.other_end import user_at
from app.web.door.own_machine import OwnMachine
from tests.builders.worked import TYPED
from tests.web.conftest import OWN_ADDRESS, SHOP

KEYS = Keys(instance="0a1b2c3d", own="T" * 43, standing="")
COOKIE = "bevelbook_own_0a1b2c3d"
US, OTHER = 1000, 1001


@pytest.fixture
def own() -> OwnMachine:
    return OwnMachine(KEYS, user=US)


@pytest.fixture
def page(stocked: Store, own: OwnMachine, monkeypatch: pytest.MonkeyPatch) -> Iterator[TestClient]:
    """Somebody on a system that tells of nobody, as macOS and Windows."""
    monkeypatch.setattr(own_machine.other_end, "TABLES", ())
    app = create_app(stocked, own=own)
    with TestClient(app, base_url=OWN_ADDRESS, follow_redirects=False) as client:
        yield client


def told(monkeypatch: pytest.MonkeyPatch, *users: int | None) -> list[object]:
    """Let the system tell these users one after the other, the last one again and again. Returns what it was asked."""
    left, asked = list(users), []

    def tell(*ends: object) -> int | None:
        asked.append(ends)
        return left.pop(0) if len(left) > 1 else left[0]

    monkeypatch.setattr(own_machine, "user_at", tell)
    return asked


PATHS = ("/", "/orders", "/api/openapi.json", "/static/css/base.css", "/nothing-here")


@pytest.mark.parametrize("path", PATHS)
def test_without_the_token_nobody_is_let_in(page: TestClient, path: str) -> None:
    for answer in (page.get(path), page.post(path), page.head(path)):
        assert answer.status_code == 403
        assert SHOP.name not in answer.text
    if path.startswith("/api/"):
        assert "Authorization: Bearer" in page.get(path).json()["error"]["message"]
    else:
        assert "Open the address that Bevelbook printed at its start" in page.get(path).text


def test_the_address_from_the_start_lets_in_and_is_left_behind(
    page: TestClient, own: OwnMachine
) -> None:
    answer = page.get(own.address("/"))
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith(f"{COOKIE}={KEYS.own};")
    for word in ("HttpOnly", "SameSite=strict", "Max-Age=34560000", "Path=/"):
        assert word in cookie
    assert SHOP.name in page.get("/").text
    answer = page.get(f"/orders?q=a+b&enter={KEYS.own}&stage=cut")
    assert answer.headers["location"] == "/orders?q=a+b&stage=cut"


@pytest.mark.parametrize("path", ["//shop.example/", "/\\shop.example/"])
def test_it_leads_nowhere_else(page: TestClient, path: str) -> None:
    answer = page.get(f"{OWN_ADDRESS}{path}?enter={KEYS.own}")
    assert answer.headers["location"] == "/"


@pytest.mark.parametrize("token", ["", "x", "T" * 42, "T" * 44, "ü" * 43, "t" * 43])
def test_another_token_lets_nobody_in(page: TestClient, token: str) -> None:
    assert page.get("/", params={"enter": token}).status_code == 403
    assert page.get("/", headers={"authorization": f"Bearer {token}".encode()}).status_code == 403
    assert page.get("/", headers={"cookie": f"{COOKIE}={token}".encode()}).status_code == 403
    assert page.get("/", headers={"cookie": f"bevelbook_own={KEYS.own}"}).status_code == 403


def test_a_program_sends_the_token_as_a_bearer(page: TestClient) -> None:
    for scheme in ("Bearer", "bearer"):
        headers = {"authorization": f"{scheme} {KEYS.own}"}
        assert page.get("/orders", headers=headers).status_code == 200
        answer = page.post("/quotes?live=1", data=TYPED, headers=headers)
        assert answer.status_code == 200
    assert page.get("/", headers={"authorization": f"Basic {KEYS.own}"}).status_code == 403


def test_the_token_does_not_excuse_a_page_of_another_site(page: TestClient) -> None:
    page.get("/", params={"enter": KEYS.own})
    answer = page.post("/quotes?live=1", data=TYPED, headers={"origin": "http://shop.example"})
    assert answer.status_code == 403
    assert "page of another site" in answer.text


def test_an_address_for_once_lets_in_once(page: TestClient, own: OwnMachine) -> None:
    address = own.address_once("/")
    assert KEYS.own not in address
    assert page.get(address).status_code == 303
    page.cookies.clear()
    assert page.get(address).status_code == 403


def test_an_address_for_once_lets_in_soon(stocked: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(own_machine.other_end, "TABLES", ())
    ticks = iter((1000.0, 1119.0, 2000.0, 2120.0))
    own = OwnMachine(KEYS, user=US, ticks=lambda: next(ticks))
    with TestClient(
        create_app(stocked, own=own), base_url=OWN_ADDRESS, follow_redirects=False
    ) as page:
        assert page.get(own.address_once("/")).status_code == 303
        page.cookies.clear()
        assert page.get(own.address_once("/")).status_code == 403


def test_an_address_for_once_is_not_for_who_saw_it_in_a_list_of_programs(
    page: TestClient, own: OwnMachine, monkeypatch: pytest.MonkeyPatch
) -> None:
    told(monkeypatch, OTHER)
    address = own.address_once("/")
    assert page.get(address).status_code == 403
    told(monkeypatch, US)
    assert page.get(address).status_code == 303


def test_where_the_system_tells_who_asks_it_is_not_for_whom_it_does_not_name(
    page: TestClient, own: OwnMachine, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """So is a connection of which one end was closed at once, and one of a user without a name."""
    monkeypatch.setattr(own_machine.other_end, "TABLES", (tmp_path,))
    address = own.address_once("/")
    told(monkeypatch, None)
    assert page.get(address).status_code == 403
    told(monkeypatch, US)
    assert page.get(address).status_code == 303


@pytest.mark.parametrize(
    ("user", "status"), [(US, 200), (0, 200), (OTHER, 403), (65534, 403), (None, 403)]
)
def test_whom_the_system_tells_as_our_user_is_let_in(
    page: TestClient, monkeypatch: pytest.MonkeyPatch, user: int | None, status: int
) -> None:
    told(monkeypatch, user)
    assert page.get("/orders").status_code == status
    assert page.get("/api/openapi.json").status_code == status


def test_another_user_with_the_token_is_let_in(
    page: TestClient, own: OwnMachine, monkeypatch: pytest.MonkeyPatch
) -> None:
    told(monkeypatch, OTHER)
    assert page.get(own.address("/")).status_code == 303
    assert page.get("/orders").status_code == 200


def test_the_system_is_not_asked_of_who_has_the_cookie(
    page: TestClient, own: OwnMachine, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = told(monkeypatch, OTHER)
    page.get(own.address("/"))
    asked.clear()
    assert page.get("/orders").status_code == 200
    assert asked == []


def scope_from(client: tuple[str, int]) -> dict[str, object]:
    return {
        "type": "http",
        "method": "GET",
        "path": "/",
        "query_string": b"",
        "headers": [],
        "client": client,
        "server": ("127.0.0.1", 8027),
    }


def test_what_is_told_is_remembered_for_a_connection_and_not_for_the_next_one(
    own: OwnMachine, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = told(monkeypatch, US, OTHER)
    first, second = Peer(("127.0.0.1", 50_000)), Peer(("127.0.0.1", 50_000))
    assert own.lets_in(scope_from(first))
    assert own.lets_in(scope_from(first))
    assert len(asked) == 1
    assert not own.lets_in(scope_from(second))
    assert len(asked) == 2
    assert not own.lets_in(scope_from(("127.0.0.1", 50_000)))
    assert len(asked) == 3


def test_where_the_system_has_no_users_it_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(os, "getuid")
    asked = told(monkeypatch, US)
    assert not OwnMachine(KEYS).lets_in(scope_from(("127.0.0.1", 50_000)))
    assert asked == []


# Source: Linux, Documentation/networking/proc_net_tcp.rst, whose head and columns these lines have.
HEAD = "  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid  timeout inode"


def line(ends: str, state: str = "01", user: int = OTHER, inode: int = 4711) -> str:
    return (
        f"   1: {ends} {state} 00000000:00000000 00:00000000 00000000  {user}        0 {inode} 1 "
        "0000000001988862 20 4 1 36 -1"
    )


def words(address: bytes, port: int) -> str:
    """As this machine lists it, whichever way round it keeps its bytes."""
    four = [address[at : at + 4] for at in range(0, len(address), 4)]
    turned = [word[::-1] if sys.byteorder == "little" else word for word in four]
    return b"".join(turned).hex().upper() + f":{port:04X}"


V4 = bytes((127, 0, 0, 1))
MAPPED = b"\0" * 10 + b"\xff\xff" + V4
LOOP6 = b"\0" * 15 + b"\x01"
CLIENT, SERVER = 50_000, 8027


def between(address: bytes) -> str:
    return f"{words(address, CLIENT)} {words(address, SERVER)}"


@pytest.mark.parametrize(
    ("listed", "version6", "user"),
    [
        (line(between(V4)), False, OTHER),
        (line(between(MAPPED)), True, OTHER),
        # The other way round it is our own end; another port is another connection.
        (line(f"{words(V4, SERVER)} {words(V4, CLIENT)}"), False, None),
        (line(f"{words(V4, CLIENT + 1)} {words(V4, SERVER)}"), False, None),
        # A socket that its program has closed is listed under user 0, who would be root.
        (line(between(V4), state="06", user=0, inode=0), False, None),
        (line(between(V4), state="05", user=0, inode=0), False, None),
        (line(between(V4), user=0, inode=0), False, None),
        (line(between(V4), user=0), False, 0),
        # Somebody of another container.
        (line(between(V4), user=65534), False, None),
    ],
)
def test_the_user_of_the_other_end_as_linux_lists_it(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    listed: str,
    user: int | None,
    *,
    version6: bool,
) -> None:
    tables = (tmp_path / "tcp", tmp_path / "tcp6")
    for table, there in zip(tables, (not version6, version6), strict=True):
        table.write_text("\n".join((HEAD, listed, "") if there else (HEAD, "")))
    monkeypatch.setattr(other_end, "TABLES", tables)
    assert user_at(("127.0.0.1", CLIENT), ("127.0.0.1", SERVER)) == user


def test_the_same_of_version_6(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    table = tmp_path / "tcp6"
    table.write_text(f"{HEAD}\n{line(between(LOOP6))}\n")
    monkeypatch.setattr(other_end, "TABLES", (tmp_path / "none", table))
    assert user_at(("::1", CLIENT), ("::1", SERVER)) == OTHER
    assert user_at(("::2", CLIENT), ("::1", SERVER)) is None


@pytest.mark.skipif(not Path("/proc/net/tcp").exists(), reason="this system does not tell")
def test_a_real_connection_is_told_as_long_as_it_is_open() -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as listening:
        with closing(socket.create_connection(listening.getsockname())) as client:
            ends = client.getsockname(), client.getpeername()
            assert user_at(*ends) == os.getuid()
        assert user_at(*ends) is None


def test_what_is_served_asks_for_the_token(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The app of a test asks nobody; the one that a person starts does."""
    seen: list[int] = []

    def look(app: object, listening: socket.socket, **_: object) -> None:
        listening.close()
        assert not isinstance(app, int)
        with TestClient(app, base_url=OWN_ADDRESS) as client:  # type: ignore[arg-type]
            token = keys_of(tmp_path / "bevelbook.sqlite3").own
            bearer = {"authorization": f"Bearer {token}"}
            seen.extend((client.get("/").status_code, client.get("/", headers=bearer).status_code))

    monkeypatch.setattr("app.web.serving.serve", look)
    assert main(["--data", str(tmp_path), "--port", "0", "--no-browser"]) == 0
    assert seen == [403, 200]
    keys = keys_of(tmp_path / "bevelbook.sqlite3")
    assert f"/?enter={keys.own}  (stop it with Ctrl+C)" in capsys.readouterr().out
    assert main(["--data", str(tmp_path), "--port", "0", "--no-browser"]) == 0
    assert f"/?enter={keys.own} " in capsys.readouterr().out  # restarts keep the cookie


def test_a_request_knows_its_cookie_by_the_shop(own: OwnMachine) -> None:
    other = OwnMachine(replace(KEYS, instance="ffffffff"), user=US)
    scope = scope_from(("127.0.0.1", 1)) | {
        "headers": [(b"cookie", f"{COOKIE}={KEYS.own}".encode())]
    }
    assert Request(scope).cookies == {COOKIE: KEYS.own}
    assert own.lets_in(scope)
    assert not other.lets_in(scope)
