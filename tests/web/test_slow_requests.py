"""A request of which the rest never comes is given up in time, and holds nothing until then."""

import asyncio
import socket
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.types import Message

from app.storage import Store
from app.web import connection
from app.web.app import create_app
from app.web.beside import Listener
from app.web.kit.body_limit import BodyLimit
from tests.apart import run_apart


def test_a_body_that_does_not_come_whole_is_given_up() -> None:
    sent: list[Message] = [{"type": "http.request", "body": b"name=", "more_body": True}]

    async def receive() -> Message:
        if sent:
            return sent.pop()
        await asyncio.Event().wait()
        raise AssertionError

    async def read(scope: object, receive: object, send: object) -> None:
        await Request(scope, receive).body()  # type: ignore[arg-type]

    limited = BodyLimit(read, limit=100, longest=0.05)  # type: ignore[arg-type]

    async def send(_message: Message) -> None:
        raise AssertionError

    scope = {"type": "http", "method": "POST", "headers": []}
    with pytest.raises(HTTPException) as late:
        run_apart(limited(scope, receive, send))
    assert late.value.status_code == 408


def test_an_answer_that_takes_longer_than_a_body_may_is_no_fault() -> None:
    async def waits(request: Request) -> Response:
        await request.body()
        await asyncio.sleep(0.1)
        return PlainTextResponse(str(await request.is_disconnected()))

    app = BodyLimit(Starlette(routes=[Route("/", waits, methods=["POST"])]), 100, longest=0.05)
    said: list[bytes] = []
    parts: list[Message] = [{"type": "http.request", "body": b"name=Bo", "more_body": False}]

    async def receive() -> Message:
        if parts:
            return parts.pop()
        await asyncio.Event().wait()
        raise AssertionError

    async def send(message: Message) -> None:
        said.append(message.get("body", b""))

    scope = {"type": "http", "method": "POST", "path": "/", "headers": [], "query_string": b""}
    run_apart(app(scope, receive, send))
    assert b"".join(said) == b"False"


@contextmanager
def half_sent(port: int, sent: bytes) -> Iterator[socket.socket]:
    with socket.create_connection(("127.0.0.1", port), timeout=30) as half:
        half.sendall(sent)
        yield half


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        (b"", b""),
        (b"GET /orders HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Half: ", b""),
        (
            b"POST /customers HTTP/1.1\r\nHost: 127.0.0.1\r\nSec-Fetch-Site: same-origin\r\n"
            b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 99\r\n\r\nname=B",
            b"HTTP/1.1 408",
        ),
    ],
    ids=["nothing", "half a head", "half a body"],
)
def test_a_connection_on_which_no_request_comes_whole_is_closed(
    store: Store, monkeypatch: pytest.MonkeyPatch, sent: bytes, said: bytes
) -> None:
    monkeypatch.setattr(connection.Connection, "longest", 0.2)
    monkeypatch.setattr(BodyLimit.__init__, "__defaults__", (0.2, None))

    async def answered() -> bytes:
        listening = socket.create_server(("127.0.0.1", 0))
        listener = Listener(create_app(store), listening)
        await listener.start()
        try:
            with half_sent(listening.getsockname()[1], sent) as half:
                half.setblocking(False)
                got = b""
                while more := await asyncio.get_running_loop().sock_recv(half, 65536):
                    got += more
                return got
        finally:
            await listener.stop()

    got = run_apart(asyncio.wait_for(answered(), 30))
    assert got.startswith(said)
    assert bool(got) == bool(said)
