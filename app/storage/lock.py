"""Lets one program at a time work on a data folder.

SQLite before 3.51.3 can, rarely, spoil a file when two connections write or tidy up at the same
moment; within one process that is ruled out, between two by this claim. It is itself a lock of
SQLite's on an empty file beside the database: the same on every system, and gone with the process however
it ends. Source: sqlite.org/wal.html, "The WAL-reset bug".
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from app.storage.errors import CannotWrite, DataInUse, not_written
from app.storage.privacy import FILE


@contextmanager
def claimed(database: Path) -> Iterator[None]:
    """Hold a database for this process alone. Raises: DataInUse, CannotWrite."""
    file = database.with_suffix(".lock")
    with suppress(OSError):  # it is there already; that it cannot be made is said when it is opened
        file.touch(FILE, exist_ok=False)
    try:
        connection = sqlite3.connect(file, timeout=0, isolation_level=None)
    except sqlite3.OperationalError as error:
        raise CannotWrite(file, "it cannot be opened") from error
    with closing(connection):
        try:
            connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_BUSY:
                raise not_written(file, error) from error
            raise DataInUse(database.parent) from error
        yield
