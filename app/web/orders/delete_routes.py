"""Routes by which a quote is deleted: what that means is shown first, then it is one act."""

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.responses import Response

from app.errors import Conflict, Fault
from app.services import deleted_quotes, orders
from app.web.kit.context import Here, Id, TypedForm
from app.web.kit.errors import RefusedAct
from app.web.kit.templating import Page, render
from app.web.orders.show import act_on, at_version, show_order

router = APIRouter(prefix="/orders/{order_id}")


@dataclass(frozen=True, slots=True, kw_only=True)
class DeleteQuotePage(Page):
    """What is asked before a quote is deleted. titles: of all that stands on it."""

    id: int
    version: str
    number: str
    customer: str
    titles: tuple[str, ...]


@router.get("/delete")
def ask_to_delete(here: Here, order_id: Id) -> Response:
    """Show what deleting the quote means, before it is done."""
    order = orders.get(here.store, order_id)
    try:
        deleted_quotes.check_may_be_deleted(here.store, order)
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return show_order(here, order_id, RefusedAct(typed={}, faults=(fault,), status=409))
    titles = [piece.artwork.title or f"Piece {piece.number}" for piece in order.counting]
    page = DeleteQuotePage(
        title=f"Delete {order.number}",
        section="Quotes",
        id=order_id,
        version=str(order.version),
        number=order.number,
        customer=order.customer_name,
        titles=(*titles, *(line.agreed.what for line in order.lines if line.counts)),
    )
    return render(here, "pages/orders/delete.html", page)


@router.post("/delete")
def delete(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Delete the quote; a second time it is deleted already."""

    def act() -> str:
        number = deleted_quotes.delete_quote(here.store, at_version(order_id, form), here.act)
        return f"Quote {number} is deleted. Its number is not given again."

    return act_on(here, order_id, form, act)
