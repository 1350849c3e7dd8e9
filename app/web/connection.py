"""A connection that is served: it gives its requests who is at its other end, and is closed where the head of one does not come in time.

uvicorn gives a connection that is at rest between two requests five seconds, and one that never got so far for ever.
Such a one holds no thread, but a file of the process, of which there are not many.
"""

import asyncio
import logging
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

LONGEST = 30.0
"""Seconds from the first byte, or from the opening of the connection, to the end of the head. Source: ours."""


class Peer(tuple[str, int]):  # noqa: SLOT001 - a slot in a tuple is not to be had
    """Address and port of the other end; one object for each connection, so that what was found of it is remembered with it.

    let_in: whether it is a user who is let in; None while nobody looked.
    """

    let_in: bool | None = None


class Connection(H11Protocol):
    """A connection that gives its requests the same `Peer`, and whose heads come in time. longest: seconds."""

    longest = LONGEST

    def __init__(self, *settings: Any, **further: Any) -> None:
        super().__init__(*settings, **further)
        self._late: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Wait for the first head."""
        super().connection_made(transport)
        if self.client is not None:
            self.client = Peer(self.client)
        self._wait()

    def data_received(self, data: bytes) -> None:
        """Read on; wait for the rest of a head."""
        super().data_received(data)
        if self.conn.their_state is not h11.IDLE:
            self._wait_no_more()
        elif self.conn.trailing_data[0]:
            self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget it."""
        self._wait_no_more()
        super().connection_lost(exc)

    def _wait(self) -> None:
        if self._late is None:
            self._late = self.loop.call_later(self.longest, self.transport.close)

    def _wait_no_more(self) -> None:
        if self._late is not None:
            self._late.cancel()
            self._late = None


class NetworkConnection(Connection):
    """A connection from the network, on which nonsense may come: that is answered, and is no line of the log each."""

    def __init__(self, *settings: Any, **further: Any) -> None:
        super().__init__(*settings, **further)
        self.logger = _of_strangers


def _is_of_note(record: logging.LogRecord) -> bool:
    return record.msg != "Invalid HTTP request received."


_of_strangers = logging.getLogger("uvicorn.error.network")
_of_strangers.addFilter(_is_of_note)
