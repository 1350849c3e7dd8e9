"""Whose a record is: the number of the order, plan or paper that it belongs to, and the way there in SQL."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """What the rows of a table, called r, belong to. joins: the way there; number: what that is known by; part: which one of it, as
    the end of a sentence's beginning; customer: whose it is. All of them SQL, blank where there is none.
    """

    number: str
    joins: str = ""
    part: str = ""
    customer: str = ""

    def asked(self, connection: sqlite3.Connection, what: str, table: str, key: Any) -> Any:
        """Return what is asked of the owner of a row, None where it has none. Raises: sqlite3.DatabaseError."""
        found = connection.execute(
            f"SELECT {what} FROM {table} r {self.joins} WHERE r.id = ?", (key,)
        ).fetchone()
        return None if found is None else found[0]


_ITSELF = Owner(
    number="coalesce(o.order_number, o.quote_number)",
    joins="JOIN orders o ON o.id = r.id",
    customer="o.customer_id",
)
_OF_ORDER = replace(_ITSELF, joins="JOIN orders o ON o.id = r.order_id")
_OF_PIECE = replace(
    _ITSELF,
    joins="JOIN pieces p ON p.id = r.piece_id JOIN orders o ON o.id = p.order_id",
    part="', piece ' || p.number",
)
_OF_LINE = replace(
    _ITSELF,
    joins="JOIN order_lines l ON l.id = r.line_id JOIN orders o ON o.id = l.order_id",
    part="', line ' || l.number",
)
_OF_PLAN = Owner(number="c.number", joins="JOIN cutting_plans c ON c.id = r.plan_id")
_NUMBERED = Owner(number="r.number")
_OF_SUPPLIER_ORDER = Owner(number="s.number", joins="JOIN supplier_orders s ON s.id = r.order_id")
_OF_ITS_LINE = Owner(
    number="s.number",
    joins="JOIN supplier_order_lines l ON l.id = r.line_id JOIN supplier_orders s ON s.id = l.order_id",
)

OWNERS: Mapping[str, Owner] = {
    "orders": _ITSELF,
    **dict.fromkeys(
        ("customer_told", "ledger_entries", "order_lines", "pieces", "reductions"), _OF_ORDER
    ),
    **dict.fromkeys(
        (
            "design_changes",
            "part_changes",
            "piece_snapshots",
            "stage_changes",
            "step_ticks",
            "ticket_prints",
        ),
        _OF_PIECE,
    ),
    **dict.fromkeys(("line_agreements", "line_stage_changes"), _OF_LINE),
    **dict.fromkeys(("plan_bookings", "plan_parts", "plan_ticks"), _OF_PLAN),
    **dict.fromkeys(("cutting_plans", "invoices", "supplier_orders"), _NUMBERED),
    "supplier_order_lines": _OF_SUPPLIER_ORDER,
    "deliveries": _OF_ITS_LINE,
    "materials": Owner(number="r.code"),
}
"""By table; the rest belongs to nothing that has a number."""
