"""Exact arithmetic of lengths (L1, L3)."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest

from app.lengths import ZERO, Length, Size, Unit, inches, mm
from tests.cases import case


@pytest.mark.parametrize(
    ("in_text", "mm_text"),
    [
        # Source: international yard and pound agreement of 1 July 1959; NIST SP 811 appendix B.
        *zip(case("len-1").inputs["in"], case("len-1").expected["mm"], strict=True),
        # Source: arithmetic from 1 in = 25.4 mm.
        *zip(case("len-3").inputs["in"], case("len-3").expected["mm"], strict=True),
    ],
)
def test_inches_are_exact_in_millimetres(in_text: str, mm_text: str) -> None:
    assert inches(in_text) == mm(mm_text)
    assert mm(mm_text).in_unit(Unit.IN) == Fraction(in_text)


def test_museum_mats_in_centimetres_to_one_decimal() -> None:
    # Source: Canadian Conservation Institute Notes 11/5, Matting Works on Paper.
    published = case("len-2")
    for in_text, cm_text in zip(published.inputs["in"], published.expected["cm"], strict=True):
        assert abs(inches(in_text) - mm(cm_text) * 10) <= mm("0.5")


def test_round_pairs_on_two_scales_are_not_equal() -> None:
    # Source: common practice for the pairs; the differences are arithmetic (L3).
    published = case("len-4")
    for mm_text, in_text, difference in zip(
        published.inputs["mm"],
        published.inputs["in"],
        published.expected["difference_mm"],
        strict=True,
    ):
        whole, _, fraction = in_text.partition(" ")
        assert abs(mm(mm_text) - (inches(whole) + inches(fraction or "0"))) == mm(difference)


@pytest.mark.parametrize("number", ["1", "15.75", "63/8", "1/3", "0.1", "123456789.123456789"])
@pytest.mark.parametrize(("unit", "name"), [(Unit.MM, "millimetre"), (Unit.IN, "inch")])
def test_conversions_agree_with_an_outside_library(number: str, unit: Unit, name: str) -> None:
    registry = pint.UnitRegistry(non_int_type=Fraction)
    quantity = registry.Quantity(Fraction(number), name)
    assert Length.of(number, unit).in_unit(Unit.MM) == quantity.to("millimetre").magnitude
    assert Length.of(number, unit).in_unit(Unit.IN) == quantity.to("inch").magnitude


def test_a_length_is_made_of_text_whole_numbers_fractions_and_decimals() -> None:
    assert mm("1.5") == mm(Fraction(3, 2)) == mm(Decimal("1.5")) == mm("3/2")
    assert mm("-3") == mm(-3) == -mm(3)


def test_sums_differences_multiples_and_ratios() -> None:
    assert mm(10) + inches(1) == mm("35.4")
    assert inches(1) - mm(10) == mm("15.4")
    assert mm("1.5") * 3 == 3 * mm("1.5") == mm("4.5")
    assert Fraction(1, 3) * mm(10) == mm(10) / 3 == mm("10/3")
    assert mm(10) / Fraction(1, 2) == mm(20)
    assert mm(254) / inches(1) == 10
    assert abs(mm(-4)) == mm(4)
    assert sum([mm("0.1")] * 10, ZERO) == mm(1)


def test_lengths_of_two_units_compare_and_hash_alike() -> None:
    assert inches(1) == mm("25.4")
    assert len({inches(1), mm("25.4")}) == 1
    assert mm(25) < inches(1) <= mm("25.4") < mm(26)
    assert max(mm(25), inches(1)) == inches(1)


def test_only_zero_is_false() -> None:
    assert not ZERO
    assert mm("0.001")
    assert mm(-1)


@pytest.mark.parametrize("operation", ["+ 1.5", "- 1.5", "* 1.5", "/ 1.5", "+ 1", "< 1", "< 1.5"])
def test_floats_and_bare_numbers_do_not_mix_with_lengths(operation: str) -> None:
    with pytest.raises(TypeError):
        eval(f"length {operation}", {"length": mm(1)})


@pytest.mark.parametrize("value", [1.5, True, None])
def test_floats_and_truth_values_make_no_length(value: object) -> None:
    with pytest.raises(TypeError):
        mm(value)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        Length(value)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text",
    ["", " 1", "1 ", "1e3", "1_000", "nan", "inf", "1/0", "1.5/2", "1 1/2", "٣", "+1", "0x1"],
)
def test_text_that_no_program_writes_makes_no_length(text: str) -> None:
    with pytest.raises(ValueError, match="not a plain decimal or fraction"):
        mm(text)


def test_a_size_turns_and_knows_its_area_and_united_length() -> None:
    size = Size(mm(400), mm(500))
    assert size.turned() == Size(mm(500), mm(400))
    assert size.area_m2 == Fraction(1, 5)
    assert size.united == mm(900)
