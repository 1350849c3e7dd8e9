"""A question for sheets in whole ticks, one kerf larger than life, as the planners reckon it.

Owns the numbers that `simple_sheets`, `solver_sheets`, `bound_sheets` and `cut_tree` share. Every part
and every usable sheet has one kerf added to its width and to its height. Then parts that lie a kerf
apart lie edge to edge, sizes in a row just add up, and a part that fills a sheet fits it: n parts
with n - 1 kerfs between them are no longer than a sheet exactly when n parts of w + k are no longer
than a sheet of W + k. Whatever is left over is one kerf larger than life too.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from math import lcm

from app.cutting.first_fit import FirstSheet, Sides
from app.cutting.grid import Grid, exact_ticks, small_ticks
from app.cutting.plan import Unplaced
from app.cutting.problem import SheetProblem
from app.errors import quoted
from app.lengths import ZERO, Length, Size, show_size


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOffer:
    """Sheets on offer. index: in the question's stock. copies: no more than there are parts.

    units: the cost in whole units, the same for all offers of a task.
    """

    index: int
    width: int
    height: int
    copies: int
    cost: Fraction
    units: int
    owned: bool

    @property
    def area(self) -> int:
        """The area in square ticks."""
        return self.width * self.height

    def holds(self, sides: Sides) -> bool:
        """Tell whether sides lie within, not turned."""
        return sides[0] <= self.width and sides[1] <= self.height

    def lies_within(self, other: "SheetOffer") -> bool:
        """Tell whether it is no larger than another one, not turned."""
        return other.holds((self.width, self.height))


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskPart:
    """Parts that are wanted. index: in the question's parts. turn: whether turning makes a difference."""

    index: int
    width: int
    height: int
    copies: int
    turn: bool

    @property
    def area(self) -> int:
        """The area of one part in square ticks."""
        return self.width * self.height

    @property
    def ways(self) -> tuple[Sides, ...]:
        """The sizes in ticks, a kerf included, as which it may lie: one, or two where it may be turned."""
        straight = (self.width, self.height)
        return (straight, straight[::-1]) if self.turn else (straight,)

    def fits(self, offer: SheetOffer) -> bool:
        """Tell whether one can be cut from a sheet."""
        return any(offer.holds(sides) for sides in self.ways)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTask:
    """What is planned. Each part fits an offer, each offer holds a part. stages: as asked."""

    offers: tuple[SheetOffer, ...]
    wanted: tuple[TaskPart, ...]
    stages: int | None
    ticks: Grid

    @property
    def parts(self) -> int:
        """How many parts there are in all."""
        return sum(each.copies for each in self.wanted)

    @property
    def owned(self) -> tuple[SheetOffer, ...]:
        """The sheets that cost nothing, the smallest first."""
        free = (offer for offer in self.offers if not offer.cost)
        return tuple(sorted(free, key=lambda offer: offer.area))

    @property
    def to_buy(self) -> tuple[SheetOffer, ...]:
        """The sheets that cost something, the cheapest by area first."""
        dear = [offer for offer in self.offers if offer.cost]
        rate = rate_among(dear)
        return tuple(sorted(dear, key=lambda offer: (rate(offer), -offer.area)))

    def only(self, counts: Mapping[int, int]) -> "SheetTask":
        """Return the same for so many parts of each index; those of no count are left out."""
        kept = tuple(
            replace(each, copies=counts[each.index])
            for each in self.wanted
            if counts.get(each.index)
        )
        return replace(self, wanted=kept)


def rate_among(offers: Sequence[SheetOffer]) -> Callable[[SheetOffer], int]:
    """Return what an area of each costs, in whole numbers so fine that no two unlike rates fall together."""
    finer = 2 * max((offer.area for offer in offers), default=1).bit_length()
    return lambda offer: (offer.units << finer) // offer.area


def exact_task(asked: SheetProblem) -> SheetTask:
    """Return the parts that fit at least one sheet, on the grid where every length is whole."""
    return _task(asked, exact_ticks(_lengths(asked)))


def small_task(asked: SheetProblem, most: int) -> SheetTask:
    """Return the same in numbers up to about `most`; a part that just fits may not on the coarser grid."""
    return _task(asked, small_ticks(_lengths(asked), most))


