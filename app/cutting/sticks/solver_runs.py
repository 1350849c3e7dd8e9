"""A task for sticks put to the solver, whole or in part, within one allowance of seconds.

Owns what bars cost in the solver's whole units, so that the order of real costs is never changed,
and what becomes of the rails when stock runs out. It chooses nothing between packings.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.cutting.grid import small_ticks
from app.cutting.sticks.model import Block, Load, Rail, Task, ticks_of
from app.cutting.sticks.simple import Packing, cheaper_bars
from app.cutting.sticks.solver import (
    LARGEST_PRICE,
    LONGEST,
    Filled,
    Solve,
    SolverAnswer,
    SolverBar,
    SolverQuestion,
    ask,
)

OWNED_STEPS = 100
"""In how many steps owned sticks are dearer the longer they are. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """What bars cost the solver. owned: what all that is owned costs, always less than one unit.

    exact: whether real costs are kept to the last digit, which a bound needs.
    """

    of_bars: tuple[int, ...]
    unit: int
    owned: int
    exact: bool


def prices_of(task: Task) -> Prices:
    """Prices above zero: a new stick by its cost, an owned one by its length and next to nothing.

    So the least price has the least cost, and of those the one that takes least from the rack.
    """
    costs = [bar.units for bar in task.bars]
    longest = task.longest
    steps = [_step(bar.ticks, longest) if bar.owned else 0 for bar in task.bars]
    owned = sum(step * bar.copies for step, bar in zip(steps, task.bars, strict=True))
    whole = (owned + 1) * (max(costs, default=0) * len(task.rails) + 1)
    if whole <= LARGEST_PRICE:
        prices = [cost * (owned + 1) + step for cost, step in zip(costs, steps, strict=True)]
        return Prices(of_bars=tuple(prices), unit=owned + 1, owned=owned, exact=True)
    scale = Fraction(LARGEST_PRICE, 2 * len(task.rails) * (max(costs) + 1))
    prices = [max(1, int(cost * scale)) for cost in costs]
    return Prices(of_bars=tuple(prices), unit=1, owned=0, exact=False)


def _step(ticks: int, longest: int) -> int:
    return max(1, ticks * OWNED_STEPS // longest)


class Solving:
    """The solver at work on one task.

    seconds: all that it may take from here on. short: whether stock may run out.
    """

    def __init__(self, task: Task, seconds: int, solve: Solve | None, *, short: bool) -> None:
        self._task = task
        self._solve = solve
        self._short = short
        self._prices = prices_of(task)
        self.seconds = Fraction(seconds)
        self._grid = small_ticks(
            [task.grid.length(ticks) for ticks in (task.longest, *_distinct(task))], LONGEST
        )

    def pack(
        self, blocks: Sequence[Block], share: Fraction, *, fixed: Sequence[Load] = ()
    ) -> tuple[Packing, Fraction] | None:
        """Return a packing of blocks beside loads that stay, and a bound on the cost of the blocks' sticks.

        share: of the seconds that are left. None: the solver has no answer.
        """
        copies = [bar.copies for bar in self._task.bars]
        for load in fixed:
            copies[load.bar] -= 1
        bars = [place for place, count in enumerate(copies) if count > 0]
        question = SolverQuestion(
            bars=(*(self._bar(place, copies[place]) for place in bars), *self._no_stick(blocks)),
            lengths=tuple(self._up(ticks_of(block)) for block in blocks),
        )
        answer = ask(question, self.seconds * share, self._solve)
        if answer is None:
            return None
        self.seconds = max(Fraction(0), self.seconds - answer.seconds)
        packing = self._packing(blocks, answer, bars, fixed)
        return packing, self._bound(answer)

    def _bar(self, place: int, copies: int) -> SolverBar:
        bar = self._task.bars[place]
        ticks = self._grid.down(self._task.grid.length(bar.ticks))
        return SolverBar(ticks=ticks, price=self._prices.of_bars[place], copies=copies)

    def _no_stick(self, blocks: Sequence[Block]) -> tuple[SolverBar, ...]:
        """Return what holds the blocks that no stick is left for, so dear that it is the last resort."""
        if not self._short:
            return ()
        price = max(self._prices.of_bars) * (len(self._task.rails) + 1)
        return (SolverBar(ticks=self._up(self._task.longest), price=price, copies=len(blocks)),)

    def _up(self, ticks: int) -> int:
        return self._grid.up(self._task.grid.length(ticks))

    def _bound(self, answer: SolverAnswer) -> Fraction:
        prices = self._prices
        if self._short or not prices.exact:
            return Fraction(0)
        whole = -((prices.owned - answer.bound) // prices.unit)
        return max(0, whole) * self._task.unit

    def _packing(
        self,
        blocks: Sequence[Block],
        answer: SolverAnswer,
        bars: Sequence[int],
        fixed: Sequence[Load],
    ) -> Packing:
        pool: dict[int, list[Block]] = {}
        for block in reversed(blocks):
            pool.setdefault(self._up(ticks_of(block)), []).append(block)
        loads, left = list(fixed), list[Rail]()
        for filled in answer.filled:
            rails = _taken(pool, filled)
            if filled.bar < len(bars):
                loads.append(Load(bar=bars[filled.bar], rails=rails))
            else:
                left += rails
        loads = cheaper_bars(self._task.bars, loads)
        return Packing(loads=tuple(loads), left=tuple(left))


def _distinct(task: Task) -> set[int]:
    return {rail.ticks for rail in task.rails} | {bar.ticks for bar in task.bars}


def _taken(pool: dict[int, list[Block]], filled: Filled) -> tuple[Rail, ...]:
    return tuple(rail for ticks in filled.lengths for rail in pool[ticks].pop())
