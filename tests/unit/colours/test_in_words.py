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


# Quiet colours of pictures. Source: each swatch looked at by eye beside its word.
QUIET_COLOURS = {
    "#b3b48c": "pale olive",
    "#9a9c74": "grey-green",
    "#b9bfa6": "pale grey-green",
    "#5f6b52": "dark grey-green",
    "#3f4a3a": "dark grey-green",
    "#8c8a9c": "grey-purple",
    "#7f7a92": "grey-purple",
    "#8a7f94": "grey-purple",
    "#b8aebf": "pale grey-purple",
    "#f08a24": "orange",
    "#ff8c1a": "orange",
    "#e9a13b": "golden yellow",
    "#ffb347": "golden yellow",
    "#c9bfa0": "beige",
    "#e7d7c4": "beige",
    "#b7a99a": "pale grey-brown",
    "#998b7d": "grey-brown",
    "#6b6158": "dark grey-brown",
    "#704a5a": "wine red",
    "#c08a78": "pale rust",
    "#d9a9a0": "pale dusky pink",
    "#94707c": "dusky pink",
    "#a3a05e": "olive",
    "#6f7f9c": "grey-blue",
    "#50606c": "dark grey-blue",
    "#87a19a": "grey blue-green",
    "#9a8fc0": "pale purple",
    "#2b3a5a": "dark blue",
}


@pytest.mark.parametrize(("shade", "word"), QUIET_COLOURS.items())
def test_a_quiet_colour_is_called_as_it_looks(shade, word):
    assert in_words(Colour.parse(shade)) == word
