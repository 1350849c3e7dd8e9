"""Routes of the first run: set the shop up, or move into the sample shop."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import RedirectResponse, Response

from app.errors import Invalid
from app.forms.reader import faults_while_typing
from app.services import sample
from app.services import shop as shops
from app.web.kit.context import ONCE_ONLY, Ctx, Doing, TypedForm
from app.web.kit.templating import render, see
from app.web.settings.first_run_page import UNTOUCHED, first_run_page, read_first_run

router = APIRouter()

PAGE = "pages/settings/first_run.html"


@router.get("/welcome", response_class=HTMLResponse)
def welcome(request: Request, ctx: Ctx) -> Response:
    """Ask the questions of the first run; lead to the desk where they are answered."""
    if shops.exists(ctx.store):
        return RedirectResponse("/", status_code=303)
    return render(request, PAGE, first_run_page(UNTOUCHED))


@router.post("/welcome")
def set_up(request: Request, ctx: Ctx, act: Doing, form: TypedForm, live: str = "") -> Response:
    """Set the shop up from the answers, or tell what its amounts are the other way."""
    if live or form.get("action") == "recalculate":
        faults = faults_while_typing(lambda: read_first_run(form), form)
        return render(request, PAGE, first_run_page(form, faults))
    try:
        shops.set_up(ctx.store, read_first_run(form), act)
    except Invalid as invalid:
        return render(request, PAGE, first_run_page(form, invalid.faults), 422)
    return see("/materials/start", "Your shop is set up. Next come the materials that you sell.")


@router.post("/welcome/sample", dependencies=[ONCE_ONLY])
def move_into_sample(ctx: Ctx, act: Doing) -> Response:
    """Fill the empty shop with the invented one."""
    from seed_demo.build import build_demo  # noqa: PLC0415 - the shop never needs the sample

    sample.move_in(ctx.store, build_demo, act)
    return see("/", "This is a sample shop, all invented. Delete it whenever you like in Settings.")
