"""How many of a piece are alike, beside what lists show of it: as its counted design was agreed last.

What was agreed before several could be alike says no number and is one.
"""

from alembic import op

revision = "0024"
down_revision = "0023"

STEPS = (
    "ALTER TABLE pieces ADD COLUMN copies INTEGER NOT NULL DEFAULT 1 CHECK (copies > 0)",
    """
    UPDATE pieces SET copies = coalesce((
        SELECT CASE WHEN json_valid(s.agreed) THEN s.agreed ->> '$.agreed.copies' END
        FROM piece_snapshots s
        WHERE s.piece_id = pieces.id AND s.design = pieces.counted_design
        ORDER BY s.id DESC LIMIT 1
    ), 1)
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
