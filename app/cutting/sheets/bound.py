"""What no plan for sheets can cost less than (C6).

Owns the bounds; it finds no plan. Every bound here weighs parts: where no sheet of a kind holds parts
that weigh more than the sheet costs, no plan costs less than what all parts weigh together. What an
owned sheet may hold beyond its cost is taken off once for each that there is. Weights come from areas
and from dual feasible functions of width and height. They hold for any way to lay parts apart, so for
edge-to-edge cuts too. Sizes are a kerf larger than life, which makes areas bound kerfs exactly.
Source: Fekete and Schepers, "New classes of fast lower bounds for bin packing problems", Mathematical
Programming 91 (2001); Carlier, Clautiaux and Moukrim, "New reduction procedures and lower bounds for
the two-dimensional bin packing problem with fixed orientation", Computers & Operations Research 34
(2007).
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from heapq import nlargest
from itertools import accumulate, product
from math import ceil, gcd, lcm
from operator import mul

from app.cutting.first_fit import FirstSheet
from app.cutting.sheets.task import SheetOffer, SheetTask, TaskPart, rate_among

_MOST_STEPS_OF_A_SIDE = 16
"""For how many sides functions are made. They are tried in pairs; more gain little. Source: ours."""

_MOST_TRIED = 4
"""How many of the best weights are tried against all stock. Source: ours."""

_MOST_STEPS, _LEAST_STEPS = 400, 10
"""Of the searches for the heaviest parts on each kind of sheet together, and of one of them, before a
looser answer serves. Source: ours."""

_MOST_KINDS, _MOST_MADE = 12, 600
"""For how many sizes of sheet weights are made, those of the best value first; and up to how many
times the different parts. Source: ours."""

_MOST_SEARCHED = 1500
"""Up to how many pairs of a sheet and a part the heaviest parts on each sheet are searched for; of
more, they are as heavy as the densest parts that fill the sheet. Source: ours."""

_MOST_REACHED = 1_000_000
"""Steps of cost; beyond, a bound is rounded up to a whole step only. Source: ours."""

_MOST_ADDED = 10_000_000
"""The same for steps of cost times different costs. Source: ours."""


def lower_bound(task: SheetTask, reached: Fraction | None = None) -> Fraction:
    """Return what no plan for all parts of a task costs less than; one that stock can come to.

    reached: what a plan for them costs; once a bound comes to that, no other one is looked for.
    Each part fits an offer, and all can be placed: what more sheets would cost that there are not is
    no matter.
    """
    if not task.wanted:
        return Fraction(0)
    task = replace(task, offers=tuple(_undominated(task)))
    costs = [offer.cost for offer in task.offers]
    best = _dearest_part(task)
    for weights in _all_weights(task):
        if best == reached:
            break
        best = max(best, reached_from(_weighed(task, weights), costs))
    return best


def reached_from(bound: Fraction, costs: Iterable[Fraction]) -> Fraction:
    """Return the least sum of costs, each as often as wanted, that is at least a bound."""
    real = {cost for cost in costs if cost}
    if bound <= 0 or not real:
        return max(bound, Fraction(0))
    step = Fraction(gcd(*(c.numerator for c in real)), lcm(*(c.denominator for c in real)))
    least = ceil(bound / step)
    units = sorted(int(cost / step) for cost in real)
    most = least + units[0]
    if most > _MOST_REACHED or most * len(units) > _MOST_ADDED:
        return least * step
    inside = (1 << most + 1) - 1
    reached = 1  # bit n: whether n steps can be come to
    for unit in units:
        shift = unit
        while shift <= most:
            reached |= reached << shift & inside
            shift *= 2
    beyond = reached >> least
    return (least + (beyond & -beyond).bit_length() - 1) * step


def _undominated(task: SheetTask) -> Iterator[SheetOffer]:
    """Yield the sheets without those in whose place one that is no smaller and no dearer can be opened.

    Every plan has another one of no more cost that does without the sheets left out.
    """
    enough, parts = list[SheetOffer](), task.parts
    for offer in sorted(task.offers, key=lambda each: (each.units, -each.area, -each.copies)):
        if not any(offer.lies_within(other) for other in enough):
            yield offer
            if offer.copies >= parts:
                enough.append(offer)


def _dearest_part(task: SheetTask) -> Fraction:
    """Return the bound of the part whose cheapest sheet costs the most: it needs at least that one."""
    by_cost = sorted(task.offers, key=lambda offer: offer.units)
    sheets = FirstSheet([(offer.width, offer.height) for offer in by_cost])
    cheapest = (sheets.first(part.ways) for part in task.wanted)
    return max(by_cost[place].cost for place in cheapest if place is not None)


@dataclass(frozen=True, slots=True)
class _Weights:
    """What parts weigh, one by one of the task's. of: the offer that holds `holds` at most, if any."""

    each: tuple[int, ...]
    of: SheetOffer | None = None
    holds: int = 0


