"""A piece has one artwork and one or several designs, of which one counts; what happens to them is written down.

What was agreed until now is of design 1, the only one. most_minor: what an order may come to at most
while a design is still to be taken.
"""

from alembic import op

revision = "0018"
down_revision = "0017"

STEPS = (
    "ALTER TABLE piece_snapshots ADD COLUMN design INTEGER NOT NULL DEFAULT 1 CHECK (design > 0)",
    "ALTER TABLE pieces ADD COLUMN counted_design INTEGER NOT NULL DEFAULT 1"
    " CHECK (counted_design > 0)",
    "ALTER TABLE orders ADD COLUMN most_minor INTEGER",
    """
    CREATE TABLE design_changes (
        id INTEGER NOT NULL PRIMARY KEY,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        design INTEGER NOT NULL CHECK (design > 0),
        act TEXT NOT NULL CHECK (act IN ('added', 'taken', 'left open', 'removed')),
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX design_changes_by_piece ON design_changes (piece_id)",
    """
    CREATE TRIGGER design_changes_unchanged BEFORE UPDATE ON design_changes BEGIN
        SELECT RAISE(ABORT, 'design_changes is append-only');
    END
    """,
    """
    CREATE TRIGGER design_changes_stay BEFORE DELETE ON design_changes BEGIN
        SELECT RAISE(ABORT, 'design_changes is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
