"""Takes a person out of everything that is written in a database file; of its copies see `erased_copies`.

Where the person is named is found by `found_texts`.
Records that are written once are altered here alone, in one transaction which takes their guards off and puts them back.
What is left of a text in the pages of the file goes with it: the word indexes are built anew, the file is written anew.
Source: GDPR art. 17; sqlite.org/lang_vacuum.html; sqlite.org/fts5.html, "The 'rebuild' Command".
"""

import json
import sqlite3
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from typing import Any, cast

from sqlalchemy import Connection

from app.orders import Customer
from app.storage.engine import Store
from app.storage.erasing_pictures import drop_pictures, photos_of, without_photos
from app.storage.found_texts import all_texts, has, is_key, json_of, text_columns
from app.storage.mapping import Columns
from app.storage.paging import Stamp
from app.storage.person import Finder, Person, cleared
from app.storage.seals import SealingSession, reseal, sealed_kind
from app.storage.tables.customers import erased_columns
from app.storage.whereabouts import Place

_VERSIONED = frozenset(["cutting_plans", "materials", "orders", "stock_items", "supplier_orders"])
"""Tables whose rows a form that is still open would write back: their version goes up."""


type Decision = Callable[[str, bool], bool]
"""Tells whether a text is to be cleared of what is sure in it, or of what is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erasure:
    """What is to be cleared: of whom, with the ids of their own records; which texts; and who clears it, and when."""

    person: Person
    own: frozenset[int]
    decided: Decision
    act: Stamp


def _driver(connection: Connection) -> sqlite3.Connection:
    return cast(sqlite3.Connection, connection.connection.driver_connection)


def clear(connection: sqlite3.Connection, erasure: Erasure) -> Mapping[str, set[tuple[Any, ...]]]:
    """Clear texts and the person's own records, within a transaction that has begun. Returns the altered rows by table."""
    finder, own = Finder(erasure.person), erasure.own
    altered: dict[str, dict[tuple[Any, ...], dict[str, str]]] = {}
    for place, text in list(all_texts(connection, finder, own)):
        made = _without(text, finder, erasure.decided)
        if made != text:
            altered.setdefault(place.table, {}).setdefault(place.key, {})[place.column] = made
    photos = photos_of(connection, own) if has(connection, "pictures") else frozenset()
    for place, text in list(_naming(connection, photos, own)):
        row = altered.setdefault(place.table, {}).setdefault(place.key, {})
        row[place.column] = without_photos(row.get(place.column, text), photos)
    keys = {column.table: column.keys for column in text_columns(connection)} | {
        "customers": ("id",)
    }
    for table, rows in altered.items():
        with _unguarded(connection, table):
            for key, columns in rows.items():
                _update(connection, table, dict(zip(keys[table], key, strict=True)), columns)
    _raise_versions_of_orders(connection, altered.get("pieces", {}))
    if photos:
        drop_pictures(connection, photos)
    for id_ in own:
        _clear_record(connection, id_, erasure.act.now.date())
    for (index,) in connection.execute(
        "SELECT name FROM sqlite_schema WHERE sql LIKE 'CREATE VIRTUAL TABLE%fts5%'"
    ).fetchall():
        # What is taken out of a word index stays in its pages until these are made anew.
        connection.execute(f'INSERT INTO "{index}" ("{index}") VALUES (\'rebuild\')')
    return {table: set(rows) for table, rows in altered.items()}


def _naming(
    connection: sqlite3.Connection, photos: Collection[str], own: Collection[int]
) -> Iterator[tuple[Place, str]]:
    """Yield what names one of some photos among the pieces of a person, and what was agreed for them."""
    if not photos:
        return
    for table, column, key, piece in (
        ("pieces", "photo", "id", "id"),
        ("piece_snapshots", "agreed", "id", "piece_id"),
    ):
        for text, id_ in connection.execute(
            f'SELECT t."{column}", t."{key}" FROM "{table}" t JOIN pieces p ON p.id = t."{piece}" '
            f"JOIN orders o ON o.id = p.order_id WHERE o.customer_id IN ({', '.join('?' * len(own))})",
            tuple(own),
        ):
            if any(photo in text for photo in photos):
                yield Place(table, column, (id_,)), text


_STYLES: tuple[dict[str, Any], ...] = (
    {"ensure_ascii": False, "separators": (",", ":")},
    {"ensure_ascii": False},
    {"separators": (",", ":")},
    {},
)
"""How JSON was ever written here; a text that is altered keeps its own style."""


def _without(text: str, finder: Finder, decided: Decision) -> str:
    """Return a text, or the JSON that it is, without what is to go."""
    plain = json_of(text)
    if plain is None:
        return _cleared_leaf(text, finder, decided)
    made = _cleared_json(plain, finder, decided)
    if made == plain:
        return text
    style = next((each for each in _STYLES if json.dumps(plain, **each) == text), _STYLES[0])
    return json.dumps(made, **style)


def _cleared_json(plain: Any, finder: Finder, decided: Decision) -> Any:
    if isinstance(plain, str):
        return _cleared_leaf(plain, finder, decided)
    if isinstance(plain, list):
        return [_cleared_json(each, finder, decided) for each in plain]
    if isinstance(plain, dict):
        return {
            name: each if is_key(name) else _cleared_json(each, finder, decided)
            for name, each in plain.items()
        }
    return plain


