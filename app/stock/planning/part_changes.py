"""What became at the bench of parts that no plan cut: spoiled, cut anew. A record that is only added to.

Taking back undoes what stands last of the part. A part is meant as it was: of a piece that was
changed since, nothing was said.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.journal import Noted, standing_last
from app.stock.planning.plans import Moved

LONGEST_NOTE = 200


class PartChange(StrEnum):
    """What became of a part."""

    SPOILED = "spoiled"
    CUT_ANEW = "cut anew"
    TAKEN_BACK = "taken back"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedPart(Noted):
    """One change of a part. part: its id; what: its material and size then. moved: what it took off the rack."""

    part: str
    what: str
    change: PartChange
    note: str = ""
    moved: tuple[Moved, ...] = ()


def last_changes(changes: Iterable[ChangedPart]) -> Mapping[tuple[str, str], ChangedPart]:
    """Return what stands last of each part, by its id and what it is; of which nothing stands there is none.

    changes: the oldest first.
    """
    by_part: dict[tuple[str, str], list[ChangedPart]] = defaultdict(list)
    for each in changes:
        by_part[each.part, each.what].append(each)
    found = {key: _standing(entries) for key, entries in by_part.items()}
    return {key: last for key, last in found.items() if last is not None}


def _standing(entries: Sequence[ChangedPart]) -> ChangedPart | None:
    return standing_last(entries, takes_back=lambda each: each.change is PartChange.TAKEN_BACK)


def spoiled_parts(changes: Iterable[ChangedPart]) -> frozenset[tuple[str, str]]:
    """Return the parts that are spoiled and not cut anew, by id and what they are."""
    return frozenset(
        key for key, last in last_changes(changes).items() if last.change is PartChange.SPOILED
    )


def noted_in_words(changes: Iterable[ChangedPart], words: Mapping[str, str]) -> tuple[str, ...]:
    """Return each change as a record has it: "mat 2 spoiled – slipped", "undone: mat 2 cut anew".

    changes: of one piece, the oldest first. words: what its parts are called, by their ids; one that it has no more is
    called by its id.
    """
    stand: dict[tuple[str, str], list[str]] = defaultdict(list)
    said: list[str] = []
    for each in changes:
        before = stand[each.part, each.what]
        if each.change is PartChange.TAKEN_BACK:
            said.append(f"undone: {before.pop() if before else each.part}")
            continue
        called = words.get(each.part, each.part.rpartition("/")[2].replace("-", " "))
        note = f" – {each.note}" if each.note else ""
        before.append(f"{called} {each.change}{note}")
        said.append(before[-1])
    return tuple(said)
