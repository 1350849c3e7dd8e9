"""Nothing on a ticket is printed over anything else, nor off its paper: every word's place read back by poppler."""

from dataclasses import replace
from itertools import combinations

import pytest

from app.bench import Cutter, Stops, usual_cutter
from app.documents.ticket.setting import Subject
from app.documents.ticket.ticket import Printing, ticket_pages
from app.lengths import Unit, inches, mm
from app.orders import Paper
from tests.builders.printed import EIGHT, INCHES, OVAL, PIECES, SKETCH, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import Word, words_of
from tests.documents.test_ticket_pages import PHONES, SIZES, ticket

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

OWN_EDGES = {**SKETCH, "mats.1.edges": "own"}
IN_INCHES = {**INCHES, "mats.1.material": "M2", "mats.1.reveal": "1/4"}
STOPPED = {
    # name: what is framed, the unit of its shop
    "double mat": (SKETCH, Unit.MM),
    "own edges": (OWN_EDGES, Unit.MM),
    "three mats": (PIECES["triple mat"], Unit.MM),
    "oval": (OVAL, Unit.MM),
    "eight windows": (EIGHT, Unit.MM),
    "inches": (IN_INCHES, Unit.IN),
}

INK = 0.19
"""What the box of a word has free above and under its letters, in parts of its height. Source: our faces reach 0.98 em above
the baseline and 0.27 under it, their capitals 0.66 and their descenders 0.2: a fifth of the box is blank above, a
twentieth below.
"""


def cutter(unit: Unit) -> Cutter:
    """A cutter with everything that a ticket has a line for: two stops, a squaring arm."""
    arm = mm(1000) if unit is Unit.MM else inches(40)
    return replace(usual_cutter(unit), stops=Stops(near=True, far=True), arm_reach=arm)


def collides(one: Word, two: Word) -> bool:
    """Tell whether the letters of two words meet."""
    slack = INK * min(one.bottom - one.top, two.bottom - two.top)
    return (
        one.left < two.right - 0.5
        and two.left < one.right - 0.5
        and one.top + slack < two.bottom - slack
        and two.top + slack < one.bottom - slack
    )


def collisions(pdf: bytes) -> list[tuple[str, str]]:
    return [
        (one.text, two.text)
        for words in words_of(pdf)
        for one, two in combinations(words, 2)
        if collides(one, two)
    ]


def off_paper(pdf: bytes, paper: Paper) -> list[str]:
    """Words that reach out of the page, or into a margin of 5 mm at its sides."""
    wide, high = SIZES[paper]
    return [
        word.text
        for words in words_of(pdf)
        for word in words
        if word.left < 14 or word.right > wide - 14 or word.top < 0 or word.bottom > high
    ]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", STOPPED)
def test_no_word_of_a_ticket_lies_on_another_or_off_the_paper(name: str, paper: Paper) -> None:
    typed, unit = STOPPED[name]
    shop = a_shop(unit, cutters=(cutter(unit),))
    pdf = ticket(an_order(typed, shop=shop), shop, paper)
    assert off_paper(pdf, paper) == []
    assert collisions(pdf) == []


THREE = {**SKETCH, "artwork.size": "150 x 200", "windows.count": "3"}


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize(
    "typed", [THREE, OVAL, PIECES["triple mat"]], ids=["three", "oval", "mats"]
)
def test_nothing_is_put_together_before_all_is_cut(typed: dict[str, str], paper: Paper) -> None:
    """Common practice: the frame is joined and the piece fitted when every part of it is cut."""
    shop = a_shop()
    order = an_order(typed, shop=shop)
    printing = Printing(shop=shop, phone_url=PHONES, today=TODAY)
    for page in ticket_pages(order, order.pieces[0], printing, paper):
        assert page.setting is not None
        sheets = page.setting.sheets
        columns = [column for sheet in sheets for column in (sheet.left, sheet.right)]
        subjects = [section.subject for column in columns for section in column]
        assert set(subjects[subjects.index(Subject.WORK) :]) == {Subject.WORK}
        assert Subject.GUIDE in subjects
