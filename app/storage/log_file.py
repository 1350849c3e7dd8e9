"""What stands in a database file and in the log beside it, page by page, read without SQLite.

Source: sqlite.org/fileformat2.html, 1.3 (head of a file), 1.5 (free pages), 4.1 (head and frames of a log); sqlite.org/walformat.html, 2.3
(index of a log: how many of its frames count, at 16).
"""

import struct
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from app.storage.held import opened

LOG, INDEX, JOURNAL = "-wal", "-shm", "-journal"
"""What SQLite keeps beside a file, by the ends of the names. The index is made anew whenever it is missing."""

_MAGIC = frozenset({0x377F0682, 0x377F0683})
_HEAD, _FRAME = struct.Struct(">8I"), struct.Struct(">6I")
_MARK = struct.Struct(">60xI")
_SIZES = struct.Struct(">16xH10xIII")
"""Of the head of a file: bytes of a page (1 for 65536), how many pages, the first free trunk, how many are free."""
_INDEX_HEAD = 48
_COUNTED = struct.Struct("<16xI" if sys.byteorder == "little" else ">16xI")
_WORD = struct.Struct(">I")


def beside(database: Path, ending: str) -> Path:
    """Return the path of a file that is kept beside the database, such as its log."""
    return database.with_name(database.name + ending)


def size_of(path: Path) -> int:
    """Bytes in a file; none where there is no file."""
    try:
        return path.stat().st_size
    except OSError:
        return 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What the first page says of a file. free: the first of the pages that say which are free, 0 for none."""

    mark: int
    page_size: int
    pages: int
    free: int

    @classmethod
    def of(cls, page: bytes) -> "Head | None":
        """Return the head that a first page begins with; None where it is none."""
        if len(page) < 100 or not page.startswith(b"SQLite format 3\0"):
            return None
        page_size, pages, free, _ = _SIZES.unpack_from(page)
        return cls(
            mark=mark_in(page),
            page_size=65536 if page_size == 1 else page_size,
            pages=pages,
            free=free,
        )


def head_of(database: Path) -> Head | None:
    """Return the head of a file as it stands there, whatever a log adds; None where there is none."""
    try:
        with opened(database) as file:
            return Head.of(file.read(100))
    except OSError:
        return None


def mark_of(database: Path) -> int:
    """Return the mark in the head of a file."""
    with opened(database) as file:
        return mark_in(file.read(_MARK.size))


def mark_in(page: bytes) -> int:
    """Return the mark in a first page."""
    return int(_MARK.unpack_from(page)[0]) if len(page) >= _MARK.size else 0


def marks_of(filled: Path) -> Iterator[int]:
    """Yield the marks in the heads that a log holds, up to where an older log shows behind it."""
    with filled.open("rb") as file:
        for page, _ in _frames(file):
            if page == 1:
                yield mark_in(file.read(_MARK.size))


def _frames(file: BinaryIO) -> Iterator[tuple[int, bool]]:
    """Yield (page, whether the frame ends a transaction); the page follows in the file."""
    head = file.read(_HEAD.size)
    if len(head) < _HEAD.size:
        return
    magic, _, page_size, _, *salts, _, _ = _HEAD.unpack(head)
    if magic not in _MAGIC:
        return
    while len(frame := file.read(_FRAME.size)) == _FRAME.size:
        page, pages, *frame_salts, _, _ = _FRAME.unpack(frame)
        if frame_salts != salts:
            return
        at = file.tell()
        yield page, pages > 0
        file.seek(at + page_size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Logged:
    """What the transactions in a log come to. at: where in the log each page last stands; pages: of the file then; mark: the last."""

    at: Mapping[int, int]
    pages: int
    mark: int


NOTHING_LOGGED = Logged(at={}, pages=0, mark=0)


def logged(database: Path) -> Logged:
    """Return what stands in the log of a file, where that log is its own.

    Frames that no transaction ended are left out, and those that SQLite does not count.
    """
    filled = beside(database, LOG)
    if not size_of(filled) or not size_of(database):
        return NOTHING_LOGGED
    most, pages, mark = _counted(database), 0, 0
    at: dict[int, int] = {}
    open_: dict[int, int] = {}
    marks: set[int] = set()
    with filled.open("rb") as file:
        for number, (page, ends) in enumerate(_frames(file), start=1):
            if most is not None and number > most:
                break
            open_[page] = file.tell()
            if page == 1 and (head := Head.of(file.read(100))):
                # What a frame says of the size counts what stands behind the last page as well.
                mark, pages = head.mark, head.pages
            if ends:
                at |= open_
                marks.add(mark)
                open_ = {}
    own = mark_of(database) in marks
    return Logged(at=at, pages=pages, mark=mark) if own else NOTHING_LOGGED


def _counted(database: Path) -> int | None:
    """Return how many frames SQLite counts in the log; None where its index does not say."""
    try:
        with opened(beside(database, INDEX)) as file:
            one, other = file.read(_INDEX_HEAD), file.read(_INDEX_HEAD)
    except OSError:
        return None
    if len(one) < _INDEX_HEAD or one != other or not any(one):
        return None
    return int(_COUNTED.unpack_from(one)[0])


def free_pages(database: Path) -> frozenset[int]:
    """Return the pages of a file in which nothing stands, as far as that can be told."""
    found: set[int] = set()
    head = head_of(database)
    if head is None:
        return frozenset()
    with opened(database) as file:
        trunk = head.free
        while trunk and trunk not in found and trunk <= head.pages:
            found.add(trunk)
            file.seek((trunk - 1) * head.page_size)
            page = file.read(head.page_size)
            trunk, leaves = (_WORD.unpack_from(page, at)[0] for at in (0, 4))
            most = min(leaves, len(page) // 4 - 2)
            found.update(_WORD.unpack_from(page, 8 + 4 * each)[0] for each in range(most))
    return frozenset(found)
