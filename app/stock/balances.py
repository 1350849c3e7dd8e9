"""What is there of a material: counted, reserved, worth, and what ought to be looked at.

Owns the sums over a material's items and their notices. Nothing is refused for being below zero; it
is said (C3, and the shop knows better than its record).
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from app.framing import Notice
from app.framing.notice import Concern
from app.money import Money
from app.pricing import Material
from app.stock.items import StockItem
from app.stock.levels import NO_LEVELS, Levels
from app.stock.wording import counted, figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """What is there of a material.

    whole, offcuts: how many are on hand. reserved_whole, reserved_offcuts: how many of these open
    cutting plans have taken. value: all of it at cost. below_zero: how many items stand below zero.
    """

    material: Material
    whole: int
    offcuts: int
    value: Money
    levels: Levels = NO_LEVELS
    reserved_whole: int = 0
    reserved_offcuts: int = 0
    below_zero: int = 0

    @property
    def reserved(self) -> int:
        """How many items are reserved by open cutting plans."""
        return self.reserved_whole + self.reserved_offcuts

    @property
    def free(self) -> int:
        """How many whole items no plan has reserved."""
        return self.whole - self.reserved_whole

    @property
    def overdrawn(self) -> bool:
        """Whether plans have reserved more than is on hand."""
        return self.whole_overdrawn or self.reserved_offcuts > max(self.offcuts, 0)

    @property
    def whole_overdrawn(self) -> bool:
        """Whether plans have reserved more whole items than are on hand."""
        return self.reserved_whole > max(self.whole, 0)

    @property
    def low(self) -> bool:
        """Whether it is time to buy: the stock is at the reorder level or under it."""
        at = self.levels.reorder_at
        return at is not None and self.free <= at

    @property
    def to_buy(self) -> int:
        """The fewest to buy, in whole packs, that bring what is free above the reorder level; 0 where it is above."""
        if not self.low or self.levels.reorder_at is None:
            return 0
        missing = self.levels.reorder_at + 1 - self.free
        return -(-missing // self.levels.pack) * self.levels.pack


def balance_of(
    material: Material,
    items: Iterable[StockItem],
    levels: Levels = NO_LEVELS,
    reserved: Mapping[int, int] | None = None,
) -> Balance:
    """Return the balance of a material's items. reserved: how many of each open plans have taken, by id."""
    items, taken = tuple(items), reserved or {}

    def total(counts: Mapping[int, int], *, whole: bool) -> int:
        return sum(counts.get(each.id, 0) for each in items if each.item.whole is whole)

    on_hand = {each.id: each.on_hand for each in items}
    values = (each.item.unit_cost * each.on_hand for each in items)
    return Balance(
        material=material,
        whole=total(on_hand, whole=True),
        offcuts=total(on_hand, whole=False),
        value=sum(values, Money.zero(material.cost.currency)),
        levels=levels,
        reserved_whole=total(taken, whole=True),
        reserved_offcuts=total(taken, whole=False),
        below_zero=sum(1 for each in items if each.on_hand < 0),
    )


def notices_of(balance: Balance) -> tuple[Notice, ...]:
    """Return what ought to be looked at, the worst first."""
    return tuple(_notices(balance))


def _notices(balance: Balance) -> Iterator[Notice]:
    material = balance.material
    if balance.below_zero:
        yield Notice(
            code="below-zero",
            message=f"More of {material.code} was cut or spoiled than was ever bought. "
            "Count what is there.",
            concern=Concern.RISK,
        )
    if balance.overdrawn:
        yield Notice(code="overdrawn", message=_overdrawn(balance), concern=Concern.RISK)
    if balance.low:
        yield Notice(code="low", message=_low(balance), concern=Concern.LOOK)


def _overdrawn(balance: Balance) -> str:
    code = balance.material.code
    if balance.whole_overdrawn:
        taken = counted(balance.reserved_whole, balance.material)
        return f"Open cutting plans have reserved {taken} of {code}; on hand: {figure(balance.whole)}. Buy the rest, or plan again."
    return (
        f"Open cutting plans have reserved {balance.reserved_offcuts} offcuts of {code}; on hand: "
        f"{figure(balance.offcuts)}. Count them, or plan again."
    )


def _low(balance: Balance) -> str:
    free = counted(balance.free, balance.material)
    buy = counted(balance.to_buy, balance.material)
    level = balance.levels.reorder_at
    return f"{balance.material.code}: {free} free, and the reorder level is {level}. Buy {buy}."


def notices_of_item(kept: StockItem, material: Material, reserved: int = 0) -> tuple[Notice, ...]:
    """Return what ought to be looked at in one item. reserved: how many of it open plans have reserved."""
    notices: list[Notice] = []
    if kept.on_hand < 0:
        notices.append(
            Notice(
                code="below-zero",
                message=f"{counted(kept.on_hand, material)} on hand: more was cut or spoiled than "
                "was ever entered. Count what is there.",
                concern=Concern.RISK,
            )
        )
    if reserved > max(kept.on_hand, 0):
        notices.append(
            Notice(
                code="overdrawn",
                message=f"Open cutting plans have reserved {reserved} of it; on hand: "
                f"{counted(kept.on_hand, material)}. Count it, or plan again.",
                concern=Concern.RISK,
            )
        )
    return tuple(notices)
