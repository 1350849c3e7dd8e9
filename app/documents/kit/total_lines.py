"""The sums that a customer sees: of a piece, and of a whole quote or order.

Everything comes from the customer's view of a price, which has no place for cost or margin (P9).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from app.documents.kit.printing import day
from app.journal import standing
from app.money import Money, TaxRate, show_money, show_percent
from app.orders import EntryKind, Order
from app.orders.totals import Account, Lowered
from app.pricing import CustomerPrice, LineGroup

_GROUPS = (
    (LineGroup.FRAME, LineGroup.FILLET),
    (LineGroup.MATS, LineGroup.BOARDS, LineGroup.SPACER),
    (LineGroup.GLAZING,),
    (LineGroup.HARDWARE, LineGroup.EXTRAS),
    (LineGroup.LABOUR,),
)
"""What stands together on a customer's paper, in its order."""


@dataclass(frozen=True, slots=True)
class PriceWords:
    """A shop's and a piece's own words among its price lines. mat: for a window board; glazing: for what is in front."""

    mat: str
    glazing: str

    def of(self, group: LineGroup) -> str:
        """Return the customer's word for a group of price lines."""
        return {
            LineGroup.FRAME: "frame",
            LineGroup.FILLET: "fillet",
            LineGroup.MATS: f"{self.mat}s",
            LineGroup.BOARDS: "boards",
            LineGroup.SPACER: "spacers",
            LineGroup.GLAZING: self.glazing,
            LineGroup.HARDWARE: "hanging",
            LineGroup.EXTRAS: "extras",
            LineGroup.LABOUR: "work",
        }[group]


BY_NUMBER = "Discount for {} alike"
NOT_CHARGED = "Tax not charged"
WITHOUT_TAX = "Without tax"
SUBTOTAL = "Subtotal"
"""What a piece comes to among others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """One line of sums. strong: a total; apart: said beside the sums and not added to them.

    most: what it may come to, where a design is still to be chosen; amount is the least then (P10).
    """

    label: str
    amount: Money
    most: Money | None = None
    strong: bool = False
    apart: bool = False


def sums_of_piece(
    price: CustomerPrice, words: PriceWords, stated: Money | None = None
) -> tuple[Sum, ...]:
    """Return a piece's price as its customer understands it, what was taken off or added, and its total in its price mode.

    What rounds the total up or down is a part of the last of the lines that stand together, so that they add up to the
    total without a line that says "-0.01"; it stands by itself only where it is as much as that line or more.
    stated: what the piece comes to as the sums of its order are stated, where its order has pieces that
    were priced both with and without tax; the tax that lies between stands as a line of its own.
    """
    by_group: dict[LineGroup, Money] = {}
    for line in price.lines:
        zero = Money.zero(line.amount.currency)
        by_group[line.group] = by_group.get(line.group, zero) + line.amount
    lines = list(_by_what_they_are_for(by_group, words))
    rounding = price.rounding
    if lines and abs(rounding).minor < lines[-1].amount.minor:
        lines[-1] = replace(lines[-1], amount=lines[-1].amount + rounding)
        rounding = Money.zero(rounding.currency)
    adjusted = (
        (BY_NUMBER.format(price.copies), price.by_number),
        ("Discount", price.discount),
        ("Rush", price.rush),
        ("Rounding", rounding),
    )
    return (
        *lines,
        *(Sum(label=label, amount=amount) for label, amount in adjusted if amount),
        *_up_to_stated(price, stated),
    )


def _by_what_they_are_for(by_group: Mapping[LineGroup, Money], words: PriceWords) -> Iterator[Sum]:
    """Return a line for what stands together, named by what is there: "Mats and boards"."""
    for groups in _GROUPS:
        there = [group for group in groups if group in by_group]
        if there:
            first, *others = (by_group[group] for group in there)
            named = [words.of(group) for group in there]
            *before, last = named
            label = f"{', '.join(before)} and {last}" if before else last
            yield Sum(label=label.capitalize(), amount=sum(others, first))


def _up_to_stated(price: CustomerPrice, stated: Money | None) -> Iterator[Sum]:
    """Return the lines that lead from a piece's own price mode to the total in that of its order, through its tax."""
    if stated is not None and stated != price.total:
        mode = "With tax" if price.tax_included else "Without tax"
        yield Sum(label=mode, amount=price.total)
        named = [_rate(part.rate) for part in price.tax.taxes if part.tax]
        adds = named[0] if len(named) == 1 else "Tax"
        yield Sum(label=adds if stated > price.total else NOT_CHARGED, amount=stated - price.total)
    alike = f"{price.copies} × {show_money(price.each)}" if price.copies > 1 else SUBTOTAL
    if stated is not None and stated != price.total and price.copies > 1:
        alike = f"{price.copies} alike"
    yield Sum(label=alike, amount=price.total if stated is None else stated, strong=True)


