"""Phones that are let in, and where they reach the app: one row, or none where it never was turned on."""

from alembic import op

revision = "0026"
down_revision = "0025"

STEPS = (
    """
    CREATE TABLE phone_access (
        id INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
        is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
        address TEXT NOT NULL,
        port INTEGER NOT NULL CHECK (port BETWEEN 1 AND 65535),
        standing TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE phones (
        id INTEGER NOT NULL PRIMARY KEY,
        name TEXT NOT NULL CHECK (name <> ''),
        role TEXT NOT NULL,
        digest TEXT NOT NULL CHECK (length(digest) = 64),
        paired_at TEXT NOT NULL,
        seen_at TEXT NOT NULL
    ) STRICT
    """,
    "CREATE UNIQUE INDEX phones_by_digest ON phones (digest)",
    "CREATE UNIQUE INDEX phones_by_name ON phones (name)",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
