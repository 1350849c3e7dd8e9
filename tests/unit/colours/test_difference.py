"""How far two colours are apart: by the published pairs, and by a library that has nothing of ours."""

from itertools import product
from pathlib import Path

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from app.colours import Colour, Lab, difference, lab_of

_TABLE = Path(__file__).parents[2] / "cases" / "ciede2000.tsv"


def published() -> list[list[float]]:
    lines = [line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return [[float(text) for text in line.split("\t")] for line in lines[1:]]


def test_the_table_has_all_34_pairs():
    assert len(published()) == 34


@pytest.mark.parametrize("pair", published(), ids=str)
def test_a_published_pair_is_as_far_apart_as_published(pair):
    one, other = (Lab(light=pair[at], red=pair[at + 1], yellow=pair[at + 2]) for at in (0, 3))
    assert round(difference(one, other), 4) == pair[6]
    assert round(difference(other, one), 4) == pair[6]


def test_black_and_white_are_a_hundred_apart():
    # Source: CIELAB is 0 for black and 100 for white, and of greys only lightness differs; at a mean of 50 its weight is 1.
    black, white = (lab_of(Colour.parse(text)) for text in ("#000", "#fff"))
    assert difference(black, white) == pytest.approx(100, abs=1e-6)


def test_every_corner_of_srgb_is_seen_as_the_library_sees_it():
    """Every ninth part of each of red, green and blue: 1,000 colours of the whole cube."""
    for parts in product(range(0, 256, 28), repeat=3):
        red, green, blue = parts
        ours = lab_of(Colour(red=red, green=green, blue=blue))
        theirs = Color("srgb", [part / 255 for part in parts]).convert("lab-d65")
        assert (ours.light, ours.red, ours.yellow) == pytest.approx(theirs.coords(), abs=1e-6)


_COLOURS = st.builds(
    Colour, red=st.integers(0, 255), green=st.integers(0, 255), blue=st.integers(0, 255)
)


@given(one=_COLOURS, other=_COLOURS)
def test_the_library_finds_them_as_far_apart(one, other):
    theirs = Color(one.hex).delta_e(Color(other.hex), method="2000", space="lab-d65")
    assert difference(lab_of(one), lab_of(other)) == pytest.approx(theirs, abs=1e-5)


@given(one=_COLOURS, other=_COLOURS)
def test_it_is_the_same_both_ways_and_nothing_from_a_colour_to_itself(one, other):
    a, b = lab_of(one), lab_of(other)
    assert difference(a, b) == pytest.approx(difference(b, a))
    assert difference(a, a) == 0
