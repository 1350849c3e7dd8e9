"""Money as whole minor units (M1)."""

from fractions import Fraction

import pytest

from app.money import Money, currency, round_half_up, round_to_step

EUR = currency("EUR")
USD = currency("USD")


def euros(minor: int) -> Money:
    return Money(minor, EUR)


def test_amounts_add_subtract_and_multiply_by_counts() -> None:
    assert euros(1250) + euros(50) == euros(1300)
    assert euros(50) - euros(1250) == euros(-1200)
    assert euros(50) * 3 == 3 * euros(50) == euros(150)
    assert -euros(50) == euros(-50)
    assert abs(euros(-50)) == euros(50)
    assert sum([euros(1), euros(2)], Money.zero(EUR)) == euros(3)


def test_amounts_compare_and_only_zero_is_false() -> None:
    assert euros(1) < euros(2) <= euros(2) < euros(3)
    assert euros(3) > euros(2) >= euros(2)
    assert not euros(2) < euros(2)
    assert not euros(2) > euros(2)
    assert max(euros(1), euros(5)) == euros(5)
    assert euros(1)
    assert not Money.zero(EUR)


@pytest.mark.parametrize("operation", ["+", "-", "<", "<=", ">", ">="])
def test_two_currencies_never_meet(operation: str) -> None:
    with pytest.raises(ValueError, match="EUR and USD"):
        eval(f"a {operation} b", {"a": euros(1), "b": Money(1, USD)})
    assert euros(1) != Money(1, USD)


@pytest.mark.parametrize(
    "operation", ["+ 1", "- 1", "* 1.5", "< 1", "<= 1", "> 1", ">= 1", "+ 1.5", "/ 2"]
)
def test_bare_numbers_and_floats_do_not_mix_with_money(operation: str) -> None:
    with pytest.raises(TypeError):
        eval(f"a {operation}", {"a": euros(1)})


@pytest.mark.parametrize("minor", [1.0, True, "1", Fraction(1), None])
def test_money_is_whole_minor_units(minor: object) -> None:
    with pytest.raises(TypeError, match="whole minor units"):
        Money(minor, EUR)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "rounded"),
    [
        # Source: HMRC internal manual VATREC12030, below half down, half and more up.
        ("0.4999", 0),
        ("0.5", 1),
        ("1.5", 2),
        ("2.5", 3),  # half-even would give 2
        ("246.8", 247),
        ("7", 7),
        ("-0.4999", 0),
        ("-0.5", -1),  # a refund mirrors its charge
        ("-2.5", -3),
    ],
)
def test_half_and_more_goes_up_and_refunds_mirror_charges(value: str, rounded: int) -> None:
    assert round_half_up(Fraction(value)) == rounded
    assert Money(10, EUR).times(Fraction(value) / 10) == euros(rounded)


def test_times_takes_exact_numbers_only() -> None:
    assert euros(333).times(2) == euros(666)
    with pytest.raises(TypeError, match="exact numbers"):
        euros(100).times(0.2)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("minor", "step", "rounded"),
    [
        (1234, 5, 1235),
        (1232, 5, 1230),
        (1225, 50, 1250),  # half-way goes up
        (1224, 50, 1200),
        (-1225, 50, -1250),
        (1234, 100, 1200),
        (1234, 1, 1234),
        (1234, 0, 1234),
        (0, 50, 0),
    ],
)
def test_a_price_is_rounded_to_the_shops_step(minor: int, step: int, rounded: int) -> None:
    assert round_to_step(euros(minor), euros(step)) == euros(rounded)


@pytest.mark.parametrize("step", [Money(-5, EUR), Money(5, USD)])
def test_a_rounding_step_is_zero_or_more_in_the_same_currency(step: Money) -> None:
    with pytest.raises(ValueError, match="a rounding step is zero or more"):
        round_to_step(euros(1), step)
