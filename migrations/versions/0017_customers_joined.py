"""Two records of one customer that were joined: which went into which, and what came over."""

from alembic import op

revision = "0017"
down_revision = "0016"

STEPS = (
    """
    CREATE TABLE customer_joins (
        id INTEGER NOT NULL PRIMARY KEY,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        customer_id INTEGER NOT NULL REFERENCES customers (id),
        joined_id INTEGER NOT NULL REFERENCES customers (id),
        orders INTEGER NOT NULL
    ) STRICT
    """,
    "CREATE INDEX customer_joins_by_customer ON customer_joins (customer_id)",
    "CREATE UNIQUE INDEX customer_joins_by_joined ON customer_joins (joined_id)",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