def _lengths(asked: SheetProblem) -> Iterable[Length]:
    sizes = (*(each.size for each in asked.stock), *(each.size for each in asked.parts))
    yield from (asked.kerf, asked.trim)
    for size in sizes:
        yield from (size.width, size.height)


def _task(asked: SheetProblem, ticks: Grid) -> SheetTask:
    most = sum(part.copies for part in asked.parts)
    finest = lcm(*{sheet.cost.denominator for sheet in asked.stock})
    offers = tuple(
        SheetOffer(
            index=index,
            width=ticks.down(usable.width + asked.kerf),
            height=ticks.down(usable.height + asked.kerf),
            copies=most if sheet.copies is None else min(sheet.copies, most),
            cost=sheet.cost,
            units=int(sheet.cost * finest),
            owned=sheet.copies is not None,
        )
        for index, sheet in enumerate(asked.stock)
        if _is_real(usable := asked.usable(sheet))
    )
    wanted = tuple(
        TaskPart(
            index=index,
            width=(width := ticks.up(part.size.width + asked.kerf)),
            height=(height := ticks.up(part.size.height + asked.kerf)),
            copies=part.copies,
            turn=part.turn and width != height,
        )
        for index, part in enumerate(asked.parts)
    )
    largest = FirstSheet([(offer.width, offer.height) for offer in offers])
    fitting = tuple(part for part in wanted if largest.first(part.ways) is not None)
    smallest = _Smallest(sides for part in fitting for sides in part.ways)
    offers = tuple(offer for offer in offers if smallest.fit((offer.width, offer.height)))
    return SheetTask(offers=offers, wanted=fitting, stages=asked.stages, ticks=ticks)


class _Smallest:
    """Sides of parts, asked whether any of them lie within others."""

    def __init__(self, sides: Iterable[Sides]) -> None:
        ordered = sorted(set(sides))
        self._widths = [width for width, _ in ordered]
        self._least_heights = list(accumulate((height for _, height in ordered), min))

    def fit(self, sheet: Sides) -> bool:
        """Tell whether one of them, at least, lies within a sheet."""
        narrow = bisect_right(self._widths, sheet[0])
        return narrow > 0 and self._least_heights[narrow - 1] <= sheet[1]


def _is_real(usable: Size) -> bool:
    return usable.width > ZERO and usable.height > ZERO


def left_out(
    asked: SheetProblem, task: SheetTask, placed: Mapping[int, int]
) -> tuple[Unplaced, ...]:
    """Return the parts of a question that are on no sheet, each with the reason. placed: how many by index."""
    missing = [
        (index, part.copies - placed.get(index, 0)) for index, part in enumerate(asked.parts)
    ]
    missing = [(index, copies) for index, copies in missing if copies]
    if not missing:
        return ()
    fitting = {part.index for part in task.wanted}
    usable = [each for each in map(asked.usable, asked.stock) if _is_real(each)]
    largest = max(usable, key=lambda each: each.area_m2, default=None)
    unplaced = []
    for index, copies in missing:
        code, reason = (
            ("no-stock-left", _none_left(asked, index, copies))
            if index in fitting
            else ("fits-no-sheet", _too_large(asked, index, largest))
        )
        unplaced.append(Unplaced(id=asked.parts[index].id, copies=copies, code=code, reason=reason))
    return tuple(unplaced)


def _too_large(asked: SheetProblem, index: int, largest: Size | None) -> str:
    part = asked.parts[index]
    size = show_size(part.size, asked.unit, mark=True)
    if largest is None:
        return f"There is no sheet for {quoted(part.id)} ({size})."
    trims = " within its trims" if asked.trim else ""
    turned = "" if part.turn else " without being turned"
    return (
        f"{quoted(part.id)} is {size} and fits no sheet{turned}; the largest is "
        f"{show_size(largest, asked.unit, mark=True)}{trims}."
    )


def _none_left(asked: SheetProblem, index: int, missing: int) -> str:
    part = asked.parts[index]
    are = "is" if missing == 1 else "are"
    return (
        f"{missing} of {quoted(part.id)} ({show_size(part.size, asked.unit, mark=True)}) {are} left "
        "over: the sheets on offer that would hold more of it are all used."
    )
