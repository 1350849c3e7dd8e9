"""Several pieces that are alike (P11): the watercolour of test_whole_piece, twenty times, worked by hand."""

from fractions import Fraction

import pytest

from app.errors import Invalid
from app.lengths import Length, mm
from app.pricing import (
    DEFAULT_OPERATIONS,
    Adjustments,
    Charge,
    ChargeBy,
    LineGroup,
    NumberBreak,
    OpenedSticks,
    PiecePrice,
    PriceLine,
    compare,
    price_order,
    price_piece,
)
from app.pricing.rules import breaks_out_of_order, off_for
from app.pricing.steps import steps_of
from app.pricing.uses import uses_of
from tests.builders.values import euro
from tests.builders.watercolour import chosen, moulding, rules, watercolour

TWENTY = Adjustments(copies=20)


def priced(adjustments: Adjustments = TWENTY, **changes: object) -> PiecePrice:
    return price_piece(watercolour(), chosen(), rules(**changes), adjustments)


def line(price: PiecePrice, code: str) -> PriceLine:
    return next(line for line in price.lines if line.code == code)


def test_materials_are_those_of_each_rounded_by_the_piece() -> None:
    found = line(priced(), "W25")
    # 2.22 m × 14.20 = 31.524, so 31.52 for one; 20 × 31.52 = 630.40; cost 20 × 11.10
    assert (found.quantity, found.copies, found.together) == (Fraction("2.22"), 20, False)
    assert (found.amount, found.cost) == (euro("630.40"), euro("222.00"))
    assert found.in_short == "20 × 2.22 m × 14.20 a metre"
    assert found.why[-1] == "20 × 31.52 = 630.40."
    # 0.2775718 m² × 54.00 = 14.98888: 14.99 each, not 299.78 for all
    assert line(priced(), "G2").amount == euro("299.80")


def test_work_is_done_for_each_and_setting_up_once() -> None:
    price = priced()
    each, once = (line for line in price.lines if line.is_work)
    # The guide is set in 2 min and the stop of the saw in 4, once: 6 min × 0.64 = 3.84
    assert (once.quantity, once.amount, once.copies) == (Fraction(6), euro("3.84"), 1)
    assert (once.label, once.in_short, once.together) == ("Work done once", "6 min, once", True)
    assert once.why[:2] == ("Set the guide and cut the windows: 2 min.", "Mitre the rails: 4 min.")
    # 61.669704 − 6 = 55.669704 min × 0.64 = 35.62861 each; 20 × 35.63
    assert (each.quantity, each.amount) == (Fraction("55.669704"), euro("712.60"))
    assert price.minutes == 20 * Fraction("55.669704") + 6


def test_number_times_the_price_of_one_is_the_total() -> None:
    price = priced()
    # 31.52 + 18.00 + 18.00 + 14.99 + 6.00 + 1.00 + 35.63 = 125.14; × 20 + 3.84 = 2506.64
    assert price.subtotal == euro("2506.64")
    # 2506.64 / 20 = 125.332, so one is 125.33 and all are 2506.60
    assert (price.each, price.total, price.rounding) == (
        euro("125.33"),
        euro("2506.60"),
        euro("-0.04"),
    )
    # 20 % of 2506.60 is 501.32
    assert (price.tax.tax, price.to_pay) == (euro("501.32"), euro("3007.92"))
    assert sum((each.settled for each in price.lines), euro("0")) == price.total
    assert price_order([price], rules().tax_terms).to_pay == price.to_pay


def test_discount_rush_and_the_step_are_taken_of_one() -> None:
    price = priced(
        Adjustments(copies=20, discount=Fraction(1, 10), rush=Fraction(1, 4)),
        rounding_step=euro("0.50"),
    )
    # 125.33 − 12.53 = 112.80; + 28.20 = 141.00; × 20
    assert (price.discount, price.rush) == (euro("-250.60"), euro("564.00"))
    assert (price.each, price.total) == (euro("141.00"), euro("2820.00"))
    # 125.33 to the nearest 0.50 is 125.50
    assert priced(rounding_step=euro("0.50")).total == euro("2510.00")


def test_a_price_break_is_a_line_of_its_own() -> None:
    breaks = (NumberBreak(from_number=10, off=Fraction(1, 20)),)
    price = priced(number_breaks=breaks)
    # 5 % of 125.33 is 6.2665: 6.27 off, 119.06 for one
    assert price.by_number == euro("-125.40")
    assert (price.each, price.total) == (euro("119.06"), euro("2381.20"))
    assert price.subtotal == euro("2506.64")
    assert priced(Adjustments(copies=9), number_breaks=breaks).by_number is None


