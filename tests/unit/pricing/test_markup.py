"""The sliding markup: a step's end belongs to the step (P4)."""

from fractions import Fraction

import pytest

from app.errors import Invalid
from app.money import CURRENCIES, Money
from app.pricing import MarkupStep, MarkupTable
from tests.builders.values import euro
from tests.builders.watercolour import BOARDS


@pytest.mark.parametrize(
    ("cost", "factor"),
    [
        (Fraction(0), 4),
        (Fraction(1000), 4),  # up to and including 10.00
        (Fraction(1000) + Fraction(1, 1000), 3),
        (Fraction(2000), 3),
        (Fraction(2001), 2),
        (Fraction(1_000_000), 2),
    ],
)
def test_a_cost_at_the_end_of_a_step_still_has_its_markup(cost: Fraction, factor: int) -> None:
    assert BOARDS.factor_for(cost) == factor


def step(up_to: str | None, factor: int = 2) -> MarkupStep:
    return MarkupStep(up_to=None if up_to is None else euro(up_to), factor=Fraction(factor))


YEN = MarkupStep(up_to=Money(5, CURRENCIES["JPY"]), factor=Fraction(2))


@pytest.mark.parametrize(
    ("steps", "paths"),
    [
        ((), ["steps"]),
        ((step("1"),), ["steps"]),
        ((step(None), step(None)), ["steps.0.up_to"]),
        ((step("2"), step("1"), step(None)), ["steps.1.up_to"]),
        ((step("2"), step("2"), step(None)), ["steps.1.up_to"]),
        ((step("1"), YEN, step(None)), ["steps", "steps.1.up_to"]),
    ],
)
def test_steps_rise_and_the_last_one_is_open(
    steps: tuple[MarkupStep, ...], paths: list[str]
) -> None:
    with pytest.raises(Invalid) as caught:
        MarkupTable(code="t", name="Table", steps=steps)
    assert [fault.path for fault in caught.value.faults] == paths


def test_a_table_needs_a_code_and_a_name() -> None:
    with pytest.raises(Invalid) as caught:
        MarkupTable(code="", name="", steps=(step(None),))
    assert [fault.path for fault in caught.value.faults] == ["code", "name"]


def test_a_step_of_nothing_is_refused() -> None:
    with pytest.raises(Invalid) as caught:
        step("0", factor=0)
    assert [fault.path for fault in caught.value.faults] == ["up_to", "factor"]
