"""What a piece opens of each material when it is cut by itself; worked by hand.

The piece and its book are those of `tests.builders.worked`: package 600 × 500, under mat 594 × 494, rails 630
and 530; sticks of 3000, sheets of 1200 × 1000 and, of glass, 1600 × 1200. Kerf 8.5, sticks are kept
from 300 on, boards from 150 × 100.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction

from app.cutting import Maker, StickPlan
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.lengths import Length, Size, mm
from app.orders import Agreed, CuttingHabits, Shop
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.agreement import agree
from app.orders.standalone_plan import CutAlone, cut_alone, opened_alone
from app.pricing import (
    Charge,
    ChargeBy,
    Kind,
    Material,
    OpenedSheets,
    OpenedSticks,
    PriceLine,
    Trait,
    compare,
)
from app.pricing.uses import uses_of
from tests.builders.values import euro, size
from tests.builders.worked import BOOK, FILLET, MOULDING, SHOP, TOP_MAT, TYPED, UNDER_MAT

TODAY = date(2026, 11, 25)
OPENED = Charge(by=ChargeBy.OPENED)


def by_opened(*codes: str) -> tuple[Material, ...]:
    return tuple(
        replace(each, charge=OPENED) if each.code in codes else each for each in (*BOOK, FILLET)
    )


def agreed(
    fields: Mapping[str, str] | None = None,
    book: Iterable[Material] = (*BOOK, FILLET),
    shop: Shop = SHOP,
) -> Agreed:
    book = tuple(book)

    def find(text: str, kind: Kind) -> Material | None:
        return next((each for each in book if each.code == text and each.kind is kind), None)

    return agree({**TYPED, **(fields or {})}, shop, find, today=TODAY)[1]


def alone(piece: Agreed, shop: Shop = SHOP) -> dict[str, CutAlone]:
    uses = uses_of(worked_out(piece.spec), piece.chosen)
    found = cut_alone(uses, shop)
    for each in found:
        plan = each.plan
        faults = (
            faults_of_stick_plan(plan)
            if isinstance(plan, StickPlan)
            else faults_of_sheet_plan(plan)
        )
        assert faults == ()
        assert plan.maker is Maker.SIMPLE
        assert each.opened.count == len(plan.bins)
    return {each.material.code: each for each in found}


def line(piece: Agreed, code: str) -> PriceLine:
    return next(each for each in piece.price.lines if each.code == code)


def kept(each: CutAlone) -> set[Length | Size]:
    return set(each.opened.kept)


def test_a_frame_by_itself_opens_one_stick_and_keeps_its_rest() -> None:
    frame = alone(agreed())["LIN-20"].opened
    # 2 × 630 + 2 × 530 + 4 × 8.5 = 2354; 3000 − 2354 = 646, which is above 300
    assert frame == OpenedSticks(stick=mm(3000), count=1, kept=(mm(646),))


def test_a_rest_shorter_than_what_is_kept_is_used_up() -> None:
    shop = replace(SHOP, cutting_habits=CuttingHabits(keep_length=mm(647)))
    frame = alone(agreed(), shop)["LIN-20"].opened
    assert frame == OpenedSticks(stick=mm(3000), count=1)


def test_ends_are_trimmed_where_the_shop_does() -> None:
    shop = replace(SHOP, cutting_habits=CuttingHabits(end_trim=mm(50)))
    frame = alone(agreed(), shop)["LIN-20"].opened
    assert frame == OpenedSticks(stick=mm(3000), count=1, kept=(mm(546),))  # 3000 − 100 − 2354


def test_boards_and_glass_open_a_sheet_each_and_keep_what_is_left_of_it() -> None:
    plans = alone(agreed())
    assert list(plans) == ["LIN-20", "M-101", "M-140", "G-2", "B-3"]
    # beside 600 × 500 of 1200 × 1000 nothing is lost: either 500 or 600 wide strips are left
    assert plans["M-101"].opened.used_up == Fraction(1, 4)
    assert plans["B-3"].opened.used_up == Fraction(1, 4)
    # 594 × 494 = 293 436 of 1 200 000; 300 000 of 1600 × 1200 = 1 920 000
    assert plans["M-140"].opened.used_up == Fraction(293_436, 1_200_000)
    assert plans["G-2"].opened.used_up == Fraction(5, 32)


def test_two_blanks_of_one_board_come_from_one_sheet() -> None:
    both = alone(agreed({"mats.1.material": "M-101"}))["M-101"]
    assert [use.part for use in both.uses] == ["mat 1", "mat 2"]
    assert isinstance(both.opened, OpenedSheets)
    assert both.opened.count == 1
    # in one strip 500 high: 1200 × 500 is kept and the 6 beside and below the smaller one is lost,
    # or in one 600 wide, as much: half of the sheet
    assert both.opened.used_up == Fraction(1, 2)


def test_a_board_with_a_direction_is_not_turned() -> None:
    sheet = TOP_MAT.sheet
    assert sheet is not None
    tall = replace(sheet, size=size(1000, 1200), traits=frozenset({Trait.ONE_WAY}))
    book = (replace(TOP_MAT, sheet=tall), MOULDING)
    wide = {
        "artwork.size": "900 x 300",
        "mats.1.material": "",
        "glazing.material": "",
        "backing.material": "",
        "hardware.0.material": "",
    }
    # 890 + 90 + 90 = 1070 is wider than the board's 1000
    opened = alone(agreed(wide, book))["M-101"].opened
    assert isinstance(opened, OpenedSheets)
    assert (opened.count, opened.too_large) == (0, (size(1070, 470),))  # 80 + 290 + 100
    free = (replace(TOP_MAT, sheet=replace(tall, traits=frozenset())), MOULDING)
    assert alone(agreed(wide, free))["M-101"].opened.count == 1


def test_a_fillet_is_cut_from_sticks_of_its_own() -> None:
    fillet = alone(agreed({"fillet.material": "FIL-10", "fillet.depth": "3"}))["FIL-10"].opened
    # 2 × 408 + 2 × 308 + 4 × 8.5 = 1466; 3000 − 1466 = 1534
    assert fillet == OpenedSticks(stick=mm(3000), count=1, kept=(mm(1534),))


def test_frame_and_fillet_of_one_moulding_share_its_stick() -> None:
    lined = agreed({"fillet.material": "LIN-20", "fillet.depth": "3"})
    both = alone(lined)["LIN-20"]
    assert [use.part for use in both.uses] == ["frame", "fillet"]
    # tucked by its lip of 6.5: 400 + 13 = 413 and 313, so 2 × 413 + 2 × 313 + 34 = 1486;
    # with the frame's 2354 more than one stick: 3000 − 2354 = 646 and 3000 − 1486 = 1514 are left
    assert kept(both) == {mm(646), mm(1514)}


def test_a_price_by_what_is_opened_is_worked_by_hand() -> None:
    piece = agreed(book=by_opened("LIN-20", "M-140", "G-2"))
    frame, under, glass = (line(piece, code) for code in ("LIN-20", "M-140", "G-2"))
    assert (frame.quantity, frame.amount) == (Fraction("2.354"), euro("23.54"))  # at 10.00 a metre
    assert frame.why[0] == (
        "Cut by itself the piece opens 1 stick of 3000 mm; 646 mm is kept: 2354 mm used up."
    )
    assert under.amount == euro("9.78")  # 0.24453 × 40.00 a sheet
    # 20.00 a m² of 1.92 m² is 38.40 a sheet, × 2.5 = 96.00; × 5/32 = 15.00
    assert (glass.in_short, glass.amount) == ("5/32 sheet × 96.00 a sheet", euro("15.00"))
    in_all = sum((each.amount for each in piece.price.lines), euro("0"))
    # 103.51 less 24.00 − 23.54 and 10.00 − 9.78
    assert piece.price.total == in_all == euro("102.83")


def test_the_lines_of_one_material_add_up_to_what_is_opened_of_it() -> None:
    piece = agreed({"mats.1.material": "M-101"}, by_opened("M-101"))
    mats = [each for each in piece.price.lines if each.code == "M-101"]
    # half a sheet, by 300 000 to 293 436: 20.00 is 10.110… and 9.889…
    assert [each.amount for each in mats] == [euro("10.11"), euro("9.89")]
    assert sum(each.quantity for each in mats) == Fraction(1, 2)
    assert mats[0].quantity == Fraction(1, 2) * Fraction(300_000, 593_436)


def test_a_fillet_may_be_charged_by_what_is_opened() -> None:
    fields = {"fillet.material": "FIL-10", "fillet.depth": "3"}
    fillet = line(agreed(fields, by_opened("FIL-10")), "FIL-10")
    assert (fillet.quantity, fillet.amount) == (Fraction("1.466"), euro("7.33"))  # at 5.00 a metre


def test_a_spacer_may_be_charged_by_what_is_opened() -> None:
    spaced = agreed()
    chosen = replace(spaced.chosen, spacer=replace(MOULDING, charge=OPENED))
    assert ("spacer", chosen.spacer) in chosen.materials()


def test_nothing_is_planned_where_nothing_is_charged_by_it() -> None:
    piece = agreed()
    assert opened_alone(worked_out(piece.spec), piece.chosen, SHOP) == {}


def test_priced_again_by_the_new_rule_old_and_new_stand_side_by_side() -> None:
    old, new = agreed(), agreed(book=by_opened("LIN-20"))
    frame = compare(old.price, new.price).lines[0]
    assert frame.changed
    assert frame.old is not None
    assert frame.new is not None
    assert (frame.old.amount, frame.new.amount) == (euro("24.00"), euro("23.54"))
    assert UNDER_MAT.code in {
        each.new.code for each in compare(old.price, new.price).lines if each.new
    }
