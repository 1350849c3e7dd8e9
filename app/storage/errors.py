"""What can go wrong with the file itself, said so that a person knows what to do."""

import errno
import sqlite3
from pathlib import Path

from app.errors import AppError, Conflict


class NewerDatabase(AppError):
    """The file was written by a newer version of the program."""

    code = "newer-database"

    def __init__(self, path: Path, found: str, known: str) -> None:
        super().__init__(
            f"The data in {path} were written by a newer version of Bevelbook (their form is "
            f"{found}, this version knows up to {known}). Nothing was changed. Start the newer "
            "version, or name another data folder."
        )


class NotOurDatabase(AppError):
    """The file is no database, or somebody else's."""

    code = "not-our-database"

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path} is not a database of Bevelbook. Nothing was changed. Move that file away, or "
            "name another data folder."
        )


class NotOurCopy(NotOurDatabase):
    """The file that is to be put back is no database, or somebody else's."""

    def __init__(self, path: Path) -> None:
        AppError.__init__(
            self,
            f"{path} is not a copy of Bevelbook’s data, as it is not a database of Bevelbook. Nothing was changed. Name one of the "
            "copies: they are in the folder backups beside the data, and where you saved them.",
        )


class CannotWrite(AppError):
    """The file is read-only, locked by another program, or on a disk that fails."""

    code = "cannot-write"

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(
            f"Nothing was saved: {path} cannot be written ({reason}). Make room or give the "
            "program leave to write there, then save again."
        )


class DiskFull(CannotWrite):
    """There is no room left where something was to be written. path: what it was, where that is known."""

    code = "disk-full"

    def __init__(self, path: Path | None = None) -> None:
        where = f"the disk that holds {path} is full" if path else "a disk of this computer is full"
        AppError.__init__(
            self, f"Nothing was saved: {where}. Make room on it, then do the same again."
        )


_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_FULL_ON_WINDOWS = (39, 112)
"""ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL. Source: Windows, system error codes."""


def is_full(error: BaseException | None) -> bool:
    """Tell whether an error of the system or of SQLite says that there is no room left, or no more allowed.

    Or one that came of such an error, as libraries hand on what they met.
    """
    if error is None:
        return False
    if isinstance(error, OSError):
        full = error.errno in _FULL or getattr(error, "winerror", 0) in _FULL_ON_WINDOWS
    else:
        full = getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_FULL
    return full or is_full(error.__cause__)


def not_written(path: Path, error: OSError | sqlite3.Error) -> CannotWrite:
    """Return what to say of a file that could not be written."""
    return DiskFull(path) if is_full(error) else CannotWrite(path, str(error))


class NotInPlace(CannotWrite):
    """The file was taken away or replaced while the program had it open."""

    code = "not-in-place"

    def __init__(self, path: Path) -> None:
        AppError.__init__(
            self,
            f"Nothing was saved: {path} was deleted, moved or replaced while Bevelbook had it open. Put "
            "that file back in its place, then save again. Else end Bevelbook and start it anew, to go on "
            "with the file that lies there now. What was saved before is in the file that was taken away; "
            "as long as Bevelbook runs, a backup under Settings, Data still holds all of it.",
        )


class OnlyLookedAt(AppError):
    """The data are those of a copy that is looked at."""

    code = "only-looked-at"


class StillRead(Conflict):
    """The file cannot be exchanged while somebody reads it."""

    code = "still-read"

    def __init__(self) -> None:
        super().__init__(
            "Something else still reads the data, as a long list or a paper does. Nothing was changed; "
            "wait a moment and do the same again."
        )


class DataInUse(Conflict):
    """Another Bevelbook works on the same data."""

    code = "data-in-use"

    def __init__(self, folder: Path) -> None:
        super().__init__(
            f"Another Bevelbook is running on the data in {folder}. Use that one or end it first; "
            "two at a time could spoil the file."
        )


class Damaged(AppError):
    """A database or a backup did not pass its check."""

    code = "damaged"

    def __init__(self, path: Path, findings: tuple[str, ...]) -> None:
        self.findings = findings
        super().__init__(f"{path} did not pass its check: {'; '.join(findings[:3])}.")
