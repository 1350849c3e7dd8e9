"""Routes of the quote page: a new quote, a further piece, a piece to change; live while one types."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid, NotFound, quoted
from app.forms.table import Typed
from app.orders import Piece, design_letter
from app.orders.quoting.form import piece_typed
from app.pricing import Material
from app.services import customers, designs, orders, quotes, who_is_meant
from app.services.material_names import names_of
from app.services.material_offers import KIND_AT
from app.services.order_transaction import DesignAt, OrderAt, piece_of
from app.storage import Stale
from app.web.kit.common_fields import read_version
from app.web.kit.context import LARGEST_ID, Here, Id, RequestContext
from app.web.kit.facing import begun
from app.web.kit.templating import render, render_part, see
from app.web.orders.piece_rows import may_add_design
from app.web.pieces.place import on_order, order_with
from app.web.quotes import choosing, repricing, usual
from app.web.quotes import page as page_of
from app.web.quotes.answers import (
    CHANGED_MEANWHILE,
    SEEN,
    OfDesign,
    offer_terms,
    only_asks,
    show_asked,
    show_refused,
    show_typed,
    show_untouched,
)
from app.web.quotes.going_on import go_on
from app.web.quotes.new_moulding import with_new
from app.web.quotes.said import SAY, said
from app.web.quotes.sheets import (
    TODAYS,
    QuoteForm,
    another_design_sheet,
    changed_piece_sheet,
    further_piece_sheet,
    new_quote_sheet,
    of_design,
)
from app.web.quotes.turning import came_back
from app.web.quotes.units import PieceForm
from app.web.quotes.working_out import check_settled, entered, outcome_of

router = APIRouter()


@router.post("/quotes/materials")
def find_material(
    here: Here, form: PieceForm, at: str = "", q: str = "", free: str = ""
) -> HTMLResponse:
    """Show the materials under a field that finds one, each with the price of the piece and what lies on the rack."""
    if at not in KIND_AT:
        raise NotFound(f"No material is chosen for {quoted(at)}.")
    terms = offer_terms(here, form, at, tax_free=bool(free))
    found = choosing.options(here, q, terms)
    if here.visitor.beside_customer:
        found = choosing.for_customer(found, terms, names_of(here.store))
    return render_part("pages/materials/find.html", found)


@router.get("/quotes/new")
def new_quote(
    here: Here, customer: Annotated[int | None, Query(le=LARGEST_ID)] = None, typed: str = ""
) -> HTMLResponse:
    """Show an empty quote page, for a customer where one is named; or one that was typed before the screen was turned.

    Beside a customer nobody is named but whose order is shown.
    """
    came = came_back(here, "/quotes", typed)
    if came is not None:
        return show_typed(here, _quote_typed(here, came), came, refused=200)
    form = usual.begun(here, page_of.default_typed(here.shop))
    if customer is None or not _may_be_named(here, customer):
        return show_untouched(here, new_quote_sheet(page_of.Who()), form)
    known = customers.get(here.store, customer).value
    form["customer"] = form[who_is_meant.MEANT] = who_is_meant.label(customer, known.name)
    return show_untouched(here, new_quote_sheet(page_of.Who(fitting=(known,))), form)


def _may_be_named(here: RequestContext, customer_id: int) -> bool:
    """Tell whether a new quote may name a customer; beside a customer, only whose order is shown."""
    turned = here.visitor.turned
    if turned is None:
        return True
    return (
        turned.order is not None and orders.get(here.store, turned.order).customer_id == customer_id
    )


@router.post("/quotes")
def save_quote(here: Here, form: PieceForm, live: str = "") -> Response:
    """Work a quote out, or keep it and go to it."""
    if only_asks(form, live):
        answered = {**form, **said(form.get("action", ""))}
        return show_asked(here, _quote_typed(here, answered), answered)
    form = usual.renewed(here, form)
    asked = who_is_meant.CustomerRequest.of(form, beside_customer=here.visitor.beside_customer)
    try:
        check_settled(here, new_quote_sheet(page_of.Who()), form)
        typed, brings = with_new(here, piece_typed(form), form)
        order_id = quotes.save_new(here.store, asked, typed, here.shop, here.act, brings)
    except Invalid as invalid:
        return show_typed(here, _quote_typed(here, form), form, invalid.faults)
    done = f"The quote is saved as {orders.get(here.store, order_id).number}.{_came(here, brings)}"
    on = go_on(here, order_id, form["action"], done, f"/orders/{order_id}#take")
    return begun(on, here.visitor, order_id)


def _came(here: RequestContext, brings: Material | None) -> str:
    """Say to the shop that a moulding came into the price book, in a sentence to follow another."""
    if brings is None or not here.visitor.sees_costs:
        return ""
    return f" {brings.code} is in the price book now; complete it there."


def _quote_typed(here: RequestContext, form: Typed) -> QuoteForm:
    beside_customer = here.visitor.beside_customer
    return new_quote_sheet(page_of.Who.typed(here.store, form, beside_customer=beside_customer))


@router.get("/orders/{order_id}/pieces/new")
def new_piece(here: Here, order_id: Id, like: OfDesign = None, typed: str = "") -> HTMLResponse:
    """Show a further piece for a quote that is there: empty, one that begins as a piece of it, or one that was typed before the
    screen was turned.

    Raises: Conflict for one like a piece of what is ordered.
    """
    order = orders.get(here.store, order_id)
    if like is not None and not may_add_design(order):
        raise Conflict(
            f"{order.number} is {order.stage}, so one like it would be made and charged as one more "
            "piece. Change the piece, or add a further one."
        )
    sheet = further_piece_sheet(here, order)
    came = came_back(here, sheet.action, typed)
    if came is not None:
        return show_typed(here, sheet, came, refused=200)
    if like is None:
        return show_untouched(here, sheet, usual.begun(here, page_of.default_typed(here.shop)))
    agreed = quotes.typed_as_agreed(here.store, piece_of(order, like), here.shop)
    return show_typed(here, sheet, page_of.default_typed(here.shop) | dict(agreed.typed))


@router.post("/orders/{order_id}/pieces")
def add_piece(
    here: Here,
    form: PieceForm,
    order_id: Id,
    live: str = "",
) -> Response:
    """Work a further piece out, or add it to its quote."""
    sheet = further_piece_sheet(here, orders.get(here.store, order_id))
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    form = usual.renewed(here, form)
    try:
        check_settled(here, sheet, form)
        piece, brings = entered(here, sheet, form)
        number = orders.add_piece(here.store, _at(order_id, form), piece, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    done = f"The piece is added.{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, order_with(order_id, number))


@router.get("/orders/{order_id}/pieces/{number}/designs/new")
def new_design(
    here: Here, order_id: Id, number: Id, like: OfDesign = None, typed: str = ""
) -> HTMLResponse:
    """Show another design of a quoted piece, which begins as one that it has or as it was typed before the screen was turned.

    Raises: Conflict.
    """
    order = orders.get(here.store, order_id)
    sheet = another_design_sheet(here, order, number)
    came = came_back(here, sheet.action, typed)
    if came is not None:
        return show_typed(here, sheet, came, refused=200)
    piece = DesignAt(piece=number, design=like).of(order)
    return show_typed(here, sheet, _typed_of(here, piece))


@router.post("/orders/{order_id}/pieces/{number}/designs")
def add_design(here: Here, form: PieceForm, order_id: Id, number: Id, live: str = "") -> Response:
    """Work another design out, or put it beside those that are there."""
    sheet = another_design_sheet(here, orders.get(here.store, order_id), number)
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    try:
        check_settled(here, sheet, form)
        piece, brings = entered(here, sheet, form)
        added = designs.add(here.store, _at(order_id, form), number, piece, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    done = f"Design {design_letter(added)} of piece {number} is added.{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, on_order(order_id, number))


def _typed_of(here: RequestContext, piece: Piece) -> Typed:
    """Return what a form of the design that counts begins with: as typed, of the artwork as it is known now."""
    typed = dict(quotes.typed_as_agreed(here.store, piece, here.shop).typed)
    if piece.several:
        typed["artwork.kind"] = piece.artwork.kind.value
    return page_of.default_typed(here.shop) | typed


@router.get("/orders/{order_id}/pieces/{number}/change")
def change_piece(  # noqa: PLR0917 - what an address may ask for
    here: Here,
    order_id: Id,
    number: Id,
    design: OfDesign = None,
    take: str = "",
    typed: str = "",
) -> HTMLResponse:
    """Show a piece as it was typed, to be changed: one of its designs, or the one that counts.

    One that is cut is shown with the reason why it is not changed any more.
    take: a field that is filled, before a colon, and with what. typed: what was typed before the screen was turned.
    """
    order = orders.get(here.store, order_id)
    sheet = changed_piece_sheet(here, order, number, design)
    came = came_back(here, sheet.action, typed)
    if came is not None:
        return show_typed(here, sheet, came, refused=200)
    piece = DesignAt(piece=number, design=design).of(order)
    return show_typed(here, sheet, {**_typed_of(here, piece), **said(f"{SAY}:{take}")})


@router.post("/orders/{order_id}/pieces/{number}")
def save_piece(
    here: Here,
    form: PieceForm,
    order_id: Id,
    number: Id,
    *,
    live: str = "",
    design: OfDesign = None,
) -> Response:
    """Work a changed piece out, or agree it anew; a second tab is shown both."""
    sheet = changed_piece_sheet(here, orders.get(here.store, order_id), number, design)
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    if sheet.version == read_version(form) and not _was_seen(here, sheet, form):
        return show_typed(here, sheet, form)
    try:
        check_settled(here, sheet, form)
        typed, brings = with_new(here, piece_typed(form), form)
        retyped = quotes.Retyped(
            which=DesignAt(piece=number, design=design),
            typed=typed,
            brings=brings,
            todays_prices=bool(form.get(TODAYS)),
        )
        at = _at(order_id, form)
        kept = quotes.change_piece(here.store, at, retyped, here.shop, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Stale as stale:
        return _two_versions(here, sheet, form, stale, DesignAt(piece=number, design=design))
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    anew = "at today's prices" if form.get(TODAYS) else "at today's prices for what is new in it"
    said = "is saved; its price stays as agreed." if kept else f"is changed, {anew}."
    which = f"Piece {number}, design {design_letter(design)}," if design else f"Piece {number}"
    done = f"{which} {said}{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, order_with(order_id, number))


def _two_versions(
    here: RequestContext, sheet: QuoteForm, form: Typed, stale: Stale, which: DesignAt
) -> HTMLResponse:
    """Return both versions; beside a customer the form, which goes on from the version that it began with."""
    if here.visitor.beside_customer:
        return show_typed(here, sheet, form, (Fault(path="", message=CHANGED_MEANWHILE),), 409)
    page = repricing.two_versions(stale, which.piece, form, here.shop, which.design)
    return render(here, "pages/quotes/two_versions.html", page, 409)


def _was_seen(here: RequestContext, sheet: QuoteForm, form: Typed) -> bool:
    """Tell whether the form was sent from a page that showed the price which would be kept.

    A form that does not say what was seen, as that of two versions, is not held back.
    """
    outcome = outcome_of(here, sheet, form) if SEEN in form else None
    return outcome is None or outcome.change is None or outcome.change.seen == form[SEEN]


@router.get("/orders/{order_id}/pieces/{number}/price-again")
def price_again(here: Here, order_id: Id, number: Id, design: OfDesign = None) -> Response:
    """Show the old price beside today's; a piece that needs a change first is shown to be changed."""
    which = DesignAt(piece=number, design=design)
    try:
        priced = quotes.price_again(here.store, order_id, which, here.shop, today=here.today)
    except Invalid:
        return _to_be_changed(order_id, number, design)
    page = repricing.price_again_page(priced, of_design(design))
    return render(here, "pages/quotes/price_again.html", page)


@router.post("/orders/{order_id}/pieces/{number}/price-again")
def keep_new_price(
    here: Here, form: PieceForm, order_id: Id, number: Id, design: OfDesign = None
) -> Response:
    """Agree today's price in place of the old one, which stays in the record."""
    at, which = _at(order_id, form), DesignAt(piece=number, design=design)
    try:
        quotes.keep_new_price(here.store, at, which, here.shop, here.act)
    except Invalid:
        return _to_be_changed(order_id, number, design)
    return see(order_with(order_id, number), f"Piece {number} has today's price.")


def _to_be_changed(order_id: int, number: int, design: int | None) -> Response:
    """Send to the form of a piece that can no longer be made as typed, which says why at its fields."""
    return see(f"/orders/{order_id}/pieces/{number}/change{of_design(design)}")


def _at(order_id: int, form: Typed) -> OrderAt:
    return OrderAt(id=order_id, version=read_version(form))
