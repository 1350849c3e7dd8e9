"""The grid of a plan: exact where numbers stay small, safe where they would not."""

from fractions import Fraction

import pytest

from app.cutting.grid import Grid, exact_ticks, small_ticks
from app.lengths import ZERO, inches, mm


@pytest.mark.parametrize(
    ("lengths", "tick"),
    [
        # By hand: 3000 = 6 x 500, 500 = 1 x 500.
        ((mm(3000), mm(500)), 500),
        # 8 and 2990 have 2 in common.
        ((mm(8), mm(2990)), 2),
        # In tenths 5123 and 300, which have no divisor in common.
        ((mm("512.3"), mm(30)), Fraction(1, 10)),
        # 1/64 in = 127/320 mm and 1 mm = 320/320 mm; 127 is prime.
        ((inches("1/64"), mm(1)), Fraction(1, 320)),
        # A third and a seventh of a millimetre need 21sts.
        ((mm(Fraction(1, 3)), mm(Fraction(1, 7))), Fraction(1, 21)),
        ((ZERO, mm(12)), 12),
        ((ZERO,), 1),
        ((), 1),
    ],
)
def test_the_exact_grid_is_the_coarsest_on_which_every_length_is_whole(lengths, tick):
    assert exact_ticks(lengths).mm == tick


def test_on_the_exact_grid_lengths_come_back_as_they_were():
    lengths = (mm("512.3"), inches("63/8"), mm(3000))
    grid = exact_ticks(lengths)
    assert all(grid.fit(each) for each in lengths)
    assert [grid.length(grid.up(each)) for each in lengths] == list(lengths)
    assert [grid.up(each) for each in lengths] == [grid.down(each) for each in lengths]


def test_the_exact_grid_serves_where_its_numbers_are_small():
    lengths = (mm(3000), mm("512.3"))
    assert small_ticks(lengths, most=30_000) == exact_ticks(lengths)


def test_a_coarser_grid_rounds_parts_up_and_stock_down():
    # 3000 mm in tenths would be 30,000 ticks; at most 1000 makes a tick 3 mm.
    grid = small_ticks((mm(3000), mm("512.3")), most=1000)
    assert grid == Grid(mm=Fraction(3))
    # 512.3 / 3 = 170.77 and 740 / 3 = 246.67.
    assert (grid.up(mm("512.3")), grid.down(mm("740"))) == (171, 246)
    assert not grid.fit(mm("740"))


def test_what_is_below_zero_is_rounded_the_same_ways():
    grid = Grid(mm=Fraction(3))
    assert (grid.up(mm(-4)), grid.down(mm(-4))) == (-1, -2)


def test_no_lengths_make_a_grid_too():
    assert small_ticks((), most=10) == Grid(mm=Fraction(1))
