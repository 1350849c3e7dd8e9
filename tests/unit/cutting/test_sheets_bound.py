"""Bounds for sheets, against areas and counts worked out by hand."""

from fractions import Fraction

import pytest

from app.cutting import Sheet, SheetPart
from app.cutting.sheets.bound import lower_bound, reached_from
from app.cutting.sheets.task import exact_task
from app.lengths import ZERO, Length, mm
from tests.cases.sheets import asked_for, sheet_cases, size


def bound(*parts: SheetPart, stock: list[Sheet], kerf: Length = ZERO) -> Fraction:
    return lower_bound(exact_task(asked_for(*parts, stock=stock, kerf=kerf)))


def part(width: int, height: int, copies: int, *, turn: bool = True) -> SheetPart:
    return SheetPart(id=f"{width}x{height}", size=size(width, height), copies=copies, turn=turn)


TEN = Sheet(id="new", size=size(1000, 1000))


@pytest.mark.parametrize(("copies", "sheets"), [(1, 1), (4, 1), (5, 2), (8, 2), (9, 3)])
def test_areas_bound(copies: int, sheets: int) -> None:
    # By hand: four quarters fill a sheet.
    assert bound(part(500, 500, copies), stock=[TEN]) == sheets


def test_parts_above_half_of_both_sides_need_a_sheet_each() -> None:
    # By hand: no two of 501 × 501 lie in 1000 × 1000, though by area three would do with a sheet.
    assert bound(part(501, 501, 7), stock=[TEN]) == 7


def test_a_kerf_counts_between_parts_only() -> None:
    # By hand: with a kerf of 2, 499 + 2 + 499 = 1000: four to a sheet. Those of 500 no longer go two by
    # two: each needs a sheet of its own.
    assert bound(part(499, 499, 8), stock=[TEN], kerf=mm(2)) == 2
    assert bound(part(500, 500, 4), stock=[TEN], kerf=mm(2)) == 4


def test_turning_loosens_a_bound_only_where_it_helps() -> None:
    # By hand: of 600 × 400 in 1200 × 600 two stand side by side turned by hand, 400 + 400 + 400 = 1200
    # wide, so three turned fill it; not turned, two lie side by side.
    sheet = Sheet(id="new", size=size(1200, 600))
    assert bound(part(600, 400, 3), stock=[sheet]) == 1
    assert bound(part(600, 400, 3, turn=False), stock=[sheet]) == 2


def test_owned_sheets_take_off_what_they_hold_and_no_more() -> None:
    # By hand: the offcut holds one of the three; the other two need a new sheet each.
    stock = [TEN, Sheet(id="o", size=size(650, 650), copies=1, cost=Fraction(0))]
    assert bound(part(600, 600, 3), stock=stock) == 2


def test_an_owned_sheet_that_holds_none_takes_nothing_off() -> None:
    stock = [TEN, Sheet(id="o", size=size(590, 2000), copies=9, cost=Fraction(0))]
    assert bound(part(600, 600, 3), stock=stock) == 3


def test_the_cheaper_size_bounds_where_sizes_differ() -> None:
    # By hand: halves of 500 × 1000 cost 4, wholes 10: per area the halves are cheaper, 8 for a whole's.
    half = Sheet(id="half", size=size(500, 1000), cost=Fraction(4))
    whole = Sheet(id="whole", size=size(1000, 1000), cost=Fraction(10))
    assert bound(part(500, 500, 4), stock=[half, whole]) == 8
    assert bound(part(501, 501, 1), stock=[half, whole]) == 10


def test_many_kinds_of_small_parts_are_bound_by_area() -> None:
    # By hand: 1500 parts, 20 wide and 20 to 1519 high: 20 × (20 + ... + 1519) = 23,085,000 mm², so six sheets of 2000 × 2000 = 4,000,000 hold them by area.
    parts = [part(20, 20 + each, 1) for each in range(1500)]
    assert bound(*parts, stock=[Sheet(id="new", size=size(2000, 2000))]) == 6


def test_nothing_wanted_costs_nothing() -> None:
    assert bound(stock=[TEN]) == 0


@pytest.mark.parametrize(
    ("least", "costs", "reached"),
    # By hand: of 6 and 10 the sums are 6, 10, 12, 16, 18, 20 ...
    [
        ("5", ("6", "10"), "6"),
        ("7", ("6", "10"), "10"),
        ("13", ("6", "10"), "16"),
        ("25/2", ("48/5", "12"), "96/5"),
        ("12", ("48/5", "12"), "12"),
        ("0", ("3",), "0"),
        ("1/2", ("0", "3"), "3"),
    ],
)
def test_a_bound_is_rounded_up_to_what_stock_can_cost(
    least: str, costs: tuple[str, ...], reached: str
) -> None:
    assert reached_from(Fraction(least), map(Fraction, costs)) == Fraction(reached)


def test_costs_too_fine_to_list_are_rounded_to_their_smallest_step() -> None:
    costs = (Fraction(1_000_003), Fraction(1_000_033))
    assert reached_from(Fraction("5000000.5"), costs) == 5_000_001


@pytest.mark.parametrize("name", ["mats-40", "mats-20-offcuts"])
def test_cases_are_bound_to_within_one_sheet_of_the_best(name: str) -> None:
    # Source: the cases' best known cost, proven by column generation.
    case = sheet_cases()[name]
    assert case.best_known - 1 <= lower_bound(exact_task(case.asked)) <= case.best_known
