"""Routes of one order to a supplier: its page, and every act on it."""

from collections.abc import Callable
from functools import partial

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.documents.order_sheet import order_sheet_pdf
from app.errors import Conflict, Fault, Invalid
from app.forms.table import Typed, values_in
from app.services import buying, deliveries, stock
from app.services.buying import SupplierOrderAt
from app.stock.buying.supplier_orders import SupplierOrder, SupplierStage
from app.storage import Stale
from app.web.buying import supplier_order_page as page_of
from app.web.buying.form import (
    ADDED,
    DELIVERY,
    HEAD,
    draft_line,
    draft_typed,
    faults_at_fields,
    read_came,
    read_draft,
    read_taken_costs,
)
from app.web.buying.order_file import write_order
from app.web.buying.page import ORDERS, views
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.errors import RefusedAct
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import render, see
from app.web.papers.printing import printed

router = APIRouter(prefix=f"{ORDERS}/{{order_id}}")


NOTHING_REFUSED = RefusedAct(typed={}, faults=(), status=200)


def _show(
    here: RequestContext, order_id: int, refused: RefusedAct = NOTHING_REFUSED
) -> HTMLResponse:
    """Show the page as things stand now; a form that was refused keeps what was typed, and says why."""
    order = buying.get(here.store, order_id)
    typed, faults = refused.typed, refused.faults
    begun = {**HEAD.typed(values_in(order), here.shop), ADDED.at["quantity"].path: "1"}
    make = Fields({**begun, **typed}, faults)
    page = page_of.SupplierOrderPage(
        title=f"{order.number} {order.supplier}",
        faults=faults,
        views=views(ORDERS),
        id=order.id,
        version=order.version,
        number=order.number,
        supplier=order.supplier,
        stage=order.stage,
        made_on=order.made_on,
        sent_on=order.sent_on,
        order_note=order.note,
        lines=page_of.line_rows(order, here.shop, typed, faults),
        total=order.total,
        paid=order.paid,
        waits=page_of.waits_words(order),
        head=FormView(HEAD, here.shop, make),
        added=FormView(ADDED, here.shop, make),
        delivery=FormView(DELIVERY, here.shop, make),
        record=page_of.record_of(order),
        differing=len(deliveries.costs_received(here.store, order_id)),
    )
    return render(here, "pages/buying/order.html", page, refused.status)


def _act(
    here: RequestContext, order_id: int, form: Typed, act: Callable[[SupplierOrderAt], str]
) -> Response:
    """Do something to an order and say what was done; where it cannot be done its page says why."""
    try:
        said = act(SupplierOrderAt(id=order_id, version=read_version(form)))
    except Invalid as invalid:
        faults = faults_at_fields(invalid.faults) if "came.note" in form else invalid.faults
        return _show(here, order_id, RefusedAct(typed=form, faults=faults, status=422))
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return _show(here, order_id, RefusedAct(typed=form, faults=(fault,), status=409))
    return see(f"{ORDERS}/{order_id}", said)


@router.get("")
def show(here: Here, order_id: Id) -> HTMLResponse:
    """Show the order."""
    return _show(here, order_id)


