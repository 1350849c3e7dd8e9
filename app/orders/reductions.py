"""What the shop took off an order out of goodwill after it was ordered, paid or not.

A record that is only added to, beside the prices, which stay as agreed (P7), and the ledger, which holds
only money that changed hands (M3): a scratch found at collection lowers what the order comes to, and
whatever was paid beyond that is then to return. A mistake is undone by a contrary entry that names it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from app.errors import Conflict, FaultCollector
from app.money import Money, TaxPart

LONGEST_REASON = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class NewReduction:
    """A reduction to be written. amount: with tax, above zero; below zero where it undoes another.

    reason: as it is printed for the customer. undoes: id of the reduction that was a mistake.
    Raises: Invalid at "amount", "reason".
    """

    amount: Money
    reason: str
    at: datetime
    by: str
    undoes: int | None = None

    def __post_init__(self) -> None:
        if (self.amount.minor < 0) != (self.undoes is not None):
            raise ValueError("a reduction is above zero, and one that undoes another below")
        faults = FaultCollector()
        if not self.amount:
            faults.add("amount", "The amount is zero; type what is taken off, with tax.")
        if not self.reason.strip():
            faults.add("reason", "The reason is empty; type it as the customer is to read it.")
        if len(self.reason) > LONGEST_REASON:
            faults.add(
                "reason",
                f"The reason has {len(self.reason)} characters; at most {LONGEST_REASON} are kept.",
            )
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduction:
    """A reduction as written, with its id."""

    id: int
    entry: NewReduction


def taken_off(reductions: Sequence[Reduction], zero: Money) -> Money:
    """All that was taken off, what was undone left out."""
    return sum((each.entry.amount for each in reductions), zero)


def standing(reductions: Sequence[Reduction]) -> tuple[Reduction, ...]:
    """The reductions that were not undone."""
    undone = {each.entry.undoes for each in reductions}
    return tuple(r for r in reductions if r.entry.undoes is None and r.id not in undone)


def undoing(
    reductions: Sequence[Reduction], reduction_id: int, *, at: datetime, by: str
) -> NewReduction:
    """The contrary entry of one that was a mistake.

    Raises: Conflict when it is not one of these, undoes another itself, or was undone.
    """
    found = [each for each in reductions if each.id == reduction_id]
    if not found:
        raise Conflict("That reduction is not one of this order's.")
    if found[0] not in standing(reductions):
        raise Conflict("That reduction was undone already; write it again where it is due.")
    wrong = found[0].entry
    return NewReduction(
        amount=-wrong.amount, reason=wrong.reason, at=at, by=by, undoes=reduction_id
    )


def taxes_after(taxes: Sequence[TaxPart], gross: Money, off: Money) -> tuple[TaxPart, ...]:
    """The taxes of an order of a gross sum from which some of it, tax included, is taken off.

    The customer is told one sum with tax, so that is what is taken off. It lowers the price, and so
    the taxable amount with it. Where several rates (or untaxed pieces) make up the order nothing says
    for which part it is: each bears its share by gross, to the minor unit by largest remainder. The
    tax of a rate that was touched is what its remaining gross contains, rounded half up once.
    Common practice, and the way of EU law for a price reduced after the supply (Directive
    2006/112/EC, art. 90, from memory); whether and when the tax may be lowered, local rules decide.
    Raises: ValueError for more than the gross.
    """
    if not off:
        return tuple(taxes)
    if off > gross:
        raise ValueError("no more can be taken off than an order comes to")
    untaxed = gross.minor - sum(part.gross.minor for part in taxes)
    shares = shared(off.minor, (*(part.gross.minor for part in taxes), untaxed))
    return tuple(_less(part, share) for part, share in zip(taxes, shares[:-1], strict=True))


def _less(part: TaxPart, off: int) -> TaxPart:
    if not off:
        return part
    gross = part.gross - Money(off, part.net.currency)
    tax = gross.times(part.rate.percent / (1 + part.rate.percent))
    return TaxPart(part.rate, gross - tax, tax)


def shared(whole: int, weights: Sequence[int | Fraction]) -> list[int]:
    """A whole number in parts by weight that add up to it; the largest remainders are rounded up.

    Raises: ValueError where nothing has any weight and there is something to share.
    """
    total = sum(weights)
    if not total:
        if whole:
            raise ValueError("what is shared by weight needs some weight")
        return [0] * len(weights)
    exact = [Fraction(whole * weight) / total for weight in weights]
    shares = [share.__floor__() for share in exact]
    by_rest = sorted(range(len(weights)), key=lambda n: (shares[n] - exact[n], n))
    for n in by_rest[: whole - sum(shares)]:
        shares[n] += 1
    return shares
