"""Checks that the file in its place is still the one that was opened.

A file that is deleted, moved or replaced under an open program goes on taking writes that nobody will ever see.
"""

import os
from dataclasses import dataclass
from pathlib import Path

from app.storage.errors import NotInPlace
from app.storage.log import LOG, beside

type _Identity = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was seen of a file. file: which it is and, where that can be told, when it was last written to; only
    folding writes to it. log: which one, None where there is none yet.
    """

    file: _Identity
    log: _Identity | None

    @classmethod
    def of(cls, database: Path) -> "Seen":
        """Return the identity of the file and its log as they can be seen now. Raises: NotInPlace."""
        try:
            found = database.stat()
        except OSError:
            raise NotInPlace(database) from None
        file: _Identity = (found.st_dev, found.st_ino)
        # Windows tells late when a file that is open was written to, and lets nobody replace one.
        if os.name == "posix":
            file += (found.st_size, found.st_mtime_ns)
        return cls(file=file, log=_log_of(database))

    def check(self, database: Path) -> "Seen":
        """Return what is seen now, provided that it is the same file with the same log. Raises: NotInPlace."""
        now = Seen.of(database)
        if now.file != self.file or (self.log is not None and now.log != self.log):
            raise NotInPlace(database)
        return now


def _log_of(database: Path) -> _Identity | None:
    try:
        found = beside(database, LOG).stat()
    except OSError:
        return None
    return (found.st_dev, found.st_ino)
