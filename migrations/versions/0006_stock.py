"""Stock: what lies on the rack, every movement of it, and what the shop wants to have of a material;
and the former codes of materials, since stock stays with a material that is called otherwise.

How many there are of an item is the sum of its movements. It stands beside the item for lists; a
trigger settles it with every movement, and another lets nobody write anything else there.
"""

from alembic import op

revision = "0006"
down_revision = "0005"

TABLES = (
    # A stick has a length, a sheet a width and a height, what is counted neither. An offcut has a
    # label of its own, whole stock has none.
    """
    CREATE TABLE stock_items (
        id INTEGER NOT NULL PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        material_id INTEGER NOT NULL REFERENCES materials (id),
        form TEXT NOT NULL CHECK (form IN ('stick', 'sheet', 'each')),
        whole INTEGER NOT NULL CHECK (whole IN (0, 1)),
        label TEXT COLLATE NOCASE CHECK (label <> ''),
        length INTEGER CHECK (length > 0),
        width INTEGER CHECK (width > 0),
        height INTEGER CHECK (height > 0),
        batch TEXT NOT NULL,
        place TEXT NOT NULL,
        note TEXT NOT NULL,
        currency TEXT NOT NULL CHECK (length(currency) = 3),
        unit_cost_minor INTEGER NOT NULL CHECK (unit_cost_minor >= 0),
        on_hand INTEGER NOT NULL DEFAULT 0,
        since TEXT NOT NULL,
        CHECK ((length IS NOT NULL) = (form = 'stick')),
        CHECK ((width IS NOT NULL) = (form = 'sheet')),
        CHECK ((width IS NULL) = (height IS NULL)),
        CHECK ((label IS NULL) = whole),
        CHECK (whole OR form <> 'each')
    ) STRICT
    """,
    # plan_id and line_id belong to cutting plans and to lines of suppliers' orders. used: exactly how much
    # a piece used up; a metre that was opened for one serves the next.
    """
    CREATE TABLE stock_movements (
        id INTEGER NOT NULL PRIMARY KEY,
        item_id INTEGER NOT NULL REFERENCES stock_items (id),
        kind TEXT NOT NULL CHECK (
            kind IN ('bought', 'cut', 'kept', 'spoiled', 'used', 'counted', 'taken back')
        ),
        change INTEGER NOT NULL CHECK (
            change <> 0 OR kind IN ('used', 'counted', 'taken back')
        ),
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        note TEXT NOT NULL,
        plan_id INTEGER,
        piece_id INTEGER REFERENCES pieces (id),
        line_id INTEGER,
        takes_back INTEGER REFERENCES stock_movements (id),
        used TEXT CHECK (used <> ''),
        CHECK ((kind = 'taken back') = (takes_back IS NOT NULL)),
        CHECK (kind NOT IN ('bought', 'kept') OR change > 0),
        CHECK (kind NOT IN ('cut', 'spoiled') OR change < 0),
        CHECK (kind <> 'used' OR (change <= 0 AND piece_id IS NOT NULL)),
        CHECK ((kind = 'used') = (used IS NOT NULL))
    ) STRICT
    """,
    # What was agreed or planned under a former code is of the same material.
    """
    CREATE TABLE former_codes (
        code TEXT NOT NULL COLLATE NOCASE PRIMARY KEY CHECK (code <> ''),
        material_id INTEGER NOT NULL REFERENCES materials (id) ON DELETE CASCADE
    ) STRICT, WITHOUT ROWID
    """,
    """
    CREATE TABLE stock_levels (
        material_id INTEGER NOT NULL PRIMARY KEY REFERENCES materials (id) ON DELETE CASCADE,
        version INTEGER NOT NULL CHECK (version > 0),
        reorder_at INTEGER CHECK (reorder_at >= 0),
        pack INTEGER NOT NULL CHECK (pack > 0),
        place TEXT NOT NULL
    ) STRICT
    """,
)

INDEXES = (
    "CREATE INDEX former_codes_by_material ON former_codes (material_id)",
    "CREATE INDEX stock_items_by_material ON stock_items (material_id)",
    "CREATE UNIQUE INDEX stock_items_by_label ON stock_items (label)",
    "CREATE INDEX stock_movements_by_item ON stock_movements (item_id)",
    "CREATE INDEX stock_movements_by_piece ON stock_movements (piece_id) WHERE kind = 'used'",
    "CREATE UNIQUE INDEX stock_movements_by_taken_back ON stock_movements (takes_back)",
)

KEEPING = (
    """
    CREATE TRIGGER stock_items_begin_at_nothing
    BEFORE INSERT ON stock_items WHEN new.on_hand <> 0 BEGIN
        SELECT RAISE(ABORT, 'what is on hand follows from movements');
    END
    """,
    """
    CREATE TRIGGER stock_items_on_hand_is_the_sum
    BEFORE UPDATE OF on_hand ON stock_items
    WHEN new.on_hand <> (
        SELECT coalesce(sum(change), 0) FROM stock_movements WHERE item_id = new.id
    ) BEGIN
        SELECT RAISE(ABORT, 'what is on hand follows from movements');
    END
    """,
    # What an item is stays as it was: movements of other material are another item's.
    """
    CREATE TRIGGER stock_items_stay_what_they_are
    BEFORE UPDATE OF id, material_id, form, whole, label, length, width, height, since
    ON stock_items BEGIN
        SELECT RAISE(ABORT, 'an item of stock stays what it is');
    END
    """,
    """
    CREATE TRIGGER stock_items_stay BEFORE DELETE ON stock_items BEGIN
        SELECT RAISE(ABORT, 'an item of stock is counted down, never deleted');
    END
    """,
    """
    CREATE TRIGGER stock_movements_settled AFTER INSERT ON stock_movements BEGIN
        UPDATE stock_items SET on_hand = on_hand + new.change WHERE id = new.item_id;
    END
    """,
    """
    CREATE TRIGGER stock_movements_unchanged BEFORE UPDATE ON stock_movements BEGIN
        SELECT RAISE(ABORT, 'stock_movements is append-only');
    END
    """,
    """
    CREATE TRIGGER stock_movements_stay BEFORE DELETE ON stock_movements BEGIN
        SELECT RAISE(ABORT, 'stock_movements is append-only');
    END
    """,
)


def upgrade() -> None:
    for step in (*TABLES, *INDEXES, *KEEPING):
        op.get_bind().exec_driver_sql(step)
