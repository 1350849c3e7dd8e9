"""How many of the pieces that are alike a change of stage moved; all of them where nothing is said."""

from alembic import op

revision = "0022"
down_revision = "0021"

STEPS = (
    "ALTER TABLE stage_changes ADD COLUMN count INTEGER",
    "ALTER TABLE line_stage_changes ADD COLUMN count INTEGER",
    "CREATE INDEX stage_changes_by_number ON stage_changes (piece_id) WHERE count IS NOT NULL",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
