"""Forms that made something, so that one which is sent a second time makes it once."""

from alembic import op

revision = "0016"
down_revision = "0015"

STEPS = (
    """
    CREATE TABLE sent_forms (
        digest TEXT NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        led_to TEXT NOT NULL
    ) STRICT, WITHOUT ROWID
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
