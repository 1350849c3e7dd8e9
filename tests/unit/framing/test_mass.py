"""Weights as they are typed: exact, whatever the mark; and written so that they read back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Invalid
from app.framing.mass import mass_text, parse_mass, show_kg, show_mass
from app.lengths import Unit

POUND = Fraction("0.45359237")
"""Source: international yard and pound agreement of 1959, NIST SP 811 appendix B."""


@pytest.mark.parametrize(
    ("text", "kg"),
    [
        ("2.3 kg", Fraction("2.3")),
        ("2,3kg", Fraction("2.3")),
        ("850 g", Fraction("0.85")),
        ("850 grams", Fraction("0.85")),
        ("2 kg 300 g", Fraction("2.3")),
        ("5 lb 4 oz", POUND * Fraction("5.25")),
        ("5lb4oz", POUND * Fraction("5.25")),
        ("5 lbs, 4 oz", POUND * Fraction("5.25")),
        ("5 pounds and 4 ounces", POUND * Fraction("5.25")),
        ("5 lb 4", POUND * Fraction("5.25")),
        ("5½ lb", POUND * Fraction("5.5")),
        ("1/2 lb", POUND / 2),
        ("12 oz", POUND * Fraction(12, 16)),
        (".5 kg", Fraction("0.5")),
        ("  3 KG ", Fraction(3)),
    ],
)
@pytest.mark.parametrize("unit", [*Unit, None])
def test_a_weight_with_a_mark_is_read_exactly(text: str, kg: Fraction, unit: Unit | None) -> None:
    assert parse_mass(text, bare=unit) == kg


def test_a_bare_number_is_in_the_usual_unit_of_the_shop() -> None:
    assert parse_mass("2.5", bare=Unit.MM) == Fraction("2.5")
    assert parse_mass("2.5", bare=Unit.IN) == POUND * Fraction("2.5")
    with pytest.raises(Invalid, match=r"“2\.5” has no mark that says what it is in, as kg, g, lb"):
        parse_mass("2.5", bare=None)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("heavy", "cannot be read as a weight"),
        ("-2 kg", "cannot be read as a weight"),
        ("2 kg 3 lb", "do not go together"),
        ("2 3 kg", "do not go together"),
        ("5 lb 16 oz", "too many oz after the lb"),
        ("5.5 lb 4 oz", "only the last may have one"),
        ("1/0 kg", "over 0"),
        ("0 kg", "is zero"),
        ("1000.1 kg", "more than 1000 kg"),
        ("1,200 g", "thousands or decimals"),
        ("2 kgx", "cannot be read as a weight"),
        ("9" * 41, "41 characters long"),
        (" ", "Nothing was typed"),
    ],
)
def test_what_is_no_weight_is_refused_with_what_would_do(text: str, why: str) -> None:
    with pytest.raises(Invalid) as raised:
        parse_mass(text, bare=Unit.MM, path="artwork.weight")
    (fault,) = raised.value.faults
    assert fault.path == "artwork.weight"
    assert why in fault.message
    assert "2.3 kg, 850 g or 5 lb 4 oz" in fault.message


@given(
    number=st.fractions(min_value=Fraction(1, 10**6), max_value=1000, max_denominator=10**6),
    unit=st.sampled_from(Unit),
)
def test_what_is_written_reads_back_exactly(number: Fraction, unit: Unit) -> None:
    assert parse_mass(mass_text(number, unit), bare=None) == number


def test_a_field_has_the_shops_own_unit_where_that_is_exact() -> None:
    assert mass_text(Fraction(15), Unit.MM) == "15 kg"
    assert mass_text(POUND * 33, Unit.IN) == "33 lb"
    assert mass_text(POUND * 33, Unit.MM) == "33 lb"
    assert mass_text(Fraction(15), Unit.IN) == "15 kg"


def test_light_things_are_shown_in_grams_or_ounces() -> None:
    """By hand: 0.025 kg / 0.028349523125 kg = 0.88 oz; 2.784 kg / 0.028349523125 kg = 98.2 oz, 6 × 16 + 2.2;
    0.4535 kg / 0.028349523125 kg = 15.997 oz, which is a pound; 3 kg = 105.8 oz, 6 × 16 + 9.8.
    """
    assert show_mass(Fraction("0.025"), Unit.MM) == "25 g"
    assert show_mass(Fraction("0.025"), Unit.IN) == "0.9 oz"
    assert show_mass(Fraction("2.784"), Unit.MM) == "2.8 kg"
    assert show_mass(Fraction("2.784"), Unit.IN) == "6 lb 2 oz"
    assert show_kg(Fraction("0.025"), Unit.MM) == "0.1 kg"
    assert show_kg(Fraction("0.025"), Unit.IN) == "1 oz"
    assert show_kg(Fraction("0.4535"), Unit.IN) == "1 lb"
    assert show_kg(Fraction(3), Unit.IN) == "6 lb 10 oz"
    assert show_kg(Fraction("0.001"), Unit.IN) == "1 oz"
