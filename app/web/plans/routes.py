"""Routes of cutting plans: list them, and ask for, watch, look at and keep a new one."""

from typing import Annotated

from fastapi import APIRouter, Path
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Busy, Conflict, Fault, Invalid, NotFound
from app.forms.reader import whole_number
from app.services import plans
from app.services.cutting import solver_version
from app.services.open_work import WorkFilter, open_work
from app.services.plan_drafts import Draft
from app.services.run_state import RunState
from app.web.kit.context import ONCE_ONLY, Here, RequestContext, TypedForm
from app.web.kit.errors import headers_of, status_of
from app.web.kit.line import WORKED_OUT, in_line
from app.web.kit.templating import ErrorPage, render, render_part, see, wants_part
from app.web.plans import making_page as making
from app.web.plans import page as page_of
from app.web.plans.form import fault_of_due, read_due, read_wish
from app.web.plans.page import Choosing

router = APIRouter(prefix="/plans")

HEADING = "New cutting plan"

ALL_OR_NONE = ("pieces.all", "pieces.none", "materials.all", "materials.none")
"""What the buttons over the lists of a new plan do."""

DraftId = Annotated[str, Path(pattern=r"^[0-9a-f]{16}$")]
"""Of a plan that is being made; a well-formed one may be gone, any other never was."""


@router.get("")
def show_list(here: Here) -> HTMLResponse:
    """Show every plan, the newest first."""
    wanted = page_of.PlanQuery.read(here.request.query_params)
    listed = wanted.part(lambda part: plans.listed(here.store, wanted.stages, part))
    rows = page_of.plan_rows(listed.rows)
    page = page_of.PlansPage(listing=wanted.listing(listed, rows, chips=(wanted.chips(),)))
    return render(here, "pages/plans/list.html", page)


@router.get("/new")
def ask(here: Here) -> HTMLResponse:
    """Show what is still to be cut, to choose from. piece, due: what the address narrows it to."""
    return _asking(here, None, ())


@router.post("/new", dependencies=[in_line(WORKED_OUT)])
def start(here: Here, form: TypedForm) -> Response:
    """Begin to plan what was chosen. action: "pieces.none" and the like tick boxes of the form, which is shown again."""
    work = open_work(here.store, _narrowed(here))
    if (action := form.get("action", "")) in ALL_OR_NONE:
        choosing = Choosing(work=work, shop=here.shop, today=here.today, typed=form)
        what, _, how = action.partition(".")
        return _asking(here, choosing.choosing(what, ticked=how == "all"), ())
    try:
        wish = read_wish(form, work, here.shop)
        draft = here.context.drafts.start(here.store, wish)
    except Invalid as invalid:
        return _asking(here, form, invalid.faults)
    except Busy as busy:
        return _later(_asking(here, form, (Fault(path="", message=busy.message),)), busy)
    return see(f"/plans/making/{draft}")


def _asking(
    here: RequestContext, typed: dict[str, str] | None, faults: tuple[Fault, ...], status: int = 422
) -> HTMLResponse:
    wanted = _narrowed(here)
    due = here.request.query_params.get("due", "")
    calendar = here.shop.calendar(here.today)
    work = open_work(here.store, wanted)
    choosing = Choosing(work=work, shop=here.shop, today=here.today, typed=typed, faults=faults)
    unread = fault_of_due(due, calendar, listed=bool(choosing.listed))
    page = page_of.NewPlanPage(
        title=HEADING,
        faults=faults,
        due=page_of.due_field(due.strip(), calendar, unread),
        due_by=wanted.due_by,
        pieces=choosing.pieces(),
        more=len(choosing.plannable) - len(choosing.listed),
        materials=choosing.materials(),
        planning=choosing.planning(),
        troubled=work.troubled,
        parts_in_all=len(work.parts),
        by_simple_rule=not solver_version(),
    )
    return render(here, "pages/plans/new.html", page, status if faults or unread else 200)


