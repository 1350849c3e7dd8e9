"""On which days the shop is open: its weekdays, less the days on which it is closed.

What is promised for a day is ready on a day on which the shop is open. Source: common practice.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from app.errors import FaultCollector

MOST_CLOSED = 400
"""Days that may be named as closed; holidays of some years fit. Source: ours."""


class Weekday(StrEnum):
    """The days of the week in the order of ISO 8601, which begins with Monday."""

    MONDAY = "monday"
    TUESDAY = "tuesday"
    WEDNESDAY = "wednesday"
    THURSDAY = "thursday"
    FRIDAY = "friday"
    SATURDAY = "saturday"
    SUNDAY = "sunday"


WEEK = tuple(Weekday)


def weekday_of(day: date) -> Weekday:
    """Return the weekday of a date."""
    return WEEK[day.weekday()]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenDays:
    """weekdays: on which the shop is open, Monday to Saturday by default. closed: dates on which it is not.

    Raises: Invalid at "weekdays" where no day is left, at "closed".
    """

    weekdays: tuple[Weekday, ...] = WEEK[:6]
    closed: tuple[date, ...] = ()

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not self.weekdays:
            faults.add("weekdays", "The shop is open on at least one day of the week; tick one.")
        if len(self.closed) > MOST_CLOSED:
            faults.add(
                "closed",
                f"{len(self.closed)} days are named as closed; at most {MOST_CLOSED} are kept. "
                "Leave those out that are past.",
            )
        faults.finish()

    def open_on(self, day: date) -> bool:
        """Tell whether the shop is open on a day."""
        return weekday_of(day) in self.weekdays and day not in self.closed

    def next_open(self, day: date) -> date:
        """Return the day itself where the shop is open then, else the next day on which it is."""
        while not self.open_on(day):
            day += timedelta(days=1)
        return day


def in_spans(days: tuple[date, ...]) -> tuple[tuple[date, date], ...]:
    """Dates as spans of days that follow each other, first and last of each, in order."""
    spans: list[tuple[date, date]] = []
    for day in sorted(set(days)):
        if spans and day == spans[-1][1] + timedelta(days=1):
            spans[-1] = (spans[-1][0], day)
        else:
            spans.append((day, day))
    return tuple(spans)
