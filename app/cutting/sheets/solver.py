"""Sheets planned by the solver library: the one module that knows its ways for rectangles.

Takes a task in small ticks and gives a draft, or None where the library is absent, raises, is late or
finds nothing. Nothing it says is believed: only the places of parts are read, from the leaves of its
tree of cuts, and the cuts are found anew from them. Owns also the costs it is given: those of the
question, with so little added for owned sheets that no order of purchase costs can change.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from math import gcd, lcm
from typing import Any

from app.cutting.plan import Way
from app.cutting.sheets.cut_tree import PlacedPart, Slab, block_of
from app.cutting.sheets.drafts import Draft, DraftSheet
from app.cutting.sheets.task import SheetTask

MOST_TICKS = 1_000_000
"""The longest side given to the solver; it multiplies sides and adds areas in 64 bits."""

OWNED_SHARE = Fraction(1, 10)
"""What an owned sheet is worth against a new one, by area, so that spare ones stay whole. Source: ours."""


class Aim(Enum):
    """What a run looks for.

    CHEAPEST: all parts for the least cost. IN_ORDER: all parts on the first of the sheets, one kind after
    another. LARGEST_REST: the same, with one large rest on the last sheet. MOST: as many parts as
    there is room for. FULLEST: those that fill the sheets the most.
    """

    CHEAPEST = auto()
    IN_ORDER = auto()
    LARGEST_REST = auto()
    MOST = auto()
    FULLEST = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRun:
    """One run of the solver. task: in small ticks; its offers in the order in which they are opened.

    choices: how many it keeps open at a time; few find something sooner, many find more.
    """

    task: SheetTask
    aim: Aim
    stages: int
    seconds: float
    choices: int = 16


type SolveSheets = Callable[[SheetRun], Draft | None]
"""Gives a draft in the ticks of the run, or None."""


def draft_from(solve: SolveSheets | None, run: SheetRun) -> Draft | None:
    """Return a draft of a solver, the library where none is given; None where it is absent or raises."""
    try:
        return (solve or with_library)(run)
    except Exception:  # whatever a foreign library raises, our own plan serves
        return None


def with_library(run: SheetRun) -> Draft | None:
    """Ask the library. None where it finds nothing. Raises: whatever it raises, or ImportError."""
    from packingsolver import (  # type: ignore[import-untyped]  # noqa: PLC0415 - may be absent
        rectangleguillotine as library,
    )

    solution = _solution(library, run)
    return tuple(_sheets(solution, run)) if solution.feasible() else None


def _solution(library: Any, run: SheetRun) -> Any:
    builder = library.InstanceBuilder()
    builder.set_objective(_objective(library, run.aim))
    builder.set_number_of_stages(run.stages)
    builder.set_cut_type(library.CutType.NonExact)
    builder.set_first_stage_orientation(library.CutOrientation.Any)
    for offer, cost in zip(run.task.offers, solver_costs(run.task), strict=True):
        builder.add_bin_type(offer.width, offer.height, cost=float(cost), copies=offer.copies)
    whole = sum(each.area * each.copies for each in run.task.wanted) + 1
    for wanted in run.task.wanted:
        few = {"profit": 1.0 + wanted.area / whole} if run.aim is Aim.MOST else {}
        builder.add_item_type(
            wanted.width, wanted.height, copies=wanted.copies, oriented=not wanted.turn, **few
        )
    parameters = library.OptimizeParameters()
    parameters.time_limit = run.seconds
    parameters.verbosity_level = 0
    parameters.sequential_value_correction_subproblem_tree_search_queue_size = run.choices
    parameters.column_generation_subproblem_tree_search_queue_size = run.choices
    return library.optimize(builder.build(), parameters).solution


def _objective(library: Any, aim: Aim) -> Any:
    objectives = library.Objective
    return {
        Aim.CHEAPEST: objectives.VariableSizedBinPacking,
        Aim.IN_ORDER: objectives.BinPacking,
        Aim.LARGEST_REST: objectives.BinPackingWithLeftovers,
        Aim.MOST: objectives.Knapsack,
        Aim.FULLEST: objectives.Knapsack,
    }[aim]


def _sheets(solution: Any, run: SheetRun) -> Iterable[DraftSheet]:
    for position in range(solution.number_of_different_bins()):
        opened = solution.bin(position)
        placed = [_placed(node, run.task) for node in opened.nodes if _is_part(node)]
        if placed:
            offer = run.task.offers[opened.bin_type_id]
            sheet = DraftSheet(offer=offer, block=_block(placed, run.stages))
            yield from (sheet,) * opened.copies


def _is_part(node: Any) -> bool:
    """The root of a tree reads item 0 as well, so only a leaf is a part."""
    return not node.children and node.f >= 0 and node.item_type_id >= 0


def _placed(node: Any, task: SheetTask) -> PlacedPart:
    wanted = task.wanted[node.item_type_id]
    width, height = node.r - node.l, node.t - node.b
    if (width, height) not in wanted.ways:
        raise ValueError("the solver placed a part of another size")
    return PlacedPart(
        part=wanted.index,
        turned=(width, height) != (wanted.width, wanted.height),
        x=node.l,
        y=node.b,
        width=width,
        height=height,
    )


def _block(placed: Sequence[PlacedPart], stages: int) -> Slab:
    blocks = [block for way in Way if (block := block_of(placed, way))]
    within = [block for block in blocks if block.depth <= stages]
    if not within:
        raise ValueError("the solver's places take more stages than it was given")
    return min(within, key=lambda block: block.depth)


def solver_costs(task: SheetTask) -> tuple[Fraction, ...]:
    """Return the cost of each offer as the solver is told it, above zero; the smallest step of costs is 1.

    Sheets that cost nothing get a tenth of their area's worth, or less where all of them together
    would come to half a step: any two plans keep the order of their purchase costs.
    """
    step = _step([offer.cost for offer in task.offers])
    free = [offer for offer in task.offers if not offer.cost]
    worth = max((offer.area / offer.cost for offer in task.offers if offer.cost), default=None)
    together = sum(offer.area * offer.copies for offer in free)
    per_area = Fraction(0)
    if free:
        per_area = Fraction(1, 2 * together)
        if worth:
            per_area = min(per_area, OWNED_SHARE / worth / step)
    return tuple(offer.cost / step or offer.area * per_area for offer in task.offers)


def _step(costs: Iterable[Fraction]) -> Fraction:
    """Return the greatest common divisor of all costs above zero; 1 where there are none."""
    real = [cost for cost in costs if cost]
    if not real:
        return Fraction(1)
    return Fraction(
        gcd(*(cost.numerator for cost in real)), lcm(*(cost.denominator for cost in real))
    )
