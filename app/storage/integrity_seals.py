"""Checks that every record which is written once is as it was sealed, and that none was taken out or put in."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from app.storage.called import called, named
from app.storage.seals import SealedTable, hash_of, sealed_tables

type _Seal = tuple[int, bytes]
"""How many columns it covers, and the hash."""


def wrong_seals(connection: sqlite3.Connection) -> Iterator[str]:
    """Yield what is wrong, a sentence each; nothing for a file of a version that knew no seals."""
    there = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    if "seals" not in there:
        return
    for table in sealed_tables():
        if table.name in there:
            with _as_bytes(connection):
                found = tuple(_wrong(connection, table))
            yield from found


@contextmanager
def _as_bytes(connection: sqlite3.Connection) -> Iterator[None]:
    """Read texts as they are stored, those too that are damaged."""
    usual, connection.text_factory = connection.text_factory, bytes
    try:
        yield
    finally:
        connection.text_factory = usual


def _wrong(connection: sqlite3.Connection, table: SealedTable) -> Iterator[str]:
    name = table.name
    for (row,) in connection.execute(
        f'SELECT "row" FROM seals WHERE "of" = ? AND "row" NOT IN (SELECT id FROM "{name}")',
        (name,),
    ):
        words = called(name)
        yield f"{words[0].upper()}{words[1:]} (record {row}) was written and is gone."
    anew = _sealed_anew(connection, name)
    before: dict[int, bytes] = {}
    if table.sealing.chained:
        before = _before_each(connection, name)
    rows = connection.execute(
        f'SELECT s.width, s.hash, t.* FROM "{name}" t '
        'LEFT JOIN seals s ON s."of" = ? AND s."row" = t.id ORDER BY t.id',
        (name,),
    )
    columns = tuple(each[0] for each in rows.description[2:])
    for width, seal, *values in rows:
        stored = dict(zip(columns, values, strict=True))
        row = stored["id"]
        if seal is None:
            yield f"{named(connection, name, row)} was not written by Bevelbook: it has no seal."
            continue
        wide, hash_ = anew.get(row, (width, seal))
        covered = table.covered(columns[:wide])
        if hash_of(covered, (stored[each] for each in covered), before.get(row, b"")) != hash_:
            yield f"{named(connection, name, row)} {_what_happened(row, before)}"


def _sealed_anew(connection: sqlite3.Connection, name: str) -> dict[int, _Seal]:
    found = connection.execute(
        'SELECT "row", width, hash FROM reseals WHERE "of" = ? ORDER BY id', (name,)
    )
    return {row: (width, hash_) for row, width, hash_ in found}


def _before_each(connection: sqlite3.Connection, name: str) -> dict[int, bytes]:
    """Return the seal before that of each row of a chain."""
    found, last = {}, b""
    for row, hash_ in connection.execute(
        'SELECT "row", hash FROM seals WHERE "of" = ? ORDER BY "row"', (name,)
    ):
        found[row], last = last, hash_
    return found


def _what_happened(row: int, before: dict[int, bytes]) -> str:
    if before and row > 1 and row - 1 not in before:
        return "does not go on from the record before it: one between them was taken out, or this one was changed."
    return "is not as it was written: it was changed since."
