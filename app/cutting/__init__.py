"""Cutting plans: parts and stock to a plan, and the checker that did not make it (C1 to C6).

It knows lengths and nothing else of ours: no materials, no pieces, no shop. Everything here is pure
but `solver_sticks` and `solver_sheets`, which alone speak to a library.
"""

from app.cutting.plan import (
    LaidPart,
    LaidRail,
    Maker,
    OpenedSheet,
    OpenedStick,
    Plan,
    SheetCut,
    SheetPlan,
    SheetRest,
    StickPlan,
    StickRest,
    Unplaced,
    Way,
)
from app.cutting.problem import (
    MOST_PARTS,
    Asked,
    Sheet,
    SheetPart,
    SheetProblem,
    Stick,
    StickPart,
    StickProblem,
    Together,
)

__all__ = [
    "MOST_PARTS",
    "Asked",
    "LaidPart",
    "LaidRail",
    "Maker",
    "OpenedSheet",
    "OpenedStick",
    "Plan",
    "Sheet",
    "SheetCut",
    "SheetPart",
    "SheetPlan",
    "SheetProblem",
    "SheetRest",
    "Stick",
    "StickPart",
    "StickPlan",
    "StickProblem",
    "StickRest",
    "Together",
    "Unplaced",
    "Way",
]