def _weighed(task: SheetTask, weights: _Weights) -> Fraction:
    """Return the bound that weights give.

    Scaled so that no sheet of which there are enough holds more weight than it costs; what scarce
    sheets hold beyond their cost is taken off. Scarce are those of which fewer are on offer than
    there are parts.
    """
    total = sum(w * part.copies for w, part in zip(weights.each, task.wanted, strict=True))
    most_held = _loosely_held(task, weights) if _are_many(task) else _closely_held(task, weights)
    held = [(offer, most) for offer in task.offers if (most := most_held(offer))]
    parts = task.parts
    enough = [offer.cost / most for offer, most in held if offer.copies >= parts]
    scarce = [(offer, most) for offer, most in held if offer.copies < parts]
    scale = min(enough) if enough else _best_scale(total, scarce)
    beyond = (
        (scale * most - offer.cost) * offer.copies
        for offer, most in scarce
        if scale * most > offer.cost
    )
    return max(scale * total - sum(beyond, Fraction(0)), Fraction(0))


def _best_scale(total: int, scarce: Iterable[tuple[SheetOffer, int]]) -> Fraction:
    """Return the scale at which the weights of parts, less what is taken off, are the most.

    With the scale they grow as fast as parts weigh, less all that the sheets hold which hold more than
    they cost: up to the sheet at which those come to no less than the parts.
    """
    scale = Fraction(0)
    for at, held in sorted((offer.cost / most, most * offer.copies) for offer, most in scarce):
        if total <= 0:
            break
        scale, total = at, total - held
    return scale


def _are_many(task: SheetTask) -> bool:
    return len(task.offers) * len(task.wanted) > _MOST_SEARCHED


def _closely_held(task: SheetTask, weights: _Weights) -> Callable[[SheetOffer], int]:
    """No more weight than this is on one sheet, by a search."""
    return lambda offer: _most_held(offer, weights, lambda: _heaviest(task, offer, weights.each))


