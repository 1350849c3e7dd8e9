"""The pages of a cutting plan that is not kept yet: how far the making of it is, and what was found."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from app.cutting import Plan
from app.documents.cutting_plan.equal_bins import EqualBins, equal_bins
from app.documents.cutting_plan.sections import sections_of
from app.documents.cutting_plan.stations import StationWork, by_station
from app.documents.cutting_plan.totals import WholePlan, totals_of
from app.documents.cutting_plan.work import BinWork, SectionWork
from app.documents.kit.printing import Figures
from app.errors import Fault
from app.orders import Shop
from app.services.plan_drafts import Draft
from app.services.run_state import RunState
from app.stock.planning.plans import section_of
from app.stock.planning.problems import PlanningProblem
from app.web.kit.tally import Tally
from app.web.plans.tallies import found_tally
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

    work: SectionWork
    take: tuple[tuple[str, int], ...]
    unplaced: tuple[UnplacedRow, ...]
    alike: tuple[EqualBins, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundStation:
    """The plans found for what is cut at one station."""

    title: str
    things: str
    work: StationWork
    plans: tuple[FoundPlan, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPage(StockPage):
    """What was found and is not kept yet.

    until: the last day on which one of its pieces is due. cuttable: whether there is anything to keep.
    """

    title: str = "A plan was found"
    part: str = "Plans"
    wide: bool = True
    id: str
    stations: tuple[FoundStation, ...]
    whole: WholePlan
    tally: tuple[Tally, ...]
    until: date | None
    unplaced: tuple[UnplacedRow, ...]

    @property
    def cuttable(self) -> bool:
        """Whether there is anything to keep."""
        return self.whole.parts > 0


def found_page(draft: Draft, shop: Shop, faults: tuple[Fault, ...] = ()) -> FoundPage:
    """Return the page of a finished draft: its materials by the station at which they are cut."""
    pairs = list(zip(draft.problems, draft.plans, strict=True))
    sections = [section_of(problem, plan) for problem, plan in pairs]
    rack = {each.kept.id: each.kept for problem, _ in pairs for each in problem.rack}
    figures, cutter = Figures(steps=shop.steps), shop.cutter_in(shop.unit)
    works = sections_of(sections, rack, figures, cutter=cutter)
    found = [
        FoundPlan(
            work=work,
            take=tuple(Counter(_take(each) for each in work.bins).items()),
            unplaced=tuple(_unplaced(problem, plan)),
            alike=equal_bins(work.bins),
        )
        for work, (problem, plan) in zip(works, pairs, strict=True)
    ]
    whole = totals_of(sections, rack, shop.currency)
    return FoundPage(
        faults=faults,
        id=draft.id,
        stations=tuple(
            FoundStation(
                title=each.station.title(shop.mat_word.value),
                things=each.station.things(shop.mat_word.value),
                work=each,
                plans=tuple(found[work.number - 1] for work in each.sections),
            )
            for each in by_station(zip(sections, works, strict=True))
        ),
        whole=whole,
        tally=found_tally(whole),
        until=max(
            (part.piece.due for section in sections for part in section.parts if part.piece.due),
            default=None,
        ),
        unplaced=tuple(row for each in found for row in each.unplaced),
    )


def _take(opened: BinWork) -> str:
    return opened.take if opened.source is not None else f"New, to buy: {opened.measure}"


def _unplaced(problem: PlanningProblem, plan: Plan) -> Iterator[UnplacedRow]:
    for each in plan.unplaced:
        part = problem.parts[each.id]
        yield UnplacedRow(part=part.words, piece=part.piece.name, reason=each.reason)