def test_a_single_piece_costs_what_it_did() -> None:
    one, plain = priced(Adjustments(copies=1)), price_piece(watercolour(), chosen(), rules())
    assert one == plain
    assert (one.copies, one.each, one.by_number) == (1, one.total, None)
    assert [each.label for each in one.lines if each.is_work] == ["Work"]
    # 89.51 + 39.47
    assert one.total == euro("128.98")


def test_an_operation_is_done_once_only_where_the_table_says_so() -> None:
    once = {each.code for each in DEFAULT_OPERATIONS if each.once}
    assert once == {"cut-windows", "mitre"}


def test_by_what_is_opened_all_are_asked_for_at_once() -> None:
    frame = moulding(charge=Charge(by=ChargeBy.OPENED))
    opened = OpenedSticks(stick=mm(3000), count=15, kept=(mm(600),))
    price = price_piece(
        watercolour(), chosen(frames=(frame,)), rules(), TWENTY, {frame.code: opened}
    )
    found = price.lines[0]
    # 15 × 3 m − 0.6 m = 44.4 m × 14.20 = 630.48
    assert (found.quantity, found.copies, found.together) == (Fraction("44.4"), 1, True)
    assert found.amount == euro("630.48")
    assert found.in_short == "44.4 m × 14.20 a metre, all together"
    assert found.why[0] == (
        "Cut by themselves the 20 pieces open 15 sticks of 3000 mm; 600 mm is kept: 44400 mm used up."
    )


def test_offcuts_of_many_are_told_by_their_number() -> None:
    frame = moulding(charge=Charge(by=ChargeBy.OPENED))
    kept: tuple[Length, ...] = (mm(780),) * 20
    opened = OpenedSticks(stick=mm(3000), count=20, kept=kept)
    price = price_piece(
        watercolour(), chosen(frames=(frame,)), rules(), TWENTY, {frame.code: opened}
    )
    assert "20 × 780 mm is kept" in price.lines[0].why[0]


@pytest.mark.parametrize("copies", [0, -1, 1000])
def test_a_number_beyond_what_a_shop_makes_is_refused(copies: int) -> None:
    with pytest.raises(Invalid) as refused:
        Adjustments(copies=copies)
    assert refused.value.message == f"{copies} alike are asked for; 1 to 999 are allowed."


@pytest.mark.parametrize(("copies", "off"), [(1, 0), (9, 0), (10, 5), (49, 5), (50, 8), (999, 8)])
def test_the_last_row_that_is_reached_counts(copies: int, off: int) -> None:
    breaks = (
        NumberBreak(from_number=10, off=Fraction(5, 100)),
        NumberBreak(from_number=50, off=Fraction(8, 100)),
    )
    assert off_for(copies, breaks) == Fraction(off, 100)


def test_more_alike_take_more_off() -> None:
    rows = [(10, 5), (10, 8), (20, 8)]
    breaks = tuple(NumberBreak(from_number=at, off=Fraction(off, 100)) for at, off in rows)
    assert [place for place, _ in breaks_out_of_order(breaks)] == [1, 2]
    with pytest.raises(Invalid):
        rules(number_breaks=breaks)
    with pytest.raises(Invalid):
        NumberBreak(from_number=1, off=Fraction(1, 10))
    with pytest.raises(Invalid):
        NumberBreak(from_number=10, off=Fraction(1))


def test_the_customer_sees_the_price_of_one_and_of_all() -> None:
    view = priced().customer_view()
    assert (view.copies, view.each, view.total, view.by_number) == (
        20,
        euro("125.33"),
        euro("2506.60"),
        euro("0"),
    )
    assert [each.copies for each in view.lines if each.group is LineGroup.FRAME] == [20]


def test_another_number_changes_each_line_side_by_side() -> None:
    found = compare(priced(Adjustments()), priced())
    assert found.changed
    assert all(each.changed for each in found.lines)


def test_a_price_step_is_told_for_all_of_them() -> None:
    """The backing, 562 + 449 = 1011, falls into the band up to 800 for 4.00 instead of 6.00: 20 × −2.00."""
    dimensions, choice = watercolour(), chosen()
    use = next(use for use in uses_of(dimensions, choice) if use.part == "backing")
    found = steps_of(use, line(priced(), "B3"), mm("8.5"), mm(1)).smaller
    assert found is not None
    assert found.difference == euro("-40.00")
