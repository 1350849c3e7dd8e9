"""What stands of a record that is only added to."""

from dataclasses import dataclass
from datetime import UTC, datetime

import pytest

from app.errors import Conflict
from app.journal import (
    Contrary,
    Noted,
    Refusals,
    Written,
    standing,
    standing_by,
    standing_last,
    taken_back,
    to_take_back,
)

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


def written(id_: int, takes_back: int | None = None) -> Written[Contrary]:
    return Written(id=id_, entry=Contrary(at=NOON, by="Ada", takes_back=takes_back))


RECORD = (written(1), written(2), written(3, takes_back=1), written(4))


def test_an_entry_stands_unless_another_takes_it_back_and_a_contrary_one_never_does() -> None:
    assert [each.id for each in standing(RECORD)] == [2, 4]
    assert taken_back(RECORD) == {1}
    assert standing(()) == ()


REFUSALS = Refusals(unknown="not here", contrary="is contrary", again="was before")


@pytest.mark.parametrize(("entry", "why"), [(9, "not here"), (3, "is contrary"), (1, "was before")])
def test_only_what_stands_can_be_taken_back(entry: int, why: str) -> None:
    with pytest.raises(Conflict, match=why):
        to_take_back(RECORD, entry, REFUSALS)
    assert to_take_back(RECORD, 2, REFUSALS) == RECORD[1].entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(Noted):
    part: str
    note: str
    stands: bool


def mark(part: str, note: str, *, stands: bool = True) -> Mark:
    return Mark(at=NOON, by="Ada", part=part, note=note, stands=stands)


def test_of_each_subject_its_last_entry_counts() -> None:
    marks = (
        mark("A", "first"),
        mark("B", "first"),
        mark("A", "second"),
        mark("B", "", stands=False),
        mark("C", "", stands=False),
        mark("C", "again"),
    )
    found = standing_by(marks, lambda each: each.part, stands=lambda each: each.stands)
    assert {part: each.note for part, each in found.items()} == {"A": "second", "C": "again"}


def test_a_subject_marked_twice_and_taken_back_once_does_not_stand() -> None:
    marks = (mark("A", "first"), mark("A", "second"), mark("A", "", stands=False))
    assert standing_by(marks, lambda each: each.part, stands=lambda each: each.stands) == {}


def test_each_taking_back_undoes_what_stood_last() -> None:
    """Framed, taken back, framed, collected, taken back twice: what stands last is that it was cut."""
    words = ("cut", "framed", "-", "framed", "collected", "-", "-")
    assert standing_last(words, takes_back=lambda word: word == "-") == "cut"
    assert standing_last(("cut", "-"), takes_back=lambda word: word == "-") is None
    assert standing_last((), takes_back=lambda _: False) is None
