"""A shop's habits in the unit that it does not work in: round figures, not converted ones."""

from fractions import Fraction

import pytest

from app.lengths import Length, Unit, inches, mm
from app.orders import usual_shop

METRIC = usual_shop("A metric shop", Unit.MM, "EUR", Fraction(1, 5))
IMPERIAL = usual_shop("An imperial shop", Unit.IN, "USD", Fraction(0))


@pytest.mark.parametrize(
    ("name", "length"),
    [
        # By hand: 5 mm is 3.15 sixteenths, 10 mm 6.30, 6 mm 3.78, 3 mm 1.89, 60 mm 37.80.
        ("overlap", inches("3/16")),
        ("gap", inches("3/8")),
        ("reveal", inches("1/4")),
        ("allowance", inches("1/8")),
        ("border", inches("38/16")),
    ],
)
def test_a_metric_shop_works_in_inches_by_whole_sixteenths(name: str, length: Length) -> None:
    assert getattr(METRIC.allowances_in(Unit.IN), name) == length


@pytest.mark.parametrize(
    ("name", "length"),
    [
        # By hand: 3/16 in is 4.7625 mm, 3/8 in 9.525, 1/4 in 6.35, 1/8 in 3.175, 2 1/2 in 63.5.
        ("overlap", mm(5)),
        ("gap", mm("9.5")),
        ("reveal", mm("6.5")),
        ("allowance", mm(3)),
        ("border", mm("63.5")),
    ],
)
def test_an_imperial_shop_works_in_millimetres_by_halves(name: str, length: Length) -> None:
    assert getattr(IMPERIAL.allowances_in(Unit.MM), name) == length


def test_in_its_own_unit_a_shop_works_with_what_it_set() -> None:
    assert METRIC.allowances_in(Unit.MM) == METRIC.allowances
