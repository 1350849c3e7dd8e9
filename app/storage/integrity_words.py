"""Holds the word indexes to what they should find, both ways."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple

from app.storage.called import named

_WORDS = "unicode61 remove_diacritics 2"

_OF_ORDERS = """
    SELECT
        o.id,
        o.quote_number || ' ' || ltrim(substr(o.quote_number, 8), '0')
            || coalesce(' ' || o.order_number, '')
            || coalesce(' ' || ltrim(substr(o.order_number, 6), '0'), ''),
        c.name,
        coalesce((
            SELECT group_concat(p.title, ' ') FROM pieces p
            WHERE p.order_id = o.id AND p.removed_at IS NULL
        ), ''),
        coalesce((
            SELECT group_concat(p.place, ' ') FROM pieces p
            WHERE p.order_id = o.id AND p.removed_at IS NULL
        ), ''),
        o.note || coalesce((
            SELECT ' ' || group_concat(l.what, ' ') FROM order_lines l
            WHERE l.order_id = o.id AND NOT l.struck
        ), '')
    FROM orders o JOIN customers c ON c.id = o.customer_id
"""


class _Index(NamedTuple):
    """A word index. of: the table whose rows it finds; should: what it should hold, id first."""

    name: str
    of: str
    columns: tuple[str, ...]
    tokenize: str
    should: str


_INDEXES = (
    _Index(
        "order_words",
        "orders",
        ("numbers", "customer", "titles", "places", "note"),
        _WORDS,
        _OF_ORDERS,
    ),
    _Index(
        "customer_words",
        "customers",
        ("name", "phone", "email", "address", "notes"),
        _WORDS,
        "SELECT id, name, phone, email, address, notes FROM customers",
    ),
    _Index("customer_parts", "customers", ("parts",), "trigram", "SELECT id, parts FROM customers"),
)


def wrong_words(connection: sqlite3.Connection) -> Iterator[str]:
    """Yield what is wrong, a sentence each. Another index is made beside it, and every word of both compared."""
    for index in _INDEXES:
        with _beside_each_other(connection, index):
            for row in _only_in(connection, "should_find", "finds"):
                yield f"{named(connection, index.of, row)} is not found by all of its words."
            for row in _only_in(connection, "finds", "should_find"):
                yield f"{named(connection, index.of, row)} is found by words that do not stand there."


@contextmanager
def _beside_each_other(connection: sqlite3.Connection, index: _Index) -> Iterator[None]:
    columns = ", ".join(index.columns)
    connection.execute(
        f"CREATE VIRTUAL TABLE temp.should_hold USING fts5({columns}, tokenize='{index.tokenize}')"
    )
    connection.execute(f"INSERT INTO temp.should_hold (rowid, {columns}) {index.should}")
    connection.execute(
        "CREATE VIRTUAL TABLE temp.should_find USING fts5vocab('temp', 'should_hold', 'instance')"
    )
    connection.execute(
        f"CREATE VIRTUAL TABLE temp.finds USING fts5vocab('main', '{index.name}', 'instance')"
    )
    try:
        yield
    finally:
        for name in ("finds", "should_find", "should_hold"):
            connection.execute(f"DROP TABLE temp.{name}")


def _only_in(connection: sqlite3.Connection, one: str, other: str) -> list[int]:
    """Return the rows of which one index has a word at a place that the other has not."""
    return [
        row
        for (row,) in connection.execute(
            f"SELECT DISTINCT doc FROM (SELECT doc, col, term, offset FROM temp.{one} "
            f"EXCEPT SELECT doc, col, term, offset FROM temp.{other}) ORDER BY doc"
        )
    ]
