"""Says in words where a text stands: the number of the order and what of it, so that a person finds the place."""

import sqlite3
from contextlib import suppress
from typing import Any, NamedTuple

from app.storage.owners import OWNERS, Owner


class Place(NamedTuple):
    """A row of a table by its key, and the column in which a text stands."""

    table: str
    column: str
    key: tuple[Any, ...]


_BESIDES = {
    "customers": Owner(number="r.name"),
    "stock_items": Owner(number="m.code", joins="JOIN materials m ON m.id = r.material_id"),
    "stock_movements": Owner(
        number="m.code",
        joins="JOIN stock_items i ON i.id = r.item_id JOIN materials m ON m.id = i.material_id",
    ),
}
"""What is told by a name or a code here, by which a person finds it."""

_UNNUMBERED = frozenset({"design_changes", "invoices", "plan_bookings", "plan_parts"})
"""Tables of which it is not said here what a text belongs to."""

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
    owner = _owner(place)
    if owner is None or not owner.customer:
        return None
    with suppress(sqlite3.Error):
        found: int | None = owner.asked(connection, owner.customer, place.table, place.key[0])
        return found
    return None


def _number(connection: sqlite3.Connection, place: Place) -> str:
    owner = _owner(place)
    if owner is not None:
        with suppress(sqlite3.Error):
            found = owner.asked(connection, owner.number, place.table, place.key[0])
            return "" if found is None else str(found)
    return ""


def _owner(place: Place) -> Owner | None:
    if place.table in _UNNUMBERED:
        return None
    return _BESIDES.get(place.table) or OWNERS.get(place.table)
