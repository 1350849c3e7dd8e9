"""What is to be bought of a material, and why: what work wants, less what is there and what is coming.

Owns the sum and its sentence. What work wants comes from the needs, what is there from the rack, what
is coming from suppliers' orders (`supplier_orders`).
"""

from dataclasses import dataclass
from fractions import Fraction

from app.counting import counted
from app.money import Money
from app.pricing import Material
from app.stock.items import StockForm
from app.stock.levels import NO_LEVELS, Levels
from app.stock.planning.parts import PieceRef
from app.stock.purchase_unit import BoughtAs, BuyingUnit, bought_as
from app.stock.wording import figure


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """How many whole sticks, sheets or counted ones of a material open work takes, and which pieces.

    whole: beyond what open cutting plans have reserved on the rack. material: its code. lines: (what it is called, id
    of the order) of lines without a piece.
    """

    material: str
    form: StockForm
    whole: int
    pieces: tuple[PieceRef, ...] = ()
    lines: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What is there of a material or coming.

    free: whole ones on hand that no plan has reserved, below zero where the record is behind. on_order:
    sent and not yet come. drafted: on orders that are not sent yet.
    """

    free: int = 0
    on_order: int = 0
    drafted: int = 0

    @property
    def coming(self) -> int:
        """How many are on order or in drafts."""
        return self.on_order + self.drafted


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """What to buy of a material.

    wanted: by open work, which pieces and lines are. short: how many are missing. quantity: as they are bought, in whole packs.
    """

    material: Material
    bought: BoughtAs
    levels: Levels
    wanted: int
    pieces: tuple[PieceRef, ...]
    supply: Supply
    short: int
    quantity: int
    lines: tuple[tuple[str, int], ...] = ()

    @property
    def cost(self) -> Money:
        """The cost of the quantity by the price book, rounded half up."""
        return self.bought.cost.times(Fraction(self.quantity, self.bought.cost_for))

    @property
    def why(self) -> str:
        """The reckoning in words: "5 sticks wanted by 3 pieces, 2 free on the rack, 1 on order: buy 2."."""
        said = [_wanted_words(self.bought.unit, self.wanted, len(self.pieces), len(self.lines))]
        said += _supply_words(self.supply)
        if self.levels.reorder_at is not None:
            said.append(f"reorder level {self.levels.reorder_at}")
        sentence = f"{', '.join(said)}: {f'buy {self.short}' if self.short else 'nothing to buy'}"
        if self.short and self.bought.pack > 1:
            sentence += f"; in packs of {self.bought.pack}: {self.quantity}"
        return f"{sentence}."


def purchase_of(
    material: Material, wanted: Demand | None, supply: Supply, levels: Levels = NO_LEVELS
) -> Purchase:
    """Return what to buy of a material; a quantity of 0 where nothing is.

    Short is what work wants beyond what is free and coming; where a reorder level is set, as many more
    as leave more than the level free once the work is done. Source: common practice.
    """
    bought = bought_as(material, levels)
    whole = wanted.whole if wanted else 0
    left = max(supply.free, 0) + supply.coming - whole
    floor = 0 if levels.reorder_at is None else levels.reorder_at + 1
    short = max(0, floor - left)
    quantity = -(-short // bought.pack) * bought.pack
    return Purchase(
        material=material,
        bought=bought,
        levels=levels,
        wanted=whole,
        pieces=wanted.pieces if wanted else (),
        lines=wanted.lines if wanted else (),
        supply=supply,
        short=short,
        quantity=quantity,
    )


def _wanted_words(unit: BuyingUnit, whole: int, pieces: int, lines: int) -> str:
    if not whole:
        word = unit.word(many=False)
        return f"No {word} wanted by open work" if word else "None wanted by open work"
    named = ((pieces, "piece"), (lines, "line"))
    by = " and ".join(counted(count, word) for count, word in named if count)
    return f"{unit.counted(whole)} wanted by {by}" if by else f"{unit.counted(whole)} wanted"


def _supply_words(supply: Supply) -> tuple[str, ...]:
    said = [f"{max(supply.free, 0)} free on the rack"]
    if supply.free < 0:
        said[0] += f" (its record stands at {figure(supply.free)}; count it)"
    if supply.on_order:
        said.append(f"{supply.on_order} on order")
    if supply.drafted:
        said.append(f"{supply.drafted} in a draft")
    return tuple(said)
