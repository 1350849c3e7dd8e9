"""What a piece really uses up beside what its price counts on; the piece of tests/builders/worked, by hand.

Its frame takes 2320 in rails and 4 × 8.5 = 34 at the saw of a stick of 3000; 646 is left.
"""

from dataclasses import replace
from fractions import Fraction

from app.lengths import Size, mm
from app.orders import CuttingHabits
from app.orders.material_usage import RealUse, real_use
from app.pricing import Charge, ChargeBy, CostPer, Material, Selling
from tests.builders.values import euro
from tests.builders.worked import BACKING, BOOK, MOULDING, SHOP, TOP_MAT
from tests.unit.orders.test_standalone_plan import agreed, by_opened

KEEPS_LONG = replace(SHOP, cutting_habits=CuttingHabits(keep_length=mm(700)))


def with_frame(material: Material) -> tuple[Material, ...]:
    return tuple(material if each is MOULDING else each for each in BOOK)


def used(book: tuple[Material, ...] = BOOK) -> dict[str, RealUse]:
    return {each.material.code: each for each in real_use(agreed(book=book), SHOP)}


def test_a_price_that_counts_on_all_that_is_used_is_short_of_nothing() -> None:
    found = used()
    assert list(found) == ["LIN-20", "M-101", "M-140", "G-2", "B-3"]
    assert {each.short for each in found.values()} == {None}
    frame = found["LIN-20"]
    assert frame.lost == 34  # mm at the saw; the 646 are kept
    assert [line.quantity for line in frame.lines] == [Fraction("2.4")]
    # 600 × 500 of 1200 × 1000 leaves only what is worth keeping
    assert found["M-101"].lost == found["G-2"].lost == 0


def test_a_rest_too_short_to_keep_costs_what_the_price_does_not_count_on() -> None:
    piece = agreed(shop=KEEPS_LONG)
    frame = real_use(piece, KEEPS_LONG)[0]
    # the whole stick is used up: 3.0 at 4.00 a metre is 12.00; 2.4 at 4.00 is 9.60 in the price
    assert frame.lost == 680  # 34 + 646
    assert frame.short == euro("2.40")


def test_a_waste_share_that_covers_the_rest_is_enough() -> None:
    # (2320 + 34) × 1.25 = 2942.5, up to the next 100: 3000
    quarter = replace(MOULDING, charge=replace(MOULDING.charge, waste=Fraction(1, 4)))
    piece = agreed(book=with_frame(quarter), shop=KEEPS_LONG)
    assert real_use(piece, KEEPS_LONG)[0].short is None


def test_what_is_charged_by_what_is_opened_is_never_short() -> None:
    piece = agreed(book=by_opened("LIN-20", "M-101", "M-140", "G-2"), shop=KEEPS_LONG)
    assert {each.short for each in real_use(piece, KEEPS_LONG)} == {None}


def test_a_size_band_is_compared_by_its_cost() -> None:
    # 600 × 500 from a sheet of 700 × 560: 100 × 560 and 600 × 60 are both too narrow or short for
    # 150 × 100, but not 560 × 100, which is kept; so 560 × 600 of 700 × 560, 6/7 of 8.00 is 6.857…
    assert BACKING.sheet is not None
    tight = replace(BACKING, sheet=replace(BACKING.sheet, size=Size(mm(700), mm(560))))
    book = tuple(tight if each is BACKING else each for each in BOOK)
    board = used(book)["B-3"]
    # the price counts on 0.3 of 0.392 m² at 8.00: 6.122…, so 6.12; 6.857… − 6.12 = 0.737…
    assert board.lost == Fraction("0.036")
    assert board.short == euro("0.74")


def test_what_is_charged_each_is_left_out() -> None:
    each = replace(
        TOP_MAT,
        per=CostPer.EACH,
        charge=Charge(by=ChargeBy.EACH),
        selling=Selling(price=euro("5.00")),
    )
    book = tuple(each if one is TOP_MAT else one for one in BOOK)
    assert "M-101" not in used(book)
