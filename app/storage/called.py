"""What a record is called in a sentence about it: by the number of its order, plan or paper, and by what it is."""

import sqlite3
from contextlib import suppress

from app.storage.owners import OWNERS, Owner

_CALLED = {
    "alembic_version": "the form of the data",
    "counters": "the last numbers that were given",
    "customer_joins": "a joining of two customers",
    "customer_told": "the note that the customer was told",
    "customers": "a customer",
    "cutting_plans": "the cutting plan",
    "deliveries": "a delivery",
    "design_changes": "a note of a design",
    "invoices": "the invoice or credit note",
    "ledger_entries": "an entry of the ledger",
    "line_agreements": "what was agreed",
    "line_stage_changes": "a change of stage",
    "materials": "a material",
    "order_lines": "a line",
    "orders": "the order itself",
    "part_changes": "a note of a part at the bench",
    "piece_snapshots": "what was agreed",
    "pieces": "a piece",
    "plan_bookings": "a booking of a plan",
    "plan_parts": "the parts of a plan",
    "plan_ticks": "a mark on a part of a plan",
    "reductions": "what was taken off",
    "reseals": "a note that a record was sealed anew",
    "seals": "the seals of records",
    "sent_forms": "the forms that were sent",
    "shop": "the settings of the shop",
    "sqlite_schema": "the list of all tables",
    "stage_changes": "a change of stage",
    "stage_counts": "how many orders stand at each stage",
    "step_ticks": "a tick of a step",
    "stock_items": "an item of the stock",
    "stock_levels": "what the shop wants to have of a material",
    "stock_movements": "a movement of the stock",
    "supplier_order_lines": "a line of an order to a supplier",
    "supplier_orders": "the order to a supplier",
    "ticket_prints": "the print of a ticket",
}

_BESIDES = {
    "customers": Owner(number="'Customer ' || r.id"),
    "stock_items": Owner(number="'Item ' || r.id || ' of the stock'"),
    "stock_movements": Owner(number="'Item ' || r.item_id || ' of the stock'"),
}
"""What is told by its own id, for want of a number."""


def called(table: str) -> str:
    """Return what a record of a table is: "an entry of the ledger"."""
    return _CALLED.get(table, f"a record of {table}")


def named(connection: sqlite3.Connection, table: str, row: int) -> str:
    """Return a record with what it belongs to: "2026-0012, piece 2: what was agreed (record 120)"."""
    belongs = _BESIDES.get(table) or OWNERS.get(table)
    words, owner = f"{called(table)} (record {row})", None
    if belongs is not None:
        what = f"{belongs.number} || {belongs.part}" if belongs.part else belongs.number
        with suppress(sqlite3.DatabaseError):
            owner = belongs.asked(connection, what, table, row)
    if owner is None:
        return words[0].upper() + words[1:]
    return f"{_text(owner)}: {words}"


def _text(value: object) -> str:
    return value.decode(errors="replace") if isinstance(value, bytes) else str(value)
