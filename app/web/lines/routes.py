"""Routes of lines without a piece: sold on a quote of their own or over the counter, added, changed, struck."""

from dataclasses import dataclass
from functools import partial
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.documents.job_sheet import job_sheets_pdf
from app.errors import Conflict, Fault, Invalid
from app.forms.table import Typed
from app.orders import Customer, LineAgreed, Order
from app.orders.quoting.line import LINE, LINE_FIELDS, LineTyped, same_price
from app.pricing import Material
from app.services import customers, lines, orders, stages, who_is_meant
from app.services.order_transaction import line_of
from app.storage import Stale
from app.web.kit.context import LARGEST_ID, Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields, FormView, OfShop
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.lines import page as page_of
from app.web.orders.show import act_on, at_version, stage_asked, still_owed
from app.web.papers.printing import printed
from app.web.pieces.material_states import put_back_words, sold_words, took_words
from app.web.pieces.price import price_view
from app.web.quotes.page import AT_THE_COUNTER, Who, customer_fields
from app.web.quotes.said import said

router = APIRouter()

PAGE = "pages/lines/edit.html"
PARTS = "pages/lines/parts.html"
SAVES = ("save", "sell", "anew")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineForm:
    """Which page of a line it is: one that begins a quote, a further one of an order, or one that is changed.

    agreed: what holds of a line that is changed, whose price stays while nothing is typed that it follows from.
    """

    heading: str
    subheading: str
    action: str
    save_label: str
    back: str
    section: str = "Quotes"
    version: int = 0
    customer: Customer | None = None
    asks_customer: bool = False
    who: Who = Who()
    agreed: LineAgreed | None = None

    @property
    def tax_free(self) -> bool:
        """Whether it is priced without tax."""
        return bool(self.customer and self.customer.tax_free)


def line_typed(form: Typed) -> Typed:
    """Return the line's fields of a posted form."""
    return {path: form[path] for path in LINE_FIELDS if path in form}


def show_form(
    here: RequestContext,
    sheet: LineForm,
    form: Typed,
    faults: tuple[Fault, ...] = (),
    status: int = 422,
) -> HTMLResponse:
    """Return the page with what was typed, and what it comes to where that can be told. status: with faults."""
    typed = line_typed(form)
    agreed: LineAgreed | None = None
    found: tuple[Fault, ...] = ()
    try:
        agreed = lines.worked_out(
            here.store, typed, here.shop, today=here.today, tax_free=sheet.tax_free
        )
    except Invalid as invalid:
        found = tuple(each for each in invalid.faults if typed.get(each.path, "").strip())
    told = tuple(dict.fromkeys((*faults, *found)))
    kept = same_price(sheet.agreed, agreed) if sheet.agreed and agreed else None
    shown = kept or agreed
    anew = (
        agreed.price.to_pay
        if kept and agreed and kept.price.to_pay != agreed.price.to_pay
        else None
    )
    known = LineTyped(here.shop, typed)
    page = page_of.LineFormPage(
        title=sheet.heading,
        section=sheet.section,
        faults=told,
        heading=sheet.heading,
        subheading=sheet.subheading,
        action=sheet.action,
        save_label=sheet.save_label,
        back=sheet.back,
        version=form.get("version", str(sheet.version)),
        customer=customer_fields(here.shop, form, told, sheet.who, AT_THE_COUNTER)
        if sheet.asks_customer
        else None,
        fields=page_of.form_view(known, told, _goods(here, typed)),
        pay=page_of.pay_fields(here.shop, form, told) if sheet.asks_customer else None,
        price=price_view(shown) if shown else None,
        tax_word=page_of.tax_word(shown) if shown else "",
        kept_since=kept.priced_on if kept else None,
        anew=anew,
    )
    answered = status if told else 200
    return (
        render_part(PARTS, page, answered)
        if wants_part(here)
        else render(here, PAGE, page, answered)
    )


