"""Turns errors into answers: one JSON shape for programs, pages for people.

Faults of an input become 422, what is not there 404, colliding changes 409, a full disk 507, a file that was taken
away 410, what this machine lacks or a file that refuses 503. Everything else is a bug:
it is logged with its traceback and the answer shows only a reference number.
"""

import logging
import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.responses import Response

from app.counting import counted
from app.documents.kit.pdf import PdfUnavailable, Unending
from app.errors import AppError, Busy, Conflict, Fault, Invalid, NotFound
from app.forms.table import Typed
from app.storage import (
    CannotWrite,
    DiskFull,
    NotInPlace,
    OnlyLookedAt,
    PutBack,
    SentBefore,
    is_full,
)
from app.web.kit import log_file
from app.web.kit.access import FacingCustomer, NotForVisitor
from app.web.kit.context import NotSetUp
from app.web.kit.facing import ASIDE
from app.web.kit.guard import HEADERS
from app.web.kit.malformed import fault_of
from app.web.kit.sent_once import KEYS, ONCE, AnsweredBefore, new_key
from app.web.kit.templating import render_error, see
from app.web.kit.visitor import AtTheComputer, visitor_of

log = logging.getLogger("bevelbook.web")

STATUS: dict[type[AppError], int] = {
    Invalid: 422,
    NotFound: 404,
    NotForVisitor: 403,
    FacingCustomer: 403,
    Conflict: 409,
    NotSetUp: 409,
    PdfUnavailable: 503,
    Unending: 409,
    Busy: 503,
    DiskFull: 507,
    NotInPlace: 410,
    CannotWrite: 503,
    SentBefore: 409,
    PutBack: 409,
    AtTheComputer: 403,
    OnlyLookedAt: 403,
}
"""The first that an error is counts."""

OWN_PAGES: dict[type[AppError], str] = {
    NotForVisitor: NotForVisitor.code,
    FacingCustomer: FacingCustomer.code,
    PdfUnavailable: "pdf-unavailable",
    Unending: "unending",
    DiskFull: "disk-full",
    NotInPlace: "not-in-place",
    CannotWrite: "cannot-write",
    SentBefore: "sent-before",
    PutBack: PutBack.code,
    AtTheComputer: "at-the-computer",
    OnlyLookedAt: "only-looked-at",
    Busy: "busy",
}
"""Pages of errors of which the one of their status would say something else."""


AGAIN = (CannotWrite, SentBefore, Busy)
"""Whose pages offer to send the same form again."""

_NOT_TYPED = KEYS | {"version", "action"}

NOT_NOW = "That could not be done just now, and nothing was saved. Turn the screen back and do it again to see why."
"""Said to a customer in place of which file of this computer is in the way."""

MOST_FAULTS = 100
"""So many faults of a request are told one by one; of more it is told how many there are. Source: ours."""


def status_of(error: AppError) -> int:
    """Return the HTTP status that answers an error of ours."""
    return next((code for kind, code in STATUS.items() if isinstance(error, kind)), 400)


def headers_of(error: AppError) -> dict[str, str]:
    """Return what the head of an answer says besides: when to ask again. Source: RFC 9110, 10.2.3."""
    return {"retry-after": str(error.again)} if isinstance(error, Busy) else {}


def error_json(error: AppError) -> JSONResponse:
    """Write an error in the one shape of the contract; of very many faults the first."""
    error = _first_of(error)
    faults = error.faults if isinstance(error, Invalid) else ()
    fields = [{"path": f.path, "message": f.message, "code": f.code} for f in faults]
    content = {"error": {"code": error.code, "message": error.message, "fields": fields}}
    return JSONResponse(content, status_code=status_of(error), headers=headers_of(error))


def _first_of(error: AppError) -> AppError:
    """Return an error with as many faults as are told, and how many more there are."""
    if not isinstance(error, Invalid) or len(error.faults) <= MOST_FAULTS:
        return error
    return Invalid((*error.faults[:MOST_FAULTS], _more(len(error.faults) - MOST_FAULTS)))


def _more(count: int) -> Fault:
    said = f"The request has {counted(count, 'more fault')}; mend these first and send it again."
    return Fault(path="", message=said, code="more-faults")


def _wants_json(request: Request) -> bool:
    return request.url.path.startswith("/api/")


async def on_app_error(request: Request, error: Exception) -> Response:
    """Answer an error that is meant for a person and that no page kept for itself."""
    assert isinstance(error, AppError)
    if _wants_json(request):
        return error_json(error)
    if isinstance(error, NotSetUp):
        return RedirectResponse("/welcome", status_code=303)
    answer = render_error(
        request,
        status_of(error),
        NOT_NOW if _beside(request) and isinstance(error, CannotWrite) else error.message,
        own=next((page for kind, page in OWN_PAGES.items() if isinstance(error, kind)), ""),
        again=await _shown_again(request, error),
        leads_to=error.led_to if isinstance(error, SentBefore) else "",
    )
    answer.headers.update(headers_of(error))
    return answer


def _beside(request: Request) -> bool:
    return visitor_of(request).beside_customer


def _open_to_sight(
    request: Request, typed: Sequence[tuple[str, str]]
) -> tuple[tuple[str, str], ...]:
    """Return the fields of a form to be sent again; beside a customer only of one that was shown to them, since any other may hold codes and notes."""
    shown = not _beside(request) or any(name == ASIDE for name, _ in typed)
    return tuple(typed) if shown else ()


async def _shown_again(request: Request, error: AppError) -> tuple[tuple[str, str], ...]:
    """Return the fields of a form that its page keeps: to be sent again, or what was typed, to be read."""
    if isinstance(error, AGAIN):
        return await _typed_again(request, error)
    if not isinstance(error, PutBack):
        return ()
    return tuple(
        (name.replace(".", ", ").replace("_", " "), text)
        for name, text in await _typed_again(request, error)
        if text.strip() and name not in _NOT_TYPED
    )


