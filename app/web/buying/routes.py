"""Routes of buying: show what is short, make orders of it, list the orders to suppliers."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.errors import Conflict, Fault, Invalid, NotFound
from app.services import buying, shortages
from app.web.buying import page as page_of
from app.web.buying.form import read_chosen
from app.web.kit.context import Here, RequestContext, TypedForm
from app.web.kit.fields import Fields
from app.web.kit.templating import render, see

router = APIRouter(prefix="/buying")


@router.get("")
def show_short(here: Here) -> HTMLResponse:
    """Show what is short, by supplier."""
    return _short(here, {}, ())


@router.post("")
def make_orders(here: Here, form: TypedForm) -> Response:
    """Put what is ticked on drafts, one for each supplier."""
    try:
        made = buying.make_orders(here.store, read_chosen(form, here.shop), here.act)
    except Invalid as invalid:
        return _short(here, form, invalid.faults)
    except NotFound as gone:
        return _short(here, form, (Fault(path="", message=gone.message),))
    except Conflict as moved:
        return _short(here, form, (Fault(path="", message=moved.message, code=moved.code),), 409)
    if len(made) == 1:
        return see(f"{page_of.ORDERS}/{made[0]}", "The draft is made; look at it and send it.")
    drafts = counted(len(made), "draft is", "drafts are")
    return see(f"{page_of.ORDERS}?stage=draft", f"{drafts} made; look at them and send them.")


def _short(
    here: RequestContext, typed: dict[str, str], faults: tuple[Fault, ...], refused: int = 422
) -> HTMLResponse:
    short = shortages.what_to_buy(here.store)
    typed, faults = page_of.renumbered(short, typed, faults)
    groups, more = page_of.groups_of(short, typed, faults)
    page = page_of.ShortPage(
        faults=faults,
        views=page_of.views("/buying"),
        groups=groups,
        supplier=Fields(typed, faults).field(
            "supplier", "Order these from", hint="The price book names no supplier for them."
        ),
        more=more,
        tally=page_of.tally_of(short),
        gone=page_of.gone_words(short.not_in_book),
    )
    return render(here, "pages/buying/short.html", page, refused if faults else 200)


@router.get("/orders")
def show_orders(here: Here) -> HTMLResponse:
    """Show the orders to suppliers, the newest first."""
    wanted = page_of.SupplierOrderQuery.read(here.request.query_params)
    listed = wanted.part(lambda part: buying.listed(here.store, wanted.stages, part))
    chips = wanted.chips(buying.stage_counts(here.store))
    page = page_of.OrdersPage(
        views=page_of.views(page_of.ORDERS),
        listing=wanted.listing(listed, listed.rows, chips=(chips,)),
    )
    return render(here, "pages/buying/orders.html", page)
