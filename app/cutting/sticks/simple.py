"""The simple plan for sticks: first-fit decreasing, with what is owned first (C1, C3).

Owns the plan that always is there: quick, the same every time, without the solver. It tries each
length on offer and a mixture of them, and frames whole and in single rails; it searches no further.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from app.cutting.first_fit import FirstFit
from app.cutting.plan import Maker, StickPlan
from app.cutting.problem import StickProblem, Together
from app.cutting.sticks.bound import lower_bound
from app.cutting.sticks.model import Bar, Block, Load, Rail, Task, plan_of, task_of, ticks_of
from app.cutting.sticks.together import blocks_of, extra_visits, single_rails

MOST_LENGTHS = 6
"""How many lengths to buy are tried in turn, the best value first. Source: ours."""

MOST_FILLED = 64
"""How many sticks are filled on trial before one is opened, the best value first. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Loads, and the rails for which no stick was left."""

    loads: tuple[Load, ...]
    left: tuple[Rail, ...] = ()


type Merit = tuple[int, Fraction, int, int, int]


def merit(task: Task, packing: Packing) -> Merit:
    """Return what a packing is ranked by, the least first.

    Rails without a stick, cost, sticks that frames are spread over beyond the least, then the
    largest offcut, then the number of sticks.
    """
    loads = packing.loads
    matters = task.asked.together is not Together.NO_MATTER
    visits = extra_visits(task, loads) if matters else 0
    offcut = task.largest_offcut(loads)
    return (len(packing.left), task.cost(loads), visits, -offcut, len(loads))


def simple_stick_plan(asked: StickProblem) -> StickPlan:
    """Return a plan by first-fit decreasing; parts that fit nowhere are in it with the reason.

    Owned sticks are opened first, the shortest that holds the part; then new ones of that length,
    or mixture of lengths, that comes out cheapest. Source: C1, C3; first-fit decreasing is the
    usual rule of the literature (Johnson 1973).
    """
    task = task_of(asked)
    packing = pack_simply(task)
    bound = lower_bound(task, packing.loads)
    return plan_of(task, packing.loads, packing.left, bound, Maker.SIMPLE)


def sticks_hold_all(asked: StickProblem) -> bool:
    """Tell whether a simple plan leaves no part out; no bound is worked out for it."""
    task = task_of(asked)
    return not task.unplaced and not pack_simply(task).left


def settled_stick_plan(asked: StickProblem) -> StickPlan | None:
    """Return the simple plan where no plan ranks before it; None where a search may find one.

    So it is where no stick holds any part, and where one stick holds all while two cost more and no
    other that holds them costs less or leaves more. Source: from the ranking of plans, see `merit`.
    """
    task = task_of(asked)
    if sum(rail.ticks for rail in task.rails) > task.longest:
        return None
    packing = pack_simply(task)
    if task.rails and not _cannot_be_bettered(task, packing):
        return None
    return plan_of(task, packing.loads, packing.left, task.cost(packing.loads), Maker.SIMPLE)


def _cannot_be_bettered(task: Task, packing: Packing) -> bool:
    if packing.left or len(packing.loads) != 1:
        return False
    (load,) = packing.loads
    opened = task.bars[load.bar]
    others = [bar for bar in task.bars if bar.units <= opened.units and bar.ticks >= load.ticks]
    return 2 * min(bar.units for bar in task.bars) > opened.units and all(
        bar.units == opened.units and bar.ticks <= opened.ticks for bar in others
    )


def pack_simply(task: Task) -> Packing:
    """Return the best of the simple packings of a task."""
    return topped_up(task, _pack_simply(task))


def topped_up(task: Task, packing: Packing) -> Packing:
    """Return the packing with every rail that was left over and that some stick still has room for.

    Moving loads to cheaper sticks, or keeping frames whole, may free a stick after a rail found none.
    """
    if not packing.left:
        return packing
    longest_first = sorted(packing.left, key=lambda rail: -rail.ticks)
    rack = _Rack(task, opened=packing.loads)
    return _first_fit(rack, [(rail,) for rail in longest_first], packing.loads)


def _pack_simply(task: Task) -> Packing:
    together = task.asked.together
    if together is Together.ALWAYS:
        return _pack_whole(task)
    single = pack_blocks(task, single_rails(task))
    if together is Together.NO_MATTER or not task.groups:
        return single
    whole = pack_blocks(task, blocks_of(task))
    return min(single, whole, key=lambda packing: merit(task, packing))


def _pack_whole(task: Task) -> Packing:
    """Frames whole; those for which no stick is long enough any more in single rails."""
    broken: frozenset[str] = frozenset()
    while True:
        packing = pack_blocks(task, blocks_of(task, broken))
        more = {rail.group for rail in packing.left if rail.group} - broken
        if not more:
            return packing
        broken |= more


def pack_blocks(task: Task, blocks: Iterable[Block]) -> Packing:
    """Return the best first-fit-decreasing packing of blocks over the lengths to buy."""
    longest_first = sorted(blocks, key=lambda block: -ticks_of(block))
    best_value = _by_value(task.bars)[:MOST_LENGTHS]
    racks = [_Rack(task, first=place) for place in best_value] or [_Rack(task)]
    if len(racks) > 1:
        racks.append(_BestFilled(task, longest_first))
    packings = [_with_cheaper_bars(task, _first_fit(rack, longest_first)) for rack in racks]
    return min(packings, key=lambda p: (len(p.left), task.cost(p.loads), len(p.loads)))


def _with_cheaper_bars(task: Task, packing: Packing) -> Packing:
    return replace(packing, loads=tuple(cheaper_bars(task.bars, packing.loads)))


def _by_value(bars: Sequence[Bar]) -> list[int]:
    """Return the places of the lengths to buy, by what a tick of them costs."""
    finer = (
        2 * max((bar.ticks for bar in bars), default=1).bit_length()
    )  # no two costs fall together
    new = (place for place, bar in enumerate(bars) if not bar.owned)
    return sorted(new, key=lambda place: (bars[place].units << finer) // bars[place].ticks)


class _Rack:
    """The sticks that are left, and which of them is opened for a block.

    Owned ones come first, the shortest that holds it; then, where it holds it, the one `first`; then
    the cheapest, of these the shortest.
    """

    def __init__(
        self, task: Task, *, first: int | None = None, opened: Iterable[Load] = ()
    ) -> None:
        bars = self.bars = task.bars
        self._copies = [bar.copies for bar in bars]
        for load in opened:
            self._copies[load.bar] -= 1
        self._order = sorted(
            range(len(bars)),
            key=lambda place: (
                not bars[place].owned,
                place != first,
                bars[place].units,
                bars[place].ticks,
            ),
        )
        self._turn = {place: turn for turn, place in enumerate(self._order)}
        self._rooms = FirstFit(
            [bars[place].ticks if self._copies[place] > 0 else 0 for place in self._order]
        )

    def choose(self, ticks: int, start: int) -> int | None:
        """Return the place of the bar to open for a block of so many ticks; None where none is left.

        start: which of the blocks, the longest first, it is.
        """
        turn = self._rooms.first(ticks)
        return None if turn is None else self._order[turn]

    def open(self, place: int) -> int:
        """Take one; its ticks."""
        self._copies[place] -= 1
        ticks = self.bars[place].ticks
        if not self._copies[place]:
            self._rooms.put(self._turn[place], 0)
        return ticks


class _BestFilled(_Rack):
    """As the others for what is owned; of what is bought, the stick whose filling costs the least.

    The filling is what a stick would take of the blocks from here on. No filling is more than the
    whole stick, so that of sticks in the order of their value only the first few need to be filled.
    """

    def __init__(self, task: Task, blocks: Sequence[Block]) -> None:
        super().__init__(task)
        self._to_place = [-ticks_of(block) for block in blocks]
        self._new = _by_value(task.bars)

    def choose(self, ticks: int, start: int) -> int | None:
        cheapest = super().choose(ticks, start)
        if cheapest is None or self.bars[cheapest].owned:
            return cheapest
        self._new = [place for place in self._new if self._copies[place]]
        best: tuple[int, int, int] | None = None
        fills = 0
        for place in self._new:
            bar = self.bars[place]
            if bar.ticks < ticks:
                continue
            if best and (fills == MOST_FILLED or bar.units * best[1] > best[0] * bar.ticks):
                break
            filled = _filled(bar.ticks, self._to_place, start)
            fills += 1
            if best is None or (bar.units * best[1], place) < (best[0] * filled, best[2]):
                best = (bar.units, filled, place)
        return best[2] if best else cheapest


def _filled(room: int, to_place: Sequence[int], start: int) -> int:
    """Return what first fit puts on one stick. to_place: ticks below zero, the longest first."""
    left, least, at = room, -to_place[-1], start
    while left >= least:
        at = bisect_left(to_place, -left, at)
        if at == len(to_place):
            break
        left += to_place[at]
        at += 1
    return room - left


def _first_fit(rack: _Rack, blocks: Sequence[Block], opened: Sequence[Load] = ()) -> Packing:
    """First fit, in the order of the blocks given, which is by length, the longest first.

    opened: loads that are there already and may be added to.
    """
    bars = [load.bar for load in opened]
    rails = [list(load.rails) for load in opened]
    free = [rack.bars[load.bar].ticks - load.ticks for load in opened]
    rooms = FirstFit([*free, *[0] * len(blocks)])
    left: list[Rail] = []
    for place, block in enumerate(blocks):
        ticks = ticks_of(block)
        stick = rooms.first(ticks)
        if stick is None:
            bar = rack.choose(ticks, place)
            if bar is None:
                left += block
                continue
            stick = len(bars)
            bars.append(bar)
            rails.append([])
            rooms.put(stick, rack.open(bar))
        rails[stick] += block
        rooms.put(stick, rooms.room(stick) - ticks)
    loads = (Load(bar=bar, rails=tuple(on_it)) for bar, on_it in zip(bars, rails, strict=True))
    return Packing(loads=tuple(loads), left=tuple(left))


def cheaper_bars(bars: Sequence[Bar], loads: Sequence[Load]) -> list[Load]:
    """Return the same loads, each moved to the cheapest and then shortest bar that holds it and is free."""
    copies = [bar.copies for bar in bars]
    for load in loads:
        copies[load.bar] -= 1
    by_cost = sorted(range(len(bars)), key=lambda place: (bars[place].units, bars[place].ticks))
    turn = {place: number for number, place in enumerate(by_cost)}
    rooms = FirstFit([bars[place].ticks if copies[place] > 0 else 0 for place in by_cost])
    moved = []
    for load in loads:
        cheapest = rooms.first(load.ticks)
        if cheapest is not None and bars[by_cost[cheapest]].units < bars[load.bar].units:
            place = by_cost[cheapest]
            copies[place] -= 1
            copies[load.bar] += 1
            for each in (place, load.bar):
                rooms.put(turn[each], bars[each].ticks if copies[each] > 0 else 0)
            load = Load(bar=place, rails=load.rails)  # noqa: PLW2901
        moved.append(load)
    return moved
