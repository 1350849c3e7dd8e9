"""Cutting plans: what was planned, which part lies where, what was ticked and booked.

A plan's sections are written once. What is done with it is only added: a mark or a booking taken back
is a further row. The parts stand in a table of their own, so that open work is found without reading
plans.
"""

from alembic import op

revision = "0007"
down_revision = "0006"

TABLES = (
    """
    CREATE TABLE cutting_plans (
        id INTEGER NOT NULL PRIMARY KEY,
        version INTEGER NOT NULL CHECK (version > 0),
        number TEXT NOT NULL CHECK (number <> ''),
        stage TEXT NOT NULL CHECK (stage IN ('open', 'done', 'dropped')),
        solver TEXT NOT NULL,
        sections TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL
    ) STRICT
    """,
    # section and bin count from 1. what: material and size, so that a part of a piece that was changed
    # since is not mistaken for the one that was planned. to_buy: its bin was not on the rack then.
    """
    CREATE TABLE plan_parts (
        plan_id INTEGER NOT NULL REFERENCES cutting_plans (id),
        part TEXT NOT NULL CHECK (part <> ''),
        piece_id INTEGER NOT NULL REFERENCES pieces (id),
        what TEXT NOT NULL,
        material TEXT NOT NULL COLLATE NOCASE,
        section INTEGER NOT NULL CHECK (section > 0),
        bin INTEGER NOT NULL CHECK (bin > 0),
        to_buy INTEGER NOT NULL CHECK (to_buy IN (0, 1)),
        PRIMARY KEY (plan_id, part)
    ) STRICT, WITHOUT ROWID
    """,
    """
    CREATE TABLE plan_ticks (
        id INTEGER NOT NULL PRIMARY KEY,
        plan_id INTEGER NOT NULL,
        part TEXT NOT NULL,
        mark TEXT NOT NULL CHECK (mark IN ('cut', 'spoiled')),
        standing INTEGER NOT NULL CHECK (standing IN (0, 1)),
        note TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        FOREIGN KEY (plan_id, part) REFERENCES plan_parts (plan_id, part)
    ) STRICT
    """,
    # moved: the movements of stock that it made, as [item, movement], the stick or sheet first.
    """
    CREATE TABLE plan_bookings (
        id INTEGER NOT NULL PRIMARY KEY,
        plan_id INTEGER NOT NULL REFERENCES cutting_plans (id),
        section INTEGER NOT NULL CHECK (section > 0),
        bin INTEGER NOT NULL CHECK (bin > 0),
        moved TEXT NOT NULL,
        at TEXT NOT NULL,
        by TEXT NOT NULL,
        takes_back INTEGER REFERENCES plan_bookings (id)
    ) STRICT
    """,
)

INDEXES = (
    "CREATE UNIQUE INDEX cutting_plans_by_number ON cutting_plans (number)",
    "CREATE INDEX cutting_plans_by_stage ON cutting_plans (stage)",
    "CREATE INDEX plan_parts_by_piece ON plan_parts (piece_id)",
    "CREATE INDEX plan_parts_by_material ON plan_parts (material)",
    "CREATE INDEX plan_ticks_by_plan ON plan_ticks (plan_id)",
    "CREATE INDEX plan_ticks_spoiled ON plan_ticks (plan_id, part) WHERE mark = 'spoiled'",
    "CREATE INDEX plan_bookings_by_plan ON plan_bookings (plan_id)",
    "CREATE UNIQUE INDEX plan_bookings_by_taken_back ON plan_bookings (takes_back)",
)

KEPT = (
    """
    CREATE TRIGGER cutting_plans_stay_what_they_are
    BEFORE UPDATE OF id, number, solver, sections, at, by ON cutting_plans BEGIN
        SELECT RAISE(ABORT, 'a cutting plan stays what it is');
    END
    """,
    """
    CREATE TRIGGER cutting_plans_stay BEFORE DELETE ON cutting_plans BEGIN
        SELECT RAISE(ABORT, 'a cutting plan is dropped, never deleted');
    END
    """,
)


def _append_only(table: str) -> tuple[str, ...]:
    return tuple(
        f"""
        CREATE TRIGGER {table}_{name} BEFORE {act} ON {table} BEGIN
            SELECT RAISE(ABORT, '{table} is append-only');
        END
        """
        for name, act in (("unchanged", "UPDATE"), ("stay", "DELETE"))
    )


def upgrade() -> None:
    records = (
        step
        for table in ("plan_parts", "plan_ticks", "plan_bookings")
        for step in _append_only(table)
    )
    for step in (*TABLES, *INDEXES, *KEPT, *records):
        op.get_bind().exec_driver_sql(step)
