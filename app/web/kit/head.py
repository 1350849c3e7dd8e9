"""Answers HEAD as GET would be answered, without the body.

A pure ASGI layer, so that every route that gives something answers it. Source: RFC 9110, 9.3.2.
"""

from starlette.requests import HTTPConnection
from starlette.types import ASGIApp, Message, Receive, Scope, Send

_HEAD_ALONE = "bevelbook.head-alone"


def wants_head_alone(request: HTTPConnection) -> bool:
    """Tell whether a request asked by HEAD, and gets none of the body that is made for it."""
    return _HEAD_ALONE in request.scope


class HeadAsGet:
    """Asks the app for the page and sends the head of its answer alone."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer HEAD with what GET is answered with; pass all else on."""
        if scope["type"] != "http" or scope["method"] != "HEAD":
            await self.app(scope, receive, send)
            return

        async def send_head(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self.app({**scope, "method": "GET", _HEAD_ALONE: True}, receive, send_head)
