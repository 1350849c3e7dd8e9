"""What a quote or a confirmation comes to: what is sold without a piece, the sums and what was paid, without what is said of its pieces.

So whoever shows sums alone does not have every piece described and drawn for them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from app.documents.kit.total_lines import (
    Sum,
    from_to,
    is_mixed,
    payments_of,
    sums_of_account,
)
from app.money import Money, show_percent
from app.orders import Order, OrderLine, Stage
from app.orders.designs import at_least, at_most
from app.orders.invoices.lines import charged_for
from app.orders.totals import PriceRange, range_of


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedLine:
    """What is sold without a piece. quantity: how many at what price. rate: of tax."""

    what: str
    quantity: str
    rate: str
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteTotals:
    """What an order comes to, as its paper states it. found: from what to what. stated: what a piece or a line comes to by the numbers of
    line and piece, one of them 0, where prices are stated both ways; empty where they are not.
    """

    found: PriceRange
    lines: tuple[QuotedLine, ...]
    sums: tuple[Sum, ...]
    payments: tuple[Sum, ...]
    stated: Mapping[tuple[int, int], Money] = field(default_factory=dict)


def heading_of(order: Order) -> str:
    """Return what the paper of an order is called."""
    return "Quote" if order.stage is Stage.QUOTED else "Order confirmation"


def totals_of(order: Order) -> QuoteTotals:
    """Return what an order of which something is left comes to."""
    found = range_of(order, Money.zero(order.currency))
    stated = _stated(order, found.least.to_pay) if is_mixed(order) else {}
    return QuoteTotals(
        found=found,
        lines=tuple(
            _line(line, stated.get((line.number, 0))) for line in order.lines if line.counts
        ),
        sums=from_to(
            sums_of_account(at_least(order), found.least),
            sums_of_account(at_most(order), found.most),
        ),
        payments=from_to(payments_of(order, found.least), payments_of(order, found.most)),
        stated=stated,
    )


def _stated(order: Order, like: Money) -> dict[tuple[int, int], Money]:
    """Return what each piece and line comes to with tax, as an invoice would state it, by `InvoiceLine.of`."""
    zero = Money.zero(like.currency)
    stated: dict[tuple[int, int], Money] = {}
    for line in charged_for(order, zero).lines:
        stated[line.of] = stated.get(line.of, zero) + line.amount
    return stated


def _line(line: OrderLine, stated: Money | None) -> QuotedLine:
    """stated: what it comes to as the sums are stated, where prices are stated both ways."""
    agreed = line.agreed
    return QuotedLine(
        what=agreed.what,
        quantity=agreed.quantity,
        rate="not charged" if agreed.tax_free else show_percent(agreed.rate.percent),
        amount=agreed.price.total if stated is None else stated,
    )
