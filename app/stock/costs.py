"""What one item costs: as the price book has it, and what is left of that in an offcut.

Amounts are whole minor units, rounded half up once. Source: common practice, stock at cost.
"""

from fractions import Fraction

from app.lengths import Length, Size
from app.money import Money
from app.pricing import CostPer, Material
from app.pricing.measure import FOOT, SQUARE_FOOT_M2
from app.stock.items import Item, StockForm, form_of


def whole_cost(material: Material) -> Money:
    """Return what one stick, one sheet or one counted thing costs by the price book, as it is bought."""
    return material.cost.times(costs_in_one(material))


def costs_in_one(material: Material) -> Fraction:
    """Tell how many of the cost's own unit are in one as it is bought."""
    match material.per:
        case CostPer.METRE if length := usual_length(material):
            return length.mm / 1000
        case CostPer.FOOT if length := usual_length(material):
            return length / FOOT
        case CostPer.SQUARE_METRE if size := usual_size(material):
            return size.area_m2
        case CostPer.SQUARE_FOOT if size := usual_size(material):
            return size.area_m2 / SQUARE_FOOT_M2
        case CostPer.HUNDRED:
            return Fraction(1, 100)
        case _:
            return Fraction(1)


def usual_length(material: Material) -> Length | None:
    """Return the length of a stick as it is bought; None for what comes in no sticks."""
    sticks = form_of(material) is StockForm.STICK
    return material.profile.stick if sticks and material.profile else None


def usual_size(material: Material) -> Size | None:
    """Return the size of a sheet as it is bought; None for what comes in no sheets."""
    return None if material.sheet is None else material.sheet.size


def cost_by_book(
    material: Material, *, length: Length | None = None, size: Size | None = None
) -> Money:
    """Return what a stick of a length or a sheet of a size costs by the price book, by its share of the usual one."""
    usual, sheet, share = usual_length(material), usual_size(material), Fraction(1)
    if length is not None and usual is not None:
        share = length / usual
    if size is not None and sheet is not None:
        share = size.area_m2 / sheet.area_m2
    return material.cost.times(costs_in_one(material) * share)


def part_cost(item: Item, *, length: Length | None = None, size: Size | None = None) -> Money:
    """Return what is left of an item's cost in a part of it: by its share of the length or of the area.

    Raises: ValueError where the part is not measured as the item is.
    """
    if item.length is not None and length is not None:
        return item.unit_cost.times(length / item.length)
    if item.size is not None and size is not None:
        return item.unit_cost.times(size.area_m2 / item.size.area_m2)
    raise ValueError("a part of a stick has a length, a part of a sheet a size")
