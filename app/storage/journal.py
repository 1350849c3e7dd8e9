"""Records that are only added to, one table each: what every row has, and how entries are written and read."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import InstrumentedAttribute, Mapped, Session, mapped_column

from app.storage.mapping import Row, columns_of


class JournalRow:
    """The columns of an entry, written once: its id, when it was written and by whom."""

    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    by: Mapped[str]


class Journal[R: Row]:
    """Keeps one record. owner: the column of what its entries belong to, an order, a piece, a plan."""

    def __init__(self, session: Session, row: type[R], owner: InstrumentedAttribute[int]) -> None:
        self._session = session
        self._row: Any = row
        self._owner = owner

    def add(self, owner_id: int, *entries: object) -> int:
        """Write entries down, values with a column for each field; returns the id of the last one, 0 for none."""
        last = 0
        for entry in entries:
            row = self._row(**{self._owner.key: owner_id}, **columns_of(entry))
            self._session.add(row)
            self._session.flush()
            last = row.id
        return last

    def of(self, *owner_ids: int) -> Sequence[R]:
        """The rows of some owners, the oldest first."""
        ours = select(self._row).where(self._owner.in_(owner_ids))
        return self._session.scalars(ours.order_by(self._row.id)).all()

    def by_owner(self, owner_ids: Iterable[int]) -> Mapping[int, Sequence[R]]:
        """The rows of some owners, each one's the oldest first; of who has none, an empty list."""
        found: dict[int, list[R]] = defaultdict(list)
        for row in self.of(*owner_ids):
            found[getattr(row, self._owner.key)].append(row)
        return found
