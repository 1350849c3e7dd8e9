"""The question that is asked of a planner for each material: parts, stock on offer, its costs."""

from dataclasses import replace
from fractions import Fraction

from app.cutting import Sheet, SheetProblem, Stick, StickProblem, Together
from app.lengths import ZERO, Size, mm
from app.orders import CuttingHabits
from app.pricing import Trait
from app.stock.items import StockForm
from app.stock.planning.parts import parts_to_cut
from app.stock.planning.problems import WHOLE, problems_of
from tests.builders.in_work import REF, by_code, made, ref, sheet, stick
from tests.builders.worked import BACKING, BOOK, GLASS, MOULDING, SHOP, TOP_MAT, UNDER_MAT

PARTS = parts_to_cut(REF, *made())


def sticks_asked(*rack: object, shop: object = SHOP) -> StickProblem:
    (problem,) = [
        each
        for each in problems_of(PARTS, by_code(*BOOK), rack, shop)  # type: ignore[arg-type]
        if each.form is StockForm.STICK
    ]
    assert isinstance(problem.asked, StickProblem)
    return problem.asked


def sheets_asked(*rack: object, book: object = None) -> SheetProblem:
    (problem,) = [
        each
        for each in problems_of(PARTS, book or by_code(*BOOK), rack, SHOP)  # type: ignore[arg-type]
        if each.material.code == "M-101"
    ]
    assert isinstance(problem.asked, SheetProblem)
    return problem.asked


def test_there_is_one_question_for_each_material() -> None:
    problems = problems_of(PARTS, by_code(*BOOK), (), SHOP)
    assert [each.material.code for each in problems] == ["B-3", "G-2", "LIN-20", "M-101", "M-140"]
    assert [each.material for each in problems] == [BACKING, GLASS, MOULDING, TOP_MAT, UNDER_MAT]
    assert [tuple(each.parts) for each in problems][3] == ("17/mat-1",)


def test_sticks_are_asked_for_with_the_saws_loss_and_the_shops_habits() -> None:
    habits = CuttingHabits(end_trim=mm(10), keep_length=mm(400), stages=2, together=Together.ALWAYS)
    asked = sticks_asked(shop=replace(SHOP, cutting_habits=habits, saw_loss=mm(5)))
    assert (asked.kerf, asked.end_trim, asked.keep) == (mm(5), mm(10), mm(400))
    assert asked.together is Together.ALWAYS
    assert asked.stock == (Stick(id=WHOLE, length=mm(3000)),)
    assert [(part.id, part.length, part.group) for part in asked.parts] == [
        ("17/frame-1.top", mm(630), "17/frame-1"),
        ("17/frame-1.bottom", mm(630), "17/frame-1"),
        ("17/frame-1.left", mm(530), "17/frame-1"),
        ("17/frame-1.right", mm(530), "17/frame-1"),
    ]


def test_sheets_are_asked_for_without_loss_in_three_stages() -> None:
    asked = sheets_asked()
    assert (asked.kerf, asked.trim, asked.stages, asked.keep) == (ZERO, ZERO, 3, SHOP.keep)
    assert asked.stock == (Sheet(id=WHOLE, size=Size(mm(1200), mm(1000))),)
    assert [part.turn for part in asked.parts] == [True]


def test_offcuts_cost_nothing_and_whole_stock_of_another_size_its_share() -> None:
    asked = sticks_asked(
        stick(3, mm(740)),
        stick(5, mm(2400), whole=True, available=4),
        stick(6, mm(3000), whole=True, available=9),
        stick(8, mm(740), code="OAK-30"),
    )
    # 2400 of 3000 is 4/5. Sticks of 3000 are the price book's own, so part of "whole".
    assert asked.stock == (
        Stick(id="item-3", length=mm(740), copies=1, cost=Fraction(0)),
        Stick(id="item-5", length=mm(2400), copies=4, cost=Fraction(4, 5)),
        Stick(id=WHOLE, length=mm(3000)),
    )


def test_sheets_cost_by_their_area_and_lie_either_way_round() -> None:
    asked = sheets_asked(
        sheet(4, Size(mm(700), mm(500))),
        sheet(7, Size(mm(1000), mm(600)), whole=True, available=2),
        sheet(9, Size(mm(1000), mm(1200)), whole=True),
    )
    # 1000 × 600 of 1200 × 1000 is a half.
    assert asked.stock == (
        Sheet(id="item-4", size=Size(mm(700), mm(500)), copies=1, cost=Fraction(0)),
        Sheet(id="item-7", size=Size(mm(1000), mm(600)), copies=2, cost=Fraction(1, 2)),
        Sheet(id=WHOLE, size=Size(mm(1200), mm(1000))),
    )


def test_what_open_plans_have_taken_is_not_offered() -> None:
    assert sticks_asked(stick(3, mm(740), available=0)) == sticks_asked()


def test_parts_of_a_material_that_left_the_book_are_asked_for_as_they_were_agreed() -> None:
    (problem,) = problems_of(PARTS[-4:], {}, (), SHOP)
    assert (problem.in_book, problem.material) == (False, MOULDING)
    # A code that now stands for something else is no moulding that one could buy.
    (problem,) = problems_of(PARTS[-4:], {"LIN-20": replace(TOP_MAT, code="LIN-20")}, (), SHOP)
    assert (problem.in_book, problem.material) == (False, MOULDING)


def test_sticks_that_are_bought_longer_today_are_offered_as_they_are_today() -> None:
    assert MOULDING.profile is not None
    longer = replace(MOULDING, profile=replace(MOULDING.profile, stick=mm(3300)))
    (problem,) = problems_of(PARTS[-4:], by_code(longer), (stick(6, mm(3000), whole=True),), SHOP)
    assert problem.material == longer
    # 3000 of 3300 is 10/11.
    assert problem.asked.stock == (
        Stick(id="item-6", length=mm(3000), copies=1, cost=Fraction(10, 11)),
        Stick(id=WHOLE, length=mm(3300)),
    )


def test_a_board_said_to_have_a_direction_today_lets_no_part_turn() -> None:
    assert TOP_MAT.sheet is not None
    traits = frozenset({Trait.ONE_WAY})
    grained = replace(TOP_MAT, sheet=replace(TOP_MAT.sheet, traits=traits))
    asked = sheets_asked(sheet(9, Size(mm(1000), mm(1200)), whole=True), book=by_code(grained))
    assert [part.turn for part in asked.parts] == [False]
    assert len(asked.stock) == 2  # a sheet whose grain runs the other way is another size


def test_a_part_larger_than_any_stock_stays_in_the_question() -> None:
    wide = parts_to_cut(ref(18), *made(artwork__size="2990 x 310"))
    (problem,) = [
        each for each in problems_of(wide, by_code(*BOOK), (), SHOP) if each.form is StockForm.STICK
    ]
    assert len(problem.parts) == len(problem.asked.parts) == 4


def test_pieces_that_need_the_same_material_share_one_question() -> None:
    both = (*PARTS, *parts_to_cut(ref(18), *made()))
    problems = problems_of(both, by_code(*BOOK), (), SHOP)
    assert [len(each.parts) for each in problems] == [2, 2, 8, 2, 2]
