"""What was printed on a workshop ticket, and in what it differs from what a ticket would say now (M7).

Pure values. What a ticket says of a piece is for `ticket_facts`; here two of them are held against each
other, so that what was printed can be told of for as long as it is kept.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from app.journal import Noted
from app.orders.stages import Stage


class FactKind(StrEnum):
    """What a fact is about: a part of the piece, a setting of the cutter's guide or of its stops, a mark on a mat, where
    an artwork lies, the order that it is of, what else is noted of the piece and its artwork.
    """

    PART = "part"
    GUIDE = "guide"
    MARK = "mark"
    STOPS = "stops"
    PLACE = "place"
    ORDER = "order"
    PIECE = "piece"


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketFact:
    """One thing that a ticket says of a piece.

    part: tells it from all others, and stays when words change. name, side: as a person calls it; what has
    several sides, as a mat's borders, has a fact for each. says: the figure or the words, as printed.
    """

    part: str
    name: str
    says: str
    side: str = ""
    kind: FactKind = FactKind.PART


@dataclass(frozen=True, slots=True)
class TicketFacts:
    """All that a ticket says by which something is cut or taken, in the order of the work.

    kinds: what it speaks of at all, so that a ticket from before one was printed does not differ by it.
    """

    facts: tuple[TicketFact, ...] = ()
    kinds: tuple[FactKind, ...] = (FactKind.PART, FactKind.GUIDE, FactKind.STOPS, FactKind.MARK)

    def and_of(self, kind: FactKind, facts: Iterable[TicketFact]) -> "TicketFacts":
        """Return the same with facts of a further kind, of which there may be none."""
        return TicketFacts((*self.facts, *facts), (*self.kinds, kind))


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketPrint(Noted):
    """A ticket that was printed, noted once for each version of it; the same version again is a copy.

    version: counted from 1, piece by piece. snapshot_id: what was agreed then. cutter: the one that it was worked out
    for, as it was described, in a form that is only compared. facts: what stood on it.
    """

    version: int
    snapshot_id: int
    cutter: str
    facts: TicketFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """A fact that two tickets say differently. was, now: empty where only one of them has it."""

    kind: FactKind
    name: str
    side: str
    was: str
    now: str

    @property
    def subject(self) -> str:
        """What differs, as "guide for mat 1, left"."""
        return f"{self.name}, {self.side}" if self.side else self.name


def differences(printed: TicketFacts, now: TicketFacts) -> tuple[Difference, ...]:
    """In what a ticket of now differs from a printed one: in its own order, and last what it has no more (M7).

    Only of what both speak of.
    """
    both = set(printed.kinds) & set(now.kinds)
    before = {fact.part: fact for fact in printed.facts if fact.kind in both}
    after = {fact.part: fact for fact in now.facts if fact.kind in both}
    changed = (
        _difference(fact, before[fact.part].says if fact.part in before else "", fact.says)
        for fact in after.values()
    )
    gone = (_difference(fact, fact.says, "") for fact in before.values() if fact.part not in after)
    return tuple(each for each in (*changed, *gone) if each.was != each.now)


def _difference(fact: TicketFact, was: str, now: str) -> Difference:
    return Difference(kind=fact.kind, name=fact.name, side=fact.side, was=was, now=now)


def in_words(found: Iterable[Difference]) -> tuple[str, ...]:
    """Differences as clauses, equal ones in one: "rails: 561 / 438 are now 589 / 466".

    Of marks only which ones differ is said: each has three figures, and all of a window change together.
    """
    found = tuple(found)
    marks = [each for each in found if each.kind is FactKind.MARK]
    figures: dict[tuple[FactKind, str, str], list[Difference]] = {}
    for each in found:
        if each.kind is not FactKind.MARK:
            figures.setdefault((each.kind, each.was, each.now), []).append(each)
    clauses = [_clause(together) for together in figures.values()]
    new, gone = [each for each in marks if each.now], [each for each in marks if not each.now]
    return (*clauses, *_new_or_gone(_named(new), _named(gone)))


def in_brief(found: Iterable[Difference]) -> tuple[str, ...]:
    """Return the same for paper: what is cut or taken with its figures, and of borders, settings and marks, which stand
    beside the work on the new ticket, only that they differ and of which mat.
    """
    found = tuple(found)
    beside = [each for each in found if each.side]
    new = dict.fromkeys(each.name for each in beside if each.now)
    gone = (each.name for each in beside if not each.now and each.name not in new)
    clauses = in_words(each for each in found if not each.side)
    return (*clauses, *_new_or_gone(_of_mats(new), _of_mats(dict.fromkeys(gone))))


def _of_mats(names: Iterable[str]) -> tuple[str, ...]:
    """As "guide for mat 1 and mat 2" of "guide for mat 1", "guide for mat 2"; what is of the same mats in one."""
    mats: dict[str, list[str]] = {}
    for name in names:
        what, _, of = name.partition(" ")
        mats.setdefault(what, []).extend([of] if of else [])
    alike: dict[tuple[str, ...], list[str]] = {}
    for what, its in mats.items():
        alike.setdefault(tuple(each.partition(" ")[2] for each in its), []).append(what)
    return tuple(
        f"{', '.join(whats)} {mats[whats[-1]][0].partition(' ')[0]} {' and '.join(its)}"
        if its
        else ", ".join(whats)
        for its, whats in alike.items()
    )


def _new_or_gone(new: Sequence[str], gone: Sequence[str]) -> Iterator[str]:
    if new:
        yield f"{', '.join(new)} are new"
    if gone:
        yield f"{', '.join(gone)} are no longer there"


def _clause(together: Sequence[Difference]) -> str:
    """Return one clause of differences that have the same figures."""
    one, names = together[0], _named(together)
    several = len(names) > 1 or one.name.partition(" ")[0].endswith("s")
    verb, subject = "are" if several else "is", ", ".join(names)
    if not one.was:
        return f"{subject}: {one.now} {verb} new"
    if not one.now:
        return f"{subject}: {one.was} {verb} no longer there"
    return f"{subject}: {one.was} {verb} now {one.now}"


_ALL_FOUR = {"left", "right", "top", "bottom"}


def _named(together: Iterable[Difference]) -> tuple[str, ...]:
    """As "borders of mat 1 left and right", "borders of mat 2"; sides are left out where it is all four."""
    sides: dict[str, list[str]] = {}
    for each in together:
        sides.setdefault(each.name, []).append(each.side)
    return tuple(
        name if set(its) in (_ALL_FOUR, {""}) else f"{name} {' and '.join(its)}"
        for name, its in sides.items()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketVersion:
    """Which print a ticket is. at: when this version was printed first. replaces: when the one before it was.

    changes: in what it differs from that one. done: steps that were ticked before and that the piece has no more,
    or asks otherwise now. spoiled: the parts that are to be cut anew, in words.
    """

    version: int
    at: datetime
    copy: bool = False
    replaces: datetime | None = None
    changes: tuple[Difference, ...] = ()
    done: tuple[str, ...] = ()
    spoiled: tuple[str, ...] = ()


def version_of(
    prints: Sequence[TicketPrint], facts: TicketFacts, now: datetime, done: Iterable[str] = ()
) -> TicketVersion:
    """Tell which print a ticket with these facts is (M7). prints: of the piece, the oldest first.

    Times are on the clock of now.
    """
    copy = bool(prints) and not differences(prints[-1].facts, facts)
    before = prints[-2] if copy and len(prints) > 1 else None if copy or not prints else prints[-1]
    last = prints[-1].version if prints else 0
    return TicketVersion(
        version=last if copy else last + 1,
        at=prints[-1].at.astimezone(now.tzinfo) if copy else now,
        copy=copy,
        replaces=before.at.astimezone(now.tzinfo) if before else None,
        changes=differences(before.facts, facts) if before else (),
        done=tuple(done) if before else (),
    )


def still_matter(stage: Stage, found: Iterable[Difference]) -> Iterator[Difference]:
    """Yield the differences that count at a stage: once all parts are cut no longer the cutter's, after that none."""
    if stage in (Stage.QUOTED, Stage.ORDERED):
        yield from found
    elif stage is Stage.CUT:
        yield from (each for each in found if each.kind not in _AT_CUTTER)


_AT_CUTTER = frozenset({FactKind.GUIDE, FactKind.STOPS, FactKind.MARK})
