"""A form that writes is kept once, however often it is sent: pressed twice, or sent again after Back.

Such a form holds the hidden field `once` (the macro `forms.once`), a key that is another one each time the form is
shown. Sent a second time with the same fields it is answered as the first time; with others it asks, where what it
would write has no version that tells. The key says as well of which life of the data its page is: one that was opened before
they were put back writes nothing.
"""

import asyncio
import secrets
from collections.abc import Mapping
from contextlib import suppress
from contextvars import ContextVar
from http.cookies import SimpleCookie
from urllib.parse import unquote

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.storage import FIRST_LIFE, SENT, Answer, CannotWrite, Machine, PutBack, SentForm, Store

ONCE, AGAIN = "once", "again"
"""The field of the key; and the one by which a page that was made before forms bore keys said that it is meant twice."""

LIFE = "life"
"""The field of the life of the data in a form that bears no key."""

KEYS = frozenset({ONCE, AGAIN, LIFE})
"""Fields that are of the page, and nothing that was typed."""

_LIFE: ContextVar[str] = ContextVar(
    "the life of the data at the start of the request", default=FIRST_LIFE
)

NOTICE_COOKIE = "bevelbook_notice"
"""What the next page says once, and the address of the paper of which that speaks in a second line."""

LOOK = 0.02
"""Seconds between two looks whether the same form is answered by now. Source: ours."""


def new_key() -> str:
    """Return a key that no other form bears."""
    return f"{life_shown()}.{secrets.token_urlsafe(16)}"


def life_shown() -> str:
    """Return the life of the data of which the page is that is shown."""
    return _LIFE.get()


def _life_of(form: Mapping[str, str]) -> str:
    """Return the life of the data of which the page of a form was; "" for one that was made before forms told."""
    life, dot, _ = form.get(ONCE, "").rpartition(".")
    return life if dot else form.get(LIFE, "")


class AnsweredBefore(Exception):
    """The very same form was sent before. answer: where it led."""

    def __init__(self, answer: Answer) -> None:
        super().__init__("sent before")
        self.answer = answer


async def note_sent(request: Request, form: Mapping[str, str]) -> None:
    """Let the writes of a request know the form that it brought, where that is one to be kept once.

    While the same one is under way, wait for its answer. Raises: AnsweredBefore; PutBack.
    """
    context = request.app.state.context
    life = _life_of(form)

    def check_life() -> None:
        if life and life != Machine(context.store.path).life:
            raise PutBack

    if ONCE not in form or request.headers.get("x-partial") == "1" or "sent" in request.state:
        if LIFE in form:
            check_life()
        return
    path = f"{request.url.path}?{request.url.query}"
    fields = {name: text for name, text in form.items() if name not in KEYS}
    sent = SentForm.of(form[ONCE], path, fields, at=context.now())
    sent.again = AGAIN in form and not sent.has_key
    sent.check_life = check_life
    under_way: set[str] = request.state.under_way
    while sent.key in under_way:
        await asyncio.sleep(LOOK)
    under_way.add(sent.key)
    request.state.sent = sent
    answer = await run_in_threadpool(context.store.answer_to, sent)
    if answer is not None:
        raise AnsweredBefore(answer)
    check_life()
    SENT.set(sent)


class WhereItLed:
    """Keeps with a form the page that it led to. What was refused in the end may be sent again."""

    def __init__(self, app: ASGIApp, store: Store) -> None:
        self.app = app
        self.store = store
        self._under_way: set[str] = set()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, and note where its form led."""
        if scope["type"] == "http":
            _LIFE.set(Machine(self.store.path).life)
        if scope["type"] != "http" or scope["method"] != "POST":
            await self.app(scope, receive, send)
            return
        state = scope.setdefault("state", {})
        state["under_way"] = self._under_way

        async def send_noted(message: Message) -> None:
            sent: SentForm | None = state.get("sent")
            if message["type"] == "http.response.start" and sent is not None and sent.kept:
                with suppress(CannotWrite):
                    await run_in_threadpool(self._note, sent, message)
            await send(message)

        try:
            await self.app(scope, receive, send_noted)
        finally:
            if (sent := state.get("sent")) is not None:
                self._under_way.discard(sent.key)

    def _note(self, sent: SentForm, answer: Message) -> None:
        headers = Headers(raw=answer["headers"])
        if answer["status"] == 303:
            notice = _notice_of(headers)
            self.store.answered(sent, Answer(location=headers["location"], notice=notice))
        else:
            self.store.refused(sent)


def _notice_of(headers: Headers) -> str:
    """Return the notice that an answer sets for the next page, "" where there is none."""
    for cookies in headers.getlist("set-cookie"):
        if (cookie := SimpleCookie(cookies).get(NOTICE_COOKIE)) is not None:
            return unquote(cookie.value)
    return ""
