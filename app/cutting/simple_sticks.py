"""The simple plan for sticks: first-fit decreasing, with what is owned first (C1, C3).

Owns the plan that always is there: quick, the same every time, without the solver. It tries each
length on offer and a mixture of them, and frames whole and in single rails; it searches no further.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from app.cutting.asked import SticksAsked, Together
from app.cutting.bound_sticks import lower_bound
from app.cutting.plan import Maker, StickPlan
from app.cutting.rails import Bar, Block, Load, Rail, Task, plan_of, task_of, ticks_of
from app.cutting.together import blocks_of, extra_visits, single_rails

MOST_LENGTHS = 6
"""How many lengths to buy are tried in turn, the best value first. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Loads, and the rails for which no stick was left."""

    loads: tuple[Load, ...]
    left: tuple[Rail, ...] = ()


type Merit = tuple[int, Fraction, int, int, int]


def merit(task: Task, packing: Packing) -> Merit:
    """What a packing is ranked by, the least first.

    Rails without a stick, cost, sticks that frames are spread over beyond the least, then the
    largest offcut, then the number of sticks.
    """
    loads = packing.loads
    matters = task.asked.together is not Together.NO_MATTER
    visits = extra_visits(task, loads) if matters else 0
    offcut = task.largest_offcut(loads)
    return (len(packing.left), task.cost(loads), visits, -offcut, len(loads))


def simple_stick_plan(asked: SticksAsked) -> StickPlan:
    """A plan by first-fit decreasing; parts that fit nowhere are in it with the reason.

    Owned sticks are opened first, the shortest that holds the part; then new ones of that length,
    or mixture of lengths, that comes out cheapest. Source: C1, C3; first-fit decreasing is the
    usual rule of the literature (Johnson 1973).
    """
    task = task_of(asked)
    packing = pack_simply(task)
    bound = lower_bound(task, packing.loads)
    return plan_of(task, packing.loads, packing.left, bound, Maker.SIMPLE)


def pack_simply(task: Task) -> Packing:
    """The best of the simple packings of a task."""
    return topped_up(task, _pack_simply(task))


def topped_up(task: Task, packing: Packing) -> Packing:
    """The packing with every rail that was left over and that some stick still has room for.

    Moving loads to cheaper sticks, or keeping frames whole, may free a stick after a rail found none.
    """
    if not packing.left:
        return packing
    opened = [
        _Open(bar=load.bar, room=task.bars[load.bar].ticks - load.ticks, rails=list(load.rails))
        for load in packing.loads
    ]
    used = Counter(each.bar for each in opened)
    copies = [bar.copies - used[place] for place, bar in enumerate(task.bars)]
    left: list[Rail] = []
    for rail in sorted(packing.left, key=lambda rail: -rail.ticks):
        stick = next((each for each in opened if each.room >= rail.ticks), None)
        if stick is None:
            bar = _next_bar(task.bars, copies, _cheapest, [rail.ticks])
            if bar is None:
                left.append(rail)
                continue
            copies[bar] -= 1
            stick = _Open(bar=bar, room=task.bars[bar].ticks)
            opened.append(stick)
        stick.add((rail,), rail.ticks)
    return Packing(loads=_loads(opened), left=tuple(left))


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
    """The best first-fit-decreasing packing of blocks over the lengths to buy."""
    longest_first = sorted(blocks, key=lambda block: -ticks_of(block))
    choices: list[_Choice] = [_only(bar) for bar in _best_value(task.bars)] or [_cheapest]
    if len(choices) > 1:
        choices.append(_best_filled)
    packings = [_first_fit(task.bars, longest_first, choice) for choice in choices]
    return min(packings, key=lambda p: (len(p.left), task.cost(p.loads), len(p.loads)))


def _best_value(bars: Sequence[Bar]) -> list[Bar]:
    new = sorted((bar for bar in bars if not bar.owned), key=lambda bar: bar.cost / bar.ticks)
    return new[:MOST_LENGTHS]


@dataclass(slots=True, kw_only=True)
class _Open:
    bar: int
    room: int
    rails: list[Rail] = field(default_factory=list)

    def add(self, block: Block, ticks: int) -> None:
        self.rails += block
        self.room -= ticks


def _loads(opened: Iterable[_Open]) -> tuple[Load, ...]:
    return tuple(Load(bar=each.bar, rails=tuple(each.rails)) for each in opened)


type _Choice = Callable[[Sequence[tuple[int, Bar]], Sequence[int]], int]
"""Which of the bars that hold the next block to open, given the ticks of all still to place."""


def _cheapest(bars: Sequence[tuple[int, Bar]], to_place: Sequence[int]) -> int:
    return min(bars, key=lambda each: (each[1].cost, each[1].ticks))[0]


def _only(wanted: Bar) -> _Choice:
    def choose(bars: Sequence[tuple[int, Bar]], to_place: Sequence[int]) -> int:
        place = next((place for place, bar in bars if bar is wanted), None)
        return _cheapest(bars, to_place) if place is None else place

    return choose


def _best_filled(bars: Sequence[tuple[int, Bar]], to_place: Sequence[int]) -> int:
    return min(bars, key=lambda each: each[1].cost / _filled(each[1].ticks, to_place))[0]


def _filled(room: int, to_place: Sequence[int]) -> int:
    left = room
    least = to_place[-1]
    for ticks in to_place:
        if ticks <= left:
            left -= ticks
            if left < least:
                break
    return room - left


def _first_fit(bars: Sequence[Bar], blocks: Sequence[Block], choose: _Choice) -> Packing:
    """First fit, in the order of the blocks given, which is by length, the longest first."""
    lengths = [ticks_of(block) for block in blocks]
    copies = [bar.copies for bar in bars]
    opened: list[_Open] = []
    left: list[Rail] = []
    start, last = 0, 0
    for place, (block, ticks) in enumerate(zip(blocks, lengths, strict=True)):
        # Sticks with no room for a block have none for the next of the same length.
        start = start if ticks == last else 0
        last = ticks
        while start < len(opened) and opened[start].room < ticks:
            start += 1
        if start == len(opened):
            bar = _next_bar(bars, copies, choose, lengths[place:])
            if bar is None:
                left += block
                continue
            copies[bar] -= 1
            opened.append(_Open(bar=bar, room=bars[bar].ticks))
        opened[start].add(block, ticks)
    return Packing(loads=tuple(cheaper_bars(bars, _loads(opened))), left=tuple(left))


def _next_bar(
    bars: Sequence[Bar], copies: Sequence[int], choose: _Choice, to_place: Sequence[int]
) -> int | None:
    fit = [
        (place, bar) for place, bar in enumerate(bars) if copies[place] and bar.ticks >= to_place[0]
    ]
    owned = [(bar.ticks, place) for place, bar in fit if bar.owned]
    if owned:
        return min(owned)[1]
    return choose(fit, to_place) if fit else None


def cheaper_bars(bars: Sequence[Bar], loads: Sequence[Load]) -> list[Load]:
    """The same loads, each moved to the cheapest and then shortest bar that holds it and is free."""
    copies = [bar.copies for bar in bars]
    for load in loads:
        copies[load.bar] -= 1
    by_cost = sorted(range(len(bars)), key=lambda place: (bars[place].cost, bars[place].ticks))
    moved = []
    for load in loads:
        ticks, cost = load.ticks, bars[load.bar].cost
        for place in by_cost:
            if bars[place].cost >= cost:
                break
            if copies[place] and bars[place].ticks >= ticks:
                copies[place] -= 1
                copies[load.bar] += 1
                load = Load(bar=place, rails=load.rails)  # noqa: PLW2901
                break
        moved.append(load)
    return moved
