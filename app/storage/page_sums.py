"""Keeps a sum of every page of a file, so that a bit which flips on the disk is noticed wherever it lies.

SQLite has no sums of its own: what it reads is taken as it stands. Only folding (`log`) writes to the file, so the sums of just
the pages that the log held are made anew there, from the log. They are bound to the file by the mark in its head.

At rest the sums stand at the end of the file, behind its last page, where SQLite reads nothing: so they travel with every
copy, however it is made. Folding cuts them off, so they are first written beside the file, under the mark that it will bear.
Wherever that is cut short one of the two goes with the file:
- before the sums are beside it: the file is as it was, with its sums at its end;
- before all is folded in: those beside it bear a mark that the log holds, and pages that stand in the log are not asked;
- before the sums are at its end again: those beside it bear the mark of the file.
Where none go with the file nothing can be told, which is said, and they are made anew. What another program wrote to the file
is told as damage is. A page that was damaged before it was written over stays noted.

Not covered are pages in which nothing stands, what the log holds (it has sums of its own), and of the first page the counter
of changes with what SQLite writes beside it, which are held to each other instead.
Source: CRC-32 (ISO 3309, zlib): it tells every change of one bit, and every run of up to 32.
"""

import logging
import os
import struct
import zlib
from array import array
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from app.storage.held import opened
from app.storage.log_file import (
    LOG,
    Head,
    Logged,
    beside,
    free_pages,
    head_of,
    logged,
    size_of,
)
from app.storage.privacy import private_file

SUMS = "-sums"
"""The end of the name of the file beside the database that holds them while the log is folded in."""

_MAGIC = b"Bevelbook sums 1"
_BEGINS = struct.Struct(">16s6I")
"""What they are, mark, bytes of a page, pages, how many of them were damaged, 0, sum of all that and of what follows."""

_COUNTERS = ((18, 20), (24, 28), (92, 100))
"""Where in the first page stands what SQLite writes when it turns the log on, and how often the file was changed."""

