"""A plain word for a colour."""

import pytest

from app.colours import Colour, in_words

# Values of the named colours. Source: CSS Color Module Level 4, W3C, section 6.1. The words are plain ones for them, ours.
NAMED_COLOURS = {
    "#000000": "black",
    "#ffffff": "white",
    "#808080": "grey",
    "#a9a9a9": "grey",
    "#d3d3d3": "light grey",
    "#ff0000": "red",
    "#8b0000": "dark red",
    "#008000": "green",
    "#006400": "dark green",
    "#0000ff": "blue",
    "#000080": "dark blue",
    "#add8e6": "pale blue",
    "#ffff00": "yellow",
    "#ffa500": "orange",
    "#ffc0cb": "pink",
    "#800080": "purple",
    "#8b4513": "brown",
    "#808000": "olive",
    "#008080": "blue-green",
    "#d2b48c": "beige",
    "#fffdd0": "cream",
}


@pytest.mark.parametrize(("shade", "word"), NAMED_COLOURS.items())
def test_a_named_colour_has_its_plain_word(shade, word):
    assert in_words(Colour.parse(shade)) == word


@pytest.mark.parametrize(
    ("shade", "word"),
    [("#a45a42", "rust"), ("#32435b", "dark blue"), ("#efece3", "white"), ("#6d4c34", "brown")],
)
def test_so_has_a_paint_of_frames(shade, word):
    assert in_words(Colour.parse(shade)) == word
