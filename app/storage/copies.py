"""Finds the copies of the data, in their own folder and in a second one, and what was noted of each when it was checked.

A copy is known by its name, which says when and why it was made; the rest is noted beside the database. A note holds for
exactly the file that was checked: for one that was changed or replaced since there is none, and it is checked anew.
Where the second folder is stands there as well (see `machine`).
"""

import os
import re
import shutil
import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from app.errors import AppError, Invalid, quoted
from app.storage.copying import onto_the_disk
from app.storage.errors import CannotWrite, Damaged
from app.storage.integrity import problems_of
from app.storage.log import to_read
from app.storage.machine import Machine
from app.storage.privacy import BACKUPS, private_file
from app.storage.small_files import json_in, write_whole


class Place(StrEnum):
    """Where a copy lies."""

    HERE = "here"
    SECOND = "second folder"


class Why(StrEnum):
    """What a copy was made for; stands in its name."""

    BY_HAND = "by-hand"
    START = "start"
    DAILY = "daily"
    UPDATE = "before-update"
    RESTORE = "before-restore"
    REMOVAL = "before-removal"

    @property
    def held(self) -> bool:
        """Whether such a copy may alone hold what was in the shop then, so that it is not thinned out at once."""
        return self in (Why.BY_HAND, Why.UPDATE, Why.RESTORE, Why.REMOVAL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """What was found in a copy when it was last checked.

    size, written: of the file that was checked, in bytes and in nanoseconds. checked_at: on the shop's clock. problems: none where
    it is whole. orders: quotes and orders in it. of: the state of the data that it is a copy of, None where that is not known.
    ours: whether it was put there by this shop.
    """

    place: Place
    name: str
    size: int
    written: int
    checked_at: str
    problems: tuple[str, ...] = ()
    orders: int = 0
    of: int | None = None
    ours: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One copy in one place. made_at: on the shop's clock, without its zone. note: None while it is not checked."""

    path: Path
    place: Place
    made_at: datetime
    why: Why
    size: int
    note: Note | None

    @property
    def name(self) -> str:
        """The name of its file."""
        return self.path.name

    @property
    def whole(self) -> bool:
        """Whether it was opened, checked and found whole: only then it counts."""
        return self.note is not None and not self.note.problems

    @property
    def checked_at(self) -> datetime | None:
        """When it was last checked, on the shop's clock; None where it was not."""
        return datetime.fromisoformat(self.note.checked_at) if self.note is not None else None

    def holds(self, state: int | None) -> bool:
        """Tell whether it was made of the data in this very state; None for one that is not known."""
        return state is not None and self.note is not None and self.note.of == state


def name_of(database: Path, made_at: datetime, why: Why, number: int = 1) -> str:
    """Return the name of a copy. number: of several within a second."""
    word = "" if why is Why.BY_HAND else f"-{why}"
    end = f"-{number}" if number > 1 else ""
    return f"{database.stem}-{made_at:%Y-%m-%d-%H%M%S}{word}{end}{database.suffix}"


_MOMENT = r"(?P<day>\d{4}-\d\d-\d\d)-(?P<time>\d{6})"
_NAMES = tuple(
    re.compile(pattern, re.ASCII)
    for pattern in (
        rf"-{_MOMENT}(?:-(?P<why>[a-z]+(?:-[a-z]+)?))?(?:-\d+)?",
        rf"\.(?P<why>before-restore)-{_MOMENT}(?:-\d+)?",
        r"\.schema-\d{4}",
    )
)

_NOTING = threading.Lock()


class Copies:
    """The copies of one database. May be used from any thread."""

    def __init__(self, database: Path) -> None:
        self._database = database
        self._machine = Machine(database)
        self._notes = database.with_name(f"{database.stem}.copies.json")

    @property
    def folder(self) -> Path:
        """Where copies are made."""
        return self._database.parent / BACKUPS

    @property
    def second(self) -> Path | None:
        """The second folder, None where none is set."""
        return self._machine.second

    def use_second(self, typed: str) -> Path | None:
        """Set the second folder; blank for none. Returns it.

        Raises: Invalid at "second_folder" where it cannot be used; CannotWrite.
        """
        folder = usable_second(typed, self._database.parent) if typed.strip() else None
        self._machine.use_second(folder)
        return folder

    def all(self) -> tuple[Copy, ...]:
        """Return the copies in all places that can be reached, the newest first."""
        notes = {(note.place, note.name): note for note in self._noted()}
        found = [
            _with_note(copy, notes.get((copy.place, copy.name)))
            for place, folder in self._folders()
            for copy in _in_folder(folder, place, self._database)
        ]
        return tuple(sorted(found, key=lambda each: (each.made_at, each.name), reverse=True))

    def _folders(self) -> Iterator[tuple[Place, Path]]:
        yield Place.HERE, self._database.parent
        yield Place.HERE, self.folder
        if (second := self.second) is not None:
            yield Place.SECOND, second

    def check(self, copy: Copy, now: datetime) -> Copy:
        """Open a copy, check it, and note what was found. Raises: OSError where it cannot be read."""
        before = next(
            (n for n in self._noted() if (n.place, n.name) == (copy.place, copy.name)), None
        )
        same = before is not None and before.size == copy.size
        problems = problems_in(copy.path)
        note = replace(
            _note_of(copy.place, copy.path, now),
            problems=problems[:3],
            orders=0 if problems else _orders_in(copy.path),
            of=before.of if before is not None and same else None,
            ours=before.ours if before is not None and same else copy.place is Place.HERE,
        )
        self._note(note)
        return replace(copy, note=note, size=note.size)

    def made(self, path: Path, now: datetime, of: int | None) -> None:
        """Note a copy that was made and checked just now. Raises: OSError."""
        self._note(replace(_note_of(Place.HERE, path, now), orders=_orders_in(path), of=of))

    def put_into_second(self, copy: Copy, now: datetime) -> None:
        """Put a copy that was checked into the second folder too, and check it there.

        Raises: OSError where that cannot be done, Damaged where it does not pass its check there; nothing half written stays.
        """
        folder = self.second
        assert folder is not None, "asked only where there is one"
        assert copy.note is not None, "only what was checked is put there"
        there, part = folder / copy.name, folder / f"{copy.name}.part"
        try:
            private_file(part)
            shutil.copyfile(copy.path, part)
            onto_the_disk(part)
            if problems := problems_in(part):
                raise Damaged(there, problems)
            part.replace(there)
            onto_the_disk(folder)
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)
        note = _note_of(Place.SECOND, there, now)
        self._note(replace(note, orders=copy.note.orders, of=copy.note.of))

    def take_away_parts(self) -> None:
        """Delete what was left half written by a program that was killed."""
        for _, folder in self._folders():
            with suppress(OSError):
                for part in folder.glob(f"{self._database.stem}-*.part*"):
                    part.unlink(missing_ok=True)

    def remove(self, copies: Iterable[Copy]) -> None:
        """Delete copies. Raises: OSError."""
        gone = set()
        for copy in copies:
            copy.path.unlink(missing_ok=True)
            gone.add((copy.place, copy.name))
        if gone:
            self._keep(lambda note: (note.place, note.name) not in gone)

    def _noted(self) -> tuple[Note, ...]:
        found = json_in(self._notes)
        return tuple(_notes_of(found if isinstance(found, list) else []))

    def _note(self, note: Note) -> None:
        self._keep(lambda each: (each.place, each.name) != (note.place, note.name), note)

    def _keep(self, stays: Callable[[Note], bool], *further: Note) -> None:
        """Notes are worth having and not worth failing for: without one a copy is checked anew."""
        with _NOTING, suppress(CannotWrite):
            kept = (*(note for note in self._noted() if stays(note)), *further)
            write_whole(self._notes, [asdict(note) for note in kept])


