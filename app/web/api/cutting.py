"""`POST /api/cutting/sticks` and `/api/cutting/sheets`: stock and parts in, a proven plan out.

They touch no database. Owns the routes and the answers' trees; `asked_cutting` and `answered_cutting`
are the contract, `reading_cutting` turns a request into a question.
"""

from collections.abc import Callable
from fractions import Fraction
from math import floor
from typing import Annotated, Any

from fastapi import APIRouter, Depends

from app.cutting import OpenedSheet, OpenedStick, SheetPlan, StickPlan
from app.lengths import Length, Size, Unit, exact_text
from app.services import cutting
from app.web.api.reading_cutting import read_sheets, read_sticks
from app.web.api.refusal import INVALID
from app.web.api.requests_cutting import SheetsRequested, SticksRequested
from app.web.api.responses_cutting import SheetsAnswered, SticksAnswered

type Planner = Callable[..., Any]
"""A question and its seconds to a proven plan, as `services.cutting.planned`."""


def get_planner() -> Planner:
    """Who makes the plans."""
    return cutting.planned


PlannedBy = Annotated[Planner, Depends(get_planner)]

router = APIRouter(prefix="/api/cutting", tags=["cutting"])


@router.post("/sticks", responses={200: {"model": SticksAnswered}, **INVALID})
def sticks(asked: SticksRequested, planner: PlannedBy) -> dict[str, Any]:
    """Which sticks to open and what to cut from each, with the bound that no plan can go below."""
    return stick_plan_json(planner(read_sticks(asked), asked.seconds))


@router.post("/sheets", responses={200: {"model": SheetsAnswered}, **INVALID})
def sheets(asked: SheetsRequested, planner: PlannedBy) -> dict[str, Any]:
    """Which sheets to open and how to cut them from edge to edge, with the bound of the cost."""
    return sheet_plan_json(planner(read_sheets(asked), asked.seconds))


def stick_plan_json(plan: StickPlan) -> dict[str, Any]:
    """The answer's tree of a plan for sticks."""
    lengths = {stick.id: stick.length for stick in plan.asked.stock}
    unit = plan.asked.unit
    return {
        "bins": [_stick_json(each, lengths[each.stock], unit) for each in plan.bins],
        **_figures_json(plan),
    }


def sheet_plan_json(plan: SheetPlan) -> dict[str, Any]:
    """The answer's tree of a plan for sheets."""
    return {
        "bins": [_sheet_json(each, plan.asked.unit) for each in plan.bins],
        **_figures_json(plan),
    }


def _number_text(number: Fraction) -> str:
    """An exact number, as a length of so many millimetres is written: "2.5", "1/3"."""
    return exact_text(Length(number), Unit.MM)


def _figures_json(plan: StickPlan | SheetPlan) -> dict[str, Any]:
    return {
        "unit": plan.asked.unit.value,
        "opened": dict(plan.opened),
        "cost": _number_text(plan.cost),
        "lower_bound": _number_text(plan.lower_bound),
        "proven": plan.proven,
        "waste_share": _share_text(plan.waste_share),
        "kept_share": _share_text(plan.kept_share),
        "maker": plan.maker.value,
        "unplaced": [
            {"id": each.id, "copies": each.copies, "code": each.code, "reason": each.reason}
            for each in plan.unplaced
        ],
    }


def _share_text(share: Fraction) -> str:
    """A share from 0 to 1, rounded half up to three places: "0.081"."""
    thousandths = floor(share * 1000 + Fraction(1, 2))
    return f"{thousandths // 1000}.{thousandths % 1000:03d}"


def _stick_json(opened: OpenedStick, length: Length, unit: Unit) -> dict[str, Any]:
    """length: of the whole stick; a part that ends with it needs no cut."""
    ends = (laid.at + laid.length for laid in opened.parts)
    offcuts = [opened.offcut] if opened.offcut else []
    return {
        "stock": opened.stock,
        "copy": opened.copy,
        "cuts": [_texts(unit, at=end) for end in ends if end < length],
        "parts": [
            {"id": laid.id, "copy": laid.copy, **_texts(unit, at=laid.at, length=laid.length)}
            for laid in opened.parts
        ],
        "offcuts": [_texts(unit, at=rest.at, length=rest.length) for rest in offcuts],
    }


def _sheet_json(opened: OpenedSheet, unit: Unit) -> dict[str, Any]:
    return {
        "stock": opened.stock,
        "copy": opened.copy,
        "cuts": [
            {
                "stage": cut.stage,
                "way": cut.way.value,
                **_texts(unit, at=cut.at, start=cut.start, end=cut.end),
            }
            for cut in opened.cuts
        ],
        "parts": [
            {
                "id": laid.id,
                "copy": laid.copy,
                **_place_json(unit, laid.x, laid.y, laid.size),
                "turned": laid.turned,
            }
            for laid in opened.parts
        ],
        "offcuts": [_place_json(unit, rest.x, rest.y, rest.size) for rest in opened.offcuts],
    }


def _place_json(unit: Unit, x: Length, y: Length, size: Size) -> dict[str, str]:
    return _texts(unit, x=x, y=y, width=size.width, height=size.height)


def _texts(unit: Unit, **lengths: Length) -> dict[str, str]:
    """Each length as exact text."""
    return {name: exact_text(length, unit) for name, length in lengths.items()}
