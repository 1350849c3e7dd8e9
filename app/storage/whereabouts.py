"""Says in words where a text stands: the number of the order and what of it, so that a person finds the place."""

import sqlite3
from contextlib import suppress
from typing import Any, NamedTuple


class Place(NamedTuple):
    """A row of a table by its key, and the column in which a text stands."""

    table: str
    column: str
    key: tuple[Any, ...]


_ORDER = "SELECT coalesce(o.order_number, o.quote_number) FROM orders o"
_OF_PIECE = (
    f"{_ORDER} JOIN pieces p ON p.order_id = o.id JOIN {{}} r ON r.piece_id = p.id WHERE r.id = ?"
)
_OF_ORDER = f"{_ORDER} JOIN {{}} r ON r.order_id = o.id WHERE r.id = ?"
_OF_LINE = f"{_ORDER} JOIN order_lines l ON l.order_id = o.id JOIN {{}} r ON r.line_id = l.id WHERE r.id = ?"
_SUPPLIER_ORDER = "SELECT s.number FROM supplier_orders s"

_NUMBERS = {
    "orders": f"{_ORDER} WHERE o.id = ?",
    **{
        table: _OF_ORDER.format(table)
        for table in ("pieces", "ledger_entries", "reductions", "customer_told", "order_lines")
    },
    **{
        table: _OF_PIECE.format(table)
        for table in (
            "piece_snapshots",
            "stage_changes",
            "step_ticks",
            "part_changes",
            "ticket_prints",
        )
    },
    **{table: _OF_LINE.format(table) for table in ("line_agreements", "line_stage_changes")},
    "cutting_plans": "SELECT number FROM cutting_plans WHERE id = ?",
    "plan_ticks": "SELECT c.number FROM cutting_plans c JOIN plan_ticks t ON t.plan_id = c.id WHERE t.id = ?",
    "supplier_orders": f"{_SUPPLIER_ORDER} WHERE s.id = ?",
    "supplier_order_lines": f"{_SUPPLIER_ORDER} JOIN supplier_order_lines l ON l.order_id = s.id WHERE l.id = ?",
    "deliveries": f"{_SUPPLIER_ORDER} JOIN supplier_order_lines l ON l.order_id = s.id JOIN deliveries d ON d.line_id = l.id WHERE d.id = ?",
    "customers": "SELECT name FROM customers WHERE id = ?",
    "materials": "SELECT code FROM materials WHERE id = ?",
    "stock_items": "SELECT m.code FROM stock_items i JOIN materials m ON m.id = i.material_id WHERE i.id = ?",
    "stock_movements": "SELECT m.code FROM stock_movements v JOIN stock_items i ON i.id = v.item_id JOIN materials m ON m.id = i.material_id WHERE v.id = ?",
}

_CALLED = {
    "orders": "note of the order",
    "piece_snapshots": "what was agreed of a piece",
    "line_agreements": "what was agreed of a line",
    "ledger_entries": "payment",
    "reductions": "goodwill",
    "customer_told": "what the customer was told",
    "stage_changes": "change of stage",
    "line_stage_changes": "change of stage",
    "step_ticks": "step at the bench",
    "part_changes": "spoiled part",
    "ticket_prints": "printed ticket",
    "order_lines": "line",
    "cutting_plans": "cutting plan",
    "plan_parts": "cutting plan",
    "plan_ticks": "part of a cutting plan",
    "plan_bookings": "cutting plan",
    "supplier_orders": "order to a supplier",
    "supplier_order_lines": "order to a supplier",
    "deliveries": "delivery",
    "customers": "notes of another customer",
    "materials": "price book",
    "shop": "settings",
    "stock_items": "stock",
    "stock_movements": "stock",
    "stock_levels": "stock",
    "sent_forms": "page that a form led to",
}
_OF_A_PIECE = {
    "title": "title of a piece",
    "condition": "condition of a piece",
    "place": "place of a piece",
}


def called(connection: sqlite3.Connection, place: Place) -> str:
    """Return what a place is called, with the number of what it belongs to: "2026-0012, note of the order"."""
    usual = f"{place.table}, {place.column}".replace("_", " ")
    what = _OF_A_PIECE.get(place.column, usual) if place.table == "pieces" else usual
    what = _CALLED.get(place.table, what)
    number = _number(connection, place)
    return f"{number}, {what}" if number else what


def customer_of(connection: sqlite3.Connection, place: Place) -> int | None:
    """Return the id of the customer whose order, or whose record, a place belongs to; None where it is nobody's own."""
    if place.table == "customers":
        return int(place.key[0])
    asked = _NUMBERS.get(place.table, "")
    if not asked.startswith(_ORDER):
        return None
    with suppress(sqlite3.Error):
        whose = asked.replace(_ORDER, "SELECT o.customer_id FROM orders o", 1)
        found = connection.execute(whose, place.key).fetchone()
        return None if found is None else found[0]
    return None


def _number(connection: sqlite3.Connection, place: Place) -> str:
    asked = _NUMBERS.get(place.table)
    if asked is not None:
        with suppress(sqlite3.Error):
            found = connection.execute(asked, place.key).fetchone()
            return "" if found is None else str(found[0])
    return ""