def _goods(here: RequestContext, typed: Typed) -> Material | None:
    text = typed.get("goods", "").strip()
    return lines.goods_meant(here.store, text)


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what the line comes to, without keeping it."""
    return bool(live) or form.get("action") not in SAVES


def _refused(
    here: RequestContext, sheet: LineForm, form: Typed, conflict: Conflict
) -> HTMLResponse:
    """Return the page as typed, going on from the order's present version, so that saving again is a choice."""
    fault = Fault(path="", message=conflict.message, code=conflict.code)
    return show_form(here, sheet, {**form, "version": str(sheet.version)}, (fault,), 409)


def _new_sale(who: Who) -> LineForm:
    customer = who.fitting[0] if len(who.fitting) == 1 else None
    return LineForm(
        heading="Sell without artwork",
        subheading=f"for {customer.name}"
        if customer
        else "goods, a repair, a voucher: for whom, and what",
        action="/sell",
        save_label="Save the quote",
        back="/quotes",
        customer=customer,
        asks_customer=True,
        who=who,
    )


@router.get("/sell")
def new_sale(
    here: Here, customer: Annotated[int | None, Query(le=LARGEST_ID)] = None
) -> HTMLResponse:
    """Show an empty line that begins a quote, for a customer where one is named."""
    if customer is None:
        return show_form(here, _new_sale(Who()), {})
    known = customers.get(here.store, customer).value
    form = {"customer": who_is_meant.label(customer, known.name)}
    return show_form(here, _new_sale(Who(fitting=(known,))), form)


@router.post("/sell")
def sell(here: Here, form: TypedForm, live: str = "") -> Response:
    """Work a line out, or keep it: as a quote, or sold over the counter."""
    form = {**form, **said(form.get("action", ""))}
    if only_asks(form, live):
        return show_form(here, _typed_sale(here, form), form)
    at_once = form.get("action") == "sell"
    try:
        paid_by = page_of.PAY.read(form, OfShop(here.shop))["method"] if at_once else None
        posted = lines.LinePosted(typed=line_typed(form), paid_by=paid_by)
        asked = who_is_meant.CustomerRequest.of(form)
        sold = lines.save_new(here.store, asked, posted, here.shop, here.act)
    except Invalid as invalid:
        return show_form(here, _typed_sale(here, form), form, invalid.faults)
    done = (
        sold_words(sold.used, sold.jobs)
        if at_once
        else f"The quote is saved as {orders.get(here.store, sold.order_id).number}."
    )
    return see(f"/orders/{sold.order_id}", done)


def _typed_sale(here: RequestContext, form: Typed) -> LineForm:
    return _new_sale(Who.typed(here.store, form))


def _further(here: RequestContext, order: Order) -> LineForm:
    customer = customers.get(here.store, order.customer_id).value
    return LineForm(
        heading="A line without artwork",
        subheading=f"for {customer.name} · {order.number}",
        action=f"/orders/{order.id}/lines",
        save_label="Add the line",
        back=f"/orders/{order.id}",
        section="Orders" if order.order_number else "Quotes",
        version=order.version,
        customer=customer,
    )


@router.get("/orders/{order_id}/lines/new")
def new_line(here: Here, order_id: Id) -> HTMLResponse:
    """Show an empty line for a quote or order that is there."""
    return show_form(here, _further(here, orders.get(here.store, order_id)), {})


