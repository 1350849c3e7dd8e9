"""Serves until the process is asked to stop, and then ends in order and within seconds.

Ctrl+C, a service manager, a terminal that is closed: each ends the server as the others do, and whatever was begun
around it (`with`) is left after it. What hangs is not waited for.
"""

import asyncio
import gc
import signal
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

import uvicorn
from fastapi import FastAPI
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.web.connection import Connection
from app.web.ending import meet_with

GRACE = 2
"""Seconds that requests under way are given to end. Source: ours."""


def serve(app: FastAPI, listening: socket.socket, *, log_level: str) -> None:
    """Answer on a socket until the process is asked to stop.

    What is there by now stays until the end: it is not gone through again each time that Python looks for what nobody
    needs any more, which would hold up a request by a tenth of a second every now and then.
    """
    gc.collect()
    gc.freeze()
    _Server(_config(app, log_level)).run(sockets=[listening])


def serve_until(
    make_app: Callable[[Callable[[], None]], ASGIApp], listening: socket.socket, *, log_level: str
) -> None:
    """Answer on a socket until the app itself wants to leave, or the process is asked to stop.

    make_app: is given what the app calls to leave.
    """
    server: _Server

    def leave() -> None:
        server.should_exit = True

    server = _Server(_config(make_app(leave), log_level))
    server.run(sockets=[listening])


def _config(app: ASGIApp, log_level: str) -> uvicorn.Config:
    return uvicorn.Config(
        _CutOff(app),
        log_level=log_level,
        log_config=None,  # what it logs goes where all else does
        access_log=False,
        server_header=False,
        http=Connection,
        proxy_headers=False,  # who asks is who is connected, whatever a request says of it
        timeout_graceful_shutdown=GRACE,
    )


class _Server(uvicorn.Server):
    """One that does not hand what stopped it on to the process, and that no second word hurries."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        meet_with(self.handle_exit)
        try:
            yield
        finally:
            meet_with(signal.SIG_IGN)  # what is still to be left takes a second or two

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self.should_exit = True

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End, and leave no connection open: what a browser opened meanwhile would wait in this process for ever."""
        await super().shutdown(sockets)
        for _ in range(3):
            await asyncio.sleep(0)  # one that was just taken in is made in the next round
            for each in tuple(self.server_state.connections):
                each.transport.abort()


class _CutOff:
    """Answers a request that the end cuts off, where nothing was answered yet; it is no fault of the app's."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on."""
        begun = scope["type"] != "http"

        async def send_on(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self._app(scope, receive, send_on)
        except asyncio.CancelledError:
            if not begun:
                answer = PlainTextResponse("Bevelbook was ended before it could answer.", 503)
                await answer(scope, receive, send)
