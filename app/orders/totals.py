"""The sums of an order, from what was frozen with each of its pieces and of its lines without one.

Pieces and lines may have been priced on different days under different tax rules: those that share them are summed
as one document (M1), and the sums are added. Declined and cancelled pieces do not count. What was taken
off out of goodwill comes off the sums, never off a piece's price (P7).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from app.journal import standing
from app.money import Money, Taxed, TaxPart, shared
from app.orders.designs import at_least, at_most, undecided
from app.orders.ledger import paid
from app.orders.order import Agreed, Order, Piece
from app.orders.order_line import LineAgreed, OrderLine
from app.orders.reductions import Reduction
from app.orders.stages import Stage
from app.pricing import TaxTerms, charged_for


@dataclass(frozen=True, slots=True, kw_only=True)
class Lowered:
    """By how much a reduction that stands lowers the sums, without tax and with it.

    id: of the reduction. with_tax: how it was stated; in that way it is the amount that was agreed, or as much of it as the
    order still comes to.
    """

    id: int
    reason: str
    with_tax: bool
    net: Money
    gross: Money

    def stated(self, *, with_tax: bool) -> Money:
        """With tax or without."""
        return self.gross if with_tax else self.net


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What an order comes to, what was received, and what is still to pay (below zero: to return).

    agreed: the pieces and lines together. between: less what was taken off without tax. charged: less all that was
    taken off. with_tax: how its amounts are stated, as the prices of its pieces are; with tax where they
    differ in it.
    """

    agreed: Taxed
    between: Taxed
    charged: Taxed
    lowered: tuple[Lowered, ...]
    with_tax: bool
    received: Money

    @property
    def gross(self) -> Money:
        """The sum of the pieces and lines, with tax."""
        return self.agreed.gross

    @property
    def reduced(self) -> Money:
        """The reductions given as goodwill, with tax."""
        return self.agreed.gross - self.charged.gross

    @property
    def to_pay(self) -> Money:
        """The total of the order, with tax."""
        return self.charged.gross

    @property
    def taxes(self) -> tuple[TaxPart, ...]:
        """The tax of each rate within the total of the order."""
        return self.charged.taxes

    @property
    def balance(self) -> Money:
        """The amount that is still to be paid."""
        return self.to_pay - self.received

    def lowered_by(self, off: Money) -> Money:
        """By how much taking this off would lower what the order comes to in the way it is not stated.

        Raises: ValueError for more than it comes to.
        """
        left = self.charged.less(off, with_tax=self.with_tax)
        other = not self.with_tax
        return self.charged.stated(with_tax=other) - left.stated(with_tax=other)

    def share_otherwise(self, amount: Money, *, with_tax: bool) -> Money:
        """Return a share of what the order comes to, as a deposit, stated the other way, half up.

        with_tax: how the amount is stated. Of nothing every share is nothing. Source: in proportion, as
        of every rate alike; common practice.
        """
        whole = self.charged.stated(with_tax=with_tax)
        other = self.charged.stated(with_tax=not with_tax)
        return amount.times(Fraction(other.minor, whole.minor)) if whole else whole


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRange:
    """What an order comes to from the least to the most: alike once a design of each piece is taken (P10)."""

    least: Account
    most: Account

    @property
    def is_open(self) -> bool:
        """Whether it may still come to more than the least."""
        return self.least.to_pay != self.most.to_pay


def terms_of(agreed: Agreed | LineAgreed) -> TaxTerms:
    """Return the tax rules that a piece or a line was priced under."""
    return TaxTerms(
        currency=agreed.price.currency, rates=agreed.tax_rates, policy=agreed.tax_policy
    )


def charged_together(order: Order) -> dict[TaxTerms, list[Piece | OrderLine]]:
    """Return the pieces and lines that count, by the tax rules that they were priced under."""
    groups: list[tuple[TaxTerms, list[Piece | OrderLine]]] = []
    for each in order.sold:
        terms = terms_of(each.agreed)
        for known, together in groups:
            if known == terms:
                together.append(each)
                break
        else:
            groups.append((terms, [each]))
    return dict(groups)


def stated_with_tax(order: Order) -> bool:
    """Tell whether the amounts of an order are stated with tax (M5): as the prices of its pieces and lines are.

    With tax where those differ in it. Where nothing counts any more, all do.
    """
    return any(each.agreed.tax_policy.included for each in order.sold or order.all_of_it)


def range_of(order: Order, zero: Money) -> PriceRange:
    """From what to what an order comes, while designs of its pieces are still to be chosen (P10)."""
    if not undecided(order):
        settled = account_of(order, zero)
        return PriceRange(least=settled, most=settled)
    return PriceRange(
        least=account_of(at_least(order), zero), most=account_of(at_most(order), zero)
    )


def offered(order: Order) -> Money:
    """Return what a quote came to, with tax, before the customer declined it; the least where no design was taken (P10)."""
    quoted = replace(
        order,
        pieces=tuple(replace(piece, stage=Stage.QUOTED) for piece in order.pieces),
        lines=tuple(replace(line, stage=Stage.QUOTED) for line in order.lines),
    )
    return account_of(at_least(quoted), Money.zero(order.currency)).to_pay


def account_of(order: Order, zero: Money) -> Account:
    """Return the account of an order, in its currency. zero: for an order of nothing.

    A piece is counted once, at its design that counts; see `range_of` while none is taken.
    """
    if order.all_of_it:
        zero = Money.zero(order.currency)
    documents = (
        charged_for([each.agreed.price for each in together], terms)
        for terms, together in charged_together(order).items()
    )
    agreed = sum(documents, Taxed(rounded=(), untaxed=zero))
    stand = standing(order.reductions)
    between, without = _lowered(agreed, stand, with_tax=False)
    charged, within = _lowered(between, stand, with_tax=True)
    by_id = without | within
    return Account(
        agreed=agreed,
        between=between,
        charged=charged,
        lowered=tuple(by_id[each.id] for each in stand if each.id in by_id),
        with_tax=stated_with_tax(order),
        received=paid(order.entries, zero),
    )


def owed(order: Order, account: Account) -> Money:
    """Return what the customer owes: nothing for a quote that was not ordered. Below zero: to give back."""
    return -account.received if order.stage is Stage.QUOTED else account.balance


def _lowered(
    before: Taxed, reductions: tuple[Reduction, ...], *, with_tax: bool
) -> tuple[Taxed, dict[int, Lowered]]:
    """Return what is left after the reductions that are stated so, and each one's part in it by its id.

    A piece that was cancelled since may leave less than was taken off; then there is nothing to pay.
    """
    ours = [each for each in reductions if each.entry.with_tax is with_tax]
    whole = before.stated(with_tax=with_tax)
    off = min(whole, sum((each.entry.amount for each in ours), whole - whole))
    if not off:
        return before, {}
    after = before.less(off, with_tax=with_tax)
    amounts = [each.entry.amount.minor for each in ours]
    nets = _parts(before.net - after.net, amounts)
    grosses = _parts(before.gross - after.gross, amounts)
    return after, {
        each.id: Lowered(
            id=each.id, reason=each.entry.reason, with_tax=with_tax, net=net, gross=gross
        )
        for each, net, gross in zip(ours, nets, grosses, strict=True)
    }


def _parts(whole: Money, weights: list[int]) -> Iterator[Money]:
    return (Money(share, whole.currency) for share in shared(whole.minor, weights))
