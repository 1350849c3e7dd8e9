"""Pictures that the shop keeps: photos of artworks, and its logo. Each artwork knows its photo.

A picture never changes: its id is a digest of it. One that was straightened knows what it was made from, and by which corners.
"""

from alembic import op

revision = "0028"
down_revision = "0027"

STEPS = (
    """
    CREATE TABLE pictures (
        id TEXT NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        width INTEGER NOT NULL,
        height INTEGER NOT NULL,
        colours TEXT NOT NULL,
        made_from TEXT REFERENCES pictures (id),
        corners TEXT NOT NULL,
        small BLOB NOT NULL,
        content BLOB NOT NULL
    ) STRICT
    """,
    "ALTER TABLE pieces ADD COLUMN photo TEXT NOT NULL DEFAULT ''",
    "CREATE INDEX pieces_by_photo ON pieces (photo) WHERE photo <> ''",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
