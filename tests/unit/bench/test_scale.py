"""Figures of a scale by hand: its steps, and the check value in the other unit (B1, B5, L3)."""

import pytest

from app.bench import Scale
from app.lengths import Length, Unit, inches, mm

HALVES = Scale(unit=Unit.MM, step=mm("0.5"))
THIRTY_SECONDS = Scale(unit=Unit.IN, step=inches("1/32"))


@pytest.mark.parametrize(
    ("scale", "length", "text", "check"),
    [
        (HALVES, inches("39/16"), "62", "2 7/16"),  # 61.9125; 62 is 2 14.1/32
        (HALVES, mm("58.75"), "59", "2 5/16"),  # half-way goes up; 2 10.3/32
        (HALVES, mm(70), "70", "2 3/4"),
        (THIRTY_SECONDS, mm(62), "2 7/16", "61.9"),  # 78.1/32; 61.9125
        (THIRTY_SECONDS, mm(80), "3 5/32", "80.2"),  # handbook L3
        (THIRTY_SECONDS, inches("2.441"), "2 7/16", "61.9"),
    ],
)
def test_a_length_is_read_in_steps_with_its_check(
    scale: Scale, length: Length, text: str, check: str
) -> None:
    assert (scale.text(length), scale.check(length)) == (text, check)
    assert scale.mark(length, scale.unit) == text
    assert scale.mark(length, scale.other) == f"{text} ({check})"