def from_to(least: Sequence[Sum], most: Sequence[Sum]) -> tuple[Sum, ...]:
    """Return sums from the least to the most (P10); where they do not say the same, the totals alone."""
    if [each.label for each in least] != [each.label for each in most]:
        least = [each for each in least if each.strong]
        most = [each for each in most if each.strong]
    return tuple(
        replace(one, most=other.amount) if one.amount != other.amount else one
        for one, other in zip(least, most, strict=True)
    )


def sums_of_account(order: Order, account: Account) -> tuple[Sum, ...]:
    """From the pieces together to what is paid, with each tax; every line adds to the one before.

    Where the pieces' prices hold the tax it is told apart from the sum, else it is added to it. A
    tax-free customer pays what the tax leaves of a price that holds it (M2). Where pieces were priced
    both ways all are stated with tax, as on an invoice; see `sums_of_piece`. What was taken off out of
    goodwill stands as it was agreed: before the taxes that are added where that was without tax, else
    before the total, whose taxes are then told apart, since they are less than were added.
    """
    if account.with_tax:
        return (*_held(order, account), *_told_apart(account))
    return tuple(_added(order, account))


def _held(order: Order, account: Account) -> Iterator[Sum]:
    """Return the lines up to the total, where the amounts hold the tax."""
    total = account.gross if is_mixed(order) else _as_priced(order, account)
    off = tuple(_reduced_by(account, account.lowered, with_tax=True))
    if total != account.gross or off:
        yield Sum(label=together(of_lines=order.has_lines), amount=total)
    if total != account.gross:
        yield Sum(label=NOT_CHARGED, amount=account.gross - total)
    yield from off
    yield Sum(label="Total", amount=account.to_pay, strong=True)


def together(*, of_lines: bool) -> str:
    """Say what the sum of all is called before anything is taken off. of_lines: also of such without a piece."""
    return "Together" if of_lines else "Subtotal of all pieces"


def _added(order: Order, account: Account) -> Iterator[Sum]:
    """Return the lines up to the total, where tax is added to the amounts."""
    without = [each for each in account.lowered if not each.with_tax]
    within = [each for each in account.lowered if each.with_tax]
    taxes = [part for part in account.between.taxes if part.tax]
    if taxes or account.lowered:
        yield Sum(label=together(of_lines=order.has_lines), amount=account.agreed.net)
    yield from _reduced_by(account, without, with_tax=False)
    if without and taxes:
        yield Sum(label=WITHOUT_TAX, amount=account.between.net)
    yield from (Sum(label=_rate(part.rate), amount=part.tax) for part in taxes)
    yield from _reduced_by(account, within, with_tax=True)
    yield Sum(label="Total", amount=account.to_pay, strong=True)
    if within:
        yield from _told_apart(account)


def is_mixed(order: Order) -> bool:
    """Tell whether some of the pieces and lines that count were priced with tax and some without."""
    return len({each.agreed.tax_policy.included for each in order.sold}) > 1


def _as_priced(order: Order, account: Account) -> Money:
    """Return the totals in their price mode, including the tax that a tax-free customer does not pay."""
    totals = (each.agreed.price.total for each in order.sold)
    return sum(totals, Money.zero(account.to_pay.currency))


def _reduced_by(account: Account, lowered: Sequence[Lowered], *, with_tax: bool) -> Iterator[Sum]:
    """Return a line for each reduction given as goodwill, with its reason; one line where nothing is left to pay."""
    if not account.to_pay and len(lowered) > 1:
        zero = Money.zero(account.to_pay.currency)
        whole = sum((each.stated(with_tax=with_tax) for each in lowered), zero)
        yield Sum(label="Taken off", amount=-whole)
        return
    for each in lowered:
        amount = -each.stated(with_tax=with_tax)
        yield Sum(label=f"Taken off: {each.reason}", amount=amount)


def _told_apart(account: Account) -> Iterator[Sum]:
    taxes = [part for part in account.taxes if part.tax]
    for part in taxes:
        yield Sum(label=f"of which {_rate(part.rate)}", amount=part.tax, apart=True)
    if taxes:
        yield Sum(label=WITHOUT_TAX, amount=account.charged.net, apart=True)


def _rate(rate: TaxRate) -> str:
    return f"{rate.name} {show_percent(rate.percent)}"


def payments_of(order: Order, account: Account) -> tuple[Sum, ...]:
    """Return what was received and given back, day by day, and what is still to be paid.

    An entry that was a mistake is left out, and so is its correction.
    """
    entries = standing(order.entries)
    if not entries and (not account.reduced or order.order_number is None):
        return ()
    named = {
        EntryKind.DEPOSIT: "Deposit",
        EntryKind.PAYMENT: "Payment",
        EntryKind.REFUND: "Refunded",
    }
    return (
        *(
            Sum(
                label=f"{named[written.entry.kind]}, {day(written.entry.at.date())}, "
                f"{written.entry.method.value}",
                amount=-written.entry.amount,
            )
            for written in entries
        ),
        Sum(
            label="To refund" if account.balance.minor < 0 else "Balance to pay",
            amount=abs(account.balance),
            strong=True,
        ),
    )
