"""Tells what stands in one database and not in an older copy of it."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from app.storage.errors import Damaged
from app.storage.log import to_read

_NUMBERS = {
    "orders": ("orders", "order_number"),
    "quotes": ("orders", "quote_number"),
    "invoices": ("invoices", "number"),
}
_COUNTS = {"customers": "customers", "payments": "ledger_entries"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """What would be lost by putting a copy back: numbers, the newest first, and how many customers and entries of the ledger."""

    orders: tuple[str, ...] = ()
    quotes: tuple[str, ...] = ()
    invoices: tuple[str, ...] = ()
    customers: int = 0
    payments: int = 0

    @property
    def anything(self) -> bool:
        """Whether anything was added since; what was changed since is not counted."""
        return bool(self.orders or self.quotes or self.invoices or self.customers or self.payments)


def lost_by(database: Path, copy: Path) -> Lost:
    """Return what a database has and a copy has not. Raises: Damaged where either cannot be read."""
    has, had = _read(database), _read(copy)
    since = {kind: has[kind] - had[kind] for kind in _NUMBERS}
    further = {kind: len(has[kind] - had[kind]) for kind in _COUNTS}
    return Lost(
        orders=_newest_first(since["orders"]),
        quotes=_newest_first(since["quotes"]),
        invoices=_newest_first(since["invoices"]),
        customers=further["customers"],
        payments=further["payments"],
    )


def _newest_first(numbers: set[object]) -> tuple[str, ...]:
    return tuple(sorted(map(str, numbers), reverse=True))


def _read(path: Path) -> dict[str, set[object]]:
    try:
        with closing(to_read(path)) as connection:
            tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
            asked = {**_NUMBERS, **{kind: (table, "id") for kind, table in _COUNTS.items()}}
            return {
                kind: {
                    found
                    for (found,) in connection.execute(f"SELECT {column} FROM {table}")
                    if found is not None
                }
                # A copy of an older version has no such table yet.
                if table in tables
                else set()
                for kind, (table, column) in asked.items()
            }
    except sqlite3.DatabaseError as error:
        raise Damaged(path, (f"it cannot be read ({error})",)) from error