@router.post("/orders/{order_id}/lines")
def add_line(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Work a line out, or add it to its order."""
    sheet = _further(here, orders.get(here.store, order_id))
    if only_asks(form, live):
        return show_form(here, sheet, form)
    posted = lines.LinePosted(typed=line_typed(form))
    at = at_version(order_id, form)
    try:
        lines.add_line(here.store, at, posted, here.shop, here.act)
    except Invalid as invalid:
        return show_form(here, sheet, form, invalid.faults)
    except Conflict as conflict:
        return _refused(here, sheet, form, conflict)
    return see(sheet.back, "The line is added.")


def _changed(here: RequestContext, order: Order, number: int) -> LineForm:
    customer = customers.get(here.store, order.customer_id).value
    line = line_of(order, number)
    return LineForm(
        heading=line.agreed.what,
        subheading=f"for {customer.name} · {order.number} · line {number}",
        action=f"/orders/{order.id}/lines/{number}",
        save_label="Save the change",
        back=f"/orders/{order.id}",
        section="Orders" if order.order_number else "Quotes",
        version=order.version,
        customer=customer,
        agreed=line.agreed,
    )


@router.get("/orders/{order_id}/lines/{number}/change")
def change_line(here: Here, order_id: Id, number: Id) -> HTMLResponse:
    """Show a line as it was typed, to be changed."""
    order = orders.get(here.store, order_id)
    return show_form(here, _changed(here, order, number), dict(line_of(order, number).agreed.typed))


@router.post("/orders/{order_id}/lines/{number}")
def save_line(here: Here, form: TypedForm, order_id: Id, number: Id, live: str = "") -> Response:
    """Work a changed line out, or agree it anew; a second tab is shown both."""
    sheet = _changed(here, orders.get(here.store, order_id), number)
    if only_asks(form, live):
        return show_form(here, sheet, form)
    anew = form.get("action") == "anew"
    posted = lines.LinePosted(typed=line_typed(form), number=number, anew=anew)
    try:
        kept = lines.change_line(
            here.store, at_version(order_id, form), posted, here.shop, here.act
        )
    except Invalid as invalid:
        return show_form(here, sheet, form, invalid.faults)
    except Stale as stale:
        return _two_tabs(here, stale, sheet, form, number)
    except Conflict as conflict:
        return _refused(here, sheet, form, conflict)
    how = "is saved; its price stays as agreed." if kept else "is changed, at today's prices."
    return see(sheet.back, f"Line {number} {how}")


def _two_tabs(
    here: RequestContext, stale: Stale, sheet: LineForm, form: Typed, number: int
) -> HTMLResponse:
    order = stale.stored
    assert isinstance(order, Order)
    stored = line_of(order, number).agreed.typed
    known = LineTyped(here.shop, line_typed(form))

    def fields(make: Fields) -> object:
        return FormView(LINE, known, make)

    return two_versions(
        here,
        stale,
        stored,
        form,
        fields,
        title=f"Two versions of line {number}",
        section=sheet.section,
        action=sheet.action,
        back=sheet.back,
    )


@router.post("/orders/{order_id}/lines/{number}/strike")
def strike(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Take a line off its order; it stays in the record."""

    def act() -> str:
        lines.strike_line(here.store, at_version(order_id, form), number, here.act)
        return f"Line {number} is struck; it stays in the record."

    return act_on(here, order_id, form, act)


@router.post("/orders/{order_id}/lines/{number}/put-back")
def put_back(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Sell a line after all that was struck."""

    def act() -> str:
        lines.put_back_line(here.store, at_version(order_id, form), number, here.act)
        return f"Line {number} is back."

    return act_on(here, order_id, form, act)


@router.post("/orders/{order_id}/lines/{number}/stage")
def move(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Bring one line to a stage."""

    def act() -> str:
        stage = stage_asked(form)
        used = stages.move_line(here.store, at_version(order_id, form), number, stage, here.act)
        word = line_of(orders.get(here.store, order_id), number).stage_word
        owed = still_owed(here, order_id, stage)
        return f"Line {number} is {word}.{took_words(used)}{owed}"

    return act_on(here, order_id, form, act)


@router.post("/orders/{order_id}/lines/{number}/take-back")
def take_back(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Undo the last change of a line's stage; both stay in the record."""

    def act() -> str:
        back = stages.take_line_back(here.store, at_version(order_id, form), number, here.act)
        return f"The last change of line {number} is undone.{put_back_words(back)}"

    return act_on(here, order_id, form, act)


@router.get("/orders/{order_id}/lines/{number}/job.pdf")
def job_sheet(here: Here, order_id: Id, number: Id) -> Response:
    """Give the job sheet of one line."""
    order = orders.get(here.store, order_id)
    make = partial(job_sheets_pdf, order, here.shop, (line_of(order, number),))
    return printed(here, make, f"{order.number} line {number}.pdf")


@router.get("/orders/{order_id}/jobs.pdf")
def job_sheets(here: Here, order_id: Id) -> Response:
    """Give the job sheets of all work of an order."""
    order = orders.get(here.store, order_id)
    return printed(here, partial(job_sheets_pdf, order, here.shop), f"{order.number} jobs.pdf")
