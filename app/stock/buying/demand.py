"""What open work wants of whole sticks and sheets and of what is counted, and which pieces want it.

Owns the step from questions to a planner, and from plans that are kept, to counts. A question is
answered by the simple rule, which takes no time and never fewer than a better plan; what open plans
have reserved on the rack is wanted no more.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from math import ceil

from app.cutting import SheetProblem, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.stock.buying.to_buy import Demand
from app.stock.items import form_of
from app.stock.planning.parts import CountedNeed, PieceRef
from app.stock.planning.plans import CuttingPlan, unbooked
from app.stock.planning.problems import WHOLE, PlanningProblem, is_usual

type WholeOpened = tuple[tuple[str, ...], ...]
"""The ids of the parts that lie in each whole stick or sheet of the usual size that is opened."""


def whole_opened(asked: StickProblem | SheetProblem) -> WholeOpened:
    """Return what the simple rule opens; offcuts and odd sizes on the rack are used first (C3)."""
    bins = (
        simple_stick_plan(asked).bins
        if isinstance(asked, StickProblem)
        else simple_sheet_plan(asked).bins
    )
    return tuple(tuple(part.id for part in each.parts) for each in bins if each.stock == WHOLE)


def wanted_by_problem(problem: PlanningProblem, opened: WholeOpened) -> Demand:
    """Tell how many whole sticks or sheets of the usual size the parts of a question take.

    opened: what is opened for it (`whole_opened`). Parts that fit nowhere want nothing.
    """
    return Demand(
        material=problem.material.code,
        form=problem.form,
        whole=len(opened),
        pieces=_once(problem.parts[id].piece for ids in opened for id in ids),
    )


def odd_on_rack(problem: PlanningProblem) -> int:
    """Tell how many free whole sticks or sheets are of another size than the price book's."""
    return sum(
        each.available
        for each in problem.rack
        if each.kept.item.whole and not is_usual(each.kept.item, problem.material)
    )


def wanted_by_plan(plan: CuttingPlan, by_hand: Collection[str] = frozenset()) -> tuple[Demand, ...]:
    """Tell how many whole ones an open plan takes that were not on the rack when it was made.

    by_hand: parts, by id, that were cut without it meanwhile; a stick or sheet of such parts alone wants nothing.
    """
    pieces: dict[int, list[PieceRef]] = defaultdict(list)
    counts: dict[int, int] = defaultdict(int)
    for at in unbooked(plan):
        parts = [part for part in plan.parts_in(at) if part.id not in by_hand]
        if plan.source(at) is None and parts:
            counts[at.section] += 1
            pieces[at.section] += [part.piece for part in parts]
    return tuple(
        Demand(
            material=plan.section(number).material.code,
            form=plan.section(number).form,
            whole=count,
            pieces=_once(pieces[number]),
        )
        for number, count in counts.items()
    )


def wanted_by_count(needs: Iterable[CountedNeed]) -> tuple[Demand, ...]:
    """Return what is counted or measured off, by material; the sum of all pieces, rounded up to whole ones."""
    by_code: dict[str, list[CountedNeed]] = defaultdict(list)
    for need in needs:
        by_code[need.material.code].append(need)
    return tuple(
        Demand(
            material=code,
            form=form_of(ours[-1].material),
            whole=ceil(sum(need.quantity for need in ours)),
            pieces=_once(need.piece for need in ours),
        )
        for code, ours in sorted(by_code.items())
    )


def in_all(wanted: Iterable[Demand]) -> Mapping[str, Demand]:
    """Return everything that is wanted of a material as one, by its code."""
    found: dict[str, Demand] = {}
    for each in wanted:
        before = found.get(each.material)
        found[each.material] = (
            each
            if before is None
            else Demand(
                material=each.material,
                form=each.form,
                whole=before.whole + each.whole,
                pieces=_once((*before.pieces, *each.pieces)),
                lines=(*before.lines, *each.lines),
            )
        )
    return found


def _once(pieces: Iterable[PieceRef]) -> tuple[PieceRef, ...]:
    """Return each piece once, in the order in which they come."""
    by_id: dict[int, PieceRef] = {}
    for piece in pieces:
        by_id.setdefault(piece.piece_id, piece)
    return tuple(by_id.values())
