"""Tells which pages of a file are damaged, and what stands on them, in words."""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path

from app.counting import counted
from app.storage.called import called, named
from app.storage.held import opened
from app.storage.log import to_read
from app.storage.log_file import head_of
from app.storage.page_sums import Looked, look_at_pages

_MOST = 20
"""Damaged pages that are named one by one. Source: ours."""

_LEAF = 13
"""A page on which rows of a table stand. Source: sqlite.org/fileformat2.html, 1.6."""


def has_sums(database: Path) -> bool:
    """Tell whether sums of its pages go with a file, so that damage to them can be told."""
    return look_for_damage(database)[0]


def damage_of_pages(database: Path, *, written_over: bool = True) -> tuple[str, ...]:
    """Return what the sums of the pages tell of a file, a sentence for each damaged page; empty where nothing is damaged, or
    where no sums go with the file. Nothing is written.

    written_over: whether pages are named too that were damaged before something was written to them.
    """
    return look_for_damage(database, written_over=written_over)[1]


def look_for_damage(database: Path, *, written_over: bool = True) -> tuple[bool, tuple[str, ...]]:
    """Return whether sums go with a file, and what they tell of it, a sentence each. Nothing is written."""
    if head_of(database) is None:
        return True, ()
    try:
        with closing(to_read(database)) as connection, _one_moment(connection):
            found = look_at_pages(database)
            told = found if written_over else replace(found, before=())
            return found.known, tuple(_sentences(connection, database, told))
    except (OSError, sqlite3.DatabaseError):
        return True, ()  # what cannot be read at all is told by who reads it


@contextmanager
def _one_moment(connection: sqlite3.Connection) -> Iterator[None]:
    """Keep the log where it is meanwhile, as far as a damaged file can be asked at all."""
    connection.text_factory = bytes
    try:
        connection.execute("BEGIN")
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.DatabaseError:
        pass
    yield


def _sentences(connection: sqlite3.Connection, database: Path, found: Looked) -> Iterator[str]:
    by_what: dict[str, list[int]] = {}
    for page in found.pages[:_MOST]:
        by_what.setdefault(_what_stands_on(connection, database, page), []).append(page)
    for what, pages in by_what.items():
        many = len(pages) > 1
        which = f"Pages {', '.join(map(str, pages))}" if many else f"Page {pages[0]}"
        yield (
            f"{which} of the file {'are' if many else 'is'} damaged, or another program wrote to {'them' if many else 'it'}. {what}"
        )
    if len(found.pages) > _MOST:
        yield f"So it is with {counted(len(found.pages) - _MOST, 'further page')} of the file."
    if found.before:
        before = ", ".join(map(str, found.before[:_MOST]))
        yield (
            "These pages of the file were damaged when something was written to them, so that what stands there may be wrong: "
            f"{before}."
        )


def _what_stands_on(connection: sqlite3.Connection, database: Path, page: int) -> str:
    """Told by the table of pages that SQLite makes up (dbstat), where it is there."""
    if page == 1:
        return "It is the first one, with the list of all tables."
    try:
        (name, path), kind, table = _owner_of(connection, page)
        rows = _rows_on(connection, database, page, name, path) if kind == "table" else []
        if table == "sqlite_schema":
            return "On it stands a part of the list of all tables."
        if re.match(r"(order|customer)_(words|parts)_", table):
            kind, name = "index", "of what is searched"
        if kind == "index":
            return f"On it stands a part of the index {name}: no record is lost, but one may not be found."
        if not rows:
            return f"It belongs to {table}: {called(table)}."
        ends = dict.fromkeys((rows[0], rows[-1]))
        return f"On it stands, in {table}: {' to '.join(named(connection, table, row) for row in ends)}."
    except (sqlite3.DatabaseError, TypeError, ValueError, IndexError):
        return "What stands on it cannot be told."


def _owner_of(connection: sqlite3.Connection, page: int) -> tuple[tuple[str, str], str, str]:
    """Return the name and the way to a page, the kind of what it belongs to, and the table of that. Raises: TypeError."""
    name, path = connection.execute(
        "SELECT name, path FROM dbstat WHERE pageno = ?", (page,)
    ).fetchone()
    kind, table = connection.execute(
        "SELECT type, tbl_name FROM sqlite_master WHERE name = ?", (_text(name),)
    ).fetchone() or (b"table", name)
    return (_text(name), _text(path)), _text(kind), _text(table)


def _rows_on(
    connection: sqlite3.Connection, database: Path, page: int, name: str, path: str
) -> list[int]:
    """Return the ids of the rows on a page of a table, or of the one whose long text goes on there."""
    leaf, _, overflow = path.partition("+")
    if not overflow:
        return _ids_on(database, page)
    parent, _, cell = leaf.rpartition("/")
    found = connection.execute(
        "SELECT pageno FROM dbstat WHERE name = ? AND path = ?", (name, f"{parent}/")
    ).fetchone()
    ids = _ids_on(database, found[0]) if found else []
    number = int(cell, 16)
    return ids[number : number + 1]


def _ids_on(database: Path, page: int) -> list[int]:
    head = head_of(database)
    if head is None:
        return []
    with opened(database) as file:
        file.seek((page - 1) * head.page_size)
        stored = file.read(head.page_size)
    if not stored or stored[0] != _LEAF:
        return []
    count = int.from_bytes(stored[3:5])
    found = []
    for each in range(count):
        begins = int.from_bytes(stored[8 + 2 * each : 10 + 2 * each])
        _, after_size = _varint(stored, begins)
        found.append(_varint(stored, after_size)[0])
    return found


def _varint(stored: bytes, at: int) -> tuple[int, int]:
    """Return a number of one to nine bytes and where it ends. Source: sqlite.org/fileformat2.html, 1.6."""
    number = 0
    for byte in stored[at : at + 8]:
        number, at = number << 7 | byte & 0x7F, at + 1
        if byte < 0x80:
            return number, at
    last = stored[at] if at < len(stored) else 0
    return number << 8 | last, at + 1


def _text(value: object) -> str:
    return value.decode(errors="replace") if isinstance(value, bytes) else str(value)
