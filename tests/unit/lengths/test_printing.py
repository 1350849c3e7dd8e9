"""Lengths as people and programs read them."""

from fractions import Fraction

import pytest

from app.lengths import (
    ZERO,
    Length,
    Size,
    Unit,
    exact_text,
    inches,
    mm,
    nearest_fraction_text,
    say,
    say_on_rule,
    show,
    show_for_record,
    show_on_rule,
    show_size,
    show_size_on_rule,
)


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (mm(562), "562"),
        (mm("9.3"), "9.3"),
        (mm("0.5"), "0.5"),
        (mm("-0.5"), "−0.5"),
        (mm("1.125"), "1.125"),
        (mm("523.875"), "523.9"),  # 20 5/8 in, on no rule
        (mm("374.35"), "374.35"),
        (mm("9.999"), "9.999"),
        (inches("1/64"), "0.4"),  # 0.396875
        (inches("1/16"), "1.59"),  # 1.5875
        (inches("1/3"), "8.47"),  # 8.4666...
        (mm("-0.0001"), "0"),
        (mm("0.0001"), "0"),
        (ZERO, "0"),
        (mm(10_000), "10000"),
    ],
)
def test_millimetres_are_decimals(length: Length, text: str) -> None:
    assert show(length, Unit.MM) == text
    assert show(length, Unit.MM, mark=True) == f"{text} mm"


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (inches("529/32"), "16 17/32"),
        (inches("3/8"), "3/8"),
        (inches("189/8"), "23 5/8"),
        (inches("1/64"), "1/64"),
        (inches("-63/4"), "−15 3/4"),
        (inches(20), "20"),
        (ZERO, "0"),
        (inches("1/128"), "0.008"),  # 0.0078125
        (inches("1/3"), "0.333"),
        (mm(400), "15 3/4"),  # 400 / 25.4 = 15.74803..., × 32 = 503.9
        (mm("12.6"), "0.496"),  # 0.49606, under half an inch
        (inches("15.7"), "15.7"),
        (inches("15.748"), "15 3/4"),
        (mm("-0.001"), "0"),
    ],
)
def test_inches_are_whole_and_fraction_as_on_a_scale(length: Length, text: str) -> None:
    assert show(length, Unit.IN) == text
    assert show(length, Unit.IN, mark=True) == f'{text}"'


@pytest.mark.parametrize(
    ("size", "unit", "bare", "marked"),
    [
        (Size(mm(562), mm(449)), Unit.MM, "562 × 449", "562 × 449 mm"),
        (Size(inches(16), inches("41/2")), Unit.IN, "16 × 20 1/2", '16 × 20 1/2"'),
    ],
)
def test_a_size_has_one_mark_for_both(size: Size, unit: Unit, bare: str, marked: str) -> None:
    assert show_size(size, unit) == bare
    assert show_size(size, unit, mark=True) == marked


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (mm("1.40"), Unit.MM, "1.4"),
        (mm(1200), Unit.MM, "1200"),
        (mm("-0.05"), Unit.MM, "-0.05"),
        (inches("1/64"), Unit.MM, "0.396875"),
        (inches("63/8"), Unit.IN, "7.875"),
        (inches("1/64"), Unit.IN, "0.015625"),
        (inches("1/3"), Unit.IN, "1/3"),
        (mm("0.1"), Unit.IN, "1/254"),
        (mm(-400), Unit.IN, "-2000/127"),
        (inches("1/3"), Unit.MM, "127/15"),
        (ZERO, Unit.IN, "0"),
    ],
)
def test_exact_text_is_a_decimal_or_a_fraction_where_it_does_not_end(
    length: Length, unit: Unit, text: str
) -> None:
    assert exact_text(length, unit) == text
    assert Length.of(text, unit) == length


@pytest.mark.parametrize(
    ("length", "denominator", "text"),
    [
        # Source: L3, framers' round pairs: 7 cm is 2 3/4 in + 0.15 mm, 8 cm 3 5/32 in - 0.17 mm,
        # 31 cm 12 7/32 in - 0.36 mm.
        (mm(70), 32, "2 3/4"),
        (mm(80), 32, "3 5/32"),
        (mm(310), 32, "12 7/32"),
        (inches("529/32"), 32, "16 17/32"),
        (inches("529/32"), 16, "16 9/16"),  # half-way goes up
        (mm(400), 64, "15 3/4"),
        (mm(-70), 32, "−2 3/4"),
        (mm("-0.1"), 32, "0"),
        (inches(Fraction(63, 64)), 32, "1"),
    ],
)
def test_the_check_value_is_the_nearest_fraction(
    length: Length, denominator: int, text: str
) -> None:
    assert nearest_fraction_text(length, denominator) == text


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (mm("374.35"), Unit.MM, "374.35"),
        (inches("3/8"), Unit.MM, "9.53"),  # 9.525
        (inches("-3/8"), Unit.MM, "−9.53"),
        (inches("15.75"), Unit.IN, "15 3/4"),
        (mm(50), Unit.IN, "1 31/32"),  # 1.9685, × 32 = 62.99
        (mm(62), Unit.IN, "2 7/16"),  # 2.4409, × 32 = 78.1, 78/32
        (mm(-6), Unit.IN, "−1/4"),  # 0.2362, × 32 = 7.6, 8/32
        (mm("0.1"), Unit.IN, "0"),  # 0.0039, × 32 = 0.13
        (inches("15/64"), Unit.IN, "15/64"),  # as it was typed
    ],
)
def test_a_length_is_read_off_a_rule(length: Length, unit: Unit, text: str) -> None:
    assert show_on_rule(length, unit) == text
    assert show_on_rule(length, unit, mark=True) == text + {Unit.MM: " mm", Unit.IN: '"'}[unit]


def test_a_size_is_read_off_a_rule() -> None:
    assert show_size_on_rule(Size(mm(62), mm(50)), Unit.IN, mark=True) == '2 7/16 × 1 31/32"'


@pytest.mark.parametrize(
    ("unit", "length", "size", "on_rule", "size_on_rule"),
    [
        (Unit.MM, "62 mm", "62 × 50.8 mm", "62 mm", "62 × 50.8 mm"),
        (Unit.IN, '2 7/16"', '2 7/16 × 2"', '2 7/16"', '2 7/16 × 2"'),  # 62 / 25.4 = 2.4409
    ],
)
def test_a_sentence_has_a_length_or_a_size_with_its_unit(
    unit: Unit, length: str, size: str, on_rule: str, size_on_rule: str
) -> None:
    wide, whole = mm(62), Size(mm(62), mm("50.8"))
    assert (say(wide, unit), say(whole, unit)) == (length, size)
    assert (say_on_rule(wide, unit), say_on_rule(whole, unit)) == (on_rule, size_on_rule)


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (mm(562), Unit.MM, "562"),
        (mm("-0.5"), Unit.MM, "−0.5"),
        (mm("523.875"), Unit.MM, "523.875"),
        (inches("1/3"), Unit.MM, "8.47"),
        (inches("529/32"), Unit.IN, "16 17/32"),
        (inches("1/128"), Unit.IN, "0.008"),
        (mm(400), Unit.IN, "15.748"),
        (mm("-0.001"), Unit.IN, "0"),
        (inches("15.7"), Unit.IN, "15.7"),
    ],
)
def test_notes_of_prints_are_written_as_ever(length: Length, unit: Unit, text: str) -> None:
    assert show_for_record(length, unit) == text
