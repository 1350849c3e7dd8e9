"""The address that the program listens on."""

import asyncio
import socket
from pathlib import Path

from app.settings import Settings
from app.web.opening import listen
from tests.apart import run_apart


def test_an_answer_is_sent_at_once_and_does_not_wait_for_the_browser(tmp_path: Path) -> None:
    # Source: RFC 896 and RFC 1122, 4.2.3.2: small segments are held back until the last one is
    # acknowledged, which the other side may put off; a head and a body are two segments.
    async def sends_at_once() -> bool:
        told: asyncio.Future[int] = asyncio.get_running_loop().create_future()

        def accepted(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            accepted_socket = writer.get_extra_info("socket")
            told.set_result(accepted_socket.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        listening = listen(Settings(data=tmp_path, port=0))
        async with await asyncio.start_server(accepted, sock=listening):
            _, writer = await asyncio.open_connection(*listening.getsockname())
            at_once = await asyncio.wait_for(told, timeout=5)
            writer.close()
            await writer.wait_closed()
            return bool(at_once)

    assert run_apart(sends_at_once())
