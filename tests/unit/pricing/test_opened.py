"""Charged by what a plan for the piece alone opens, less the offcuts worth keeping; worked by hand.

What is opened is given straight here, as whoever prices a piece brings it.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.lengths import Length, Size, Unit, mm
from app.pricing import (
    Charge,
    ChargeBy,
    CostPer,
    LineGroup,
    Material,
    Measure,
    OpenedSheets,
    OpenedSticks,
    Selling,
    charged_in,
    cost_bases,
    price_piece,
)
from app.pricing.measure import unit_cost
from app.pricing.opened import Opened, OpenedFor, opened_for, taken
from app.pricing.quantities import CuttingBasis, Quantity, quantity_of
from app.pricing.uses import Use
from tests.builders.values import euro, size
from tests.builders.watercolour import chosen, extra, glazing, mat, moulding, rules, watercolour

OPENED = Charge(by=ChargeBy.OPENED)
FRAME = moulding(charge=OPENED)
BOARD = mat(charge=OPENED, selling=Selling(markup=Fraction(4)))

BLANK = size(562, 449)

STICK = OpenedSticks(stick=mm(3000), count=1, kept=(mm(780),))
"""Rails of 2 × 603 + 2 × 490 = 2186 and 4 × 8.5 = 34 at the saw: 3000 − 2220 = 780 are left."""

SHEET = OpenedSheets(sheet=size(1120, 815), count=1, kept=(size(558, 815), size(562, 366)))
"""A blank of 562 × 449 from 1120 × 815: right of it 558 × 815, below it 562 × 366."""


def rails(material: Material = FRAME) -> Use:
    return Use(
        material=material,
        group=LineGroup.FRAME,
        part="frame",
        size=size(562, 449),
        runs=((mm(603), 2), (mm(490), 2)),
        sawn=True,
        face=mm(25),
    )


def blank(material: Material = BOARD, of: Size = BLANK, part: str = "mat") -> Use:
    return Use(material=material, group=LineGroup.MATS, part=part, size=of)


def charged(use: Use, opened: Opened, share: Fraction = Fraction(1)) -> Quantity:
    brought = OpenedFor(opened=opened, share=share)
    return quantity_of(use, CuttingBasis(unit=Unit.MM, saw_loss=mm("8.5"), opened=brought))


def test_sticks_are_charged_by_what_is_opened_less_what_is_kept() -> None:
    found = charged(rails(), STICK)
    assert (found.quantity, found.measure) == (Fraction("2.22"), Measure.METRE)
    assert found.how == (
        "Cut by itself the piece opens 1 stick of 3000 mm; 780 mm is kept: 2220 mm used up.",
    )
    assert found.notice is None


def test_a_rest_too_short_to_keep_is_charged() -> None:
    found = charged(rails(), OpenedSticks(stick=mm(2400), count=1))
    assert found.quantity == Fraction("2.4")
    assert found.how == (
        "Cut by itself the piece opens 1 stick of 2400 mm; nothing is kept: 2400 mm used up.",
    )


def test_sticks_whose_cost_is_by_the_foot_are_charged_in_feet() -> None:
    # a stick of 3048 mm is 10 ft, of which 4 ft or 1219.2 mm is kept
    foot = moulding(per=CostPer.FOOT, charge=OPENED)
    stick = OpenedSticks(stick=mm(3048), count=1, kept=(mm("1219.2"),))
    found = charged(rails(foot), stick)
    assert (found.quantity, found.measure) == (Fraction(6), Measure.FOOT)


def test_waste_is_not_added_but_minimum_and_step_hold() -> None:
    wasted = replace(OPENED, waste=Fraction(1, 4))
    assert charged(rails(moulding(charge=wasted)), STICK).quantity == Fraction("2.22")
    least = replace(OPENED, minimum_length=mm(2250), step=mm(500))
    found = charged(rails(moulding(charge=least)), STICK)
    assert found.quantity == Fraction("2.5")  # 2220, at least 2250, up to 2500
    assert found.how[1:] == ("At least 2250 mm is charged.", "Up to the next 500 mm: 2500 mm.")


def test_sheets_are_charged_as_the_share_that_is_not_kept() -> None:
    # 1120 × 815 = 912 800; less 558 × 815 = 454 770 and 562 × 366 = 205 692: 252 338 = 562 × 449
    found = charged(blank(), SHEET)
    assert (found.quantity, found.measure) == (Fraction(252_338, 912_800), Measure.SHEET)
    assert found.how == (
        "Cut by itself the piece opens 1 sheet of 1120 × 815 mm; 558 × 815 mm and 562 × 366 mm "
        "are kept: 0.276 of a sheet used up.",
    )


def test_a_minimum_area_is_a_least_share_of_the_sheet() -> None:
    least = mat(charge=replace(OPENED, minimum_area=Fraction("0.4564")))
    found = charged(blank(least), SHEET)
    assert found.quantity == Fraction(1, 2)  # 0.4564 of 0.9128 m²
    assert found.how[-1] == "At least 0.5 of a sheet is charged."


def test_parts_that_nothing_new_holds_count_as_a_whole_or_by_their_size() -> None:
    # 3001 is longer than the stick; 2990 fits none either where ends are trimmed, and takes one
    long = OpenedSticks(stick=mm(3000), count=1, kept=(mm(2000),), too_long=(mm(3001), mm(2990)))
    found = charged(rails(), long)
    assert found.quantity == Fraction("7.001")  # 1000 + 3001 + 3000
    assert "3001 mm is longer than a stick holds." in found.how
    large = OpenedSheets(sheet=size(1000, 800), count=0, too_large=(size(1600, 1000),))
    found = charged(blank(of=size(1600, 1000)), large)
    assert found.quantity == 2  # 1.6 m² of 0.8 m²
    assert found.how == (
        "2 sheets counted as used up.",
        "1600 × 1000 mm is larger than a sheet holds.",
    )


def test_parts_of_one_material_share_what_is_opened_by_their_size() -> None:
    # 600 × 400 = 240 000 and 400 × 300 = 120 000: two thirds and one third
    large, small = blank(of=size(600, 400)), blank(of=size(400, 300), part="mount board")
    opened = {"M1": OpenedSheets(sheet=size(1000, 800), count=1, kept=(size(1000, 350),))}
    parts = [opened_for(use, (large, small, rails(moulding())), opened) for use in (large, small)]
    assert [part and part.share for part in parts] == [Fraction(2, 3), Fraction(1, 3)]
    # 800 000 − 350 000 = 450 000 of 800 000 is 9/16: 3/8 and 3/16
    found = charged(large, opened["M1"], Fraction(2, 3))
    assert found.quantity == Fraction(3, 8)
    assert found.how[-1] == (
        "Shared with other parts of the same material, by area: 0.375 of a sheet."
    )
    assert charged(small, opened["M1"], Fraction(1, 3)).quantity == Fraction(3, 16)


def test_what_a_use_takes_counts_each_of_its_blanks_and_its_runs() -> None:
    board = blank(of=size(600, 400))
    assert taken(board) == Fraction(24, 100)  # m²
    assert taken(replace(board, count=3)) == Fraction(72, 100)
    assert taken(rails()) == 2186  # 2 × 603 + 2 × 490 mm
    assert taken(replace(rails(), count=2)) == 4372


def test_a_price_by_what_is_opened_says_so_in_its_line() -> None:
    price = price_piece(watercolour(), chosen(frames=(FRAME,)), rules(), opened={FRAME.code: STICK})
    line = price.lines[0]
    # 15.00 a stick of 3 m is 5.00 a metre, × 2.84 = 14.20; 2.22 × 14.20 = 31.524
    assert (line.in_short, line.amount) == ("2.22 m × 14.20 a metre", euro("31.52"))
    assert line.cost == euro("11.10")  # 2.22 × 5.00
    assert line.why[0].startswith("Cut by itself the piece opens 1 stick of 3000 mm; 780 mm")
    assert price.subtotal == sum((each.amount for each in price.lines), euro("0"))
    assert price.customer_view().lines[0].why == line.why


def test_what_is_charged_otherwise_asks_for_no_plan() -> None:
    other = rails(moulding())
    assert opened_for(other, (other,), {}) is None
    with pytest.raises(ValueError, match="W25 is charged by what a plan opens"):
        price_piece(watercolour(), chosen(frames=(FRAME,)), rules())


@pytest.mark.parametrize(
    ("count", "kept", "path"),
    [(-1, (), "count"), (1, (mm(2000), mm(1001)), "kept"), (0, (mm(1),), "kept")],
)
def test_no_more_is_kept_than_was_opened(count: int, kept: tuple[Length, ...], path: str) -> None:
    with pytest.raises(Invalid) as raised:
        OpenedSticks(stick=mm(3000), count=count, kept=kept)
    assert [fault.path for fault in raised.value.faults] == [path]
    with pytest.raises(Invalid) as raised:
        OpenedSheets(
            sheet=Size(mm(3000), mm(1)), count=count, kept=tuple(Size(k, mm(1)) for k in kept)
        )
    assert [fault.path for fault in raised.value.faults] == [path]


@pytest.mark.parametrize(
    ("material", "per", "measure", "cost"),
    [
        (FRAME, CostPer.STICK, Measure.METRE, "500"),  # 15.00 for 3 m
        (FRAME, CostPer.FOOT, Measure.FOOT, "1500"),
        (BOARD, CostPer.SHEET, Measure.SHEET, "900"),
        (BOARD, CostPer.SQUARE_METRE, Measure.SHEET, "821.52"),  # 9.00 × 0.9128 m²
    ],
)
def test_a_cost_of_any_basis_is_brought_to_the_unit_charged(
    material: Material, per: CostPer, measure: Measure, cost: str
) -> None:
    assert per in cost_bases(material.kind, ChargeBy.OPENED)
    costed = replace(material, per=per)
    assert charged_in(costed) is measure
    assert unit_cost(costed, measure) == Fraction(cost)


def test_only_what_comes_in_sticks_or_sheets_is_charged_so() -> None:
    with pytest.raises(Invalid) as raised:
        extra(charge=OPENED)
    assert [fault.path for fault in raised.value.faults] == ["charge.by"]
    assert raised.value.message.startswith("Charging by stock opened does not go with an extra;")
    with pytest.raises(Invalid) as raised:
        glazing(charge=OPENED, per=CostPer.EACH)
    assert [fault.path for fault in raised.value.faults] == ["per"]
