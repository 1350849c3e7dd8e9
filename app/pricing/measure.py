"""The units that materials are charged in, and what one of them costs the shop.

Source: handbook P1; 1 ft = 0.3048 m exactly (yard and pound agreement of 1959).
"""

from enum import StrEnum
from fractions import Fraction

from app.lengths import Length, Unit, inches
from app.pricing.book import CostPer, Material

FOOT = inches(12)
SQUARE_FOOT_M2 = Fraction(FOOT.mm * FOOT.mm, 1_000_000)


class Measure(StrEnum):
    """What a quantity counts. BAND: pieces that are priced by their size band."""

    METRE = "m"
    FOOT = "ft"
    SQUARE_METRE = "m²"
    SQUARE_FOOT = "sq ft"
    SHEET = "sheet"
    BAND = "size"
    EACH = "each"
    MINUTE = "min"


_IN_INCHES = {Measure.METRE: Measure.FOOT, Measure.SQUARE_METRE: Measure.SQUARE_FOOT}
_SIZE_OF = {Measure.FOOT: FOOT.mm / 1000, Measure.SQUARE_FOOT: SQUARE_FOOT_M2}
"""Of what is no metre or square metre, how many of them it is."""


def length_measure(per: CostPer) -> Measure:
    """Feet where the cost is per foot, metres otherwise (a stick too)."""
    return Measure.FOOT if per is CostPer.FOOT else Measure.METRE


def area_measure(per: CostPer) -> Measure:
    """Square feet where the cost is per square foot, square metres otherwise (a sheet too)."""
    return Measure.SQUARE_FOOT if per is CostPer.SQUARE_FOOT else Measure.SQUARE_METRE


def in_measure(length: Length, measure: Measure) -> Fraction:
    """Return a length in metres or feet."""
    return length / FOOT if measure is Measure.FOOT else length.mm / 1000


def area_in_measure(area_m2: Fraction, measure: Measure) -> Fraction:
    """Return an area in m² or sq ft."""
    return area_m2 / SQUARE_FOOT_M2 if measure is Measure.SQUARE_FOOT else area_m2


def read_in(measure: Measure, unit: Unit) -> Measure:
    """Return the measure that people read in a unit: in inches feet and square feet, where prices count in metres."""
    return _IN_INCHES.get(measure, measure) if unit is Unit.IN else measure


def in_other(quantity: Fraction, measure: Measure, other: Measure) -> Fraction:
    """Return a quantity in another measure of the same kind: 3.048 m are 10 ft, exactly. The same one changes nothing."""
    if measure is other:
        return quantity
    return quantity * _SIZE_OF.get(measure, Fraction(1)) / _SIZE_OF.get(other, Fraction(1))


def natural_measure(per: CostPer) -> Measure:
    """Return what a cost basis counts by itself, whatever the charge rule."""
    if per in (CostPer.STICK, CostPer.METRE, CostPer.FOOT):
        return length_measure(per)
    if per in (CostPer.EACH, CostPer.HUNDRED):
        return Measure.EACH
    return area_measure(per)


def unit_cost(material: Material, measure: Measure) -> Fraction:
    """Return what one of the measure costs, in minor units, exact.

    The measure is one that the material's charge rule leads to. Source: P1.
    """
    return material.cost.minor * _costs_in(material, measure)


def _costs_in(material: Material, measure: Measure) -> Fraction:
    """Tell how many of the cost's own unit are in one of the measure."""
    match material.per:
        case CostPer.STICK if material.profile is not None:
            return Fraction(1000) / material.profile.stick.mm
        case CostPer.HUNDRED:
            return Fraction(1, 100)
        case CostPer.SHEET if material.sheet is not None and measure is not Measure.SHEET:
            return 1 / material.sheet.size.area_m2
        case CostPer.SQUARE_METRE | CostPer.SQUARE_FOOT if (
            material.sheet is not None and measure is Measure.SHEET
        ):
            return area_in_measure(material.sheet.size.area_m2, area_measure(material.per))
        case _:
            return Fraction(1)
