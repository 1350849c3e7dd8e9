"""The watercolour of 420 × 297 mm, worked by hand from the handbook's rules.

Window 410 × 287 (overlap 5), top window 422 × 299 (reveal 6), package 562 × 449 (borders 70 70 70
80), outside 603 × 490: 562 + 3 + 2 × (25 − 6) = 603, 449 + 3 + 38 = 490.
"""

from fractions import Fraction

import pytest

from app.lengths import mm
from app.pricing import Adjustments, LineGroup, PiecePrice, PriceLine, handbook_length, price_piece
from tests.builders.values import euro, size
from tests.builders.watercolour import chosen, rules, watercolour

ADJUSTMENTS = Adjustments(discount=Fraction(1, 10), rush=Fraction(1, 4))


@pytest.fixture(scope="module")
def price() -> PiecePrice:
    return price_piece(watercolour(), chosen(), rules(rounding_step=euro("0.50")), ADJUSTMENTS)


def line(price: PiecePrice, code: str) -> PriceLine:
    (found,) = (line for line in price.lines if line.code == code)
    return found


def test_the_piece_is_the_one_worked_by_hand() -> None:
    piece = watercolour()
    assert piece.package == size(562, 449)
    assert piece.outside == size(603, 490)


@pytest.mark.parametrize(
    ("code", "figures"),
    [
        # 2 × 603 + 2 × 490 = 2186 mm, 4 × 8.5 = 34 mm at the saw: 2.22 m × 14.20 = 31.524
        ("W25", ("2.22", "1420", "31.52", "11.10")),
        # 449 × 562 lies in 560 × 815, half a sheet; 9.00 × 4 = 36.00 a sheet
        ("M1", ("1/2", "3600", "18.00", "4.50")),
        ("M2", ("1/2", "3600", "18.00", "4.50")),
        # 0.562 × 0.449 = 0.252338 m², with 10 %: 0.2775718 × 54.00 = 14.98888; cost 4.99629
        ("G2", ("0.2775718", "5400", "14.99", "5.00")),
        # 562 + 449 = 1011, up to 1200; cost 7.00 / (1.12 × 0.815) × 0.252338 = 1.93511
        ("B3", ("1", "600", "6.00", "1.94")),
        ("R1", ("2", "50", "1.00", "0.12")),
        # 61.669704 min (below) × 0.64 = 39.46861
        ("work", ("61.669704", "64", "39.47", "0")),
    ],
)
def test_every_line_is_as_worked_by_hand(
    price: PiecePrice, code: str, figures: tuple[str, str, str, str]
) -> None:
    quantity, unit, amount, cost = figures
    found = line(price, code)
    assert found.quantity == Fraction(quantity)
    assert found.unit_price == Fraction(unit)
    assert found.amount == euro(amount)
    assert found.cost == euro(cost)
    assert not found.below_cost
    assert found.notice is None


def test_the_minutes_of_the_default_table_add_up_as_by_hand(price: PiecePrice) -> None:
    by_hand = [
        Fraction(4),  # measure and check
        Fraction(2 * 2),  # two blanks
        Fraction(2 + 2 * 4),  # two windows
        Fraction(5),  # hinge
        Fraction(2),  # backing
        4 + 8 * Fraction("0.252338"),  # glazing, by the m² of the package
        4 + Fraction("1.5") * Fraction("2.186"),  # mitre
        7 + Fraction("0.5") * Fraction("2.186"),  # join
        3 + Fraction("0.5") * Fraction("2.186"),  # fit
        2 + Fraction("2.186"),  # seal
        Fraction(3),  # hang
        Fraction(4),  # finish
    ]
    assert sum(by_hand) == Fraction("61.669704")
    assert price.minutes == Fraction("61.669704")


def test_discount_rush_rounding_and_tax_follow_in_that_order(price: PiecePrice) -> None:
    # 31.52 + 18.00 + 18.00 + 14.99 + 6.00 + 1.00 + 39.47
    assert price.subtotal == euro("128.98")
    assert price.discount == -euro("12.90")  # 12.898
    assert price.rush == euro("29.02")  # a quarter of 116.08
    assert price.rounding == -euro("0.10")  # 145.10 to the nearest 0.50
    assert price.total == euro("145.00")
    assert price.tax.tax == euro("29.00")
    assert price.to_pay == euro("174.00")


def test_the_shop_sees_cost_margin_and_earnings(price: PiecePrice) -> None:
    assert price.cost == euro("27.16")  # 11.10 + 2 × 4.50 + 5.00 + 1.94 + 0.12
    assert price.margin == euro("117.84")  # 145.00 − 27.16
    # 117.84 × 60 / 61.669704 = 114.6495
    assert price.earnings_per_hour == euro("114.65")
    assert not price.below_cost


def test_a_frame_says_how_its_price_came_about(price: PiecePrice) -> None:
    frame = line(price, "W25")
    assert frame.why == (
        "2 × 603 mm + 2 × 490 mm = 2186 mm.",
        "Lost at the saw: 4 × 8.5 mm = 34 mm.",
        "2.22 m × 14.20 a metre = 31.52.",
    )
    assert frame.why_shop[0] == "Cost 5.00 a metre × markup 2.84 = 14.20 a metre."


def test_the_handbook_rule_stands_beside_the_frame(price: PiecePrice) -> None:
    # 2 × (562 + 449) + 8 × 25 = 2222, which is 8 × 6 − 4 × 3 = 36 more than 2186.
    assert handbook_length(size(562, 449), mm(25)) == mm(2222)
    assert line(price, "W25").why_shop[-1] == (
        "By the rule of thumb 2 × (w + h) + 8 × face it would be 2222 mm, 36 mm more than the long points "
        "(8 × lip − 4 × play)."
    )


def test_lines_stand_in_the_order_in_which_a_quote_names_them(price: PiecePrice) -> None:
    assert [line.group for line in price.lines] == [
        LineGroup.FRAME,
        LineGroup.MATS,
        LineGroup.MATS,
        LineGroup.GLAZING,
        LineGroup.BOARDS,
        LineGroup.HARDWARE,
        LineGroup.LABOUR,
    ]
    assert [line.part for line in price.lines[:3]] == ["frame", "mat 1", "mat 2"]