def _loosely_held(task: SheetTask, weights: _Weights) -> Callable[[SheetOffer], int]:
    """Return the same by area alone, all parts taken to fit: little work for each sheet, however many."""
    finer = 2 * max(part.area for part in task.wanted).bit_length()
    weighed = [pair for pair in zip(weights.each, task.wanted, strict=True) if pair[0]]
    weighed.sort(key=lambda pair: (pair[0] << finer) // pair[1].area, reverse=True)
    areas = list(accumulate((part.area * part.copies for _, part in weighed), initial=0))
    full = list(accumulate((weight * part.copies for weight, part in weighed), initial=0))

    def densest(area: int) -> int:
        whole = bisect_right(areas, area) - 1
        if whole == len(weighed):
            return full[-1]
        weight, part = weighed[whole]
        return full[whole] + (area - areas[whole]) * weight // part.area

    return lambda offer: _most_held(offer, weights, lambda: densest(offer.area))


def _most_held(offer: SheetOffer, weights: _Weights, found: Callable[[], int]) -> int:
    if weights.of == offer:
        return weights.holds
    least = found()
    inside = weights.of and offer.lies_within(weights.of)
    return min(least, weights.holds) if inside else least


def _heaviest(task: SheetTask, offer: SheetOffer, weights: Sequence[int]) -> int:
    """Return the most weight of parts that fit a sheet one by one, two by two, and by area together."""
    parts = [
        (weight, part)
        for weight, part in zip(weights, task.wanted, strict=True)
        if weight and part.fits(offer)
    ]
    parts.sort(key=lambda each: Fraction(each[0], each[1].area), reverse=True)
    search = _Heaviest(offer, [part for _, part in parts], [weight for weight, _ in parts])
    return search.find(max(_LEAST_STEPS, _MOST_STEPS // len(task.offers)))


class _Heaviest:
    """A search through all choices, densest parts first; loose once it takes too long."""

    def __init__(
        self, offer: SheetOffer, parts: Sequence[TaskPart], weights: Sequence[int]
    ) -> None:
        self._offer, self._parts, self._weights = offer, parts, weights
        self._left = self._best = 0
        self._pairs: dict[tuple[int, int], bool] = {}

    def find(self, steps: int) -> int:
        self._left = steps
        loose = self._at_most(0, self._offer.area)
        self._go(0, 0, self._offer.area, [])
        return loose if self._left < 0 else self._best

    def _at_most(self, index: int, room: int) -> int:
        """Return what parts from an index on weigh at most, if they could be cut to fill the room."""
        weight = 0
        for part, each in zip(self._parts[index:], self._weights[index:], strict=True):
            copies = min(part.copies, room // part.area)
            weight, room = weight + copies * each, room - copies * part.area
            if copies < part.copies:
                return weight + room * each // part.area
        return weight

    def _go(self, index: int, weight: int, room: int, chosen: list[int]) -> None:
        self._left -= 1
        self._best = max(self._best, weight)
        if index == len(self._parts) or self._left < 0:
            return
        if weight + self._at_most(index, room) <= self._best:
            return
        part = self._parts[index]
        most = min(part.copies, room // part.area)
        if any(not self._beside(index, other) for other in chosen):
            most = 0
        elif most > 1 and not self._beside(index, index):
            most = 1
        for copies in range(most, -1, -1):
            more = [*chosen, index] if copies else chosen
            self._go(
                index + 1,
                weight + copies * self._weights[index],
                room - copies * part.area,
                more,
            )

    def _beside(self, one: int, other: int) -> bool:
        """Tell whether two parts can lie on one sheet."""
        key = (min(one, other), max(one, other))
        if key not in self._pairs:
            self._pairs[key] = _side_by_side(self._offer, self._parts[one], self._parts[other])
        return self._pairs[key]


def _side_by_side(offer: SheetOffer, one: TaskPart, other: TaskPart) -> bool:
    return any(
        offer.holds((a[0] + b[0], max(a[1], b[1]))) or offer.holds((max(a[0], b[0]), a[1] + b[1]))
        for a, b in product(one.ways, other.ways)
    )


def _all_weights(task: SheetTask) -> Iterator[_Weights]:
    """Yield the weights that are tried: areas, then the most promising of each kind of sheet."""
    yield _Weights(tuple(part.area for part in task.wanted))
    for offer in _of_their_own(task):
        yield from _promising(task, offer)


def _of_their_own(task: SheetTask) -> Iterable[SheetOffer]:
    """Return one for each size of which there are enough; of very many sizes, those of the best value."""
    parts = task.parts
    enough = [offer for offer in task.offers if offer.copies >= parts]
    own = list({(offer.width, offer.height): offer for offer in enough}.values())
    most = max(1, min(_MOST_KINDS, _MOST_MADE // len(task.wanted)))
    if len(own) > most:
        own.sort(key=rate_among(own))
    return own[:most]


def _promising(task: SheetTask, offer: SheetOffer) -> Iterable[_Weights]:
    """Return the best pairs of a function of width and one of height, by what all parts weigh in sheets."""
    ways = [tuple(filter(offer.holds, part.ways)) for part in task.wanted]
    copies = [part.copies for part in task.wanted]
    # Where a part may lie only one way, or none, the second way is the first again.
    pairs = [(way[0], way[-1]) if way else ((0, 0), (0, 0)) for way in ways]
    across = _tables(offer.width, [(one[0], other[0]) for one, other in pairs])
    down = _tables(offer.height, [(one[1], other[1]) for one, other in pairs])
    tried: dict[tuple[int, ...], tuple[float, int]] = {}
    for (wide, width), (high, height) in product(across, down):
        each = tuple([min(b * d, a * c) for (a, b), (c, d) in zip(wide, high, strict=True)])
        whole = width * height
        tried[each] = (sum(map(mul, each, copies)) / whole, whole)
    best = nlargest(_MOST_TRIED, tried.items(), key=lambda item: item[1][0])
    return [_Weights(each, offer, whole) for each, (_, whole) in best]


type _Table = tuple[tuple[int, int], ...]
"""What one side of each part comes to, as it lies one way and the other."""


def _tables(whole: int, sides: Sequence[tuple[int, int]]) -> list[tuple[_Table, int]]:
    """Functions of a side, each as a table with what a whole side comes to.

    Sides that add up to no more than the whole add up to no more than that by the function either.
    """
    distinct = sorted({side for pair in sides for side in pair})
    steps = {least for side in distinct for least in (side, whole - side) if 0 < 2 * least <= whole}
    found: dict[tuple[Fraction, ...], tuple[_Table, int]] = {}
    for function, most in _functions(whole, _spread(sorted(steps), _MOST_STEPS_OF_A_SIDE)):
        at = {side: function(side) for side in distinct}
        key = tuple(Fraction(value, most) for value in at.values())
        found.setdefault(key, (tuple([(at[a], at[b]) for a, b in sides]), most))
    return list(found.values())


def _spread(values: Sequence[int], most: int) -> Sequence[int]:
    """At most so many of some values, evenly among them."""
    return values[:: -(-len(values) // most)] if values else ()


def _functions(whole: int, steps: Iterable[int]) -> Iterator[tuple[Callable[[int], int], int]]:
    yield (lambda side: side), whole
    for least in steps:
        yield _large_up(whole, least), whole
        yield _steps_of(whole, least), 2 * (whole // least)
    for parts in range(2, 6):
        yield _rounded(whole, parts), whole * parts


def _large_up(whole: int, least: int) -> Callable[[int], int]:
    """Fekete and Schepers' U: sides above whole - least count as the whole, those below least as nothing."""

    def function(side: int) -> int:
        if side > whole - least:
            return whole
        return side if side >= least else 0

    return function


def _steps_of(whole: int, least: int) -> Callable[[int], int]:
    """Carlier, Clautiaux and Moukrim's f2: sides in steps of least, larger ones by what they leave."""

    def function(side: int) -> int:
        if 2 * side > whole:
            return 2 * (whole // least - (whole - side) // least)
        return whole // least if 2 * side == whole else 2 * (side // least)

    return function


def _rounded(whole: int, parts: int) -> Callable[[int], int]:
    """Fekete and Schepers' u(k), times k times the whole: sides down to a (k + 1)th, then up in scale."""

    def function(side: int) -> int:
        count, over = divmod((parts + 1) * side, whole)
        return count * whole if over else side * parts

    return function
