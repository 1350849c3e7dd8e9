"""Customers, and the two indexes that find one by a part of anything.

`customer_words` finds the beginnings of words without regard to accents; `customer_parts` finds the
middle of a name, an address or a phone number. Triggers keep both, whoever writes.
"""

from alembic import op

revision = "0002"
down_revision = "0001"

STEPS = (
    """
    CREATE TABLE customers (
        id INTEGER NOT NULL PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        name TEXT NOT NULL CHECK (name <> ''),
        phone TEXT NOT NULL,
        email TEXT NOT NULL,
        address TEXT NOT NULL,
        notes TEXT NOT NULL,
        tax_free INTEGER NOT NULL CHECK (tax_free IN (0, 1)),
        name_key TEXT NOT NULL,
        parts TEXT NOT NULL,
        erased_on TEXT,
        updated_at TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX customers_by_name ON customers (name_key) WHERE erased_on IS NULL",
    """
    CREATE VIRTUAL TABLE customer_words USING fts5(
        name, phone, email, address, notes, content='customers', content_rowid='id',
        tokenize='unicode61 remove_diacritics 2', prefix='2 3'
    )
    """,
    """
    CREATE VIRTUAL TABLE customer_parts USING fts5(
        parts, content='customers', content_rowid='id', tokenize='trigram'
    )
    """,
    """
    CREATE TRIGGER customers_added AFTER INSERT ON customers BEGIN
        INSERT INTO customer_words (rowid, name, phone, email, address, notes)
        VALUES (new.id, new.name, new.phone, new.email, new.address, new.notes);
        INSERT INTO customer_parts (rowid, parts) VALUES (new.id, new.parts);
    END
    """,
    """
    CREATE TRIGGER customers_changed
    AFTER UPDATE OF name, phone, email, address, notes, parts ON customers BEGIN
        INSERT INTO customer_words (customer_words, rowid, name, phone, email, address, notes)
        VALUES ('delete', old.id, old.name, old.phone, old.email, old.address, old.notes);
        INSERT INTO customer_parts (customer_parts, rowid, parts)
        VALUES ('delete', old.id, old.parts);
        INSERT INTO customer_words (rowid, name, phone, email, address, notes)
        VALUES (new.id, new.name, new.phone, new.email, new.address, new.notes);
        INSERT INTO customer_parts (rowid, parts) VALUES (new.id, new.parts);
    END
    """,
    # A customer is erased, never deleted: orders and their ledgers refer to it.
    """
    CREATE TRIGGER customers_stay BEFORE DELETE ON customers BEGIN
        SELECT RAISE(ABORT, 'a customer is erased, never deleted');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
