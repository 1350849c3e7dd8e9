"""Takes a person out of everything that is written in a database file, and out of the copies of it.

Every text of every table is looked into, those within JSON too, so that a table which comes later is not forgotten.
Records that are written once are altered here alone, in one transaction which takes their guards off and puts them back.
What is left of a text in the pages of the file goes with it: the word indexes are built anew, the file is written anew.
Source: GDPR art. 17; sqlite.org/lang_vacuum.html; sqlite.org/fts5.html, "The 'rebuild' Command".
"""

import json
import os
import re
import sqlite3
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any, NamedTuple, cast

from sqlalchemy import Connection, StaticPool, create_engine

from app.errors import Conflict
from app.orders import Customer
from app.storage.copies import Copies
from app.storage.copying import copy_of, onto_the_disk
from app.storage.engine import Store
from app.storage.integrity import problems_of
from app.storage.log import INDEX, JOURNAL, LOG, beside, to_read
from app.storage.mapping import Columns
from app.storage.page_sums import SUMS
from app.storage.paging import Stamp
from app.storage.person import Finder, Person, Span, cleared
from app.storage.privacy import BACKUPS
from app.storage.seals import SealingSession, reseal, sealed_kind
from app.storage.tables.customers import erased_columns
from app.storage.whereabouts import Place

_STAY = frozenset(
    [
        "alembic_version",
        "counters",
        "customers",
        "invoices",
        "reseals",
        "seals",
        "stage_counts",
        "sqlite_sequence",
    ]
)
"""Tables that are not looked into: invoices stay as they were issued, customers are a matter of their own, the rest holds no
text of ours."""

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

_VERSIONED = frozenset(["cutting_plans", "materials", "orders", "stock_items", "supplier_orders"])
"""Tables whose rows a form that is still open would write back: their version goes up."""

_HEADER = b"SQLite format 3\x00"
_SCRATCH, _PART = ".part-clearing", ".part-cleared"


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A text that names the person. spans: where, all of them sure or none; places: every one at which this text stands."""

    text: str
    sure: bool
    spans: tuple[Span, ...]
    places: tuple[Place, ...]


type Decision = Callable[[str, bool], bool]
"""Tells whether a text is to be cleared of what is sure in it, or of what is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erasure:
    """What is to be cleared: of whom, with the ids of their own records; which texts; and who clears it, and when."""

    person: Person
    own: frozenset[int]
    decided: Decision
    act: Stamp


class _Column(NamedTuple):
    table: str
    column: str
    keys: tuple[str, ...]


def _driver(connection: Connection) -> sqlite3.Connection:
    return cast(sqlite3.Connection, connection.connection.driver_connection)


def _columns(connection: sqlite3.Connection) -> Iterator[_Column]:
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
                yield _Column(table, name, keys)


def _texts(connection: sqlite3.Connection, column: _Column) -> Iterator[tuple[Place, str]]:
    keys = ", ".join(f'"{key}"' for key in column.keys)
    rows = connection.execute(f'SELECT "{column.column}", {keys} FROM "{column.table}"')
    for text, *key in rows:
        if text:
            yield Place(column.table, column.column, tuple(key)), text


def _notes(connection: sqlite3.Connection, own: Collection[int]) -> Iterator[tuple[Place, str]]:
    """Yield what is noted of other customers; their own names and numbers are theirs."""
    if _has(connection, "customers"):
        for id_, text in connection.execute("SELECT id, notes FROM customers WHERE notes <> ''"):
            if id_ not in own:
                yield Place("customers", "notes", (id_,)), text


def _has(connection: sqlite3.Connection, table: str) -> bool:
    asked = connection.execute(
        "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?", (table,)
    )
    return asked.fetchone() is not None


def _all_texts(
    connection: sqlite3.Connection, finder: Finder, own: Collection[int]
) -> Iterator[tuple[Place, str]]:
    for column in list(_columns(connection)):
        for place, text in _texts(connection, column):
            if finder.may_be_in(text):
                yield place, text
    yield from _notes(connection, own)


def _leaves(text: str) -> tuple[str, ...]:
    """Return the texts within a JSON, each once; of what is none, the whole."""
    plain = _json_of(text)
    return (text,) if plain is None else tuple(dict.fromkeys(_strings(plain)))


def _json_of(text: str) -> Any:
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
            if not _is_key(name):
                yield from _strings(each)


