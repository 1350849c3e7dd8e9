"""Takes a person out of the copies of a database: each is made anew without them, or deleted; and out of the log of the app."""

import os
import re
import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from sqlalchemy import StaticPool, create_engine

from app.errors import Conflict
from app.orders import Customer
from app.storage.copies import Copies
from app.storage.copying import copy_of, onto_the_disk
from app.storage.engine import Store
from app.storage.erasing import Erasure, clear_and_seal, reading, records, write_anew
from app.storage.found_texts import has
from app.storage.integrity import problems_of
from app.storage.log import INDEX, JOURNAL, LOG, beside, to_read
from app.storage.page_sums import SUMS
from app.storage.person import Finder, Person, cleared

_HEADER = b"SQLite format 3\x00"
_SCRATCH, _PART = ".part-clearing", ".part-cleared"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCopy:
    """A file beside the shop's own that may hold the person. what: which kind of copy, in words; is_database: whether it
    can be opened and cleared; the others can only be deleted.
    """

    path: Path
    what: str
    at: datetime
    is_database: bool


_NO_COPIES = frozenset({".json", ".keys", ".lock", ".log"})
"""Ends of the names of what lies beside the database and is no copy of it."""

_PARTS = (LOG, INDEX, JOURNAL, SUMS)
"""Ends of the names of what belongs to a database and is none itself."""

_STAMP = re.compile(r"(\d{4})-(\d\d)-(\d\d)-(\d\d)(\d\d)(\d\d)")


def copies_of(database: Path) -> tuple[KeptCopy, ...]:
    """Return the copies in the data folder, in the folder of backups and in the second one, the latest first."""
    known = Copies(database)
    every = dict.fromkeys((database.parent, known.folder, known.second or known.folder))
    damaged = {copy.path for copy in known.all() if copy.note and copy.note.problems}
    found = [
        replace(copy, what="damaged file that was kept aside") if copy.path in damaged else copy
        for folder in every
        for copy in _copies_in(folder, database)
    ]
    return tuple(sorted(found, key=lambda copy: (copy.at, copy.path.name), reverse=True))


def _copies_in(folder: Path, database: Path) -> Iterator[KeptCopy]:
    try:
        files = sorted(
            each for each in folder.iterdir() if each.is_file() and not each.is_symlink()
        )
    except OSError:
        return
    names = {each.name for each in files}
    own = {beside(database, ending).name for ending in ("", *_PARTS)}
    for path in files:
        if not path.name.startswith(database.stem) or _NO_COPIES & set(path.suffixes):
            continue
        if folder == database.parent and path.name in own:
            continue
        if any(path.name.removesuffix(end) in names - {path.name} for end in _PARTS):
            continue  # a part of another copy
        yield KeptCopy(
            path=path, what=_kind_of(path, database), at=_at(path), is_database=_is_database(path)
        )


def _kind_of(path: Path, database: Path) -> str:
    rest = path.name.removeprefix(database.stem)
    if rest.startswith(".schema-"):
        return "copy before an update"
    if rest.startswith(".before-restore"):
        return "copy before a restore"
    if ".of-another-file" in rest:
        return "log that was put aside"
    return "copy" if _is_database(path) else "file"


def _at(path: Path) -> datetime:
    stamp = _STAMP.search(path.name)
    with suppress(ValueError):
        if stamp:
            return datetime(*map(int, stamp.groups())).astimezone()  # type: ignore[arg-type]
    return datetime.fromtimestamp(path.stat().st_mtime).astimezone()


