"""The migrations make what the rows describe, step by step, from anywhere."""

import hashlib
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

import pytest
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from app.files import MIGRATIONS
from app.storage import DATABASE_NAME, Store
from app.storage.engine import _WRITING, _engine, migrate_new
from app.storage.mapping import Row
from app.storage.migrating import SCHEMA, bring_up_to_date, schema_of

TABLES = sorted(Row.metadata.tables)


def _scripts() -> ScriptDirectory:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    return ScriptDirectory.from_config(config)


def test_the_program_knows_the_newest_step() -> None:
    assert _scripts().get_heads() == [SCHEMA]


def test_the_steps_are_numbered_one_after_another() -> None:
    revisions = [script.revision for script in _scripts().walk_revisions()]
    assert revisions == [f"{number:04d}" for number in range(len(revisions), 0, -1)]


def test_a_step_that_landed_is_never_edited() -> None:
    """Data that it has run over are what it made of them then. A new step is a new line of the list."""
    kept = Path(__file__).with_name("migrations.sha256").read_text().splitlines()
    listed = {name: hash_ for hash_, name in (line.split() for line in kept)}
    found = {
        step.name: hashlib.sha256(step.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
        for step in (MIGRATIONS / "versions").glob("*.py")
    }
    assert found == listed


def _asked(connection: sqlite3.Connection, pragma: str) -> list[tuple[object, ...]]:
    return connection.execute(f"PRAGMA {pragma}").fetchall()


def _columns(connection: sqlite3.Connection, table: str) -> set[tuple[object, ...]]:
    """(name, type, not null, place in the key, hidden) of every column."""
    return {
        (name, type_, not_null, in_key, hidden)
        for _, name, type_, not_null, _, in_key, hidden in _asked(
            connection, f"table_xinfo({table})"
        )
    }


def _indexes(connection: sqlite3.Connection, table: str) -> set[tuple[object, ...]]:
    """(name, unique, partial, columns, condition) of every index that was asked for."""
    found: set[tuple[object, ...]] = set()
    for _, name, unique, origin, partial in _asked(connection, f"index_list({table})"):
        if origin == "c":
            columns = tuple(row[2] for row in _asked(connection, f"index_info({name})"))
            (sql,) = connection.execute(
                "SELECT sql FROM sqlite_master WHERE name = ?", (name,)
            ).fetchone()
            found.add((name, unique, partial, columns, sql.partition("WHERE")[2].strip()))
    return found


def _foreign_keys(connection: sqlite3.Connection, table: str) -> set[tuple[object, ...]]:
    return {row[2:5] for row in _asked(connection, f"foreign_key_list({table})")}


def _form(connection: sqlite3.Connection, table: str) -> tuple[object, ...]:
    """(type, without rowid, strict) and whether ids are never used again."""
    (row,) = [row for row in _asked(connection, "table_list") if row[1] == table]
    (sql,) = connection.execute("SELECT sql FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    return (row[2], row[4], row[5], "AUTOINCREMENT" in sql)


@pytest.fixture(scope="module")
def migrated(tmp_path_factory: pytest.TempPathFactory) -> Iterable[sqlite3.Connection]:
    file = tmp_path_factory.mktemp("migrated") / DATABASE_NAME
    Store.open(file).close()
    with closing(sqlite3.connect(file)) as connection:
        yield connection


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterable[sqlite3.Connection]:
    file = tmp_path_factory.mktemp("described") / DATABASE_NAME
    engine = create_engine(f"sqlite:///{file}")
    Row.metadata.create_all(engine)
    engine.dispose()
    with closing(sqlite3.connect(file)) as connection:
        yield connection


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize("look", [_columns, _indexes, _foreign_keys, _form])
def test_the_migrated_tables_equal_the_rows(
    migrated: sqlite3.Connection, described: sqlite3.Connection, table: str, look: object
) -> None:
    assert callable(look)
    assert look(migrated, table) == look(described, table)


def test_there_is_no_table_beside_the_rows_and_the_word_indexes(
    migrated: sqlite3.Connection,
) -> None:
    tables = {row[1] for row in _asked(migrated, "table_list") if row[2] == "table"}
    virtual = {row[1] for row in _asked(migrated, "table_list") if row[2] == "virtual"}
    assert virtual == {"customer_words", "customer_parts", "order_words"}
    own = {"alembic_version", "sqlite_schema", "sqlite_temp_schema", "sqlite_sequence"}
    assert tables - own == set(TABLES)


def test_every_table_of_ours_is_strict(migrated: sqlite3.Connection) -> None:
    strict = {row[1]: row[5] for row in _asked(migrated, "table_list")}
    assert {table: strict[table] for table in TABLES} == dict.fromkeys(TABLES, 1)


def test_migrating_works_from_another_folder_and_with_odd_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    odd = tmp_path / "50% off, größer & 'quoted' ?"
    odd.mkdir()
    monkeypatch.chdir("/")
    with Store.open(odd / "a b#c.sqlite3") as store, store.reading() as work:
        assert work.customers.listed().total == 0
    assert sorted(file.name for file in odd.iterdir()) == ["a b#c.sqlite3"]


def test_a_database_that_is_up_to_date_is_left_alone(path: Path) -> None:
    Store.open(path).close()
    before = path.read_bytes()
    Store.open(path).close()
    assert path.read_bytes() == before


@pytest.mark.parametrize("start", [f"{number:04d}" for number in range(1, int(SCHEMA))])
def test_an_older_database_is_brought_up_to_date_and_a_copy_is_kept(path: Path, start: str) -> None:
    migrate_new(path, start)
    assert schema_of(path) == start
    Store.open(path).close()
    assert schema_of(path) == SCHEMA
    copy = path.with_name(f"bevelbook.schema-{start}.sqlite3")
    assert schema_of(copy) == start


def _insert(connection: sqlite3.Connection, table: str, values: dict[str, object]) -> None:
    """A row with these values, and with something in each further column that must not be null."""
    fill: dict[object, object] = {"TEXT": "2026-01-01", "INTEGER": 0}
    row: dict[str, object] = {}
    for _, name, type_, not_null, _, in_key, hidden in _asked(connection, f"table_xinfo({table})"):
        if not_null and not in_key and not hidden:
            row[str(name)] = "ordered" if name == "stage" else fill[type_]
    row |= values
    marks = ", ".join("?" * len(row))
    insert = f"INSERT INTO {table} ({', '.join(row)}) VALUES ({marks})"
    connection.execute(insert, tuple(row.values()))


def test_what_was_taken_off_before_it_said_so_is_stated_with_tax(path: Path) -> None:
    migrate_new(path, "0010")
    rows: tuple[tuple[str, dict[str, object]], ...] = (
        ("customers", {"id": 1, "version": 1, "name": "Amber Quill", "tax_free": 0}),
        ("orders", {"id": 1, "version": 1, "customer_id": 1, "currency": "EUR"}),
        ("reductions", {"order_id": 1, "amount_minor": 500, "currency": "EUR", "reason": "late"}),
    )
    with closing(sqlite3.connect(path)) as connection, connection:
        for table, values in rows:
            _insert(connection, table, values)
    Store.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT amount_minor, with_tax FROM reductions").fetchall()
    assert found == [(500, 1)]


def test_what_a_correction_undid_is_what_it_takes_back(path: Path) -> None:
    migrate_new(path, "0013")
    money = {"order_id": 1, "currency": "EUR"}
    rows: tuple[tuple[str, dict[str, object]], ...] = (
        ("customers", {"id": 1, "version": 1, "name": "Amber Quill", "tax_free": 0}),
        ("orders", {"id": 1, "version": 1, "customer_id": 1, "currency": "EUR"}),
        ("ledger_entries", {"id": 1, "kind": "payment", "amount_minor": 700} | money),
        (
            "ledger_entries",
            {"id": 2, "kind": "correction", "amount_minor": -700, "corrects": 1} | money,
        ),
        ("reductions", {"id": 1, "amount_minor": 500, "reason": "late"} | money),
        ("reductions", {"id": 2, "amount_minor": -500, "reason": "late", "undoes": 1} | money),
    )
    with closing(sqlite3.connect(path)) as connection, connection:
        for table, values in rows:
            _insert(connection, table, values)
    Store.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        for table in ("ledger_entries", "reductions"):
            found = connection.execute(f"SELECT id, takes_back FROM {table} ORDER BY id")
            assert found.fetchall() == [(1, None), (2, 1)]
            with pytest.raises(sqlite3.IntegrityError, match="append-only"):
                connection.execute(f"UPDATE {table} SET takes_back = NULL")


def test_pieces_of_an_older_database_have_the_number_of_the_design_that_counts(path: Path) -> None:
    """What was agreed before several could be alike says no number; what cannot be read counts as one."""
    migrate_new(path, "0023")
    agreed = {
        1: '{"schema":3,"agreed":{"price":{}}}',
        2: '{"schema":3,"agreed":{"copies":20}}',
        3: '{"schema":3,"agreed":{"copies":6}}',
        4: "{torn}",
    }
    rows: list[tuple[str, dict[str, object]]] = [
        ("customers", {"id": 1, "version": 1, "name": "Amber Quill", "tax_free": 0}),
        ("orders", {"id": 1, "version": 1, "customer_id": 1, "currency": "EUR"}),
    ]
    for number, design in ((1, 1), (2, 1), (3, 2), (4, 1)):
        counted = {"id": number, "order_id": 1, "number": number, "counted_design": design}
        rows.append(("pieces", counted))
    snapshots = ((1, 1, 1), (2, 1, 3), (2, 1, 2), (3, 1, 2), (3, 2, 3), (4, 1, 4))
    for piece_id, design, says in snapshots:
        said = {"piece_id": piece_id, "design": design, "agreed": agreed[says]}
        rows.append(("piece_snapshots", said))
    with closing(sqlite3.connect(path)) as connection, connection:
        for table, values in rows:
            _insert(connection, table, values)
    Store.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT id, copies FROM pieces ORDER BY id").fetchall()
    assert found == [(1, 1), (2, 20), (3, 6), (4, 1)]


def test_a_step_that_fails_leaves_the_database_as_it_was(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path.touch()
    engine = _engine(path, "BEGIN IMMEDIATE", _WRITING)
    bring_up_to_date(path, engine, to="0002")

    def fail(*_: object) -> None:
        raise LookupError("the power went")

    monkeypatch.setattr("alembic.op.get_bind", fail)
    with pytest.raises(LookupError):
        bring_up_to_date(path, engine)
    engine.dispose()
    assert schema_of(path) == "0002"


def test_the_rules_within_a_row_are_held_by_the_database(migrated: sqlite3.Connection) -> None:
    customer = (
        "INSERT INTO customers (version, name, phone, email, address, notes, tax_free, name_key, "
        "parts, updated_at) VALUES ({version}, '{name}', '', '', '', '', {tax_free}, '', '', '')"
    )
    good = {"version": 1, "name": "Amber Quill", "tax_free": 0}
    migrated.execute(customer.format(**good))
    for bad in ({"version": 0}, {"name": ""}, {"tax_free": 2}, {"version": "'one'"}):
        with pytest.raises(sqlite3.IntegrityError):
            migrated.execute(customer.format(**{**good, **bad}))
