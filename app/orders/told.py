"""That the customer was told that the work is ready: a record that is only added to.

On which day, and how, in the words of whoever did it. A mistake is undone by a contrary entry.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from app.errors import FaultCollector
from app.journal import Contrary, Refusals, Written, standing, to_take_back

LONGEST_HOW = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTold(Contrary):
    """That the customer was told on a day. how: "phone", "e-mail", "phone, left a message".

    Raises: Invalid at "note".
    """

    day: date
    how: str

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not self.how.strip():
            faults.add("note", "Type how the customer was told, or choose one of the ways.")
        if len(self.how) > LONGEST_HOW:
            faults.add(
                "note",
                f"How the customer was told has {len(self.how)} characters; at most {LONGEST_HOW} "
                "are kept.",
            )
        faults.finish()


Told = Written[NewTold]
"""That the customer was told, as written, with its id."""

_UNDONE = "That was undone already; note it again where it is true."
_REFUSALS = Refusals(unknown="That is not noted with this order.", contrary=_UNDONE, again=_UNDONE)


def taking_back(told: Sequence[Told], told_id: int, *, at: datetime, by: str) -> NewTold:
    """Return the contrary entry of one that was a mistake. Raises: Conflict where it does not stand."""
    wrong = to_take_back(told, told_id, _REFUSALS)
    return NewTold(day=wrong.day, how=wrong.how, at=at, by=by, takes_back=told_id)


def last_told(told: Sequence[Told]) -> date | None:
    """Return the latest day on which the customer was told, of what stands; None where nobody did."""
    return max((each.entry.day for each in standing(told)), default=None)
