"""Finds where a person is named in a database file: every text of every table is looked into, those within JSON too.

So a table that comes later is not forgotten; what is left out is said here by name.
"""

import json
import sqlite3
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from app.storage.person import Finder, Person, Span
from app.storage.whereabouts import Place

_STAY = frozenset(
    [
        "alembic_version",
        "counters",
        "customers",
        "invoices",
        "pictures",
        "reseals",
        "seals",
        "stage_counts",
        "sqlite_sequence",
    ]
)
"""Tables that are not looked into: invoices stay as they were issued, customers and pictures are a matter of their own, the
rest holds no text of ours."""

_NOT_FREE = frozenset({"at", "by", "code", "digest", "material", "currency"})
"""Columns, and names within JSON, whose text is a key or names who did it."""

_NAMES_OF_THINGS = frozenset(
    [
        "former_codes",
        "materials",
        "plan_parts",
        "shop",
        "stock_items",
        "stock_levels",
        "supplier_orders",
        "cutting_plans",
    ]
)
"""Tables in which a single word of a name is that of a thing or of a supplier."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundText:
    """A text that names the person. spans: where, all of them sure or none; places: every one at which this text stands."""

    text: str
    sure: bool
    spans: tuple[Span, ...]
    places: tuple[Place, ...]


class TextColumn(NamedTuple):
    """A column in which a text may stand. keys: the columns of the key of its table."""

    table: str
    column: str
    keys: tuple[str, ...]


def text_columns(connection: sqlite3.Connection) -> Iterator[TextColumn]:
    """Yield every column in which a text may stand."""
    found = connection.execute(
        "SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
    ).fetchall()
    indexes = tuple(f"{name}_" for name, sql in found if sql.startswith("CREATE VIRTUAL"))
    for table, sql in found:
        if table in _STAY or sql.startswith("CREATE VIRTUAL") or table.startswith(indexes):
            continue
        info = connection.execute(f'PRAGMA table_info("{table}")').fetchall()
        keys = tuple(name for _, name, _, _, _, key in sorted(info, key=lambda row: row[5]) if key)
        for _, name, kind, _, _, key in info:
            if kind == "TEXT" and not key and name not in _NOT_FREE:
                yield TextColumn(table, name, keys)


def _texts(connection: sqlite3.Connection, column: TextColumn) -> Iterator[tuple[Place, str]]:
    keys = ", ".join(f'"{key}"' for key in column.keys)
    rows = connection.execute(f'SELECT "{column.column}", {keys} FROM "{column.table}"')
    for text, *key in rows:
        if text:
            yield Place(column.table, column.column, tuple(key)), text


def _notes(connection: sqlite3.Connection, own: Collection[int]) -> Iterator[tuple[Place, str]]:
    """Yield what is noted of other customers; their own names and numbers are theirs."""
    if has(connection, "customers"):
        for id_, text in connection.execute("SELECT id, notes FROM customers WHERE notes <> ''"):
            if id_ not in own:
                yield Place("customers", "notes", (id_,)), text


def has(connection: sqlite3.Connection, table: str) -> bool:
    """Tell whether a file has a table; one of an older version may not."""
    asked = connection.execute(
        "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?", (table,)
    )
    return asked.fetchone() is not None


def all_texts(
    connection: sqlite3.Connection, finder: Finder, own: Collection[int]
) -> Iterator[tuple[Place, str]]:
    """Yield every text in which a person may be named, and where it stands. own: ids of the person's own records."""
    for column in list(text_columns(connection)):
        for place, text in _texts(connection, column):
            if finder.may_be_in(text):
                yield place, text
    yield from _notes(connection, own)


def _leaves(text: str) -> tuple[str, ...]:
    """Return the texts within a JSON, each once; of what is none, the whole."""
    plain = json_of(text)
    return (text,) if plain is None else tuple(dict.fromkeys(_strings(plain)))


def json_of(text: str) -> Any:
    """Return what a text says as JSON; None where it is no object and no list of it."""
    if text[:1] not in ("{", "["):
        return None
    try:
        return json.loads(text)
    except ValueError:
        return None


def _strings(plain: Any) -> Iterator[str]:
    if isinstance(plain, str):
        yield plain
    elif isinstance(plain, list):
        for each in plain:
            yield from _strings(each)
    elif isinstance(plain, dict):
        for name, each in plain.items():
            if not is_key(name):
                yield from _strings(each)


def find(
    connection: sqlite3.Connection, person: Person, own: Collection[int]
) -> tuple[FoundText, ...]:
    """Return every text that names a person, each once; what is sure and what is not in a text are two of them.

    own: the ids of the person's own records, which are cleared whole.
    """
    finder = Finder(person)
    things = _names_of_things(connection)
    spans: dict[tuple[str, bool], tuple[Span, ...]] = {}
    places: dict[tuple[str, bool], list[Place]] = {}
    for place, text in all_texts(connection, finder, own):
        for leaf in _leaves(text):
            for span in finder.found_in(leaf):
                if not span.sure and (place.table in _NAMES_OF_THINGS or leaf in things):
                    continue
                key = leaf, span.sure
                if key not in spans:
                    spans[key] = tuple(s for s in finder.found_in(leaf) if s.sure is span.sure)
                if place not in places.setdefault(key, []):
                    places[key].append(place)
    return tuple(
        FoundText(text=text, sure=sure, spans=spans[text, sure], places=tuple(found))
        for (text, sure), found in places.items()
    )


def _names_of_things(connection: sqlite3.Connection) -> frozenset[str]:
    """Return the names in the price book: one of them is no person's."""
    return frozenset(name for (name,) in connection.execute("SELECT name FROM materials"))


def is_key(name: str) -> bool:
    """Tell whether what stands under a name within JSON is a key or names who did it."""
    return name.rpartition(".")[2] in _NOT_FREE