def find(connection: sqlite3.Connection, person: Person, own: Collection[int]) -> tuple[Found, ...]:
    """Return every text that names a person, each once; what is sure and what is not in a text are two of them.

    own: the ids of the person's own records, which are cleared whole.
    """
    finder = Finder(person)
    things = _names_of_things(connection)
    spans: dict[tuple[str, bool], tuple[Span, ...]] = {}
    places: dict[tuple[str, bool], list[Place]] = {}
    for place, text in _all_texts(connection, finder, own):
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
        Found(text=text, sure=sure, spans=spans[text, sure], places=tuple(found))
        for (text, sure), found in places.items()
    )


def _names_of_things(connection: sqlite3.Connection) -> frozenset[str]:
    """Return the names in the price book: one of them is no person's."""
    return frozenset(name for (name,) in connection.execute("SELECT name FROM materials"))


def clear(connection: sqlite3.Connection, erasure: Erasure) -> Mapping[str, set[tuple[Any, ...]]]:
    """Clear texts and the person's own records, within a transaction that has begun. Returns the altered rows by table."""
    finder, own = Finder(erasure.person), erasure.own
    altered: dict[str, dict[tuple[Any, ...], dict[str, str]]] = {}
    for place, text in list(_all_texts(connection, finder, own)):
        made = _without(text, finder, erasure.decided)
        if made != text:
            altered.setdefault(place.table, {}).setdefault(place.key, {})[place.column] = made
    keys = {column.table: column.keys for column in _columns(connection)} | {"customers": ("id",)}
    for table, rows in altered.items():
        with _unguarded(connection, table):
            for key, columns in rows.items():
                _update(connection, table, dict(zip(keys[table], key, strict=True)), columns)
    _raise_versions_of_orders(connection, altered.get("pieces", {}))
    for id_ in own:
        _clear_record(connection, id_, erasure.act.now.date())
    for (index,) in connection.execute(
        "SELECT name FROM sqlite_schema WHERE sql LIKE 'CREATE VIRTUAL TABLE%fts5%'"
    ).fetchall():
        # What is taken out of a word index stays in its pages until these are made anew.
        connection.execute(f'INSERT INTO "{index}" ("{index}") VALUES (\'rebuild\')')
    return {table: set(rows) for table, rows in altered.items()}


_STYLES: tuple[dict[str, Any], ...] = (
    {"ensure_ascii": False, "separators": (",", ":")},
    {"ensure_ascii": False},
    {"separators": (",", ":")},
    {},
)
"""How JSON was ever written here; a text that is altered keeps its own style."""


def _without(text: str, finder: Finder, decided: Decision) -> str:
    """Return a text, or the JSON that it is, without what is to go."""
    plain = _json_of(text)
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
            name: each if _is_key(name) else _cleared_json(each, finder, decided)
            for name, each in plain.items()
        }
    return plain


def _is_key(name: str) -> bool:
    return name.rpartition(".")[2] in _NOT_FREE


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


def _blanks(values: Collection[object]) -> str:
    return ", ".join("?" * len(values))


def _clear_record(connection: sqlite3.Connection, id_: int, now: date) -> None:
    if not _has(connection, "customers"):
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
    if not ids or not _has(connection, "customers"):
        return ()
    asked = connection.execute(
        "SELECT name, phone, email, address, notes FROM customers "
        f"WHERE id IN ({_blanks(ids)}) AND erased_on IS NULL",
        tuple(ids),
    )
    names = ("name", "phone", "email", "address", "notes")
    return tuple(Customer(**dict(zip(names, row, strict=True))) for row in asked)


def ids_of(connection: sqlite3.Connection, customer_id: int) -> frozenset[int]:
    """Return the id of a record and of all that were ever joined into it."""
    if not _has(connection, "customer_joins"):
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
            _clear_and_seal(connection, erasure)
        with closing(engine.raw_connection()) as raw:
            _write_anew(cast(sqlite3.Connection, raw.driver_connection))


_WHY = "Somebody's name and contacts were taken out of it, as the law asks."


def _clear_and_seal(connection: Connection, erasure: Erasure) -> None:
    """Clear the rows, and seal anew those that are sealed; a file of before seals has none."""
    for table, keys in clear(_driver(connection), erasure).items():
        kind = sealed_kind(table)
        if kind is not None and _has(_driver(connection), "reseals"):
            with SealingSession(connection) as session:
                reseal(session, kind, (key[0] for key in keys), why=_WHY, act=erasure.act)
                session.commit()


