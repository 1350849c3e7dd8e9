"""The workshop tickets that were printed, piece by piece, one row for each version.

A record like the others: rows are only added. cutter: the one that a ticket was worked out for, facts: what stood on it,
both as JSON, so that it can be told in what a later one differs. Of tickets that were printed before there is no row, and
nothing is said.
"""

from alembic import op

revision = "0020"
down_revision = "0019"

STEPS = (
    """
    CREATE TABLE ticket_prints (
        id INTEGER NOT NULL PRIMARY KEY,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        version INTEGER NOT NULL CHECK (version > 0),
        snapshot_id INTEGER NOT NULL REFERENCES piece_snapshots (id),
        cutter TEXT NOT NULL,
        facts TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    "CREATE UNIQUE INDEX ticket_prints_by_piece ON ticket_prints (piece_id, version)",
    """
    CREATE TRIGGER ticket_prints_unchanged BEFORE UPDATE ON ticket_prints BEGIN
        SELECT RAISE(ABORT, 'ticket_prints is append-only');
    END
    """,
    """
    CREATE TRIGGER ticket_prints_stay BEFORE DELETE ON ticket_prints BEGIN
        SELECT RAISE(ABORT, 'ticket_prints is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
