"""The sums of an order: its pieces together, with tax as one document (P6, M1)."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.money import Money, Taxed, TaxSummary, taxed_parts
from app.pricing.customer import CustomerTotals
from app.pricing.lines import PriceLine
from app.pricing.price import PiecePrice, earnings_per_hour, rated, tax_on
from app.pricing.rules import TaxTerms


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderTotals:
    """All pieces together; the fields are as in `PiecePrice`.

    tax: on the whole document, so it may differ by some minor units from the pieces' own taxes. charged:
    the same, down to the amounts that tax is rounded on.
    """

    total: Money
    tax: TaxSummary
    charged: Taxed
    cost: Money
    minutes: Fraction
    margin: Money
    earnings_per_hour: Money | None

    @property
    def to_pay(self) -> Money:
        """What the customer pays, with the tax that is due."""
        return self.tax.gross

    def customer_view(self) -> CustomerTotals:
        """Return the sums without cost, margin and earnings (P9)."""
        return CustomerTotals(total=self.total, tax=self.tax)


def price_order(pieces: Sequence[PiecePrice], terms: TaxTerms) -> OrderTotals:
    """Return the sums over pieces that were priced under these terms. Pieces may differ in being tax-free.

    Raises: ValueError for a piece in another currency or with a tax rate unknown to them.
    """
    zero = Money.zero(terms.currency)
    charged = charged_for(pieces, terms)
    cost = sum((piece.cost for piece in pieces), zero)
    minutes = sum((piece.minutes for piece in pieces), Fraction(0))
    margin = charged.net - cost
    return OrderTotals(
        total=sum((piece.total for piece in pieces), zero),
        tax=TaxSummary(net=charged.net, taxes=charged.taxes, tax=charged.tax, gross=charged.gross),
        charged=charged,
        cost=cost,
        minutes=minutes,
        margin=margin,
        earnings_per_hour=earnings_per_hour(margin, minutes),
    )


def charged_for(pieces: Sequence[PiecePrice], terms: TaxTerms) -> Taxed:
    """Return what is charged for pieces that were priced under these terms, as `price_order` has it and raises."""
    lines = rated(_lines(pieces, tax_free=False), terms)
    free = tax_on(_lines(pieces, tax_free=True), terms, tax_free=True)
    return Taxed(rounded=taxed_parts(lines, terms.policy), untaxed=free.gross)


def _lines(pieces: Sequence[PiecePrice], *, tax_free: bool) -> list[PriceLine]:
    return [line for piece in pieces if piece.tax_free is tax_free for line in piece.lines]