def _write_anew(connection: sqlite3.Connection) -> None:
    connection.execute("PRAGMA temp_store = MEMORY")  # so that no other file holds it meanwhile
    connection.execute("VACUUM")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCopy:
    """A file beside the shop's own that may hold the person. what: which kind of copy, in words; is_database: whether it
    can be opened and cleared; the others can only be deleted.
    """

    path: Path
    what: str
    at: datetime
    is_database: bool


_NO_COPIES = frozenset({".json", ".keys", ".lock", ".log"})
"""Ends of the names of what lies beside the database and is no copy of it."""

_PARTS = (LOG, INDEX, JOURNAL, SUMS)
"""Ends of the names of what belongs to a database and is none itself."""

_STAMP = re.compile(r"(\d{4})-(\d\d)-(\d\d)-(\d\d)(\d\d)(\d\d)")


def copies_of(database: Path, folders: Iterable[Path] = ()) -> tuple[KeptCopy, ...]:
    """Return the copies in the data folder, in the folder of backups and in others that are named, the latest first."""
    every = dict.fromkeys((database.parent, database.parent / BACKUPS, *folders))
    damaged = {copy.path for copy in Copies(database).all() if copy.note and copy.note.problems}
    found = [
        replace(copy, what="damaged file that was kept aside") if copy.path in damaged else copy
        for folder in every
        for copy in _copies_in(folder, database)
    ]
    return tuple(sorted(found, key=lambda copy: (copy.at, copy.path.name), reverse=True))


def _copies_in(folder: Path, database: Path) -> Iterator[KeptCopy]:
    try:
        files = sorted(
            each for each in folder.iterdir() if each.is_file() and not each.is_symlink()
        )
    except OSError:
        return
    names = {each.name for each in files}
    own = {beside(database, ending).name for ending in ("", *_PARTS)}
    for path in files:
        if not path.name.startswith(database.stem) or _NO_COPIES & set(path.suffixes):
            continue
        if folder == database.parent and path.name in own:
            continue
        if any(path.name.removesuffix(end) in names - {path.name} for end in _PARTS):
            continue  # a part of another copy
        yield KeptCopy(
            path=path, what=_kind_of(path, database), at=_at(path), is_database=_is_database(path)
        )


def _kind_of(path: Path, database: Path) -> str:
    rest = path.name.removeprefix(database.stem)
    if rest.startswith(".schema-"):
        return "copy before an update"
    if rest.startswith(".before-restore"):
        return "copy before a restore"
    if ".of-another-file" in rest:
        return "log that was put aside"
    return "copy" if _is_database(path) else "file"


def _at(path: Path) -> datetime:
    stamp = _STAMP.search(path.name)
    with suppress(ValueError):
        if stamp:
            return datetime(*map(int, stamp.groups())).astimezone()  # type: ignore[arg-type]
    return datetime.fromtimestamp(path.stat().st_mtime).astimezone()


