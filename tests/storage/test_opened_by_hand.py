"""What pieces open of the rack by themselves is worked out once a piece, however many there are."""

import pytest

from app.cutting import StickPlan, StickProblem
from app.cutting.sticks.simple import simple_stick_plan
from app.services import opened_by_hand
from app.services.cut_by_hand import would_take_reserved
from app.storage import Store
from tests.builders.kept import piece
from tests.storage.plan_work import ordered, piece_ids, planned
from tests.storage.test_services_stock import receive

pytestmark = pytest.mark.slow

EACH = 160
"""Pieces of each of two orders: more than 300 together, as a shop of one person has in work at most."""


def test_after_a_write_only_the_pieces_that_it_brought_are_planned_by_hand(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    receive(store, 2)
    ordered(store)
    planned(store)  # which reserves a stick, so that cutting by hand asks
    many = [ordered(store, *[piece()] * EACH) for _ in range(2)]
    asked: list[StickProblem] = []

    def counted(problem: StickProblem) -> StickPlan:
        asked.append(problem)
        return simple_stick_plan(problem)

    monkeypatch.setattr(opened_by_hand, "simple_stick_plan", counted)
    ids = [each for order_id in many for each in piece_ids(store, order_id)]
    before = would_take_reserved(store, ids)
    assert len(asked) == 2 * EACH
    asked.clear()
    further = piece_ids(store, ordered(store))
    after = would_take_reserved(store, [*ids, *further])
    assert len(asked) == 1
    assert {id: after.of_piece[id] for id in ids} == before.of_piece
    # Each frame takes one stick of the two, and the plan has reserved one of them: so all of them take what it lacks
    # then, and no single one does.
    assert not any(after.of_piece.values())
    assert after.together
