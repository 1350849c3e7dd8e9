"""Sticks, counted by hand."""

from itertools import permutations

import pytest

from app.documents.kit.stock_words import sticks_for
from app.lengths import Length, mm


@pytest.mark.parametrize(
    ("rails", "stick", "loss", "sticks"),
    [
        # 2 × (603 + 490) + 4 × 8.5 = 2220
        ((603, 490), 3000, "8.5", 1),
        ((603, 490), 2220, "8.5", 1),
        ((603, 490), 2219, "8.5", 2),
        # long with long 1894, short with short 1294
        ((947, 647), 2000, "0", 2),
        # long with short 1594 twice, where two long ones do not go
        ((947, 647), 1600, "0", 2),
        # no two go together
        ((947, 647), 1200, "0", 4),
        # two short ones go together, the long ones each alone
        ((947, 547), 1100, "0", 3),
        ((603, 490), 611, "8.5", None),
    ],
)
def test_sticks_are_counted_long_point_to_long_point(
    rails: tuple[int, int], stick: int, loss: str, sticks: int | None
) -> None:
    assert sticks_for((mm(rails[0]), mm(rails[1])), mm(stick), mm(loss)) == sticks


def _fewest(rails: tuple[int, ...], stick: int) -> int:
    """By trying every order, each rail in the stick that is open or a new one."""

    def in_order(order: tuple[int, ...]) -> int:
        count, left = 0, -1
        for rail in order:
            if rail > left:
                count, left = count + 1, stick
            left -= rail
        return count

    return min(map(in_order, permutations(rails)))


def test_no_other_order_of_the_four_rails_needs_fewer_sticks() -> None:
    none = Length(mm(0).mm)
    for stick in range(10, 48):
        for long in range(1, 11):
            for short in range(1, long + 1):
                made = sticks_for((mm(long), mm(short)), mm(stick), none)
                assert made == _fewest((long, long, short, short), stick), (stick, long, short)
