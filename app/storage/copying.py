"""Copies a database whole, so that the copy is on the disk when it is made and is told from the original."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from app.storage.log import file_of, mark_anew
from app.storage.page_sums import give_to_a_copy, sums_for_a_copy
from app.storage.privacy import private_file


def copy_of(connection: sqlite3.Connection, to: Path) -> None:
    """Write all that was committed into a new file for its owner alone, while others read and write the old one.

    At its end it has the sums of its pages, by which damage that was copied along is noticed too.

    Raises: sqlite3.DatabaseError, OSError.
    """
    # VACUUM INTO would do as well, but not out of a connection that only reads: SQLite 3.40 then refuses
    # tables with a generated column.
    private_file(to)
    with closing(sqlite3.connect(to, isolation_level=None)) as copy:
        with _one_moment(connection):
            connection.backup(copy)
            (mark,) = connection.execute("PRAGMA user_version").fetchone()
            sums = sums_for_a_copy(file_of(connection), mark)
        copy.execute(
            "PRAGMA journal_mode = DELETE"
        )  # one file, that can be read where nothing can be written
        mark_anew(copy)
    give_to_a_copy(to, sums)
    onto_the_disk(to)


@contextmanager
def _one_moment(connection: sqlite3.Connection) -> Iterator[None]:
    """See one moment of a file, of which nothing is folded in meanwhile that came later."""
    begun = connection.in_transaction
    if not begun:
        connection.execute("BEGIN")
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        yield
    finally:
        if not begun:
            connection.execute("ROLLBACK")


def onto_the_disk(path: Path) -> None:
    """Wait until a file, or what a folder holds, would outlast a loss of power."""
    if path.is_dir() and os.name == "nt":
        return  # Windows opens no folder, and does this by itself
    descriptor = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
