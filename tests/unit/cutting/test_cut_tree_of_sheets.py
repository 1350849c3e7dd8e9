"""From blocks to cuts: which rest is left, and by how many stages."""

import pytest

from app.cutting.plan import Way
from app.cutting.sheets.cut_tree import CutLayout, PlacedPart, Region, Slab, block_of, lay, row_of

ACROSS, DOWN = Way.ACROSS, Way.DOWN


def one(part: int, width: int, height: int) -> Slab:
    return Slab(width=width, height=height, part=part)


def anything(box: Region) -> int:
    return box.width * box.height


def laid(block: Slab, stages: int | None = 3, side: int = 1000) -> CutLayout:
    layout = lay(block, side, side, stages, anything)
    assert layout is not None
    return layout


def cuts_of(layout: CutLayout) -> list[tuple[int, Way, int]]:
    return [(cut.stage, cut.way, cut.ends) for cut in layout.cuts]


def test_of_two_first_cuts_the_one_that_leaves_the_larger_rest_is_made() -> None:
    # By hand: 600 × 400 from 1000 × 1000 leaves 1000 × 600, or 400 × 1000.
    layout = laid(one(0, 600, 400))
    assert cuts_of(layout) == [(1, ACROSS, 400), (2, DOWN, 600)]
    assert layout.rests[-1] == Region(0, 400, 1000, 600)


def test_parts_below_one_another_are_first_parted_from_the_wide_rest_beside_them() -> None:
    # By hand: 600 × 400 above 500 × 300 leave 400 × 1000 beside them, or 1000 × 300 below.
    block = row_of(ACROSS, [one(0, 600, 400), one(1, 500, 300)])
    layout = laid(block)
    assert cuts_of(layout)[0] == (1, DOWN, 600)
    assert Region(600, 0, 400, 1000) in layout.rests


def test_the_rest_of_a_row_and_of_the_sheet_go_together_where_that_is_larger() -> None:
    # By hand: rows of 1000 × 500 and 200 × 300 in 1000 × 1000. Cut off first, the rest below is
    # 1000 × 200 = 200,000 and that beside the second 800 × 300; together they are 800 × 500.
    block = row_of(ACROSS, [one(0, 1000, 500), one(1, 200, 300)])
    layout = laid(block, stages=2)
    assert layout.areas[0] == 800 * 500
    assert Region(200, 500, 800, 500) in layout.rests


def test_a_last_cut_that_trims_one_part_is_beyond_the_stages() -> None:
    row = row_of(DOWN, [one(0, 500, 400), one(1, 500, 300)])
    block = row_of(ACROSS, [row, one(2, 1000, 600)])
    assert block.depth == 2
    assert max(cut.stage for cut in laid(block, stages=2).cuts) == 3


def test_a_block_that_takes_more_stages_than_allowed_is_not_laid() -> None:
    column = row_of(ACROSS, [one(0, 500, 400), one(1, 500, 600)])
    row = row_of(DOWN, [column, one(2, 500, 900)])
    block = row_of(ACROSS, [row, one(3, 300, 10)])
    assert block.depth == 3
    assert lay(block, 1000, 1010, 2, anything) is None
    assert lay(block, 1000, 1010, 3, anything) is not None
    assert lay(block, 1000, 1010, None, anything) is not None


def test_a_block_that_is_too_large_is_not_laid() -> None:
    assert lay(one(0, 1001, 10), 1000, 1000, None, anything) is None


def test_a_part_that_fills_the_sheet_needs_no_cut() -> None:
    assert cuts_of(laid(one(0, 1000, 1000))) == []


def placed(part: int, x: int, y: int, width: int, height: int) -> PlacedPart:
    return PlacedPart(part=part, turned=False, x=x, y=y, width=width, height=height)


@pytest.mark.parametrize("first", Way)
def test_places_become_a_block_without_their_gaps(first: Way) -> None:
    block = block_of([placed(0, 0, 0, 40, 30), placed(1, 50, 0, 20, 30)], first)
    assert block == row_of(DOWN, [one(0, 40, 30), one(1, 20, 30)])


@pytest.mark.parametrize("first", Way)
def test_a_pinwheel_is_no_block(first: Way) -> None:
    # By hand: four parts of 3 × 2 around a hole of 1 × 1: every straight cut meets one of them.
    wheel = [
        placed(0, 0, 0, 3, 2),
        placed(1, 3, 0, 2, 3),
        placed(2, 2, 3, 3, 2),
        placed(3, 0, 2, 2, 3),
    ]
    assert block_of(wheel, first) is None


def test_equal_blocks_side_by_side_all_stay() -> None:
    part = one(0, 300, 200)
    layout = laid(row_of(DOWN, [part, part, part]))
    assert len(layout.parts) == 3
