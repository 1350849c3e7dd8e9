"""How a material's cost is quoted and how its use is charged, as values (P1 to P3).

A charge that exists is valid in itself; which charge goes with which material is said in `kinds`.
Fault paths are those of the material's form ("charge.waste"), so they can be shown as they are.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from app.errors import FaultCollector
from app.lengths import ZERO, Length
from app.money import Money, show_money, show_percent
from app.pricing.stock import spoken

FINEST_SHARE = 64
"""Smaller parts of a sheet are charged by area. Source: ours."""


class CostPer(StrEnum):
    """What the cost of a material is quoted for by its supplier (P1)."""

    STICK = "stick"
    METRE = "metre"
    FOOT = "foot"
    SHEET = "sheet"
    SQUARE_METRE = "square-metre"
    SQUARE_FOOT = "square-foot"
    EACH = "each"
    HUNDRED = "hundred"


class ChargeBy(StrEnum):
    """The ways of charging a material (P1).

    OPENED: what a cutting plan for the piece alone opens, less the offcuts worth keeping.
    """

    LENGTH = "length"
    AREA = "area"
    SHEET_SHARE = "sheet-share"
    SIZE_BAND = "size-band"
    EACH = "each"
    OPENED = "opened"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeBand:
    """A price for all sizes whose width and height add up to at most `up_to` ("united").

    Raises: Invalid at "up_to", "price".
    """

    up_to: Length
    price: Money

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.up_to <= ZERO:
            faults.add(
                "up_to",
                f"The size band ends at {spoken(self.up_to)} of width + height; it must be above zero.",
            )
        if self.price.minor < 0:
            faults.add("price", f"The price is {show_money(self.price)}; zero or more is allowed.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """How much of a material is charged (P1 to P3).

    waste: share added, 1/10 for 10 %; by what is opened there is none, since that has the real one.
    minimum_length, step: by length and of opened sticks. minimum_area: m², by area and of opened sheets.
    shares: fractions of the sheet on offer, by sheet share, smallest first and ending in 1.
    bands: by size band, smallest first.
    Raises: Invalid with every fault, at "charge.waste", "charge.bands.1.up_to" and so on.
    """

    by: ChargeBy
    waste: Fraction = Fraction(0)
    minimum_length: Length = ZERO
    step: Length = ZERO
    minimum_area: Fraction = Fraction(0)
    shares: tuple[Fraction, ...] = (
        Fraction(1, 8),
        Fraction(1, 4),
        Fraction(1, 2),
        Fraction(1),
    )
    bands: tuple[SizeBand, ...] = ()

    def __post_init__(self) -> None:
        faults = FaultCollector()
        self._check_amounts(faults)
        if self.by is ChargeBy.SHEET_SHARE:
            self._check_shares(faults)
        if self.by is ChargeBy.SIZE_BAND:
            self._check_bands(faults)
        faults.finish()

    def _check_amounts(self, faults: FaultCollector) -> None:
        if not 0 <= self.waste <= 2:
            faults.add(
                "charge.waste",
                f"The waste share is {show_percent(self.waste)}; 0 % to 200 % is allowed.",
            )
        lengths = (
            ("charge.minimum_length", "minimum length", self.minimum_length),
            ("charge.step", "step that lengths are rounded up to", self.step),
        )
        for path, name, length in lengths:
            if length < ZERO:
                faults.add(path, f"The {name} is {spoken(length)}; zero or more is allowed.")
        if self.minimum_area < 0:
            faults.add(
                "charge.minimum_area",
                f"The minimum area is {float(self.minimum_area):g} m²; zero or more is allowed.",
            )

    def _check_shares(self, faults: FaultCollector) -> None:
        for index, share in enumerate(self.shares):
            if not 0 < share <= 1 or share.denominator > FINEST_SHARE:
                faults.add(
                    f"charge.shares.{index}",
                    f"The share {share} is not a part of a sheet; 1/{FINEST_SHARE} up to 1 is, in "
                    f"fractions down to 1/{FINEST_SHARE}.",
                )
        if any(one >= next_one for one, next_one in pairwise(self.shares)):
            faults.add(
                "charge.shares", "List the shares of a sheet from the smallest up, each once."
            )
        if not self.shares or self.shares[-1] != 1:
            faults.add("charge.shares", "The last share must be 1, the whole sheet.")

    def _check_bands(self, faults: FaultCollector) -> None:
        if not self.bands:
            faults.add("charge.bands", "Charging by size band needs at least one band.")
        for index, (band, following) in enumerate(pairwise(self.bands), start=1):
            if following.up_to <= band.up_to:
                faults.add(
                    f"charge.bands.{index}.up_to",
                    f"This band ends at {spoken(following.up_to)}, which is not above the one before, "
                    f"{spoken(band.up_to)}; list them from the smallest up.",
                )
        if len({band.price.currency for band in self.bands}) > 1:
            faults.add("charge.bands", "The prices of the size bands are in different currencies.")
