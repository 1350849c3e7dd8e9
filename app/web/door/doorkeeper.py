"""Knows who is let in, and lets phones in by a code."""

import asyncio
import logging
from collections.abc import Collection
from datetime import datetime
from urllib.parse import parse_qs

from starlette.concurrency import run_in_threadpool
from starlette.requests import HTTPConnection, Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from app.errors import AppError, Invalid, NotFound
from app.services import phones
from app.storage import Phone, Stamp
from app.web.door.answers import OwnPage, PairPage, page, refused
from app.web.door.own_machine import LASTING, OwnMachine
from app.web.door.pairing import Code, Paused, WrongCode
from app.web.door.workshop import Workshop
from app.web.kit.cleaning import cleaned
from app.web.kit.context import Clock
from app.web.kit.facing import beside
from app.web.kit.guard import from_network
from app.web.kit.visitor import OWNER, Role, Visitor, noted
from app.web.kit.who_routes import page_of_ours

PAIR = "/pair"

_LARGEST, _PATIENCE = 4096, 10.0
"""Bytes of a form that are read of whoever is not let in, and seconds that are waited for them. Source: ours."""

NOT_PAIRED = "Only phones that were paired are answered here."
NOT_OURS = (
    "Only the user who started Bevelbook is answered here. Send the word that stands behind ?enter= in "
    "the address that it printed at its start as “Authorization: Bearer”."
)

log = logging.getLogger("bevelbook.phones")


class AtOwnMachine:
    """Lets in who sits at this machine, and nobody else. own: None asks nobody."""

    def __init__(self, own: OwnMachine | None) -> None:
        self._own = own

    @property
    def names(self) -> Collection[str]:
        """The host names by which phones may call the app: none."""
        return ()

    def met(self, scope: Scope) -> ASGIApp | None:
        """Note who asks; return what answers instead of the app where nobody is let in."""
        if self._own is not None:
            if entering := self._own.entering(scope):
                return entering
            if not self._own.lets_in(scope):
                return refused(scope, "own", OwnPage(), NOT_OURS)
        noted(scope, beside(scope, OWNER))
        return None


