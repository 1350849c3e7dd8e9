"""Routes of phones at the bench: turned on and off, paired by a code, revoked. For this computer alone."""

from typing import Annotated

from anyio import from_thread
from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Invalid
from app.services import phones
from app.settings import DEFAULT_PORT
from app.web.door.workshop import Workshop
from app.web.kit.context import ONCE_ONLY, Here, Id, TypedForm
from app.web.kit.templating import render, see
from app.web.kit.visitor import AtTheComputer, Role, visitor_of
from app.web.settings import workshop_page as page_of

PATH = "/settings/workshop"


def get_workshop(request: Request) -> Workshop:
    """Return the way of phones. Raises: AtTheComputer for a phone."""
    if not visitor_of(request).at_own_machine:
        raise AtTheComputer
    workshop: Workshop = request.app.state.workshop
    return workshop


Way = Annotated[Workshop, Depends(get_workshop)]

router = APIRouter(prefix=PATH)


@router.get("")
def show(here: Here, workshop: Way) -> HTMLResponse:
    """Show whether phones reach the app, where, and which."""
    typed = page_of.begun_with(workshop.access, DEFAULT_PORT)
    return render(
        here,
        "pages/settings/workshop.html",
        page_of.workshop_page(workshop, typed, here.context.now()),
    )


@router.post("/on")
def turn_on(here: Here, workshop: Way, form: TypedForm) -> Response:
    """Let phones reach the app, or let them reach it elsewhere."""
    try:
        address, port = page_of.read_place(form)
    except Invalid as invalid:
        typed = page_of.begun_with(workshop.access, DEFAULT_PORT) | form
        page = page_of.workshop_page(workshop, typed, here.context.now(), invalid.faults)
        return render(here, "pages/settings/workshop.html", page, 422)
    phones.turn_on(here.store, address, port)
    from_thread.run(workshop.settle)
    if workshop.url is None:
        return see(PATH)  # the page says at its top why not
    return see(PATH, f"Phones reach Bevelbook at {workshop.url}.")


@router.post("/off", dependencies=[ONCE_ONLY])
def turn_off(here: Here, workshop: Way) -> Response:
    """Close the way."""
    phones.turn_off(here.store)
    from_thread.run(workshop.settle)
    return see(PATH, "No phone reaches Bevelbook any more.")


@router.post("/code")
def make_code(here: Here, workshop: Way, form: TypedForm) -> Response:
    """Give out a code, in the place of the one before."""
    if workshop.url is None:
        raise Conflict("Phones do not reach Bevelbook now, so none can be paired.")
    role = Role.OFFICE if form.get("role") == Role.OFFICE else Role.BENCH
    workshop.pairing.make(role, here.context.now())
    return see(f"{PATH}#code")


@router.post("/phones/{phone_id}/revoke", dependencies=[ONCE_ONLY])
def revoke(here: Here, workshop: Way, phone_id: Id) -> Response:
    """Put a phone out for good."""
    name = phones.revoke(here.store, phone_id)
    return see(PATH, f"{name} is revoked.")
