"""A question about sticks as planners work on it, and their work as a plan.

Owns the step between exact lengths and whole ticks: bars and rails in, loads out. Every rail counts
with one kerf and so does every bar, which makes the one kerf too many of n rails disappear: rails
fit on a bar where their ticks add up to no more than its own. It plans nothing itself.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from app.cutting.grid import Grid, exact_ticks
from app.cutting.plan import LaidRail, Maker, OpenedStick, StickPlan, StickRest, Unplaced
from app.cutting.problem import StickPart, StickProblem
from app.lengths import ZERO, Length, show

TOO_LONG = "too-long"
OUT_OF_STOCK = "out-of-stock"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """Sticks of one kind. ticks: usable length and one kerf. copies: as many as could be opened.

    units: its cost in whole units, `Task.unit` each.
    """

    stock: str
    ticks: int
    copies: int
    cost: Fraction
    units: int

    @property
    def owned(self) -> bool:
        """Whether opening one costs nothing."""
        return self.cost == 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """One rail, of as many as there are copies. part: its place among the parts asked for.

    ticks: its length and one kerf.
    """

    part: int
    ticks: int
    group: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What lies on one stick. bar: its place among the bars."""

    bar: int
    rails: tuple[Rail, ...]

    @property
    def ticks(self) -> int:
        """The ticks that its rails take."""
        return sum(rail.ticks for rail in self.rails)


type Block = tuple[Rail, ...]
"""Rails that stay on one stick."""