class Doorkeeper(AtOwnMachine):
    """Lets in who sits at this machine, and phones that were paired. own: None asks nobody on this machine."""

    def __init__(self, workshop: Workshop, own: OwnMachine | None, now: Clock) -> None:
        super().__init__(own)
        self._workshop = workshop
        self._now = now
        self._noting: set[asyncio.Task[None]] = set()

    @property
    def names(self) -> Collection[str]:
        """The host names by which phones may call the app."""
        return self._workshop.names

    def met(self, scope: Scope) -> ASGIApp | None:
        """Note who asks; return what answers instead of the app where nobody is let in."""
        return self._from_network(scope) if from_network(scope) else super().met(scope)

    def _from_network(self, scope: Scope) -> ASGIApp | None:
        phone = self._phone(scope)
        if phone is not None:
            self._note_seen(phone)
            noted(scope, beside(scope, Visitor(role=role_of(phone.role), phone=phone.name)))
            return RedirectResponse("/", status_code=303) if scope["path"] == PAIR else None
        if scope["path"] == PAIR and scope["method"] in ("GET", "HEAD"):
            code = Request(scope).query_params.get("code", "")
            return page("pair", PairPage(code=code[:12]), 200)
        if scope["path"] == PAIR and scope["method"] == "POST":
            return self._pair
        query = scope["query_string"].decode("latin-1")
        asked = scope["path"] + (f"?{query}" if query else "")
        leads_to = page_of_ours(asked) if scope["method"] in ("GET", "HEAD") else "/"
        return refused(scope, "pair", PairPage(leads_to=leads_to), NOT_PAIRED)

    @property
    def _cookie(self) -> str:
        return f"bevelbook_phone_{self._workshop.instance}"

    def _phone(self, scope: Scope) -> Phone | None:
        token = HTTPConnection(scope).cookies.get(self._cookie)
        if not token:
            return None
        try:
            access = self._workshop.access
        except Exception:  # who cannot be looked up is not let in, and gets no page of the shop
            log.exception("a phone cannot be looked up")
            return None
        return access.phone_of(token) if access.is_on else None

    def _note_seen(self, phone: Phone) -> None:
        now = self._now()
        if self._workshop.seen(phone, now):
            task = asyncio.create_task(self._write_seen(phone, now))
            self._noting.add(task)
            task.add_done_callback(self._noting.discard)

    async def _write_seen(self, phone: Phone, now: datetime) -> None:
        try:
            await run_in_threadpool(phones.seen, self._workshop.store, phone.id, now)
        except AppError as error:
            log.warning("when the phone %r was seen is not kept: %s", phone.name, error)

    async def _pair(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer the form of a phone that is to be paired."""
        typed = await _typed(receive)
        asked = PairPage(
            code=typed.get("code", "")[:12],
            name=cleaned(typed.get("name", "")).strip()[: phones.LONGEST_NAME],
            leads_to=page_of_ours(typed.get("next", "")),
        )
        client = scope.get("client")
        address = client[0] if client else ""
        try:
            token = await self._paired(asked, address)
        except Exception as error:
            answer = _not_paired(asked, _told(error))
        else:
            log.info("the phone %r was paired from %s", asked.name, address)
            answer = RedirectResponse(asked.leads_to, status_code=303)
            # Lax: the address on a paper is opened by a phone's camera, which is not our page.
            answer.set_cookie(self._cookie, token, max_age=LASTING, httponly=True, samesite="lax")
        await answer(scope, receive, send)

    async def _paired(self, asked: PairPage, address: str) -> str:
        """Return the token of a phone that was paired. Raises: Invalid, WrongCode, Paused, CannotWrite."""
        if not asked.name:
            phones.check_name(phones.Access(), asked.name)
        code = self._taken(asked.code, address)
        act = Stamp(who="", now=self._now())
        store, name, role = self._workshop.store, asked.name, code.role.value
        try:
            return await run_in_threadpool(phones.pair, store, name, role, act)
        except Exception:
            self._workshop.pairing.give_back(code)
            raise

    def _taken(self, typed: str, address: str) -> Code:
        try:
            return self._workshop.pairing.take(typed, address)
        except WrongCode:
            log.warning("a wrong pairing code was typed at %s", address)
            raise
        except Paused as paused:
            log.warning("no pairing code of %s is looked at for %s s", address, paused.seconds)
            raise


def role_of(word: str) -> Role:
    """Return the role that a word of the data means; of one that nobody knows, the one that sees least."""
    return Role(word) if word in set(Role) else Role.BENCH


class NotKept(AppError):
    """The pairing could not be written down, for a reason that is told at the computer alone."""

    code = "not-kept"

    def __init__(self) -> None:
        super().__init__(
            "This phone could not be paired: something is wrong at the computer, where its pages or its log "
            "say what. Mend it there, then send this again."
        )


def _told(error: Exception) -> AppError:
    """Return what whoever is not let in may know of an error: of the computer and its files nothing."""
    if isinstance(error, (Invalid, NotFound, WrongCode, Paused)):
        return error
    log.error("a phone could not be paired", exc_info=error)
    return NotKept()


def _not_paired(asked: PairPage, error: AppError) -> Response:
    said = error.faults[0].message if isinstance(error, Invalid) else error.message
    again = PairPage(code=asked.code, name=asked.name, leads_to=asked.leads_to, fault=said)
    if isinstance(error, WrongCode):
        again = PairPage(name=asked.name, leads_to=asked.leads_to, fault=said)
    status = {Paused: 429, NotKept: 503}.get(type(error), 422)
    answer = page("pair", again, status)
    if isinstance(error, Paused):
        answer.headers["retry-after"] = str(error.seconds)
    return answer


async def _typed(receive: Receive) -> dict[str, str]:
    """Read a short form, of which no more is read than it can be; blank where it is something else."""
    body = b""
    try:
        async with asyncio.timeout(_PATIENCE):
            while len(body) <= _LARGEST:
                message = await receive()
                body += message.get("body", b"")
                if not message.get("more_body"):
                    break
        if len(body) > _LARGEST:
            return {}
        fields = parse_qs(body.decode("utf-8", "replace"), max_num_fields=10)
    except (TimeoutError, ValueError):
        return {}
    return {name: values[-1] for name, values in fields.items()}
