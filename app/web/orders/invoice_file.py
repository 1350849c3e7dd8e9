"""The invoices and credit notes of a month as a CSV file for the bookkeeper.

A row for each rate of tax of each of them, in the order of the numbers; amounts of credit notes are
negative, so that columns can be summed.
"""

import csv
import io
from collections.abc import Iterable, Iterator

from app.forms.reader import percent_text
from app.money import Money
from app.orders.invoices.invoice import Invoice
from app.web.kit.spreadsheet import amount, safe

COLUMNS = (
    "number",
    "kind",
    "date",
    "takes_back",
    "order",
    "collected_on",
    "pay_by",
    "customer",
    "currency",
    "tax",
    "percent",
    "without_tax",
    "tax_amount",
    "with_tax",
)


def write_invoices(invoices: Iterable[Invoice]) -> str:
    """Return the file, with a head."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for invoice in invoices:
        head = _head(invoice)
        writer.writerows((*head, *cells) for cells in _by_rate(invoice))
    return out.getvalue()


def _head(invoice: Invoice) -> tuple[str, ...]:
    return (
        invoice.number,
        invoice.kind.value,
        invoice.issued_on.isoformat(),
        invoice.corrects.number if invoice.corrects else "",
        invoice.order_number,
        invoice.collected_on.isoformat() if invoice.collected_on else "",
        invoice.pay_by.isoformat() if invoice.pay_by else "",
        safe(invoice.buyer.name),
        invoice.charged.currency.code,
    )


def _by_rate(invoice: Invoice) -> Iterator[tuple[str, ...]]:
    charged = invoice.charged
    for part in charged.taxes:
        percent = percent_text(part.rate.percent)
        yield (safe(part.rate.name), percent, *_amounts(part.net, part.tax))
    if charged.untaxed or not charged.taxes:
        yield ("not charged", "", *_amounts(charged.untaxed, charged.zero))


def _amounts(net: Money, tax: Money) -> tuple[str, ...]:
    return amount(net), amount(tax), amount(net + tax)
