"""Invoices and credit notes: a record, append-only, with everything that each of them says.

An order has at most one invoice that stands: the next one is issued once a credit note has taken it
back. A credit note takes back one invoice of its own order, whole and once.
"""

from alembic import op

revision = "0010"
down_revision = "0009"

STEPS = (
    """
    CREATE TABLE invoices (
        id INTEGER NOT NULL PRIMARY KEY,
        number TEXT NOT NULL CHECK (number <> ''),
        kind TEXT NOT NULL CHECK (kind IN ('invoice', 'credit-note')),
        order_id INTEGER NOT NULL REFERENCES orders (id),
        issued_on TEXT NOT NULL,
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        gross_minor INTEGER NOT NULL,
        corrects INTEGER REFERENCES invoices (id),
        says TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        CHECK ((kind = 'credit-note') = (corrects IS NOT NULL))
    ) STRICT
    """,
    "CREATE UNIQUE INDEX invoices_by_number ON invoices (number)",
    "CREATE UNIQUE INDEX invoices_by_corrected ON invoices (corrects)",
    "CREATE INDEX invoices_by_order ON invoices (order_id)",
    "CREATE INDEX invoices_by_day ON invoices (issued_on)",
    """
    CREATE TRIGGER invoices_unchanged BEFORE UPDATE ON invoices BEGIN
        SELECT RAISE(ABORT, 'invoices is append-only');
    END
    """,
    """
    CREATE TRIGGER invoices_stay BEFORE DELETE ON invoices BEGIN
        SELECT RAISE(ABORT, 'invoices is append-only');
    END
    """,
    """
    CREATE TRIGGER invoices_one_stands BEFORE INSERT ON invoices WHEN new.kind = 'invoice' AND EXISTS (
        SELECT 1 FROM invoices i WHERE i.order_id = new.order_id AND i.kind = 'invoice'
        AND NOT EXISTS (SELECT 1 FROM invoices c WHERE c.corrects = i.id)
    ) BEGIN
        SELECT RAISE(ABORT, 'the order has an invoice that stands');
    END
    """,
    """
    CREATE TRIGGER invoices_taken_back_whole
    BEFORE INSERT ON invoices WHEN new.kind = 'credit-note' AND NOT EXISTS (
        SELECT 1 FROM invoices i WHERE i.id = new.corrects AND i.kind = 'invoice'
        AND i.order_id = new.order_id AND i.currency = new.currency
        AND i.gross_minor = -new.gross_minor
    ) BEGIN
        SELECT RAISE(ABORT, 'a credit note takes back an invoice of its order whole');
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
