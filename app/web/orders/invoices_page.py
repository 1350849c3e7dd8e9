"""The invoices on the page of their order, and the page that lists a month of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from app.days import show_month
from app.documents.invoice import heading_of
from app.errors import Fault
from app.forms.table import Typed
from app.money import Money
from app.orders.invoices.issue import LaterDay
from app.services.invoices import Next, OrderInvoices
from app.storage import Issued, MonthOfInvoices
from app.web.kit.fields import Fields, FormView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.orders.form import DATED, INVOICE, OfLaterDay, OfOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceView:
    """An invoice or a credit note.

    words: "Invoice R-2026-0001". stands: whether it was not taken back. about: the number of what it
    takes back, or of what took it back; empty for an invoice that stands.
    """

    words: str
    href: str
    issued_on: date
    by: str
    gross: Money
    stands: bool
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoicesView:
    """What was issued for an order, and the form that issues the next invoice.

    fields: of that form. dated: how it is dated, where another bears a day after today. unfolded: whether the form stands open, since it was posted or the order
    differs from its last invoice.
    """

    rows: tuple[InvoiceView, ...]
    next: Next
    standing: str
    differs: tuple[str, ...]
    readdressed: bool
    lacking: str
    fields: FormView[OfOrder]
    dated: FormView[OfLaterDay] | None
    unfolded: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedInvoice:
    """One row of the list of a month."""

    invoice: InvoiceView
    order_id: int
    order_number: str
    customer: str
    net: Money
    tax: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceListPage(Page):
    """The invoices and credit notes of a month.

    month: its first day; None while nothing was issued yet.
    """

    title: str = "Invoices"
    section: str = "Orders"
    wide: bool = True
    years: tuple[Chip, ...]
    months: tuple[Chip, ...]
    month: date | None
    rows: tuple[ListedInvoice, ...]
    file: str


def invoices_view(
    known: OfOrder,
    found: OrderInvoices,
    later: LaterDay | None,
    typed: Typed,
    faults: Iterable[Fault],
) -> InvoicesView:
    """Return the invoices of an order, and the form of the next one as it was typed."""
    fields = Fields(typed, faults)
    dated = OfLaterDay(known.shop, known.today, later) if later else None
    posted = any(path.startswith("invoice.") for path in typed)
    return InvoicesView(
        rows=invoice_views(found.issued),
        next=found.next,
        standing=found.standing.invoice.number if found.standing else "",
        differs=found.differs,
        readdressed=found.readdressed,
        lacking=" and ".join(f"no {what}" for what in found.lacking),
        fields=FormView(INVOICE, known, fields),
        dated=FormView(DATED, dated, fields) if dated else None,
        unfolded=posted or bool(found.differs),
    )


def invoice_views(issued: Sequence[Issued]) -> tuple[InvoiceView, ...]:
    """Return invoices and credit notes, the oldest first."""
    taken_back_by = {each.corrects: each.invoice.number for each in issued if each.corrects}
    return tuple(_view(each, taken_back_by.get(each.id, "")) for each in issued)


def _view(issued: Issued, taken_back_by: str) -> InvoiceView:
    invoice = issued.invoice
    about = f"cancelled by {taken_back_by}" if taken_back_by else ""
    if invoice.corrects is not None:
        about = f"cancels {invoice.corrects.number}"
    return InvoiceView(
        words=f"{heading_of(invoice)} {invoice.number}",
        href=f"/orders/{issued.order_id}/invoices/{invoice.number}.pdf",
        issued_on=invoice.issued_on,
        by=issued.by,
        gross=invoice.charged.gross,
        stands=not taken_back_by,
        about=about,
    )


def listed_invoices(issued: Sequence[Issued]) -> tuple[ListedInvoice, ...]:
    """Return the rows of a month, in the order of the numbers."""
    return tuple(
        ListedInvoice(
            invoice=_view(each, ""),
            order_id=each.order_id,
            order_number=each.invoice.order_number,
            customer=each.invoice.buyer.name,
            net=each.invoice.charged.net,
            tax=each.invoice.charged.tax,
        )
        for each in issued
    )


def year_chips(months: Sequence[MonthOfInvoices], current: date | None) -> tuple[Chip, ...]:
    """Link to the latest month of each year, where there are several years; the latest first."""
    latest: dict[int, date] = {}
    for month in months:
        latest.setdefault(month.first.year, month.first)
    if len(latest) < 2:
        return ()
    return tuple(
        _chip(str(year), first, current=current is not None and year == current.year)
        for year, first in latest.items()
    )


def month_chips(months: Sequence[MonthOfInvoices], current: date | None) -> tuple[Chip, ...]:
    """Link to the months of the year in which something was issued, the latest first."""
    return tuple(
        _chip(
            f"{show_month(month.first)} ({month.count})",
            month.first,
            current=month.first == current,
        )
        for month in months
        if current is not None and month.first.year == current.year
    )


def _chip(label: str, first: date, *, current: bool) -> Chip:
    return Chip(label=label, href=f"/invoices?month={first:%Y-%m}", current=current)
