"""What an artwork is made of, and its weight where it was weighed.

Of pieces that were agreed before nothing is known; their artworks are estimated by kind and size.
"""

from alembic import op

revision = "0012"
down_revision = "0011"

STEPS = (
    "ALTER TABLE pieces ADD COLUMN support TEXT CHECK (support <> '')",
    "ALTER TABLE pieces ADD COLUMN weight_kg TEXT CHECK (weight_kg <> '')",
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