def _cleared_leaf(text: str, finder: Finder, decided: Decision) -> str:
    return cleared(text, (span for span in finder.found_in(text) if decided(text, span.sure)))


@contextmanager
def _unguarded(connection: sqlite3.Connection, table: str) -> Iterator[None]:
    """Take the triggers off a table that refuse to alter it, and put them back, word for word."""
    guards = connection.execute(
        "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ? "
        "AND sql LIKE '%BEFORE UPDATE%RAISE(ABORT%'",
        (table,),
    ).fetchall()
    for name, _ in guards:
        connection.execute(f'DROP TRIGGER "{name}"')
    yield
    for _, sql in guards:
        connection.execute(sql)


def _update(
    connection: sqlite3.Connection, table: str, key: Mapping[str, Any], columns: Mapping[str, Any]
) -> None:
    what = ", ".join(f'"{name}" = ?' for name in columns)
    if table in _VERSIONED or table == "customers":
        what += ", version = version + 1"
    where = " AND ".join(f'"{name}" = ?' for name in key)
    connection.execute(
        f'UPDATE "{table}" SET {what} WHERE {where}', (*columns.values(), *key.values())
    )


def _raise_versions_of_orders(
    connection: sqlite3.Connection, pieces: Iterable[tuple[Any, ...]]
) -> None:
    for (id_,) in pieces:
        connection.execute(
            "UPDATE orders SET version = version + 1 "
            "WHERE id = (SELECT order_id FROM pieces WHERE id = ?)",
            (id_,),
        )


def _clear_record(connection: sqlite3.Connection, id_: int, now: date) -> None:
    if not has(connection, "customers"):
        return
    found = connection.execute(
        "SELECT tax_free, erased_on FROM customers WHERE id = ?", (id_,)
    ).fetchone()
    if found is not None:
        tax_free, erased_on = found
        columns: Columns = erased_columns(tax_free=bool(tax_free))
        columns |= {"tax_free": tax_free, "erased_on": erased_on or now.isoformat()}
        _update(connection, "customers", {"id": id_}, columns)


def records(connection: sqlite3.Connection, ids: Collection[int]) -> tuple[Customer, ...]:
    """Return what stands in the records of some customers that were not erased."""
    if not ids or not has(connection, "customers"):
        return ()
    asked = connection.execute(
        "SELECT name, phone, email, address, notes FROM customers "
        f"WHERE id IN ({', '.join('?' * len(ids))}) AND erased_on IS NULL",
        tuple(ids),
    )
    names = ("name", "phone", "email", "address", "notes")
    return tuple(Customer(**dict(zip(names, row, strict=True))) for row in asked)


def ids_of(connection: sqlite3.Connection, customer_id: int) -> frozenset[int]:
    """Return the id of a record and of all that were ever joined into it."""
    if not has(connection, "customer_joins"):
        return frozenset({customer_id})
    asked = connection.execute(
        "WITH RECURSIVE ours (id) AS (SELECT ? UNION SELECT j.joined_id FROM customer_joins j "
        "JOIN ours ON j.customer_id = ours.id) SELECT id FROM ours",
        (customer_id,),
    )
    return frozenset(id_ for (id_,) in asked)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """How a customer is reached, by words for each way; one that was erased is not reached at all."""

    id: int
    name: str
    ways: tuple[tuple[str, str], ...]


def reached(connection: sqlite3.Connection) -> Iterator[Reached]:
    """Yield how every customer is reached, by name."""
    for id_, name, *ways in connection.execute(
        "SELECT id, name, phone, email, address FROM customers "
        "WHERE erased_on IS NULL ORDER BY name_key"
    ):
        named = zip(("phone", "e-mail", "address"), ways, strict=True)
        yield Reached(id=id_, name=name, ways=tuple(named))


@contextmanager
def reading(store: Store) -> Iterator[sqlite3.Connection]:
    """Give a connection to the open shop that changes nothing, of one moment."""
    with store.reading() as work:
        yield _driver(work.session.connection())


def clear_store(store: Store, erasure: Erasure) -> None:
    """Clear the open shop in one transaction and write its file anew; what was stays in its log until that is folded in.

    Raises: CannotWrite, DiskFull.
    """
    with store.remaking() as engine:
        with engine.connect() as connection, connection.begin():
            clear_and_seal(connection, erasure)
        with closing(engine.raw_connection()) as raw:
            write_anew(cast(sqlite3.Connection, raw.driver_connection))


_WHY = "Somebody's name and contacts were taken out of it, as the law asks."


def clear_and_seal(connection: Connection, erasure: Erasure) -> None:
    """Clear the rows, and seal anew those that are sealed; a file of before seals has none."""
    for table, keys in clear(_driver(connection), erasure).items():
        kind = sealed_kind(table)
        if kind is not None and has(_driver(connection), "reseals"):
            with SealingSession(connection) as session:
                reseal(session, kind, (key[0] for key in keys), why=_WHY, act=erasure.act)
                session.commit()


def write_anew(connection: sqlite3.Connection) -> None:
    """Write a file anew, so that nothing is left in its free pages."""
    connection.execute("PRAGMA temp_store = MEMORY")  # so that no other file holds it meanwhile
    connection.execute("VACUUM")
