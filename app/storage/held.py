"""Reads and writes the file of an open store beside SQLite, without taking SQLite's locks away.

Once a process closes any descriptor of a file, POSIX drops all locks that it holds on that file, those of other descriptors too:
another program would then take itself for the only one, fold the log in and delete it under us. So while a store is open, its file
and the index of its log are opened once here, and closed only after SQLite has closed them.
Source: sqlite.org/howtocorrupt.html, 2.2; POSIX.1-2017, fcntl.
"""

import io
import os
import threading
from collections.abc import Buffer, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, cast

type _Identity = tuple[int, int]

_LOCK = threading.Lock()
_HELD: dict[Path, dict[_Identity, int]] = {}
"""By the path of a file of an open store: the descriptors of what lay there, which is another file once it was replaced."""


def hold(*paths: Path) -> None:
    """Open these files once from now on, until they are let go."""
    with _LOCK:
        for path in paths:
            _HELD.setdefault(path, {})


def let_go(*paths: Path) -> None:
    """Close what was opened of these files. SQLite has them open no more."""
    with _LOCK:
        descriptors = [each for path in paths for each in _HELD.pop(path, {}).values()]
    for descriptor in descriptors:
        os.close(descriptor)


@contextmanager
def opened(path: Path, *, to_write: bool = False) -> Iterator[BinaryIO]:
    """Open a file to read, or to read and write. Raises: OSError."""
    descriptor = _held(path)
    if descriptor is None:
        with path.open("r+b" if to_write else "rb") as file:
            yield file
        return
    view = _View(descriptor)
    buffered = io.BufferedRandom(view) if to_write else io.BufferedReader(view)
    try:
        yield cast(BinaryIO, buffered)
    finally:
        buffered.close()  # which writes what is left, and leaves the descriptor open


def _held(path: Path) -> int | None:
    """Return the one descriptor of a file, None where it is not held: nor where closing takes no locks away."""
    if os.name != "posix":
        return None
    with _LOCK:
        known = _HELD.get(path)
        if known is None:
            return None
        found = path.stat()
        identity = (found.st_dev, found.st_ino)
        if identity not in known:
            try:
                known[identity] = os.open(path, os.O_RDWR | os.O_CLOEXEC)
            except OSError:  # it may still be read where it cannot be written
                known[identity] = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
        return known[identity]


class _View(io.RawIOBase):
    """A file by a descriptor that others use too: with a place of its own in it, and without closing it."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor = descriptor
        self._at = 0

    def readable(self) -> bool:
        return True

    def writable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True

    def fileno(self) -> int:
        return self._descriptor

    def readinto(self, buffer: Buffer) -> int:
        view = memoryview(buffer).cast("B")
        read = os.pread(self._descriptor, len(view), self._at)
        view[: len(read)] = read
        self._at += len(read)
        return len(read)

    def write(self, content: Buffer) -> int:
        written = os.pwrite(self._descriptor, content, self._at)
        self._at += written
        return written

    def seek(self, offset: int, whence: int = os.SEEK_SET) -> int:
        begins = {
            os.SEEK_SET: 0,
            os.SEEK_CUR: self._at,
            os.SEEK_END: os.fstat(self._descriptor).st_size,
        }
        self._at = begins[whence] + offset
        return self._at

    def tell(self) -> int:
        return self._at

    def truncate(self, size: int | None = None) -> int:
        size = self._at if size is None else size
        os.ftruncate(self._descriptor, size)
        return size
