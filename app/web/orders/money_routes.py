"""Routes of an order's money: what is received, given back and taken off."""

from fastapi import APIRouter
from starlette.responses import Response

from app.errors import Invalid
from app.money import show_money
from app.orders import EntryKind
from app.services import orders, payments, reductions
from app.services.order_transaction import OrderAt, account_now
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.orders import form as forms
from app.web.orders.show import act_on, at_version, only_asks, order_of, tell

router = APIRouter(prefix="/orders/{order_id}")


@router.post("/entries")
def add_entry(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Write down money that was received or given back."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    known = order_of(here, order_id)

    def act() -> str:
        payment = payments.Payment(**forms.PAYMENT.read(form, known))
        return _keep_entry(here, at_version(order_id, form), payment)

    return act_on(here, order_id, form, act)


def _keep_entry(here: RequestContext, at: OrderAt, payment: payments.Payment) -> str:
    """Write an entry down and say which. Raises: Invalid at the form's fields."""
    amount = show_money(payment.amount)
    try:
        if payment.kind is EntryKind.REFUND:
            payments.refund(here.store, at, payment, here.act)
            return f"{amount} given back is recorded."
        payments.add_payment(here.store, at, payment, here.act)
    except Invalid as invalid:
        raise invalid.under("payment") from invalid
    return f"{amount} received is recorded."


@router.post("/entries/{entry_id}/correct")
def correct_entry(here: Here, form: TypedForm, order_id: Id, entry_id: Id) -> Response:
    """Write a contrary entry for one that was a mistake."""

    def act() -> str:
        payments.correct_entry(here.store, at_version(order_id, form), entry_id, here.act)
        return "Corrected by a contrary entry."

    return act_on(here, order_id, form, act)


@router.post("/reductions")
def reduce(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Take an amount off as goodwill, so that the order comes to less from now on."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    known = order_of(here, order_id)

    def act() -> str:
        goodwill = reductions.Goodwill(**forms.GOODWILL.read(form, known))
        try:
            reductions.reduce(here.store, at_version(order_id, form), goodwill, here.act)
        except Invalid as invalid:
            raise invalid.under("goodwill") from invalid
        return f"{show_money(goodwill.amount)} is taken off.{_to_return(here, order_id)}"

    return act_on(here, order_id, form, act)


@router.post("/reductions/{reduction_id}/undo")
def undo_reduction(here: Here, form: TypedForm, order_id: Id, reduction_id: Id) -> Response:
    """Write a contrary entry for a reduction that was a mistake."""

    def act() -> str:
        reductions.undo(here.store, at_version(order_id, form), reduction_id, here.act)
        return "Undone by a contrary entry."

    return act_on(here, order_id, form, act)


def _to_return(here: RequestContext, order_id: int) -> str:
    """Say how much is to be returned, where more was received than the order now comes to."""
    balance = account_now(orders.get(here.store, order_id)).balance
    if balance.minor >= 0:
        return ""
    return f" {show_money(-balance)} is to refund; record it when it is given back."
