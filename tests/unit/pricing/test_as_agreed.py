"""Lines of a changed piece: what stays keeps its agreed price; figures by hand."""

from dataclasses import replace
from fractions import Fraction

from app.pricing.as_agreed import AgreedLines
from app.pricing.lines import PriceLine
from app.pricing.measure import Measure
from app.pricing.uses import LineGroup
from tests.builders.values import euro


def line(quantity: str, unit: int, amount: str, **more: object) -> PriceLine:
    """2.4 m of a moulding at so many cents a metre, or as said otherwise."""
    made = PriceLine(
        code="LIN-20",
        label="Linden",
        group=LineGroup.FRAME,
        part="frame 1",
        quantity=Fraction(quantity),
        measure=Measure.METRE,
        unit_price=Fraction(unit),
        amount=euro(amount),
        settled=euro(amount),
        cost=euro("9.60"),
        tax="standard",
        why=("2.4 m.", "2.4 m × 10.00 a metre = 24.00."),
        why_shop=("Cost 4.00 × 2.5.", "Cost 9.60."),
    )
    return replace(made, **more)


AGREED = line("2.4", 1000, "24.00", settled=euro("21.60"))
"""2.4 × 10.00 = 24.00, of which a discount took 2.40."""


def kept(new: PriceLine, *anew: PriceLine) -> PriceLine:
    """The line of the changed piece, where `anew` is the same piece by the rules of today."""
    return AgreedLines(agreed=(AGREED,), anew=anew).kept_in([new])[0]


def test_as_much_of_it_is_the_line_as_it_was_agreed() -> None:
    """Today it would be 2.4 × 20.00 = 48.00. Discount is taken of the whole piece anew."""
    assert kept(line("2.4", 2000, "48.00")) == replace(AGREED, settled=euro("24.00"))


def test_more_of_it_is_at_the_agreed_unit_price() -> None:
    """2.9 × 10.00 = 29.00."""
    found = kept(line("2.9", 2000, "58.00"))
    assert (found.unit_price, found.amount, found.settled) == (1000, euro("29.00"), euro("29.00"))
    assert found.why[-1] == "2.9 m × 10.00 a metre = 29.00."


def test_a_rule_of_the_shop_that_asks_for_more_changes_no_line() -> None:
    """With a wider saw the same piece takes 2.5 m today; the changed one does too, so nothing of it was changed."""
    today = line("2.5", 1000, "25.00")
    assert kept(today, today).amount == euro("24.00")
    assert kept(line("3", 1000, "30.00"), today).amount == euro("30.00")


def test_another_material_or_another_measure_is_new() -> None:
    other = line("2.4", 2000, "48.00", code="OAK-20")
    assert kept(other) == other
    by_piece = line("1", 5000, "50.00", measure=Measure.EACH)
    assert kept(by_piece) == by_piece


def test_another_size_band_is_at_its_own_price() -> None:
    band = line("1", 600, "6.00", measure=Measure.BAND)
    larger = line("1", 900, "9.00", measure=Measure.BAND)
    agreed = AgreedLines(agreed=(band,), anew=(band,))
    assert agreed.kept_in([larger]) == [larger]
    assert agreed.kept_in([band]) == [band]


def test_two_lines_of_one_material_meet_in_their_order() -> None:
    first, second = line("1", 1000, "10.00"), line("2", 1000, "20.00")
    agreed = AgreedLines(agreed=(first, second))
    now = [line("1", 2000, "20.00"), line("2", 2000, "40.00"), line("3", 2000, "60.00")]
    assert [each.amount for each in agreed.kept_in(now)] == [
        euro("10.00"),
        euro("20.00"),
        euro("60.00"),
    ]


def test_of_another_number_alike_each_line_is_as_agreed_times_the_number() -> None:
    """10 × 24.00 = 240.00, cost 10 × 9.60 = 96.00, though today one would be 2.5 m × 20.00 = 50.00."""
    today = line("2.5", 2000, "50.00")
    ten = replace(today, copies=10, amount=euro("500.00"), why=(*today.why, "10 × 50.00 = 500.00."))
    found = kept(ten, today)
    assert (found.quantity, found.unit_price, found.copies) == (Fraction("2.4"), 1000, 10)
    assert (found.amount, found.settled, found.cost) == (
        euro("240.00"),
        euro("240.00"),
        euro("96.00"),
    )
    assert found.why == (*AGREED.why, "10 × 24.00 = 240.00.")
    assert found.why_shop == ("Cost 4.00 × 2.5.", "Cost 96.00.")


def test_of_one_again_a_line_of_ten_is_that_of_one() -> None:
    """240.00 of ten is 24.00 of one."""
    ten = replace(
        AGREED,
        copies=10,
        amount=euro("240.00"),
        cost=euro("96.00"),
        why=(*AGREED.why, "10 × 24.00 = 240.00."),
    )
    today = replace(ten, unit_price=Fraction(2000), amount=euro("480.00"))
    agreed = AgreedLines(agreed=(ten,), anew=(today,))
    (found,) = agreed.kept_in([line("2.4", 2000, "48.00")])
    assert (found.copies, found.amount, found.cost) == (1, euro("24.00"), euro("9.60"))
    assert found.why == AGREED.why


def test_more_of_it_for_another_number_alike_is_at_the_agreed_unit_price() -> None:
    """2.9 × 10.00 = 29.00, and that ten times."""
    today = replace(
        line("2.9", 2000, "58.00"),
        copies=10,
        amount=euro("580.00"),
        why=("2.9 m.", "2.9 m × 20.00 a metre = 58.00.", "10 × 58.00 = 580.00."),
    )
    found = kept(today)
    assert (found.amount, found.settled) == (euro("290.00"), euro("290.00"))
    assert found.why == ("2.9 m.", "2.9 m × 10.00 a metre = 29.00.", "10 × 29.00 = 290.00.")


def test_as_much_of_it_in_other_sizes_says_the_sizes_of_now() -> None:
    """A quarter of a sheet covers both; 0.25 × 40.00 = 10.00."""
    sheet = line("1/4", 4000, "10.00", measure=Measure.SHEET, why=("846 × 646.", "as agreed."))
    now = replace(
        sheet, unit_price=Fraction(8000), amount=euro("20.00"), why=("826 × 626.", "anew.")
    )
    (found,) = AgreedLines(agreed=(sheet,), anew=(sheet,)).kept_in([now])
    assert (found.unit_price, found.amount) == (4000, euro("10.00"))
    assert found.why[0] == "826 × 626."


def test_another_size_in_the_same_band_keeps_the_price_of_the_band() -> None:
    """Agreed at 6.00; of today the band costs 9.00, for both sizes."""
    band = line("1", 600, "6.00", measure=Measure.BAND)
    today = replace(band, unit_price=Fraction(900), amount=euro("9.00"))
    now = replace(today, why=("another size.", "9.00."))
    (found,) = AgreedLines(agreed=(band,), anew=(today,)).kept_in([now])
    assert (found.unit_price, found.amount, found.why[0]) == (600, euro("6.00"), "another size.")
