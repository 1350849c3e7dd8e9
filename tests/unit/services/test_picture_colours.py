"""The few colours that carry a picture, of painted pictures whose patches are known."""

from random import Random

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from app.colours import Colour, difference, in_words, lab_of
from app.services.picture_colours import MOST, colour_at, colours_of

PAPER, SKY, SEA, BOAT = (
    Colour.parse(text) for text in ("#f8f6f0", "#8fa5b4", "#3f5864", "#c4332b")
)


def harbour() -> Image.Image:
    """A sheet with a wide margin of paper (of its area), sky and sea, and a red boat of 2 %."""
    image = Image.new("RGB", (800, 600), PAPER.hex)
    draw = ImageDraw.Draw(image)
    draw.rectangle((100, 75, 699, 299), fill=SKY.hex)
    draw.rectangle((100, 300, 699, 524), fill=SEA.hex)
    draw.rectangle((300, 280, 419, 359), fill=BOAT.hex)
    return image


def grainy(image: Image.Image, spread: int) -> Image.Image:
    """The same with chance in each part of each pixel, so much above or below its value; always the same chance."""
    random, size = Random(7), image.size[0] * image.size[1]
    chance = [
        Image.frombytes("L", image.size, random.randbytes(size)).point(
            lambda value: 128 + (value - 128) * spread // 128
        )
        for _ in range(3)
    ]
    bands = [
        ImageChops.add(band, each, offset=-128)
        for band, each in zip(image.split(), chance, strict=True)
    ]
    return Image.merge("RGB", bands)


def is_near(one: Colour, other: Colour, reach: float) -> bool:
    return difference(lab_of(one), lab_of(other)) < reach


def test_the_patches_are_found_the_largest_first_and_bare_paper_last():
    found = colours_of(harbour())
    wanted = (SEA, SKY, BOAT, PAPER)
    assert len(found) == 4
    # Sea and sky are as large as each other but for the boat, of which three quarters lie on the sea.
    assert {found[0].hex[:2], found[1].hex[:2]} == {SKY.hex[:2], SEA.hex[:2]}
    assert all(any(is_near(each, patch, 3) for each in found) for patch in wanted)
    assert is_near(found[2], BOAT, 3)
    assert is_near(found[3], PAPER, 3)


def test_a_red_boat_of_two_hundredths_is_not_lost_in_grain():
    found = colours_of(grainy(harbour(), 40))
    assert any(is_near(each, BOAT, 8) for each in found)
    assert len(found) == 4


def meadow(across: int) -> Image.Image:
    """A meadow of grey green below violet hills, a warm sky and a small orange sun, so many pixels across; its edges run softly."""
    image = Image.new("RGB", (400, 300), "#ddcfc2")
    draw = ImageDraw.Draw(image)
    draw.polygon(
        [(0, 150), (90, 90), (180, 140), (280, 80), (400, 140), (400, 200), (0, 200)], "#8c85a0"
    )
    draw.rectangle((0, 180, 399, 299), "#b3b48c")
    edge = across / 2
    draw.ellipse((320 - edge, 45 - edge, 320 + edge, 45 + edge), "#f58a1f")
    return image.filter(ImageFilter.GaussianBlur(3))


@pytest.mark.parametrize("across", [55, 28])
def test_a_small_orange_sun_is_among_the_colours_and_all_have_their_words(across):
    """Of 400 x 300 pixels a disc of 55 takes 2 %, one of 28 half a per cent. The words are those of whoever looks at the picture."""
    found = colours_of(grainy(meadow(across), 20))
    called = {in_words(each) for each in found}
    assert called >= {"orange", "grey-purple", "beige"}
    assert called & {"pale olive", "grey-green"}


def test_two_shades_that_hardly_differ_are_one_colour():
    image = Image.new("RGB", (300, 200), "#4a6a54")
    image.paste("#4d6d58", (0, 0, 150, 200))
    (only,) = colours_of(image)
    assert is_near(only, Colour.parse("#4b6b56"), 1)


def test_a_strong_speck_goes_before_a_further_shade_of_what_is_there():
    """Seven quiet colours, each a seventh of the sheet, and red on 2 % of it, which stays."""
    quiet = ("#202020", "#848484", "#e4e4e4", "#1f4a6e", "#6f96b4", "#486848", "#9ab49a")
    image = Image.new("RGB", (980, 400))
    for at, shade in enumerate(quiet):
        image.paste(shade, (at * 140, 0, at * 140 + 140, 400))
    image.paste("#d0201c", (0, 0, 100, 80))
    found = colours_of(image)
    assert len(found) == MOST
    assert any(is_near(each, Colour.parse("#d0201c"), 2) for each in found)


def test_the_same_picture_gives_the_same_colours_whatever_its_mode():
    image = harbour()
    assert colours_of(image) == colours_of(image.copy())
    assert len(colours_of(image.convert("L"))) >= 3
    clear = Image.new("RGBA", (40, 40), (200, 0, 0, 0))
    assert colours_of(clear) == (Colour.parse("#ffffff"),)


@pytest.mark.parametrize("size", [(1, 1), (1, 500), (3000, 2)])
def test_a_strip_or_a_single_pixel_has_its_colour(size):
    assert colours_of(Image.new("RGB", size, "#336699")) == (Colour.parse("#336699"),)


@pytest.mark.parametrize(
    ("across", "down", "colour"),
    [(0.5, 0.25, SKY), (0.2, 0.8, SEA), (0.45, 0.53, BOAT), (0, 0, PAPER), (1, 1, PAPER)],
)
def test_the_colour_at_a_place_is_that_of_the_spot_around_it(across, down, colour):
    assert colour_at(harbour(), across, down) == colour


def test_grain_is_evened_out_where_a_colour_is_picked():
    # By a spot of 15 x 15 pixels, of which the chance of one, up to ± 40, is evened out to about ± 2.
    assert is_near(colour_at(grainy(harbour(), 40), 0.5, 0.25), SKY, 3)


def test_beyond_the_picture_the_nearest_edge_is_meant():
    assert colour_at(harbour(), -3, 9) == PAPER
