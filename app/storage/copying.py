"""Copies a database whole, so that the copy is on the disk when it is made and is told from the original."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from app.storage.log import mark_anew
from app.storage.privacy import private_file


def copy_of(connection: sqlite3.Connection, to: Path) -> None:
    """Write all that was committed into a new file for its owner alone, while others read and write the old one.

    Raises: sqlite3.DatabaseError, OSError.
    """
    # VACUUM INTO would do as well, but not out of a connection that only reads: SQLite 3.40 then refuses
    # tables with a generated column.
    private_file(to)
    with closing(sqlite3.connect(to, isolation_level=None)) as copy:
        connection.backup(copy)
        copy.execute(
            "PRAGMA journal_mode = DELETE"
        )  # one file, that can be read where nothing can be written
        mark_anew(copy)
    onto_the_disk(to)


def onto_the_disk(path: Path) -> None:
    """Wait until a file, or what a folder holds, would outlast a loss of power."""
    if path.is_dir() and os.name == "nt":
        return  # Windows opens no folder, and does this by itself
    descriptor = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
