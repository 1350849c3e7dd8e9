"""Finds whose a database file is and how new, and runs the steps that bring it up to date.

A file that is not ours or is newer than this program is left exactly as it was. Before an older file
is brought up to date, a copy of it is kept beside it.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine

from app.files import MIGRATIONS
from app.storage.copying import copy_of
from app.storage.errors import Damaged, NewerDatabase, NotOurDatabase
from app.storage.log import to_read

SCHEMA = "0028"
"""The newest step; held equal to the folder of migrations by a test."""

APPLICATION_ID = 0x4256_4C42
"""Marks a SQLite file as ours: "BVLB"."""


def schema_of(path: Path) -> str | None:
    """Return the migration that a file stands at; None where there is no file or an empty one.

    Raises: NotOurDatabase, NewerDatabase.
    """
    if not path.exists() or path.stat().st_size == 0:
        return None
    try:
        with closing(to_read(path)) as connection:
            found = _found(connection)
    except sqlite3.DatabaseError as error:
        if getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_NOTADB:
            raise NotOurDatabase(path) from None
        raise
    if found is not None and (not found.isdigit() or len(found) != len(SCHEMA)):
        raise NotOurDatabase(path)
    if found is not None and found > SCHEMA:
        raise NewerDatabase(path, found, SCHEMA)
    return found


def _found(connection: sqlite3.Connection) -> str | None:
    """Return the step; "?" for somebody else's file, None for one in which nothing was made yet."""
    tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    if not tables:
        return None
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    if application != APPLICATION_ID or "alembic_version" not in tables:
        return "?"
    row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    return str(row[0]) if row else "?"


def bring_up_to_date(path: Path, engine: Engine, *, to: str = SCHEMA) -> Path | None:
    """Run the steps that are missing, all or none.

    Returns the copy that was kept of an older file, None where there was nothing to keep.
    Raises: NotOurDatabase, NewerDatabase; Damaged where that copy is not whole, and nothing was changed then.
    """
    found = schema_of(path)
    if found == to:
        return None
    kept = _copy_of(path, found) if found is not None else None
    with engine.connect() as connection, children_left_alone(connection), connection.begin():
        run_steps(connection, to)
        connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
        if orphans := connection.exec_driver_sql("PRAGMA foreign_key_check").all():
            raise RuntimeError(f"the migration left {len(orphans)} rows without their parent")
    return kept


def _copy_of(path: Path, found: str) -> Path:
    copy = path.with_name(f"{path.stem}.schema-{found}{path.suffix}")
    with closing(to_read(path)) as connection:
        copy_of(connection, copy)
    with closing(to_read(copy)) as connection:
        found_in_it = tuple(line for (line,) in connection.execute("PRAGMA integrity_check(3)"))
    if found_in_it != ("ok",):
        raise Damaged(path, found_in_it)
    return copy


@contextmanager
def children_left_alone(connection: Connection) -> Iterator[None]:
    """Turn foreign keys off, since a step that makes a table anew must not take its children with it.

    The pragma does nothing within a transaction, so it goes to the driver before one begins.
    """
    driver = connection.connection.driver_connection
    assert driver is not None, "a connection that was just opened has its driver's"
    driver.execute("PRAGMA foreign_keys = OFF")
    try:
        yield
    finally:
        driver.execute("PRAGMA foreign_keys = ON")


def run_steps(connection: Connection, to: str) -> None:
    """Run the steps that a file lacks, within the transaction of a connection."""
    # Alembic takes long to import and is needed only where a step is missing.
    from alembic import command  # noqa: PLC0415
    from alembic.config import Config  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, to)
