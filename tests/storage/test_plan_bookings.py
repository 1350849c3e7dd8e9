"""What was cut by a plan, booked and taken back: the rack by hand, and the laws of it."""

import random
import sqlite3
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace

import pytest

from app.errors import Conflict, Invalid
from app.framing import Shape
from app.lengths import Size, mm
from app.orders import Stage
from app.pricing import Material
from app.services import orders, plans, stock
from app.services import stages as progress
from app.services.booked_bin import ToKeep
from app.services.open_work import WorkFilter, open_work, problems_for
from app.services.orders import OrderAt
from app.services.plan_bookings import book_bin, book_bins, take_back_booking
from app.services.plan_fallouts import fallouts_on_offer
from app.services.plans import BinAtPlan, PlanAt, keep_plan
from app.services.stock import Received, Withdrawal
from app.stock.items import Item, StockForm, StockItem
from app.stock.movements import MovementKind
from app.stock.planning.open_work import PartState
from app.stock.planning.plans import BinAt, PlanStage, standing, unbooked
from app.storage import Store, check_database
from tests.builders.kept import ACT, piece
from tests.builders.values import euro
from tests.storage.plan_work import one_mat, ordered, piece_ids, planned, problem_of

pytestmark = pytest.mark.slow

FIRST = BinAt(section=1, bin=1)
RAILS = frozenset({"LIN-20"})


def sticks(store: Store, count: int = 1, batch: str = "") -> int:
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("28.20"),
        length=mm(3000),
        batch=batch,
        place="Rack 2",
    )
    return stock.receive(store, Received(item=item, count=count), ACT)


def sheets(store: Store, count: int = 1) -> int:
    size = Size(mm(1120), mm(815))
    item = Item(material="M-101", form=StockForm.SHEET, unit_cost=euro("12.00"), size=size)
    return stock.receive(store, Received(item=item, count=count), ACT)


def item(store: Store, item_id: int) -> StockItem:
    return stock.look(store, item_id).kept


def rails_plan(store: Store, *, on_rack: bool = True) -> int:
    if on_rack:
        sticks(store, batch="LOT 7")
    ordered(store)
    return planned(store, WorkFilter(materials=RAILS))


def mat_plan(store: Store) -> int:
    """The top mat of one piece in the corner of a sheet, see `one_mat`."""
    ordered(store)
    problem = problem_of(problems_for(store), "M-101")
    return keep_plan(store, [one_mat(problem)], ACT)


def test_a_stick_booked_is_gone_and_its_offcut_is_on_the_rack_with_a_label_and_its_share(
    store: Store,
) -> None:
    plan_id = rails_plan(store)
    booked = book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT, ToKeep(offcuts=("Bin A",)))
    assert booked.taken is not None
    assert booked.taken.on_hand == 0
    (kept,) = booked.kept
    # By hand: 900 of 3000 left over, 3/10 of 28.20. The parts end at 2066 of 3000, 19.4204, so at
    # 19.42; with the offcut at 2966 of 3000, 27.8804, so at 27.88: 8.46.
    assert (kept.item.length, kept.item.unit_cost, kept.on_hand) == (mm(900), euro("8.46"), 1)
    assert (kept.item.label, kept.item.batch, kept.item.place) == ("K-2026-0001", "LOT 7", "Bin A")
    assert booked.notices == ()
    assert booked.done
    assert plans.get(store, plan_id).stage is PlanStage.DONE
    record = stock.look(store, kept.id).movements
    assert [(each.entry.kind, each.entry.plan_id) for each in record] == [
        (MovementKind.KEPT, plan_id)
    ]
    assert check_database(store) == ()


def test_the_offcuts_of_a_sheet_carry_their_share_of_its_cost(store: Store) -> None:
    sheets(store)
    booked = book_bin(store, BinAtPlan(plan_id=mat_plan(store), at=FIRST), ACT)
    # A sheet of 1120 × 815 = 912 800 mm² at 12.00. The mat, 542 × 429 = 232 518, ends at 3.0567, so
    # at 3.06; the rest under it, 1120 × 386 = 432 320, at 8.7402, so at 8.74: 5.68; the one beside it,
    # 578 × 429 = 247 962, is all that is left: 12.00 - 8.74 = 3.26.
    assert [(each.item.size, each.item.unit_cost) for each in booked.kept] == [
        (Size(mm(1120), mm(386)), euro("5.68")),
        (Size(mm(578), mm(429)), euro("3.26")),
    ]


