"""What was taken off an order out of goodwill after it was ordered: a record, append-only like the ledger.

A reduction is above zero; a contrary entry is below zero and names the one that it undoes.
"""

from alembic import op

revision = "0009"
down_revision = "0008"

STEPS = (
    """
    CREATE TABLE reductions (
        id INTEGER NOT NULL PRIMARY KEY,
        order_id INTEGER NOT NULL REFERENCES orders (id),
        amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        reason TEXT NOT NULL CHECK (reason <> ''),
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        undoes INTEGER REFERENCES reductions (id),
        CHECK ((amount_minor < 0) = (undoes IS NOT NULL))
    ) STRICT
    """,
    "CREATE INDEX reductions_by_order ON reductions (order_id)",
    "CREATE UNIQUE INDEX reductions_by_undone ON reductions (undoes)",
    """
    CREATE TRIGGER reductions_unchanged BEFORE UPDATE ON reductions BEGIN
        SELECT RAISE(ABORT, 'reductions is append-only');
    END
    """,
    """
    CREATE TRIGGER reductions_stay BEFORE DELETE ON reductions BEGIN
        SELECT RAISE(ABORT, 'reductions is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
