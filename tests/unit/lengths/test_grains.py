"""Lengths as whole numbers for integer columns."""

import pytest

from app.errors import Invalid
from app.lengths import ZERO, Length, from_grains, inches, mm, to_grains


@pytest.mark.parametrize(
    ("length", "grains"),
    [
        (mm(1), 320_000),
        (mm("0.001"), 320),
        (inches("1/64"), 127_000),  # 0.396875 mm x 320,000
        (inches(1), 8_128_000),
        (mm(10_000), 3_200_000_000),
        (mm(-1), -320_000),
        (ZERO, 0),
    ],
)
def test_both_grids_are_whole_grains(length: Length, grains: int) -> None:
    assert to_grains(length) == grains
    assert from_grains(grains) == length


def test_a_length_finer_than_both_grids_is_refused_with_its_place() -> None:
    with pytest.raises(Invalid) as caught:
        to_grains(inches("1/3"), path="mats.1.reveal")
    (fault,) = caught.value.faults
    assert fault.path == "mats.1.reveal"
    assert "8.47 mm" in fault.message
    assert "1/1000 mm or 1/64 in" in fault.message