def problems_in(path: Path) -> tuple[str, ...]:
    """Return what is wrong with a copy, a sentence each; none where it is whole. Raises: OSError."""
    try:
        return problems_of(path)
    except AppError as error:
        return (error.message,)
    except sqlite3.DatabaseError as error:
        return (f"The file cannot be read: {error}.",)


def _orders_in(path: Path) -> int:
    try:
        with closing(to_read(path)) as connection:
            (count,) = connection.execute("SELECT count(*) FROM orders").fetchone()
            return int(count)
    except sqlite3.DatabaseError:
        return 0


def usable_second(typed: str, data: Path) -> Path:
    """Return the folder that was typed. data: the folder of the shop's data.

    Raises: Invalid at "second_folder" where it is not there, cannot be written, or is in the data folder.
    """
    folder = Path(typed.strip()).expanduser()
    given = quoted(typed.strip())
    if not folder.is_absolute():
        raise _unusable(
            f"{given} does not say where the folder is; write its whole path, as {_EXAMPLE}."
        )
    if _of_the_system(folder):
        raise _unusable(
            f"{given} belongs to the system of this machine, where no copies are to be kept; choose a folder "
            f"on a stick, on another disk, or one that is synced elsewhere, as {_EXAMPLE}."
        )
    try:
        inside = folder.resolve().is_relative_to(data.resolve())
        if inside:
            raise _unusable(
                f"{given} is in the folder of the data themselves, where it would be lost with them; choose "
                "a folder on a stick, on another disk, or one that is synced elsewhere."
            )
        if not folder.is_dir():
            raise _unusable(
                f"There is no folder {given}. Make it first, or put the stick in, then save again."
            )
        with tempfile.TemporaryFile(dir=folder):
            pass
    except (OSError, ValueError) as error:
        raise _unusable(
            f"{given} cannot be written ({getattr(error, 'strerror', None) or error})."
        ) from error
    return folder