def _is_database(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(len(_HEADER)) == _HEADER
    except OSError:
        return False


def records_in(copy: Path, now: sqlite3.Connection, ids: Collection[int]) -> tuple[Customer, ...]:
    """Return what a copy of the shop has in the person's records; nothing of one that cannot be read.

    now: a connection to the shop itself.
    """
    try:
        with closing(to_read(copy)) as old:
            return records(old, ids) if _is_same_shop(old, now) else ()
    except (sqlite3.Error, OSError):
        return ()


def _is_same_shop(old: sqlite3.Connection, now: sqlite3.Connection) -> bool:
    """Tell whether a copy is of this shop, in which an id means the same: its oldest orders are the same ones."""
    if not has(old, "orders"):
        return False
    asked = "SELECT id, quote_number, quoted_on FROM orders ORDER BY id LIMIT 20"
    first = old.execute(asked).fetchall()
    return bool(first) and set(first) <= set(now.execute(asked).fetchall())


def clear_copy(copy: Path, store: Store, erasure: Erasure) -> bool:
    """Make a copy anew without the person, in its place and of its own date; a copy of an older version stays of it.

    Records are cleared by their ids where the copy is of the same shop, and by name with phone or e-mail where it is not.
    Returns whether there was anything to clear. Raises: Conflict where the copy is not whole, OSError, sqlite3.Error; the copy is as it was then.
    """
    if not _may_hold(copy, erasure.person):
        return False
    scratch, part = (copy.with_name(copy.name + end) for end in (_SCRATCH, _PART))
    times = copy.stat()
    try:
        if found := problems_of(copy):
            raise Conflict(f"{copy.name} is not whole: {found[0]}")
        with closing(to_read(copy)) as connection:
            copy_of(connection, scratch)
        with closing(sqlite3.connect(scratch, isolation_level=None)) as connection:
            with reading(store) as today:
                same = _is_same_shop(connection, today)
            own = erasure.own if same else _alike(connection, erasure.person)
            _clear_alone(connection, replace(erasure, own=own))
            copy_of(connection, part)  # as every copy is made, with whatever goes along with one
        if found := problems_of(part):
            raise Conflict(f"{copy.name} would not be whole: {found[0]}")
        os.utime(part, ns=(times.st_atime_ns, times.st_mtime_ns))
        part.replace(copy)
        onto_the_disk(copy.parent)
        for ending in (LOG, INDEX, JOURNAL):
            beside(copy, ending).unlink(missing_ok=True)
    finally:
        for made in (scratch, part):
            for ending in ("", LOG, INDEX, JOURNAL):
                with suppress(OSError):
                    beside(made, ending).unlink(missing_ok=True)
    return True


def _clear_alone(driver: sqlite3.Connection, erasure: Erasure) -> None:
    """Clear a file that nobody else has open, and write it anew."""
    # In memory, so that no journal holds meanwhile what is cleared; what is spoilt is thrown away.
    for pragma in ("journal_mode = MEMORY", "secure_delete = ON", "trusted_schema = ON"):
        driver.execute(f"PRAGMA {pragma}")
    engine = create_engine("sqlite://", creator=lambda: driver, poolclass=StaticPool)
    with engine.connect() as connection:
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        clear_and_seal(connection, erasure)
        connection.exec_driver_sql("COMMIT")
    write_anew(driver)


_AT_ONCE = 8 * 1024 * 1024


def _may_hold(copy: Path, person: Person) -> bool:
    """Tell quickly whether a word by which the person is known stands anywhere in a file, or in what lies beside it."""
    words = Finder(person).words_in_bytes()
    longest = max(map(len, words), default=0)
    for ending in ("", LOG, JOURNAL):
        path = beside(copy, ending)
        if not path.exists():
            continue
        with path.open("rb") as file:
            before = b""
            while read := file.read(_AT_ONCE):
                part = before + read.lower()
                if any(word in part for word in words):
                    return True
                before = part[-longest:]
    return False


def _alike(connection: sqlite3.Connection, person: Person) -> frozenset[int]:
    """Return the records of a file of another shop that are the person's: the same name with the phone or the e-mail."""
    if not has(connection, "customers"):
        return frozenset()
    finder = Finder(person)
    asked = connection.execute("SELECT id, name, phone || ' ' || email FROM customers")
    return frozenset(
        id_
        for id_, name, reached in asked
        if any(span.sure for span in finder.found_in(reached)) and any(finder.found_in(name))
    )


def delete_copy(copy: Path) -> None:
    """Delete a copy with whatever lies beside it. Raises: OSError."""
    for ending in ("", *_PARTS):
        beside(copy, ending).unlink(missing_ok=True)
    onto_the_disk(copy.parent)


def logs_of(database: Path) -> tuple[Path, ...]:
    """Return the files beside the database in which the program notes what it does."""
    return tuple(
        sorted(
            path
            for path in database.parent.rglob("*.log*")
            if path.is_file() and not path.is_symlink()
        )
    )


def clear_log(path: Path, person: Person) -> bool:
    """Take the person out of a file of text, which stays the same file, since it may be open. Raises: OSError."""
    finder = Finder(person)
    text = path.read_bytes().decode("utf-8", errors="surrogateescape")
    made = "".join(
        cleared(line, (span for span in finder.found_in(line) if span.sure))
        for line in text.splitlines(keepends=True)
    )
    if made == text:
        return False
    with path.open("r+", encoding="utf-8", errors="surrogateescape", newline="") as file:
        file.write(made)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())
    return True
