"""Makes copies of the database, re-opens and checks them, and puts one back.

A backup that was not opened again and checked is no backup. Wherever a restoring is cut short, the next start finds
the old shop or the new one.
"""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from app.errors import Conflict, NotFound
from app.storage.copies import Why, name_of
from app.storage.copying import copy_of, onto_the_disk
from app.storage.engine import Store
from app.storage.errors import Damaged, NotOurCopy, NotOurDatabase, not_written
from app.storage.integrity import problems_of
from app.storage.lock import claimed
from app.storage.log import (
    INDEX,
    JOURNAL,
    LOG,
    beside,
    fold_file,
    put_foreign_log_aside,
    size_of,
    to_read,
)
from app.storage.machine import Machine
from app.storage.migrating import schema_of
from app.storage.privacy import FOLDER, keep_private, private_file

_PART, _OLD_PART = ".part", ".old.part"
"""Ends of the names of what is not whole yet: the new file, and the copy that is kept of the old one."""


def back_up(
    store: Store, folder: Path, *, now: datetime | None = None, why: Why = Why.BY_HAND
) -> Path:
    """Copy the database, while it is in use, into a folder that is made where it is missing.

    It is taken out of the open file, even where that was moved away. now: None for the clock's. Returns the copy,
    whose name has the date, the time and what it was made for. Raises: CannotWrite, Damaged, Conflict where one made by hand
    within the same second is there.
    """
    return _back_up(store.path, store.copy_into, folder, now, why)


def back_up_file(database: Path, folder: Path, *, now: datetime | None = None) -> Path:
    """Copy a database that is only read, as `back_up`; one of an older version stays of that version.

    Raises: NotOurDatabase, NewerDatabase, CannotWrite, Damaged, Conflict.
    """
    schema_of(database)

    def copy_into(part: Path) -> None:
        with closing(to_read(database)) as connection:
            copy_of(connection, part)

    return _back_up(database, copy_into, folder, now, Why.BY_HAND)


def _back_up(
    database: Path,
    copy_into: Callable[[Path], None],
    folder: Path,
    now: datetime | None,
    why: Why,
) -> Path:
    moment = now or datetime.now().astimezone()
    names = (name_of(database, moment, why, number) for number in range(1, 1000))
    free = (folder / name for name in names if why is Why.BY_HAND or not (folder / name).exists())
    copy = next(free)
    if copy.exists():
        raise Conflict(f"{copy} is there already; wait a second and copy again.")
    part = copy.with_suffix(".part")
    try:
        folder.mkdir(FOLDER, parents=True, exist_ok=True)
        copy_into(part)
        _check(part, database)
        part.replace(copy)
        onto_the_disk(folder)
    except (OSError, sqlite3.OperationalError) as error:
        raise not_written(copy, error) from error
    except sqlite3.DatabaseError as error:
        raise _unreadable(database, error) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return copy


def copy_checked(backup: Path, to: Path) -> None:
    """Write a new database with all that a backup holds, checked.

    Raises: NotFound, NotOurDatabase, NewerDatabase, Damaged, CannotWrite.
    """
    _check_is_there(backup)
    try:
        _bring(backup, to)
    except (OSError, sqlite3.OperationalError) as error:
        raise not_written(to, error) from error


def _check_is_there(backup: Path) -> None:
    if not backup.is_file():
        raise NotFound(f"There is no file {backup}.")


def check_is_copy(backup: Path) -> None:
    """Look whether a file may be put back, before anything is made for it. Raises: NotFound, NotOurCopy, NewerDatabase, Damaged."""
    _check_is_there(backup)
    try:
        if schema_of(backup) is None:
            raise NotOurCopy(backup)
    except NotOurDatabase:
        raise NotOurCopy(backup) from None
    except sqlite3.OperationalError as error:
        raise not_written(backup, error) from error
    except sqlite3.DatabaseError as error:
        raise _unreadable(backup, error) from error


def restore(backup: Path, database: Path, *, now: datetime | None = None) -> Path | None:
    """Put a checked backup in the place of the database.

    A backup of an older version is brought up to date when it is opened. Returns where the old
    database is kept, None where there was none. now: None for the clock's. Raises: NotFound,
    NotOurDatabase, NewerDatabase, Damaged, DataInUse, CannotWrite; nothing is changed then.
    """
    check_is_copy(backup)
    with claimed(database):
        return _put_in_place(backup, database, now)


