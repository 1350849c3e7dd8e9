"""How full the pages of tickets are and how large their letters: by the rules of the paper, read back from PDFs.

Expected pages are reasoned from the rules: a common piece takes one page of any paper; what has more kinds of parts than
A5 holds breaks there between subjects; three frames with three mats and a notice at nearly every station take two.
"""

from functools import cache

import pytest

from app.documents.kit.faces import BOLD, SANS
from app.documents.ticket.ticket import Printing, ticket_pages
from app.lengths import Unit
from app.orders import Paper
from tests.builders.printed import EIGHT, PIECES, SKETCH, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import runs, words_of
from tests.documents.test_ticket_pages import PHONES, shop_of, ticket

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

SINGLE = {**SKETCH, "mats.1.material": "", "mats.1.reveal": ""}
MANY = {
    **EIGHT,
    "artwork.size": "60x80",
    "windows.count": "24",
    "arrangement.rows": "6",
    "mats.1.material": "M2",
    "mats.1.reveal": "4",
}
"""24 windows in two mats."""

ALL = {**PIECES, "single mat": SINGLE, "24 windows": MANY}

PAGES = {
    # name: A4, Letter, A5
    "single mat": (1, 1, 1),
    "sketch": (1, 1, 1),
    "inches": (1, 1, 1),
    "close": (1, 1, 1),
    "canvas": (1, 1, 1),
    "tray": (1, 1, 1),
    "float": (1, 1, 1),
    "triple mat": (1, 1, 2),
    "two frames": (1, 1, 1),
    "everything": (2, 2, 3),
    "24 windows": (2, 2, 3),
}


@cache
def of(name: str, paper: Paper) -> bytes:
    """Printed once for all who read it."""
    shop = shop_of(name)
    return ticket(an_order(ALL[name], shop=shop), shop, paper)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", PAGES)
def test_a_ticket_takes_the_pages_of_its_paper_and_none_for_a_line(name: str, paper: Paper) -> None:
    pages = words_of(of(name, paper))
    assert len(pages) == PAGES[name][[Paper.A4, Paper.LETTER, Paper.A5].index(paper)]
    # A subject with its heading, under the head of a page: some forty words at least.
    assert min(map(len, pages)) > 40


COMMON = ["single mat", "sketch", "inches", "close", "canvas", "tray", "float"]


@pytest.mark.parametrize("name", COMMON)
def test_cut_sizes_of_common_pieces_are_18_points_at_least_on_a4(name: str) -> None:
    page = next(_pages(name, Paper.A4))
    figures = {
        row.figure.text.replace("\N{NO-BREAK SPACE}", " ")
        for part in page.cuts
        for row in part.group.rows
    }
    found = [run.points for run in runs(of(name, Paper.A4)) if run.text in figures]
    assert max(found) >= 18
    # The same figure may be said of the frame in a check; sizes to cut are never smaller.
    assert sum(points >= 18 for points in found) >= len(figures)


@pytest.mark.parametrize("name", ["sketch", "single mat", "inches", "two frames", "24 windows"])
def test_both_columns_of_a_first_page_are_filled(name: str) -> None:
    """Words stand in the lowest sixth of the page, left and right of its middle."""
    words = words_of(of(name, Paper.A4))[0]
    # The last line is that of cautions; columns end above it.
    low = [word for word in words if 0.83 * 842 < word.top < 0.95 * 842]
    assert [word for word in low if word.right < 297]
    assert [word for word in low if word.left > 297]


def _pages(name: str, paper: Paper):  # type: ignore[no-untyped-def]
    shop = a_shop(Unit.IN if name == "inches" else Unit.MM)
    order = an_order(ALL[name], shop=shop)
    printing = Printing(shop=shop, phone_url=PHONES, today=TODAY)
    return ticket_pages(order, order.pieces[0], printing, paper)


# Source: advances of the faces, 1000 to the em: a digit 497, so ten of 10 pt are 4.97 × 10 pt = 49.7 pt.
def test_widths_are_those_of_the_faces() -> None:
    assert SANS.width("0123456789", 10) == pytest.approx(49.7 * 25.4 / 72, abs=0.05)
    assert BOLD.width("0", 10) == pytest.approx(5.13 * 25.4 / 72, abs=0.01)


@pytest.mark.parametrize(
    ("text", "wide", "lines"),
    [("00 00", 10, 1), ("00 00", 5, 2), ("00 00 00", 5, 3), ("0000000000", 6, 3), ("", 5, 1)],
)
def test_lines_break_at_blanks_and_in_words_that_are_too_long(
    text: str, wide: float, lines: int
) -> None:
    """A digit of 10 pt is 1.753 mm wide."""
    assert SANS.lines(text, 10, wide) == lines
