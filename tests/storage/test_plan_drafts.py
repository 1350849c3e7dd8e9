"""Plans that are being made, before they are kept: what becomes of each, and how many there are room for."""

import threading
from collections.abc import Callable, Sequence

import pytest

from app.cutting import Plan, StickProblem, Together
from app.errors import Conflict, Invalid, NotFound
from app.services import plans
from app.services.cutting import NamedProblem, StoppedError
from app.services.cutting_runs import PlanRuns
from app.services.open_work import ALL_WORK, WorkFilter
from app.services.plan_bench import at_bench, planned_pieces
from app.services.plan_bookings import book_bin
from app.services.plan_drafts import MOST_DRAFTS, Draft, PlanDrafts, Wish
from app.services.plans import BinAtPlan
from app.services.run_state import RunState
from app.stock.planning.plans import BinAt, PlanStage
from app.storage import Store
from tests.builders.kept import ACT
from tests.storage.plan_work import ordered, piece_ids, planned, solved

pytestmark = pytest.mark.slow

EVERYTHING = Wish(work=ALL_WORK)
RAILS = Wish(work=WorkFilter(materials=frozenset({"LIN-20"})))


class Making:
    """Drafts whose planner waits until it is let go."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.go.set()
        self.asked: list[NamedProblem] = []
        self.drafts = PlanDrafts(PlanRuns(self.plan))

    def plan(
        self,
        problems: Sequence[NamedProblem],
        *,
        stop: threading.Event,
        progress: Callable[[int, int, str], None],
    ) -> tuple[Plan, ...]:
        self.asked = list(problems)
        progress(0, len(problems), problems[0].name)
        while not self.go.wait(0.005):
            if stop.is_set():
                raise StoppedError
        return tuple(solved(each) for each in problems)  # type: ignore[arg-type]

    def ended(self, id: str) -> Draft:
        for _ in range(400):
            draft = self.drafts.look(id)
            if draft.progress.state is not RunState.RUNNING:
                return draft
            threading.Event().wait(0.005)
        raise AssertionError("the draft never ended")


@pytest.fixture
def making() -> Making:
    return Making()


def test_a_draft_is_kept_once(store: Store, making: Making) -> None:
    ordered(store)
    id = making.drafts.start(store, EVERYTHING)
    assert len(making.ended(id).plans) == 5
    plan_id = making.drafts.keep(store, id, ACT)
    assert plans.get(store, plan_id).stage is PlanStage.OPEN
    with pytest.raises(NotFound, match="saved or discarded"):
        making.drafts.keep(store, id, ACT)


def test_nothing_open_is_nothing_to_plan(store: Store, making: Making) -> None:
    with pytest.raises(Invalid, match="still to be planned"):
        making.drafts.start(store, EVERYTHING)


def test_what_is_not_done_is_not_kept(store: Store, making: Making) -> None:
    ordered(store)
    making.go.clear()
    id = making.drafts.start(store, RAILS)
    with pytest.raises(Conflict, match="not done yet"):
        making.drafts.keep(store, id, ACT)
    making.drafts.stop(id)
    assert making.ended(id).progress.state is RunState.STOPPED
    assert making.drafts.look(id).plans == ()


def test_the_shops_habit_holds_unless_it_is_wished_otherwise(store: Store, making: Making) -> None:
    ordered(store)
    for wish, together in (
        (RAILS, Together.PREFERRED),
        (Wish(work=RAILS.work, together=Together.NO_MATTER), Together.NO_MATTER),
    ):
        making.ended(making.drafts.start(store, wish))
        (problem,) = making.asked
        assert isinstance(problem.asked, StickProblem)
        assert problem.asked.together is together


def test_longer_is_four_times_as_long_and_never_beyond_a_minute(
    store: Store, making: Making
) -> None:
    ordered(store)
    id = making.drafts.start(store, RAILS)
    given = []
    for _ in range(4):
        making.ended(id)
        id = making.drafts.longer(store, id)
        given.append(making.drafts.look(id).wish.seconds)
    assert given == [8, 32, 60, 60]


@pytest.mark.parametrize("seconds", [0, -1, 61])
def test_seconds_out_of_range_are_refused(seconds: int) -> None:
    with pytest.raises(Invalid, match=f"{seconds} seconds were asked for; 1 to 60 are allowed"):
        Wish(work=ALL_WORK, seconds=seconds)


def test_the_oldest_drafts_are_forgotten(store: Store, making: Making) -> None:
    ordered(store)
    ids = []
    for _ in range(MOST_DRAFTS + 1):
        ids.append(making.drafts.start(store, RAILS))
        making.ended(ids[-1])
    with pytest.raises(NotFound):
        making.drafts.look(ids[0])
    assert making.drafts.look(ids[1]).plans


def test_a_discarded_draft_stops_and_is_gone(store: Store, making: Making) -> None:
    ordered(store)
    making.go.clear()
    id = making.drafts.start(store, RAILS)
    making.drafts.discard(id)
    making.drafts.discard(id)
    with pytest.raises(NotFound):
        making.drafts.look(id)
    making.drafts.close()


def test_a_piece_knows_the_plans_that_hold_and_cut_its_parts(store: Store) -> None:
    (piece,) = piece_ids(store, ordered(store))
    before = planned_pieces(store, [piece])[piece]
    assert (before.parts, before.open, before.cut, before.plans) == (8, 8, 0, ())
    rails = planned(store, RAILS.work)
    book_bin(store, BinAtPlan(plan_id=rails, at=BinAt(section=1, bin=1)), ACT)
    rest = planned(store)
    stands = planned_pieces(store, [piece])[piece]
    assert (stands.open, stands.cut, stands.all_cut) == (0, 4, False)
    assert [(each.id, each.planned, each.cut) for each in stands.plans] == [
        (rest, 4, 0),
        (rails, 0, 4),
    ]
    assert at_bench(store, rest).ready == ()


def test_a_piece_of_which_all_is_cut_is_ready_with_the_version_of_its_order(store: Store) -> None:
    order_id = ordered(store)
    plan_id = planned(store)
    for at in plans.get(store, plan_id).bins():
        book_bin(store, BinAtPlan(plan_id=plan_id, at=at), ACT)
    (ready,) = at_bench(store, plan_id).ready
    with store.reading() as work:
        assert (ready.ref.order_id, ready.version) == (
            order_id,
            work.orders.get(order_id).version,
        )
