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
import struct
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

LOG, INDEX, JOURNAL = "-wal", "-shm", "-journal"
"""What SQLite keeps beside a file, by the ends of the names. The index is made anew whenever it is missing."""

_MAGIC = frozenset({0x377F0682, 0x377F0683})
_HEAD, _FRAME = struct.Struct(">8I"), struct.Struct(">6I")
_MARK = struct.Struct(">60xI")

_PATIENCE = 300
"""Milliseconds for which a folding waits for readers. Source: ours."""

log = logging.getLogger("bevelbook.storage")


def beside(database: Path, ending: str) -> Path:
    """Return the path of a file that SQLite keeps beside the database, such as its log."""
    return database.with_name(database.name + ending)


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
    """Fold the log into its file and leave it empty; nobody else may write meanwhile.

    Returns whether it is empty now: a reader of an older moment keeps a part of it where it is.
    """
    (usual,) = connection.execute("PRAGMA busy_timeout").fetchone()
    connection.execute(f"PRAGMA busy_timeout = {_PATIENCE}")
    try:
        connection.execute("BEGIN IMMEDIATE")
        mark_anew(connection)
        connection.execute("COMMIT")
        (busy, _, _) = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    finally:
        connection.execute(f"PRAGMA busy_timeout = {usual}")
    return not busy


def fold_file(database: Path) -> None:
    """Fold the log of a file that nobody has open. Raises: sqlite3.DatabaseError."""
    if size_of(beside(database, LOG)):
        with closing(sqlite3.connect(database, isolation_level=None)) as connection:
            fold(connection)


def size_of(path: Path) -> int:
    """Bytes in a file; none where there is no file."""
    try:
        return path.stat().st_size
    except OSError:
        return 0


def is_own_log(database: Path) -> bool:
    """Tell whether what lies beside a file as its log goes on from it; so does a log in which nothing stands."""
    filled = beside(database, LOG)
    if not size_of(filled):
        return True
    if not size_of(database):
        return False
    mark, marks = _mark_of(database), frozenset(_marks_of(filled))
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


def _mark_of(database: Path) -> int:
    with database.open("rb") as file:
        return _mark_in(file.read(_MARK.size))


def _mark_in(page: bytes) -> int:
    return int(_MARK.unpack(page)[0]) if len(page) >= _MARK.size else 0


def _marks_of(filled: Path) -> Iterator[int]:
    """Yield the marks in the heads that a log holds, up to where an older log shows behind it."""
    with filled.open("rb") as file:
        head = file.read(_HEAD.size)
        if len(head) < _HEAD.size:
            return
        magic, _, page_size, _, *salts, _, _ = _HEAD.unpack(head)
        if magic not in _MAGIC:
            return
        while len(frame := file.read(_FRAME.size)) == _FRAME.size:
            number, _, *frame_salts, _, _ = _FRAME.unpack(frame)
            if frame_salts != salts:
                return
            page = file.read(_MARK.size) if number == 1 else b""
            if number == 1:
                yield _mark_in(page)
            file.seek(page_size - len(page), 1)