def _narrowed(here: RequestContext) -> WorkFilter:
    """Return the filter that the address asks for; what cannot be read there is left out."""
    query = here.request.query_params
    piece = whole_number(query.get("piece", ""), digits=15)
    return WorkFilter(
        pieces=None if piece is None else frozenset({piece}),
        due_by=read_due(query.get("due", ""), here.shop.calendar(here.today)),
    )


@router.get("/making/{draft_id}")
def watch(here: Here, draft_id: DraftId) -> HTMLResponse:
    """Show how far a plan is; once it is done, what was found."""
    try:
        draft = here.context.drafts.look(draft_id)
    except NotFound as gone:
        return _gone(here, gone)
    return _watching(here, draft) if not draft.plans else _found(here, draft)


@router.post("/making/{draft_id}/stop", dependencies=[ONCE_ONLY])
def stop(here: Here, draft_id: DraftId) -> Response:
    """Stop planning; what was found so far is dropped."""
    try:
        here.context.drafts.stop(draft_id)
    except NotFound as gone:
        return _gone(here, gone)
    return see(f"/plans/making/{draft_id}")


@router.post("/making/{draft_id}/longer", dependencies=[ONCE_ONLY])
def longer(here: Here, draft_id: DraftId) -> Response:
    """Plan the same anew with more time."""
    drafts = here.context.drafts
    try:
        return see(f"/plans/making/{drafts.longer(here.store, draft_id)}")
    except NotFound as gone:
        return _gone(here, gone)
    except Invalid as refused:
        return _found(here, drafts.look(draft_id), refused.message)
    except Busy as busy:
        return _later(_found(here, drafts.look(draft_id), busy.message), busy)


@router.post("/making/{draft_id}/discard", dependencies=[ONCE_ONLY])
def discard(here: Here, draft_id: DraftId) -> Response:
    """Forget what was found."""
    here.context.drafts.discard(draft_id)
    return see("/plans", "The plan was discarded; nothing was stored.")


@router.post("/making/{draft_id}/keep", dependencies=[ONCE_ONLY])
def keep(here: Here, draft_id: DraftId) -> Response:
    """Keep what was found: from now on its parts are planned and its stock is reserved."""
    drafts = here.context.drafts
    try:
        plan_id = drafts.keep(here.store, draft_id, here.act)
    except NotFound as gone:
        return _gone(here, gone)
    except (Conflict, Invalid) as refused:
        draft = drafts.look(draft_id)
        if not draft.plans:
            return _watching(here, draft)
        return _found(here, draft, refused.message)
    number = plans.get(here.store, plan_id).number
    return see(
        f"/plans/{plan_id}", f"{number} is saved. Its parts are planned, its stock is reserved."
    )


def _watching(here: RequestContext, draft: Draft) -> HTMLResponse:
    progress = draft.progress
    page = making.MakingPage(
        id=draft.id,
        done=progress.done,
        of=progress.of,
        now=progress.name,
        watching=progress.state is RunState.RUNNING,
        sentence=making.SENTENCES[progress.state],
    )
    if wants_part(here):
        return render_part("pages/plans/_making.html", page)
    return render(here, "pages/plans/making.html", page)


def _found(here: RequestContext, draft: Draft, refused: str = "") -> HTMLResponse:
    faults = (Fault(path="", message=refused),) if refused else ()
    page = making.found_page(draft, here.shop, faults)
    return render(here, "pages/plans/found.html", page, 409 if refused else 200)


def _later(page: HTMLResponse, busy: Busy) -> HTMLResponse:
    """Return a page that keeps what was asked for, and says when to ask again."""
    page.status_code = status_of(busy)
    page.headers.update(headers_of(busy))
    return page


def _gone(here: RequestContext, gone: NotFound) -> HTMLResponse:
    page = ErrorPage(
        title="This plan is not here",
        section="Stock",
        message=gone.message,
    )
    return render(here, "pages/plans/gone.html", page, 404)
