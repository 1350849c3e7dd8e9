"""Seals what is written once, so that a check finds whatever was altered, taken out or put in since.

A row whose class says how it is `sealed` gets a seal in the transaction that writes it: the SHA-256 of its values as
they are stored. Of a chained table a seal covers the one before it as well, so that an entry which is gone together with
its seal leaves a gap. A row that the law wants altered is sealed anew, with a note of why; the seals before it stay.
Source: FIPS 180-4 (SHA-256).
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection, event
from sqlalchemy.orm import Mapped, ORMExecuteState, Session, UOWTransaction, mapped_column

from app.storage.journal import JournalRow, Sealing
from app.storage.mapping import KEYED, STRICT, Row
from app.storage.paging import Stamp

_MOST = 500
"""Rows that are read at once. Source: ours; far below what SQLite binds in a statement."""

type Value = bytes | str | int | float | None


class SealRow(Row):
    """The seal of a row, written once. of: its table. width: how many columns that table had then; a column that came
    later is not covered.
    """

    __tablename__ = "seals"
    __table_args__ = (KEYED,)
    of: Mapped[str] = mapped_column(primary_key=True)
    row: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    width: Mapped[int]
    hash: Mapped[bytes]


class ResealRow(JournalRow, Row):
    """That a row was sealed anew, and why, written once; the last one of a row holds."""

    __tablename__ = "reseals"
    __table_args__ = (STRICT,)
    of: Mapped[str]
    row: Mapped[int]
    width: Mapped[int]
    hash: Mapped[bytes]
    why: Mapped[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SealedTable:
    """A table of which every row is sealed."""

    name: str
    sealing: Sealing

    def covered(self, columns: Sequence[str]) -> tuple[str, ...]:
        """Return those of a table's first columns that a seal covers."""
        only = self.sealing.columns
        return tuple(name for name in columns if not only or name in only)


def sealed_tables() -> tuple[SealedTable, ...]:
    """Return every table whose rows are sealed, by name."""
    return tuple(sorted(_found_tables(), key=lambda table: table.name))


def _found_tables() -> Iterator[SealedTable]:
    for mapper in Row.registry.mappers:
        sealing = _sealing_of(mapper.class_)
        if sealing is not None:
            yield SealedTable(name=mapper.class_.__tablename__, sealing=sealing)


def sealed_kind(table: str) -> type[Row] | None:
    """Return the class whose rows stand in a table, None where they are not sealed."""
    kinds = (mapper.class_ for mapper in Row.registry.mappers)
    named = (kind for kind in kinds if kind.__tablename__ == table)
    return next((kind for kind in named if _sealing_of(kind) is not None), None)


def _sealing_of(kind: type[Row]) -> Sealing | None:
    return getattr(kind, "sealed", None)


def hash_of(columns: Iterable[str], values: Iterable[Value], before: bytes = b"") -> bytes:
    """Return the SHA-256 of values as they are stored, each with its column, its kind and its length.

    before: the hash that it goes on from. A text counts by its bytes in UTF-8, so that one which cannot be read can be hashed.
    """
    digest = hashlib.sha256(before)
    for column, value in zip(columns, values, strict=True):
        kind, stored = _stored(value)
        digest.update(f"{column}:{kind}{len(stored)}:".encode())
        digest.update(stored)
    return digest.digest()


def _stored(value: Value) -> tuple[str, bytes]:
    match value:
        case None:
            return "n", b""
        case bytes():
            return "t", value
        case str():
            return "t", value.encode()
        case int():
            return "i", str(value).encode()
    return "f", repr(value).encode()


class SealingSession(Session):
    """A session that seals at its end what it wrote of what is sealed."""


_WRITTEN, _IN_BULK = "to be sealed", "to be sealed, written in bulk"


@event.listens_for(SealingSession, "after_flush")
def _note(session: Session, _flush: UOWTransaction) -> None:
    for row in session.new:
        if _sealing_of(type(row)) is not None:
            session.info.setdefault(_WRITTEN, defaultdict(set))[type(row)].add(row.id)


