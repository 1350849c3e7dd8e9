"""Says which cutting plans hold the parts of a piece."""

from dataclasses import dataclass

from app.counting import counted
from app.orders import Stage
from app.services.plan_bench import PlannedPiece, PlanOfPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLink:
    """A plan that holds parts of a piece: "3 to cut, 5 cut in P-2026-0007"."""

    href: str
    number: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedView:
    """How far a piece is planned and cut.

    to_plan: the parts in no plan, in words. plan_href: where they are planned. all_cut: whether the
    stage "cut" may be taken now.
    """

    plans: tuple[PlanLink, ...]
    to_plan: str
    plan_href: str
    all_cut: bool


def planned_view(piece_id: int, stage: Stage, planned: PlannedPiece | None) -> PlannedView | None:
    """Say how far a piece is planned and cut.

    It is None where there is nothing to say: no part is cut from stock, or the piece is not in work.
    """
    if planned is None or not planned.parts:
        return None
    if not planned.plans and not planned.open:
        return None
    return PlannedView(
        plans=tuple(_link(each) for each in planned.plans),
        to_plan=_to_plan(planned),
        plan_href=f"/plans/new?piece={piece_id}",
        all_cut=planned.all_cut and stage is Stage.ORDERED,
    )


def _link(plan: PlanOfPiece) -> PlanLink:
    counts = ((plan.planned, "to cut"), (plan.cut, "cut"))
    words = ", ".join(f"{count} {word}" for count, word in counts if count)
    return PlanLink(href=f"/plans/{plan.id}", number=plan.number, words=words)


def _to_plan(planned: PlannedPiece) -> str:
    if not planned.open:
        return ""
    if planned.open == planned.parts:
        return "Not in a cutting plan yet."
    return f"{planned.open} of {counted(planned.parts, 'part')} still {'needs' if planned.open == 1 else 'need'} a plan."
