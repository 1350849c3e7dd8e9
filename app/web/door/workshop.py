"""Phones at the bench: opens and closes the socket by which they reach the app, and says where that is."""

import asyncio
import errno
import logging
from collections.abc import Collection, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from starlette.types import ASGIApp

from app.errors import AppError
from app.services import phones
from app.storage import Phone, Store, keys_of
from app.web.beside import Listener, socket_at
from app.web.crowd import Crowded
from app.web.door.pairing import Pairing
from app.web.kit.guard import FromNetwork

LOOK = 5.0
"""Seconds between two looks whether what is open is what should be. Source: ours."""

SEEN_AGAIN = timedelta(hours=1)
"""After how long it is written down that a phone was there again: each write costs. Source: ours."""

log = logging.getLogger("bevelbook.phones")


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """Files for https, where a shop has them."""

    certificate: Path
    key: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Where phones are to reach the app."""

    address: str
    port: int


class Workshop:
    """Keeps open what the data say is to be open; there is one for each app.

    hosts: names by which phones may call the app besides its address. certificate: for https. at: where they
    reach it as long as this process runs, whatever address the data say.
    """

    def __init__(
        self,
        store: Store,
        *,
        hosts: Iterable[str] = (),
        certificate: Certificate | None = None,
        at: Wanted | None = None,
    ) -> None:
        self.store = store
        self.pairing = Pairing()
        self.certificate = certificate
        self.trouble = ""
        self.instance = ""
        self._hosts = tuple(host.lower() for host in hosts)
        self._at = at
        self._app: ASGIApp | None = None
        self._open: tuple[Wanted, Listener, int] | None = None
        self._turn = asyncio.Lock()
        self._seen: dict[int, datetime] = {}

    def leads_to(self, app: ASGIApp) -> None:
        """Say which app phones reach."""
        self._app = FromNetwork(app)

    @property
    def access(self) -> phones.Access:
        """Whether it is turned on, where, and which phones are paired."""
        return phones.access(self.store)

    @property
    def url(self) -> str | None:
        """The address at which phones reach the app, without a path; None while they do not."""
        if self._open is None:
            return None
        wanted, _, port = self._open
        return f"{self.scheme}://{self.name_for(wanted.address)}:{port}"

    @property
    def scheme(self) -> str:
        """How it is spoken."""
        return "https" if self.certificate else "http"

    def name_for(self, address: str) -> str:
        """Return how an address is called: a certificate is made out to a name where there is one."""
        if self.certificate and self._hosts:
            return self._hosts[0]
        return f"[{address}]" if ":" in address else address

    @property
    def names(self) -> Collection[str]:
        """The host names by which phones may call the app now."""
        if self._open is None:
            return ()
        address = self._open[0].address
        return (f"[{address}]" if ":" in address else address, *self._hosts)

    def seen(self, phone: Phone, now: datetime) -> bool:
        """Remember that a phone is there. Returns whether that is to be written down."""
        self._seen[phone.id] = now
        return abs(now - phone.seen_at) >= SEEN_AGAIN

    def seen_at(self, phone: Phone) -> datetime:
        """Return when a phone was there last."""
        return self._seen.get(phone.id, phone.seen_at)

    async def settle(self) -> None:
        """Open or close the socket as the data say. What cannot be opened is said in `trouble`, and tried again."""
        async with self._turn:
            wanted = self._wanted()
            if self._open is not None and self._open[0] != wanted:
                await self._close()
            if wanted is None:
                self.trouble = ""
            elif self._open is None:
                await self._open_at(wanted)

    async def keep(self) -> None:
        """See to it for as long as the app runs: a network may come later, and go."""
        while True:
            with suppress(AppError):  # the data cannot be read just now; pages say so
                await self.settle()
            await asyncio.sleep(LOOK)

    async def close(self) -> None:
        """Let go of the socket, at the end of the app."""
        async with self._turn:
            await self._close()

    def _wanted(self) -> Wanted | None:
        now = self.access
        if not now.is_on:
            return None
        return self._at or Wanted(address=now.address, port=now.port)

    async def _open_at(self, wanted: Wanted) -> None:
        assert self._app is not None, "it was said which app phones reach"
        try:
            listening = socket_at(wanted.address, wanted.port, Crowded)
            port = listening.getsockname()[1]
            self.instance = keys_of(self.store.path).instance
            ours = self.certificate
            listener = Listener(
                self._app,
                listening,
                certificate=ours.certificate if ours else None,
                key=ours.key if ours else None,
            )
            await listener.start()
        except OSError as error:
            trouble = f"Phones do not reach Bevelbook: {_reason(error, wanted)}."
            if trouble != self.trouble:
                log.warning("%s", trouble)
            self.trouble = trouble
            return
        self._open, self.trouble = (wanted, listener, port), ""
        log.info("phones reach it at %s", self.url)

    async def _close(self) -> None:
        if self._open is not None:
            (_, listener, _), self._open = self._open, None
            self.pairing.forget()
            await listener.stop()


def _reason(error: OSError, wanted: Wanted) -> str:
    reasons = {
        errno.EADDRNOTAVAIL: f"this computer has not the address {wanted.address} now",
        errno.EADDRINUSE: f"another program has port {wanted.port} at {wanted.address}",
        errno.EACCES: f"port {wanted.port} is not for programs of a user; take one above 1023",
    }
    return reasons.get(error.errno or 0, (error.strerror or str(error)).lower())