def _is_database(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(len(_HEADER)) == _HEADER
    except OSError:
        return False


def records_in(copy: Path, now: sqlite3.Connection, ids: Collection[int]) -> tuple[Customer, ...]:
    """Return what a copy of the shop has in the person's records; nothing of one that cannot be read.

    now: a connection to the shop itself.
    """
    try:
        with closing(to_read(copy)) as old:
            return records(old, ids) if _is_same_shop(old, now) else ()
    except (sqlite3.Error, OSError):
        return ()


def _is_same_shop(old: sqlite3.Connection, now: sqlite3.Connection) -> bool:
    """Tell whether a copy is of this shop, in which an id means the same: its oldest orders are the same ones."""
    if not _has(old, "orders"):
        return False
    asked = "SELECT id, quote_number, quoted_on FROM orders ORDER BY id LIMIT 20"
    first = old.execute(asked).fetchall()
    return bool(first) and set(first) <= set(now.execute(asked).fetchall())


def clear_copy(copy: Path, store: Store, erasure: Erasure) -> bool:
    """Make a copy anew without the person, in its place and of its own date; a copy of an older version stays of it.

    Records are cleared by their ids where the copy is of the same shop, and by name with phone or e-mail where it is not.
    Returns whether there was anything to clear. Raises: Conflict where the copy is not whole, OSError, sqlite3.Error; the copy is as it was then.
    """
    if not _may_hold(copy, erasure.person):
        return False
    scratch, part = (copy.with_name(copy.name + end) for end in (_SCRATCH, _PART))
    times = copy.stat()
    try:
        if found := problems_of(copy):
            raise Conflict(f"{copy.name} is not whole: {found[0]}")
        with closing(to_read(copy)) as connection:
            copy_of(connection, scratch)
        with closing(sqlite3.connect(scratch, isolation_level=None)) as connection:
            with reading(store) as today:
                same = _is_same_shop(connection, today)
            own = erasure.own if same else _alike(connection, erasure.person)
            _clear_alone(connection, replace(erasure, own=own))
            copy_of(connection, part)  # as every copy is made, with whatever goes along with one
        if found := problems_of(part):
            raise Conflict(f"{copy.name} would not be whole: {found[0]}")
        os.utime(part, ns=(times.st_atime_ns, times.st_mtime_ns))
        part.replace(copy)
        onto_the_disk(copy.parent)
        for ending in (LOG, INDEX, JOURNAL):
            beside(copy, ending).unlink(missing_ok=True)
    finally:
        for made in (scratch, part):
            for ending in ("", LOG, INDEX, JOURNAL):
                with suppress(OSError):
                    beside(made, ending).unlink(missing_ok=True)
    return True


def _clear_alone(driver: sqlite3.Connection, erasure: Erasure) -> None:
    """Clear a file that nobody else has open, and write it anew."""
    # In memory, so that no journal holds meanwhile what is cleared; what is spoilt is thrown away.
    for pragma in ("journal_mode = MEMORY", "secure_delete = ON", "trusted_schema = ON"):
        driver.execute(f"PRAGMA {pragma}")
    engine = create_engine("sqlite://", creator=lambda: driver, poolclass=StaticPool)
    with engine.connect() as connection:
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        _clear_and_seal(connection, erasure)
        connection.exec_driver_sql("COMMIT")
    _write_anew(driver)


_AT_ONCE = 8 * 1024 * 1024


def _may_hold(copy: Path, person: Person) -> bool:
    """Tell quickly whether a word by which the person is known stands anywhere in a file, or in what lies beside it."""
    words = Finder(person).words_in_bytes()
    longest = max(map(len, words), default=0)
    for ending in ("", LOG, JOURNAL):
        path = beside(copy, ending)
        if not path.exists():
            continue
        with path.open("rb") as file:
            before = b""
            while read := file.read(_AT_ONCE):
                part = before + read.lower()
                if any(word in part for word in words):
                    return True
                before = part[-longest:]
    return False


def _alike(connection: sqlite3.Connection, person: Person) -> frozenset[int]:
    """Return the records of a file of another shop that are the person's: the same name with the phone or the e-mail."""
    if not _has(connection, "customers"):
        return frozenset()
    finder = Finder(person)
    asked = connection.execute("SELECT id, name, phone || ' ' || email FROM customers")
    return frozenset(
        id_
        for id_, name, reached in asked
        if any(span.sure for span in finder.found_in(reached)) and any(finder.found_in(name))
    )


def delete_copy(copy: Path) -> None:
    """Delete a copy with whatever lies beside it. Raises: OSError."""
    for ending in ("", *_PARTS):
        beside(copy, ending).unlink(missing_ok=True)
    onto_the_disk(copy.parent)


def logs_of(database: Path) -> tuple[Path, ...]:
    """Return the files beside the database in which the program notes what it does."""
    return tuple(
        sorted(
            path
            for path in database.parent.rglob("*.log*")
            if path.is_file() and not path.is_symlink()
        )
    )


def clear_log(path: Path, person: Person) -> bool:
    """Take the person out of a file of text, which stays the same file, since it may be open. Raises: OSError."""
    finder = Finder(person)
    text = path.read_bytes().decode("utf-8", errors="surrogateescape")
    made = "".join(
        cleared(line, (span for span in finder.found_in(line) if span.sure))
        for line in text.splitlines(keepends=True)
    )
    if made == text:
        return False
    with path.open("r+", encoding="utf-8", errors="surrogateescape", newline="") as file:
        file.write(made)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())
    return True