def test_what_is_not_worth_its_place_is_not_kept(store: Store) -> None:
    sheets(store)
    which = BinAtPlan(plan_id=mat_plan(store), at=FIRST)
    with pytest.raises(Invalid, match="2 offcuts are left over"):
        book_bin(store, which, ACT, ToKeep(offcuts=("Shelf",)))
    with pytest.raises(Invalid, match="place"):
        book_bin(store, which, ACT, ToKeep(offcuts=("x" * 61, None)))
    booked = book_bin(store, which, ACT, ToKeep(offcuts=("Shelf", None)))
    assert [each.item.place for each in booked.kept] == ["Shelf"]


def test_the_fallout_of_a_window_is_offered_and_kept_with_its_share(store: Store) -> None:
    sheets(store)
    which = BinAtPlan(plan_id=mat_plan(store), at=FIRST)
    (offered,) = fallouts_on_offer(store, which)
    # Window 1 is 422 × 299 at the back, the smaller face of what drops out of it (G8, C5).
    assert (offered.sound, offered.shape) == (Size(mm(422), mm(299)), Shape.RECTANGLE)
    assert offered.part.key == "mat-1"
    with pytest.raises(Invalid, match="not one of this sheet"):
        book_bin(store, which, ACT, ToKeep(fallouts={"99/mat-1/1": ""}))
    booked = book_bin(
        store, which, ACT, ToKeep(offcuts=(None, None), fallouts={offered.id: "Drawer"})
    )
    (kept,) = booked.kept
    # 422 × 299 = 126 178. The mat without it is 106 340 of 912 800 mm²: 1.3980, so 1.40; with it
    # 232 518: 3.0567, so 3.06; 1.66 for the fallout.
    assert (kept.item.size, kept.item.unit_cost) == (Size(mm(422), mm(299)), euro("1.66"))
    assert (kept.item.material, kept.item.place) == ("M-101", "Drawer")


def test_a_stick_that_was_to_buy_is_taken_from_what_has_come_since(store: Store) -> None:
    plan_id = rails_plan(store, on_rack=False)
    came = sticks(store, 2)
    booked = book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    assert booked.taken is not None
    assert (booked.taken.id, booked.taken.on_hand, booked.notices) == (came, 1, ())


def test_a_stick_that_nobody_noted_can_be_booked_and_that_is_said(store: Store) -> None:
    plan_id = rails_plan(store, on_rack=False)
    booked = book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    assert booked.taken is not None
    # 3 m at 9.40.
    assert (booked.taken.on_hand, booked.taken.item.unit_cost) == (-1, euro("28.20"))
    assert [notice.code for notice in booked.notices] == ["below-zero"]
    assert check_database(store) == ()


def test_a_stick_that_another_plan_has_taken_is_left_to_it_while_there_are_others(
    store: Store,
) -> None:
    ordered(store, piece(), piece())
    first, second = piece_ids(store, 1)
    bought = planned(store, WorkFilter(pieces=frozenset({first}), materials=RAILS))
    old, young = sticks(store), sticks(store, batch="B2")
    # The first plan has a claim on one of the two; the second plan takes the other.
    taking = planned(store, WorkFilter(pieces=frozenset({second}), materials=RAILS))
    assert plans.get(store, taking).sections[0].sources == (young,)
    booked = book_bin(store, BinAtPlan(plan_id=bought, at=FIRST), ACT)
    assert booked.taken is not None
    assert booked.taken.id == old


def test_a_bin_is_booked_once(store: Store) -> None:
    which = BinAtPlan(plan_id=rails_plan(store), at=FIRST)
    book_bin(store, which, ACT)
    with pytest.raises(Conflict, match="booked already by Ilse"):
        book_bin(store, which, ACT)
    rail = plans.get(store, which.plan_id).parts()[0]
    with pytest.raises(Conflict, match="booked as cut"):
        plans.tick_part(store, which.plan_id, rail.id, ACT, ticked=True)