@event.listens_for(SealingSession, "do_orm_execute")
def _note_many(asked: ORMExecuteState) -> None:
    """Rows that are written in bulk are told by their table alone."""
    if asked.is_insert and asked.bind_mapper is not None:
        kind = asked.bind_mapper.class_
        if _sealing_of(kind) is not None:
            asked.session.info.setdefault(_IN_BULK, set()).add(kind)


@event.listens_for(SealingSession, "before_commit")
def _seal(session: Session) -> None:
    session.flush()
    written: dict[type[Row], set[int]] = session.info.pop(_WRITTEN, {})
    for kind in session.info.pop(_IN_BULK, ()):
        written.setdefault(kind, set()).update(_without_seal(session.connection(), kind))
    for kind, ids in written.items():
        _write_seals(session.connection(), kind, ids)


def _without_seal(connection: Connection, kind: type[Row]) -> Iterable[int]:
    """Return the ids of the rows that were written after the last one which is sealed."""
    name = str(kind.__tablename__)
    return connection.exec_driver_sql(
        f'SELECT id FROM "{name}" '
        'WHERE id > coalesce((SELECT max("row") FROM seals WHERE "of" = ?), 0)',
        (name,),
    ).scalars()


def _write_seals(connection: Connection, kind: type[Row], ids: Iterable[int]) -> None:
    name = str(kind.__tablename__)
    found = [(name, row, width, hash_) for row, width, hash_ in _hashes(connection, kind, ids)]
    if found:
        connection.exec_driver_sql(
            'INSERT INTO seals ("of", "row", width, hash) VALUES (?, ?, ?, ?)', found
        )


def reseal(session: Session, kind: type[Row], ids: Iterable[int], *, why: str, act: Stamp) -> None:
    """Seal rows anew that were altered for a good reason, in the transaction that altered them.

    kind: the class of the rows, such as `InvoiceRow`. why: a sentence that a check may print; it names nobody. The
    first seals stay, so that a chain holds; what holds of a row from now on is the last note of it.
    Raises: ValueError without a reason.
    """
    if not why.strip():
        raise ValueError("a row is sealed anew for a reason")
    session.flush()
    name = str(kind.__tablename__)
    session.add_all(
        ResealRow(of=name, row=row, width=width, hash=hash_, why=why, at=act.now, by=act.who)
        for row, width, hash_ in _hashes(session.connection(), kind, ids)
    )
    session.flush()


def _hashes(
    connection: Connection, kind: type[Row], ids: Iterable[int]
) -> Iterator[tuple[int, int, bytes]]:
    """Yield (id, width, hash) of rows as they are stored now, by id."""
    sealing = _sealing_of(kind)
    if sealing is None:
        raise ValueError(f"rows of {kind.__tablename__} are not sealed")
    name = str(kind.__tablename__)
    wanted = sorted(ids)
    last: tuple[int, bytes] = (0, b"")
    for first in range(0, len(wanted), _MOST):
        some = wanted[first : first + _MOST]
        asked = connection.exec_driver_sql(
            f'SELECT * FROM "{name}" WHERE id IN ({", ".join("?" * len(some))}) ORDER BY id',
            tuple(some),
        )
        columns = tuple(asked.keys())
        table = SealedTable(name=name, sealing=sealing)
        covered = table.covered(columns)
        for values in asked.all():
            row = dict(zip(columns, values, strict=True))
            before = _before(connection, name, row["id"], last) if sealing.chained else b""
            hash_ = hash_of(covered, (row[column] for column in covered), before)
            last = row["id"], hash_
            yield row["id"], len(columns), hash_


def _before(connection: Connection, name: str, row: int, made: tuple[int, bytes]) -> bytes:
    """Return the seal before a row's. made: the last one of this run, with its row, which may not be kept yet."""
    kept: Any = connection.exec_driver_sql(
        'SELECT "row", hash FROM seals WHERE "of" = ? AND "row" < ? ORDER BY "row" DESC LIMIT 1',
        (name, row),
    ).first()
    _, hash_ = max((kept[0], bytes(kept[1])) if kept else (0, b""), made, key=itemgetter(0))
    return hash_
