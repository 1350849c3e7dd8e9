"""As what a material is bought: the one that is counted, what it costs, how many come together.

Owns the way from a cost in the price book (a metre, a m², a hundred) to the cost of what the supplier
delivers (a stick, a sheet, a piece) and back. It knows no orders.
"""

from dataclasses import dataclass
from enum import StrEnum

from app.counting import plural
from app.errors import Invalid
from app.lengths import Length, Size
from app.money import Money
from app.pricing import CostPer, Material
from app.stock.costs import costs_in_one, usual_length, usual_size
from app.stock.items import StockForm, form_of
from app.stock.levels import NO_LEVELS, Levels

HUNDRED = 100


class BuyingUnit(StrEnum):
    """What a quantity on a supplier's order counts."""

    STICK = "stick"
    SHEET = "sheet"
    EACH = "each"
    METRE = "metre"
    FOOT = "foot"
    SQUARE_METRE = "m²"
    SQUARE_FOOT = "sq ft"

    def counted(self, count: int) -> str:
        """ "1 stick", "12 sheets", "3 m²"; plain things are a plain number."""
        return f"{count} {self.word(many=count != 1)}".rstrip()

    def word(self, *, many: bool = True) -> str:
        """ "stick" or "sticks"; "" for plain things, since a piece is an artwork here."""
        match self:
            case BuyingUnit.EACH:
                return ""
            case BuyingUnit.SQUARE_METRE | BuyingUnit.SQUARE_FOOT:
                return self.value
            case _:
                return plural(self.value) if many else self.value

    @property
    def sign(self) -> str:
        """The word after an amount in a list of stock: "m" for wire, "" for things that are counted."""
        return _SIGNS.get(self, self.value)

    @property
    def per_one(self) -> str:
        """The words after a cost: "a stick", "each"."""
        return self.value if self is BuyingUnit.EACH else f"a {self.value}"


_SIGNS = {BuyingUnit.EACH: "", BuyingUnit.METRE: "m", BuyingUnit.FOOT: "ft"}

_LOOSE = {
    CostPer.METRE: BuyingUnit.METRE,
    CostPer.FOOT: BuyingUnit.FOOT,
    CostPer.SQUARE_METRE: BuyingUnit.SQUARE_METRE,
    CostPer.SQUARE_FOOT: BuyingUnit.SQUARE_FOOT,
}
"""What is counted of a material that is neither stick nor sheet, such as wire by the metre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtAs:
    """How a material is bought.

    cost: of `cost_for` of the unit, 1 as a rule, 100 for what is sold by the hundred. pack: quantities
    are rounded up to multiples of it. length, size: of one stick or sheet.
    """

    form: StockForm
    unit: BuyingUnit
    cost: Money
    cost_for: int
    pack: int
    length: Length | None = None
    size: Size | None = None


def bought_as(material: Material, levels: Levels = NO_LEVELS) -> BoughtAs:
    """Tell how a material is bought (P1).

    A stick of what costs so much a metre costs that × its length, a sheet so much a m² × its area, half
    up. What is sold by the hundred comes in hundreds unless the shop has set another pack.
    """
    cost_for = _cost_for(material)
    return BoughtAs(
        form=form_of(material),
        unit=unit_of(material),
        cost=material.cost.times(costs_in_one(material) * cost_for),
        cost_for=cost_for,
        pack=cost_for if levels.pack == 1 else levels.pack,
        length=usual_length(material),
        size=usual_size(material),
    )


def in_the_price_book(material: Material, paid: Money, paid_for: int) -> Money:
    """Return what was paid for `paid_for` of the bought unit as the price book states a cost, half up.

    Raises: Invalid where it was paid in another currency.
    """
    if paid.currency != material.cost.currency:
        raise Invalid.at(
            "cost",
            f"{material.code} was paid in {paid.currency.code}, but the price book is in "
            f"{material.cost.currency.code}.",
        )
    return paid.times(1 / (costs_in_one(material) * paid_for))


def _cost_for(material: Material) -> int:
    """For how many of them a cost is stated."""
    return HUNDRED if material.per is CostPer.HUNDRED else 1


def unit_of(material: Material) -> BuyingUnit:
    """Return what is counted of a material: on the rack as on a supplier's order."""
    match form_of(material):
        case StockForm.STICK:
            return BuyingUnit.STICK
        case StockForm.SHEET:
            return BuyingUnit.SHEET
        case StockForm.EACH:
            return _LOOSE.get(material.per, BuyingUnit.EACH)
