"""Orders to suppliers: their lines, and what came of each.

A line stays as it is once its order is sent, but for its cost, which follows the shop into another
currency. What came is a record that only grows.
"""

from alembic import op

revision = "0008"
down_revision = "0007"

TABLES = (
    """
    CREATE TABLE supplier_orders (
        id INTEGER NOT NULL PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        number TEXT NOT NULL,
        supplier TEXT NOT NULL CHECK (supplier <> ''),
        made_on TEXT NOT NULL,
        sent_on TEXT,
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        note TEXT NOT NULL,
        stage TEXT NOT NULL CHECK (stage IN ('draft', 'sent', 'closed', 'dropped')),
        updated_at TEXT NOT NULL,
        CHECK ((sent_on IS NULL) = (stage IN ('draft', 'dropped')))
    ) STRICT
    """,
    """
    CREATE TABLE supplier_order_lines (
        id INTEGER NOT NULL PRIMARY KEY,
        order_id INTEGER NOT NULL REFERENCES supplier_orders (id),
        material_id INTEGER NOT NULL REFERENCES materials (id),
        name TEXT NOT NULL,
        form TEXT NOT NULL CHECK (form IN ('stick', 'sheet', 'each')),
        unit TEXT NOT NULL,
        length INTEGER CHECK (length > 0),
        width INTEGER CHECK (width > 0),
        height INTEGER CHECK (height > 0),
        quantity INTEGER NOT NULL CHECK (quantity > 0),
        cost_minor INTEGER NOT NULL CHECK (cost_minor >= 0),
        cost_for INTEGER NOT NULL CHECK (cost_for > 0),
        note TEXT NOT NULL,
        CHECK ((length IS NOT NULL) = (form = 'stick')),
        CHECK ((width IS NOT NULL) = (form = 'sheet')),
        CHECK ((width IS NULL) = (height IS NULL))
    ) STRICT
    """,
    """
    CREATE TABLE deliveries (
        id INTEGER NOT NULL PRIMARY KEY,
        line_id INTEGER NOT NULL REFERENCES supplier_order_lines (id),
        quantity INTEGER NOT NULL CHECK (quantity <> 0),
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        cost_minor INTEGER NOT NULL CHECK (cost_minor >= 0),
        cost_for INTEGER NOT NULL CHECK (cost_for > 0),
        batch TEXT NOT NULL,
        place TEXT NOT NULL,
        note TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        movement_id INTEGER NOT NULL REFERENCES stock_movements (id),
        takes_back INTEGER REFERENCES deliveries (id),
        CHECK ((quantity < 0) = (takes_back IS NOT NULL))
    ) STRICT
    """,
)

INDEXES = (
    "CREATE UNIQUE INDEX supplier_orders_by_number ON supplier_orders (number)",
    "CREATE INDEX supplier_orders_by_stage ON supplier_orders (stage, made_on)",
    "CREATE INDEX supplier_order_lines_by_order ON supplier_order_lines (order_id)",
    "CREATE INDEX supplier_order_lines_by_material ON supplier_order_lines (material_id)",
    "CREATE INDEX deliveries_by_line ON deliveries (line_id)",
    "CREATE UNIQUE INDEX deliveries_by_taken_back ON deliveries (takes_back)",
)

_NO_DRAFT = "(SELECT stage FROM supplier_orders WHERE id = {row}.order_id) <> 'draft'"

KEEPING = (
    # A number that was given stays given (M4), so its order stays.
    """
    CREATE TRIGGER supplier_orders_stay BEFORE DELETE ON supplier_orders BEGIN
        SELECT RAISE(ABORT, 'an order to a supplier is dropped, never deleted');
    END
    """,
    f"""
    CREATE TRIGGER supplier_order_lines_added
    BEFORE INSERT ON supplier_order_lines WHEN {_NO_DRAFT.format(row="new")} BEGIN
        SELECT RAISE(ABORT, 'lines are added to a draft only');
    END
    """,
    f"""
    CREATE TRIGGER supplier_order_lines_unchanged
    BEFORE UPDATE OF id, order_id, material_id, name, form, unit, length, width, height, quantity,
        cost_for, note
    ON supplier_order_lines WHEN {_NO_DRAFT.format(row="old")} BEGIN
        SELECT RAISE(ABORT, 'a line stays as it was sent');
    END
    """,
    f"""
    CREATE TRIGGER supplier_order_lines_stay
    BEFORE DELETE ON supplier_order_lines WHEN {_NO_DRAFT.format(row="old")} BEGIN
        SELECT RAISE(ABORT, 'a line stays once it was sent');
    END
    """,
    """
    CREATE TRIGGER deliveries_unchanged BEFORE UPDATE ON deliveries BEGIN
        SELECT RAISE(ABORT, 'deliveries is append-only');
    END
    """,
    """
    CREATE TRIGGER deliveries_stay BEFORE DELETE ON deliveries BEGIN
        SELECT RAISE(ABORT, 'deliveries is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in (*TABLES, *INDEXES, *KEEPING):
        op.get_bind().exec_driver_sql(step)
