"""The plan for sticks: the simple plan, the solver's, and frames brought together; the best of them.

Owns the order in which a plan is sought and what is best (C1, C3, C6). Where the solver is absent,
late or wrong, the simple plan with its frames brought together stands.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from app.cutting.plan import Maker, StickPlan
from app.cutting.problem import StickProblem, Together
from app.cutting.sticks.bound import lower_bound
from app.cutting.sticks.local_search import regrouped
from app.cutting.sticks.model import Block, Load, Task, plan_of, task_of
from app.cutting.sticks.simple import Merit, Packing, cheaper_bars, merit, pack_simply, topped_up
from app.cutting.sticks.solver import Solve
from app.cutting.sticks.solver_runs import Solving
from app.cutting.sticks.together import blocks_of, least_visits, single_rails

FIRST_LOOK = Fraction(1, 8)
"""The share of the seconds after which an answer that meets our bound is taken. Source: ours."""

LONG_LOOK = Fraction(1, 2)
"""The share of what is left for an answer that does not yet. Source: ours."""

FOR_WHOLE = Fraction(1, 8)
"""The same for each try with some frames whole. Source: ours."""

SUMS_A_SECOND = 1_600_000
"""How much the search for frames together looks at for each second asked for, which then takes it
about half that second on a machine of the day. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    packing: Packing
    maker: Maker


def plan_sticks(asked: StickProblem, seconds: int, *, solve: Solve | None = None) -> StickPlan:
    """Return the best plan found for sticks within so many seconds of the solver.

    Best is, in this order: no part without a stick, least cost, frames on the fewest sticks (unless
    that does not matter), the largest single offcut worth keeping, the fewest sticks. Never worse
    than the simple plan. Frames together never cost a stick unless they must be together. The
    plan's bound is the greater of our own and the solver's, which comes from its column generation
    and is taken only with a whole answer that it packed itself.

    solve: asked in place of the library. Source: C1, C3, C6.
    """
    task = task_of(asked)
    simple = pack_simply(task)
    bound = lower_bound(task, simple.loads)
    solving = Solving(task, seconds, solve, short=bool(simple.left))
    packings, solver_bound = _solved(task, simple, bound, solving)
    found = [_Found(packing=simple, maker=Maker.SIMPLE)]
    found += [_Found(packing=packing, maker=Maker.SOLVER) for packing in packings]
    best = _best(task, found, seconds * SUMS_A_SECOND)
    loads = best.packing.loads
    # Another packing may place other parts, and the bound is for those that are placed.
    bound = lower_bound(task, loads)
    if not best.packing.left:
        bound = max(bound, min(solver_bound, task.cost(loads)))
    return plan_of(task, loads, best.packing.left, bound, best.maker)


def _solved(
    task: Task, simple: Packing, bound: Fraction, solving: Solving
) -> tuple[list[Packing], Fraction]:
    """Return what the solver packed, and its bound; nothing where the simple packing cannot be bettered."""
    blocks = _blocks(task, simple)
    first = solving.pack(blocks, FIRST_LOOK)
    if first is None:
        return [], Fraction(0)
    packing, solver_bound = first
    if task.cost(packing.loads) > max(bound, solver_bound) or packing.left:
        second = solving.pack(blocks, LONG_LOOK)
        if second is not None:
            packing = min(packing, second[0], key=lambda p: merit(task, p))
            solver_bound = max(solver_bound, second[1])
    return [packing, *_with_whole_frames(task, packing, solving)], solver_bound


def _blocks(task: Task, simple: Packing) -> tuple[Block, ...]:
    """Return what the solver packs: single rails, or frames whole but for those that stock has no room for."""
    if task.asked.together is not Together.ALWAYS:
        return single_rails(task)
    return blocks_of(task, _apart(task, simple))


def _apart(task: Task, packing: Packing) -> set[str]:
    least = least_visits(task)
    visits = _visits(packing.loads)
    lost = {rail.group for rail in packing.left}
    return {group for group in least if group in lost or visits[group] > least[group]}


def _visits(loads: Iterable[Load]) -> dict[str, int]:
    visits: dict[str, int] = {}
    for load in loads:
        for group in {rail.group for rail in load.rails}:
            visits[group] = visits.get(group, 0) + 1
    return visits


def _with_whole_frames(task: Task, packing: Packing, solving: Solving) -> Iterator[Packing]:
    """Yield a packing of the same cost with as many sticks of whole frames as that cost allows.

    Frames are packed whole first; of those sticks the fullest stay and the rails of the others are
    packed singly, which shows by halving how many can stay.
    """
    if task.asked.together is not Together.PREFERRED or not task.groups or packing.left:
        return
    whole = solving.pack(blocks_of(task), FOR_WHOLE)
    if whole is None:
        return
    cost = task.cost(packing.loads)
    sticks = sorted(whole[0].loads, key=lambda load: task.bars[load.bar].ticks - load.ticks)
    stay, too_many = 0, len(sticks) + 1
    while too_many - stay > 1:
        tried = (stay + too_many) // 2
        rails = [(rail,) for load in sticks[tried:] for rail in load.rails]
        kept = sticks[:tried]
        mixed = solving.pack(rails, FOR_WHOLE, fixed=kept) if rails else (whole[0], Fraction(0))
        if mixed is not None and task.cost(mixed[0].loads) <= cost:
            stay = tried
            yield mixed[0]
        else:
            too_many = tried


def _best(task: Task, found: Sequence[_Found], sums: int) -> _Found:
    """Return the best packing once rails are moved between its sticks; the simple one where no worse."""

    def rank(each: _Found) -> Merit:
        return merit(task, each.packing)

    first, *others = sorted(found, key=rank)
    moved = [_moved(task, first, sums * 3 // 4)]
    close = [each for each in others if rank(each)[:2] == rank(first)[:2]]
    moved += [_moved(task, each, sums // 4) for each in close[:1]]
    full = [replace(each, packing=topped_up(task, each.packing)) for each in found]
    return min([*full, *moved], key=rank)


def _moved(task: Task, found: _Found, sums: int) -> _Found:
    loads = regrouped(task, found.packing.loads, sums)
    packing = Packing(loads=tuple(cheaper_bars(task.bars, loads)), left=found.packing.left)
    return _Found(packing=topped_up(task, packing), maker=found.maker)
