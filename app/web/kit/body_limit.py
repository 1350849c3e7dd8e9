"""Limits how much of a request is read, and for how long; what goes beyond ends as an error that our own handlers
put into words.
"""

import asyncio

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LONGEST = 30.0
"""Seconds in which a body must have come whole: on one machine, or in one house, it comes at once. Source: ours."""


class BodyLimit:
    """Stops reading a body at a limit, in bytes. Raises in the app: HTTPException with 413, with 408 where it
    does not come whole in time.

    Starlette's own middleware answers a declared length above its limit by itself, in bare words
    that are neither a page of ours nor the contract's error shape.
    """

    def __init__(
        self, app: ASGIApp, limit: int, longest: float = LONGEST, with_file: int | None = None
    ) -> None:
        """with_file: the limit of a form that may bring a file, which is kept on disk while it comes; None for the same."""
        self.app = app
        self.limit = limit
        self.with_file = with_file or limit
        self.longest = longest

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on with a body that ends at the limit."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        length = headers.get("content-length", "")
        of_file = headers.get("content-type", "").startswith("multipart/form-data")
        limit = self.with_file if of_file else self.limit
        declared = int(length) if length.isascii() and length.isdigit() else 0
        read = 0
        whole = False
        until = asyncio.get_running_loop().time() + self.longest

        async def receive_up_to_the_limit() -> Message:
            nonlocal read, whole
            if declared > limit:
                raise HTTPException(413)
            if whole:  # what comes now is that the other side has gone, whenever that may be
                return await receive()
            try:
                async with asyncio.timeout_at(until):
                    message = await receive()
            except TimeoutError:
                raise HTTPException(408) from None
            whole = not message.get("more_body", False)
            read += len(message.get("body", b""))
            if read > limit:
                raise HTTPException(413)
            return message

        await self.app(scope, receive_up_to_the_limit, send)
