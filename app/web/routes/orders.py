"""The page of a quote or order, and every act on it."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Invalid, quoted
from app.money import Money
from app.orders import EntryKind, Method, Stage
from app.services import customers, orders, payments, progress
from app.services.changing import OrderAt
from app.web.context import Here, TypedForm, Visit
from app.web.forms.reading import Reader
from app.web.pages import order as page_of
from app.web.reading import read_day, read_version
from app.web.templating import chrome, render, see

router = APIRouter(prefix="/orders/{order_id}")

Typed = dict[str, str]


def show_order(
    here: Visit,
    order_id: int,
    *,
    typed: Typed | None = None,
    invalid: Invalid | None = None,
) -> HTMLResponse:
    """The page; with what was typed in one of its forms and the faults of it."""
    order = orders.get(here.store, order_id)
    faults = invalid.faults if invalid else ()
    page = page_of.OrderPage(
        title=f"{order.number} {order.customer_name}",
        section="Orders" if order.order_number else "Quotes",
        wide=True,
        faults=faults,
        customer=customers.get(here.store, order.customer_id).value,
        **page_of.order_fields(order, here.today),
        **page_of.form_fields(order, here.shop, here.today, typed or {}, faults),
        **chrome(here.request, here.shop),
    )
    return render("pages/orders/show.html", page, 422 if faults else 200)


@router.get("")
def show(here: Here, order_id: int) -> HTMLResponse:
    """The quote or order."""
    return show_order(here, order_id)


@router.post("/take")
def take(here: Here, form: TypedForm, order_id: int) -> Response:
    """The customer takes the quote: number, date, deposit in one."""
    read = Reader(form, here.shop.unit, here.shop.currency)
    terms = progress.Terms(
        due=read_day(form, "due", read.faults),
        deposit=read.money("deposit", Money.zero(here.shop.currency)) or None,
        method=read.choice("method", Method, Method.CASH),
    )
    try:
        read.faults.finish()
        number = progress.take_order(here.store, _at(order_id, form), terms, here.act)
    except Invalid as invalid:
        return show_order(here, order_id, typed=form, invalid=invalid)
    return see(f"/orders/{order_id}", f"Order {number} is taken.")


@router.post("/stage")
def move_all(here: Here, form: TypedForm, order_id: int) -> Response:
    """Every piece that may comes to a stage."""
    stage = _stage(form)
    progress.move_order(here.store, _at(order_id, form), stage, here.act)
    return see(f"/orders/{order_id}", f"The pieces are {stage}.")


@router.post("/take-back")
def take_all_back(here: Here, form: TypedForm, order_id: int) -> Response:
    """The last act on the order is undone; both stay in the record."""
    progress.take_back(here.store, _at(order_id, form), here.act)
    return see(f"/orders/{order_id}", "The last change is taken back.")


@router.post("/pieces/{number}/stage")
def move_piece(here: Here, form: TypedForm, order_id: int, number: int) -> Response:
    """One piece comes to a stage."""
    stage = _stage(form)
    progress.move_piece(here.store, _at(order_id, form), number, stage, here.act)
    return see(_back(order_id, number, form), f"Piece {number} is {stage}.")


@router.post("/pieces/{number}/take-back")
def take_back(here: Here, form: TypedForm, order_id: int, number: int) -> Response:
    """The last change of a piece's stage is undone; both stay in the record."""
    progress.take_back(here.store, _at(order_id, form), here.act, number)
    return see(_back(order_id, number, form), f"The last change of piece {number} is taken back.")


@router.post("/pieces/{number}/remove")
def remove_piece(here: Here, form: TypedForm, order_id: int, number: int) -> Response:
    """A quoted piece leaves its quote."""
    orders.remove_piece(here.store, _at(order_id, form), number, here.act)
    return see(f"/orders/{order_id}", f"Piece {number} is removed.")


@router.post("/terms")
def set_terms(here: Here, form: TypedForm, order_id: int) -> Response:
    """The due date and the note."""
    read = Reader(form, here.shop.unit, here.shop.currency)
    due = read_day(form, "due", read.faults)
    note = read.text("note", orders.LONGEST_NOTE)
    try:
        read.faults.finish()
        orders.set_due_and_note(here.store, _at(order_id, form), due, note, here.act)
    except Invalid as invalid:
        return show_order(here, order_id, typed=form, invalid=invalid)
    return see(f"/orders/{order_id}", "Kept.")


@router.post("/entries")
def add_entry(here: Here, form: TypedForm, order_id: int) -> Response:
    """Money received or given back."""
    read = Reader(form, here.shop.unit, here.shop.currency)
    payment = payments.Payment(
        amount=read.money("amount"),
        kind=read.choice("kind", EntryKind, EntryKind.PAYMENT),
        method=read.choice("method", Method, Method.CASH),
        note=read.text("payment_note", payments.LONGEST_NOTE),
    )
    keep = payments.refund if payment.kind is EntryKind.REFUND else payments.add_payment
    try:
        read.faults.finish()
        keep(here.store, _at(order_id, form), payment, here.act)
    except Invalid as invalid:
        return show_order(here, order_id, typed=form, invalid=invalid)
    return see(f"/orders/{order_id}", "Written down.")


@router.post("/entries/{entry_id}/correct")
def correct_entry(here: Here, form: TypedForm, order_id: int, entry_id: int) -> Response:
    """A contrary entry for one that was a mistake."""
    payments.correct_entry(here.store, _at(order_id, form), entry_id, here.act)
    return see(f"/orders/{order_id}", "Corrected by a contrary entry.")


def _stage(form: Typed) -> Stage:
    """The stage that a button asks for. Raises: Conflict where it is none."""
    if form.get("stage") in set(Stage):
        return Stage(form["stage"])
    raise Conflict(f"{quoted(form.get('stage', ''))} is not a stage.")


def _at(order_id: int, form: Typed) -> OrderAt:
    return OrderAt(id=order_id, version=read_version(form))


def _back(order_id: int, number: int, form: Typed) -> str:
    """Where an act on a piece was asked for: its own page or its order's."""
    order = f"/orders/{order_id}"
    return f"{order}/pieces/{number}" if form.get("back") == "piece" else order
