"""Forms that were sent by their keys, with their answers; and the moment by which the clock is judged.

What was sent within the last hour is known by its fields still. The moment is that of the last entry of any record.
"""

from alembic import op

revision = "0027"
down_revision = "0026"

RECORDS = (
    "stage_changes",
    "line_stage_changes",
    "ledger_entries",
    "reductions",
    "invoices",
    "stock_movements",
    "customer_told",
    "ticket_prints",
)

STEPS = (
    "ALTER TABLE sent_forms RENAME TO sent_forms_before",
    """
    CREATE TABLE sent_forms (
        key TEXT NOT NULL PRIMARY KEY,
        fields TEXT NOT NULL,
        at TEXT NOT NULL,
        location TEXT NOT NULL,
        notice TEXT NOT NULL
    ) STRICT, WITHOUT ROWID
    """,
    "INSERT INTO sent_forms SELECT digest, digest, at, led_to, '' FROM sent_forms_before",
    "DROP TABLE sent_forms_before",
    """
    CREATE TABLE clock (
        id INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
        last_at TEXT NOT NULL,
        confirmed INTEGER NOT NULL
    ) STRICT
    """,
    "INSERT INTO clock SELECT 1, max(at), 0 FROM ("
    + " UNION ALL ".join(f"SELECT max(at) AS at FROM {name}" for name in RECORDS)
    + ") HAVING max(at) IS NOT NULL",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
