"""Copies of the database: made, re-opened and checked; and put back.

A backup that was not opened again and checked is no backup.
"""

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from app.errors import Conflict, NotFound
from app.storage.checking import problems_of
from app.storage.claim import claimed
from app.storage.engine import Store
from app.storage.faults import Damaged, NotOurDatabase, not_written
from app.storage.migrating import schema_of
from app.storage.privacy import FOLDER, keep_private, private_file

_BESIDE = ("-wal", "-shm")


def back_up(store: Store, folder: Path, *, now: datetime | None = None) -> Path:
    """Copy the database, while it is in use, into a folder that is made where it is missing.

    now: None for the clock's. Returns the copy, whose name has the date and time. Raises: CannotWrite, Damaged, Conflict.
    """
    copy = folder / f"{store.path.stem}-{_stamp(now)}{store.path.suffix}"
    if copy.exists():
        raise Conflict(f"{copy} is there already; wait a second and copy again.")
    part = copy.with_suffix(".part")
    try:
        folder.mkdir(FOLDER, parents=True, exist_ok=True)
        private_file(part)
        _copy(store.path, part)
        _check(part)
        part.replace(copy)
    except (OSError, sqlite3.OperationalError) as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise not_written(copy, error) from error
    return copy


def _copy(database: Path, to: Path) -> None:
    with closing(sqlite3.connect(database, isolation_level=None)) as connection:
        connection.execute("VACUUM INTO ?", (str(to),))
    _onto_the_disk(to)


def restore(backup: Path, database: Path, *, now: datetime | None = None) -> Path | None:
    """Put a checked backup in the place of the database.

    A backup of an older version is brought up to date when it is opened. Returns where the old
    database is kept, None where there was none. now: None for the clock's. Raises: NotFound,
    NotOurDatabase, NewerDatabase, Damaged, DataInUse, CannotWrite.
    """
    if not backup.is_file():
        raise NotFound(f"There is no file {backup}.")
    if schema_of(backup) is None:
        raise NotOurDatabase(backup)
    with claimed(database):
        part = database.with_suffix(".part")
        try:
            private_file(part)
            shutil.copyfile(backup, part)
            _check(part)
            _onto_the_disk(part)
            kept = _set_aside(database, now)
            part.replace(database)
            keep_private(database)
        except OSError as error:
            raise not_written(database, error) from error
        finally:
            part.unlink(missing_ok=True)
    return kept


def check_database(store: Store) -> tuple[str, ...]:
    """Everything that is wrong with the data, a sentence each; empty when they are whole."""
    return problems_of(store.path)


def _stamp(now: datetime | None) -> str:
    return (now or datetime.now().astimezone()).strftime("%Y-%m-%d-%H%M%S")


def _check(part: Path) -> None:
    """Raises: Damaged, NotOurDatabase, NewerDatabase; the file is removed then."""
    try:
        if found := problems_of(part):
            raise Damaged(part, found)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _set_aside(database: Path, now: datetime | None) -> Path | None:
    """Move the database with whatever SQLite keeps beside it out of the way."""
    if not database.exists():
        return None
    kept = database.with_name(f"{database.stem}.before-restore-{_stamp(now)}{database.suffix}")
    for ending in ("", *_BESIDE):
        beside = database.with_name(database.name + ending)
        if beside.exists():
            beside.rename(kept.with_name(kept.name + ending))
    return kept


def _onto_the_disk(path: Path) -> None:
    with path.open("rb") as file:
        os.fsync(file.fileno())
