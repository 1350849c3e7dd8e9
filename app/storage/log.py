"""Folds the write-ahead log into its file, and tells whether a log is its own.

SQLite replays whatever log lies beside a file, and nothing in a log says which file it was written for: beside a
backup that was put back by hand, the log of the file before it would spoil it. So the head of the file bears a mark
(PRAGMA user_version), another one after each folding and in each copy. Every transaction of ours writes the head along, so
that a log holds the mark of the file that it goes on from. One that does not is put aside before the file is opened.
Source: sqlite.org/fileformat2.html, 1.3 (user version: 4 bytes at 60) and 4.1 (head and frames of a log).
"""

import logging
import secrets
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from app.storage import page_sums
from app.storage.log_file import INDEX, JOURNAL, LOG, beside, mark_of, marks_of, size_of

__all__ = ["INDEX", "JOURNAL", "LOG", "beside", "size_of"]

_PATIENCE = 300
"""Milliseconds for which a folding waits for readers. Source: ours."""

log = logging.getLogger("bevelbook.storage")


def to_read(database: Path) -> sqlite3.Connection:
    """Return a connection that changes nothing of a file nor of what lies beside it.

    Without a log nobody has the file open; SQLite is told so, since it would leave an empty log there. Meant
    for who holds the claim on the file, or knows that who holds it has the file open.
    """
    own = is_own_log(database)
    alone = not beside(database, LOG).exists() and not beside(database, JOURNAL).exists()
    how = "mode=ro&immutable=1" if alone or not own else "mode=ro"
    return sqlite3.connect(f"{database.absolute().as_uri()}?{how}", uri=True, isolation_level=None)


def keep_mark(connection: sqlite3.Connection) -> None:
    """Write the head of the file along, within a transaction that has begun."""
    (mark,) = connection.execute("PRAGMA user_version").fetchone()
    connection.execute(f"PRAGMA user_version = {mark}")


def mark_anew(connection: sqlite3.Connection) -> None:
    """Give a file another mark than any other has."""
    connection.execute(f"PRAGMA user_version = {secrets.randbelow(2**31 - 1) + 1}")


def fold(connection: sqlite3.Connection) -> bool:
    """Fold the log into its file and leave it empty; nobody else may write meanwhile. The sums of its pages go along.

    Returns whether it is empty now: a reader of an older moment keeps a part of it where it is.
    """
    database = file_of(connection)
    (usual,) = connection.execute("PRAGMA busy_timeout").fetchone()
    connection.execute(f"PRAGMA busy_timeout = {_PATIENCE}")
    try:
        connection.execute("BEGIN IMMEDIATE")
        mark_anew(connection)
        connection.execute("COMMIT")
        _keep_sums(page_sums.before_folding, database)
        (busy, _, _) = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    finally:
        connection.execute(f"PRAGMA busy_timeout = {usual}")
    if not busy:
        _keep_sums(page_sums.after_folding, database)
    return not busy


def file_of(connection: sqlite3.Connection) -> Path:
    """Return the path of the file that a connection has open."""
    return Path(connection.execute("PRAGMA database_list").fetchone()[2])


def _keep_sums(keep: Callable[[Path], None], database: Path) -> None:
    """Without its sums a file is worth as much: what was written goes into it whether they can be kept or not."""
    try:
        keep(database)
    except OSError as error:
        page_sums.forget(database)
        log.warning("The sums of the pages of %s are not kept: %s", database, error)


def fold_file(database: Path) -> None:
    """Fold the log of a file that nobody has open. Raises: sqlite3.DatabaseError."""
    if size_of(beside(database, LOG)):
        with closing(sqlite3.connect(database, isolation_level=None)) as connection:
            fold(connection)


def is_own_log(database: Path) -> bool:
    """Tell whether what lies beside a file as its log goes on from it; so does a log in which nothing stands."""
    filled = beside(database, LOG)
    if not size_of(filled):
        return True
    if not size_of(database):
        return False
    mark, marks = mark_of(database), frozenset(marks_of(filled))
    if mark and marks:
        return mark in marks
    return _go_together(database)


def _go_together(database: Path) -> bool:
    """Tell whether a file and a log that bear no marks, since an older version left them, make a whole.

    A file that is whole without a log and is not with it has another file's.
    """
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copyfile(database, copy)
        shutil.copyfile(beside(database, LOG), beside(copy, LOG))
        if _is_whole(copy):
            return True
        beside(copy, LOG).unlink(missing_ok=True)
        beside(copy, INDEX).unlink(missing_ok=True)
        shutil.copyfile(database, copy)
        return not _is_whole(copy)


def _is_whole(database: Path) -> bool:
    with closing(sqlite3.connect(database)) as connection:
        try:
            return connection.execute("PRAGMA integrity_check(1)").fetchall() == [("ok",)]
        except sqlite3.DatabaseError:
            return False


def put_foreign_log_aside(database: Path) -> Path | None:
    """Before a file is opened: move a log away that another file left there.

    Returns where it is kept, None where there was none. The one who calls holds the file.
    """
    if is_own_log(database):
        return None
    foreign = beside(database, LOG)
    kept = foreign.with_name(
        f"{foreign.name}.of-another-file-{datetime.now().astimezone():%Y-%m-%d-%H%M%S}"
    )
    foreign.rename(kept)
    beside(database, INDEX).unlink(missing_ok=True)
    log.warning(
        "%s was put in the place of another file, whose log still lay beside it. That log is kept as %s.",
        database,
        kept.name,
    )
    return kept
