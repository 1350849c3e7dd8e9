"""What a quote is left with when it is to cost what the customer wants to pay (P13).

The target is met by a reduction on the record; the lines keep their prices. Amounts that a customer says are what is
paid, with tax.
"""

from dataclasses import dataclass
from fractions import Fraction

from app.errors import Conflict, Invalid
from app.money import Money, Taxed, show_money
from app.orders.designs import undecided
from app.orders.order import Order
from app.orders.stages import Stage
from app.orders.totals import account_of
from app.pricing.price import earnings_per_hour

NEAR = Fraction(1, 10)
"""How far beside a target a choice is still said to come near, of the target. Our own choice."""


def usual_reason(asked: Money, *, with_tax: bool) -> str:
    """Return what the customer reads beside the discount where nothing else is typed: "price of 1,200.00 agreed".

    with_tax: whether the order is stated with tax, as the price that is asked for is.
    """
    return f"price of {show_money(asked)}{'' if with_tax else ' with tax'} agreed"


def comes_near(to_pay: Money, asked: Money) -> bool:
    """Tell whether a choice comes near a target: no further from it than `NEAR` of it."""
    return abs(to_pay.minor - asked.minor) <= NEAR * asked.minor


@dataclass(frozen=True, slots=True, kw_only=True)
class MetTarget:
    """A target and what it leaves.

    price: what is paid now. asked: what the customer wants to pay. off: the discount, all with tax. share: the discount
    as a part of the price. net: what is left without tax; cost: of the materials; margin: net less cost. minutes: of
    work. earned_per_hour: margin per hour of work, None without work (P9).
    """

    price: Money
    asked: Money
    off: Money
    share: Fraction
    net: Money
    cost: Money
    margin: Money
    minutes: Fraction
    earned_per_hour: Money | None

    @property
    def below_cost(self) -> bool:
        """Whether less is left than the materials cost, so that the work is given away and more."""
        return self.margin.minor < 0


def may_be_lowered(order: Order) -> bool:
    """Tell whether a target price may be met: on a quote of which every design is taken; off an order goodwill is taken."""
    return order.stage is Stage.QUOTED and bool(order.sold) and not undecided(order)


def met_by(order: Order, asked: Money) -> MetTarget:
    """Return the discount that makes a quote cost what is asked for, and what it leaves.

    Raises: Conflict where it is not a quote, Invalid at "amount" for nothing, or for no less than it costs.
    Source: handbook P13.
    """
    if order.stage is Stage.QUOTED and undecided(order):
        raise Conflict(
            f"{order.number} has designs to choose from; take one of each piece before a target price is met."
        )
    if not may_be_lowered(order):
        raise Conflict(
            f"{order.number} is {order.stage}; a target price is met on a quote. Take something off as goodwill instead."
        )
    account = account_of(order, Money.zero(asked.currency))
    if asked.currency != account.to_pay.currency:
        raise Conflict(f"{order.number} is in {account.to_pay.currency.code}; the amount is not.")
    prices = [each.agreed.price for each in order.sold]
    cost = sum((each.cost for each in prices), Money.zero(asked.currency))
    minutes = sum((each.minutes for each in prices), Fraction(0))
    return met(account.charged, asked, cost, minutes)


def met(charged: Taxed, asked: Money, cost: Money, minutes: Fraction) -> MetTarget:
    """Return the discount that makes what is charged cost what is asked for, and what is left over the cost.

    Raises: Invalid at "amount" as `met_by`. Source: handbook P13; the tax by M6.
    """
    price = charged.gross
    if asked.minor <= 0:
        raise Invalid.at(
            "amount",
            f"{show_money(asked)} would give it away; type what the customer pays, above zero and below "
            f"{show_money(price)}.",
        )
    if asked >= price:
        raise Invalid.at(
            "amount",
            f"{show_money(asked)} is no less than it costs now, {show_money(price)}; nothing has to be taken off.",
        )
    off = price - asked
    net = charged.less(off, with_tax=True).net
    margin = net - cost
    return MetTarget(
        price=price,
        asked=asked,
        off=off,
        share=Fraction(off.minor, price.minor),
        net=net,
        cost=cost,
        margin=margin,
        minutes=minutes,
        earned_per_hour=earnings_per_hour(margin, minutes),
    )