def test_a_dropped_plan_books_nothing_more_and_what_it_cut_stays_cut(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    plans.drop_plan(store, PlanAt(id=plan_id, version=2))
    with pytest.raises(Conflict, match="was deleted"):
        book_bin(store, BinAtPlan(plan_id=plan_id, at=BinAt(section=2, bin=1)), ACT)
    keys = {part.key for part in open_work(store).parts}
    assert "backing" not in keys  # B-3, the first section by its code
    assert "glazing" in keys
    take_back_booking(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    assert "backing" in {part.key for part in open_work(store).parts}
    assert plans.get(store, plan_id).stage is PlanStage.DROPPED


def test_a_booking_says_which_pieces_are_all_cut_now(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    bins = unbooked(plans.get(store, plan_id))
    booked = [book_bin(store, BinAtPlan(plan_id=plan_id, at=at), ACT) for at in bins]
    assert [len(each.all_cut) for each in booked] == [0, 0, 0, 0, 1]
    assert booked[-1].all_cut[0].name == "2026-0001/1"
    assert [each.done for each in booked] == [False, False, False, False, True]
    assert {each.state for each in open_work(store).pieces[0].parts} == {PartState.CUT}
    assert open_work(store).parts == ()


def test_taking_back_opens_the_plan_again_and_undoes_the_stock(store: Store) -> None:
    plan_id = rails_plan(store)
    which = BinAtPlan(plan_id=plan_id, at=FIRST)
    booked = book_bin(store, which, ACT)
    take_back_booking(store, which, ACT)
    assert booked.taken is not None
    assert item(store, booked.taken.id).on_hand == 1
    assert item(store, booked.kept[0].id).on_hand == 0
    plan = plans.get(store, plan_id)
    assert (plan.stage, plan.version) == (PlanStage.OPEN, 3)
    with pytest.raises(Conflict, match="not booked"):
        take_back_booking(store, which, ACT)
    again = book_bin(store, which, ACT)
    assert again.kept[0].item.label == "K-2026-0002"
    assert check_database(store) == ()


def test_a_booking_stays_while_its_offcut_is_in_use_elsewhere(store: Store) -> None:
    plan_id = rails_plan(store)
    which = BinAtPlan(plan_id=plan_id, at=FIRST)
    booked = book_bin(store, which, ACT)
    (kept,) = booked.kept
    # 60 − 10 + 12 + 40 = 102 each way, rails of 102 + 3 + 28 = 133: four of them with what the saw
    # takes are 557.5 of the 900.
    ordered(store, piece(artwork__size="60 x 60", borders__left="20", borders__right="20",
                         borders__top="20", borders__bottom="20"))  # fmt: skip
    second = planned(store, WorkFilter(materials=RAILS))
    assert kept.id in plans.get(store, second).sections[0].sources
    with pytest.raises(Conflict, match="in an open cutting plan"):
        take_back_booking(store, which, ACT)
    plans.drop_plan(store, PlanAt(id=second, version=1))
    stock.take(store, kept.id, Withdrawal(kind=MovementKind.CUT, count=1), ACT)
    with pytest.raises(Conflict, match="is gone since"):
        take_back_booking(store, which, ACT)


def test_what_was_taken_back_at_the_rack_already_is_not_taken_back_twice(store: Store) -> None:
    plan_id = rails_plan(store)
    which = BinAtPlan(plan_id=plan_id, at=FIRST)
    booked = book_bin(store, which, ACT)
    (kept,) = booked.kept
    stock.take_back(store, kept.id, stock.look(store, kept.id).movements[0].id, ACT)
    take_back_booking(store, which, ACT)
    assert item(store, kept.id).on_hand == 0
    assert check_database(store) == ()


def test_a_part_spoiled_after_it_was_booked_is_cut_from_new_stock(store: Store) -> None:
    sheets(store)
    plan_id = mat_plan(store)
    which = BinAtPlan(plan_id=plan_id, at=FIRST)
    book_bin(store, which, ACT)
    (mat,) = plans.get(store, plan_id).parts()
    plans.spoil_part(store, plan_id, mat.id, ACT, note="Overcut corner")
    assert mat.id in {part.id for part in open_work(store).parts}
    second = planned(store, WorkFilter(materials=frozenset({"M-101"})))
    book_bin(store, BinAtPlan(plan_id=second, at=FIRST), ACT)
    assert mat.id not in {part.id for part in open_work(store).parts}
    assert plans.look(store, plan_id).standing.spoiled[mat.id].note == "Overcut corner"


def test_a_plan_of_a_material_that_left_the_book_is_cut_without_its_stock(store: Store) -> None:
    ordered(store)
    with store.reading() as work:
        version = work.materials.get("LIN-20").version
    with store.writing() as work:
        work.materials.remove("LIN-20", version)
    plan_id = planned(store, WorkFilter(materials=RAILS))
    which = BinAtPlan(plan_id=plan_id, at=FIRST)
    booked = book_bin(store, which, ACT)
    assert (booked.taken, booked.kept, booked.done) == (None, (), True)
    assert [notice.code for notice in booked.notices] == ["left-the-book"]
    take_back_booking(store, which, ACT)
    assert plans.get(store, plan_id).stage is PlanStage.OPEN


def test_the_record_of_a_plan_only_grows(store: Store) -> None:
    plan_id = rails_plan(store)
    book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    with closing(sqlite3.connect(store.path)) as connection:
        for statement in (
            "UPDATE plan_bookings SET by = 'Bo'",
            "DELETE FROM plan_bookings",
            "DELETE FROM plan_parts",
            "UPDATE plan_parts SET bin = 2",
            "UPDATE cutting_plans SET sections = '[]'",
            "DELETE FROM cutting_plans",
        ):
            with pytest.raises(sqlite3.IntegrityError):
                connection.execute(statement)


def test_a_database_whose_plan_says_done_too_early_is_not_whole(store: Store) -> None:
    plan_id = rails_plan(store)
    with store.writing() as work:
        work.plans.move(plan_id, PlanStage.DONE)
    assert check_database(store) == (
        "P-2026-0001 is said to be done, but not all of it is booked.",
    )


def _counts(store: Store) -> Mapping[str, int]:
    """What is on hand, by what it is: offcuts of taken-back bookings lie at nothing."""
    with store.reading() as work:
        found: dict[str, int] = {}
        for code in ("LIN-20", "M-101", "M-140", "G-2", "B-3"):
            for kept in work.stock.of_material(code, gone=True):
                what = f"{code} {kept.item.length} {kept.item.size} {kept.item.whole}"
                found[what] = found.get(what, 0) + kept.on_hand
        return {what: count for what, count in found.items() if count}


def _states(store: Store, order_id: int) -> dict[str, PartState]:
    pieces = open_work(store).pieces
    return {
        stands.part.id: stands.state
        for piece in pieces
        for stands in piece.parts
        if piece.ref.order_id == order_id
    }


@pytest.mark.parametrize("seed", range(8))
def test_whatever_is_booked_and_taken_back_every_part_is_somewhere_and_every_count_comes_back(
    store: Store, seed: int
) -> None:
    """Laws: parts cut + open + planned are all parts; booking then taking back restores the rack."""
    dice = random.Random(seed)
    sticks(store, 2)
    sheets(store, 1)
    order_id = ordered(store, piece(), piece())
    every = set(_states(store, order_id))
    plan_id = planned(store)
    before = _counts(store)
    for _ in range(12):
        plan = plans.get(store, plan_id)
        at = dice.choice(list(plan.bins()))
        which = BinAtPlan(plan_id=plan_id, at=at)
        if at in unbooked(plan):
            book_bin(store, which, ACT)
        else:
            take_back_booking(store, which, ACT)
        states = _states(store, order_id)
        booked = {
            part.id
            for each in plan.bins()
            if each not in unbooked(plans.get(store, plan_id))
            for part in plan.parts_in(each)
        }
        assert set(states) == every
        assert {id for id, state in states.items() if state is PartState.CUT} == booked
        assert PartState.OPEN not in states.values()
    plan = plans.get(store, plan_id)
    for at in set(plan.bins()) - set(unbooked(plan)):
        take_back_booking(store, BinAtPlan(plan_id=plan_id, at=at), ACT)
    # What nobody noted was booked below zero and is at nothing again.
    assert _counts(store) == before
    assert check_database(store) == ()


def test_a_piece_is_moved_to_cut_by_people_not_by_a_booking(store: Store) -> None:
    order_id = ordered(store)
    plan_id = planned(store)
    for at in unbooked(plans.get(store, plan_id)):
        book_bin(store, BinAtPlan(plan_id=plan_id, at=at), ACT)
    assert orders.get(store, order_id).stage is Stage.ORDERED
    at_order = OrderAt(id=order_id, version=orders.get(store, order_id).version)
    progress.move_order(store, at_order, Stage.CUT, ACT)
    assert open_work(store).pieces == ()


def test_a_turned_sheet_of_the_usual_size_is_taken_for_a_whole_one(store: Store) -> None:
    turned = Item(
        material="M-101",
        form=StockForm.SHEET,
        unit_cost=euro("12.00"),
        size=Size(mm(815), mm(1120)),
    )
    came = stock.receive(store, Received(item=turned, count=1), ACT)
    plan_id = mat_plan(store)
    assert plans.get(store, plan_id).sections[0].sources == (came,)
    booked = book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    assert [each.item.unit_cost for each in booked.kept] == [euro("5.68"), euro("3.26")]


def test_a_renamed_material_keeps_its_stock_in_a_plan(store: Store) -> None:
    source = sticks(store)
    ordered(store)
    plan_id = planned(store, WorkFilter(materials=RAILS))
    with store.reading() as work:
        kept = work.materials.get("LIN-20")
    renamed: Material = replace(kept.value, code="LIN-21")
    with store.writing() as work:
        work.materials.save("LIN-20", renamed, kept.version, now=ACT.now)
    booked = book_bin(store, BinAtPlan(plan_id=plan_id, at=FIRST), ACT)
    assert booked.taken is not None
    assert (booked.taken.id, booked.kept[0].item.material) == (source, "LIN-21")


def test_of_two_phones_that_book_one_stick_one_is_told(store: Store) -> None:
    plan_id = rails_plan(store)
    which = BinAtPlan(plan_id=plan_id, at=FIRST)

    def book(_: int) -> str:
        try:
            book_bin(store, which, ACT)
        except Conflict as conflict:
            return conflict.message
        return ""

    with ThreadPoolExecutor(max_workers=4) as phones:
        told = sorted(phones.map(book, range(4)))
    assert told[0] == ""
    assert all("booked already" in each for each in told[1:])
    with store.reading() as work:
        on_hand = {
            kept.item.whole: kept.on_hand for kept in work.stock.of_material("LIN-20", gone=True)
        }
    assert on_hand == {True: 0, False: 1}


def test_several_are_booked_together_or_none_of_them(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    every = tuple(plans.get(store, plan_id).bins())
    book_bin(store, BinAtPlan(plan_id=plan_id, at=every[-1]), ACT)
    with pytest.raises(Conflict, match="booked already"):
        book_bins(store, plan_id, dict.fromkeys(every, ToKeep()), ACT)
    assert unbooked(plans.get(store, plan_id)) == every[:-1]
    booked = book_bins(store, plan_id, dict.fromkeys(every[:-1], ToKeep()), ACT)
    assert len(booked) == len(every) - 1
    assert booked[-1].done
    assert plans.get(store, plan_id).stage is PlanStage.DONE


def test_several_parts_are_ticked_together_or_none_of_them(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    parts = [part.id for part in plans.get(store, plan_id).parts()]
    plans.tick_parts(store, plan_id, parts[:3], ACT, ticked=True)
    assert set(standing(plans.get(store, plan_id)).ticked) == set(parts[:3])
    last = plans.get(store, plan_id).bin_of(parts[-1])
    book_bin(store, BinAtPlan(plan_id=plan_id, at=last), ACT)
    with pytest.raises(Conflict, match="undo the booking first"):
        plans.tick_parts(store, plan_id, [parts[0], parts[-1]], ACT, ticked=False)
    assert set(standing(plans.get(store, plan_id)).ticked) == set(parts[:3])
