"""What was really paid, held against the price book: which costs are no longer what they were.

Owns the comparison. Nothing changes by itself: taking costs into the price book is an act of its own,
and quotes keep what they were made with (P7).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.errors import Invalid
from app.pricing import Material
from app.stock.buying.supplier_orders import SupplierOrder
from app.stock.purchase_unit import in_the_price_book


@dataclass(frozen=True, slots=True, kw_only=True)
class CostChange:
    """A material as it stands in the price book, and with the cost that was last paid for it."""

    old: Material
    new: Material


def cost_changes(order: SupplierOrder, book: Mapping[str, Material]) -> tuple[CostChange, ...]:
    """Return the materials of an order whose last paid cost is not that of the price book, by code.

    book: by code. Where two lines are of one material, the delivery that came last counts. What was paid
    in another currency than the book's is left out.
    """
    paid = [line.last_paid for line in order.lines]
    latest = sorted(
        (
            (entry.at, line.ordered.material, entry)
            for line, entry in zip(order.lines, paid, strict=True)
            if entry is not None
        ),
        key=lambda each: each[:2],
    )
    entries = {code: entry for _, code, entry in latest if code in book}
    changes: list[CostChange] = []
    for code in sorted(entries):
        old, entry = book[code], entries[code]
        try:
            cost = in_the_price_book(old, entry.cost, entry.cost_for)
        except Invalid:
            continue
        if cost != old.cost:
            changes.append(CostChange(old=old, new=replace(old, cost=cost)))
    return tuple(changes)
