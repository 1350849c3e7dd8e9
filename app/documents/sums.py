"""The sums that a customer sees: of a piece, and of a whole quote or order.

Everything comes from the customer's view of a price, which has no place for cost or margin (P9).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.documents.printing import day
from app.money import Money, TaxPart, show_percent
from app.orders import EntryKind, Order
from app.orders.reductions import standing
from app.orders.totals import Account
from app.pricing import CustomerPrice, LineGroup

_GROUPS = {
    LineGroup.FRAME: "Frame",
    LineGroup.MATS: "Mats",
    LineGroup.FILLET: "Fillet",
    LineGroup.GLAZING: "Glazing",
    LineGroup.BOARDS: "Boards",
    LineGroup.SPACER: "Spacers",
    LineGroup.HARDWARE: "Hanging parts",
    LineGroup.EXTRAS: "Extras",
    LineGroup.LABOUR: "Work",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """One line of sums. strong: a total; apart: said beside the sums and not added to them."""

    label: str
    amount: Money
    strong: bool = False
    apart: bool = False


def sums_of_piece(price: CustomerPrice, mat_word: str) -> tuple[Sum, ...]:
    """A piece's price by group, what was taken off or added, and its total in the price mode."""
    by_group: dict[LineGroup, Money] = {}
    for line in price.lines:
        zero = Money.zero(line.amount.currency)
        by_group[line.group] = by_group.get(line.group, zero) + line.amount
    words = {**_GROUPS, LineGroup.MATS: f"{mat_word.capitalize()}s"}
    adjusted = (
        ("Discount", price.discount),
        ("Rush", price.rush),
        ("Rounding", price.rounding),
    )
    return (
        *(
            Sum(label=words[group], amount=by_group[group])
            for group in _GROUPS
            if group in by_group
        ),
        *(Sum(label=label, amount=amount) for label, amount in adjusted if amount),
        Sum(label="This piece", amount=price.total, strong=True),
    )


def sums_of_account(order: Order, account: Account) -> tuple[Sum, ...]:
    """From the pieces together to what is paid, with each tax.

    Where prices hold the tax it is told apart from the sum, else it is added to it. A tax-free
    customer pays what the tax leaves of a price that holds it (M2). What was taken off out of goodwill
    stands before the total, whose taxes are then told apart, since they are less than were added.
    """
    views = [document.customer_view() for document in account.documents]
    zero = Money.zero(account.to_pay.currency)
    total = sum((view.total for view in views), zero)
    parts = [part for view in views for part in view.tax.taxes if part.tax]
    held = total + sum((part.tax for part in parts), zero) != account.gross
    off = reduced_by(order, account)
    return (
        *_up_to_gross(account.gross, total, parts, held=held, goes_on=bool(off)),
        *off,
        Sum(label="Total", amount=account.to_pay, strong=True),
        *(_told_apart(account) if held or off else ()),
    )


def _up_to_gross(
    gross: Money, total: Money, parts: list[TaxPart], *, held: bool, goes_on: bool
) -> Iterator[Sum]:
    """Pieces and what tax adds to them. goes_on: whether something is taken off the sum of both."""
    if total != gross or goes_on:
        yield Sum(label="Pieces together", amount=total)
    if not held:
        yield from (_tax(part, apart=False) for part in parts)
    elif total != gross:
        yield Sum(label="Tax not charged", amount=gross - total)


def reduced_by(order: Order, account: Account) -> tuple[Sum, ...]:
    """What was taken off out of goodwill, with the reason; one line where it was all that was left."""
    if not account.reduced:
        return ()
    stand = standing(order.reductions)
    lines = tuple(
        Sum(label=f"Taken off: {each.entry.reason}", amount=-each.entry.amount) for each in stand
    )
    if sum((line.amount for line in lines), account.reduced):
        return (Sum(label="Taken off", amount=-account.reduced),)
    return lines


def _told_apart(account: Account) -> Iterator[Sum]:
    taxes = [part for part in account.taxes if part.tax]
    if not taxes:
        return
    yield from (_tax(part, apart=True) for part in taxes)
    net = account.to_pay - sum((part.tax for part in taxes), Money.zero(account.to_pay.currency))
    yield Sum(label="Without tax", amount=net, apart=True)


def _tax(part: TaxPart, *, apart: bool) -> Sum:
    rate = f"{part.rate.name} {show_percent(part.rate.percent)}"
    return Sum(label=f"of which {rate}" if apart else rate, amount=part.tax, apart=apart)


def payments_of(order: Order, account: Account) -> tuple[Sum, ...]:
    """What was received and given back, day by day, and what is still to pay."""
    if not order.entries and not account.reduced:
        return ()
    named = {
        EntryKind.DEPOSIT: "Deposit",
        EntryKind.PAYMENT: "Payment",
        EntryKind.REFUND: "Given back",
        EntryKind.CORRECTION: "Correction",
    }
    return (
        *(
            Sum(
                label=f"{named[written.entry.kind]}, {day(written.entry.at.date())}, "
                f"{written.entry.method.value}",
                amount=-written.entry.amount,
            )
            for written in order.entries
        ),
        Sum(
            label="To return" if account.balance.minor < 0 else "Balance to pay",
            amount=abs(account.balance),
            strong=True,
        ),
    )
