"""Rounding to the steps that a shop cuts in (L2)."""

from dataclasses import replace

import pytest

from app.lengths import ALLOWED_STEPS, DEFAULT_STEP, ZERO, Length, Steps, Unit, inches, mm

HALF_MM = Steps(unit=Unit.MM, step=mm("0.5"))
SIXTEENTHS = Steps(unit=Unit.IN, step=inches("1/16"))


@pytest.mark.parametrize(
    ("steps", "length", "down", "up", "nearest", "half_down"),
    [
        (HALF_MM, mm("9.3"), mm(9), mm("9.5"), mm("9.5"), mm("9.5")),
        (HALF_MM, mm("9.2"), mm(9), mm("9.5"), mm(9), mm(9)),
        (HALF_MM, mm("9.25"), mm(9), mm("9.5"), mm("9.5"), mm(9)),
        (HALF_MM, mm("9.5"), mm("9.5"), mm("9.5"), mm("9.5"), mm("9.5")),
        (HALF_MM, mm("-9.25"), mm("-9.5"), mm(-9), mm(-9), mm("-9.5")),
        (HALF_MM, ZERO, ZERO, ZERO, ZERO, ZERO),
        (
            SIXTEENTHS,
            inches("529/32"),  # 16 17/32 is half-way between 16 8/16 and 16 9/16
            inches("264/16"),
            inches("265/16"),
            inches("265/16"),
            inches("264/16"),
        ),
        # 400 mm = 15.748 in = 251.97 sixteenths
        (
            SIXTEENTHS,
            mm(400),
            inches("251/16"),
            inches("252/16"),
            inches("252/16"),
            inches("252/16"),
        ),
    ],
)
def test_rounding_down_up_and_to_the_nearest(  # noqa: PLR0917  one column of the table each
    steps: Steps, length: Length, down: Length, up: Length, nearest: Length, half_down: Length
) -> None:
    assert steps.down(length) == down
    assert steps.up(length) == up
    assert steps.nearest(length) == nearest
    assert steps.nearest_half_down(length) == half_down


def test_a_shop_chooses_among_the_steps_of_its_scale() -> None:
    assert ALLOWED_STEPS[Unit.MM] == (mm("0.5"), mm(1))
    assert ALLOWED_STEPS[Unit.IN] == (inches("1/16"), inches("1/32"))
    assert DEFAULT_STEP[Unit.MM] == mm("0.5")
    assert DEFAULT_STEP[Unit.IN] == inches("1/16")


@pytest.mark.parametrize("step", [ZERO, mm(-1)])
def test_a_step_is_more_than_zero(step: Length) -> None:
    with pytest.raises(ValueError, match="more than zero"):
        replace(HALF_MM, step=step)