async def _typed_again(request: Request, error: AppError) -> tuple[tuple[str, str], ...]:
    """Return every field of a form that could not be kept, to be sent again; none where it holds a file.

    With its own key, but for one that was sent before: that is a further one then.
    """
    if request.method != "POST":
        return ()
    try:
        typed = (await request.form()).multi_items()
    except RuntimeError:  # the disk was full while it came in, and it is read once only
        return ()
    fields = tuple((name, value) for name, value in typed if isinstance(value, str))
    if len(fields) != len(typed):
        return ()
    fields = _open_to_sight(request, fields)
    if not fields or not isinstance(error, SentBefore):
        return fields
    return (*((name, value) for name, value in fields if name != ONCE), (ONCE, new_key()))


async def on_answered_before(_request: Request, error: Exception) -> Response:
    """Answer a form that was sent before as it was answered the first time."""
    assert isinstance(error, AnsweredBefore)
    return see(error.answer.location, error.answer.notice)


async def on_system_error(request: Request, error: Exception) -> Response:
    """Answer that there is no room left. Raises: any other error of the system, which is a bug."""
    if not is_full(error):
        raise error
    log.error("no room left: %s %s", request.method, request.url.path, exc_info=error)
    file = getattr(error, "filename", None)
    return await on_app_error(request, DiskFull(Path(file) if isinstance(file, str) else None))


async def on_unreadable(request: Request, error: Exception) -> Response:
    """Answer a request that does not fit its model, in the one shape."""
    assert isinstance(error, RequestValidationError)
    if any(_names_nothing(item) for item in error.errors()):
        return await on_http_error(request, HTTPException(404))
    body, found = _body_of(request), error.errors()
    faults = [fault_of(item, body) for item in found[:MOST_FAULTS]]
    if len(found) > MOST_FAULTS:
        faults.append(_more(len(found) - MOST_FAULTS))
    return await on_app_error(request, Invalid(faults))


_OUT_OF_BOUNDS = {"greater_than_equal", "less_than_equal", "int_parsing_size"}


def _names_nothing(item: Mapping[str, Any]) -> bool:
    """Tell whether a part of an address can be no number of anything: of its path, or a number that nothing can bear."""
    where = item["loc"][0]
    return where == "path" or (where == "query" and item["type"] in _OUT_OF_BOUNDS)


def _body_of(request: Request) -> type[BaseModel] | None:
    """Return the model by which the body of a request is read."""
    body = getattr(request.scope.get("route"), "body_field", None)
    model = body.field_info.annotation if body is not None else None
    return model if isinstance(model, type) and issubclass(model, BaseModel) else None


async def on_http_error(request: Request, error: Exception) -> Response:
    """Answer a path or a method that does not exist."""
    assert isinstance(error, HTTPException)
    if error.status_code == 400 and _wants_json(request):
        in_parts = request.headers.get("content-type", "").startswith("multipart/form-data")
        what = "a form in parts that can be read" if in_parts else "readable JSON in UTF-8"
        return error_json(Invalid.at("", f"The request is not {what}."))
    sentence = {
        404: "There is nothing at this address.",
        405: "This address does not take that kind of request.",
        408: "What was sent did not come whole in time; send it again.",
        413: "What was sent is too large; at most 2 MB are read, and a photo of up to 25 MB.",
    }.get(error.status_code, str(error.detail))
    if _wants_json(request):
        content = {"error": {"code": "http", "message": sentence, "fields": []}}
        return JSONResponse(content, status_code=error.status_code)
    return render_error(request, error.status_code, sentence)


async def on_bug(request: Request, error: Exception) -> Response:
    """Answer a bug: the traceback goes to the log, and the page shows where to find it."""
    if is_full(error):
        return _guarded(await on_system_error(request, error))
    reference = secrets.token_hex(4)
    log.error("reference %s: %s %s", reference, request.method, request.url.path, exc_info=error)
    file = None if _beside(request) else log_file.kept_at()
    sentence = (
        f"Something went wrong in the app itself. Reference {reference} is in its log"
        f"{f', {file}' if file else ''}."
    )
    answer: Response
    if _wants_json(request):
        content = {"error": {"code": "bug", "message": sentence, "fields": []}}
        answer = JSONResponse(content, status_code=500)
    else:
        # What came in is read by then: this request is another one, of the same state.
        typed = getattr(request.state, "typed", ()) if request.method == "POST" else ()
        again = _open_to_sight(request, typed)
        answer = render_error(request, 500, sentence, reference=reference, again=again)
    return _guarded(answer)


def _guarded(answer: Response) -> Response:
    """Give an answer its headers that is made outside the guard, which gives them to all others."""
    answer.headers.update(HEADERS)
    return answer


async def on_gone(_request: Request, _error: Exception) -> Response:
    """Answer a browser that took its request back while sending it, as it does with every further key."""
    return Response(status_code=400)


def install(app: FastAPI) -> None:
    """Install the handlers of errors in the app."""
    app.add_exception_handler(AppError, on_app_error)
    app.add_exception_handler(RequestValidationError, on_unreadable)
    app.add_exception_handler(HTTPException, on_http_error)
    app.add_exception_handler(AnsweredBefore, on_answered_before)
    app.add_exception_handler(OSError, on_system_error)
    app.add_exception_handler(ClientDisconnect, on_gone)
    app.add_exception_handler(Exception, on_bug)


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusedAct:
    """An act that was not carried out. typed: all of its form, to be shown again."""

    typed: Typed
    faults: tuple[Fault, ...]
    status: int