log = logging.getLogger("bevelbook.storage")


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSums:
    """The sum of every page, the first at 0. damaged: pages that were found damaged when they were written over."""

    mark: int
    page_size: int
    sums: "array[int]"
    damaged: frozenset[int] = frozenset()

    @property
    def written(self) -> bytes:
        """As bytes, with a sum of their own."""
        words = (*self.sums, *sorted(self.damaged))
        body = struct.pack(f">{len(words)}I", *words)
        begins = (_MAGIC, self.mark, self.page_size, len(self.sums), len(self.damaged), 0)
        own = zlib.crc32(body, zlib.crc32(_BEGINS.pack(*begins, 0)))
        return _BEGINS.pack(*begins, own) + body

    @classmethod
    def read(cls, file: BinaryIO) -> "PageSums | None":
        """Return what stands in a file from where it is; None where that is no whole set of sums."""
        begins = file.read(_BEGINS.size)
        if len(begins) < _BEGINS.size:
            return None
        magic, mark, page_size, pages, count, zero, own = _BEGINS.unpack(begins)
        body = file.read(4 * (pages + count)) if magic == _MAGIC else b""
        unsigned = _BEGINS.pack(magic, mark, page_size, pages, count, zero, 0)
        if len(body) < 4 * (pages + count) or zlib.crc32(body, zlib.crc32(unsigned)) != own:
            return None
        words = array("I", struct.unpack(f">{pages + count}I", body))
        return cls(
            mark=mark, page_size=page_size, sums=words[:pages], damaged=frozenset(words[pages:])
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What the sums tell of a file. known: whether there are any that go with it. pages: those that are not as they were
    written; before: those that were not when they were written over.
    """

    known: bool
    pages: tuple[int, ...] = ()
    before: tuple[int, ...] = ()


def look_at_pages(database: Path) -> Looked:
    """Hold every page of a file to its sum. Meant for who keeps the log from being folded in meanwhile. Raises: OSError."""
    before = logged(database)
    kept = _kept(database, before)
    if kept is None:
        return Looked(known=False)
    found = [
        number
        for number, sum_ in _sums_in(database, kept.page_size, len(kept.sums))
        if sum_ != kept.sums[number - 1] and number not in before.at
    ]
    if found:
        free = free_pages(database)
        found = [number for number in found if number not in free]
    over = kept.damaged | _damaged_below(database, kept, before)
    return Looked(known=True, pages=tuple(found), before=tuple(sorted(over)))


def _damaged_below(database: Path, kept: PageSums, in_log: Logged) -> set[int]:
    """Return the pages that stand in the log as well and are damaged in the file: what stands there may rest on that.

    While a folding is under way that cannot be told, since it writes just these.
    """
    if beside(database, SUMS).exists():
        return set()
    found = {
        page
        for page in in_log.at
        if page <= len(kept.sums) and _sum_at(database, kept.page_size, page) != kept.sums[page - 1]
    }
    return found - free_pages(database) if found else found


def before_folding(database: Path) -> None:
    """Write the sums beside a file as they are when all of its log is in it. Nobody may write meanwhile.

    Where none go with the file, none are written. Raises: OSError.
    """
    in_log = logged(database)
    kept = _kept(database, in_log)
    if kept is None or not in_log.at:
        return
    sums, damaged = array("I", kept.sums), kept.damaged | _damaged_below(database, kept, in_log)
    zero = zlib.crc32(bytes(kept.page_size))
    sums.extend([zero] * (in_log.pages - len(sums)))
    with beside(database, LOG).open("rb") as filled:
        for page, at in sorted(in_log.at.items()):
            if page <= in_log.pages:
                filled.seek(at)
                sums[page - 1] = _sum_of(page, filled.read(kept.page_size))
    _put_beside(
        database,
        PageSums(
            mark=in_log.mark,
            page_size=kept.page_size,
            sums=sums[: in_log.pages],
            damaged=frozenset(damaged),
        ),
    )


def after_folding(database: Path) -> None:
    """Put the sums to the end of a file that has no log any more; where none go with it they are made anew.

    Raises: OSError.
    """
    head = head_of(database)
    if head is None:
        return
    kept = _beside(database)
    if kept is None or not _go_with(kept, head):
        log.debug("The sums of the pages of %s are made anew.", database)
        kept = _made_of(database, head)
    put_at_the_end(database, kept)
    beside(database, SUMS).unlink(missing_ok=True)


def see_to_sums(database: Path) -> None:
    """See that a file that lies at rest has its sums. Raises: OSError."""
    if size_of(beside(database, LOG)) or _at_the_end_of_its(database) is not None:
        return
    after_folding(database)


def forget(database: Path) -> None:
    """Take the sums away of a file into which somebody else will fold the log."""
    with suppress(OSError):
        beside(database, SUMS).unlink(missing_ok=True)
        head = head_of(database)
        if head is not None and _at_the_end(database) is not None:
            with opened(database, to_write=True) as file:
                file.seek(head.pages * head.page_size)
                file.write(bytes(len(_MAGIC)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What a copy is given of the sums of its original: those of pages that it takes out of the file and not out of the log, and
    which pages were damaged before they were written over.
    """

    sums: Mapping[int, int]
    damaged: frozenset[int]


_NOTHING = Carried(sums={}, damaged=frozenset())


def sums_for_a_copy(database: Path, mark: int) -> Carried:
    """Return what goes along with a copy of a file; nothing where no sums go with it, or where that is another one.

    mark: as who makes the copy sees it. Meant for who keeps the log from being folded in meanwhile.
    """
    try:
        in_log, head = logged(database), head_of(database)
        kept = _kept(database, in_log)
        if kept is None or head is None or mark != (in_log.mark if in_log.at else head.mark):
            return _NOTHING
        over = _damaged_below(database, kept, in_log)
    except OSError:
        return _NOTHING
    return Carried(
        # The first page of a copy is written anew.
        sums={
            number: sum_
            for number, sum_ in enumerate(kept.sums, start=1)
            if number not in in_log.at and number > 1
        },
        damaged=frozenset(kept.damaged | over),
    )


def give_to_a_copy(copy: Path, carried: Carried) -> None:
    """Put the sums at the end of a copy that was just made: those of its original where they are known, so that damage
    which was copied is noticed there. Raises: OSError.
    """
    head = head_of(copy)
    if head is None:
        return
    made = _made_of(copy, head)
    free = free_pages(copy) if carried.sums else frozenset()
    for number, sum_ in carried.sums.items():
        if number <= len(made.sums) and number not in free:
            made.sums[number - 1] = sum_
    put_at_the_end(copy, replace(made, damaged=carried.damaged))


def put_at_the_end(database: Path, sums: PageSums) -> None:
    """Write sums behind the last page of a file, in whole pages, and wait until they are on the disk. Raises: OSError."""
    written = sums.written
    written += bytes(-len(written) % sums.page_size)
    end = len(sums.sums) * sums.page_size
    with opened(database, to_write=True) as file:
        file.seek(end)
        file.write(written)
        file.truncate(end + len(written))
        file.flush()
        os.fsync(file.fileno())


def _put_beside(database: Path, sums: PageSums) -> None:
    part = beside(database, f"{SUMS}.part")
    private_file(part)
    with part.open("wb") as file:
        file.write(sums.written)
        file.flush()
        os.fsync(file.fileno())
    part.replace(beside(database, SUMS))


def _kept(database: Path, in_log: Logged) -> PageSums | None:
    """Return the sums that go with a file: those beside it, or else those at its end."""
    head = head_of(database)
    if head is None:
        return None
    for sums in (_beside(database), _at_the_end(database)):
        if sums is not None and sums.page_size == head.page_size:
            if in_log.at and sums.mark in (in_log.mark, head.mark):
                return sums
            if _go_with(sums, head):
                return sums
    return None


def _go_with(sums: PageSums, head: Head) -> bool:
    return (sums.mark, sums.page_size, len(sums.sums)) == (head.mark, head.page_size, head.pages)


def _beside(database: Path) -> PageSums | None:
    try:
        with beside(database, SUMS).open("rb") as file:
            return PageSums.read(file)
    except OSError:
        return None


def _at_the_end(database: Path) -> PageSums | None:
    head = head_of(database)
    if head is None:
        return None
    with opened(database) as file:
        file.seek(head.pages * head.page_size)
        return PageSums.read(file)


def _at_the_end_of_its(database: Path) -> PageSums | None:
    head, sums = head_of(database), _at_the_end(database)
    return sums if head is not None and sums is not None and _go_with(sums, head) else None


def _made_of(database: Path, head: Head) -> PageSums:
    made = array("I", (sum_ for _, sum_ in _sums_in(database, head.page_size, head.pages)))
    return PageSums(mark=head.mark, page_size=head.page_size, sums=made)


def _sums_in(database: Path, page_size: int, pages: int) -> Iterable[tuple[int, int]]:
    """Yield (number, sum) of the pages of a file, the first 1."""
    with opened(database) as file:
        for number in range(1, pages + 1):
            yield number, _sum_of(number, file.read(page_size))


def _sum_at(database: Path, page_size: int, number: int) -> int:
    with opened(database) as file:
        file.seek((number - 1) * page_size)
        return _sum_of(number, file.read(page_size))


def _sum_of(number: int, page: bytes) -> int:
    return zlib.crc32(page if number > 1 else _without_counters(page))


def _without_counters(page: bytes) -> bytes:
    """Return the first page with what SQLite counts there left out; whether that holds together stands in its place."""
    whole = page[24:28] == page[92:96] and page[18] == page[19] and page[18] in (1, 2)
    plain = bytearray(page)
    for first, end in _COUNTERS:
        plain[first:end] = bytes(end - first)
    plain[24] = 0 if whole else 1
    return bytes(plain)
