"""Goodwill: what is taken off an order after it was ordered, and the undoing of it."""

from dataclasses import dataclass

from app.errors import Conflict, Invalid
from app.money import Money, show_money
from app.orders import Order
from app.orders.reductions import NewReduction, undoing
from app.orders.totals import stated_with_tax
from app.services.order_transaction import OrderAt, account_now, changing, currency_of
from app.storage import Stamp, Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Goodwill:
    """What is to be taken off, stated as the order's prices are (M5), and why, as the customer reads it."""

    amount: Money
    reason: str


def reduce(store: Store, at: OrderAt, goodwill: Goodwill, act: Stamp) -> int:
    """Take some off what an order comes to. Returns the id of the reduction.

    Raises: NotFound, Stale, Conflict for a quote, Invalid at "amount" for more than it comes to, or at
    "reason".
    """
    with changing(store, at, act) as (work, order):
        reduction = NewReduction(
            amount=goodwill.amount,
            reason=goodwill.reason.strip(),
            at=act.now,
            by=act.who,
            with_tax=stated_with_tax(order),
        )
        _check(order, goodwill.amount)
        return work.orders.add_reduction(order.id, reduction)


def undo(store: Store, at: OrderAt, reduction_id: int, act: Stamp) -> int:
    """Undo a reduction that was a mistake, by a contrary one. Returns the id of that.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        contrary = undoing(order.reductions, reduction_id, at=act.now, by=act.who)
        return work.orders.add_reduction(order.id, contrary)


def _check(order: Order, amount: Money) -> None:
    ours = currency_of(order)
    if amount.currency != ours:
        raise Conflict(f"{order.number} is in {ours.code}; the amount is not.")
    if order.order_number is None:
        raise Conflict(
            f"{order.number} is not ordered yet; change its pieces or give them a discount instead."
        )
    account = account_now(order)
    comes_to = account.charged.stated(with_tax=account.with_tax)
    if amount > comes_to:
        raise Invalid.at(
            "amount",
            f"{show_money(amount)} is more than the order comes to, {show_money(comes_to)}"
            f"{'' if account.with_tax else ' without tax'}; up to that can be taken off.",
        )
