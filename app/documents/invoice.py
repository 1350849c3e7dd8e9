"""An invoice or a credit note on paper: what was frozen when it was issued, and nothing else.

Neither the order nor the shop's settings are asked, so it says the same whenever it is printed; only
the paper and the logo, which is no word of it, are today's. Terms by EN 16931, see `app.orders.invoices.invoice`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from app.documents.kit.party import PartyPaper
from app.documents.kit.pdf import StyleSheets, sheets_for, to_fewest_pages
from app.documents.kit.printing import day, page_html
from app.documents.kit.total_lines import NOT_CHARGED, Sum, together
from app.money import Money, show_money, show_percent
from app.orders import EntryKind, Paper
from app.orders.invoices.invoice import Charged, Invoice, InvoiceKind, InvoiceLine, Receipt


@dataclass(frozen=True, slots=True, kw_only=True)
class LineOnPaper:
    """One line. number: of the piece, blank where the one above is of the same piece; "L1" of a line without one.

    alike: of several alike how many at what price of one, "20 × 41.50"; empty for a single piece.
    """

    number: str
    name: str
    details: str
    rate: str
    amount: Money
    alike: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxOnPaper:
    """One row of the breakdown by rate; strong: of the totals."""

    name: str
    net: Money
    tax: Money
    gross: Money
    strong: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoicePage(PartyPaper):
    """Everything that an invoice or a credit note says. stated: how the amounts of lines are."""

    about: str
    stated: str
    lines: tuple[LineOnPaper, ...]
    sums: tuple[Sum, ...]
    payments: tuple[Sum, ...]
    taxes: tuple[TaxOnPaper, ...]
    terms: tuple[str, ...]


def invoice_pdf(invoice: Invoice, *, paper: Paper, logo: str = "") -> bytes:
    """Make the PDF of an invoice or a credit note. logo: today's, as an address; blank for none. Raises: PdfUnavailable."""
    names = sheets_for(paper, "quote", "quote-piece").names
    narrow = ("invoice-a5",) if paper is Paper.A5 else ()
    html = page_html("invoice.html", replace(invoice_page(invoice), logo=logo))
    return to_fewest_pages(html, StyleSheets(names=(*names, "invoice", *narrow)))


def heading_of(invoice: Invoice) -> str:
    """Return "Invoice" or "Credit note"."""
    return "Invoice" if invoice.kind is InvoiceKind.INVOICE else "Credit note"


def invoice_page(invoice: Invoice) -> InvoicePage:
    """Return the page model of an invoice or a credit note."""
    charged, seller, buyer = invoice.charged, invoice.seller, invoice.buyer
    heading = heading_of(invoice)
    tax_number = (f"Tax number {seller.tax_number}",) if seller.tax_number else ()
    return InvoicePage(
        lang="en",
        title=f"{heading} {invoice.number}, {seller.name}",
        heading=heading,
        number=invoice.number,
        shop_name=seller.name,
        shop_lines=(*seller.lines, *tax_number),
        customer=buyer.name,
        customer_lines=(*buyer.lines, *_number_of_buyer(buyer.tax_number)),
        dates=_dates(invoice),
        about=_about(invoice),
        currency=charged.currency.code,
        stated="with tax" if charged.with_tax else "without tax",
        lines=tuple(_lines(charged.lines)),
        sums=tuple(_sums(charged)),
        payments=tuple(_payments(invoice)),
        taxes=tuple(_taxes(charged)),
        terms=tuple(_terms(invoice)),
    )


def _number_of_buyer(tax_number: str) -> tuple[str, ...]:
    return (f"Tax number {tax_number}",) if tax_number else ()


def _dates(invoice: Invoice) -> tuple[tuple[str, str], ...]:
    is_invoice = invoice.kind is InvoiceKind.INVOICE
    named = (
        ("Date of issue", invoice.issued_on),
        ("Ordered on", invoice.ordered_on),
        ("Collected on", invoice.collected_on),
        ("Ready on", invoice.ready_on if is_invoice else None),
        ("Pay by", invoice.pay_by),
    )
    dates = tuple((name, day(value)) for name, value in named if value is not None)
    return (dates[0], ("Order", invoice.order_number), *dates[1:])


