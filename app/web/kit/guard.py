"""Lets only our own pages in a browser on this machine, and programs beside it, speak to the app.

A pure ASGI layer in front of everything. It refuses foreign host names (DNS rebinding), writes that
a page of another site sent, and it sets the headers that keep a page to our own files. It keeps no
sessions: the app serves one shop on its own machine.
"""

from collections.abc import Iterable

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


class Guard:
    """Checks every request before the app sees it.

    hosts: names besides the loopback ones under which the app may be called, without port.
    """

    def __init__(self, app: ASGIApp, hosts: Iterable[str] = ()) -> None:
        self.app = app
        self.hosts = LOOPBACK_NAMES | {host.lower() for host in hosts}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it with the reason why not."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await (self._refusal(scope) or self.app)(scope, receive, send_with_headers)

    def _refusal(self, scope: Scope) -> PlainTextResponse | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host_name(host) not in self.hosts:
            return PlainTextResponse(
                f"This app does not answer to the name {host[:80]!r}. "
                "Open it as http://127.0.0.1 with its port.",
                status_code=421,
            )
        if scope["method"] not in SAFE_METHODS and not _ours(headers, scope["scheme"], host):
            return PlainTextResponse(
                "This change was sent by a page of another site and was not carried out.",
                status_code=403,
            )
        return None


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
