"""Removing a customer: what it clears, shown before it is done, and the clearing of the shop and of every copy of it.

Source: GDPR art. 17 (erasure) with its limit in 3(b): what a law asks to keep, such as an issued invoice, stays.
"""

import hashlib
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum

from app.errors import AppError, Invalid
from app.orders import Customer
from app.services import backups
from app.storage import Stamp, Store
from app.storage.erased_copies import (
    KeptCopy,
    clear_copy,
    clear_log,
    copies_of,
    delete_copy,
    logs_of,
    records_in,
)
from app.storage.erasing import Erasure, clear_store, ids_of, reached, reading, records
from app.storage.found_texts import FoundText, find
from app.storage.person import Finder, Person
from app.storage.whereabouts import called, customer_of

_AROUND = 60
"""Characters that are shown on either side of a name."""

_WHERE_SHOWN = 4
"""Places that are named of a text which stands at many."""

MOST_DOUBTFUL = 100
"""Texts with a single word of the name that are offered; what is more is counted."""

SHORTEST_ALSO = 3
"""Letters of a word that is looked for as well; fewer stand everywhere."""


class Copies(StrEnum):
    """What becomes of the copies."""

    ANEW = "anew"
    DELETED = "deleted"
    KEPT = "kept"


@dataclass(frozen=True, slots=True, kw_only=True)
class TextPart:
    """A part of a text; named: whether it is what names the customer."""

    text: str
    named: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedText:
    """A text that names the customer. key: by which a form says that it is to be cleared. own: whether it stands with orders
    of the customer and with nobody else's. parts: the text around the names; where: at which places it stands,
    the first of them in words; more: how many others there are.
    """

    key: str
    sure: bool
    own: bool
    parts: tuple[TextPart, ...]
    where: tuple[str, ...]
    more: int

    @property
    def is_meant(self) -> bool:
        """Whether it is taken to mean the customer, as long as nobody says otherwise."""
        return self.sure or self.own


@dataclass(frozen=True, slots=True, kw_only=True)
class Removal:
    """What removing a customer means. known_by: what is looked for. doubtful: how many texts with a single word of the name
    are not offered, since they are too many. invoices: numbers of those that stay. sharing: other customers
    who are reached in the same way, whose records stay.
    """

    customer: Customer
    orders: int
    known_by: tuple[str, ...]
    texts: tuple[NamedText, ...]
    doubtful: int
    invoices: tuple[str, ...]
    sharing: tuple[str, ...]
    copies: tuple[KeptCopy, ...]

    @property
    def keys(self) -> frozenset[str]:
        """Return the keys of all texts that are offered."""
        return frozenset(each.key for each in self.texts)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalRequest:
    """What was chosen. shown: the keys of the texts that were offered; ticked: of those that are to be cleared. also: words
    to look for besides. logs: whether logs that were put aside are deleted.
    """

    shown: frozenset[str] = frozenset()
    ticked: frozenset[str] = frozenset()
    also: tuple[str, ...] = ()
    copies: Copies = Copies.KEPT
    logs: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed:
    """What was done. texts: how many were cleared; anew, deleted: how many copies; left: what could not be done, a
    sentence each.
    """

    texts: int
    anew: int = 0
    deleted: int = 0
    left: tuple[str, ...] = field(default=())


class OthersCameUp(AppError):
    """Texts came up that were not shown when the removal was confirmed."""

    code = "others-came-up"

    def __init__(self) -> None:
        super().__init__(
            "Since this page was opened other texts name the customer. Look at what is ticked, then delete."
        )


def asked(store: Store, customer_id: int, also: Iterable[str] = ()) -> Removal:
    """Return what removing a customer means, before it is done. Raises: NotFound; Invalid at "also"."""
    return _looked(store, customer_id, also).removal


@dataclass(frozen=True, slots=True, kw_only=True)
class _Looked:
    """What was found of a customer. own: the ids of the records that are theirs."""

    removal: Removal
    person: Person
    own: frozenset[int]


def _looked(store: Store, customer_id: int, also: Iterable[str]) -> _Looked:
    with store.reading() as work:
        kept = work.customers.get(customer_id)
        orders = len(work.order_lists.ids_of_customer(customer_id))
        invoices = tuple(each.invoice.number for each in work.invoices.of_customer(customer_id))
    copies = copies_of(store.path)
    with reading(store) as connection:
        ids = ids_of(connection, customer_id)
        person = _person(connection, ids, copies, also)
        texts, doubtful = _offered(connection, find(connection, person, ids), ids)
        sharing = tuple(_sharing(connection, person, ids))
    removal = Removal(
        customer=kept.value,
        orders=orders,
        known_by=person.known_by,
        texts=texts,
        doubtful=doubtful,
        invoices=invoices,
        sharing=sharing,
        copies=copies,
    )
    return _Looked(removal=removal, person=person, own=ids)


def _person(
    connection: sqlite3.Connection,
    ids: frozenset[int],
    copies: Iterable[KeptCopy],
    also: Iterable[str],
) -> Person:
    """Return by what a customer is known: now, in records that were joined, and before, as the copies have it."""
    former = (
        record
        for copy in copies
        if copy.is_database
        for record in records_in(copy.path, connection, ids)
    )
    return Person.of((*records(connection, ids), *former), _checked(also))


