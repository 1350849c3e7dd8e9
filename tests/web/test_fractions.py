"""Fractions of a page are set as fractions and never broken, wherever they stand."""

import pytest

from app.web.kit.fractions import with_fractions_set
from tests.web.shown import parsed, words

NBSP = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("plain", "printed"),
    [
        (
            '<p>20 5/8 × 24 5/8"</p>',
            f'<p>20{NBSP}<span class="fraction">5/8</span> × 24{NBSP}<span class="fraction">5/8"</span></p>',
        ),
        ("<td>(14 5/8 in)</td>", f'<td>(14{NBSP}<span class="fraction">5/8</span> in)</td>'),
        ("<b>63/64&#34;</b>", '<b><span class="fraction">63/64&#34;</span></b>'),
        ("<p>±1/16&quot;, so</p>", '<p><span class="fraction">±1/16&quot;</span>, so</p>'),
    ],
)
def test_a_fraction_is_marked_and_held_to_its_whole_number(plain: str, printed: str) -> None:
    assert with_fractions_set(plain) == printed


@pytest.mark.parametrize(
    "plain",
    [
        '<input value="20 5/8">',
        "<textarea>\n20 5/8\n</textarea>",
        "<option>20 5/8</option>",
        '<svg viewBox="0 0 1 1"><text>20 5/8</text></svg>',
        "<p>As 13 Dec, 12/13; 2026-0001/1; 2/4; 9/8; 1/8/2026; 5/12</p>",
    ],
)
def test_what_is_typed_into_drawn_or_no_fraction_stays(plain: str) -> None:
    assert with_fractions_set(plain) == plain


def test_what_is_read_of_a_page_is_the_same_words() -> None:
    page = '<main><p>1 part, the largest 371 × 451 mm (14 5/8 × 17 3/4")</p></main>'
    assert (
        words(parsed(with_fractions_set(page)))
        == '1 part, the largest 371 × 451 mm (14 5/8 × 17 3/4")'
    )
