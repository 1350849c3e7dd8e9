"""What a cutting plan for one piece alone opens of a material, and what of that is charged (P1).

Owns these figures as values. It makes no plan: whoever prices a piece brings what was opened for it.
All parts of a piece that are cut from one material share what is opened for them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from app.errors import FaultCollector
from app.lengths import ZERO, Length, Size
from app.pricing.book import ChargeBy
from app.pricing.uses import Use


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedSticks:
    """Sticks opened for a piece, as new ones are bought.

    stick: the length of one. count: how many. kept: the offcuts worth keeping. too_long: parts that
    no stick holds; each counts as a stick, or by its length where that is more.
    Raises: Invalid at "count", "kept".
    """

    stick: Length
    count: int
    kept: tuple[Length, ...] = ()
    too_long: tuple[Length, ...] = ()

    def __post_init__(self) -> None:
        _check(self.count, self._kept.mm, (self.stick * self.count).mm)

    @property
    def _kept(self) -> Length:
        return sum(self.kept, ZERO)

    @property
    def used_up(self) -> Length:
        """What is opened less what is kept."""
        beyond = sum((max(self.stick, length) for length in self.too_long), ZERO)
        return self.stick * self.count - self._kept + beyond


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedSheets:
    """Sheets opened for a piece; as for sticks, by area. Raises: Invalid at "count", "kept"."""

    sheet: Size
    count: int
    kept: tuple[Size, ...] = ()
    too_large: tuple[Size, ...] = ()

    def __post_init__(self) -> None:
        _check(self.count, self._kept, self.sheet.area_m2 * self.count)

    @property
    def _kept(self) -> Fraction:
        return sum((size.area_m2 for size in self.kept), Fraction(0))

    @property
    def used_up(self) -> Fraction:
        """What is opened less what is kept, in sheets."""
        one = self.sheet.area_m2
        beyond = sum((max(Fraction(1), size.area_m2 / one) for size in self.too_large), Fraction(0))
        return self.count - self._kept / one + beyond


type Opened = OpenedSticks | OpenedSheets

NOTHING_OPENED: Mapping[str, Opened] = MappingProxyType({})
"""For a piece of which nothing is charged by what a plan opens."""


def _check(count: int, kept: Fraction, opened: Fraction) -> None:
    faults = FaultCollector()
    if count < 0:
        faults.add("count", f"{count} are opened; zero or more is allowed.")
    elif kept > opened:
        faults.add("kept", "More is kept than was opened.")
    faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedFor:
    """What is opened for one of the uses of a material. share: of what all of them take, above 0.

    The uses of all pieces that are alike count at once (P11).
    """

    opened: Opened
    share: Fraction = Fraction(1)


def opened_for(use: Use, uses: Iterable[Use], opened: Mapping[str, Opened]) -> OpenedFor | None:
    """Return a use's part of what is opened for its material, by length or area; None where it needs none.

    uses: all of the piece. opened: by the material's code. Raises: ValueError where a material is
    charged by what is opened and nothing says what that is.
    """
    code = use.material.code
    if use.material.charge.by is not ChargeBy.OPENED:
        return None
    if code not in opened:
        raise ValueError(f"{code} is charged by what a plan opens; no plan was brought")
    in_all = sum(taken(each) for each in uses if each.material.code == code)
    return OpenedFor(opened=opened[code], share=taken(use) / in_all)


def taken(use: Use) -> Fraction:
    """Return what a use takes of its material: mm of its runs, or m² of its blanks."""
    if use.material.kind.is_sheet:
        return use.size.area_m2 * use.count
    return (use.length * use.count).mm
