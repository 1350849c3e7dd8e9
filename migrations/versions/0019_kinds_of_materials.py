"""A further kind of material, as a ready-made frame, is no further step: which kinds there are the program says.

The table listed them. Its rows stay as they are, with their ids; each document says besides that it is of no
frame, so that equal materials are equal text.
"""

import json

from alembic import op

revision = "0019"
down_revision = "0018"

TABLE = """
    CREATE TABLE of_any_kind (
        id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        version INTEGER NOT NULL CHECK (version > 0),
        code TEXT NOT NULL COLLATE NOCASE CHECK (code <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        kind TEXT NOT NULL CHECK (kind <> ''),
        colour TEXT NOT NULL,
        longest_side INTEGER CHECK (longest_side > 0),
        active INTEGER NOT NULL CHECK (active IN (0, 1)),
        words TEXT NOT NULL,
        says TEXT NOT NULL CHECK (says LIKE '{%}'),
        updated_at TEXT NOT NULL
    ) STRICT
"""

KEPT = "id, version, code, name, kind, colour, longest_side, active, words, says, updated_at"

# The ids that were given are never given again, those of removed materials neither.
STEPS = (
    f"INSERT INTO of_any_kind ({KEPT}) SELECT {KEPT} FROM materials ORDER BY id",
    "INSERT OR IGNORE INTO sqlite_sequence (name, seq) SELECT 'of_any_kind', 0"
    " WHERE NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'of_any_kind')",
    "UPDATE sqlite_sequence SET seq = coalesce("
    "(SELECT seq FROM sqlite_sequence WHERE name = 'materials'), 0) WHERE name = 'of_any_kind'",
    "DROP TABLE materials",
    "ALTER TABLE of_any_kind RENAME TO materials",
    "CREATE UNIQUE INDEX materials_by_code ON materials (code)",
    "CREATE INDEX materials_by_kind ON materials (kind, code)",
)


def with_no_frame(says: str) -> str:
    """A document with what it says of a frame, which is the last of it."""
    whole = json.loads(says)
    whole["material"].setdefault("frame", None)
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":"))


def upgrade() -> None:
    connection = op.get_bind()
    connection.exec_driver_sql(TABLE)
    for step in STEPS:
        connection.exec_driver_sql(step)
    for row in connection.exec_driver_sql("SELECT id, says FROM materials").all():
        connection.exec_driver_sql(
            "UPDATE materials SET says = ? WHERE id = ?", (with_no_frame(row.says), row.id)
        )
