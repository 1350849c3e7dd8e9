"""The entry that a contrary one takes back has one name in every record that is only added to."""

from alembic import op

revision = "0015"
down_revision = "0014"

STEPS = (
    "ALTER TABLE ledger_entries RENAME COLUMN corrects TO takes_back",
    "ALTER TABLE reductions RENAME COLUMN undoes TO takes_back",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
