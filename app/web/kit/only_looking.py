"""Answers whatever would change something while a copy of the data is only looked at."""

from starlette.requests import Request
from starlette.types import ASGIApp, Receive, Scope, Send

from app.storage import OnlyLookedAt
from app.web.kit.errors import on_app_error
from app.web.kit.guard import SAFE_METHODS

TURNED = "/turn"
"""By which the screen is turned to a customer and back, which changes nothing but a cookie."""


class NothingChanges:
    """Lets through what only reads, and refuses all else in words before any of it is read."""

    def __init__(self, app: ASGIApp, sentence: str) -> None:
        self._app = app
        self._sentence = sentence

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http" or scope["method"] in SAFE_METHODS or scope["path"] == TURNED:
            await self._app(scope, receive, send)
            return
        refused = await on_app_error(Request(scope, receive), OnlyLookedAt(self._sentence))
        await refused(scope, receive, send)
