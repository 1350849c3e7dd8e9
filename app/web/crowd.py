"""Keeps a crowd of connections from shutting others out: a socket in a network holds so many of them and no more.

A connection is a file of the process, of which there are not many, whether or not anything was ever said on it.
"""

import asyncio
import logging
import socket
from typing import Any
from weakref import WeakKeyDictionary

from app.counting import counted

MOST_OF_ONE, MOST_OF_ALL = 32, 128
"""Connections of one address and of all of them that are held at a time. Source: ours; a browser opens six to a host."""

EVERY = 60.0
"""Seconds between two lines of the log which say how many were refused. Source: ours."""

_AT_ONCE = 200
"""Connections that are refused before others in the loop get their turn."""

log = logging.getLogger("bevelbook.phones")


class Crowded(socket.socket):
    """A listening socket which closes at once what is more than it holds. every: seconds between two lines in the log.

    Where a system accepts without it (asyncio does so on Windows, where files of a process are no such few) all are held.
    """

    def __init__(self, *of: Any, every: float = EVERY, **further: Any) -> None:
        super().__init__(*of, **further)
        self._held: WeakKeyDictionary[socket.socket, str] = WeakKeyDictionary()
        self._every = every
        self._refused = 0

    def accept(self) -> tuple[socket.socket, Any]:
        """Return the next connection that there is room for. Raises: BlockingIOError where none waits; OSError."""
        for _ in range(_AT_ONCE):
            connection, address = super().accept()
            if self._has_room_for(address[0]):
                self._held[connection] = address[0]
                return connection, address
            connection.close()
            self._note_refusal()
        raise BlockingIOError

    def _has_room_for(self, address: str) -> bool:
        held = [of for connection, of in self._held.items() if connection.fileno() >= 0]
        return len(held) < MOST_OF_ALL and held.count(address) < MOST_OF_ONE

    def _note_refusal(self) -> None:
        self._refused += 1
        if self._refused == 1:
            asyncio.get_running_loop().call_later(self._every, self._say_refused)

    def _say_refused(self) -> None:
        many, self._refused = self._refused, 0
        log.warning(
            "%s closed at once: one address may have %d, all together %d.",
            counted(many, "connection from the network was", "connections from the network were"),
            MOST_OF_ONE,
            MOST_OF_ALL,
        )
