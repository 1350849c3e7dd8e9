"""A crowd of connections from the network: so many are held and no more, and none is a line of the log each."""

import asyncio
import logging
import socket
from collections.abc import Awaitable, Callable

import pytest
from starlette.responses import PlainTextResponse

from app.web import crowd
from app.web.beside import Listener, socket_at
from app.web.crowd import Crowded
from tests.apart import run_apart


def while_listening(act: Callable[[int], Awaitable[None]]) -> None:
    """Do something with the port of a socket of the network on which somebody answers."""

    async def run() -> None:
        listening = socket_at("127.0.0.1", 0, Crowded)
        listener = Listener(PlainTextResponse("in"), listening)
        await listener.start()
        try:
            await act(listening.getsockname()[1])
        finally:
            await listener.stop()

    run_apart(run())


async def opened(port: int, source: str) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
    return await asyncio.open_connection("127.0.0.1", port, local_addr=(source, 0))


async def answer_to(port: int, source: str, sent: bytes) -> bytes:
    reader, writer = await opened(port, source)
    try:
        writer.write(sent)
        await writer.drain()
        return await reader.read()
    except ConnectionError:
        return b""
    finally:
        writer.close()


ASKED = b"GET / HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n"


def test_one_address_holds_so_many_connections_and_shuts_no_other_out(
    caplog: pytest.LogCaptureFixture,
) -> None:
    async def crowded(port: int) -> None:
        idle = [await opened(port, "127.0.0.2") for _ in range(200)]
        assert await answer_to(port, "127.0.0.2", ASKED) == b""
        assert (await answer_to(port, "127.0.0.3", ASKED)).endswith(b"in")
        closed = [reader for reader, _ in idle[32:]]
        assert [await reader.read() for reader in closed] == [b""] * 168
        assert not any(reader.at_eof() for reader, _ in idle[:32])
        idle[0][1].close()
        await asyncio.sleep(0.1)
        assert (await answer_to(port, "127.0.0.2", ASKED)).endswith(b"in")
        for _, writer in idle:
            writer.close()

    while_listening(crowded)
    assert not caplog.records


def test_all_addresses_together_hold_so_many() -> None:
    async def crowded(port: int) -> None:
        idle = [await opened(port, f"127.0.0.{2 + number // 32}") for number in range(128)]
        assert await answer_to(port, "127.0.0.9", ASKED) == b""
        idle[0][1].close()
        await asyncio.sleep(0.1)
        assert (await answer_to(port, "127.0.0.9", ASKED)).endswith(b"in")
        for _, writer in idle:
            writer.close()

    while_listening(crowded)


def test_how_many_were_refused_is_one_line(
    caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(crowd, "MOST_OF_ONE", 1)

    async def refused() -> None:
        listening = Crowded(socket.AF_INET, socket.SOCK_STREAM, every=0.01)
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        listening.setblocking(False)
        ours = [socket.create_connection(listening.getsockname()) for _ in range(4)]
        held, _ = listening.accept()
        with pytest.raises(BlockingIOError):
            listening.accept()
        await asyncio.sleep(0.1)
        for each in (held, listening, *ours):
            each.close()

    run_apart(refused())
    assert [record.message for record in caplog.records] == [
        "3 connections from the network were closed at once: one address may have 1, all together 128."
    ]


def test_nonsense_from_the_network_is_answered_and_no_line_of_the_log(
    caplog: pytest.LogCaptureFixture,
) -> None:
    async def nonsense(port: int) -> None:
        for _ in range(3):
            answer = await answer_to(port, "127.0.0.2", b"\x16\x03\x01\x02\x00\r\n\r\n")
            assert answer.startswith(b"HTTP/1.1 400 ")

    with caplog.at_level(logging.INFO):
        while_listening(nonsense)
    assert "Invalid HTTP request" not in caplog.text
