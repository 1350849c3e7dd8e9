"""Records that are only added to: who wrote what and when, and what of it stands.

Nothing in such a record is changed or removed. A mistake is undone by a further entry, in one of three ways: it
names the entry that it takes back; or it is of the same subject, of which only the last entry counts;
or it undoes whatever stands last. Both stay in the record.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.errors import Conflict


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """What every entry has: when it was written, and by whom ("" where nobody said)."""

    at: datetime
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contrary(Noted):
    """An entry that may undo another. takes_back: the id of that one."""

    takes_back: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Written[E: Noted]:
    """An entry as it is kept, with its id."""

    id: int
    entry: E


def taken_back[W: Written[Any]](entries: Iterable[W]) -> frozenset[int]:
    """The ids of the entries that another one of them takes back."""
    named = (each.entry.takes_back for each in entries)
    return frozenset(id for id in named if id is not None)


def standing[W: Written[Any]](entries: Sequence[W]) -> tuple[W, ...]:
    """What stands: the entries that neither take another back nor are taken back."""
    undone = taken_back(entries)
    return tuple(
        each for each in entries if each.entry.takes_back is None and each.id not in undone
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusals:
    """Why an entry cannot be taken back: it is not there, is a contrary one, was taken back already."""

    unknown: str
    contrary: str
    again: str


def to_take_back[E: Contrary](
    entries: Sequence[Written[E]], entry_id: int, refusals: Refusals
) -> E:
    """The entry of an id that is to be taken back. Raises: Conflict where it does not stand."""
    wrong = next((each.entry for each in entries if each.id == entry_id), None)
    if wrong is None:
        raise Conflict(refusals.unknown)
    if wrong.takes_back is not None:
        raise Conflict(refusals.contrary)
    if entry_id in taken_back(entries):
        raise Conflict(refusals.again)
    return wrong


def standing_by[E, K](
    entries: Iterable[E], subject: Callable[[E], K], *, stands: Callable[[E], bool]
) -> dict[K, E]:
    """What stands of each subject: its last entry, unless that is one that does not stand.

    entries: the oldest first.
    """
    last = {subject(each): each for each in entries}
    return {key: each for key, each in last.items() if stands(each)}


def not_undone[E](entries: Iterable[E], *, takes_back: Callable[[E], bool]) -> tuple[E, ...]:
    """What stands, the oldest first, where each taking back undoes what stood last before it."""
    stack: list[E] = []
    for each in entries:
        if takes_back(each):
            stack.pop()
        else:
            stack.append(each)
    return tuple(stack)


def standing_last[E](entries: Iterable[E], *, takes_back: Callable[[E], bool]) -> E | None:
    """What stands last of that; None for nothing."""
    stack = not_undone(entries, takes_back=takes_back)
    return stack[-1] if stack else None
