"""The line for what takes long: so many requests at work, so many waiting, and the next is told to come again.

A request that waits holds no thread, so that pages are answered meanwhile. What stands in a line is declared where
its routes are (`dependencies=[in_line(...)]`); which lines there are, and how long they may get, stands here alone.
"""

import asyncio
import threading
from collections import deque
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import Depends, Request
from starlette.requests import ClientDisconnect

from app.counting import counted
from app.errors import Busy


class Line:
    """One line. May be used from any loop and thread.

    what: said to who is sent away. at_work, waiting: how many at most.
    """

    def __init__(self, what: str, *, at_work: int, waiting: int) -> None:
        self._what, self._most, self._longest = what, at_work, waiting
        self._lock = threading.Lock()
        self._at_work = 0
        self._waiting: deque[asyncio.Future[None]] = deque()

    @property
    def room(self) -> int:
        """How many more would be taken now."""
        with self._lock:
            return self._most + self._longest - self._at_work - len(self._waiting)

    @asynccontextmanager
    async def place(self) -> AsyncIterator[None]:
        """Wait for a place and hold it. Raises: Busy where the line is full."""
        turn = self._taken()
        if turn is not None:
            try:
                await turn
            except asyncio.CancelledError:
                self._left(turn)
                raise
        try:
            yield
        finally:
            self._given_on()

    def _taken(self) -> asyncio.Future[None] | None:
        """Take a place, or a turn to wait for. Raises: Busy."""
        with self._lock:
            if self._at_work < self._most:
                self._at_work += 1
                return None
            if len(self._waiting) >= self._longest:
                raise Busy(
                    f"{self._what}; {counted(self._longest, 'request')} wait already. Nothing was "
                    "changed; ask again in a while."
                )
            turn = asyncio.get_running_loop().create_future()
            self._waiting.append(turn)
            return turn

    def _left(self, turn: asyncio.Future[None]) -> None:
        """Leave the line; a place that was given meanwhile goes on to the next."""
        with self._lock:
            if turn in self._waiting:
                self._waiting.remove(turn)
                return
        self._given_on()

    def _given_on(self) -> None:
        """Give a place to the first who waits."""
        with self._lock:
            while self._waiting:
                turn = self._waiting.popleft()
                if _told(turn):
                    return
            self._at_work -= 1


def _told(turn: asyncio.Future[None]) -> bool:
    """Tell who waits that it is their turn; not where their loop ended meanwhile."""
    try:
        turn.get_loop().call_soon_threadsafe(_come, turn)
    except RuntimeError:
        return False
    return True


def _come(turn: asyncio.Future[None]) -> None:
    if not turn.done():
        turn.set_result(None)


SOLVED = Line("No further cutting plan can be made now", at_work=3, waiting=42)
"""What asks the solver, of which two live at once: three at work keep both busy. Source: ours."""

WORKED_OUT = Line("No more can be worked out now", at_work=1, waiting=40)
"""What the app works out itself and may take seconds: one at a time, since more would only share its one
processor with every page. Source: ours."""

PICTURED = Line("No further photo can be read now", at_work=1, waiting=12)
"""Photos: each takes a child with some hundred MB of memory for about a second. Source: ours."""


def in_line(line: Line) -> Any:
    """Return the dependency of a route that stands in a line; its place is free once its answer is worked out."""

    async def waited(request: Request) -> AsyncIterator[None]:
        await request.body()  # what comes slowly holds no place
        async with line.place():
            if await request.is_disconnected():
                raise ClientDisconnect
            yield

    return Depends(waited, scope="function")
