"""Forms that were sent: one that is sent a second time is answered as the first time and writes nothing.

While a request runs, `SENT` holds the form that it brought. The first write of that request keeps the form
with what it wrote, in one transaction; the answer is noted before it is given. A form is known by its key, another
one each time that it is shown, for a day.
"""

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Self

from sqlalchemy import delete, update
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import AppError
from app.storage.mapping import KEYED, Row

REMEMBERED = timedelta(days=1)
"""How long the key of a form is known. Source: ours; a page that stood open over night is sent once too."""

WITHOUT_A_KEY = timedelta(hours=1)
"""The same for a form that bears no key of its own. Source: ours; who sends the very same fields an hour later means it."""

_KEY = re.compile(r"(?:[a-z0-9]{1,16}\.)?[A-Za-z0-9_-]{16,64}", re.ASCII)


class SentFormRow(Row):
    """A form that was sent. key: of the page that it stood on; fields: digest of its address and all that was
    typed. location, notice: the page after it and what that says; both blank until they are known.
    """

    __tablename__ = "sent_forms"
    __table_args__ = (KEYED,)
    key: Mapped[str] = mapped_column(primary_key=True)
    fields: Mapped[str]
    at: Mapped[datetime]
    location: Mapped[str]
    notice: Mapped[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Where a form led. notice: what that page says once, with the address of a paper in a second line."""

    location: str
    notice: str


class PutBack(AppError):
    """A form stood on a page that was opened before the data were put back: an id or a number may be another's by now."""

    code = "put-back"

    def __init__(self) -> None:
        super().__init__(
            "The data were put back to an older state since this page was opened, and numbers given since are given again: "
            "what the page speaks of may be another order, piece or customer now. Nothing was saved."
        )


class SentBefore(AppError):
    """A form of the same page was sent before and kept. at: when; led_to: the page that it led to, blank where none is known."""

    code = "sent-before"

    def __init__(self, at: datetime, first: Answer) -> None:
        said = first.notice.partition("\n")[0]
        super().__init__(
            f"This form was saved before, at {at.astimezone():%H:%M}{f': “{said}”' if said else '.'} "
            "What was sent now was not saved."
        )
        self.at = at
        self.led_to = first.location


@dataclass(slots=True, kw_only=True)
class SentForm:
    """A form of the request that runs. fields: digest of its address and all its fields. has_key: false of a page
    that was made before forms bore keys, which is known by its fields. has_version: it says itself which version it
    changes, so that nothing is made twice. again: it is meant a second time. kept: it was written down.
    check_life: raises PutBack where its page is of another life of the data.
    """

    key: str
    fields: str
    at: datetime
    has_key: bool = True
    has_version: bool = False
    again: bool = False
    kept: bool = False
    check_life: Callable[[], None] = lambda: None

    @classmethod
    def of(cls, key: str, path: str, fields: Mapping[str, str], *, at: datetime) -> Self:
        """Know a form by its key, and what was typed by its address and every field of it."""
        text = json.dumps([path, sorted(fields.items())])
        digest = hashlib.sha256(text.encode()).hexdigest()
        has_key = _KEY.fullmatch(key) is not None
        return cls(
            key=key if has_key else digest,
            fields=digest,
            at=at,
            has_key=has_key,
            has_version=fields.get("version", "") not in ("", "0"),
        )


SENT: ContextVar[SentForm | None] = ContextVar("the form of the request that runs", default=None)


class SentForms:
    """Keeps the forms of the last day that wrote something."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def answer_to(self, form: SentForm) -> Answer | None:
        """Return where the same form led, with the same fields; None where it was not sent or its answer is not known."""
        row = self._known(form)
        if row is None or not form.has_key or row.fields != form.fields or not row.location:
            return None
        return _answer(row)

    def keep(self, form: SentForm) -> None:
        """Write a form down. Raises: SentBefore where one with its key was kept, unless its version tells them apart; PutBack."""
        form.check_life()  # here nothing can be put back meanwhile
        forgotten = SentFormRow.at < form.at - REMEMBERED
        self._session.execute(delete(SentFormRow).where(forgotten))
        row = self._known(form)
        changed = row is not None and row.fields != form.fields
        if row is not None and not form.again and not (changed and form.has_version):
            raise SentBefore(row.at, _answer(row))
        kept = SentFormRow(key=form.key, fields=form.fields, at=form.at, location="", notice="")
        self._session.merge(kept)
        self._session.flush()

    def answered(self, form: SentForm, answer: Answer) -> None:
        """Note where a form led that was kept, unless everything was taken out meanwhile, as with the sample shop."""
        row = self._session.get(SentFormRow, form.key)
        if row is not None:
            row.location, row.notice = answer.location, answer.notice

    def refused(self, form: SentForm) -> None:
        """Forget a form that was refused after all: it may be sent again."""
        self._session.execute(delete(SentFormRow).where(SentFormRow.key == form.key))

    def forget_what_was_said(self) -> None:
        """Forget where all forms led and what was said there, as names may stand in it; they stay sent."""
        self._session.execute(update(SentFormRow).values(location="", notice=""))

    def _known(self, form: SentForm) -> SentFormRow | None:
        row = self._session.get(SentFormRow, form.key)
        remembered = REMEMBERED if form.has_key else WITHOUT_A_KEY
        return row if row is not None and row.at >= form.at - remembered else None


def _answer(row: SentFormRow) -> Answer:
    return Answer(location=row.location, notice=row.notice)