_OF_THE_SYSTEM = tuple(
    map(Path, ("/bin", "/boot", "/dev", "/etc", "/lib", "/lib64", "/proc", "/sbin", "/sys", "/usr"))
)
"""Folders under which nothing of a user's is kept. Source: Filesystem Hierarchy Standard 3.0, section 3."""

_ABOVE_ALL = tuple(map(Path, ("/", "/home", "/media", "/mnt", "/opt", "/run", "/srv", "/var")))
"""Folders that hold others of users, of disks and of services, and no copies themselves. Source: as above."""


def _of_the_system(folder: Path) -> bool:
    if os.name == "nt":
        return folder.is_relative_to(os.environ.get("SYSTEMROOT", r"C:\Windows"))
    try:
        found = folder.resolve()
    except (OSError, ValueError, RuntimeError):
        return False
    return found in _ABOVE_ALL or any(found.is_relative_to(each) for each in _OF_THE_SYSTEM)


_EXAMPLE = r"D:\Copies" if os.name == "nt" else "/media/stick/copies"


def _unusable(sentence: str) -> Invalid:
    return Invalid.at("second_folder", sentence)


def _in_folder(folder: Path, place: Place, database: Path) -> Iterator[Copy]:
    """Yield the copies in a folder; none where it is away. Links lead elsewhere and are left out."""
    try:
        entries = list(os.scandir(folder))
    except OSError:
        return
    for entry in entries:
        with suppress(OSError):
            named = _read_name(entry.name, database)
            if named is None or not entry.is_file(follow_symlinks=False):
                continue
            stat = entry.stat(follow_symlinks=False)
            why, made_at = named
            yield Copy(
                path=Path(entry.path),
                place=place,
                made_at=made_at or _on_the_clock(stat.st_mtime),
                why=why,
                size=stat.st_size,
                note=None,
            )


def _read_name(name: str, database: Path) -> tuple[Why, datetime | None] | None:
    """Return why and when a copy was made, by its name; None for what is no copy of ours."""
    if not name.startswith(database.stem) or not name.endswith(database.suffix):
        return None
    middle = name[len(database.stem) : -len(database.suffix)]
    for pattern in _NAMES:
        if (found := pattern.fullmatch(middle)) is None:
            continue
        parts = found.groupdict()
        try:
            why = Why(parts["why"] or Why.BY_HAND) if "why" in parts else Why.UPDATE
            return why, datetime.fromisoformat(
                f"{parts['day']}T{parts['time']}"
            ) if "day" in parts else None
        except ValueError:
            return None
    return None


def _on_the_clock(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds, UTC).astimezone().replace(tzinfo=None)


def _with_note(copy: Copy, note: Note | None) -> Copy:
    stat = copy.path.stat() if note is not None and copy.path.exists() else None
    if (
        note is None
        or stat is None
        or (stat.st_size, stat.st_mtime_ns) != (note.size, note.written)
    ):
        return copy
    return replace(copy, note=note)


def _note_of(place: Place, path: Path, now: datetime) -> Note:
    stat = path.stat()
    return Note(
        place=place,
        name=path.name,
        size=stat.st_size,
        written=stat.st_mtime_ns,
        checked_at=now.replace(microsecond=0).isoformat(),
    )


def _notes_of(found: Iterable[object]) -> Iterator[Note]:
    """Yield what can be read of the notes; of the rest the copies are checked anew."""
    for each in found:
        if isinstance(each, dict):
            with suppress(TypeError, ValueError, KeyError):
                plain = {**each, "problems": tuple(each["problems"]), "place": Place(each["place"])}
                datetime.fromisoformat(plain["checked_at"])
                yield Note(**plain)
