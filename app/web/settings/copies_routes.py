"""Routes of the copies of the data: the page they are listed on, and what is done with one of them."""

from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, Depends
from fastapi.responses import HTMLResponse
from starlette.concurrency import run_in_threadpool
from starlette.responses import FileResponse, Response

from app.errors import Conflict, Fault, Invalid
from app.forms.table import Typed
from app.services import backups
from app.services.backups import KeptCopy
from app.storage import Copies
from app.web.kit.context import ONCE_ONLY, Here, RequestContext, TypedForm
from app.web.kit.fields import Fields
from app.web.kit.templating import render, see
from app.web.looking import Looking
from app.web.settings import copies_page as page_of
from app.web.settings.page import nav_sections

router = APIRouter(prefix="/settings/data")


def _at_own_machine(here: Here) -> RequestContext:
    if not here.visitor.at_own_machine:
        raise Conflict("That is done at the computer itself, on which the data are.")
    return here


HereAlone = Annotated[RequestContext, Depends(_at_own_machine)]
"""The context of a request by who sits at the computer itself. Raises: Conflict for anybody else."""


@router.get("")
def show_data(here: Here) -> HTMLResponse:
    """Show where the data are, their copies, and the button that removes the sample."""
    second = Copies(here.store.path).second
    return _show(here, {"second_folder": str(second) if second else ""})


@router.post("/backup", dependencies=[ONCE_ONLY])
def give_backup(here: HereAlone) -> Response:
    """Make a checked copy of everything, keep it in the folder of backups and give it as a file."""
    copy = backups.make(here.store, here.act)
    return _as_file(copy)


@router.post("/second-folder")
def use_second_folder(here: HereAlone, form: TypedForm) -> Response:
    """Put copies into a second folder from now on, or into none."""
    try:
        folder = Copies(here.store.path).use_second(form.get("second_folder", ""))
    except Invalid as invalid:
        return _show(here, form, invalid.faults)
    here.context.keeper.forget()
    if folder is None:
        return see(page_of.ADDRESS, "Saved. Copies are kept on this machine alone.")
    return see(
        page_of.ADDRESS,
        "Saved. The copies are put there now; the list says of each when it is there.",
    )


@router.get("/copies/{name}")
def give_copy(here: HereAlone, name: str) -> Response:
    """Give a copy as a file."""
    return _as_file(backups.named(here.store, name).best.path)


@router.post("/copies/{name}/see", dependencies=[ONCE_ONLY])
async def see_copy(here: HereAlone, name: str) -> Response:
    """Open a copy beside, to be looked at."""
    kept, copies = await run_in_threadpool(_found, here, name)
    back = str(here.request.base_url).rstrip("/") + page_of.ADDRESS
    await _looking(here).begin(kept.best.path, page_of.when(kept, copies), back)
    return see(page_of.ADDRESS)


@router.post("/looking/end", dependencies=[ONCE_ONLY])
async def end_looking(here: HereAlone) -> Response:
    """End looking at a copy."""
    await _looking(here).end()
    return see(page_of.ADDRESS, "The copy is closed.")


@router.get("/copies/{name}/restore")
def ask_to_restore(here: HereAlone, name: str) -> HTMLResponse:
    """Show what would be lost by putting a copy in the place of the data."""
    kept, copies = _found(here, name)
    lost = page_of.lines_of(backups.would_be_lost(here.store, kept))
    page = page_of.RestorePage(copy=page_of.row(kept, copies), lost=lost)
    return render(here, "pages/settings/restore.html", page)


@router.post("/copies/{name}/restore", dependencies=[ONCE_ONLY])
def restore(here: HereAlone, name: str) -> Response:
    """Put a copy in the place of the data, which are kept as a copy themselves."""
    kept, copies = _found(here, name)
    made = page_of.when(kept, copies)
    backups.restore(here.store, kept, here.act)
    here.context.drafts.forget()
    return see(
        page_of.ADDRESS,
        f"The shop stands as on {made}. What it was before is kept as a copy.",
    )


def _show(here: RequestContext, typed: Typed, faults: tuple[Fault, ...] = ()) -> HTMLResponse:
    copies = backups.listed(here.store)
    state = here.context.keeper.state
    make = Fields(typed, faults)
    page = page_of.DataPage(
        faults=faults,
        nav_sections=nav_sections("data"),
        path_of_data=here.store.path,
        folder=backups.folder_of(here.store),
        sample=here.shop.sample,
        copies=page_of.rows(copies),
        looked_at=_looking(here).shown,
        back=page_of.newest_before_restore(copies),
        second=make.field(
            "second_folder",
            "Second folder",
            hint="a stick, another disk, a folder that is synced elsewhere; blank for none",
        ),
        away=state.away if state is not None else None,
        troubles=page_of.troubles_of(state),
        here_only=here.visitor.at_own_machine,
    )
    return render(here, "pages/settings/data.html", page, 422 if faults else 200)


def _found(here: RequestContext, name: str) -> tuple[KeptCopy, tuple[KeptCopy, ...]]:
    """Return the copy of a name, and all that there are. Raises: NotFound."""
    copies = backups.listed(here.store)
    return backups.named_in(copies, name), copies


def _looking(here: RequestContext) -> Looking:
    looking: Looking = here.request.app.state.looking
    return looking


def _as_file(copy: Path) -> Response:
    return FileResponse(copy, filename=copy.name, headers={"cache-control": "no-store"})
