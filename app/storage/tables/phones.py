"""The phones that are let in, and where they reach the app.

What stands here counts only where its `standing` is the one in the keys beside the file (`storage/keys.py`).
"""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Index, delete, select
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.storage.mapping import STRICT, Row, columns_of, value_of, write


class PhoneAccessRow(Row):
    """Where phones reach the app, in one row; none where that was never turned on."""

    __tablename__ = "phone_access"
    __table_args__ = (STRICT,)
    id: Mapped[int] = mapped_column(primary_key=True)
    is_on: Mapped[bool]
    address: Mapped[str]
    port: Mapped[int]
    standing: Mapped[str]


class PhoneRow(Row):
    """A phone that was paired. digest: of the token that it was given, which is kept nowhere."""

    __tablename__ = "phones"
    __table_args__ = (
        Index("phones_by_digest", "digest", unique=True),
        Index("phones_by_name", "name", unique=True),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    role: Mapped[str]
    digest: Mapped[str]
    paired_at: Mapped[datetime]
    seen_at: Mapped[datetime]


@dataclass(frozen=True, slots=True, kw_only=True)
class PhoneAccess:
    """Where phones reach the app, and whether they do. standing: what its keys must say for it to count."""

    is_on: bool
    address: str
    port: int
    standing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phone:
    """A paired phone. role: what it works on, as a word. seen_at: when it asked for something last, to the hour."""

    id: int
    name: str
    role: str
    digest: str
    paired_at: datetime
    seen_at: datetime


_ID = 1


class Phones:
    """Keeps them."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def access(self) -> PhoneAccess | None:
        """Return where phones reach the app; None where that was never turned on."""
        row = self._session.get(PhoneAccessRow, _ID)
        return None if row is None else value_of(PhoneAccess, row)

    def set_access(self, access: PhoneAccess) -> None:
        """Keep where they do."""
        row = self._session.get(PhoneAccessRow, _ID)
        if row is None:
            self._session.add(PhoneAccessRow(id=_ID, **columns_of(access)))
        else:
            write(row, columns_of(access))
        self._session.flush()

    def all(self) -> tuple[Phone, ...]:
        """Return all phones, the oldest first."""
        rows = self._session.scalars(select(PhoneRow).order_by(PhoneRow.id))
        return tuple(value_of(Phone, row) for row in rows)

    def add(self, *, name: str, role: str, digest: str, at: datetime) -> None:
        """Keep a further one."""
        self._session.add(PhoneRow(name=name, role=role, digest=digest, paired_at=at, seen_at=at))
        self._session.flush()

    def seen(self, phone_id: int, at: datetime) -> None:
        """Note that one asked for something; one that is gone is nobody."""
        row = self._session.get(PhoneRow, phone_id)
        if row is not None:
            row.seen_at = at
            self._session.flush()

    def drop(self, phone_id: int) -> None:
        """Forget one."""
        self._session.execute(delete(PhoneRow).where(PhoneRow.id == phone_id))

    def drop_all(self) -> None:
        """Forget all of them."""
        self._session.execute(delete(PhoneRow))
