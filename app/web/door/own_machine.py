"""Who sits at this machine: other users of it are kept out, though they reach its loopback address as well."""

import os
import secrets
import time
from collections.abc import Callable
from hmac import compare_digest
from typing import cast
from urllib.parse import parse_qsl, urlencode

from starlette.datastructures import Headers
from starlette.requests import HTTPConnection
from starlette.responses import RedirectResponse, Response
from starlette.types import Scope

from app.storage import Keys
from app.web.connection import Peer
from app.web.door import other_end
from app.web.door.other_end import End, user_at
from app.web.kit.guard import SAFE_METHODS
from app.web.kit.who_routes import page_of_ours

ENTER = "enter"

LASTING = 400 * 24 * 3600
"""Seconds; the longest that browsers keep a cookie. Source: RFC 6265bis, 5.5."""

TICKET_LASTS = 120.0
"""Seconds that a browser may take to open. Source: ours."""

_ROOT = 0


class OwnMachine:
    """Knows who sits at this machine: by a cookie, by the token that the address at the start carries, or by the system.

    user: the id of the user whose program this is; None for the one of this process. ticks: seconds, of no day.
    """

    def __init__(
        self, keys: Keys, user: int | None = None, ticks: Callable[[], float] = time.monotonic
    ) -> None:
        self._keys = keys
        self._ticks = ticks
        self._user = os.getuid() if user is None and hasattr(os, "getuid") else user
        self._tickets: dict[str, float] = {}
        self.cookie = f"bevelbook_own_{keys.instance}"

    def address(self, base: str) -> str:
        """Return the address to open, as long as these data are there. base: ends with a slash."""
        return f"{base}?{ENTER}={self._keys.own}"

    def address_once(self, base: str) -> str:
        """Return one that lets in once and soon, for a command that other users of the machine may see."""
        ticket = secrets.token_urlsafe(32)
        self._tickets[ticket] = self._ticks()
        return f"{base}?{ENTER}={ticket}"

    def lets_in(self, scope: Scope) -> bool:
        """Tell whether whoever asks sits at this machine. The cheapest is looked at first."""
        headers = Headers(scope=scope)
        cookie = HTTPConnection(scope).cookies.get(self.cookie, "")
        scheme, _, token = headers.get("authorization", "").partition(" ")
        return (
            self._is_own(cookie)
            or (scheme.lower() == "bearer" and self._is_own(token.strip()))
            or self._is_our_user(scope)
        )

    def entering(self, scope: Scope) -> Response | None:
        """Answer who opens the address with the token: a cookie, and the same address without it; None for others."""
        asked = parse_qsl(scope["query_string"].decode("latin-1"), keep_blank_values=True)
        given = [value for name, value in asked if name == ENTER]
        if scope["method"] not in SAFE_METHODS or not given:
            return None
        right = self._is_own(given[-1]) or self._takes_ticket(given[-1], scope)
        if not right and not self.lets_in(scope):
            return None
        others = urlencode([(name, value) for name, value in asked if name != ENTER])
        path = page_of_ours(scope["path"]) + (f"?{others}" if others else "")
        answer = RedirectResponse(path, status_code=303, headers={"cache-control": "no-store"})
        if right:
            answer.set_cookie(
                self.cookie, self._keys.own, max_age=LASTING, httponly=True, samesite="strict"
            )
        return answer

    def _is_own(self, token: str) -> bool:
        return compare_digest(token.encode(), self._keys.own.encode())

    def _takes_ticket(self, token: str, scope: Scope) -> bool:
        """A ticket stood in a command; so where the system tells who asks, it is for our user alone."""
        if token not in self._tickets:
            return False
        found = self._found(scope)
        if found is False or (found is None and other_end.tells()):
            return False
        return self._ticks() - self._tickets.pop(token) < TICKET_LASTS

    def _is_our_user(self, scope: Scope) -> bool:
        return self._found(scope) is True

    def _found(self, scope: Scope) -> bool | None:
        """Whether the system knows the other end as our user's or root's; None where it does not tell."""
        client, server = scope.get("client"), scope.get("server")
        if self._user is None or client is None or server is None or server[1] is None:
            return None
        if isinstance(client, Peer) and client.let_in is not None:
            return client.let_in
        try:
            user = user_at(cast(End, client), cast(End, server))
        except ValueError:  # no addresses
            return None
        found = None if user is None else user in (self._user, _ROOT)
        if isinstance(client, Peer):
            client.let_in = found
        return found
