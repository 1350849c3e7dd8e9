"""What a material is bought as: a moulding's section and stick, a sheet, a part that a piece hangs by.

Fault paths are those of the material's form ("profile.face"), so they can be shown as they are.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.errors import FaultCollector
from app.framing.mass import HEAVIEST_KG
from app.lengths import ZERO, Length, Size, Unit, show


class Trait(StrEnum):
    """What care (D6) and cutting (C2) ask of a sheet material.

    ONE_WAY: with a direction, as a grain or a stripe, so that parts are never cut turned.
    """

    ACID_FREE = "acid-free"
    UV_FILTER = "uv-filter"
    GLASS = "glass"
    ACRYLIC = "acrylic"
    LAMINATED = "laminated"
    ONE_WAY = "one-way"


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
        above_zero(faults, "profile.face", "face width", self.face)
        above_zero(faults, "profile.rebate_depth", "rebate depth", self.rebate_depth)
        above_zero(faults, "profile.stick", "length of a stick", self.stick)
        if self.lip < ZERO:
            faults.add("profile.lip", f"The lip is {spoken(self.lip)}; zero or more is allowed.")
        elif self.lip >= self.face > ZERO:
            faults.add(
                "profile.lip",
                f"The lip is {spoken(self.lip)}, but the whole face is {spoken(self.face)}; the lip "
                "must be narrower.",
            )
        if self.grams_per_metre < 0:
            faults.add(
                "profile.grams_per_metre",
                f"The weight is {self.grams_per_metre} g a metre; zero or more is allowed.",
            )
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
        above_zero(
            faults, "sheet.size", "sheet's shorter side", min(self.size.width, self.size.height)
        )
        above_zero(faults, "sheet.thickness", "thickness", self.thickness)
        if self.grams_per_m2 < 0:
            faults.add(
                "sheet.grams_per_m2",
                f"The weight is {self.grams_per_m2} g a m²; zero or more is allowed.",
            )
        if {Trait.GLASS, Trait.ACRYLIC} <= self.traits:
            faults.add("sheet.traits", "A sheet is either glass or acrylic, not both.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameStock:
    """A ready-made frame as bought (G24). outside, face, lip: None where they were not measured.

    grams: of one, 0 where it is not known. Raises: Invalid with every fault, at "frame.rebate", "frame.depth",
    "frame.outside", "frame.face", "frame.lip", "frame.grams".
    """

    rebate: Size
    depth: Length
    outside: Size | None = None
    face: Length | None = None
    lip: Length | None = None
    grams: int = 0

    def __post_init__(self) -> None:
        faults = FaultCollector()
        shorter = min(self.rebate.width, self.rebate.height)
        above_zero(faults, "frame.rebate", "rebate's shorter side", shorter)
        above_zero(faults, "frame.depth", "rebate depth", self.depth)
        if self.face is not None:
            above_zero(faults, "frame.face", "face width", self.face)
        if self.lip is not None and self.lip < ZERO:
            faults.add("frame.lip", f"The lip is {spoken(self.lip)}; zero or more is allowed.")
        elif self.lip is not None and self.lip * 2 >= shorter > ZERO:
            faults.add(
                "frame.lip",
                f"The lip is {spoken(self.lip)} on both sides, which leaves nothing of the rebate's shorter "
                f"side, {spoken(shorter)}; it must be narrower.",
            )
        elif self.lip is not None and self.face is not None and self.lip >= self.face > ZERO:
            faults.add(
                "frame.lip",
                f"The lip is {spoken(self.lip)}, but the whole face is {spoken(self.face)}; the lip "
                "must be narrower.",
            )
        if self.outside is not None and (
            self.outside.width <= self.rebate.width or self.outside.height <= self.rebate.height
        ):
            faults.add("frame.outside", "The outside must be larger than the rebate within it.")
        if self.grams < 0:
            faults.add("frame.grams", f"The weight is {self.grams} g; zero or more is allowed.")
        faults.finish()


class Bears(StrEnum):
    """How a piece of hardware carries the framed piece, if it does."""

    RING = "ring"
    WIRE = "wire"
    CLEAT = "cleat"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class HangingPart:
    """What a piece may hang by (D3). load_kg: working load of one, None where it is not known.

    Raises: Invalid with every fault, at "hanging.load".
    """

    bears: Bears
    load_kg: Fraction | None = None

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.load_kg is not None and not 0 < self.load_kg <= HEAVIEST_KG:
            faults.add("hanging.load", f"The load must be above zero and at most {HEAVIEST_KG} kg.")
        if self.load_kg is not None and self.bears is Bears.NOTHING:
            faults.add(
                "hanging.load",
                "A load is given, but nothing hangs by it; say what it is, or no load.",
            )
        faults.finish()


def spoken(length: Length) -> str:
    """Return a length in both units, for a value that knows no unit of its own."""
    return f"{show(length, Unit.MM, mark=True)} ({show(length, Unit.IN, mark=True)})"


def above_zero(faults: FaultCollector, path: str, name: str, length: Length) -> None:
    """Note a length that is zero or less."""
    if length <= ZERO:
        faults.add(path, f"The {name} is {spoken(length)}; it must be above zero.")
