"""That a customer was told, and what became at the bench of parts that no plan cut: records, append-only.

What a piece took off the rack when it was cut is found by the piece.
"""

from alembic import op

revision = "0023"
down_revision = "0022"

TABLES = (
    """
    CREATE TABLE customer_told (
        id INTEGER NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        order_id INTEGER NOT NULL REFERENCES orders (id),
        day TEXT NOT NULL,
        how TEXT NOT NULL CHECK (how <> ''),
        takes_back INTEGER REFERENCES customer_told (id)
    ) STRICT
    """,
    "CREATE INDEX customer_told_by_order ON customer_told (order_id)",
    "CREATE UNIQUE INDEX customer_told_by_taken_back ON customer_told (takes_back)",
    # moved: pairs of (item, movement), as a booking of a plan has them.
    """
    CREATE TABLE part_changes (
        id INTEGER NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        part TEXT NOT NULL CHECK (part <> ''),
        what TEXT NOT NULL CHECK (what <> ''),
        change TEXT NOT NULL CHECK (change IN ('spoiled', 'cut anew', 'taken back')),
        note TEXT NOT NULL,
        moved TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX part_changes_by_piece ON part_changes (piece_id)",
    "CREATE INDEX part_changes_spoiled ON part_changes (piece_id) WHERE change = 'spoiled'",
    """
    CREATE INDEX stock_movements_cut_for_piece ON stock_movements (piece_id)
    WHERE kind = 'cut' AND piece_id IS NOT NULL
    """,
)

APPEND_ONLY = tuple(
    f"""
    CREATE TRIGGER {table}_{name} BEFORE {act} ON {table} BEGIN
        SELECT RAISE(ABORT, '{table} is append-only');
    END
    """
    for table in ("customer_told", "part_changes")
    for name, act in (("unchanged", "UPDATE"), ("stay", "DELETE"))
)


def upgrade() -> None:
    for step in (*TABLES, *APPEND_ONLY):
        op.get_bind().exec_driver_sql(step)
