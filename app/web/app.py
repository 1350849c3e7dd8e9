"""Puts the app together: guard, handlers, static files, JSON and pages."""

import asyncio
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager, suppress
from datetime import datetime
from functools import cache

from fastapi import APIRouter, FastAPI
from starlette.responses import Response
from starlette.routing import BaseRoute
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from app import __version__
from app.files import STATIC
from app.services.backups import Keeper
from app.services.cutting_runs import PlanRuns
from app.services.plan_drafts import PlanDrafts
from app.storage import Store
from app.web.api import cutting, day, dimensions, photo, price
from app.web.bench import routes as bench
from app.web.bench import together_routes as together
from app.web.buying import routes as buying
from app.web.buying import supplier_order_routes as supplier_orders
from app.web.customers import removing
from app.web.customers import routes as customers
from app.web.desk import routes as desk
from app.web.docs import routes as docs
from app.web.door.doorkeeper import Doorkeeper
from app.web.door.own_machine import OwnMachine
from app.web.door.workshop import Workshop
from app.web.handbook import routes as handbook
from app.web.kit import days_routes as days
from app.web.kit import errors as faults
from app.web.kit import facing_routes as facing
from app.web.kit import stylesheet
from app.web.kit import who_routes as who
from app.web.kit.admission import Admission
from app.web.kit.body_limit import BodyLimit
from app.web.kit.context import AppContext, Clock, LookedAt, ReachedAt
from app.web.kit.guard import Guard
from app.web.kit.head import HeadAsGet
from app.web.kit.only_looking import NothingChanges
from app.web.kit.sent_once import WhereItLed
from app.web.lines import routes as lines
from app.web.looking import Looking
from app.web.materials import price_file_routes as price_file
from app.web.materials import price_rises_routes as price_rises
from app.web.materials import routes as materials
from app.web.orders import delete_routes as deleting
from app.web.orders import designs_routes as designs
from app.web.orders import handing_over as receipts
from app.web.orders import invoices_routes as invoices
from app.web.orders import list_routes as order_lists
from app.web.orders import money_routes as order_money
from app.web.orders import routes as orders
from app.web.orders import target_routes as targets
from app.web.papers import printing
from app.web.papers import routes as documents
from app.web.papers import window_file_routes as window_files
from app.web.pictures import routes as pictures
from app.web.plans import bench_routes as plan_bench
from app.web.plans import routes as plans
from app.web.quotes import routes as quotes
from app.web.quotes import split
from app.web.rest import fold_at_rest, keep_copies, let_pictures_go
from app.web.search import routes as searching
from app.web.settings import clock_routes as clock
from app.web.settings import copies_routes as copies
from app.web.settings import cutters_routes as cutters
from app.web.settings import first_run_routes as first_run
from app.web.settings import routes as settings
from app.web.settings import test_cut_routes as test_cut
from app.web.settings import workshop_routes as workshop_settings
from app.web.stock import change_routes as stock_changes
from app.web.stock import count_routes as stock_count
from app.web.stock import label_routes as stock_labels
from app.web.stock import routes as stock
from app.web.wall import routes as walls

LARGEST_BODY = 2 * 1024 * 1024
LARGEST_WITH_FILE = 64 * 1024 * 1024
"""Of a form with a photo. One that is too large is to be refused beside its field, so more is read than is taken."""

JSON = (dimensions.router, day.router, cutting.router, price.router, photo.router)

PAGES = (
    desk.router,
    searching.router,
    order_lists.router,
    handbook.router,
    quotes.router,
    lines.router,
    split.router,
    orders.router,
    order_money.router,
    designs.router,
    targets.router,
    deleting.router,
    receipts.receipts,
    invoices.router,
    invoices.issuing,
    documents.router,
    printing.router,
    bench.router,
    together.router,
    window_files.router,
    pictures.router,
    walls.router,
    customers.router,
    customers.giving,
    removing.router,
    price_rises.router,
    price_file.router,
    materials.router,
    stock.router,
    stock_changes.router,
    stock_count.router,
    stock_labels.router,
    plans.router,
    plan_bench.router,
    buying.router,
    supplier_orders.router,
    cutters.router,
    test_cut.router,
    workshop_settings.router,
    clock.router,
    copies.router,
    settings.router,
    first_run.router,
    who.router,
    facing.router,
    days.router,
    docs.router,
)


