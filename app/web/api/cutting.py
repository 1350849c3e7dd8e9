"""`POST /api/cutting/sticks` and `/api/cutting/sheets`: stock and parts in, a proven plan out.

They touch no database. `requests_cutting` and `responses_cutting` are the contract, `reading_cutting` turns a
request into a question.
"""

from typing import Any

from fastapi import APIRouter

from app.cutting import SheetPlan, StickPlan
from app.lengths import exact_text
from app.services import cutting
from app.web.api.reading_cutting import read_sheets, read_sticks
from app.web.api.refusal import BUSY, INVALID
from app.web.api.requests_cutting import SheetsRequested, SticksRequested
from app.web.api.responses_cutting import SheetsAnswered, SticksAnswered
from app.web.kit.line import SOLVED, in_line

router = APIRouter(prefix="/api/cutting", tags=["cutting"], dependencies=[in_line(SOLVED)])


@router.post("/sticks", responses={200: {"model": SticksAnswered}, **INVALID, **BUSY})
def sticks(asked: SticksRequested) -> dict[str, Any]:
    """Tell which sticks to open and what to cut from each, with the bound that no plan can go below."""
    return stick_plan_json(cutting.planned(read_sticks(asked), asked.seconds))


@router.post("/sheets", responses={200: {"model": SheetsAnswered}, **INVALID, **BUSY})
def sheets(asked: SheetsRequested) -> dict[str, Any]:
    """Tell which sheets to open and how to cut them from edge to edge, with the bound of the cost."""
    return sheet_plan_json(cutting.planned(read_sheets(asked), asked.seconds))


def stick_plan_json(plan: StickPlan) -> dict[str, Any]:
    """Return the answer's tree of a plan for sticks."""
    lengths = {stick.id: stick.length for stick in plan.asked.stock}
    tree = SticksAnswered.of(plan, plan.asked.unit).plain()
    for drawn, opened in zip(tree["bins"], plan.bins, strict=True):
        # A part that ends with the whole stick needs no cut.
        ends = (laid.at + laid.length for laid in opened.parts)
        cuts = (end for end in ends if end < lengths[opened.stock])
        drawn["cuts"] = [{"at": exact_text(end, plan.asked.unit)} for end in cuts]
    return tree


def sheet_plan_json(plan: SheetPlan) -> dict[str, Any]:
    """Return the answer's tree of a plan for sheets."""
    return SheetsAnswered.of(plan, plan.asked.unit).plain()
