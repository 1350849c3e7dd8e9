"""Lines of an order without a piece: goods of the price book and free texts, what was agreed for each, and
their changes of stage; and what of goods leaves the rack when it is handed over.

What was agreed and the changes of stage are append-only. A line is found by its words, as a piece is by its title.
"""

import sqlite3

from alembic import op

revision = "0021"
down_revision = "0020"

STAGES = ("quoted", "ordered", "cut", "framed", "collected", "declined", "cancelled")
IS_STAGE = "IN (" + ", ".join(f"'{stage}'" for stage in STAGES) + ")"

TABLES = (
    f"""
    CREATE TABLE order_lines (
        id INTEGER NOT NULL PRIMARY KEY,
        order_id INTEGER NOT NULL REFERENCES orders (id),
        number INTEGER NOT NULL CHECK (number > 0),
        what TEXT NOT NULL,
        material_id INTEGER REFERENCES materials (id) ON DELETE SET NULL,
        stage TEXT NOT NULL CHECK (stage {IS_STAGE}),
        struck INTEGER NOT NULL CHECK (struck IN (0, 1))
    ) STRICT
    """,
    """
    CREATE TABLE line_agreements (
        id INTEGER NOT NULL PRIMARY KEY,
        line_id INTEGER NOT NULL REFERENCES order_lines (id),
        struck INTEGER NOT NULL CHECK (struck IN (0, 1)),
        agreed TEXT NOT NULL CHECK (agreed LIKE '{%}'),
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    f"""
    CREATE TABLE line_stage_changes (
        id INTEGER NOT NULL PRIMARY KEY,
        line_id INTEGER NOT NULL REFERENCES order_lines (id),
        old TEXT NOT NULL CHECK (old {IS_STAGE}),
        new TEXT NOT NULL CHECK (new {IS_STAGE}),
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        takes_back INTEGER NOT NULL CHECK (takes_back IN (0, 1)),
        note TEXT NOT NULL
    ) STRICT
    """,
    """
    ALTER TABLE stock_movements ADD COLUMN order_line_id INTEGER REFERENCES order_lines (id)
        CHECK (kind <> 'sold' OR (change < 0 AND order_line_id IS NOT NULL))
    """,
)

INDEXES = (
    "CREATE UNIQUE INDEX order_lines_by_order ON order_lines (order_id, number)",
    "CREATE INDEX order_lines_by_material ON order_lines (material_id)",
    "CREATE INDEX line_agreements_by_line ON line_agreements (line_id)",
    "CREATE INDEX line_stage_changes_by_line ON line_stage_changes (line_id)",
    "CREATE INDEX stock_movements_by_order_line ON stock_movements (order_line_id)"
    " WHERE kind = 'sold'",
)


def append_only(table: str) -> tuple[str, str]:
    """The two triggers that refuse to change a record."""
    return (
        f"""
        CREATE TRIGGER {table}_unchanged BEFORE UPDATE ON {table} BEGIN
            SELECT RAISE(ABORT, '{table} is append-only');
        END
        """,
        f"""
        CREATE TRIGGER {table}_stay BEFORE DELETE ON {table} BEGIN
            SELECT RAISE(ABORT, '{table} is append-only');
        END
        """,
    )


RECORDS = (*append_only("line_agreements"), *append_only("line_stage_changes"))

WIDER = (("stock_movements", "kind IN ('bought'", "kind IN ('sold', 'bought'"),)
"""Rules of tables that allow one word more: (table, as it stands, as it is to stand)."""

WORDS = """o.note || coalesce((
                SELECT ' ' || group_concat(l.what, ' ') FROM order_lines l
                WHERE l.order_id = o.id AND NOT l.struck
            ), '')
        FROM orders o"""

FOUND_BY = """
    CREATE TRIGGER order_words_line_{event} AFTER {happens} ON order_lines BEGIN
        UPDATE orders SET note = note WHERE id = new.order_id;
    END
"""
"""The trigger of an order that changed writes its words anew."""


def upgrade() -> None:
    run = op.get_bind().exec_driver_sql
    widen()
    for step in (*TABLES, *INDEXES, *RECORDS):
        run(step)
    for name, sql in run(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'order_words_%'"
    ).all():
        run(f"DROP TRIGGER {name}")
        run(with_lines(sql))
    run(FOUND_BY.format(event="added", happens="INSERT"))
    run(FOUND_BY.format(event="changed", happens="UPDATE OF what, struck"))


def widen() -> None:
    """Allow further words in rules of tables that stay as they are otherwise.

    Every row that is kept keeps the wider rule, so nothing but the text of the table changes.
    Source: SQLite, ALTER TABLE, section 7: a change that leaves the content on disk as it is. Some builds of SQLite
    refuse that until they are told that it is meant.
    """
    run = op.get_bind().exec_driver_sql
    driver = op.get_bind().connection.driver_connection
    careful = driver.getconfig(sqlite3.SQLITE_DBCONFIG_DEFENSIVE)
    driver.setconfig(sqlite3.SQLITE_DBCONFIG_DEFENSIVE, False)
    run("PRAGMA writable_schema = ON")
    for table, old, new in WIDER:
        changed = run(
            "UPDATE sqlite_master SET sql = replace(sql, ?, ?)"
            " WHERE type = 'table' AND name = ? AND instr(sql, ?) > 0",
            (old, new, table, old),
        )
        if changed.rowcount != 1:
            raise RuntimeError(f"the rule of {table} is not as it was expected to be")
    version = run("PRAGMA schema_version").scalar_one()
    run(f"PRAGMA schema_version = {version + 1}")
    run("PRAGMA writable_schema = RESET")
    driver.setconfig(sqlite3.SQLITE_DBCONFIG_DEFENSIVE, careful)


def with_lines(sql: str) -> str:
    """A trigger of the words that an order is found by, with those of its lines."""
    head, note, tail = sql.partition("o.note\n        FROM orders o")
    if not note:
        raise RuntimeError("the words of orders are not made as was expected")
    return f"{head}{WORDS}{tail}"
