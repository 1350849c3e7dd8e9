"""Days and moments of the sample: the shop is closed on Sundays, and nothing happens after its end."""

from datetime import UTC, date, datetime, time, timedelta
from random import Random

OPENS, CLOSES = time(9), time(17, 30)
_MINUTES_OPEN = 510


def open_day(day: date) -> date:
    """The day itself, or the Saturday before a Sunday. Never turns the order of two days round."""
    return day - timedelta(days=1) if day.weekday() == 6 else day


def moment(day: date, random: Random, *, after: datetime | None = None) -> datetime:
    """A moment in the opening hours of an open day (UTC), some minutes after another at least."""
    opened = datetime.combine(open_day(day), OPENS, UTC)
    at = opened + timedelta(minutes=random.randrange(_MINUTES_OPEN))
    if after is not None and at <= after:
        at = after + timedelta(minutes=random.randint(4, 25))
    return at