def restore_into(store: Store, backup: Path, *, now: datetime) -> Path | None:
    """Put a checked backup in the place of the database of a store that is open, as `restore`.

    Whoever reads or writes waits meanwhile. Where the backup cannot be opened there, the old database is put back.
    Raises: as `restore`; NotInPlace, StillRead.
    """
    _check_is_there(backup)
    with store.let_go():
        kept = _put_in_place(backup, store.path, now)
        try:
            store.take_up()
        except Exception:
            if kept is not None:
                kept.replace(store.path)
                for ending in (LOG, INDEX):
                    beside(store.path, ending).unlink(missing_ok=True)
            raise
    return kept


def _put_in_place(backup: Path, database: Path, now: datetime | None) -> Path | None:
    """Exchange a database that nobody has open, by one step that counts. Returns where the old one is kept."""
    part = database.with_suffix(_PART)
    try:
        _tidy(database)
        _bring(backup, part)
        kept = _keep(database, now)
        Machine(database).begin_life()
        # The one step that counts: before it the old shop is there, after it the new one.
        part.replace(database)
        onto_the_disk(database.parent)
        for ending in (LOG, INDEX):
            beside(database, ending).unlink(missing_ok=True)
        keep_private(database)
    except (OSError, sqlite3.OperationalError) as error:
        raise not_written(database, error) from error
    finally:
        with suppress(OSError):
            _tidy(database)
    return kept


def _tidy(database: Path) -> None:
    """Take away what a restoring leaves unfinished, this one or one that was cut short. Raises: OSError."""
    for part in (_PART, _OLD_PART):
        for ending in ("", JOURNAL, LOG, INDEX):
            beside(database.with_suffix(part), ending).unlink(missing_ok=True)


def _bring(backup: Path, part: Path) -> None:
    """A copy of a backup, checked. Raises: NotOurDatabase, NewerDatabase, Damaged, OSError, OperationalError."""
    try:
        if schema_of(backup) is None:
            raise NotOurDatabase(backup)
        with closing(to_read(backup)) as connection:
            copy_of(connection, part)
    except sqlite3.OperationalError:
        raise
    except sqlite3.DatabaseError as error:
        raise _unreadable(backup, error) from error
    _check(part, backup)


def _keep(database: Path, now: datetime | None) -> Path | None:
    """Return a copy of the old database with all that was written last. Raises: OSError.

    One that cannot be read any more is copied as it lies there, with its log.
    """
    if not database.exists():
        return None
    kept = _free_name(database, now)
    part = database.with_suffix(_OLD_PART)
    try:
        put_foreign_log_aside(database)
        fold_file(database)
        with closing(to_read(database)) as connection:
            copy_of(connection, part)
    except sqlite3.DatabaseError:
        private_file(part)
        shutil.copyfile(database, part)
        if size_of(beside(database, LOG)):
            private_file(beside(kept, LOG))
            shutil.copyfile(beside(database, LOG), beside(kept, LOG))
            beside(database, LOG).unlink()
    onto_the_disk(part)
    part.replace(kept)
    return kept


def _free_name(database: Path, now: datetime | None) -> Path:
    stem = f"{database.stem}.before-restore-{_stamp(now)}"
    names = (stem, *(f"{stem}-{number}" for number in range(2, 1000)))
    paths = (database.with_name(f"{name}{database.suffix}") for name in names)
    return next(path for path in paths if not path.exists())


def damage_of(database: Path) -> tuple[str, ...]:
    """Return why a database cannot be opened as it lies there, a sentence each; none where it can, or where there is none.

    Only what SQLite itself tells is looked for, as this is asked at every start; nothing is written. Raises: NewerDatabase.
    """
    try:
        if schema_of(database) is None:
            return ()
        with closing(to_read(database)) as connection:
            found = tuple(line for (line,) in connection.execute("PRAGMA quick_check(3)"))
    except NotOurDatabase as error:
        return (error.message,)
    except sqlite3.DatabaseError as error:
        return (f"{database} is damaged and cannot be read ({error}).",)
    return () if found == ("ok",) else (f"{database} is damaged ({found[0]}).",)


def check_database(store: Store) -> tuple[str, ...]:
    """Return everything that is wrong with the data, a sentence each; empty when they are whole."""
    return problems_of(store.path, every_record=True)


def _stamp(now: datetime | None) -> str:
    return (now or datetime.now().astimezone()).strftime("%Y-%m-%d-%H%M%S")


def _unreadable(database: Path, error: sqlite3.DatabaseError) -> Damaged:
    return Damaged(database, (f"it cannot be read ({error})",))


def _check(part: Path, of: Path) -> None:
    """Raises: Damaged, which names what the part is a copy of."""
    if found := problems_of(part):
        raise Damaged(of, found)
