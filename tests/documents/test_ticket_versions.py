"""The version at the head of a ticket, and what a ticket says of the one that it replaces (M7)."""

from datetime import UTC, datetime, timedelta

import pytest

from app.documents.ticket.ticket import ticket_pdf
from app.documents.ticket.version import version_mark
from app.orders import Paper
from app.orders.printed import TicketPrint, TicketVersion, version_of
from app.orders.ticket_facts import ticket_facts
from tests.builders.printed import EVERYTHING, PIECES, SKETCH, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import overlapping, runs, text_of, words_of

MORNING = datetime(TODAY.year, TODAY.month, TODAY.day, 7, 2, tzinfo=UTC)
LATER = MORNING.replace(hour=9, minute=10)
YESTERDAY = MORNING - timedelta(days=1)


def wider(name: str) -> dict[str, str]:
    """A piece with a border 10 wider at the left, and so at the right where that is blank."""
    piece = PIECES[name]
    return {**piece, "borders.left": str(int(piece["borders.left"]) + 10)}


def replacing(before: dict[str, str], after: dict[str, str]) -> TicketVersion:
    """The print of a piece that was changed, after one at 07:02 and a tick."""
    shop = a_shop()
    old, new = (ticket_facts(an_order(each).pieces[0].agreed, shop) for each in (before, after))
    first = TicketPrint(at=MORNING, by="", version=1, snapshot_id=1, cutter="", facts=old)
    return version_of((first,), new, LATER, ["cut the glazing 562 × 449, dull its edges"])


@pytest.mark.parametrize(
    ("version", "text", "replaces"),
    [
        (TicketVersion(version=1, at=MORNING), "Version 1, printed 07:02", ""),
        (
            TicketVersion(version=2, at=LATER, replaces=MORNING),
            "Version 2, printed 09:10",
            "replaces the one printed 07:02",
        ),
        (TicketVersion(version=1, at=MORNING, copy=True), "Copy of version 1, printed 07:02", ""),
        (
            TicketVersion(version=2, at=LATER, replaces=YESTERDAY),
            "Version 2, printed 09:10",
            f"replaces the one printed {YESTERDAY:%a} {YESTERDAY.day} {YESTERDAY:%b %Y}, 07:02",
        ),
    ],
    ids=["first", "replacing", "copy", "of another day"],
)
def test_the_mark_at_the_head(version: TicketVersion, text: str, replaces: str) -> None:
    mark = version_mark(version, TODAY)
    assert (mark.text, mark.replaces) == (text, replaces)


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", ["sketch", "triple mat", "eight windows"])
def test_a_ticket_that_replaces_one_says_so_and_loses_nothing(name: str, paper: Paper) -> None:
    """By hand of the sketch: package 562 × 449 and 10 more at the left; the right border is given."""
    version = replacing(PIECES[name], wider(name))
    pdf = ticket_pdf(
        an_order(wider(name)),
        a_shop(),
        None,
        paper=paper,
        phone_url="http://shop.example",
        today=TODAY,
        versions={1: version},
    )
    text = text_of(pdf)
    assert "Version 2, printed 09:10" in text
    assert "replaces the one printed 07:02" in text
    assert "Done before the change: cut the glazing 562 × 449, dull its edges." in text
    assert [run for run in runs(pdf) if run.points < (8 if paper is Paper.A5 else 9)] == []
    assert all(overlapping(words) == [] for words in words_of(pdf))
    if name == "sketch":
        assert "mat 1, glazing, mount board, backing: 562 × 449 are now 572 × 449" in text
        assert "rails: 603 / 490 are now 613 / 490" in text
        assert "borders, guide, marks of mat 1 and mat 2 are new" in text
        assert len(words_of(pdf)) == 1


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("phone_url", ["http://shop.example", None], ids=["code", "no code"])
@pytest.mark.parametrize("paper", list(Paper))
def test_every_page_says_which_print_it_is_how_many_and_which_page(
    paper: Paper, phone_url: str | None
) -> None:
    pdf = ticket_pdf(
        an_order({**EVERYTHING, "copies": "20"}),
        a_shop(),
        None,
        paper=paper,
        phone_url=phone_url,
        today=TODAY,
        versions={1: TicketVersion(version=2, at=LATER, replaces=MORNING)},
    )
    pages = [" ".join(word.text for word in words) for words in words_of(pdf)]
    assert len(pages) > 1
    for number, said in enumerate(pages, start=1):
        assert "2026-0148" in said
        assert "Version 2, printed 09:10" in said
        assert "20 of these" in said
        assert f"page {number} of {len(pages)}" in said
    assert all(overlapping(words) == [] for words in words_of(pdf))
    assert all(word.top > 10 for words in words_of(pdf) for word in words)


@pytest.mark.documents
@pytest.mark.poppler
def test_a_ticket_that_could_not_be_noted_says_so() -> None:
    pdf = ticket_pdf(
        an_order(SKETCH),
        a_shop(),
        None,
        paper=Paper.A4,
        phone_url=None,
        today=TODAY,
        versions={1: None},
    )
    assert "This print is not on record" in text_of(pdf)
