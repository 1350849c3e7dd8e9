"""What a material is bought as: a moulding's section and stick, or a sheet.

Fault paths are those of the material's form ("profile.face"), so they can be shown as they are.
"""

from dataclasses import dataclass
from enum import StrEnum

from app.errors import FaultCollector
from app.lengths import ZERO, Length, Size


class Trait(StrEnum):
    """What care asks of a sheet material (D6)."""

    ACID_FREE = "acid-free"
    UV_FILTER = "uv-filter"
    GLASS = "glass"
    ACRYLIC = "acrylic"
    LAMINATED = "laminated"


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A moulding's section and stick. grams_per_metre: of the stick's length.

    A tray for floating canvases has a lip of zero. Raises: Invalid with every fault, at
    "profile.face", "profile.lip", "profile.rebate_depth", "profile.stick",
    "profile.grams_per_metre".
    """

    face: Length
    lip: Length
    rebate_depth: Length
    stick: Length
    grams_per_metre: int

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.face <= ZERO:
            faults.add("profile.face", "The face width must be above zero.")
        elif self.lip >= self.face:
            faults.add(
                "profile.lip", "The lip is part of the face, so it must be narrower than the face."
            )
        if self.lip < ZERO:
            faults.add("profile.lip", "The lip cannot be below zero.")
        if self.rebate_depth <= ZERO:
            faults.add("profile.rebate_depth", "The rebate depth must be above zero.")
        if self.stick <= ZERO:
            faults.add("profile.stick", "The length of a stick must be above zero.")
        if self.grams_per_metre < 0:
            faults.add("profile.grams_per_metre", "The weight cannot be below zero.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet as bought. grams_per_m2: thickness times density, or as the maker gives it.

    Raises: Invalid with every fault, at "sheet.size", "sheet.thickness", "sheet.grams_per_m2",
    "sheet.traits".
    """

    size: Size
    thickness: Length
    grams_per_m2: int
    traits: frozenset[Trait] = frozenset()

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.size.width <= ZERO or self.size.height <= ZERO:
            faults.add("sheet.size", "Both sides of the sheet must be above zero.")
        if self.thickness <= ZERO:
            faults.add("sheet.thickness", "The thickness must be above zero.")
        if self.grams_per_m2 < 0:
            faults.add("sheet.grams_per_m2", "The weight cannot be below zero.")
        if {Trait.GLASS, Trait.ACRYLIC} <= self.traits:
            faults.add("sheet.traits", "A sheet is either glass or acrylic, not both.")
        faults.finish()
