"""Forms that made something: one that is sent a second time makes it once.

While a request runs, `SENT` holds the form that it brought. The first write of that request keeps the form
with what it wrote, in one transaction; the same form within an hour is refused there.
"""

import hashlib
import json
from collections.abc import Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Self

from sqlalchemy import delete
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import AppError
from app.storage.mapping import KEYED, Row

REMEMBERED = timedelta(hours=1)
"""Source: ours; who sends the very same form an hour later means it."""


class SentFormRow(Row):
    """A form that was sent. digest: of its address and all its fields. led_to: the page after it."""

    __tablename__ = "sent_forms"
    __table_args__ = (KEYED,)
    digest: Mapped[str] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    led_to: Mapped[str]


class SentBefore(AppError):
    """The same form was sent before and kept. at: when; led_to: the page that it led to, blank where none is known."""

    code = "sent-before"

    def __init__(self, at: datetime, led_to: str) -> None:
        super().__init__(
            f"This very form was saved before, at {at.astimezone():%H:%M}. Nothing was saved a second time."
        )
        self.at = at
        self.led_to = led_to


@dataclass(slots=True, kw_only=True)
class SentForm:
    """A form of the request that runs. again: it is meant a second time. kept: it was written down."""

    digest: str
    at: datetime
    again: bool = False
    kept: bool = False

    @classmethod
    def of(cls, path: str, fields: Mapping[str, str], *, at: datetime, again: bool) -> Self:
        """Know a form by its address and every field of it."""
        text = json.dumps([path, sorted(fields.items())])
        return cls(digest=hashlib.sha256(text.encode()).hexdigest(), at=at, again=again)


SENT: ContextVar[SentForm | None] = ContextVar("the form of the request that runs", default=None)


class SentForms:
    """Keeps the forms of the last hour that made something."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def keep(self, form: SentForm) -> None:
        """Write a form down. Raises: SentBefore where the same one was kept within the hour."""
        forgotten = SentFormRow.at < form.at - REMEMBERED
        self._session.execute(delete(SentFormRow).where(forgotten))
        row = self._session.get(SentFormRow, form.digest)
        if row is not None and not form.again:
            raise SentBefore(row.at, row.led_to)
        self._session.merge(SentFormRow(digest=form.digest, at=form.at, led_to=""))
        self._session.flush()

    def led_to(self, form: SentForm, path: str) -> None:
        """Note the page that a form led to."""
        self._session.get_one(SentFormRow, form.digest).led_to = path
