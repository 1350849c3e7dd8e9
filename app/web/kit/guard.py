"""Lets only our own pages in a browser, and programs beside it, speak to the app, and only who is let in.

A pure ASGI layer in front of everything. It refuses foreign host names (DNS rebinding), writes that
a page of another site sent, and it sets the headers that keep a page to our own files. Who is let in
its doorkeeper knows: whoever sits at this machine, and phones that were paired with it.
"""

from collections.abc import Collection, Iterable
from typing import Protocol

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOOPBACK_NAMES = frozenset({"localhost", "127.0.0.1", "[::1]"})
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; "
        "font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
        "object-src 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    # no-referrer would make our own form posts carry "Origin: null".
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}


_FOR_HTTPS = "cross-origin-opener-policy"
"""What browsers heed of this machine and by https alone; by http of another one they complain of it."""

_NETWORK = "bevelbook.network"


class FromNetwork:
    """Marks what comes in by a socket that others in the network reach."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on."""
        await self.app({**scope, _NETWORK: True}, receive, send)


def from_network(scope: Scope) -> bool:
    """Tell whether a request came in by such a socket, wherever it set out."""
    return _NETWORK in scope


class Doorkeeper(Protocol):
    """Knows who is let in."""

    @property
    def names(self) -> Collection[str]:
        """The host names by which phones in the network may call the app, without port."""

    def met(self, scope: Scope) -> ASGIApp | None:
        """Note with a request who asks; return what answers it instead of the app where nobody is let in."""


class Guard:
    """Checks every request before the app sees it.

    hosts: names besides the loopback ones under which the app may be called on this machine, without port.
    doorkeeper: who is let in; None lets in whoever reaches this machine.
    """

    def __init__(
        self, app: ASGIApp, hosts: Iterable[str] = (), doorkeeper: Doorkeeper | None = None
    ) -> None:
        self.app = app
        self.hosts = LOOPBACK_NAMES | {host.lower() for host in hosts}
        self.doorkeeper = doorkeeper

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it with the reason why not."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    if name != _FOR_HTTPS or not from_network(scope) or scope["scheme"] == "https":
                        headers.setdefault(name, value)
                if scope["scheme"] == "https":
                    message["headers"] = [_secured(*header) for header in message["headers"]]
            await send(message)

        stopped = self._refusal(scope) or (self.doorkeeper and self.doorkeeper.met(scope))
        await (stopped or self.app)(scope, receive, send_with_headers)

    def _refusal(self, scope: Scope) -> PlainTextResponse | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host_name(host) not in self._names(scope):
            known_as = (
                "Open it at the address that it shows for phones."
                if from_network(scope)
                else "Open it as http://127.0.0.1 with its port."
            )
            return PlainTextResponse(
                f"This app does not answer to the name {host[:80]!r}. {known_as}", status_code=421
            )
        if scope["method"] not in SAFE_METHODS and not _ours(headers, scope["scheme"], host):
            return PlainTextResponse(
                "This change was sent by a page of another site and was not carried out.",
                status_code=403,
            )
        return None

    def _names(self, scope: Scope) -> Collection[str]:
        if not from_network(scope):
            return self.hosts
        return self.doorkeeper.names if self.doorkeeper else ()


def _secured(name: bytes, value: bytes) -> tuple[bytes, bytes]:
    """Let a cookie that was set by https be sent by https alone."""
    return name, value + b"; Secure" if name == b"set-cookie" else value


def host_name(host: str) -> str:
    """Return the name in a Host header, lower case, without its port."""
    name, colon, port = host.lower().rpartition(":")
    if colon and (port.isdigit() or not port):
        return name
    return host.lower()


def _ours(headers: Headers, scheme: str, host: str) -> bool:
    """Tell whether a write comes from our own pages, or from a program that is no browser."""
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site == "same-origin"
    origin = headers.get("origin")
    if origin is not None:
        return origin.lower() == f"{scheme}://{host}".lower()
    return "cookie" not in headers
