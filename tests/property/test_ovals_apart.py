"""The distance between two ovals against a geometry library's, measured between many points of each."""

from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing

from app.framing.ovals import least_between
from app.lengths import mm

POINTS = 1440


def ring(across: float, down: float) -> LinearRing:
    turns = (2 * pi * n / POINTS for n in range(POINTS))
    return LinearRing([(across * cos(turn), down * sin(turn)) for turn in turns])


@given(st.integers(20, 400), st.integers(20, 400), st.integers(1, 15), st.integers(1, 15))
@settings(max_examples=60)
def test_no_point_of_one_oval_is_nearer_to_the_other(
    across: int, down: int, less_across: int, less_down: int
) -> None:
    """Chords between points lie inside their ovals by less than a hundredth of a mm here."""
    outer = (mm(across), mm(down))
    inner = (mm(across - less_across), mm(down - less_down))
    apart = float(least_between(outer, inner).mm)
    measured = ring(across, down).distance(ring(across - less_across, down - less_down))
    assert apart == pytest.approx(measured, abs=0.02)


@given(st.integers(20, 400), st.integers(20, 400), st.integers(1, 15))
def test_turned_by_a_quarter_it_is_the_same_and_never_more_than_what_is_taken_off(
    across: int, down: int, less: int
) -> None:
    outer, inner = (mm(across), mm(down)), (mm(across - less), mm(down - less))
    apart = least_between(outer, inner)
    assert apart == least_between(outer[::-1], inner[::-1])
    assert apart <= mm(less)
    if across == down:
        assert apart == mm(less)
