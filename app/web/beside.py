"""Answers on one more socket while the app runs: for phones in the workshop, or to look at a copy.

It lives in the loop of the process and is begun and ended by whoever asks for it; signals are not its business.
"""

import asyncio
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import uvicorn
from starlette.types import ASGIApp

from app.web.connection import NetworkConnection

GRACE = 2
"""Seconds that its requests under way are given to end. Source: ours, as at the end of the app."""


def socket_at(host: str, port: int, kind: type[socket.socket] = socket.socket) -> socket.socket:
    """Return a socket that listens at an address of this machine. Raises: OSError."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Only where the protocol is named does asyncio send at once (TCP_NODELAY); else the end of every
    # answer waits 40 ms for the browser to acknowledge its head.
    listening = kind(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)
    except OSError:
        listening.close()
        raise
    return listening


class Listener:
    """Answers on a socket from `start` to `stop`.

    certificate, key: files for TLS, where there are some. The app's own start and end (its lifespan) are not run.
    """

    def __init__(
        self,
        app: ASGIApp,
        listening: socket.socket,
        *,
        certificate: Path | None = None,
        key: Path | None = None,
    ) -> None:
        config = uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            proxy_headers=False,  # who asks is who is connected, whatever a request says of it
            lifespan="off",
            timeout_graceful_shutdown=GRACE,
            http=NetworkConnection,
            ssl_certfile=certificate,
            ssl_keyfile=key,
        )
        self._server = _Quiet(config)
        self._listening = listening
        self._task: asyncio.Task[None] | None = None

    async def start(self) -> None:
        """Begin to answer; it answers when this returns. Raises: OSError where the socket cannot be used."""
        self._task = asyncio.create_task(self._server.serve(sockets=[self._listening]))
        while not self._server.started:
            if self._task.done():
                await self._task
                raise OSError("it could not begin to answer")
            await asyncio.sleep(0.01)

    async def stop(self) -> None:
        """End it; who is being answered gets a moment."""
        self._server.should_exit = True
        if self._task is not None:
            await self._task
        self._listening.close()


class _Quiet(uvicorn.Server):
    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield
