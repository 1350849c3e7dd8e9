"""The watercolours that the sample paints itself."""

from io import BytesIO

import pytest
from PIL import Image

from app.colours import in_words
from app.services.picture_colours import colours_of
from seed_demo.artworks import PLACES, artworks
from seed_demo.paintings import PAINTINGS, painted
from seed_demo.photos import painted_for
from seed_demo.tables import table


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


def test_every_one_is_of_an_artwork_of_the_sample_or_of_one_that_it_makes_up():
    made_up = {
        line["pattern"].format(place=place, number=1)
        for line in table("titles")
        for place in PLACES
    }
    assert set(PAINTINGS) <= {artwork.title for artwork in artworks()} | made_up


@pytest.mark.parametrize(
    ("title", "shown"),
    [
        ("Two trees, the salt pans", "Two trees, the salt pans"),
        ("Salt pans, evening", "Salt pans, evening"),
        ("Two trees, Orrenby", ""),
        ("Snow at the salt pans", ""),
        ("Boats below Kiln Row", "Boats at low water, Orrenby"),
    ],
)
def test_what_is_painted_is_what_the_title_says(title, shown):
    assert painted_for(title) == shown


def test_its_colours_are_those_that_it_was_painted_in():
    """Sand, sky, the red of boat and roofs, and the bare paper of the margin."""
    words = [in_words(each) for each in colours_of(opened("Boats at low water, Orrenby"))]
    assert {"tan", "pale grey-blue", "red", "white"} <= set(words)
