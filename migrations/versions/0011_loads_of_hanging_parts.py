"""How a piece of hardware carries what hangs by it, and its working load, an exact number of kilograms."""

from alembic import op

revision = "0011"
down_revision = "0010"

STEPS = (
    "ALTER TABLE materials ADD COLUMN bears TEXT CHECK (bears IN ('ring', 'wire', 'cleat', 'nothing'))",
    """
    ALTER TABLE materials ADD COLUMN load_kg TEXT
    CHECK (load_kg IS NULL OR (load_kg <> '' AND bears IS NOT NULL))
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
