"""The words that drawings are written with: markup, colours, letters, and labels kept apart."""

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.drawings import Colour, Finish
from app.drawings.canvas.canvas import to_one_scale
from app.drawings.canvas.label_spacing import spread
from app.drawings.canvas.lettering import lines_of, width_of
from app.drawings.canvas.svg import element, number, words
from app.errors import Invalid


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (20.5, "20.5"),
        (603.0, "603"),
        (1 / 3, "0.33"),
        (-0.001, "0"),
        (2.999, "3"),
        (-1.25, "-1.25"),
    ],
)
def test_numbers_have_two_decimals_at_most(value, text):
    assert number(value) == text


@given(st.text())
def test_any_text_comes_back_from_the_markup(text):
    root = ElementTree.fromstring(element("text", words(text), title=text))
    cleaned = "".join(
        c if c in "\t\n\r" or 0x20 <= ord(c) <= 0xD7FF or 0xE000 <= ord(c) <= 0xFFFD
        or ord(c) > 0xFFFF else "\ufffd"
        for c in text
    )  # fmt: skip
    # XML itself reads a carriage return in content as a new line.
    assert (root.text or "") == cleaned.replace("\r\n", "\n").replace("\r", "\n")
    assert root.get("title") == cleaned


def test_a_colour_is_read_in_both_ways_of_writing_it():
    assert Colour.parse("#5a3f2b") == Colour(red=0x5A, green=0x3F, blue=0x2B)
    assert Colour.parse("#abc").hex == "#aabbcc"


@pytest.mark.parametrize("text", ["", "walnut", "#12345", "#12345g", "url(#x)", "#1234567"])
def test_what_is_no_colour_is_quoted(text):
    with pytest.raises(Invalid) as raised:
        Colour.parse(text)
    assert text[:40] in str(raised.value)


def test_colours_mix_in_whole_parts_rounded_half_up():
    black, white = Colour.parse("#000000"), Colour.parse("#ffffff")
    # 255 × 0.5 = 127.5 and 255 × 0.1 = 25.5.
    assert black.mixed(white, 50).parts == (128, 128, 128)
    assert black.mixed(white, 10).parts == (26, 26, 26)
    assert black.mixed(white, 0) == black
    assert black.mixed(white, 100) == white


@pytest.mark.parametrize(
    ("said", "finish"),
    [("Gilded leaf", Finish.METAL), ("high gloss", Finish.GLOSS), ("Matt lacquer", Finish.MATT),
     ("", Finish.SATIN), ("stained", Finish.SATIN), ("semi-matt", Finish.MATT)],
)  # fmt: skip
def test_a_finish_is_found_in_the_price_books_own_words(said, finish):
    assert Finish.named(said) is finish


wishes = st.lists(st.tuples(st.floats(-1e3, 1e3), st.floats(0.5, 50)), min_size=1, max_size=12).map(
    sorted
)


@given(wishes)
def test_labels_keep_their_order_and_never_overlap(labels):
    middles = spread([wish for wish, _ in labels], [width for _, width in labels])
    for (at, (_, width)), (next_at, (_, next_width)) in pairwise(zip(middles, labels, strict=True)):
        assert next_at - at >= (width + next_width) / 2 - 1e-6


def test_labels_that_do_not_collide_stay_where_they_wish_to_be():
    assert spread([0, 10, 20], [4, 4, 4]) == pytest.approx((0, 10, 20))
    # Two of width 4 that wish for the same place share it: 2 to either side.
    assert spread([10, 10], [4, 4]) == pytest.approx((8, 12))


@given(st.text(alphabet="abc de 12,", max_size=80), st.floats(30, 300))
def test_lines_keep_every_word_and_fit_where_a_word_can(text, width):
    lines = lines_of(text, 10, width)
    assert " ".join(lines).split() == text.split()
    for one in lines:
        assert width_of(one, 10) <= width or " " not in one


def test_drawings_get_views_of_one_size_each_about_its_own_middle():
    """By hand: the wider one is 40 wide, the higher one 50 high; of what is added half stands on each side."""
    low = '<svg viewBox="0 0 40 30"><rect width="40" height="30"/></svg>'
    high = '<svg viewBox="-5 -5 20 50"/>'
    assert to_one_scale((low, high)) == (
        '<svg viewBox="0 -10 40 50"><rect width="40" height="30"/></svg>',
        '<svg viewBox="-15 -5 40 50"/>',
    )
    assert to_one_scale((low,)) == (low,)
    assert to_one_scale(()) == ()
