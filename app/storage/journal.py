"""Records that are only added to, one table each: what every row has, and how entries are written and read."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from typing import Any, ClassVar

from sqlalchemy import ForeignKey, Select, select
from sqlalchemy.orm import InstrumentedAttribute, Mapped, Session, declared_attr, mapped_column

from app.codec import Codec
from app.journal import Noted, Written
from app.storage.mapping import Row, columns_of, value_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Sealing:
    """How rows are sealed (`seals`). chained: each seal covers the one before it. columns: those that never change, where
    others of the row do; none named: all of them.
    """

    chained: bool = False
    columns: tuple[str, ...] = ()


class JournalRow:
    """The columns of an entry, written once: its id, when it was written and by whom. Every entry is sealed."""

    sealed: ClassVar[Sealing] = Sealing()
    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    by: Mapped[str]


class ContraryRow(JournalRow):
    """The same of an entry that may take another one back, each no more than once."""

    @declared_attr
    @classmethod
    def takes_back(cls) -> Mapped[int | None]:
        """Return the id of that one."""
        table: Any = cls
        return mapped_column(ForeignKey(f"{table.__tablename__}.id"))


class Journal[E: Noted]:
    """Keeps one record. owner: the column of what its entries belong to, an order, a piece, a plan.

    documents: the fields that are kept as JSON, each with its codec.
    """

    def __init__(
        self,
        session: Session,
        entry: type[E],
        row: type[Row],
        owner: InstrumentedAttribute[int],
        documents: Mapping[str, Codec[Any]] = MappingProxyType({}),
    ) -> None:
        self._session = session
        self._entry = entry
        self._row: Any = row
        self._owner = owner
        self._documents = documents

    def add(self, owner_id: int, *entries: E) -> int:
        """Write entries down; returns the id of the last one, 0 where there is none."""
        last = 0
        for entry in entries:
            written = {
                name: codec.write(getattr(entry, name)) for name, codec in self._documents.items()
            }
            named = columns_of(entry, but=self._documents)
            row = self._row(**{self._owner.key: owner_id}, **named, **written)
            self._session.add(row)
            self._session.flush()
            last = row.id
        return last

    def of(self, owner_id: int) -> tuple[Written[E], ...]:
        """Return the entries of one owner, the oldest first."""
        return self.by_owner([owner_id])[owner_id]

    def by_owner(self, owner_ids: Iterable[int]) -> Mapping[int, tuple[Written[E], ...]]:
        """Return the entries of some owners, each one's the oldest first; of who has none, nothing."""
        ours = select(self._row).where(self._owner.in_(tuple(owner_ids)))
        found: dict[int, tuple[Written[E], ...]] = defaultdict(tuple)
        for row in self._session.scalars(ours.order_by(self._row.id)):
            found[getattr(row, self._owner.key)] += (self.read(row),)
        return found

    def ids_by_owner(self, owners: Select[int]) -> Mapping[int, tuple[int, ...]]:
        """Return the ids of the entries of some owners, each one's the oldest first; of who has none, nothing.

        owners: what their ids are selected by, of many owners cheaper than the ids themselves.
        An entry never changes under its id, so what is remembered of it need not be read again.
        """
        ours = select(self._owner, self._row.id).where(self._owner.in_(owners))
        found: dict[int, tuple[int, ...]] = defaultdict(tuple)
        for owner, id in self._session.execute(ours.order_by(self._row.id)):
            found[owner] += (id,)
        return found

    def by_id(self, ids: Iterable[int]) -> dict[int, E]:
        """Return some entries by their ids."""
        wanted = tuple(ids)
        if not wanted:
            return {}
        rows = self._session.scalars(select(self._row).where(self._row.id.in_(wanted)))
        return {row.id: self.read(row).entry for row in rows}

    def read(self, row: Any) -> Written[E]:
        """Return the entry of a row."""
        read = {name: codec.read(getattr(row, name)) for name, codec in self._documents.items()}
        return Written(id=row.id, entry=value_of(self._entry, row, **read))
