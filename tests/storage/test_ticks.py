"""The steps that were ticked: kept by piece and step, in a record that only grows."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from app.bench import usual_cutter
from app.errors import Conflict, NotFound
from app.lengths import Unit, mm
from app.orders import Shop, Stage
from app.orders.step_ticks import standing
from app.services import orders, quotes
from app.services import shop as shops
from app.services import stages as progress
from app.services.bench import AtBench, PieceAt, at_bench, tick
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.kept import ACT, NOW, SHOP, TYPED, later, piece
from tests.builders.order_now import order_at

BO = Stamp(who="Bo", now=NOW)


@pytest.fixture
def order(store: Store) -> int:
    """An ordered piece: two mats, glazing, backing, one frame."""
    order_id = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    progress.take_order(store, order_at(store, order_id), progress.Terms(), ACT)
    return order_id


def first(order_id: int) -> PieceAt:
    """The only piece of an order."""
    return PieceAt(order_id=order_id, number=1)


def look(store: Store, order_id: int, shop: Shop = SHOP) -> AtBench:
    return at_bench(store, first(order_id), shop)


def ticked(store: Store, order_id: int) -> set[str]:
    return set(standing(look(store, order_id).ticks))


def test_a_tick_says_who_ticked_what_and_when(store: Store, order: int) -> None:
    tick(store, first(order), "glazing-cut", BO, ticked=True)
    (kept,) = look(store, order).ticks
    assert (kept.step, kept.ticked, kept.by, kept.at) == ("glazing-cut", True, "Bo", NOW)
    # By hand: 420 × 297 less 5 at each edge is 410 × 287; reveal 6: 422 × 299; borders 60, 60, 60, 70.
    assert "542 × 429" in kept.words


def test_a_tick_taken_back_is_gone_from_the_work_and_not_from_the_record(
    store: Store, order: int
) -> None:
    tick(store, first(order), "glazing-cut", BO, ticked=True)
    tick(store, first(order), "glazing-cut", later(minutes=5), ticked=False)
    assert ticked(store, order) == set()
    assert [(each.ticked, each.by) for each in look(store, order).ticks] == [
        (True, "Bo"),
        (False, "Ilse"),
    ]


def test_the_same_tick_twice_is_written_once(store: Store, order: int) -> None:
    """As of two phones that tick the same box, or a button pressed twice."""
    for who in (BO, ACT):
        tick(store, first(order), "fit", who, ticked=True)
    tick(store, first(order), "hang", BO, ticked=False)
    assert [each.by for each in look(store, order).ticks] == ["Bo"]


def test_ticking_leaves_the_version_of_the_order_alone(store: Store, order: int) -> None:
    before = order_at(store, order)
    tick(store, first(order), "fit", BO, ticked=True)
    assert order_at(store, order) == before
    progress.move_piece(store, before, 1, Stage.CUT, ACT)
    assert order_at(store, order) != before


def test_ticks_stay_when_the_piece_moves_on_and_back(store: Store, order: int) -> None:
    tick(store, first(order), "mats-size", BO, ticked=True)
    progress.move_piece(store, order_at(store, order), 1, Stage.CUT, ACT)
    tick(store, first(order), "fit", BO, ticked=True)
    progress.take_back(store, order_at(store, order), ACT, 1)
    assert ticked(store, order) == {"mats-size", "fit"}


def test_ticks_stay_when_prices_change(store: Store, order: int) -> None:
    tick(store, first(order), "mats-size", BO, ticked=True)
    before = look(store, order)
    orders.replace_piece(store, order_at(store, order), 1, piece(adjust__discount="10"), ACT)
    after = look(store, order)
    assert after.ticks == before.ticks
    assert after.bench.steps == before.bench.steps


def test_a_step_that_is_no_longer_there_takes_its_tick_out_of_sight_and_brings_it_back(
    store: Store, order: int
) -> None:
    tick(store, first(order), "glazing-cut", BO, ticked=True)
    orders.replace_piece(store, order_at(store, order), 1, piece(glazing__material=""), ACT)
    assert "glazing-cut" not in {step.id for step in look(store, order).bench.steps}
    with pytest.raises(Conflict, match="no step “glazing-cut”"):
        tick(store, first(order), "glazing-cut", BO, ticked=True)
    orders.replace_piece(store, order_at(store, order), 1, piece(), ACT)
    assert "glazing-cut" in ticked(store, order)


def test_a_step_that_says_something_else_since_can_be_ticked_anew(store: Store, order: int) -> None:
    tick(store, first(order), "mats-size", BO, ticked=True)
    orders.replace_piece(store, order_at(store, order), 1, piece(borders__left="80"), ACT)
    tick(store, first(order), "mats-size", ACT, ticked=True)
    old, new = look(store, order).ticks
    # By hand: 60 + 422 + 60 = 542, and with 80 at the left (and so at the right it stays 60) 562.
    assert "542 × 429" in old.words
    assert "562 × 429" in new.words


@pytest.mark.parametrize("stage", [Stage.CANCELLED, Stage.COLLECTED])
def test_only_what_is_worked_on_is_ticked(store: Store, order: int, stage: Stage) -> None:
    way = (Stage.CANCELLED,) if stage is Stage.CANCELLED else (Stage.CUT, Stage.FRAMED, stage)
    for each in way:
        progress.move_piece(store, order_at(store, order), 1, each, ACT)
    for box in (True, False):
        with pytest.raises(Conflict, match=f"The piece is “{stage}”"):
            tick(store, first(order), "fit", BO, ticked=box)
    assert not look(store, order).tickable


def test_a_quote_has_steps_and_no_ticks(store: Store) -> None:
    quote = quotes.save_new(store, CustomerRequest(name="Bo Reed"), TYPED, SHOP, ACT)
    assert look(store, quote).bench.steps
    with pytest.raises(Conflict, match="The piece is “quoted”"):
        tick(store, first(quote), "fit", BO, ticked=True)


def test_a_piece_that_is_not_there_has_no_steps(store: Store, order: int) -> None:
    with pytest.raises(NotFound):
        tick(store, PieceAt(order_id=order, number=7), "fit", BO, ticked=True)
    with pytest.raises(NotFound):
        at_bench(store, PieceAt(order_id=999, number=1), SHOP)


def test_the_steps_follow_the_cutter_of_today(store: Store, order: int) -> None:
    """A correction of half a millimetre: the first setting of 60 becomes 59.5."""
    corrected = replace(usual_cutter(Unit.MM), guide_correction=mm("-0.5"))
    shops.save(store, replace(SHOP, cutters=(corrected,)), 1, ACT)
    plan = look(store, order, shops.get(store).value).bench.plan
    assert plan is not None
    assert {setting.at for setting in plan.settings} >= {mm("59.5")}


def test_what_the_service_ticks_are_the_steps_of_the_work(store: Store, order: int) -> None:
    for step in look(store, order).bench.steps:
        tick(store, first(order), step.id, BO, ticked=True)
    assert ticked(store, order) == {step.id for step in look(store, order).bench.steps}
    assert look(store, order).tickable


@pytest.mark.parametrize(
    "statement", ["UPDATE step_ticks SET ticked = 0", "DELETE FROM step_ticks"]
)
def test_the_record_of_ticks_only_grows(
    store: Store, order: int, path: Path, statement: str
) -> None:
    tick(store, first(order), "fit", BO, ticked=True)
    with (
        closing(sqlite3.connect(path)) as connection,
        pytest.raises(sqlite3.IntegrityError, match="append-only"),
    ):
        connection.execute(statement)
