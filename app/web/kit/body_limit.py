"""Limits how much of a request is read; a larger one ends as an error that our own handlers put into words."""

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send


class BodyLimit:
    """Stops reading a body at a limit, in bytes. Raises in the app: HTTPException with 413.

    Starlette's own middleware answers a declared length above its limit by itself, in bare words
    that are neither a page of ours nor the contract's error shape.
    """

    def __init__(self, app: ASGIApp, limit: int) -> None:
        self.app = app
        self.limit = limit

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on with a body that ends at the limit."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        length = Headers(scope=scope).get("content-length", "")
        declared = int(length) if length.isascii() and length.isdigit() else 0
        read = 0

        async def receive_up_to_the_limit() -> Message:
            nonlocal read
            if declared > self.limit:
                raise HTTPException(413)
            message = await receive()
            read += len(message.get("body", b""))
            if read > self.limit:
                raise HTTPException(413)
            return message

        await self.app(scope, receive_up_to_the_limit, send)
