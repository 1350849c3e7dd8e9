"""Cutting plans: kept once they are proven, ticked at the bench, dropped.

Ticking leaves a plan's version alone, so that two phones can tick side by side. Booking what was cut is
`plan_bookings`; making plans is `cutting`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from app.cutting import Plan, SheetPart, SheetProblem, StickPart, StickPlan, StickProblem
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.errors import Conflict, Invalid
from app.lengths import Length, Size
from app.orders import Stage
from app.services.open_work import WorkFilter, open_work_in, pieces_in_work, problems_in
from app.stock.items import StockItem
from app.stock.planning.open_work import PieceInWork, cut_by_hand
from app.stock.planning.parts import PartToCut
from app.stock.planning.plans import (
    BinAt,
    CuttingPlan,
    MarkKind,
    PartMark,
    PlanSection,
    PlanStage,
    PlanStanding,
    section_of,
    standing,
)
from app.stock.planning.problems import PlanningProblem
from app.storage import ListPage, PageRequest, PlanSummary, Series, Stamp, Store, UnitOfWork

LONGEST_NOTE = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanAt:
    """A plan at the version in which it was read."""

    id: int
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BinAtPlan:
    """A stick or sheet of a plan."""

    plan_id: int
    at: BinAt


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedPlan:
    """A plan with everything that a page says of it.

    sources: the items that its sticks and sheets are taken from, by id. pieces: those that its parts
    are for, as they stand now, by id. outdated: sentences, by part, where the piece was changed or
    stopped since. by_hand: the parts, by id, that were cut by hand since.
    """

    plan: CuttingPlan
    standing: PlanStanding
    sources: Mapping[int, StockItem]
    pieces: Mapping[int, PieceInWork]
    outdated: Mapping[str, str]
    by_hand: frozenset[str]


def get(store: Store, plan_id: int) -> CuttingPlan:
    """Return a plan. Raises: NotFound."""
    with store.reading() as work:
        return work.plans.get(plan_id)


def find_by_number(store: Store, number: str) -> int:
    """Return the id of the plan with a number, as "P-2026-0007". Raises: NotFound."""
    with store.reading() as work:
        return work.plans.id_of(number)


def listed(
    store: Store, stages: frozenset[PlanStage] = frozenset(), page: PageRequest | None = None
) -> ListPage[PlanSummary]:
    """Return one page of the plans at some stages, none for all, the newest first."""
    with store.reading() as work:
        return work.plan_lists.listed(stages, page)


def look(store: Store, plan_id: int) -> LookedPlan:
    """Return a plan with its pieces and its stock as they stand now. Raises: NotFound."""
    with store.reading() as work:
        plan = work.plans.get(plan_id)
        kept = work.open_pieces.get({part.piece.piece_id for part in plan.parts()})
        pieces = {each.ref.piece_id: each for each in pieces_in_work(work, kept)[0]}
        removed = {each.ref.piece_id for each in kept if each.removed}
        sources = {id for section in plan.sections for id in section.sources if id is not None}
        return LookedPlan(
            plan=plan,
            standing=standing(plan),
            sources={id: work.stock.get(id) for id in sources},
            pieces=pieces,
            outdated=dict(_outdated(plan, pieces, removed)),
            by_hand=cut_by_hand(plan, pieces.values()),
        )


def _outdated(
    plan: CuttingPlan, pieces: Mapping[int, PieceInWork], removed: set[int]
) -> Iterator[tuple[str, str]]:
    now = {
        piece_id: {(stands.part.id, stands.part.what) for stands in piece.parts}
        for piece_id, piece in pieces.items()
    }
    for part in plan.parts():
        piece = pieces.get(part.piece.piece_id)
        name = part.piece.name
        if piece is None or part.piece.piece_id in removed:
            yield part.id, f"{name} is no longer in work."
        elif piece.stage in (Stage.QUOTED, Stage.DECLINED, Stage.CANCELLED):
            yield part.id, f"{name} is {piece.stage}."
        elif (part.id, part.what) not in now[part.piece.piece_id]:
            yield part.id, f"{name} was changed since: its {part.words} is another now."


def keep_plan(store: Store, plans: Sequence[Plan], act: Stamp, *, solver: str = "") -> int:
    """Keep plans made for `problems_for` as one cutting plan under the next number; returns its id.

    A section for each that has something to cut; what fits nowhere stays open work. solver: see
    `cutting.solver_version`. Raises: Invalid where nothing is to be cut; Conflict where a plan fails
    its check, or work or rack have changed since it was made.
    """
    cuttable = tuple(plan for plan in plans if plan.bins)
    if not cuttable:
        raise Invalid.at("", "There is nothing to cut in this plan, so it was not saved.", "empty")
    for plan in cuttable:
        _check_proven(plan)
    with store.writing() as work:
        sections = _sections(work, cuttable)
        number = work.numbers.take(Series.PLAN, act.today.year)
        return work.plans.add(number, sections, solver, act)


def _check_proven(plan: Plan) -> None:
    faults = (
        faults_of_stick_plan(plan) if isinstance(plan, StickPlan) else faults_of_sheet_plan(plan)
    )
    if faults:
        raise Conflict(
            f"This plan did not pass its check, so it was not saved: {faults[0]} Plan again."
        )


def _sections(work: UnitOfWork, plans: Sequence[Plan]) -> tuple[PlanSection, ...]:
    """Raises: Conflict where a part is no longer open as it was asked for, or stock is gone."""
    laid = Counter(part.id for plan in plans for opened in plan.bins for part in opened.parts)
    twice = next((id for id, count in laid.items() if count > 1), None)
    if twice is not None:
        raise Conflict("A part lies in these plans twice, so they were not saved. Plan again.")
    pieces = frozenset(int(id.partition("/")[0]) for id in laid if id.partition("/")[0].isdigit())
    open_parts = {part.id: part for part in open_work_in(work, WorkFilter(pieces=pieces)).parts}
    sections = []
    for plan in plans:
        asked = {part.id: part for part in plan.asked.parts}
        wanted = {part.id for opened in plan.bins for part in opened.parts}
        parts = [_still_open(open_parts, asked[id]) for id in asked if id in wanted]
        sections.append(_section(work, parts, plan))
    return tuple(sections)


def _still_open(parts: Mapping[str, PartToCut], asked: StickPart | SheetPart) -> PartToCut:
    part = parts.get(asked.id)
    wanted = asked.length if isinstance(asked, StickPart) else asked.size
    if part is None or wanted != (part.length if isinstance(asked, StickPart) else part.size):
        named = f"The {part.words} of {part.piece.name}" if part else "A part of this plan"
        raise Conflict(
            f"{named} was changed, cut or planned by someone else in the meantime. Plan again."
        )
    return part


def _section(work: UnitOfWork, parts: Sequence[PartToCut], plan: Plan) -> PlanSection:
    problems = problems_in(work, parts)
    if len(problems) != 1:
        raise Conflict("A plan is of one material, so these were not kept. Plan again.")
    (problem,) = problems
    _check_stock(problem, plan)
    return section_of(problem, plan)


def _check_stock(problem: PlanningProblem, plan: Plan) -> None:
    """What is opened is on offer still, in the size that it was planned with."""
    planned, now = _sizes(plan.asked), _sizes(problem.asked)
    if any(now.get(id) != planned[id] for id in plan.opened):
        raise Conflict(
            f"What there is of {problem.material.code} has changed since the plan was made. Plan "
            "again."
        )


def _sizes(asked: StickProblem | SheetProblem) -> Mapping[str, Length | Size]:
    if isinstance(asked, StickProblem):
        return {each.id: each.length for each in asked.stock}
    return {each.id: each.size for each in asked.stock}


def tick_part(store: Store, plan_id: int, part_id: str, act: Stamp, *, ticked: bool) -> None:
    """Tick a part as cut, or take its tick back: `tick_parts` of one."""
    tick_parts(store, plan_id, [part_id], act, ticked=ticked)


def tick_parts(
    store: Store, plan_id: int, part_ids: Sequence[str], act: Stamp, *, ticked: bool
) -> None:
    """Tick parts as cut, or take their ticks back, all or none; what stands already is left as it is.

    Raises: NotFound; Conflict where the plan is dropped or a part is booked.
    """
    with store.writing() as work:
        plan = work.plans.get(plan_id)
        places, now = {plan.bin_of(part_id) for part_id in part_ids}, standing(plan)
        if plan.stage is PlanStage.DROPPED:
            raise Conflict(f"{plan.number} was deleted; nothing more is cut by it.")
        if not places.isdisjoint(now.booked):
            raise Conflict("This part is booked as cut; undo the booking first.")
        marks = [
            PartMark(part=part_id, mark=MarkKind.CUT, standing=ticked, at=act.now, by=act.who)
            for part_id in part_ids
            if ticked != (part_id in now.ticked)
        ]
        if marks:
            work.plans.mark(plan_id, marks)


def spoil_part(store: Store, plan_id: int, part_id: str, act: Stamp, *, note: str = "") -> None:
    """A part was spoiled, cut already or not: it is open work again. note: why.

    Raises: NotFound; Conflict where it is spoiled already or was never to be cut by this plan any
    more; Invalid at "note".
    """
    if len(note) > LONGEST_NOTE:
        raise Invalid.at(
            "note", f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept."
        )
    with store.writing() as work:
        spoil_in(work, plan_id, part_id, act, note=note)


def spoil_in(work: UnitOfWork, plan_id: int, part_id: str, act: Stamp, *, note: str = "") -> None:
    """As `spoil_part`, within a transaction that does more."""
    plan = work.plans.get(plan_id)
    at, now = plan.bin_of(part_id), standing(plan)
    if part_id in now.spoiled:
        raise Conflict("This part is noted as spoiled already.")
    if plan.stage is PlanStage.DROPPED and at not in now.booked:
        raise Conflict(f"{plan.number} was deleted before this part was cut; it is open anyway.")
    work.plans.mark(plan_id, [_spoiled(part_id, act, stands=True, note=note.strip())])


def take_back_spoiled(store: Store, plan_id: int, part_id: str, act: Stamp) -> None:
    """A part noted as spoiled is whole after all.

    Raises: NotFound; Conflict where it is not noted so, or was planned or cut anew since.
    """
    with store.writing() as work:
        plan = work.plans.get(plan_id)
        piece_id = plan.section(plan.bin_of(part_id).section).part(part_id).piece.piece_id
        if part_id not in standing(plan).spoiled:
            raise Conflict("This part is not noted as spoiled.")
        others = work.plans.parts_of([piece_id]).get(piece_id, ())
        for other in others:
            if other.part == part_id and other.plan_id != plan_id and (other.held or other.cut):
                raise Conflict(
                    f"It was planned anew in {other.plan_number}; that one would be cut for nothing."
                )
        work.plans.mark(plan_id, [_spoiled(part_id, act, stands=False)])


def _spoiled(part_id: str, act: Stamp, *, stands: bool, note: str = "") -> PartMark:
    return PartMark(
        part=part_id, mark=MarkKind.SPOILED, standing=stands, at=act.now, by=act.who, note=note
    )


def drop_plan(store: Store, at: PlanAt) -> None:
    """Give an open plan up: what it has not booked is open work and free stock again.

    Raises: NotFound, Stale, Conflict.
    """
    with store.writing() as work:
        plan = work.plans.claim(at.id, at.version)
        if plan.stage is not PlanStage.OPEN:
            raise Conflict(f"{plan.number} is {plan.stage.word}; only an open plan can be deleted.")
        work.plans.move(plan.id, PlanStage.DROPPED)
