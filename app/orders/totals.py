"""The sums of an order, from what was frozen with each of its pieces.

Pieces may have been priced on different days under different tax rules: those that share them are summed
as one document (M1), and the sums are added. Declined and cancelled pieces do not count.
"""

from dataclasses import dataclass

from app.money import Money, TaxPart
from app.orders.ledger import paid
from app.orders.order import Agreed, Order, Piece
from app.orders.reductions import taken_off, taxes_after
from app.orders.stages import LEFT_THE_WAY
from app.pricing import OrderTotals, TaxTerms, price_order


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What an order comes to, what was received, and what is still to pay (below zero: to return).

    documents: one for each set of tax rules among the pieces; one, as a rule. gross: all of them, with
    tax. reduced: taken off that out of goodwill, at most all of it.
    """

    documents: tuple[OrderTotals, ...]
    gross: Money
    reduced: Money
    received: Money

    @property
    def to_pay(self) -> Money:
        """What the order comes to, with tax."""
        return self.gross - self.reduced

    @property
    def taxes(self) -> tuple[TaxPart, ...]:
        """The taxes within what the order comes to."""
        taxes = [part for document in self.documents for part in document.tax.taxes]
        return taxes_after(taxes, self.gross, self.reduced)

    @property
    def balance(self) -> Money:
        """Still to pay."""
        return self.to_pay - self.received


def terms_of(agreed: Agreed) -> TaxTerms:
    """The tax rules that a piece was priced under."""
    return TaxTerms(
        currency=agreed.price.currency, rates=agreed.tax_rates, policy=agreed.tax_policy
    )


def charged_together(order: Order) -> dict[TaxTerms, list[Piece]]:
    """The pieces that count, by the tax rules that they were priced under."""
    by_terms: dict[TaxTerms, list[Piece]] = {}
    for piece in order.pieces:
        if piece.stage not in LEFT_THE_WAY:
            by_terms.setdefault(terms_of(piece.agreed), []).append(piece)
    return by_terms


def account_of(order: Order, zero: Money) -> Account:
    """The account of an order. zero: of the shop's currency, for an order without pieces."""
    documents = tuple(
        price_order([piece.agreed.price for piece in together], terms)
        for terms, together in charged_together(order).items()
    )
    gross = sum((document.to_pay for document in documents), zero)
    return Account(
        documents=documents,
        gross=gross,
        # A piece that was cancelled since may leave less than was taken off.
        reduced=min(gross, taken_off(order.reductions, zero)),
        received=paid(order.entries, zero),
    )
