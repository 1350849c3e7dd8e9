"""What is there of a material: counted, free, worth, and what is said about it. Figures by hand."""

from dataclasses import replace

import pytest

from app.errors import Invalid
from app.lengths import mm
from app.stock.balances import balance_of, notices_of, notices_of_item
from app.stock.levels import Levels
from tests.builders.rack import MOULDING, offcut, sticks
from tests.builders.values import euro

RACK = (sticks(1, 5), sticks(2, 2, cost="30.00"), offcut(3, mm(740), "6.96"))


def test_whole_sticks_and_offcuts_are_counted_apart_and_valued_together() -> None:
    # 5 × 28.20 + 2 × 30.00 + 6.96 = 141.00 + 60.00 + 6.96
    balance = balance_of(MOULDING, RACK)
    assert (balance.whole, balance.offcuts, balance.value) == (7, 1, euro("207.96"))
    assert (balance.free, balance.low, balance.overdrawn) == (7, False, False)
    assert notices_of(balance) == ()


def test_a_material_without_items_is_worth_nothing() -> None:
    balance = balance_of(MOULDING, ())
    assert (balance.whole, balance.value) == (0, euro("0"))


@pytest.mark.parametrize(
    ("level", "reserved", "low", "buy"),
    [
        (None, 0, False, 0),
        (6, 0, False, 0),
        (7, 0, True, 10),  # 7 free, level 7: one more is missing, and they come by tens
        (6, 2, True, 10),  # 5 free
        (16, 0, True, 10),  # ten missing
        (17, 0, True, 20),  # eleven missing
    ],
)
def test_it_is_time_to_buy_at_the_level_and_by_the_pack(
    level: int | None, reserved: int, low: bool, buy: int
) -> None:
    levels = Levels(reorder_at=level, pack=10)
    balance = balance_of(MOULDING, RACK, levels, {1: reserved})
    assert (balance.low, balance.to_buy) == (low, buy)


def test_what_ought_to_be_looked_at_is_said_worst_first() -> None:
    items = (sticks(1, 2), sticks(2, -1))
    balance = balance_of(MOULDING, items, Levels(reorder_at=3, pack=5), {1: 2})
    # 1 on hand in all, 2 taken: −1 free; 5 are missing to be above 3.
    assert [(each.code, each.message) for each in notices_of(balance)] == [
        (
            "below-zero",
            "More of LIN-20 was cut or spoiled than was ever bought. Count what is there.",
        ),
        (
            "overdrawn",
            "Open cutting plans have reserved 2 sticks of LIN-20; on hand: 1. Buy the rest, or plan again.",
        ),
        ("low", "LIN-20: −1 stick free, and the reorder level is 3. Buy 5 sticks."),
    ]


def test_an_offcut_that_two_plans_want_is_said() -> None:
    balance = balance_of(MOULDING, RACK, reserved={3: 2})
    assert [each.code for each in notices_of(balance)] == ["overdrawn"]
    assert balance.reserved == 2


def test_what_stands_below_zero_is_not_laid_to_plans_that_took_nothing() -> None:
    balance = balance_of(MOULDING, (sticks(1, -1),))
    assert [each.code for each in notices_of(balance)] == ["below-zero"]
    taken = balance_of(MOULDING, (sticks(1, -1),), reserved={1: 1})
    assert notices_of(taken)[1].message == (
        "Open cutting plans have reserved 1 stick of LIN-20; on hand: −1. Buy the rest, or plan again."
    )


def test_an_item_says_for_itself_what_is_wrong() -> None:
    codes = [each.code for each in notices_of_item(sticks(1, -2), MOULDING, reserved=1)]
    assert codes == ["below-zero", "overdrawn"]
    assert notices_of_item(sticks(1, 2), MOULDING, reserved=2) == ()


def test_nothing_is_wrong_with_what_is_used_up() -> None:
    assert notices_of_item(sticks(1, 0), MOULDING) == ()
    assert notices_of(balance_of(MOULDING, (sticks(1, 0),))) == ()


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"reorder_at": -1}, "reorder_at"),
        ({"reorder_at": 100_001}, "reorder_at"),
        ({"pack": 0}, "pack"),
        ({"place": "x" * 61}, "place"),
    ],
)
def test_levels_that_make_no_sense_are_refused_at_their_field(
    changes: dict[str, int | str], path: str
) -> None:
    with pytest.raises(Invalid) as caught:
        replace(Levels(), **changes)  # type: ignore[arg-type]
    assert [fault.path for fault in caught.value.faults] == [path]
