"""A material is one JSON document beside what lists, searches and uniqueness ask for.

So a further trait of a material is no further column. `says` holds the whole material in the form of
records (the third); longest_side is that of a sheet, in grains of 1/320,000 mm.
"""

import json
from fractions import Fraction
from typing import Any

from alembic import op

revision = "0014"
down_revision = "0013"

TABLE = """
    CREATE TABLE documents (
        id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
        version INTEGER NOT NULL CHECK (version > 0),
        code TEXT NOT NULL COLLATE NOCASE CHECK (code <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        kind TEXT NOT NULL CHECK (
            kind IN ('moulding', 'mat', 'glazing', 'board', 'hardware', 'extra')
        ),
        colour TEXT NOT NULL,
        longest_side INTEGER CHECK (longest_side > 0),
        active INTEGER NOT NULL CHECK (active IN (0, 1)),
        words TEXT NOT NULL,
        says TEXT NOT NULL CHECK (says LIKE '{%}'),
        updated_at TEXT NOT NULL
    ) STRICT
"""

KEPT = "id, version, code, name, kind, colour, active, words, updated_at"

# The ids that were given are never given again, those of removed materials neither.
STEPS = (
    "INSERT OR IGNORE INTO sqlite_sequence (name, seq) SELECT 'documents', 0"
    " WHERE NOT EXISTS (SELECT 1 FROM sqlite_sequence WHERE name = 'documents')",
    "UPDATE sqlite_sequence SET seq = coalesce("
    "(SELECT seq FROM sqlite_sequence WHERE name = 'materials'), 0) WHERE name = 'documents'",
    "DROP TABLE materials",
    "ALTER TABLE documents RENAME TO materials",
    "CREATE UNIQUE INDEX materials_by_code ON materials (code)",
    "CREATE INDEX materials_by_kind ON materials (kind, code)",
)

# Source: ISO 4217, minor units, as of January 2026; all other currencies of a price book have two digits.
DIGITS = {
    **dict.fromkeys(
        [
            "BIF",
            "CLP",
            "DJF",
            "GNF",
            "ISK",
            "JPY",
            "KMF",
            "KRW",
            "PYG",
            "RWF",
            "UGX",
            "UYI",
            "VND",
            "VUV",
            "XAF",
            "XOF",
            "XPF",
        ],
        0,
    ),
    **dict.fromkeys(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"], 3),
    **dict.fromkeys(["CLF", "UYW"], 4),
}

type Plain = dict[str, Any]


def says_of(row: Any) -> str:
    """The document of a row."""
    material = {
        "code": row.code,
        "name": row.name,
        "kind": row.kind,
        "cost": money(row.cost_minor, row.currency),
        "per": row.per,
        "charge": charge(row),
        "selling": {
            "markup": row.markup,
            "table": row.markup_table,
            "price": None if row.price_minor is None else money(row.price_minor, row.currency),
        },
        "tax": row.tax,
        "supplier": row.supplier,
        "finish": row.finish,
        "colour": row.colour,
        "profile": profile(row),
        "sheet": sheet(row),
        "notes": row.notes,
        "active": bool(row.active),
        "tags": json.loads(row.tags),
        "hanging": None if row.bears is None else {"bears": row.bears, "load_kg": row.load_kg},
    }
    whole = {"schema": 3, "material": material}
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":"))


def money(minor: int, code: str) -> Plain:
    return {"minor": minor, "currency": {"code": code, "digits": DIGITS.get(code, 2)}}


def length(grains: int) -> Plain:
    return {"mm": str(Fraction(grains, 320_000))}


def charge(row: Any) -> Plain:
    return {
        "by": row.charge_by,
        "waste": row.waste,
        "minimum_length": length(row.minimum_length),
        "step": length(row.step),
        "minimum_area": row.minimum_area,
        "shares": json.loads(row.shares),
        "bands": [
            {"up_to": length(up_to), "price": money(minor, row.currency)}
            for up_to, minor in json.loads(row.bands)
        ],
    }


def profile(row: Any) -> Plain | None:
    if row.face is None:
        return None
    names = ("face", "lip", "rebate_depth", "stick")
    lengths = {name: length(getattr(row, name)) for name in names}
    return {**lengths, "grams_per_metre": row.grams_per_metre}


def sheet(row: Any) -> Plain | None:
    if row.sheet_width is None:
        return None
    return {
        "size": {"width": length(row.sheet_width), "height": length(row.sheet_height)},
        "thickness": length(row.thickness),
        "grams_per_m2": row.grams_per_m2,
        "traits": json.loads(row.traits),
    }


def upgrade() -> None:
    connection = op.get_bind()
    connection.exec_driver_sql(TABLE)
    for row in connection.exec_driver_sql("SELECT * FROM materials ORDER BY id").all():
        sides = [side for side in (row.sheet_width, row.sheet_height) if side is not None]
        connection.exec_driver_sql(
            f"INSERT INTO documents ({KEPT}, longest_side, says)"
            f" SELECT {KEPT}, ?, ? FROM materials WHERE id = ?",
            (max(sides, default=None), says_of(row), row.id),
        )
    for step in STEPS:
        connection.exec_driver_sql(step)
