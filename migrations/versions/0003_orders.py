"""Orders, their pieces, what was agreed for each, the changes of stage and the ledger.

Whatever is a record of what happened is append-only by trigger: snapshots, changes of stage, ledger.
"""

from alembic import op

revision = "0003"
down_revision = "0002"

STAGES = ("quoted", "ordered", "cut", "framed", "collected", "declined", "cancelled")
IS_STAGE = "IN (" + ", ".join(f"'{stage}'" for stage in STAGES) + ")"

TABLES = (
    # total, paid and owed follow from the pieces and the ledger; they stand here for lists.
    f"""
    CREATE TABLE orders (
        id INTEGER NOT NULL PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        customer_id INTEGER NOT NULL REFERENCES customers (id),
        quote_number TEXT NOT NULL,
        order_number TEXT,
        quoted_on TEXT NOT NULL,
        valid_until TEXT NOT NULL,
        ordered_on TEXT,
        due TEXT,
        due_key TEXT NOT NULL GENERATED ALWAYS AS (coalesce(due, '9999-12-31')) VIRTUAL,
        note TEXT NOT NULL,
        stage TEXT NOT NULL CHECK (stage {IS_STAGE}),
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        total_minor INTEGER NOT NULL CHECK (total_minor >= 0),
        paid_minor INTEGER NOT NULL,
        owed_minor INTEGER NOT NULL,
        updated_at TEXT NOT NULL,
        CHECK ((order_number IS NULL) = (ordered_on IS NULL))
    ) STRICT
    """,
    """
    CREATE TABLE stage_counts (
        stage TEXT NOT NULL PRIMARY KEY,
        orders INTEGER NOT NULL CHECK (orders >= 0)
    ) STRICT, WITHOUT ROWID
    """,
    "INSERT INTO stage_counts (stage, orders) VALUES "
    + ", ".join(f"('{stage}', 0)" for stage in STAGES),
    f"""
    CREATE TABLE pieces (
        id INTEGER NOT NULL PRIMARY KEY,
        order_id INTEGER NOT NULL REFERENCES orders (id),
        number INTEGER NOT NULL CHECK (number > 0),
        title TEXT NOT NULL,
        kind TEXT NOT NULL,
        condition TEXT NOT NULL,
        declared_minor INTEGER,
        declared_currency TEXT,
        place TEXT NOT NULL,
        stage TEXT NOT NULL CHECK (stage {IS_STAGE}),
        removed_at TEXT,
        CHECK ((declared_minor IS NULL) = (declared_currency IS NULL))
    ) STRICT
    """,
    """
    CREATE TABLE piece_snapshots (
        id INTEGER NOT NULL PRIMARY KEY,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        priced_on TEXT NOT NULL,
        agreed TEXT NOT NULL CHECK (agreed LIKE '{%}'),
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    f"""
    CREATE TABLE stage_changes (
        id INTEGER NOT NULL PRIMARY KEY,
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        old TEXT NOT NULL CHECK (old {IS_STAGE}),
        new TEXT NOT NULL CHECK (new {IS_STAGE}),
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        takes_back INTEGER NOT NULL CHECK (takes_back IN (0, 1)),
        note TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE ledger_entries (
        id INTEGER NOT NULL PRIMARY KEY,
        order_id INTEGER NOT NULL REFERENCES orders (id),
        kind TEXT NOT NULL CHECK (kind IN ('deposit', 'payment', 'refund', 'correction')),
        amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        method TEXT NOT NULL,
        note TEXT NOT NULL,
        corrects INTEGER REFERENCES ledger_entries (id),
        CHECK ((kind = 'correction') = (corrects IS NOT NULL))
    ) STRICT
    """,
)

INDEXES = (
    "CREATE UNIQUE INDEX orders_by_quote_number ON orders (quote_number)",
    "CREATE UNIQUE INDEX orders_by_order_number ON orders (order_number)",
    "CREATE INDEX orders_by_quoted_on ON orders (quoted_on)",
    "CREATE INDEX orders_by_due ON orders (due_key)",
    "CREATE INDEX orders_by_change ON orders (updated_at)",
    "CREATE INDEX orders_by_stage_and_quoted_on ON orders (stage, quoted_on)",
    "CREATE INDEX orders_by_stage_and_due ON orders (stage, due_key)",
    "CREATE INDEX orders_by_stage_and_change ON orders (stage, updated_at)",
    "CREATE INDEX orders_by_customer ON orders (customer_id, quoted_on)",
    "CREATE INDEX orders_owing ON orders (currency, owed_minor) WHERE owed_minor > 0",
    "CREATE INDEX orders_by_stage_and_validity ON orders (stage, valid_until)",
    "CREATE UNIQUE INDEX pieces_by_order ON pieces (order_id, number)",
    "CREATE INDEX piece_snapshots_by_piece ON piece_snapshots (piece_id)",
    "CREATE INDEX stage_changes_by_piece ON stage_changes (piece_id)",
    "CREATE INDEX ledger_entries_by_order ON ledger_entries (order_id)",
    "CREATE UNIQUE INDEX ledger_entries_by_corrected ON ledger_entries (corrects)",
)

COUNTING = (
    """
    CREATE TRIGGER orders_counted_in AFTER INSERT ON orders BEGIN
        UPDATE stage_counts SET orders = orders + 1 WHERE stage = new.stage;
    END
    """,
    """
    CREATE TRIGGER orders_counted_over
    AFTER UPDATE OF stage ON orders WHEN old.stage <> new.stage BEGIN
        UPDATE stage_counts SET orders = orders - 1 WHERE stage = old.stage;
        UPDATE stage_counts SET orders = orders + 1 WHERE stage = new.stage;
    END
    """,
    # A number that was given stays given (M4), so its order stays.
    """
    CREATE TRIGGER orders_stay BEFORE DELETE ON orders BEGIN
        SELECT RAISE(ABORT, 'an order is declined or cancelled, never deleted');
    END
    """,
)


def append_only(table: str) -> tuple[str, str]:
    """The two triggers that refuse to change a record."""
    return (
        f"""
        CREATE TRIGGER {table}_unchanged BEFORE UPDATE ON {table} BEGIN
            SELECT RAISE(ABORT, '{table} is append-only');
        END
        """,
        f"""
        CREATE TRIGGER {table}_stay BEFORE DELETE ON {table} BEGIN
            SELECT RAISE(ABORT, '{table} is append-only');
        END
        """,
    )


RECORDS = (
    *append_only("piece_snapshots"),
    *append_only("stage_changes"),
    *append_only("ledger_entries"),
)


def upgrade() -> None:
    for step in (*TABLES, *INDEXES, *COUNTING, *RECORDS):
        op.get_bind().exec_driver_sql(step)
