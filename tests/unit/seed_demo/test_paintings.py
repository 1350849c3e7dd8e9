"""The watercolours that the sample paints itself."""

from io import BytesIO

import pytest
from PIL import Image

from app.colours import in_words
from app.services.picture_colours import colours_of
from seed_demo.artworks import artworks
from seed_demo.paintings import PAINTINGS, painted


def opened(title: str) -> Image.Image:
    return Image.open(BytesIO(painted(title, 420, 297)))


@pytest.mark.parametrize("title", PAINTINGS)
def test_it_is_a_small_jpeg_in_the_proportion_of_the_artwork(title):
    content = painted(title, 420, 297)
    image = Image.open(BytesIO(content))
    assert image.format == "JPEG"
    assert image.size == (900, 636)  # 900 × 297 / 420 = 636.4
    assert len(content) < 100_000


@pytest.mark.parametrize("title", PAINTINGS)
def test_it_is_painted_the_same_every_time(title):
    assert painted(title, 420, 297) == painted(title, 420, 297)


def test_every_one_is_of_an_artwork_of_the_sample():
    assert set(PAINTINGS) <= {artwork.title for artwork in artworks()}


def test_its_colours_are_those_that_it_was_painted_in():
    """Sand, sky, the red of boat and roofs, and the bare paper of the margin."""
    words = [in_words(each) for each in colours_of(opened("Boats at low water, Orrenby"))]
    assert {"tan", "pale grey-blue", "red", "white"} <= set(words)
