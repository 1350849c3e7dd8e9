"""A cutting plan: which stock is opened, where each part lies, what is left over.

Owns the answers as values; they may be wrong, and it is for `checker` to prove that one is not.
Places are measured from the left end of a stick and the left-top corner of a sheet, untrimmed
edges included.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.cutting.problem import SheetProblem, StickProblem
from app.lengths import Length, Size


class Maker(StrEnum):
    """Who made a plan: the solver, or our own simple rule where that is late, absent or no worse."""

    SOLVER = "solver"
    SIMPLE = "simple"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """Parts that are in no stick or sheet. reason: a sentence for people; code: for programs."""

    id: str
    copies: int
    code: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidRail:
    """A part on a stick. copy: from 1, of the parts of its id. at: its start."""

    id: str
    copy: int
    at: Length
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class StickRest:
    """An offcut of a stick that is worth keeping."""

    at: Length
    length: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedStick:
    """One stick and what is cut from it, from its left end. stock: the id it has on offer.

    copy: from 1, of the sticks of its id that the plan opens.
    """

    stock: str
    copy: int
    parts: tuple[LaidRail, ...]
    offcut: StickRest | None = None


class Way(StrEnum):
    """The direction of a cut, as the sheet lies in the drawing."""

    ACROSS = "across"
    DOWN = "down"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCut:
    """One edge-to-edge cut, in the order of work.

    at: how far its near side is from the top (across) or from the left (down) edge of the sheet; the
    kerf lies beyond it, or as much of it as there is. start, end: where along the other direction
    it begins and ends.
    stage: 1 for the cuts of the first direction, one more at each change; 0 for trimming the
    sheet's edges.
    """

    stage: int
    way: Way
    at: Length
    start: Length
    end: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPart:
    """A part on a sheet. size: as it lies. turned: whether that is the other way round."""

    id: str
    copy: int
    x: Length
    y: Length
    size: Size
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRest:
    """An offcut of a sheet that is worth keeping."""

    x: Length
    y: Length
    size: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedSheet:
    """One sheet, its cuts in the order of work, and what they free."""

    stock: str
    copy: int
    cuts: tuple[SheetCut, ...]
    parts: tuple[LaidPart, ...]
    offcuts: tuple[SheetRest, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan[Asked: (StickProblem, SheetProblem), Opened: (OpenedStick, OpenedSheet)]:
    """lower_bound: what no plan for the placed parts can cost less than, in the unit of the costs."""

    asked: Asked
    bins: tuple[Opened, ...]
    unplaced: tuple[Unplaced, ...]
    lower_bound: Fraction
    maker: Maker

    @property
    def opened(self) -> Mapping[str, int]:
        """How many of each stock are opened, by its id, in the order of the plan."""
        return Counter(each.stock for each in self.bins)

    @property
    def cost(self) -> Fraction:
        """The cost of the opened stock."""
        costs = {each.id: each.cost for each in self.asked.stock}
        return sum((costs[each.stock] for each in self.bins), Fraction(0))

    @property
    def proven(self) -> bool:
        """Whether no plan for these parts can cost less (C6)."""
        return self.cost == self.lower_bound

    @property
    def waste_share(self) -> Fraction:
        """The share of the opened stock that is in no part, offcuts worth keeping included."""
        return 1 - self._in_parts() / self._in_all() if self.bins else Fraction(0)

    @property
    def kept_share(self) -> Fraction:
        """The share of the opened stock that is kept as offcuts."""
        return self._in_offcuts() / self._in_all() if self.bins else Fraction(0)

    def _in_all(self) -> Fraction:
        raise NotImplementedError

    def _in_parts(self) -> Fraction:
        raise NotImplementedError

    def _in_offcuts(self) -> Fraction:
        raise NotImplementedError


@dataclass(frozen=True, slots=True, kw_only=True)
class StickPlan(_Plan[StickProblem, OpenedStick]):
    """A plan for sticks; shares are of length."""

    asked: StickProblem
    bins: tuple[OpenedStick, ...]

    def _in_all(self) -> Fraction:
        lengths = {stick.id: stick.length for stick in self.asked.stock}
        return sum((lengths[each.stock].mm for each in self.bins), Fraction(0))

    def _in_parts(self) -> Fraction:
        return sum((part.length.mm for each in self.bins for part in each.parts), Fraction(0))

    def _in_offcuts(self) -> Fraction:
        return sum((each.offcut.length.mm for each in self.bins if each.offcut), Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan(_Plan[SheetProblem, OpenedSheet]):
    """A plan for sheets; shares are of area."""

    asked: SheetProblem
    bins: tuple[OpenedSheet, ...]

    def _in_all(self) -> Fraction:
        areas = {sheet.id: sheet.size.area_m2 for sheet in self.asked.stock}
        return sum((areas[each.stock] for each in self.bins), Fraction(0))

    def _in_parts(self) -> Fraction:
        return sum((p.size.area_m2 for each in self.bins for p in each.parts), Fraction(0))

    def _in_offcuts(self) -> Fraction:
        return sum((r.size.area_m2 for each in self.bins for r in each.offcuts), Fraction(0))


type Plan = StickPlan | SheetPlan
