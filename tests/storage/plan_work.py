"""A shop with two pieces ordered, and plans made for them by our own simple rule.

The sample piece by hand, in mm: artwork 420 × 297 behind two mats, overlap 5, reveal 6, borders 60, 60,
60, 70. Window 2 is 410 × 287 (G1), window 1 is 422 × 299 (G3), the package 542 × 429 (G4). Mat 2 is
trimmed by 3 at each edge, 536 × 423 (G7). Rebate 545 × 432 (G11); rails 545 + 2 × 14 = 573 and 460 (G12).
One frame takes 2 × 573 + 2 × 460 + 3 × 8.5 = 2091.5 of a stick of 3000; behind one more cut of 8.5 there
are 900 left over (C1).
"""

from collections.abc import Sequence
from datetime import date, timedelta

from app.cutting import (
    LaidPart,
    Maker,
    OpenedSheet,
    Plan,
    SheetCut,
    SheetPlan,
    SheetProblem,
    SheetRest,
    StickProblem,
    Way,
)
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import ZERO, Size, mm
from app.orders import Customer
from app.services import customers, orders
from app.services import stages as progress
from app.services.open_work import ALL_WORK, WorkFilter, problems_for
from app.services.orders import OrderAt, QuoteHead
from app.services.plans import keep_plan
from app.services.stages import Terms
from app.stock.planning.problems import PlanningProblem
from app.storage import NewPiece, Store
from tests.builders.kept import ACT, piece
from tests.builders.values import TODAY

MONTH = TODAY + timedelta(days=30)
DUE = TODAY + timedelta(days=14)


def ordered(store: Store, *pieces: NewPiece, due: date | None = DUE) -> int:
    """An order of some pieces (the sample's, where none is given); its id."""
    customer = customers.add(store, Customer(name="Amber Quill"), ACT)
    head = QuoteHead(customer_id=customer, valid_until=MONTH)
    order_id = orders.save_quote(store, head, pieces or (piece(),), ACT)
    at = OrderAt(id=order_id, version=orders.get(store, order_id).version)
    progress.take_order(store, at, Terms(due=due), ACT)
    return order_id


def piece_ids(store: Store, order_id: int) -> list[int]:
    return [each.id for each in orders.get(store, order_id).pieces]


def solved(problem: PlanningProblem) -> Plan:
    if isinstance(problem.asked, StickProblem):
        return simple_stick_plan(problem.asked)
    return simple_sheet_plan(problem.asked)


def planned(store: Store, wanted: WorkFilter = ALL_WORK) -> int:
    """Everything that is open planned and kept; the plan's id."""
    return keep_plan(store, [solved(each) for each in problems_for(store, wanted)], ACT)


def problem_of(problems: Sequence[PlanningProblem], code: str) -> PlanningProblem:
    return next(each for each in problems if each.material.code == code)


def one_mat(problem: PlanningProblem) -> SheetPlan:
    """The mat of 542 × 429 in the corner of a sheet of 1120 × 815: one cut across, one down.

    What is left over: 1120 × 386 under it and 578 × 429 beside it.
    """
    assert isinstance(problem.asked, SheetProblem)
    (part,) = problem.asked.parts
    assert part.size == Size(mm(542), mm(429))
    sheet = OpenedSheet(
        stock=problem.asked.stock[-1].id,
        copy=1,
        cuts=(
            SheetCut(stage=1, way=Way.ACROSS, at=mm(429), start=ZERO, end=mm(1120)),
            SheetCut(stage=2, way=Way.DOWN, at=mm(542), start=ZERO, end=mm(429)),
        ),
        parts=(LaidPart(id=part.id, copy=1, x=ZERO, y=ZERO, size=part.size),),
        offcuts=(
            SheetRest(x=ZERO, y=mm(429), size=Size(mm(1120), mm(386))),
            SheetRest(x=mm(542), y=ZERO, size=Size(mm(578), mm(429))),
        ),
    )
    return SheetPlan(
        asked=problem.asked,
        bins=(sheet,),
        unplaced=(),
        lower_bound=problem.asked.stock[-1].cost,
        maker=Maker.SIMPLE,
    )