def _about(invoice: Invoice) -> str:
    """Say which invoice a credit note takes back; nothing on an invoice."""
    wrong = invoice.corrects
    if wrong is None:
        return ""
    return (
        f"This credit note cancels the whole of invoice {wrong.number} of {day(wrong.issued_on)}."
    )


def _lines(lines: tuple[InvoiceLine, ...]) -> Iterator[LineOnPaper]:
    before = (0, 0)
    for line in lines:
        number = f"L{line.line}" if line.line else str(line.piece)
        yield LineOnPaper(
            number="" if line.of == before else number,
            name=line.name,
            details=line.details,
            rate=show_percent(line.rate.percent) if line.rate else "not charged",
            amount=line.amount,
            alike=_alike(line),
        )
        before = line.of


def _alike(line: InvoiceLine) -> str:
    if line.quantity == 1:
        return ""
    return f"{line.quantity} × {show_money(line.each)}" if line.each else f"{line.quantity} alike"


def _sums(charged: Charged) -> Iterator[Sum]:
    """Return the lines from the sum of the items to the total with tax."""
    if charged.taken_off:
        of_lines = any(line.line for line in charged.lines)
        yield Sum(label=together(of_lines=of_lines), amount=charged.together)
        for each in charged.taken_off:
            yield Sum(label=f"Taken off: {each.reason}", amount=each.amount)
    if not charged.with_tax:
        yield Sum(label="Total without tax", amount=charged.net)
        for part in charged.taxes:
            label = f"{part.rate.name} {show_percent(part.rate.percent)}"
            yield Sum(label=label, amount=part.tax)
    yield Sum(label="Total with tax" if charged.tax else "Total", amount=charged.gross, strong=True)


_NAMED = {
    EntryKind.DEPOSIT: "Deposit",
    EntryKind.PAYMENT: "Payment",
    EntryKind.REFUND: "Refunded",
}


def _payments(invoice: Invoice) -> Iterator[Sum]:
    """Return what was paid already and what is due. A credit note has this only where something is to be returned."""
    is_invoice = invoice.kind is InvoiceKind.INVOICE
    if not is_invoice and not invoice.due:
        return
    for receipt in invoice.received:
        label = f"{'Paid' if is_invoice else 'Received'}: {_of_receipt(receipt)}"
        yield Sum(label=label, amount=-receipt.amount if is_invoice else receipt.amount)
    yield Sum(
        label="To refund" if invoice.due.minor < 0 else "Amount due",
        amount=abs(invoice.due),
        strong=True,
    )


def _of_receipt(receipt: Receipt) -> str:
    return f"{_NAMED[receipt.kind].lower()}, {day(receipt.on)}, {receipt.method.value}"


def _taxes(charged: Charged) -> Iterator[TaxOnPaper]:
    """Return a row for each rate, one for what is not taxed, and the totals where there are several rows."""
    rows = [
        TaxOnPaper(
            name=f"{part.rate.name} {show_percent(part.rate.percent)}",
            net=part.net,
            tax=part.tax,
            gross=part.gross,
        )
        for part in charged.taxes
    ]
    if charged.untaxed:
        rows.append(
            TaxOnPaper(
                name=NOT_CHARGED, net=charged.untaxed, tax=charged.zero, gross=charged.untaxed
            )
        )
    yield from rows
    if len(rows) > 1:
        yield TaxOnPaper(
            name="Together", net=charged.net, tax=charged.tax, gross=charged.gross, strong=True
        )


def _terms(invoice: Invoice) -> Iterator[str]:
    """Return the note, then how what is due is to be paid (BT-20), where no day is set for it."""
    yield from (line.strip() for line in invoice.note.splitlines() if line.strip())
    if invoice.kind is InvoiceKind.INVOICE and invoice.due.minor > 0 and invoice.pay_by is None:
        yield "Payable on receipt." if invoice.collected_on else "Payable at collection."
