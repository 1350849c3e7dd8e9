"""Cutting plans of the sample: one that is cut, one that lies at the bench, by our own simple rule.

Made by the app's own services from the orders that are there; all days are counted back from the day that
the sample leads up to.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta

from app.cutting import Plan, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.services.open_work import WorkFilter, open_work, problems_for
from app.services.plan_bookings import book_bin
from app.services.plans import BinAtPlan, get, keep_plan, tick_part
from app.stock.planning.plans import section_of
from app.stock.planning.problems import PlanningProblem
from app.storage import Stamp, Store
from seed_demo.days import open_day
from seed_demo.shop import PEOPLE

CUT_DAYS_AGO = 3
OPEN_DAYS_AGO = 1

PIECES = 4
"""In each of the two plans."""

MATERIALS = 3
"""At most, in the one that is cut: those of which the rack had enough."""


def make_plans(store: Store, today: date) -> None:
    """One plan that is done and one that is begun, where there are orders enough for them."""
    day = open_day(today - timedelta(days=CUT_DAYS_AGO))
    old = _ordered_before(store, day)
    if len(old) < 2 * PIECES:
        return
    _cut(store, frozenset(old[:PIECES]), day)
    _begin(store, frozenset(old[PIECES : 2 * PIECES]), open_day(today - timedelta(OPEN_DAYS_AGO)))


def _ordered_before(store: Store, day: date) -> list[int]:
    """The pieces in work that were ordered before a day, the first due first, by their ids."""
    work = open_work(store)
    with store.reading() as storage:
        ordered_on = {
            piece.ref.order_id: storage.orders.get(piece.ref.order_id).ordered_on
            for piece in work.pieces
        }
    return [
        piece.ref.piece_id
        for piece in work.pieces
        if (on := ordered_on[piece.ref.order_id]) is not None and on < day and piece.open_parts
    ]


def _cut(store: Store, pieces: frozenset[int], day: date) -> None:
    """A plan that is done: every stick and sheet is ticked and booked, what is left over is kept."""
    found = list(_from_the_rack(problems_for(store, WorkFilter(pieces=pieces))))[:MATERIALS]
    if not found:
        return
    plan_id = keep_plan(store, found, _act(day, 9))
    plan = get(store, plan_id)
    for part in plan.parts():
        tick_part(store, plan_id, part.id, _act(day, 10), ticked=True)
    for at in plan.bins():
        book_bin(store, BinAtPlan(plan_id=plan_id, at=at), _act(day, 11))


def _from_the_rack(problems: tuple[PlanningProblem, ...]) -> Iterator[Plan]:
    """Plans for which nothing has to be bought."""
    for problem in problems:
        plan = _planned(problem)
        if plan.bins and not plan.unplaced and not section_of(problem, plan).to_buy:
            yield plan


def _begin(store: Store, pieces: frozenset[int], day: date) -> None:
    """A plan that is open: its first two parts are ticked."""
    plans = [_planned(each) for each in problems_for(store, WorkFilter(pieces=pieces))]
    if not any(plan.bins for plan in plans):
        return
    plan_id = keep_plan(store, plans, _act(day, 15))
    for part in get(store, plan_id).parts()[:2]:
        tick_part(store, plan_id, part.id, _act(day, 16), ticked=True)


def _planned(problem: PlanningProblem) -> Plan:
    asked = problem.asked
    return simple_stick_plan(asked) if isinstance(asked, StickProblem) else simple_sheet_plan(asked)


def _act(day: date, hour: int) -> Stamp:
    return Stamp(who=PEOPLE[hour % len(PEOPLE)], now=datetime.combine(day, time(hour, 20), UTC))
