"""Keeps the shop's files readable by their owner alone.

Owns the modes of what lies in the data folder. What SQLite keeps beside a database (-wal, -shm) takes its
mode from the database; what is older, and the folder, is seen to whenever a store is opened. Where the
system has no modes, or the file another owner, it stays as it is.
"""

import stat
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

BACKUPS = "backups"
"""The folder of copies, beside the database."""

FOLDER, FILE = 0o700, 0o600


def keep_private(database: Path) -> None:
    """Leave the folder of a database, and every file of ours in it, to their owner alone.

    A database that is missing is made, empty, so that SQLite makes none for all to read. A folder in which
    many write by design, as /tmp, is left to them.
    """
    with suppress(OSError):
        database.touch(FILE, exist_ok=False)
    for folder in (database.parent, database.parent / BACKUPS):
        with suppress(OSError):
            mode = folder.stat().st_mode
            if not mode & stat.S_ISVTX:
                _restrict(folder, mode, FOLDER)
            for file, mode in _ours(folder, database.stem):
                _restrict(file, mode, FILE)


def private_file(path: Path) -> None:
    """Make a file anew, empty, that its owner alone may read, before anything is written to it.

    Raises: OSError.
    """
    path.unlink(missing_ok=True)
    path.touch(FILE, exist_ok=False)


def _ours(folder: Path, stem: str) -> Iterator[tuple[Path, int]]:
    """Files under the name of the database, with their modes; links lead elsewhere and are left out."""
    for path in folder.iterdir():
        mode = path.lstat().st_mode if path.name.startswith(stem) else 0
        if stat.S_ISREG(mode):
            yield path, mode


def _restrict(path: Path, mode: int, allowed: int) -> None:
    """Take from a mode what is not allowed; what the owner denied himself stays denied."""
    wanted = stat.S_IMODE(mode) & allowed
    if wanted != stat.S_IMODE(mode):
        with suppress(OSError):
            path.chmod(wanted)
