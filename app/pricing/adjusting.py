"""Discount, rush and rounding, and each line's part of them (P6); of several alike taken of one (P11).

What is taken off or added goes to the lines in whole minor units, first over the tax rates and then
within each, so that every sum adds up exactly. The largest remainders take the odd units.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from app.money import Money, round_half_up, round_to_step, shared
from app.pricing.lines import PriceLine
from app.pricing.rules import Adjustments


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """subtotal + by_number + discount + rush + rounding = total. by_number and discount are zero or below.

    Of several alike each is that of all of them.
    """

    subtotal: Money
    by_number: Money
    discount: Money
    rush: Money
    rounding: Money

    @property
    def total(self) -> Money:
        """What is left after all of them."""
        return self.subtotal + self.by_number + self.discount + self.rush + self.rounding


def adjust(
    subtotal: Money, adjustments: Adjustments, step: Money, off: Fraction = Fraction(0)
) -> Adjusted:
    """Discount on the subtotal, rush on what remains, the sum to the shop's step. Source: P6.

    Of several alike this is done to the price of one, which is the subtotal over their number, half up to the
    minor unit; all are that many times one, so that number × price of one is exactly the total. off: the
    share that their number takes off, before the discount. Source: P11.
    """
    copies = adjustments.copies
    one = Money(round_half_up(Fraction(subtotal.minor, copies)), subtotal.currency)
    by_number = -one.times(off)
    discount = -(one + by_number).times(adjustments.discount)
    rush = (one + by_number + discount).times(adjustments.rush)
    before = one + by_number + discount + rush
    rounded_up = round_to_step(before, step) - before
    return Adjusted(
        subtotal=subtotal,
        by_number=by_number * copies,
        discount=discount * copies,
        rush=rush * copies,
        rounding=(one + rounded_up) * copies - subtotal,
    )


def settle(lines: Sequence[PriceLine], adjusted: Adjusted) -> tuple[PriceLine, ...]:
    """Return the lines with their settled amounts, which add up to the total."""
    amounts: dict[str, int] = {}
    for line in lines:
        amounts[line.tax] = amounts.get(line.tax, 0) + line.amount.minor
    by_rate = dict(
        zip(amounts, shared_out(adjusted.total.minor, list(amounts.values())), strict=True)
    )
    settled: dict[int, int] = {}
    for tax, part in by_rate.items():
        places = [place for place, line in enumerate(lines) if line.tax == tax]
        parts = shared_out(part, [lines[place].amount.minor for place in places])
        settled.update(zip(places, parts, strict=True))
    currency = adjusted.subtotal.currency
    return tuple(
        replace(line, settled=Money(settled[place], currency)) for place, line in enumerate(lines)
    )


def shared_out(whole: int, weights: Sequence[int]) -> tuple[int, ...]:
    """Return a whole number shared out by weights in whole numbers that add up to it, by largest remainder.

    weights: zero or more; all zero share equally.
    """
    if not weights:
        return ()
    return tuple(shared(whole, weights if any(weights) else [1] * len(weights)))
