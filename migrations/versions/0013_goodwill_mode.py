"""Whether what was taken off out of goodwill is stated with tax, as all of it was until now, or without."""

from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    op.get_bind().exec_driver_sql(
        "ALTER TABLE reductions ADD COLUMN with_tax INTEGER NOT NULL DEFAULT 1"
        " CHECK (with_tax IN (0, 1))"
    )