class LastingFiles(StaticFiles):
    """Static files whose address changes with their content, so that browsers may keep them."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """Answer with the file, to be kept for a year where its address carries a version."""
        response = await super().get_response(path, scope)
        if scope["query_string"].startswith(b"v="):
            response.headers["cache-control"] = "public, max-age=31536000, immutable"
        return response


def local_now() -> datetime:
    """Return the time in the shop's time zone."""
    return datetime.now().astimezone()


@asynccontextmanager
async def _while_it_runs(app: FastAPI) -> AsyncIterator[None]:
    """See to what is to be done beside requests; when the app ends, give up what is being made and looked at."""
    context: AppContext = app.state.context
    workshop: Workshop = app.state.workshop
    looking: Looking = app.state.looking
    looking.take_away_what_was_left()
    beside = [
        asyncio.create_task(fold_at_rest(context.store)),
        asyncio.create_task(workshop.keep()),
    ]
    if context.looked_at is None:
        beside.append(asyncio.create_task(let_pictures_go(context.store, context.now)))
    if app.state.keeps_copies:
        beside.append(asyncio.create_task(keep_copies(context.keeper, context.now)))
    yield
    await looking.end()
    for task in beside:
        task.cancel()
        with suppress(asyncio.CancelledError):
            await task
    await workshop.close()
    context.drafts.close()
    context.prints.close()


@cache
def _routes() -> tuple[BaseRoute, ...]:
    """Return the routes, which every app of the process shares: to find out what each asks for takes a tenth of a second."""
    every = APIRouter()
    every.include_router(stylesheet.router)
    every.mount("/static", LastingFiles(directory=STATIC), name="static")
    for router in JSON:
        every.include_router(router)
    for router in PAGES:
        every.include_router(router, include_in_schema=False)
    return tuple(every.routes)


def create_app(
    store: Store,
    *,
    now: Clock = local_now,
    hosts: Iterable[str] = (),
    runs: PlanRuns | None = None,
    own: OwnMachine | None = None,
    workshop: Workshop | None = None,
    phone_url: str | None = None,
    keeps_copies: bool = False,
    readies_papers: bool = False,
    looked_at: LookedAt | None = None,
) -> FastAPI:
    """Build the whole app on one store.

    hosts: further host names by which it may be called. runs: makes its cutting plans. own: who sits at this machine; None
    asks nobody who reaches it there. workshop: how phones reach it, if not in the usual way. phone_url: the
    address at which they do, where something else sees to that; papers bear a QR code where there is one. keeps_copies:
    whether copies of the data are made by themselves. readies_papers: whether pages that lead to a paper have the printing
    ready for it. looked_at: where the store is a copy that nothing is changed in.
    """
    workshop = workshop or Workshop(store, hosts=hosts)
    app = FastAPI(
        lifespan=_while_it_runs,
        title="Bevelbook",
        version=__version__,
        description="Everything that the pages work out, as JSON. Lengths are exact text.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
    )
    app.state.context = AppContext(
        store=store,
        now=now,
        drafts=PlanDrafts(runs or PlanRuns()),
        reach=ReachedAt(url=phone_url) if phone_url else workshop,
        keeper=Keeper(store),
        readies_papers=readies_papers,
        looked_at=looked_at,
    )
    app.state.keeps_copies = keeps_copies
    app.state.looking = Looking(
        store.path.parent, lambda copy, shown: create_app(copy, now=now, looked_at=shown, own=own)
    )
    app.state.own = own
    app.state.workshop = workshop
    workshop.leads_to(app)
    faults.install(app)
    app.router.routes.extend(_routes())
    app.add_middleware(Admission)
    app.add_middleware(WhereItLed, store=store)
    app.add_middleware(HeadAsGet)
    app.add_middleware(BodyLimit, limit=LARGEST_BODY, with_file=LARGEST_WITH_FILE)
    if looked_at is not None:
        app.add_middleware(NothingChanges, sentence=looked_at.sentence)
    doorkeeper = Doorkeeper(workshop, own, now)
    app.add_middleware(Guard, hosts=tuple(hosts), doorkeeper=doorkeeper)
    return app
