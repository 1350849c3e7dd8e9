"""What a record is called in a sentence about it: by the number of its order, plan or paper, and by what it is."""

import sqlite3
from contextlib import suppress

_ORDER = "coalesce(o.order_number, o.quote_number)"
_BY_ORDER = f"SELECT {_ORDER} FROM {{table}} r JOIN orders o ON o.id = r.order_id"
_BY_PIECE = (
    f"SELECT {_ORDER} || ', piece ' || p.number FROM {{table}} r "
    "JOIN pieces p ON p.id = r.piece_id JOIN orders o ON o.id = p.order_id"
)
_BY_LINE = (
    f"SELECT {_ORDER} || ', line ' || l.number FROM {{table}} r "
    "JOIN order_lines l ON l.id = r.line_id JOIN orders o ON o.id = l.order_id"
)
_BY_PLAN = "SELECT p.number FROM {table} r JOIN cutting_plans p ON p.id = r.plan_id"
_BY_NUMBER = "SELECT r.number FROM {table} r"
_BY_ITEM = (
    "SELECT 'Item ' || i.id || ' of the stock' FROM {table} r JOIN stock_items i ON i.id = r.{key}"
)
_BY_SUPPLY = (
    "SELECT o.number FROM {table} r JOIN supplier_order_lines l ON l.id = r.line_id "
    "JOIN supplier_orders o ON o.id = l.order_id"
)

_CALLED = {
    "alembic_version": ("the form of the data", ""),
    "counters": ("the last numbers that were given", ""),
    "customer_joins": ("a joining of two customers", ""),
    "customer_told": ("the note that the customer was told", _BY_ORDER),
    "customers": ("a customer", "SELECT 'Customer ' || r.id FROM {table} r"),
    "cutting_plans": ("the cutting plan", _BY_NUMBER),
    "deliveries": ("a delivery", _BY_SUPPLY),
    "design_changes": ("a note of a design", _BY_PIECE),
    "invoices": ("the invoice or credit note", _BY_NUMBER),
    "ledger_entries": ("an entry of the ledger", _BY_ORDER),
    "line_agreements": ("what was agreed", _BY_LINE),
    "line_stage_changes": ("a change of stage", _BY_LINE),
    "materials": ("a material", "SELECT r.code FROM {table} r"),
    "order_lines": ("a line", _BY_ORDER),
    "orders": ("the order itself", f"SELECT {_ORDER} FROM {{table}} o"),
    "part_changes": ("a note of a part at the bench", _BY_PIECE),
    "piece_snapshots": ("what was agreed", _BY_PIECE),
    "pieces": ("a piece", _BY_ORDER),
    "plan_bookings": ("a booking of a plan", _BY_PLAN),
    "plan_parts": ("the parts of a plan", _BY_PLAN),
    "plan_ticks": ("a mark on a part of a plan", _BY_PLAN),
    "reductions": ("what was taken off", _BY_ORDER),
    "reseals": ("a note that a record was sealed anew", ""),
    "seals": ("the seals of records", ""),
    "sent_forms": ("the forms that were sent", ""),
    "shop": ("the settings of the shop", ""),
    "sqlite_schema": ("the list of all tables", ""),
    "stage_changes": ("a change of stage", _BY_PIECE),
    "stage_counts": ("how many orders stand at each stage", ""),
    "step_ticks": ("a tick of a step", _BY_PIECE),
    "stock_items": ("an item of the stock", _BY_ITEM.replace("{key}", "id")),
    "stock_levels": ("what the shop wants to have of a material", ""),
    "stock_movements": ("a movement of the stock", _BY_ITEM.replace("{key}", "item_id")),
    "supplier_order_lines": (
        "a line of an order to a supplier",
        "SELECT o.number FROM {table} r JOIN supplier_orders o ON o.id = r.order_id",
    ),
    "supplier_orders": ("the order to a supplier", _BY_NUMBER),
    "ticket_prints": ("the print of a ticket", _BY_PIECE),
}


def called(table: str) -> str:
    """Return what a record of a table is: "an entry of the ledger"."""
    words, _ = _CALLED.get(table, (f"a record of {table}", ""))
    return words


def named(connection: sqlite3.Connection, table: str, row: int) -> str:
    """Return a record with what it belongs to: "2026-0012, piece 2: what was agreed (record 120)"."""
    _, asked = _CALLED.get(table, ("", ""))
    words, owner = f"{called(table)} (record {row})", None
    if asked:
        alias = "o" if table == "orders" else "r"
        with suppress(sqlite3.DatabaseError):
            owner = connection.execute(
                f"{asked.format(table=table)} WHERE {alias}.id = ?", (row,)
            ).fetchone()
    if owner is None or owner[0] is None:
        return words[0].upper() + words[1:]
    return f"{_text(owner[0])}: {words}"


def _text(value: object) -> str:
    return value.decode(errors="replace") if isinstance(value, bytes) else str(value)