def ticks_of(block: Block) -> int:
    """Return what the rails of a block take."""
    return sum(rail.ticks for rail in block)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A question in ticks. rails: those that some bar holds, longest first; unplaced: the others.

    unit: the greatest one that every cost is a whole number of; 1 where all is free.
    """

    asked: StickProblem
    grid: Grid
    unit: Fraction
    bars: tuple[Bar, ...]
    rails: tuple[Rail, ...]
    unplaced: tuple[Unplaced, ...]

    @property
    def longest(self) -> int:
        """The ticks of the longest bar; 0 where there is none."""
        return max((bar.ticks for bar in self.bars), default=0)

    @property
    def groups(self) -> dict[str, Block]:
        """The rails of each frame or other group that belongs together, by its name, in the order asked for."""
        found: dict[str, list[Rail]] = {}
        for rail in sorted(self.rails, key=lambda rail: rail.part):
            if rail.group:
                found.setdefault(rail.group, []).append(rail)
        return {group: tuple(rails) for group, rails in found.items()}

    def cost(self, loads: Iterable[Load]) -> Fraction:
        """Return what the opened sticks cost."""
        return sum(self.bars[load.bar].units for load in loads) * self.unit

    def largest_offcut(self, loads: Iterable[Load]) -> int:
        """Return the ticks of the largest offcut worth keeping, one kerf included; 0 where there is none."""
        room = max((self.bars[load.bar].ticks - load.ticks for load in loads), default=0)
        return room if self.rest(room) is not None else 0

    def rest(self, room: int) -> int | None:
        """Return the ticks of the offcut that so much room leaves beyond its kerf, if worth keeping."""
        kept = room - self.grid.up(self.asked.kerf)
        return kept if kept > 0 and self.grid.length(kept) >= self.asked.keep else None


def task_of(asked: StickProblem) -> Task:
    """Return a question in ticks; parts that no stick holds are set aside with the reason."""
    grid = exact_ticks(_lengths_of(asked))
    wanted = sum(part.copies for part in asked.parts)
    rooms = [(stick, asked.usable(stick)) for stick in asked.stock]
    usable = [(stick, room) for stick, room in rooms if room > ZERO]
    longest = max((room for _, room in rooms), default=ZERO)
    unit = _unit_of(stick.cost for stick, _ in usable)
    rails = [
        Rail(part=place, ticks=grid.up(part.length + asked.kerf), group=part.group)
        for place, part in enumerate(asked.parts)
        if part.length <= longest
        for _ in range(part.copies)
    ]
    return Task(
        asked=asked,
        grid=grid,
        unit=unit,
        bars=tuple(
            Bar(
                stock=stick.id,
                ticks=grid.down(room + asked.kerf),
                copies=wanted if stick.copies is None else min(stick.copies, wanted),
                cost=stick.cost,
                units=int(stick.cost / unit),
            )
            for stick, room in usable
        ),
        rails=tuple(sorted(rails, key=lambda rail: -rail.ticks)),
        unplaced=tuple(
            _too_long(asked, part, longest) for part in asked.parts if part.length > longest
        ),
    )


def _unit_of(costs: Iterable[Fraction]) -> Fraction:
    real = {cost for cost in costs if cost}
    if not real:
        return Fraction(1)
    return Fraction(gcd(*(c.numerator for c in real)), lcm(*(c.denominator for c in real)))


def plan_of(
    task: Task, loads: Iterable[Load], left: Iterable[Rail], bound: Fraction, maker: Maker
) -> StickPlan:
    """Loads as a plan. left: rails for which no stick was left.

    Sticks that are owned come first, then those of one kind after another, the fullest first. On a
    stick the rails of one frame follow one another, longest first (B6), frames in the order asked
    for; rails of no frame come last.
    """
    missing = Counter(rail.part for rail in left)
    beyond = [_out_of_stock(task.asked.parts[part], missing[part]) for part in sorted(missing)]
    return StickPlan(
        asked=task.asked,
        bins=tuple(_opened(task, sorted(loads, key=lambda load: _turn(task, load)))),
        unplaced=(*task.unplaced, *beyond),
        lower_bound=bound,
        maker=maker,
    )


def _lengths_of(asked: StickProblem) -> Iterator[Length]:
    yield asked.kerf
    yield from (part.length for part in asked.parts)
    yield from (asked.usable(stick) for stick in asked.stock)


def _too_long(asked: StickProblem, part: StickPart, usable: Length) -> Unplaced:
    """usable: of the longest stick; zero or less where trims leave nothing."""
    long = f"{part.id} is {show(part.length, asked.unit, mark=True)} long"
    holds = show(usable, asked.unit, mark=True)
    if not asked.stock:
        reason = f"{long}; there is no stick on offer."
    elif usable <= ZERO:
        reason = f"{long}; no stick leaves anything after its ends are trimmed."
    elif asked.end_trim:
        reason = f"{long}; the longest stick leaves {holds} after its ends are trimmed."
    else:
        reason = f"{long}; the longest stick is {holds}."
    return Unplaced(id=part.id, copies=part.copies, code=TOO_LONG, reason=reason)


def _out_of_stock(part: StickPart, copies: int) -> Unplaced:
    which = part.id if part.copies == 1 else f"{copies} of {part.copies} of {part.id}"
    reason = f"There is no stick left for {which}; what is on offer is used up."
    return Unplaced(id=part.id, copies=copies, code=OUT_OF_STOCK, reason=reason)


def _turn(task: Task, load: Load) -> tuple[bool, int, int, list[int]]:
    bar = task.bars[load.bar]
    room = bar.ticks - load.ticks
    return (not bar.owned, load.bar, room, sorted(rail.part for rail in load.rails))


def _opened(task: Task, loads: Sequence[Load]) -> Iterator[OpenedStick]:
    sticks: Counter[str] = Counter()
    copies: Counter[int] = Counter()
    for load in loads:
        bar = task.bars[load.bar]
        sticks[bar.stock] += 1
        yield OpenedStick(
            stock=bar.stock,
            copy=sticks[bar.stock],
            parts=tuple(_laid(task, load, copies)),
            offcut=_offcut(task, load),
        )


def _laid(task: Task, load: Load, copies: Counter[int]) -> Iterator[LaidRail]:
    first: dict[str, int] = {}
    for rail in load.rails:
        first[rail.group] = min(rail.part, first.get(rail.group, rail.part))
    at = task.asked.end_trim
    for rail in sorted(
        load.rails, key=lambda r: (r.group == "", first[r.group], r.group, -r.ticks, r.part)
    ):
        part = task.asked.parts[rail.part]
        copies[rail.part] += 1
        yield LaidRail(id=part.id, copy=copies[rail.part], at=at, length=part.length)
        at += part.length + task.asked.kerf


def _offcut(task: Task, load: Load) -> StickRest | None:
    kept = task.rest(task.bars[load.bar].ticks - load.ticks)
    if kept is None:
        return None
    asked = task.asked
    taken = sum((asked.parts[r.part].length + asked.kerf for r in load.rails), ZERO)
    return StickRest(at=asked.end_trim + taken, length=task.grid.length(kept))
