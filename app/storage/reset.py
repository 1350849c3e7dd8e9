"""Takes everything out of the file, down to the state in which a new one begins.

Records are append-only and orders are never deleted, by trigger, so the tables themselves go and are
made anew by the migrations. Meant for the invented sample shop; whoever calls it keeps a copy first.
"""

from sqlalchemy import Connection

from app.storage.engine import Store
from app.storage.migrating import SCHEMA, children_left_alone, run_steps


def empty(store: Store) -> None:
    """Take everything out, in one transaction. Raises: CannotWrite."""
    with (
        store.remaking() as engine,
        engine.connect() as connection,
        children_left_alone(connection),
        connection.begin(),
    ):
        _drop_all(connection)
        run_steps(connection, SCHEMA)


def _drop_all(connection: Connection) -> None:
    """Triggers first, then the word indexes with the tables behind them, then the rest."""
    found = connection.exec_driver_sql(
        "SELECT type, name, sql LIKE 'CREATE VIRTUAL%' FROM sqlite_schema "
        "WHERE type IN ('table', 'trigger') AND name NOT LIKE 'sqlite_%'"
    ).all()
    triggers = [name for type_, name, _ in found if type_ == "trigger"]
    indexes = [name for _, name, virtual in found if virtual]
    behind = tuple(f"{name}_" for name in indexes)
    tables = [
        name
        for type_, name, virtual in found
        if type_ == "table" and not virtual and not name.startswith(behind)
    ]
    for name in triggers:
        connection.exec_driver_sql(f'DROP TRIGGER "{name}"')
    for name in (*indexes, *tables):
        connection.exec_driver_sql(f'DROP TABLE "{name}"')
