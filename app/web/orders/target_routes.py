"""The route of a target price: told while it is typed, met as an act of its own."""

from dataclasses import replace

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.money import show_money
from app.services import target_price
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.errors import RefusedAct
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import render_part
from app.web.orders.form import OfOrder
from app.web.orders.show import act_on, at_version, only_asks, order_of, show_order
from app.web.orders.target import (
    TARGET,
    TargetPart,
    TargetView,
    asked_below_cost,
    met_in,
    read_target,
    target_view,
)

router = APIRouter(prefix="/orders/{order_id}")


@router.post("/target")
def target(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Tell what a target price leaves, or meet it by a discount on the record."""
    known = order_of(here, order_id)
    if only_asks(form, live):
        return _tell(here, known, form, live)

    question = asked_below_cost(form, known)
    if question is not None:
        told = replace(_told(here, known, form), asked_below=form["target.amount"])
        return show_order(
            here, order_id, RefusedAct(typed=form, faults=(question,), status=422), told
        )

    def act() -> str:
        amount, reason = read_target(form, known)
        try:
            met = target_price.meet(
                here.store, at_version(order_id, form), amount, reason, here.act
            )
        except Invalid as invalid:
            raise invalid.under("target") from invalid
        return f"{show_money(met.off)} is taken off; the quote comes to {show_money(met.asked)}."

    return act_on(here, order_id, form, act)


def _tell(here: RequestContext, known: OfOrder, form: Typed, live: str) -> HTMLResponse:
    faults: tuple[Fault, ...] = ()
    told = None
    try:
        told = _told(here, known, form)
    except Invalid as invalid:
        faults = invalid.faults
    if not live:
        asked = RefusedAct(typed=form, faults=faults, status=422 if faults else 200)
        return show_order(here, known.order.id, asked, told)
    typing = tuple(fault for fault in faults if form.get(fault.path, "").strip())
    page = TargetPart(form=FormView(TARGET, known, Fields(form, typing)), target=told)
    return render_part("pages/orders/target.html", page)


def _told(here: RequestContext, known: OfOrder, form: Typed) -> TargetView:
    met = met_in(form, known)
    choices = target_price.cheaper_choices(
        here.store, known.order, met.asked, here.shop, today=here.today
    )
    several = len(known.order.counting) > 1
    return target_view(known.order.id, met, choices, several=several)
