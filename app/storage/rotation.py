"""Chooses which copies of the data stay, so that a mistake that is noticed late can still be undone and the disk does not fill.

It has no clock and reads nothing. Source: ours, after the habit of keeping sons, fathers and grandfathers of a record.
"""

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from datetime import date, datetime, timedelta

OF_TODAY = 3
"""How many of the current day stay, besides the first one of it."""

DAYS, WEEKS, MONTHS = 14, 8, 12
"""Of how many days, weeks and months one stays: the last one in each. Those without any copy are not counted."""

HELD = timedelta(days=14)
"""How long a copy stays that was asked for, or made before something that cannot be undone otherwise."""

MOST_HELD = 30
"""So many of those stay, the newest, so that the disk does not fill."""


def staying[K](
    made: Mapping[K, datetime], today: date, held: Collection[K] = frozenset()
) -> frozenset[K]:
    """Return the copies that stay, by when each was made. Only whole ones are given, so that none that is damaged counts.

    held: those that were asked for, or made before something that cannot be undone otherwise: they may alone hold what
    was in the shop then. Weeks are those of ISO 8601, from Monday. The newest one always stays, also where the clock was
    put back since.
    """
    newest_first = sorted(made, key=lambda each: made[each], reverse=True)
    days = {each: made[each].date() for each in newest_first}
    of_today = [each for each in newest_first if days[each] == today]
    still_held = [each for each in newest_first if each in held and today - days[each] <= HELD]
    return frozenset(
        (
            *newest_first[:1],
            *of_today[:OF_TODAY],
            *of_today[-1:],
            *still_held[:MOST_HELD],
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