def _checked(also: Iterable[str]) -> tuple[str, ...]:
    typed = tuple(text.strip() for text in also if text.strip())
    for text in typed:
        if len(text) < SHORTEST_ALSO:
            raise Invalid.at(
                "also",
                f"“{text}” has {len(text)} characters and stands nearly everywhere; type {SHORTEST_ALSO} or more.",
            )
    return typed


def _offered(
    connection: sqlite3.Connection, found: Iterable[FoundText], ids: frozenset[int]
) -> tuple[tuple[NamedText, ...], int]:
    """Return what is offered, what is taken to mean the customer first, and how many others are not."""
    every = ((each, _is_own(connection, each, ids)) for each in found)
    ranked = sorted(every, key=lambda each: (not each[0].sure, not each[1]))
    meant = [each for each in ranked if each[0].sure or each[1]]
    doubtful = ranked[len(meant) :]
    offered = meant + doubtful[:MOST_DOUBTFUL]
    texts = tuple(_named_text(connection, each, own=own) for each, own in offered)
    return texts, max(0, len(doubtful) - MOST_DOUBTFUL)


def _is_own(connection: sqlite3.Connection, found: FoundText, ids: frozenset[int]) -> bool:
    whose = {customer_of(connection, place) for place in found.places} - {None}
    return bool(whose) and whose <= ids


def _named_text(connection: sqlite3.Connection, found: FoundText, *, own: bool) -> NamedText:
    where = tuple(dict.fromkeys(called(connection, place) for place in found.places))
    return NamedText(
        key=_key(found.text, found.sure),
        sure=found.sure,
        own=own,
        parts=_parts(found),
        where=where[:_WHERE_SHOWN],
        more=max(0, len(where) - _WHERE_SHOWN),
    )


def _key(text: str, sure: bool) -> str:
    return hashlib.sha256(f"{sure:d}{text}".encode()).hexdigest()[:20]


def _parts(found: FoundText) -> tuple[TextPart, ...]:
    """Return a text by parts, shortened where no name is near."""
    parts: list[TextPart] = []
    last = 0
    for span in found.spans:
        parts.append(
            TextPart(text=_short(found.text[last : span.start], last > 0, True), named=False)
        )
        parts.append(TextPart(text=found.text[span.start : span.end], named=True))
        last = span.end
    parts.append(TextPart(text=_short(found.text[last:], True, False), named=False))
    return tuple(part for part in parts if part.text)


def _short(text: str, after: bool, before: bool) -> str:
    """Shorten what stands after a name, before one, or between two."""
    if len(text) <= _AROUND * (after + before):
        return text
    head = text[:_AROUND].rpartition(" ")[0] if after else ""
    tail = text[-_AROUND:].partition(" ")[2] if before else ""
    return f"{head} … {tail}"


def _sharing(connection: sqlite3.Connection, person: Person, ids: frozenset[int]) -> Iterable[str]:
    finder = Finder(person)
    for other in reached(connection):
        same = [
            what
            for what, text in other.ways
            if other.id not in ids and any(span.sure for span in finder.found_in(text))
        ]
        if same:
            yield f"{other.name} has the same {' and '.join(same)}"


def erase(store: Store, customer_id: int, request: RemovalRequest, act: Stamp) -> Removed:
    """Clear a customer's records and every text that was ticked, in the shop and, where asked, in its copies.

    Where the copies stay as they are, one is made before.

    Raises: NotFound, OthersCameUp, Invalid at "also", CannotWrite, DiskFull; nothing is cleared then.
    """
    looked = _looked(store, customer_id, request.also)
    shown, person = looked.removal, looked.person
    if not shown.keys <= request.shown:
        raise OthersCameUp
    ticked, refused = request.ticked, request.shown - request.ticked
    erasure = Erasure(
        person=person,
        own=looked.own,
        decided=lambda text, sure: _key(text, sure) in ticked,
        act=act,
    )
    if request.copies is Copies.KEPT:
        backups.before_removal(store, act)
    clear_store(store, erasure)
    with store.writing() as work:  # by which the form that asks for it is kept as sent
        work.sent_forms.forget_what_was_said()
    folded = any(store.fold() for _ in range(3))
    left = [] if folded else ["The log of the data is still read; it is folded in within a minute."]
    for log in logs_of(store.path):
        try:
            clear_log(log, person)
        except OSError as error:
            left.append(f"{log.name} could not be cleared: {error.strerror}.")

    def in_a_copy(text: str, sure: bool) -> bool:
        key = _key(text, sure)
        return key in ticked or (sure and key not in refused)

    of_copies = replace(erasure, decided=in_a_copy)
    anew = deleted = 0
    for copy in shown.copies:
        try:
            if copy.is_database and request.copies is Copies.ANEW:
                anew += clear_copy(copy.path, store, of_copies)
            elif request.copies is Copies.DELETED if copy.is_database else request.logs:
                delete_copy(copy.path)
                deleted += 1
        except (AppError, OSError, sqlite3.Error) as error:
            said = error.message if isinstance(error, AppError) else str(error)
            left.append(f"{copy.path.name} still has the record: {said}")
    cleared = len(ticked & request.shown)
    return Removed(texts=cleared, anew=anew, deleted=deleted, left=tuple(left))
