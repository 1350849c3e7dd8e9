"""What the shop took off an order out of goodwill after it was ordered, paid or not.

A record that is only added to, beside the prices, which stay as agreed (P7), and the ledger, which holds
only money that changed hands (M3): a scratch found at collection lowers what the order comes to, and
whatever was paid beyond that is then to return. A mistake is undone by a contrary entry that names it.
How taxes follow is the business of `app.money`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from app.errors import FaultCollector
from app.journal import Contrary, Refusals, Written, to_take_back
from app.money import Money

LONGEST_REASON = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class NewReduction(Contrary):
    """A reduction to be written. amount: above zero; below zero where it undoes another.

    with_tax: how the amount is stated, which is how the order's prices are (M5). reason: as it is
    printed for the customer.
    Raises: Invalid at "amount", "reason".
    """

    amount: Money
    reason: str
    with_tax: bool = True

    def __post_init__(self) -> None:
        if (self.amount.minor < 0) != (self.takes_back is not None):
            raise ValueError("a reduction is above zero, and one that undoes another below")
        faults = FaultCollector()
        if not self.amount:
            faults.add("amount", "The amount is zero; type what is taken off.")
        if not self.reason.strip():
            faults.add("reason", "The reason is empty; type it as the customer is to read it.")
        if len(self.reason) > LONGEST_REASON:
            faults.add(
                "reason",
                f"The reason has {len(self.reason)} characters; at most {LONGEST_REASON} are kept.",
            )
        faults.finish()


Reduction = Written[NewReduction]
"""A reduction as written, with its id."""

_UNDONE = "That reduction was undone already; enter it again where it is due."
_REFUSALS = Refusals(
    unknown="That reduction is not one of this order's.", contrary=_UNDONE, again=_UNDONE
)


def undoing(
    reductions: Sequence[Reduction], reduction_id: int, *, at: datetime, by: str
) -> NewReduction:
    """Return the contrary entry of one that was a mistake.

    Raises: Conflict when it is not one of these, undoes another itself, or was undone.
    """
    wrong = to_take_back(reductions, reduction_id, _REFUSALS)
    return NewReduction(
        amount=-wrong.amount,
        reason=wrong.reason,
        at=at,
        by=by,
        takes_back=reduction_id,
        with_tax=wrong.with_tax,
    )
