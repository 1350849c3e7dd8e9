"""The steps of the work that were ticked at the bench, piece by piece.

A record like the others: a tick taken back is a further row. words: what the step said when it was
ticked, so that a tick of a piece that was changed since is not mistaken for one of the new piece.
"""

from alembic import op

revision = "0005"
down_revision = "0004"

STEPS = (
    """
    CREATE TABLE step_ticks (
        id INTEGER NOT NULL PRIMARY KEY,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        step TEXT NOT NULL CHECK (step <> ''),
        words TEXT NOT NULL,
        ticked INTEGER NOT NULL CHECK (ticked IN (0, 1)),
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX step_ticks_by_piece ON step_ticks (piece_id)",
    """
    CREATE TRIGGER step_ticks_unchanged BEFORE UPDATE ON step_ticks BEGIN
        SELECT RAISE(ABORT, 'step_ticks is append-only');
    END
    """,
    """
    CREATE TRIGGER step_ticks_stay BEFORE DELETE ON step_ticks BEGIN
        SELECT RAISE(ABORT, 'step_ticks is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
