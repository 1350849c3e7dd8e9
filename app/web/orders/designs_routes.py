"""Routes of the designs of a piece: compared at the counter, taken, taken instead, left open, removed (P10)."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.money import show_money
from app.orders import design_letter
from app.services import designs, orders
from app.services.order_transaction import piece_of
from app.web.kit.context import LARGEST_ID, Here, Id, TypedForm
from app.web.kit.templating import render
from app.web.orders.designs_page import DoneSoFar, compare_page, take_instead_page
from app.web.orders.show import act_on, at_version, planned_now, stands_now
from app.web.orders.show_page import show_page
from app.web.pieces.place import on_order

router = APIRouter(prefix="/orders/{order_id}/pieces/{number}")


@router.get("/designs")
def compare(
    here: Here,
    order_id: Id,
    number: Id,
    wanted: Annotated[tuple[int, ...], Query(alias="of", max_length=50)] = (),
) -> HTMLResponse:
    """Show designs of a piece beside each other, as the customer may see them; all where none is named."""
    order = orders.get(here.store, order_id)
    page = compare_page(order, piece_of(order, number), here.shop, wanted)
    return render(here, "pages/orders/designs.html", page)


@router.get("/show")
def show(
    here: Here,
    order_id: Id,
    number: Id,
    design: Annotated[int | None, Query(ge=1, le=LARGEST_ID)] = None,
) -> HTMLResponse:
    """Show the designs of a piece on the whole screen, or one of them alone. Raises: NotFound."""
    order = orders.get(here.store, order_id)
    page = show_page(
        order, piece_of(order, number), here.shop, design, back=on_order(order_id, number)
    )
    return render(here, "pages/orders/large.html", page)


@router.get("/designs/{design}/take")
def look_first(here: Here, order_id: Id, number: Id, design: Id) -> HTMLResponse:
    """Show what taking another design of an ordered piece changes. Raises: Conflict where it cannot be."""
    order = orders.get(here.store, order_id)
    piece = piece_of(order, number)
    designs.check_takeable(piece)
    done = DoneSoFar(
        stands=stands_now(here, piece), planned=planned_now(here, [piece])[piece.number]
    )
    page = take_instead_page(order, number, design, here.shop, done)
    return render(here, "pages/orders/take_instead.html", page)


@router.post("/designs/{design}/take")
def take(here: Here, form: TypedForm, order_id: Id, number: Id, design: Id) -> Response:
    """Take a design, also instead of another one."""

    def act() -> str:
        chosen = designs.take(here.store, at_version(order_id, form), number, design, here.act)
        price = show_money(chosen.agreed.price.to_pay)
        return f"Design {chosen.counted.letter} of piece {number} is chosen, at {price}."

    return act_on(here, order_id, form, act, on_order(order_id, number))


@router.post("/designs/leave-open")
def leave_open(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Take none of the designs, after all."""

    def act() -> str:
        designs.leave_open(here.store, at_version(order_id, form), number, here.act)
        return f"The design of piece {number} is open again."

    return act_on(here, order_id, form, act, on_order(order_id, number))


@router.post("/designs/{design}/remove")
def remove(here: Here, form: TypedForm, order_id: Id, number: Id, design: Id) -> Response:
    """Take a design that is not taken off its piece."""

    def act() -> str:
        designs.remove(here.store, at_version(order_id, form), number, design, here.act)
        return f"Design {design_letter(design)} of piece {number} is deleted."

    return act_on(here, order_id, form, act, on_order(order_id, number))
