"""The moment by which the clock of this machine is judged: that of the last entry made while it was in no doubt."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Mapped, Session, mapped_column

from app.days import clock_doubt
from app.storage.mapping import STRICT, Row


class ClockRow(Row):
    """The one row of it. confirmed: somebody said once that the clock was right though it was in doubt."""

    __tablename__ = "clock"
    __table_args__ = (STRICT,)
    id: Mapped[int] = mapped_column(primary_key=True)
    last_at: Mapped[datetime]
    confirmed: Mapped[bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownMoment:
    """A moment at which the clock was right. confirmed: see `ClockRow`."""

    at: datetime
    confirmed: bool


class TheClock:
    """Keeps that moment."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def last(self) -> KnownMoment | None:
        """Return it; None where nothing was entered yet."""
        row = self._session.get(ClockRow, 1)
        return None if row is None else KnownMoment(at=row.last_at, confirmed=row.confirmed)

    def note(self, now: datetime) -> None:
        """Go on from the moment of an entry, unless that is in doubt itself."""
        last = self.last()
        if last is None:
            self._put(now, confirmed=False)
        elif now > last.at and clock_doubt(now, last.at) is None:
            self._put(now, confirmed=last.confirmed)

    def confirm(self, now: datetime) -> None:
        """Take the clock for right, whatever it said before."""
        self._put(now, confirmed=True)

    def _put(self, at: datetime, *, confirmed: bool) -> None:
        self._session.merge(ClockRow(id=1, last_at=at, confirmed=confirmed))
