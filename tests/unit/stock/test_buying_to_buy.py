"""What is to be bought, worked by hand: wanted less free less coming, above the level, in packs."""

from dataclasses import replace

import pytest

from app.lengths import mm
from app.money import Money
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Selling
from app.stock.buying.to_buy import Demand, Supply, purchase_of
from app.stock.items import StockForm
from app.stock.levels import Levels
from app.stock.planning.parts import PieceRef
from app.stock.purchase_unit import BuyingUnit, bought_as, in_the_price_book
from tests.builders.values import euro
from tests.builders.watercolour import PROFILE, glazing, mat, moulding

RINGS = Material(
    code="RING",
    name="Hanging ring",
    kind=Kind.HARDWARE,
    cost=euro("9.60"),
    per=CostPer.HUNDRED,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=euro("0.80")),
)
WIRE = replace(
    RINGS,
    code="WIRE",
    cost=euro("0.34"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH),
)


def by(*numbers: int) -> tuple[PieceRef, ...]:
    return tuple(
        PieceRef(piece_id=each, order_id=1, order_number="2026-0148", number=each)
        for each in numbers
    )


def sticks(whole: int, *pieces: int) -> Demand:
    return Demand(material="W25", form=StockForm.STICK, whole=whole, pieces=by(*pieces))


def test_a_purchase_is_wanted_less_free_less_on_order_in_packs_and_says_so() -> None:
    # 5 − 2 − 1 = 2; a pack holds 2
    bought = purchase_of(moulding(), sticks(5, 1, 2, 3), Supply(free=2, on_order=1), Levels(pack=2))
    assert (bought.short, bought.quantity) == (2, 2)
    assert bought.why == (
        "5 sticks wanted by 3 pieces, 2 free on the rack, 1 on order: buy 2; in packs of 2: 2."
    )
    assert bought.cost == euro("30.00")  # 2 × 15.00


@pytest.mark.parametrize(
    ("wanted", "supply", "levels", "short", "quantity"),
    [
        (7, Supply(free=2), Levels(), 5, 5),
        (7, Supply(free=2), Levels(pack=4), 5, 8),
        (7, Supply(free=2, on_order=5), Levels(pack=4), 0, 0),
        (7, Supply(free=2, on_order=3, drafted=1), Levels(), 1, 1),
        (0, Supply(free=3), Levels(reorder_at=3), 1, 1),  # 3 free is at the level: one more
        (0, Supply(free=4), Levels(reorder_at=3), 0, 0),
        (2, Supply(free=4), Levels(reorder_at=3, pack=5), 2, 5),  # 2 left after the work; 4 wanted
        (2, Supply(free=0), Levels(reorder_at=0), 3, 3),  # one more than nothing stays
        (3, Supply(free=-2), Levels(), 3, 3),  # a record that is behind takes nothing off the rack
    ],
)
def test_levels_packs_drafts_and_records_that_are_behind(
    wanted: int, supply: Supply, levels: Levels, short: int, quantity: int
) -> None:
    found = purchase_of(moulding(), sticks(wanted, 1), supply, levels)
    assert (found.short, found.quantity) == (short, quantity)


def test_what_is_bought_for_the_shelf_alone_says_the_level() -> None:
    found = purchase_of(mat(), None, Supply(free=1, on_order=1), Levels(reorder_at=4, pack=5))
    assert (found.short, found.quantity) == (3, 5)
    assert found.why == (
        "No sheet wanted by open work, 1 free on the rack, 1 on order, reorder level 4: "
        "buy 3; in packs of 5: 5."
    )


def test_a_record_below_zero_is_said() -> None:
    found = purchase_of(moulding(), sticks(1, 1), Supply(free=-2))
    assert found.why == (
        "1 stick wanted by 1 piece, 0 free on the rack (its record stands at −2; count it): buy 1."
    )


def test_a_stick_of_what_is_costed_by_the_metre_costs_that_times_its_length() -> None:
    short = replace(PROFILE, stick=mm(2900))
    metre = moulding(per=CostPer.METRE, cost=euro("3.25"), profile=short)
    bought = bought_as(metre)
    assert bought.cost == euro("9.43")  # 3.25 × 2.9 = 9.425, half up
    assert (bought.unit, bought.length) == (BuyingUnit.STICK, mm(2900))
    foot = moulding(per=CostPer.FOOT, cost=euro("1.00"), profile=replace(PROFILE, stick=mm("3048")))
    assert bought_as(foot).cost == euro("10.00")  # 3048 mm are 10 ft


def test_a_sheet_of_what_is_costed_by_the_area_costs_that_times_its_area() -> None:
    # 18.00 × 1.120 × 0.815 = 16.4304
    assert bought_as(glazing()).cost == euro("16.43")
    assert bought_as(glazing()).unit is BuyingUnit.SHEET


def test_what_is_costed_by_the_hundred_is_bought_in_hundreds_unless_the_shop_says_otherwise() -> (
    None
):
    wanted = Demand(material="RING", form=StockForm.EACH, whole=130, pieces=by(1))
    found = purchase_of(RINGS, wanted, Supply(free=20))
    assert (found.short, found.quantity, found.cost) == (110, 200, euro("19.20"))
    of_25 = purchase_of(RINGS, wanted, Supply(free=20), Levels(pack=25))
    assert (of_25.quantity, of_25.cost) == (125, euro("12.00"))


def test_wire_is_bought_by_the_metre() -> None:
    wanted = Demand(material="WIRE", form=StockForm.EACH, whole=3)
    found = purchase_of(WIRE, wanted, Supply())
    assert found.cost == euro("1.02")
    assert found.why == "3 metres wanted, 0 free on the rack: buy 3."


def test_what_was_paid_goes_back_into_the_price_book_in_its_own_unit() -> None:
    metre = moulding(per=CostPer.METRE, cost=euro("5.00"))
    assert in_the_price_book(metre, euro("16.50"), 1) == euro("5.50")  # 16.50 / 3 m
    assert in_the_price_book(moulding(), euro("16.50"), 1) == euro("16.50")
    assert in_the_price_book(RINGS, euro("10.40"), 100) == euro("10.40")
    assert in_the_price_book(RINGS, euro("0.11"), 1) == euro("11.00")
    assert in_the_price_book(glazing(), euro("18.26"), 1) == euro("20.00")  # / 0.9128 m² = 20.004…


@pytest.mark.parametrize("cost", [Money(minor, euro("1").currency) for minor in range(1, 400, 7)])
def test_an_unchanged_cost_comes_back_as_it_was(cost: Money) -> None:
    for material in (moulding(per=CostPer.METRE, cost=cost), moulding(cost=cost), mat(cost=cost)):
        bought = bought_as(material)
        assert in_the_price_book(material, bought.cost, bought.cost_for) == cost


def test_what_is_counted_has_no_word_for_one_since_a_piece_is_an_artwork() -> None:
    wanted = Demand(material="RING", form=StockForm.EACH, whole=2, pieces=by(1))
    assert purchase_of(RINGS, wanted, Supply(free=5)).why == (
        "2 wanted by 1 piece, 5 free on the rack: nothing to buy."
    )
    assert purchase_of(RINGS, None, Supply(free=5)).why == (
        "None wanted by open work, 5 free on the rack: nothing to buy."
    )
    assert BuyingUnit.EACH.per_one == "each"
    assert [BuyingUnit.FOOT.counted(count) for count in (1, 2)] == ["1 foot", "2 feet"]
