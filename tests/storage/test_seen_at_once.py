"""After every kind of write, what is remembered tells the same as a shop that was just opened and remembers nothing."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

import pytest

from app.lengths import mm
from app.orders import Stage
from app.services import (
    buying,
    customers,
    cut_by_hand,
    orders,
    plans,
    price_book,
    shop,
    spoiling,
    who_is_meant,
)
from app.services import stages as progress
from app.services.buying import SupplierOrderAt, ToOrder
from app.services.material_offers import OfferTerms, offers
from app.services.on_rack import free_for
from app.services.open_work import counted_needs, open_work, problems_for, states_of_materials
from app.services.orders import OrderAt
from app.services.plan_bench import planned_pieces
from app.services.plan_bookings import book_bin, take_back_booking
from app.services.plans import BinAtPlan, PlanAt
from app.services.shortages import states_of_pieces, what_to_buy
from app.services.stages import PieceMove
from app.services.who_is_meant import CustomerRequest
from app.stock.planning.plans import BinAt
from app.storage import DATABASE_NAME, Store
from tests.builders.kept import ACT, TODAY, TYPED, later, piece
from tests.storage.plan_work import DUE, ordered, piece_ids, planned
from tests.storage.test_former_codes import rename
from tests.storage.test_services_stock import receive

pytestmark = pytest.mark.slow

FIRST = BinAt(section=1, bin=1)


@dataclass(frozen=True, kw_only=True)
class Work:
    """Two orders, of one piece and of three alike, and what is told of the shop with them."""

    store: Store
    single: int
    alike: int

    def told(self, store: Store) -> dict[str, object]:
        """What pages ask of open work, stock and customers."""
        agreed = [
            each.pieces for each in (orders.get(store, self.single), orders.get(store, self.alike))
        ]
        chosen = [each.agreed.chosen for each in agreed[0]]
        ids = piece_ids(store, self.single)
        open_ids = [each.ref.piece_id for each in open_work(store).pieces]
        return {
            "agreed": agreed,
            "materials of the one order": states_of_pieces(store, ids),
            "hardware": price_book.hardware(store),
            "prices to choose from": offers(store, "", self.terms(store), limit=9),
            "open work": open_work(store),
            "questions": problems_for(store),
            "counted": counted_needs(store),
            "states": states_of_materials(store),
            "to buy": what_to_buy(store),
            "free": free_for(store, *chosen),
            "shop": store.current_shop(),
            "cut by plans": planned_pieces(store, open_ids),
            "spoiled": spoiling.spoiled_now(store, open_ids),
            "reserved": cut_by_hand.would_take_reserved(store, open_ids),
            "customers": who_is_meant.fitting(store, CustomerRequest(name="Amber Quill")),
        }

    def terms(self, store: Store) -> OfferTerms:
        """A piece for which a moulding is looked for."""
        ours = store.current_shop()
        assert ours is not None
        return OfferTerms(typed=TYPED, path="frames.0.material", shop=ours, today=TODAY)

    def at(self, order_id: int) -> OrderAt:
        return OrderAt(id=order_id, version=orders.get(self.store, order_id).version)


_MINUTES = count(1)


def _move(work: Work, stage: Stage, number: int | None = None) -> None:
    asked = PieceMove(number=1, stage=stage, count=number)
    progress.move_some(work.store, work.at(work.alike), asked, later(minutes=next(_MINUTES)))


def _rename_customer(work: Work) -> None:
    known = customers.get(work.store, orders.get(work.store, work.single).customer_id)
    renamed = replace(known.value, name="Ilse Quill")
    customers.save(
        work.store,
        orders.get(work.store, work.single).customer_id,
        renamed,
        known.version,
        ACT,
    )


def _drop(work: Work) -> None:
    (plan,) = (each for each in plans.listed(work.store).rows if each.stage.value == "open")
    plans.drop_plan(work.store, PlanAt(id=plan.id, version=plans.get(work.store, plan.id).version))


def _newest_plan(work: Work) -> int:
    return max(each.id for each in plans.listed(work.store).rows)


def _spoil_in_plan(work: Work) -> None:
    plan = plans.get(work.store, _newest_plan(work))
    plans.spoil_part(work.store, plan.id, next(iter(plan.parts())).id, ACT)


def _other_shop(work: Work) -> None:
    """The ends of sticks are of less use, and an hour costs twice as much."""
    kept = shop.get(work.store)
    labour = replace(kept.value.labour, hourly_rate=kept.value.labour.hourly_rate * 2)
    habits = replace(kept.value.cutting, end_trim=mm(400))
    other = replace(kept.value, cutting_habits=habits, labour=labour)
    shop.save(work.store, other, kept.version, ACT)


def _longer_sticks(work: Work) -> None:
    kept = price_book.get(work.store, "LIN-20")
    assert kept.value.profile is not None
    longer = replace(kept.value, profile=replace(kept.value.profile, stick=mm(3300)))
    price_book.save(work.store, "LIN-20", longer, kept.version, ACT)


def _send(work: Work) -> None:
    """The only order to a supplier goes out: from then on its sticks are on order."""
    (draft,) = buying.listed(work.store).rows
    at = SupplierOrderAt(id=draft.id, version=buying.get(work.store, draft.id).version)
    buying.send(work.store, at, ACT)


def _single(work: Work) -> int:
    return piece_ids(work.store, work.single)[0]


ACTS: tuple[tuple[str, Callable[[Work], object]], ...] = (
    ("stock comes", lambda work: receive(work.store, 2)),
    (
        "sticks are to be bought",
        lambda work: buying.make_orders(work.store, [ToOrder(material="LIN-20", quantity=2)], ACT),
    ),
    ("they are on order", _send),
    ("a due day is set", lambda work: orders.set_due(work.store, work.at(work.single), None, ACT)),
    ("a customer is called otherwise", _rename_customer),
    ("a plan is kept", lambda work: planned(work.store)),
    ("it is given up", _drop),
    ("sticks are longer", _longer_sticks),
    ("the shop works otherwise", _other_shop),
    ("another one is kept", lambda work: planned(work.store)),
    ("an order comes whose parts it does not hold", lambda work: ordered(work.store, due=DUE)),
    (
        "another one takes more of the same sticks",
        lambda work: ordered(work.store, piece(copies="9"), due=DUE),
    ),
    ("more stock comes", lambda work: receive(work.store, 3)),
    (
        "a stick of it is cut",
        lambda work: book_bin(work.store, BinAtPlan(plan_id=_newest_plan(work), at=FIRST), ACT),
    ),
    (
        "that is taken back",
        lambda work: take_back_booking(
            work.store, BinAtPlan(plan_id=_newest_plan(work), at=FIRST), ACT
        ),
    ),
    ("a part of it is spoiled", _spoil_in_plan),
    ("a material is called otherwise", lambda work: rename(work.store, "LIN-20", "LIN-21")),
    ("one of three is cut", lambda work: _move(work, Stage.CUT, 1)),
    ("all of them are cut", lambda work: _move(work, Stage.CUT)),
    ("one of three is framed", lambda work: _move(work, Stage.FRAMED, 1)),
    (
        "that is taken back",
        lambda work: progress.take_back(work.store, work.at(work.alike), ACT),
    ),
    ("the plan is given up", _drop),
    (
        "a part is spoiled without a plan",
        lambda work: spoiling.spoil(work.store, piece_ids(work.store, work.alike)[0], "mat-1", ACT),
    ),
    (
        "it is cut anew",
        lambda work: spoiling.cut_anew(
            work.store, piece_ids(work.store, work.alike)[0], "mat-1", ACT
        ),
    ),
    (
        "a piece is agreed anew",
        lambda work: orders.replace_piece(
            work.store, work.at(work.single), 1, piece(artwork__size="620 x 397"), ACT
        ),
    ),
    ("a further order comes", lambda work: ordered(work.store, due=DUE)),
    (
        "an order is called off",
        lambda work: progress.move_order(work.store, work.at(work.single), Stage.CANCELLED, ACT),
    ),
)


def test_every_write_is_seen_at_once(store: Store, tmp_path: Path) -> None:
    work = Work(store=store, single=ordered(store), alike=ordered(store, piece(copies="3")))
    before = work.told(store)
    for number, (what, act) in enumerate(ACTS):
        act(work)
        now = work.told(store)
        assert now != before, f"{what}: nothing changed by it"
        folder = tmp_path / str(number)
        folder.mkdir()
        store.copy_into(folder / DATABASE_NAME)
        with Store.open(folder / DATABASE_NAME) as just_opened:
            fresh = work.told(just_opened)
        for answer, told in now.items():
            assert told == fresh[answer], f"{what}: {answer}"
        for piece_id, states in fresh["materials of the one order"].items():
            assert states == fresh["states"][piece_id], f"{what}: asked of one order alone"
        before = now
