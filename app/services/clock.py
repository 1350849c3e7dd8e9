"""The clock of this machine: whether it can be right, and that somebody says it is."""

from dataclasses import dataclass
from datetime import date, datetime

from app import BUILT
from app.days import Doubt, clock_doubt, show_day, show_moment
from app.storage import KnownMoment, Stamp, Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What the clock says, and what speaks against it. last: the moment of the last entry, None before the first.

    floor: the day before which it cannot be, where nobody said that it is right all the same.
    """

    now: datetime
    last: datetime | None
    floor: date | None

    @property
    def doubt(self) -> Doubt | None:
        """Why it cannot be right, None where it can."""
        if self.floor is not None and self.now.date() < self.floor:
            return Doubt.BEHIND
        return None if self.last is None else clock_doubt(self.now, self.last)

    @property
    def sentence(self) -> str:
        """What it says and what that is held against."""
        if self.last is not None and clock_doubt(self.now, self.last):
            # Of two moments of one day the hour tells.
            show = show_moment if self.last.date() == self.now.date() else show_day
            return (
                f"This computer says {show(self.now)}; the last entry here is of {show(self.last)}."
            )
        if self.doubt is not None and self.floor is not None:
            made = f"this version of Bevelbook is not older than {show_day(self.floor)}"
            return f"This computer says {show_day(self.now.date())}; {made}."
        return f"This computer says {show_day(self.now.date())}."


def read(store: Store, now: datetime) -> Reading:
    """Read the clock against the last entry and the day on which this version was made. Raises: CannotWrite, DiskFull."""
    last = store.remembered("clock", lambda: _last(store))
    confirmed = last is not None and last.confirmed
    return Reading(
        now=now, last=last.at if last is not None else None, floor=None if confirmed else BUILT
    )


def _last(store: Store) -> KnownMoment | None:
    with store.reading() as work:
        return work.clock.last()


def confirm(store: Store, act: Stamp) -> None:
    """Take the clock for right from now on."""
    with store.writing() as work:
        work.clock.confirm(act.now)
