"""What no plan for some rails can cost less than (C6).

Owns the proof side of a stick plan: it knows no solver and makes no plan. A weighing gives every
rail a weight and every bar the most weight that rails on it can have together; sticks must then be
opened until their weights hold that of all rails, and the cheapest such opening is a bound,
whichever the weighing. All numbers are whole.

Source: the weighings are dual feasible functions of the literature: the continuous bound; those of
Martello and Toth, "Lower bounds and reduction procedures for the bin packing problem" (1990), whose
best is their L2; of Fekete and Schepers, "New classes of fast lower bounds for bin packing
problems" (2001); and plain rounding down, as in Lueker (1983).
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from app.cutting.problem import Together
from app.cutting.sticks.model import Load, Task, ticks_of
from app.cutting.sticks.together import blocks_of

MOST_PARTING = 12
"""Up to how many equal pieces a bar is parted in by a weighing. Source: ours."""

MOST_SMALL = 16
"""From how many lengths on rails are left out as small. Source: ours."""

MOST_OPENINGS = 4000
"""How many openings of new sticks are looked at for one weighing. Source: ours."""

MOST_WEIGHED = 200_000
"""How many lengths of rails and bars are weighed in all; some 50 of each kind come to no more than
that with every weighing there is. Source: ours."""

type Weighing = Callable[[int], int]


@dataclass(frozen=True, slots=True, kw_only=True)
class StickOffer:
    """Sticks of one kind: the most weight that rails on one can have, its cost in whole units."""

    weight: int
    cost: int
    copies: int


def lower_bound(task: Task, loads: Iterable[Load]) -> Fraction:
    """Return what the rails in a packing cost at least, in the unit of the costs.

    loads: any packing of them, which is the most the bound can be. Where frames must be together
    their blocks count as one rail, as they do in every plan that may be made.
    """
    loads = tuple(loads)
    most = int(task.cost(loads) / task.unit)
    bars = [(bar.ticks, bar.units, bar.copies) for bar in task.bars]
    return least_cost(_lengths(task, loads), bars, most) * task.unit


def _lengths(task: Task, loads: Sequence[Load]) -> Mapping[int, int]:
    """Tell how many rails of each length are to be cut, blocks that cannot be parted as one."""
    placed = [rail for load in loads for rail in load.rails]
    if task.asked.together is not Together.ALWAYS or len(placed) < len(task.rails):
        return Counter(rail.ticks for rail in placed)
    return Counter(ticks_of(block) for block in blocks_of(task, _maybe_apart(task)))


def _maybe_apart(task: Task) -> set[str]:
    """Frames that a plan may have to part: those that fit no stick of which there are enough."""
    enough = [bar.ticks for bar in task.bars if bar.copies >= len(task.rails)]
    room = max(enough, default=0)
    return {group for group, rails in task.groups.items() if ticks_of(rails) > room}


def least_cost(lengths: Mapping[int, int], bars: Sequence[tuple[int, int, int]], most: int) -> int:
    """Return the best bound on the cost of rails, in whole units.

    lengths: how many rails there are of each number of ticks. bars: ticks, cost and copies of each
    kind. most: the cost of a known packing, which is returned where nothing below it is possible.
    """
    best = 0
    offered = _undominated(bars, sum(lengths.values()))
    tried = max(1, MOST_WEIGHED // (len(lengths) + len(offered) + 1))
    every = weighings(lengths, [ticks for ticks, _, _ in bars])
    for weigh, weigh_bar in islice(every, tried):
        if best >= most:
            break
        need = sum(weigh(ticks) * count for ticks, count in lengths.items())
        offers = [
            StickOffer(weight=weigh_bar(ticks), cost=cost, copies=copies)
            for ticks, cost, copies in offered
        ]
        best = max(best, cheapest_opening(need, offers, most))
    return best


def _undominated(
    bars: Iterable[tuple[int, int, int]], enough: int
) -> Sequence[tuple[int, int, int]]:
    """Return the bars without those in whose place one that is no shorter and no dearer can be opened.

    enough: so many of a kind are there for any plan. Every plan has another one of no more cost that
    does without the bars left out, and a longer bar never weighs less than a shorter one.
    """
    kept = []
    cheapest: int | None = None
    for ticks, cost, copies in sorted(bars, key=lambda bar: (-bar[0], bar[1], -bar[2])):
        if cheapest is None or cost < cheapest:
            kept.append((ticks, cost, copies))
            cheapest = cost if copies >= enough else cheapest
    return kept


def weighings(lengths: Iterable[int], bars: Sequence[int]) -> Iterator[tuple[Weighing, Weighing]]:
    """Weighings of rails, each with that of bars that goes with it.

    Each is sound: rails that fit on a bar never weigh more than it does. Rounding down is
    superadditive, f(x) + f(y) <= f(x + y), so it may follow any other.
    """
    longest = max(bars, default=0)
    least = min(lengths, default=0)
    if not longest or not least:
        return
    pieces = range(2, min(MOST_PARTING, longest // least + 1) + 1)
    small = sorted({0, *(ticks for ticks in lengths if ticks * 2 <= longest)})
    for first, first_bar in _without_small(_spread(small, MOST_SMALL), longest):
        yield first, first_bar
        for second in _roundings(sorted(set(bars), reverse=True)[:3], pieces):
            yield _after(first, second), _after(first_bar, second)


def _spread(values: Sequence[int], most: int) -> Iterator[int]:
    step = -(-len(values) // most)
    return islice(values, 0, None, step)


def _without_small(bounds: Iterable[int], longest: int) -> Iterator[tuple[Weighing, Weighing]]:
    """Rails below a bound weigh nothing; those beside which only such ones fit weigh the whole bar.

    A bar that holds one of the latter holds nothing else that weighs anything; others weigh their
    ticks.
    """
    for bound in bounds:

        def rail(ticks: int, bound: int = bound) -> int:
            if ticks > longest - bound:
                return longest
            return ticks if ticks >= bound else 0

        def bar(ticks: int, bound: int = bound) -> int:
            return longest if ticks > longest - bound else ticks

        yield rail, bar


def _roundings(bars: Sequence[int], pieces: Iterable[int]) -> Iterator[Weighing]:
    longest = bars[0]
    for count in pieces:
        for bar in bars:
            yield lambda x, bar=bar, count=count: x * count // (bar + 1)  # type: ignore[misc]

        def parted(x: int, count: int = count) -> int:
            # Fekete and Schepers with k = count - 1, times k: whole pieces of a bar keep their
            # share, all else is rounded down to k-ths.
            pieces, rest = divmod(x * count, longest)
            return pieces * longest if rest else x * (count - 1)

        yield parted


def _after(first: Weighing, second: Weighing) -> Weighing:
    return lambda ticks: second(first(ticks))


def cheapest_opening(need: int, offers: Sequence[StickOffer], most: int) -> int:
    """Return the least cost of sticks whose weights come to the need, or `most` where that is less.

    Free sticks are all opened. Where there are too many openings to look at, the cost at the best
    rate of cost to weight, rounded up to a whole unit, which is never more.
    """
    need -= sum(offer.weight * offer.copies for offer in offers if not offer.cost)
    bought = [offer for offer in offers if offer.cost and offer.weight]
    finer = 2 * max((offer.weight for offer in bought), default=1).bit_length()
    bought.sort(
        key=lambda offer: (offer.cost << finer) // offer.weight
    )  # no two rates fall together
    return _Openings(tuple(bought), most).least(need)


class _Openings:
    """Depth first over how many of each kind are opened, the best value first."""

    def __init__(self, offers: Sequence[StickOffer], most: int) -> None:
        self._offers = offers
        self._best = most
        self._looks = MOST_OPENINGS

    def least(self, need: int) -> int:
        floor = min(self._best, self._at_least(0, need, 0))
        if floor < self._best:
            self._open(0, need, 0, floor)
        return self._best if self._looks > 0 else floor

    def _at_least(self, kind: int, need: int, spent: int) -> int:
        if need <= 0:
            return spent
        if kind == len(self._offers):
            return self._best
        offer = self._offers[kind]
        return spent - (-need * offer.cost // offer.weight)

    def _open(self, kind: int, need: int, spent: int, floor: int) -> None:
        self._looks -= 1
        if self._looks <= 0 or self._best <= floor:
            return
        if self._at_least(kind, need, spent) >= self._best:
            return
        if need <= 0:
            self._best = spent
            return
        offer = self._offers[kind]
        for count in range(min(offer.copies, -(-need // offer.weight)), -1, -1):
            self._open(kind + 1, need - count * offer.weight, spent + count * offer.cost, floor)
