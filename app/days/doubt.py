"""Whether a clock can be right: a moment is held against the last one of which that was known."""

from datetime import datetime, timedelta
from enum import StrEnum

REST = timedelta(days=45)
"""How long a shop rests at most without being asked about its clock. Source: ours, longer than a summer's holiday."""

SLACK = timedelta(hours=1)
"""By how much a clock may go back: it is set by the network now and then. Source: ours."""


class Doubt(StrEnum):
    """How a clock is wrong, if it is."""

    AHEAD = "ahead"
    BEHIND = "behind"


def clock_doubt(now: datetime, last: datetime) -> Doubt | None:
    """Tell why a clock that says now is in doubt; None where it is not. last: a moment that is known to have been."""
    if now < last - SLACK:
        return Doubt.BEHIND
    return Doubt.AHEAD if now > last + REST else None
