"""Seals of what is written once: a hash of every row there is, chained for invoices and the ledger."""

import hashlib
from collections.abc import Iterator
from typing import Any

from alembic import op

revision = "0025"
down_revision = "0024"

TABLES = (
    """
    CREATE TABLE seals (
        "of" TEXT NOT NULL,
        "row" INTEGER NOT NULL,
        width INTEGER NOT NULL CHECK (width > 0),
        hash BLOB NOT NULL CHECK (length(hash) = 32),
        PRIMARY KEY ("of", "row")
    ) STRICT, WITHOUT ROWID
    """,
    """
    CREATE TABLE reseals (
        id INTEGER NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        "of" TEXT NOT NULL,
        "row" INTEGER NOT NULL,
        width INTEGER NOT NULL CHECK (width > 0),
        hash BLOB NOT NULL CHECK (length(hash) = 32),
        why TEXT NOT NULL CHECK (why <> '')
    ) STRICT
    """,
)

APPEND_ONLY = tuple(
    f"""
    CREATE TRIGGER {table}_{name} BEFORE {act} ON {table} BEGIN
        SELECT RAISE(ABORT, '{table} is append-only');
    END
    """
    for table in ("seals", "reseals")
    for name, act in (("unchanged", "UPDATE"), ("stay", "DELETE"))
)

WHOLE = (
    "customer_joins",
    "customer_told",
    "deliveries",
    "design_changes",
    "line_agreements",
    "line_stage_changes",
    "part_changes",
    "piece_snapshots",
    "plan_bookings",
    "plan_ticks",
    "reductions",
    "stage_changes",
    "step_ticks",
    "stock_movements",
    "ticket_prints",
)
CHAINED = ("invoices", "ledger_entries")
IN_PART = {
    "cutting_plans": ("id", "number", "solver", "sections", "at", "by"),
    "stock_items": (
        *("id", "material_id", "form", "whole", "label"),
        *("length", "width", "height", "since"),
    ),
}


def upgrade() -> None:
    for step in (*TABLES, *APPEND_ONLY):
        op.get_bind().exec_driver_sql(step)
    # Read as bytes, since a text that is damaged is to be told by a check and not to stop this step.
    driver: Any = op.get_bind().connection.driver_connection
    usual, driver.text_factory = driver.text_factory, bytes
    try:
        for table in (*WHOLE, *CHAINED, *IN_PART):
            driver.executemany(
                'INSERT INTO seals ("of", "row", width, hash) VALUES (?, ?, ?, ?)',
                list(_seals(driver, table)),
            )
    finally:
        driver.text_factory = usual


def _seals(driver: Any, table: str) -> Iterator[tuple[str, int, int, bytes]]:
    rows = driver.execute(f'SELECT * FROM "{table}" ORDER BY id')
    columns = [name.decode() if isinstance(name, bytes) else name for name, *_ in rows.description]
    covered = [name for name in columns if name in IN_PART.get(table, columns)]
    before = b""
    for values in rows:
        row = dict(zip(columns, values, strict=True))
        digest = hashlib.sha256(before)
        for name in covered:
            kind, stored = _stored(row[name])
            digest.update(f"{name}:{kind}{len(stored)}:".encode())
            digest.update(stored)
        if table in CHAINED:
            before = digest.digest()
        yield table, row["id"], len(columns), digest.digest()


def _stored(value: Any) -> tuple[str, bytes]:
    if value is None:
        return "n", b""
    return ("t", value) if isinstance(value, bytes) else ("i", str(value).encode())
