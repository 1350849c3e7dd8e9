"""Routes of invoices: issue them by an explicit act, show them as PDF, list them by month."""

from datetime import date
from functools import partial

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.days import read_month
from app.documents.invoice import invoice_pdf
from app.errors import Invalid, NotFound
from app.forms.table import Typed
from app.orders.invoices.issue import Dated
from app.services import invoices
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import WithPaper, render
from app.web.orders import invoices_page as page_of
from app.web.orders.form import INVOICE
from app.web.orders.invoice_file import write_invoices
from app.web.orders.show import act_on, at_version, order_of
from app.web.papers.logo import logo_of
from app.web.papers.printing import printed

router = APIRouter(prefix="/invoices")
issuing = APIRouter(prefix="/orders/{order_id}/invoices")


@issuing.post("")
def issue(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Issue the invoice of an order."""
    known = order_of(here, order_id)

    def act() -> WithPaper:
        wanted = invoices.InvoiceRequest(**INVOICE.read(form, known), dated=_dated(form))
        try:
            number = invoices.issue(here.store, at_version(order_id, form), wanted, here.act)
        except Invalid as invalid:
            raise invalid.under("invoice") from invalid
        return WithPaper(f"Invoice {number} is issued.", _paper(order_id, number))

    return act_on(here, order_id, form, act)


@issuing.post("/correct")
def correct(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Issue a credit note for the invoice that stands, and a new invoice."""
    known = order_of(here, order_id)

    def act() -> WithPaper:
        wanted = invoices.InvoiceRequest(**INVOICE.read(form, known), dated=_dated(form))
        try:
            numbers = invoices.correct(here.store, at_version(order_id, form), wanted, here.act)
        except Invalid as invalid:
            raise invalid.under("invoice") from invalid
        said = "Credit note {} and invoice {} are issued.".format(*numbers)
        return WithPaper(said, _paper(order_id, numbers[-1]))

    return act_on(here, order_id, form, act)


@issuing.post("/credit")
def credit(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Issue a credit note alone, for an order that came to nothing."""

    def act() -> WithPaper:
        try:
            number = invoices.credit(here.store, at_version(order_id, form), here.act, _dated(form))
        except Invalid as invalid:
            raise invalid.under("invoice") from invalid
        return WithPaper(f"Credit note {number} is issued.", _paper(order_id, number))

    return act_on(here, order_id, form, act)


def _dated(form: Typed) -> Dated | None:
    """Return how the invoice is to be dated, where that was asked and said."""
    said = form.get("invoice.dated", "")
    return Dated(said) if said in set(Dated) else None


def _paper(order_id: int, number: str) -> str:
    return f"/orders/{order_id}/invoices/{number}.pdf"


@issuing.get("/{number}.pdf")
def show(here: Here, order_id: Id, number: str) -> Response:
    """Show an invoice or a credit note as it was issued; looking at it issues nothing."""
    invoice = invoices.get(here.store, order_id, number)
    make = partial(invoice_pdf, invoice, paper=here.shop.paper, logo=logo_of(here))
    return printed(here, make, f"{invoice.number}.pdf")


@router.get("")
def show_month(here: Here, month: str = "") -> HTMLResponse:
    """Show what was issued in a month, the latest one as a rule."""
    months = invoices.months(here.store)
    shown = _month(here, month) if month else (months[0].first if months else None)
    issued = invoices.listed(here.store, shown) if shown else ()
    page = page_of.InvoiceListPage(
        years=page_of.year_chips(months, shown),
        months=page_of.month_chips(months, shown),
        month=shown,
        rows=page_of.listed_invoices(issued),
        file=f"/invoices/month.csv?month={shown:%Y-%m}" if issued else "",
    )
    return render(here, "pages/orders/invoices.html", page)


@router.get("/month.csv")
def file(here: Here, month: str = "") -> Response:
    """Give a month for the bookkeeper."""
    first = _month(here, month)
    issued = invoices.listed(here.store, first)
    return Response(
        # The mark at the start is how spreadsheets know UTF-8.
        "\ufeff" + write_invoices(each.invoice for each in issued),
        media_type="text/csv; charset=utf-8",
        headers={
            "content-disposition": f'attachment; filename="invoices-{first:%Y-%m}.csv"',
            "cache-control": "no-store",
        },
    )


def _month(here: RequestContext, text: str) -> date:
    """Read the first day of a month. Raises: NotFound where it is no month, in the words of the reader."""
    try:
        return read_month(text, here.shop.calendar(here.today))
    except Invalid as invalid:
        raise NotFound(invalid.faults[0].message) from invalid
