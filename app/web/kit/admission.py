"""The layer that refuses a paired phone what is not its own, and a screen beside a customer what is the shop's (`access`)."""

import re
from functools import partial

from fastapi import Request
from fastapi.responses import JSONResponse
from starlette.datastructures import MutableHeaders
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.errors import AppError
from app.web.kit.access import FacingCustomer, NotForVisitor, may_ask
from app.web.kit.closed_links import without_closed
from app.web.kit.templating import render_error
from app.web.kit.visitor import visitor_of


class Admission:
    """Refuses what is closed to who asks, and takes links to that out of the pages that are given.

    Which way the screen faces may change while a request is answered, so that is looked at again with its answer.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it with the page that says why not."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        allowed = may_ask(request, scope["method"], scope["path"])
        answer = self.app if allowed else _refusal(request)
        await answer(scope, receive, _Closing(request, send).send)


def _refusal(request: Request) -> Response:
    visitor = visitor_of(request)
    refused: AppError = FacingCustomer() if visitor.beside_customer else NotForVisitor(visitor)
    if request.url.path.startswith("/api/"):
        error = {"code": refused.code, "message": refused.message, "fields": []}
        return JSONResponse({"error": error}, status_code=403)
    return render_error(request, 403, refused.message, own=refused.code)


class _Closing:
    """Gathers an answer that is HTML, and sends it without links that would be refused; sends all else as it comes."""

    def __init__(self, request: Request, send: Send) -> None:
        self._request, self._send = request, send
        self._start: Message | None = None
        self._body = bytearray()

    async def send(self, message: Message) -> None:
        """Take a message of the answer."""
        if message["type"] == "http.response.start" and self._has_closed(message):
            self._start = message
        elif self._start is None:
            await self._send(message)
        else:
            self._body += message.get("body", b"")
            if not message.get("more_body", False):
                await self._finish(self._start)

    def _has_closed(self, start: Message) -> bool:
        return not visitor_of(self._request).sees_all and _is_html(start)

    async def _finish(self, start: Message) -> None:
        opens = partial(may_ask, self._request)
        body = without_closed(self._body.decode(), opens).encode()
        MutableHeaders(scope=start)["content-length"] = str(len(body))
        await self._send(start)
        await self._send({"type": "http.response.body", "body": body})


def _is_html(start: Message) -> bool:
    return bool(re.match("text/html", MutableHeaders(scope=start).get("content-type", "")))
