"""What a framed piece takes off the rack. Figures by hand; the oldest first is common practice."""

from datetime import UTC, datetime
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Conflict, Invalid
from app.money import Money, currency
from app.stock.consumption import taken_off
from app.stock.items import Item, StockForm, StockItem
from app.stock.movements import Movement, MovementKind, NewMovement, contrary

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
RINGS = Item(material="R-1", form=StockForm.EACH, unit_cost=Money(12, currency("EUR")))


def rack(*on_hand: int) -> tuple[StockItem, ...]:
    """Items of one material, the oldest first, with ids from 1."""
    return tuple(
        StockItem(id=id, version=1, item=RINGS, on_hand=count)
        for id, count in enumerate(on_hand, start=1)
    )


def off(used: str, *on_hand: int, opened: str = "0") -> list[tuple[int, int, Fraction]]:
    """(item, how many whole ones, exactly how much) that leave the rack."""
    taken = taken_off(Fraction(used), rack(*on_hand), Fraction(opened))
    return [(each.item.id, each.count, each.used) for each in taken]


def test_the_oldest_that_is_there_is_taken_first() -> None:
    assert off("2", 0, 5, 9) == [(2, 2, 2)]


def test_what_one_item_does_not_have_the_next_one_gives() -> None:
    assert off("4", 1, 0, 2, 7) == [(1, 1, 1), (3, 2, 2), (4, 1, 1)]


def test_what_is_nowhere_leaves_the_newest_below_zero() -> None:
    assert off("4", 1, 2) == [(1, 1, 1), (2, 3, 3)]
    assert off("2", 0, 0) == [(2, 2, 2)]
    assert off("1", -3) == [(1, 1, 1)]


def test_a_metre_that_was_opened_serves_the_next_piece() -> None:
    # 1.4 m opens two of them and leaves 0.6; 0.5 m comes of that and leaves 0.1; 0.5 m opens a third.
    assert off("1.4", 9) == [(1, 2, Fraction(7, 5))]
    assert off("0.5", 7, opened="0.6") == [(1, 0, Fraction(1, 2))]
    assert off("0.5", 7, opened="0.1") == [(1, 1, Fraction(1, 2))]


def test_a_part_that_is_split_over_two_rolls_adds_up() -> None:
    assert off("1.5", 1, 4) == [(1, 1, Fraction(3, 4)), (2, 1, Fraction(3, 4))]


@given(
    st.lists(st.fractions(min_value="1/1000", max_value=30, max_denominator=1000), min_size=1),
    st.lists(st.integers(-5, 40), min_size=1, max_size=4),
)
def test_what_left_in_all_is_what_was_used_rounded_up(
    uses: list[Fraction], on_hand: list[int]
) -> None:
    left, used = list(on_hand), Fraction(0)
    for each in uses:
        opened = sum(on_hand) - sum(left) - used
        taken = taken_off(each, rack(*left), opened)
        used += each
        for one in taken:
            left[one.item.id - 1] -= one.count
        assert sum(one.used for one in taken) == each
        assert all(one.used > 0 for one in taken)
        assert 0 <= sum(on_hand) - sum(left) - used < 1


def movement(change: int, used: str) -> Movement:
    entry = NewMovement(
        kind=MovementKind.USED, change=change, at=NOW, by="Ilse", piece_id=4, used=Fraction(used)
    )
    return Movement(id=7, item_id=1, entry=entry)


@pytest.mark.parametrize("change", [-2, 0])
def test_what_was_used_is_taken_back_also_where_it_opened_nothing(change: int) -> None:
    used = movement(change, "0.4" if change == 0 else "2")
    back = contrary([used], 7, at=NOW, by="Bo")
    assert (back.kind, back.change, back.piece_id) == (MovementKind.TAKEN_BACK, -change, 4)
    with pytest.raises(Conflict, match="already"):
        contrary([used, Movement(id=8, item_id=1, entry=back)], 7, at=NOW, by="Bo")


@pytest.mark.parametrize(
    ("kind", "change", "piece_id", "used"),
    [
        (MovementKind.USED, -1, None, Fraction(1)),
        (MovementKind.USED, -1, 4, None),
        (MovementKind.USED, -1, 4, Fraction(0)),
        (MovementKind.USED, 1, 4, Fraction(1)),
        (MovementKind.CUT, -1, 4, Fraction(1)),
        (MovementKind.CUT, 0, 4, None),
    ],
)
def test_what_was_used_was_used_by_a_piece(
    kind: MovementKind, change: int, piece_id: int | None, used: Fraction | None
) -> None:
    with pytest.raises(Invalid):
        NewMovement(kind=kind, change=change, at=NOW, by="", piece_id=piece_id, used=used)
