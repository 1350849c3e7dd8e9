"""A photo that comes with a form: read while it stands in a line of its own, kept, and its id put into the form.

What is wrong with it stands at the form's field, while all that was typed goes on.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Annotated

from fastapi import Depends, Request
from starlette.concurrency import run_in_threadpool

from app.errors import Fault, Invalid
from app.orders.quoting.form import PHOTO
from app.services import pictures
from app.services.picture_making import Made
from app.storage import Stamp
from app.web.kit.context import (
    RequestContext,
    WithFile,
    get_context,
    get_shop,
    get_typed_with_file,
    get_who,
)
from app.web.kit.line import PICTURED
from app.web.kit.visitor import visitor_of


async def get_brought(
    request: Request, sent: Annotated[WithFile, Depends(get_typed_with_file)]
) -> dict[str, str]:
    """Return a posted form; where a photo came with it and is kept, with its id."""
    if sent.content is None:
        return sent.typed
    async with PICTURED.place():
        read = await run_in_threadpool(_read, sent.content)
    if isinstance(read, Fault):
        request.state.refused_photo = replace(read, path=PHOTO)
        return sent.typed
    id = await run_in_threadpool(_keep, request, read)
    return {**sent.typed, PHOTO: id}


WithPhoto = Annotated[dict[str, str], Depends(get_brought)]
"""The fields of a form with which a photo may come."""


def _read(content: bytes) -> Made | Fault:
    try:
        return pictures.read(content)
    except Invalid as invalid:
        return invalid.faults[0]


def _keep(request: Request, made: Made) -> str:
    context = get_context(request)
    who = get_who(request, get_shop(request)) or visitor_of(request).phone
    return pictures.keep(context.store, made, by=Stamp(who=who, now=context.now())).id


def refused(here: RequestContext) -> tuple[Fault, ...]:
    """Return what is wrong with the photo that came; nothing where none came or it is kept."""
    fault: Fault | None = getattr(here.request.state, "refused_photo", None)
    return () if fault is None else (fault,)


def only_photo(faults: Iterable[Fault]) -> bool:
    """Tell whether nothing but the photo is wrong."""
    return all(fault.path == PHOTO for fault in faults)
