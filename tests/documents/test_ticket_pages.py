"""The pages of a ticket: one each, nothing lost, nothing on top of anything, letters large enough."""

import pytest

from app.documents.densities import DENSITIES, SNUG, Density
from app.documents.pdf import sheets_for, to_pdf
from app.documents.printing import page_html
from app.documents.ticket import Printing, TicketPage, pieces_to_print, ticket_page, ticket_pdf
from app.errors import Conflict, NotFound
from app.lengths import Unit
from app.orders import Order, Paper, Shop, Stage
from tests.documents.reading import overlapping, page_sizes, runs, squeezed, text_of, words_of
from tests.documents.samples import (
    EVERYTHING,
    INCHES,
    PIECES,
    SKETCH,
    TODAY,
    a_shop,
    an_order,
    in_stage,
)

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

SIZES = {Paper.A4: (595, 842), Paper.LETTER: (612, 792)}
"""Whole points. Source: ISO 216 A4, 210 × 297 mm; ANSI/ASME Y14.1 A, 8.5 × 11 in; 72 points an inch."""

LEAST = 9
SHEETS = ("ticket", "ticket-cut", "ticket-work", "ticket-tight")


def shop_of(name: str) -> Shop:
    return a_shop(Unit.IN if name == "inches" else Unit.MM)


def ticket(order: Order, shop: Shop, paper: Paper = Paper.A4) -> bytes:
    return ticket_pdf(order, shop, None, paper=paper, base_url="http://shop.example", today=TODAY)


def page_of(order: Order, shop: Shop, density: Density = SNUG) -> TicketPage:
    printing = Printing(shop=shop, base_url="http://shop.example", today=TODAY)
    return ticket_page(order, order.pieces[0], printing, density=density)


def everything_said(page: TicketPage) -> list[str]:
    """Every sentence and figure that must be on the paper, whatever the density."""
    said = [page.number, page.customer, page.place, page.address]
    for group in page.cuts:
        said += [group.name, group.take]
        said += [figure.text for row in group.rows for figure in (row.figure, row.short) if figure]
    for plan in page.plans:
        said += [f"{setting.figure}{setting.sides}" for setting in plan.settings]
    said += [
        check.text + ("·" + check.detail if check.detail else "")
        for c in page.checks
        for check in c
    ]
    for station in (station for column in page.work for station in column):
        said += [station.name, *station.steps, *station.cautions]
        said += [remark.text for remark in station.remarks]
    return said


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", PIECES)
def test_a_ticket_is_one_page_with_everything_on_it(name: str, paper: Paper) -> None:
    shop = shop_of(name)
    order = an_order(PIECES[name], shop=shop)
    pdf = ticket(order, shop, paper)
    assert page_sizes(pdf) == [SIZES[paper]]
    got = squeezed(text_of(pdf))
    assert [s for s in everything_said(page_of(order, shop)) if squeezed(s) not in got] == []


@pytest.mark.parametrize("name", PIECES)
def test_no_word_lies_on_another_or_leaves_the_paper(name: str) -> None:
    shop = shop_of(name)
    (words,) = words_of(ticket(an_order(PIECES[name], shop=shop), shop, Paper.LETTER))
    assert len(words) > 100
    assert overlapping(words) == []
    width, height = SIZES[Paper.LETTER]
    assert all(w.left > 20 and w.right < width - 20 and w.bottom < height - 15 for w in words)


@pytest.mark.parametrize("name", PIECES)
def test_no_letter_is_below_9_points(name: str) -> None:
    shop = shop_of(name)
    found = runs(ticket(an_order(PIECES[name], shop=shop), shop, Paper.LETTER))
    assert [run for run in found if run.points < LEAST] == []


@pytest.mark.parametrize(
    "density", dict.fromkeys(DENSITIES), ids=lambda d: f"{d.classes}{' across' * d.checks_across}"
)
def test_no_density_loses_anything_even_where_it_runs_over(density: Density) -> None:
    shop = a_shop()
    page = page_of(an_order(EVERYTHING, shop=shop), shop, density)
    pdf = to_pdf(page_html("ticket.html", page), sheets_for(Paper.LETTER, *SHEETS))
    got = squeezed(text_of(pdf))
    assert [s for s in everything_said(page) if squeezed(s) not in got] == []


def test_what_never_fits_goes_on_under_the_same_head() -> None:
    shop = a_shop()
    long = {**EVERYTHING, "artwork.condition": "Two old tears, mended with tissue. " * 26}
    order = an_order(long, shop=shop, note="Ring the bell at the yard door. " * 40)
    pdf = ticket(order, shop)
    assert page_sizes(pdf) == [SIZES[Paper.A4]] * 2
    second = words_of(pdf)[1]
    head = " ".join(word.text for word in second if word.top < 60)
    assert "2026-0148 · piece 1 of 1 · Mairi Quill · kept at Rack B2" in head
    assert "figures in millimetres" in head
    assert text_of(pdf).count("tears") == 26
    assert all(overlapping(words) == [] for words in words_of(pdf))


def test_each_piece_has_a_page_of_its_own_in_its_own_unit() -> None:
    shop = a_shop()
    pdf = ticket(an_order(SKETCH, INCHES, shop=shop), shop)
    assert page_sizes(pdf) == [SIZES[Paper.A4]] * 2
    first, second = (" ".join(word.text for word in page) for page in words_of(pdf))
    assert "2026-0148 piece 1 of 2" in first
    assert "is in millimetres" in first
    assert "2026-0148 piece 2 of 2" in second
    assert "is in inches" in second


def test_names_with_markup_emoji_and_no_blanks_are_text_like_any_other() -> None:
    shop = a_shop()
    typed = {
        **SKETCH,
        "artwork.title": "<script>alert(1)</script> & ☂ Ω",
        "artwork.place": "R" * 60,
    }
    pdf = ticket(an_order(typed, shop=shop, customer_name="Ng & 🖼 <b>Sons</b> " + "x" * 90), shop)
    assert page_sizes(pdf) == [SIZES[Paper.A4]]
    text = text_of(pdf)
    assert "<script>alert(1)</script> & ☂ Ω · watercolour" in text
    assert "<b>Sons</b>" in text
    (words,) = words_of(pdf)
    assert overlapping(words) == []
    assert all(word.right < SIZES[Paper.A4][0] - 20 for word in words)


def test_declined_and_cancelled_pieces_are_left_out_unless_asked_for() -> None:
    order = in_stage(an_order(SKETCH, SKETCH), Stage.CANCELLED, number=2)
    assert [piece.number for piece in pieces_to_print(order, None)] == [1]
    assert [piece.number for piece in pieces_to_print(order, (2,))] == [2]


def test_an_order_with_nothing_to_make_says_so() -> None:
    with pytest.raises(Conflict, match="2026-0148 has no piece that is still to be made"):
        pieces_to_print(an_order(), None)


def test_a_piece_that_is_not_there_is_named() -> None:
    with pytest.raises(NotFound, match="Piece 7 of 2026-0148 was asked for; it has: 1, 2"):
        pieces_to_print(an_order(SKETCH, SKETCH), (1, 7))
