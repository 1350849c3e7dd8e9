"""The pages of a cutting plan that is not kept yet: how far the making of it is, and what was found."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.cutting import Plan
from app.documents.cutting_plan.equal_bins import EqualBins, equal_bins
from app.documents.cutting_plan.summary import PlanTotals
from app.documents.cutting_plan.work import section_work
from app.documents.kit.printing import Figures
from app.orders import Shop
from app.services.cutting_runs import RunState
from app.services.plan_drafts import Draft
from app.stock.planning.plans import section_of
from app.stock.planning.problems import PlanningProblem
from app.web.stock.parts import StockPage


@dataclass(frozen=True, slots=True, kw_only=True)
class MakingPage(StockPage):
    """The page while a plan is being made, or where none came of it.

    now: the material in work. watching: whether the page is to look again. sentence: what happened,
    where the making ended without a plan.
    """

    title: str = "Planning"
    part: str = "Plans"
    id: str
    done: int
    of: int
    now: str
    watching: bool
    sentence: str


SENTENCES = {
    RunState.RUNNING: "",
    RunState.DONE: "",
    RunState.STOPPED: "Planning was stopped; nothing was stored.",
    RunState.FAILED: "Something went wrong in the app itself while planning; what it was is in its log. "
    "Nothing was stored.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnplacedRow:
    """A part that found no place in a stick or sheet, and why."""

    part: str
    piece: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPlan:
    """The plan found for one material.

    take: what is opened, "Offcut K-2026-0004 at Shelf 3", with how many of it. alike: its sticks
    and sheets with their drawings, those that are cut alike together.
    """

    code: str
    name: str
    summary: PlanTotals
    take: tuple[tuple[str, int], ...]
    unplaced: tuple[UnplacedRow, ...]
    alike: tuple[EqualBins, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPage(StockPage):
    """What was found and is not kept yet.

    cuttable: whether there is anything to keep.
    """

    title: str = "A plan was found"
    part: str = "Plans"
    wide: bool = True
    id: str
    found: tuple[FoundPlan, ...]
    cuttable: bool
    planned: int
    to_buy: int


def found_plans(draft: Draft, shop: Shop) -> tuple[FoundPlan, ...]:
    """Return the plan of each material of a finished draft."""
    pairs = zip(draft.problems, draft.plans, strict=True)
    return tuple(
        _found(problem, plan, number, Figures(steps=shop.steps))
        for number, (problem, plan) in enumerate(pairs, start=1)
    )


def _found(problem: PlanningProblem, plan: Plan, number: int, figures: Figures) -> FoundPlan:
    rack = {each.kept.id: each.kept for each in problem.rack}
    work = section_work(section_of(problem, plan), number, rack, figures)
    take: dict[str, int] = {}
    for opened in work.bins:
        words = opened.take if opened.source is not None else f"New, to buy: {opened.measure}"
        take[words] = take.get(words, 0) + 1
    return FoundPlan(
        code=problem.material.code,
        name=problem.material.name,
        summary=work.summary,
        take=tuple(take.items()),
        unplaced=tuple(_unplaced(problem, plan)),
        alike=equal_bins(work.bins),
    )


def _unplaced(problem: PlanningProblem, plan: Plan) -> Iterator[UnplacedRow]:
    for each in plan.unplaced:
        part = problem.parts[each.id]
        yield UnplacedRow(part=part.words, piece=part.piece.name, reason=each.reason)
