"""What a framed piece used up of what is counted or measured off: how many whole ones leave which items.

Owns the step from an exact amount to whole ones. A metre that was opened for one piece serves the next:
what leaves the rack in all is never less than what was used in all, and never a whole one more.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from app.pricing import Material
from app.pricing.measure import natural_measure
from app.stock.items import StockForm, StockItem, form_of
from app.stock.planning.parts import CountedNeed
from app.stock.wording import counted, unit_word


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOff:
    """What leaves one item. count: whole ones, 0 where what was opened before is enough. used: exactly."""

    item: StockItem
    count: int
    used: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedUp:
    """What a piece used of a material. count: whole ones that left the rack.

    on_hand: what the item it left stands at now; of several, the one that has least. reserved_by: the numbers of
    the open cutting plans that had taken what left the rack.
    """

    material: Material
    count: int
    used: Fraction
    on_hand: int
    reserved_by: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """The amount and the material in words: "2 × Hanging ring", "1 m of Brass wire"."""
        if unit_word(self.material):
            return f"{counted(self.count, self.material)} of {self.material.name}"
        return f"{self.count} × {self.material.name}"

    def and_also(self, more: "UsedUp") -> "UsedUp":
        """Return both as one, of the same material."""
        return UsedUp(
            material=self.material,
            count=self.count + more.count,
            used=self.used + more.used,
            on_hand=min(self.on_hand, more.on_hand),
            reserved_by=tuple(dict.fromkeys((*self.reserved_by, *more.reserved_by))),
        )


def in_all(used: Iterable[UsedUp]) -> tuple[UsedUp, ...]:
    """Return what was used of each material as one, in the order in which they come; on_hand: the least."""
    found: dict[str, UsedUp] = {}
    for each in used:
        before = found.get(each.material.code)
        found[each.material.code] = each if before is None else before.and_also(each)
    return tuple(found.values())


def may_be_taken(need: CountedNeed, material: Material) -> bool:
    """Tell whether a need can be taken off the rack of a material as the price book has it now.

    Not where the rack counts something else than was agreed: metres then and hundreds now.
    """
    return form_of(material) is StockForm.EACH and natural_measure(material.per) is need.measure


def taken_off(
    used: Fraction, items: Iterable[StockItem], opened: Fraction = Fraction(0)
) -> tuple[TakenOff, ...]:
    """Return what leaves the items for a piece: the oldest first, and never refused.

    used: above zero. items: whole ones of the material, at least one, by age. opened: how much of what left
    the rack before is still there. What is there of no item leaves the newest, below zero.
    Source: common practice, first in first out.
    """
    by_age = sorted(items, key=lambda kept: kept.id)
    count = left = max(0, ceil(used - opened))
    taken: list[tuple[StockItem, int]] = []
    last = by_age[-1]
    for kept in by_age:
        if kept.on_hand >= max(left, 1):
            last = kept
            break
        if kept.on_hand > 0 and kept is not last:
            taken.append((kept, kept.on_hand))
            left -= kept.on_hand
    share = used / count if count else Fraction(0)
    split = (TakenOff(item=kept, count=number, used=share * number) for kept, number in taken)
    rest = used - share * (count - left)
    return (*split, TakenOff(item=last, count=left, used=rest))
