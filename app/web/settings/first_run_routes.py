"""Routes of the first run: set the shop up, or move into the sample shop."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import RedirectResponse, Response

from app.errors import Conflict, Invalid, NotFound
from app.forms.reader import faults_while_typing
from app.services import backups, sample
from app.services import shop as shops
from app.web.kit.context import ONCE_ONLY, AppContext, Ctx, Doing, TypedForm
from app.web.kit.templating import render, see
from app.web.settings.copies_page import CopyRow, rows, when
from app.web.settings.first_run_page import UNTOUCHED, first_run_page, read_first_run

router = APIRouter()

PAGE = "pages/settings/first_run.html"


@router.get("/welcome", response_class=HTMLResponse)
def welcome(request: Request, ctx: Ctx) -> Response:
    """Ask the questions of the first run; lead to the desk where they are answered."""
    if shops.exists(ctx.store):
        return RedirectResponse("/", status_code=303)
    return render(request, PAGE, first_run_page(UNTOUCHED, left=_left(ctx)))


@router.post("/welcome")
def set_up(request: Request, ctx: Ctx, act: Doing, form: TypedForm, live: str = "") -> Response:
    """Set the shop up from the answers, or tell what its amounts are the other way."""
    if live or form.get("action") == "recalculate":
        faults = faults_while_typing(lambda: read_first_run(form), form)
        return render(request, PAGE, first_run_page(form, faults, left=_left(ctx)))
    try:
        shops.set_up(ctx.store, read_first_run(form), act)
    except Invalid as invalid:
        return render(request, PAGE, first_run_page(form, invalid.faults, left=_left(ctx)), 422)
    return see("/materials/start", "Your shop is set up. Next come the materials that you sell.")


@router.post("/welcome/restore", dependencies=[ONCE_ONLY])
def restore_newest(ctx: Ctx, act: Doing) -> Response:
    """Put the newest whole copy in the place of a shop that is not there. Raises: Conflict where one is; NotFound."""
    if shops.exists(ctx.store):
        raise Conflict("There is a shop already; its copies are under Settings, Data.")
    newest = backups.newest_whole(ctx.store.path, ctx.now())
    if newest is None:
        raise NotFound("There is no copy that is whole.")
    backups.restore(ctx.store, newest, act)
    ctx.drafts.forget()
    return see("/", f"The shop stands as on {when(newest)}.")


def _left(ctx: AppContext) -> CopyRow | None:
    """Return the newest copy that lies in the folder of a shop that is not there."""
    copies = rows(backups.listed(ctx.store))
    return next((copy for copy in copies if copy.usable), None)


@router.post("/welcome/sample", dependencies=[ONCE_ONLY])
def move_into_sample(ctx: Ctx, act: Doing) -> Response:
    """Fill the empty shop with the invented one."""
    from seed_demo.build import build_demo  # noqa: PLC0415 - the shop never needs the sample

    sample.move_in(ctx.store, build_demo, act)
    return see("/", "This is a sample shop, all invented. Delete it whenever you like in Settings.")
