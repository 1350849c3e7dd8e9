"""The quote page: a new quote, a further piece, a piece changed; live while one types."""

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault, Invalid
from app.orders import Customer, Shop
from app.orders.typed import PIECE_FIELDS
from app.services import customers, orders, quotes
from app.web.context import Context, Ctx, TypedForm, Who
from app.web.pages import quote as page_of
from app.web.pages.piece import View, piece_view
from app.web.templating import chrome, render, see

router = APIRouter()

PAGE = "pages/quotes/edit.html"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Which quote page this is: a new quote, a new piece of an order, or a piece changed."""

    heading: str
    subheading: str
    action: str
    save_label: str
    version: str = ""
    customer: Customer | None = None
    asks_customer: bool = False

    @property
    def tax_free(self) -> bool:
        """Whether the piece is priced without tax."""
        return bool(self.customer and self.customer.tax_free)


def piece_typed(form: dict[str, str]) -> dict[str, str]:
    """The piece's fields of a posted form."""
    return {path: form[path] for path in PIECE_FIELDS if path in form}


def view_of(form: dict[str, str]) -> View:
    """The view of the drawing that is wanted."""
    return View(form["view"]) if form.get("view") in set(View) else View.SEEN


def show_sheet(
    request: Request,
    ctx: Context,
    sheet: Sheet,
    form: dict[str, str],
    *,
    fresh: bool = False,
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    """The quote page with what was typed, worked out as far as it can be."""
    shop = quotes.current_shop(ctx.store)
    typed = piece_typed(form)
    found = list(faults)
    result = None
    if not fresh:
        try:
            quoted = quotes.recalculate(ctx.store, typed, today=ctx.today, tax_free=sheet.tax_free)
            result = piece_view(quoted.artwork, quoted.agreed, view_of(form))
        except Invalid as invalid:
            found += [fault for fault in invalid.faults if fault not in found]
    page = _page(request, shop, sheet, form, tuple(found), result)
    return render(PAGE, page, 422 if found else 200)


def _page(
    request: Request,
    shop: Shop,
    sheet: Sheet,
    form: dict[str, str],
    faults: tuple[Fault, ...],
    result: page_of.PieceView | None,
) -> page_of.QuotePage:
    typed = piece_typed(form)
    return page_of.QuotePage(
        title=sheet.heading,
        section="Quotes",
        wide=True,
        faults=faults,
        heading=sheet.heading,
        subheading=sheet.subheading,
        action=sheet.action,
        live=f"{sheet.action}?live=1",
        save_label=sheet.save_label,
        version=form.get("version", sheet.version),
        mat_word=shop.mat_word.value,
        unit=page_of.unit_of(typed, shop).value,
        customer=page_of.customer_fields(form, faults) if sheet.asks_customer else None,
        piece=page_of.piece_fields(typed, faults, shop, page_of.understood(typed, shop)),
        result=result,
        views=page_of.views(view_of(form)),
        tax_word=page_of.tax_word(shop, tax_free=sheet.tax_free),
        **chrome(request, shop),
    )


def wants_no_keeping(form: dict[str, str], live: str) -> bool:
    """Whether a post only asks what the piece comes to."""
    return bool(live) or form.get("action") != "save"


def _new_quote(customer: Customer | None) -> Sheet:
    return Sheet(
        heading="A new quote",
        subheading=f"for {customer.name}" if customer else "for whom, and what",
        action="/quotes",
        save_label="Save the quote",
        customer=customer,
        asks_customer=True,
    )


@router.get("/quotes/new")
def new_quote(request: Request, ctx: Ctx, customer: int | None = None) -> HTMLResponse:
    """An empty quote page, for a customer where one is named."""
    shop = quotes.current_shop(ctx.store)
    form = page_of.default_typed(shop)
    known = None
    if customer is not None:
        known = customers.get(ctx.store, customer).value
        form["customer"] = customers.label(customer, known.name)
    return show_sheet(request, ctx, _new_quote(known), form, fresh=True)


@router.post("/quotes")
def save_quote(request: Request, ctx: Ctx, who: Who, form: TypedForm, live: str = "") -> Response:
    """Work a quote out, or keep it and go to it."""
    known = customers.known(ctx.store, form.get("customer", ""))
    sheet = _new_quote(known)
    if wants_no_keeping(form, live):
        return show_sheet(request, ctx, sheet, form)
    try:
        order_id = quotes.save_new(
            ctx.store,
            customers.Asked.of(form),
            piece_typed(form),
            who=who,
            now=ctx.now(),
        )
    except Invalid as invalid:
        return show_sheet(request, ctx, sheet, form, faults=invalid.faults)
    return see(f"/orders/{order_id}", "Quote saved.")


@router.get("/orders/{order_id}/pieces/new")
def new_piece(request: Request, ctx: Ctx, order_id: int) -> HTMLResponse:
    """An empty piece for a quote that is there."""
    order = orders.get(ctx.store, order_id)
    sheet = _further_piece(ctx, order_id, order.customer_id, order.number, order.version)
    return show_sheet(
        request, ctx, sheet, page_of.default_typed(quotes.current_shop(ctx.store)), fresh=True
    )


def _further_piece(
    ctx: Context, order_id: int, customer_id: int, number: str, version: int
) -> Sheet:
    customer = customers.get(ctx.store, customer_id).value
    return Sheet(
        heading="A further piece",
        subheading=f"for {customer.name} · {number}",
        action=f"/orders/{order_id}/pieces",
        save_label="Add the piece",
        version=str(version),
        customer=customer,
    )


@router.post("/orders/{order_id}/pieces")
def add_piece(
    request: Request, ctx: Ctx, who: Who, form: TypedForm, order_id: int, live: str = ""
) -> Response:
    """Work a further piece out, or add it to its quote."""
    order = orders.get(ctx.store, order_id)
    sheet = _further_piece(ctx, order_id, order.customer_id, order.number, order.version)
    if wants_no_keeping(form, live):
        return show_sheet(request, ctx, sheet, form)
    try:
        quotes.add_piece(
            ctx.store,
            order_id,
            quotes.expected_version(form),
            piece_typed(form),
            who=who,
            now=ctx.now(),
        )
    except Invalid as invalid:
        return show_sheet(request, ctx, sheet, form, faults=invalid.faults)
    return see(f"/orders/{order_id}", "Piece added.")
