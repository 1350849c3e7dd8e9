"""A form that makes something is kept once, however often it is sent: pressed twice, or sent again after Back.

Such a form holds the hidden field `once` (the macro `forms.once`). The second time it is refused with a page
that leads to what the first one made, and may be sent again on purpose.
"""

from collections.abc import Mapping
from contextlib import suppress

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.storage import SENT, CannotWrite, SentForm, Store

ONCE, AGAIN = "once", "again"


def note_sent(request: Request, form: Mapping[str, str]) -> None:
    """Let the writes of a request know the form that it brought, where that is one to be kept once."""
    if ONCE not in form:
        return
    fields = {name: text for name, text in form.items() if name != AGAIN}
    now = request.app.state.context.now()
    sent = SentForm.of(request.url.path, fields, at=now, again=AGAIN in form)
    SENT.set(sent)
    request.state.sent = sent


class WhereItLed:
    """Keeps with a form the page that it led to."""

    def __init__(self, app: ASGIApp, store: Store) -> None:
        self.app = app
        self.store = store

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, and note where its form led."""
        if scope["type"] != "http" or scope["method"] != "POST":
            await self.app(scope, receive, send)
            return
        state = scope.setdefault("state", {})

        async def send_noted(message: Message) -> None:
            sent: SentForm | None = state.get("sent")
            if message["type"] == "http.response.start" and sent is not None and sent.kept:
                path = Headers(raw=message["headers"]).get("location")
                with suppress(CannotWrite):
                    await run_in_threadpool(self.store.led_to, sent, path or "")
            await send(message)

        await self.app(scope, receive, send_noted)
