"""What is needed to understand a day that is typed: which day is today, and what stands first in 12/11."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class DayOrder(StrEnum):
    """What a shop writes first where day and month are both numbers."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


class Towards(StrEnum):
    """Where a day without its year lies: from today on, as a promise, or up to today, as what was done."""

    COMING = "coming"
    PAST = "past"


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """How a shop writes days, and which day it is there."""

    today: date
    order: DayOrder = DayOrder.DAY_FIRST

    @property
    def example(self) -> str:
        """A day in numbers as the shop writes it, that no other order could mean."""
        return "13/12" if self.order is DayOrder.DAY_FIRST else "12/13"
