"""Chooses which copies of the data stay, so that a mistake that is noticed late can still be undone and the disk does not fill.

It has no clock and reads nothing. Source: ours, after the habit of keeping sons, fathers and grandfathers of a record.
"""

from collections.abc import Callable, Hashable, Iterable, Mapping
from datetime import date, datetime

OF_TODAY = 3
"""How many of the current day stay."""

DAYS, WEEKS, MONTHS = 14, 8, 12
"""Of how many days, weeks and months one stays: the last one in each. Those without any copy are not counted."""


def staying[K](made: Mapping[K, datetime], today: date) -> frozenset[K]:
    """Return the copies that stay, by when each was made.

    Weeks are those of ISO 8601, from Monday. The newest one always stays, also where the clock was put back since.
    """
    newest_first = sorted(made, key=lambda each: made[each], reverse=True)
    days = {each: made[each].date() for each in newest_first}
    of_today = [each for each in newest_first if days[each] == today]
    return frozenset(
        (
            *newest_first[:1],
            *of_today[:OF_TODAY],
            *_last_of_each(newest_first, lambda each: days[each], DAYS),
            *_last_of_each(newest_first, lambda each: days[each].isocalendar()[:2], WEEKS),
            *_last_of_each(newest_first, lambda each: (days[each].year, days[each].month), MONTHS),
        )
    )


def _last_of_each[K](
    newest_first: Iterable[K], span: Callable[[K], Hashable], most: int
) -> tuple[K, ...]:
    """Return the newest of each of the newest spans of time."""
    last: dict[Hashable, K] = {}
    for each in newest_first:
        last.setdefault(span(each), each)
    return tuple(last.values())[:most]