@router.post("")
def keep(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Keep a draft as it was typed, with the material that is put on it; at the button that sends it, send it then."""
    order = buying.get(here.store, order_id)
    if form.get("action") == "edit":
        return _show(here, order_id, RefusedAct(typed=form, faults=(), status=200))
    if order.stage is SupplierStage.DRAFT and order.version != read_version(form):
        return _two_versions(here, order, form)

    def act(at: SupplierOrderAt) -> str:
        order = buying.get(here.store, order_id)
        edit = read_draft(form, order, here.shop, lambda text: _meant(here, text))
        buying.edit_draft(here.store, at, edit, here.act)
        if edit.added is not None:
            return f"The draft is saved, with {edit.added.material} on it."
        if form.get("action") != "send":
            return "The draft is saved."
        buying.send(here.store, SupplierOrderAt(id=at.id, version=at.version + 1), here.act)
        return f"{order.number} is sent: what is on it is on order now."

    return _act(here, order_id, form, act)


def _meant(here: RequestContext, text: str) -> str:
    """Return the code of the material that is to be put on a draft. Raises: Invalid at "add.material"."""
    try:
        return stock.meant(here.store, text).material.code
    except Invalid as invalid:
        raise invalid.under("add") from invalid


def _two_versions(here: RequestContext, order: SupplierOrder, form: Typed) -> HTMLResponse:
    """Show a draft as it is kept beside what was typed over an older version of it."""
    return two_versions(
        here,
        Stale(f"Order {order.number}", order),
        draft_typed(order, here.shop),
        form,
        lambda make: (
            FormView(HEAD, here.shop, make),
            (
                *(FormView(draft_line(line), here.shop, make) for line in order.lines),
                FormView(ADDED, here.shop, make),
            ),
        ),
        title="Two versions",
        section="Stock",
        action=f"{ORDERS}/{order.id}",
    )


@router.post("/drop")
def drop(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Give a draft up."""

    def act(at: SupplierOrderAt) -> str:
        buying.drop(here.store, at, here.act)
        return "The draft is deleted."

    return _act(here, order_id, form, act)


@router.post("/came")
def receive(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Take in what came."""

    def act(at: SupplierOrderAt) -> str:
        order = buying.get(here.store, order_id)
        came, note = read_came(form, order, here.shop)
        after = deliveries.receive(here.store, at, came, here.act, note=note)
        return f"Taken in. {_closed(after)}"

    return _act(here, order_id, form, act)


@router.post("/deliveries/{delivery_id}/take-back")
def take_back(here: Here, form: TypedForm, order_id: Id, delivery_id: Id) -> Response:
    """Write a contrary entry for one that was a mistake, on the rack too."""

    def act(at: SupplierOrderAt) -> str:
        deliveries.take_back(here.store, at, delivery_id, here.act)
        return "The entry is undone, here and on the rack."

    return _act(here, order_id, form, act)


@router.post("/close")
def close(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Close an order, so that nothing more is awaited."""

    def act(at: SupplierOrderAt) -> str:
        left = buying.close(here.store, at, here.act)
        never = counted(left, "never came", "never came") if left else "All of it had come"
        return f"The order is closed. {never}."

    return _act(here, order_id, form, act)


@router.post("/await")
def await_again(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Open a closed order again."""

    def act(at: SupplierOrderAt) -> str:
        buying.await_again(here.store, at, here.act)
        return "The order is open again."

    return _act(here, order_id, form, act)


@router.get("/sheet.pdf")
def sheet(here: Here, order_id: Id, costs: str = "") -> Response:
    """Give the order on paper, for the supplier."""
    order = buying.get(here.store, order_id)
    make = partial(order_sheet_pdf, order, here.shop, paper=here.shop.paper, costs=costs == "1")
    return printed(here, make, f"{order.number}.pdf")


@router.get("/order.csv")
def file(here: Here, order_id: Id, costs: str = "") -> Response:
    """Give the order as a file."""
    order = buying.get(here.store, order_id)
    return Response(
        # The mark at the start is how spreadsheets know UTF-8.
        "\ufeff" + write_order(order, here.shop, costs=costs == "1"),
        media_type="text/csv; charset=utf-8",
        headers={
            "content-disposition": f'attachment; filename="{order.number}.csv"',
            "cache-control": "no-store",
        },
    )


@router.get("/costs")
def show_costs(here: Here, order_id: Id) -> HTMLResponse:
    """Show what was paid and is not what the price book says."""
    return _costs(here, order_id, {}, (), 200)


@router.post("/costs")
def take_costs(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Take the costs that are ticked into the price book."""
    try:
        count = deliveries.take_costs(here.store, order_id, read_taken_costs(form), here.act)
    except Invalid as invalid:
        return _costs(here, order_id, form, invalid.faults, 422)
    except Conflict as conflict:
        return _costs(here, order_id, form, (Fault(path="", message=conflict.message),), 409)
    words = counted(count, "cost is", "costs are")
    return see(f"{ORDERS}/{order_id}", f"{words} in the price book. Quotes keep the old prices.")


def _costs(
    here: RequestContext, order_id: int, typed: Typed, faults: tuple[Fault, ...], status: int
) -> HTMLResponse:
    order = buying.get(here.store, order_id)
    page = page_of.CostsPage(
        title=f"Costs of {order.number}",
        faults=faults,
        number=order.number,
        href=f"{ORDERS}/{order_id}",
        rows=page_of.cost_rows(deliveries.costs_received(here.store, order_id), here.shop, typed),
    )
    return render(here, "pages/buying/costs.html", page, status)


def _closed(order: SupplierOrder) -> str:
    """Say after a delivery what is still to come, or that the order is closed."""
    if order.stage is SupplierStage.CLOSED:
        return "All of it has come; the order is closed."
    return page_of.waits_words(order)
