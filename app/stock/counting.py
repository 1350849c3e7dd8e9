"""A stock count: what was counted against what was noted, and what the difference is worth.

Owns the comparison. Every item that was counted gets a movement, also where nothing changed, so that
the record says when it was last looked at.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from app.errors import FaultCollector
from app.money import Currency, Money
from app.stock.items import StockItem
from app.stock.levels import LARGEST_COUNT
from app.stock.movements import MovementKind, NewMovement


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedItem:
    """One item as it was counted."""

    kept: StockItem
    counted: int

    @property
    def change(self) -> int:
        """How many more were counted than are on record; below zero for fewer."""
        return self.counted - self.kept.on_hand

    @property
    def value(self) -> Money:
        """The value of the change at cost."""
        return self.kept.item.unit_cost * self.change

    def movement(self, *, at: datetime, by: str, note: str = "") -> NewMovement:
        """Return the movement that brings the record to what was counted."""
        return NewMovement(kind=MovementKind.COUNTED, change=self.change, at=at, by=by, note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCount:
    """What a count found. found, missing: worth of what is more and of what is less, both at cost."""

    items: tuple[CountedItem, ...]
    found: Money
    missing: Money

    @property
    def changed(self) -> tuple[CountedItem, ...]:
        """The items whose count differs from the record."""
        return tuple(each for each in self.items if each.change)

    @property
    def value(self) -> Money:
        """By how much the count raises the value of the stock; below zero where it lowers it."""
        return self.found - self.missing


def compare(
    items: Sequence[StockItem], counts: Mapping[int, int], currency: Currency
) -> StockCount:
    """Return the count of some items. counts: by the item's id; what was not counted is left out.

    Raises: Invalid at "count.<id>" for a count that no rack can hold.
    """
    faults = FaultCollector()
    for item_id, count in counts.items():
        if not 0 <= count <= LARGEST_COUNT:
            faults.add(
                f"count.{item_id}", f"The count is {count}; 0 to {LARGEST_COUNT} is allowed."
            )
    faults.finish()
    counted = tuple(
        CountedItem(kept=item, counted=counts[item.id]) for item in items if item.id in counts
    )
    values = [each.value for each in counted]
    zero = Money.zero(currency)
    return StockCount(
        items=counted,
        found=sum((value for value in values if value.minor > 0), zero),
        missing=-sum((value for value in values if value.minor < 0), zero),
    )
