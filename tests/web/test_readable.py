"""The width at which the letters of a drawing can just be read."""

from markupsafe import Markup

from app.web.pieces.readable import readable

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 0 600 400" role="img">'
    '<text x="1" font-size="20">a</text><text x="2" font-size="16.5">b</text></svg>'
)


def test_a_drawing_is_as_wide_as_its_smallest_letters_need() -> None:
    """600 wide with letters of 16.5: at 12 px for these, 600 × 12 / 16.5 = 436.4, so 437 px."""
    assert readable(SVG).startswith('<svg width="437" xmlns=')
    assert readable(Markup(SVG)) == readable(SVG)


def test_a_drawing_without_a_word_stays_as_it_is() -> None:
    bare = '<svg viewBox="0 0 10 10"><path d="M0,0"/></svg>'
    assert readable(bare) == bare
