"""The shop, its price book and the counters of its numbers.

Lengths are grains (whole parts of 1/320,000 mm), money is minor units of the currency beside it,
shares are exact fractions written as text.
"""

from alembic import op

revision = "0001"
down_revision = None

STEPS = (
    """
    CREATE TABLE shop (
        id INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
        version INTEGER NOT NULL CHECK (version > 0),
        settings TEXT NOT NULL CHECK (settings LIKE '{%}'),
        updated_at TEXT NOT NULL
    ) STRICT
    """,
    # AUTOINCREMENT: a page that still shows a removed material must never save over a new one.
    """
    CREATE TABLE materials (
        id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        version INTEGER NOT NULL CHECK (version > 0),
        code TEXT NOT NULL COLLATE NOCASE,
        name TEXT NOT NULL CHECK (name <> ''),
        kind TEXT NOT NULL CHECK (
            kind IN ('moulding', 'mat', 'glazing', 'board', 'hardware', 'extra')
        ),
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        cost_minor INTEGER NOT NULL CHECK (cost_minor >= 0),
        per TEXT NOT NULL,
        charge_by TEXT NOT NULL,
        waste TEXT NOT NULL,
        minimum_length INTEGER NOT NULL CHECK (minimum_length >= 0),
        step INTEGER NOT NULL CHECK (step >= 0),
        minimum_area TEXT NOT NULL,
        shares TEXT NOT NULL CHECK (shares LIKE '[%]'),
        bands TEXT NOT NULL CHECK (bands LIKE '[%]'),
        markup TEXT,
        markup_table TEXT,
        price_minor INTEGER,
        tax TEXT NOT NULL,
        supplier TEXT NOT NULL,
        finish TEXT NOT NULL,
        colour TEXT NOT NULL,
        face INTEGER,
        lip INTEGER,
        rebate_depth INTEGER,
        stick INTEGER,
        grams_per_metre INTEGER,
        sheet_width INTEGER,
        sheet_height INTEGER,
        thickness INTEGER,
        grams_per_m2 INTEGER,
        traits TEXT NOT NULL CHECK (traits LIKE '[%]'),
        notes TEXT NOT NULL,
        tags TEXT NOT NULL CHECK (tags LIKE '[%]'),
        active INTEGER NOT NULL CHECK (active IN (0, 1)),
        words TEXT NOT NULL,
        updated_at TEXT NOT NULL,
        CHECK (
            (face IS NULL) = (lip IS NULL)
            AND (face IS NULL) = (rebate_depth IS NULL)
            AND (face IS NULL) = (stick IS NULL)
            AND (face IS NULL) = (grams_per_metre IS NULL)
        ),
        CHECK (
            (sheet_width IS NULL) = (sheet_height IS NULL)
            AND (sheet_width IS NULL) = (thickness IS NULL)
            AND (sheet_width IS NULL) = (grams_per_m2 IS NULL)
        )
    ) STRICT
    """,
    "CREATE UNIQUE INDEX materials_by_code ON materials (code)",
    "CREATE INDEX materials_by_kind ON materials (kind, code)",
    """
    CREATE TABLE counters (
        series TEXT NOT NULL,
        year INTEGER NOT NULL,
        last INTEGER NOT NULL CHECK (last > 0),
        PRIMARY KEY (series, year)
    ) STRICT, WITHOUT ROWID
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
