"""The pages of a ticket: one where promised, nothing lost, nothing on top of anything, letters large enough."""

from dataclasses import replace
from functools import cache

import pytest

from app.documents.kit.pdf import PageSetting, fit, joined, sheets_for
from app.documents.kit.printing import page_html
from app.documents.ticket.page import TicketPage
from app.documents.ticket.ticket import SHEETS, Printing, pieces_to_print, ticket_pages, ticket_pdf
from app.errors import Conflict, NotFound
from app.lengths import Unit
from app.orders import Order, Paper, Shop, Stage
from tests.builders.printed import EVERYTHING, INCHES, PIECES, SKETCH, a_shop, an_order, in_stage
from tests.builders.values import TODAY
from tests.documents.reading import overlapping, page_sizes, runs, squeezed, text_of, words_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

SIZES = {Paper.A4: (595, 842), Paper.LETTER: (612, 792), Paper.A5: (420, 595)}
"""Whole points. Source: ISO 216 A4, 210 × 297 mm, and A5, 148 × 210 mm; ANSI/ASME Y14.1 A, 8.5 × 11 in; 72 points an inch."""

LEAST = {Paper.A4: 9, Paper.LETTER: 9, Paper.A5: 8}
"""Letters on paper that lies on the bench, and on half a sheet that is held in the hand, points."""


def shop_of(name: str) -> Shop:
    return a_shop(Unit.IN if name == "inches" else Unit.MM)


PHONES = "http://shop.example"
"""Where phones reach the app."""


def ticket(
    order: Order, shop: Shop, paper: Paper = Paper.A4, phone_url: str | None = PHONES
) -> bytes:
    return ticket_pdf(order, shop, None, paper=paper, phone_url=phone_url, today=TODAY)


@cache
def printed(name: str, paper: Paper) -> bytes:
    """The ticket of one of the pieces, made once for all who read it."""
    shop = shop_of(name)
    return ticket(an_order(PIECES[name], shop=shop), shop, paper)


def pages_of(order: Order, shop: Shop, paper: Paper) -> list[TicketPage]:
    """In every density that is tried."""
    printing = Printing(shop=shop, phone_url=PHONES, today=TODAY)
    return list(ticket_pages(order, order.pieces[0], printing, paper))


def everything_said(page: TicketPage) -> list[str]:
    """Every sentence and figure that must be on the paper, whatever the density."""
    said = [page.number, page.customer, page.place, page.code.path if page.code else ""]
    places = [page.before, page.at_cutter]
    for part in page.cuts:
        said += [part.group.name, part.group.take, part.group.then]
        said += [
            figure.text for row in part.group.rows for figure in (row.figure, row.short) if figure
        ]
        places.append(part.words)
    for row in page.guide.rows if page.guide else ():
        said.append(row.text)
        if row.stand:
            said.append(f"{row.stand.number}{row.stand.check}{row.stand.at}{row.stand.pin}")
    for table in (*page.places, *page.ends):
        said += ["".join(row) for row in table.rows]
    said += [check.text + ("·" + check.detail if check.detail else "") for check in page.checks]
    for todo in (*page.first, *page.work):
        said.append(todo.text)
        places.append(todo.words)
    for words in places:
        said += [*(remark.text for remark in words.remarks), *words.cautions]
    return said


def lost(page: TicketPage, pdf: bytes) -> list[str]:
    got = squeezed(text_of(pdf))
    return [said for said in everything_said(page) if squeezed(said) not in got]


ON_TWO_LETTER_PAGES = {"two frames", "fillet", "eight fillets"}
"""Two kinds of rails with drawings of the mats beside them."""


def promised(name: str, paper: Paper) -> int:
    """How many pages a ticket may take: one, but for what no sheet holds."""
    if paper is Paper.A5 or name == "everything":
        return 4 if (paper, name) == (Paper.A5, "everything") else 2
    return 2 if paper is Paper.LETTER and name in ON_TWO_LETTER_PAGES else 1


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", PIECES)
def test_a_ticket_takes_the_pages_it_may_and_loses_nothing(name: str, paper: Paper) -> None:
    shop = shop_of(name)
    order = an_order(PIECES[name], shop=shop)
    pdf = printed(name, paper)
    pages = words_of(pdf)
    assert page_sizes(pdf) == [SIZES[paper]] * len(pages)
    assert len(pages) <= promised(name, paper)
    assert lost(pages_of(order, shop, paper)[0], pdf) == []
    width, height = SIZES[paper]
    for words in pages:
        assert overlapping(words) == []
        assert all(w.left > 18 and w.right < width - 18 and w.bottom < height - 15 for w in words)


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", ["sketch", "everything"])
def test_while_no_phone_reaches_its_page_a_ticket_bears_no_code_and_loses_nothing_else(
    name: str, paper: Paper
) -> None:
    shop = shop_of(name)
    order = an_order(PIECES[name], shop=shop)
    coded = pages_of(order, shop, paper)[0]
    assert coded.code is not None
    assert coded.code.path == f"/orders/{order.id}/pieces/1"
    assert coded.code.path in text_of(printed(name, paper))
    pdf = ticket(order, shop, paper, phone_url=None)
    assert coded.code.path not in text_of(pdf)
    assert "2026-0148 piece 1 of 1" in text_of(pdf)
    assert lost(replace(coded, code=None), pdf) == []
    assert len(page_sizes(pdf)) <= promised(name, paper)
    assert all(overlapping(words) == [] for words in words_of(pdf))


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A5])
@pytest.mark.parametrize("name", PIECES)
def test_no_letter_is_below_the_least_of_its_paper(name: str, paper: Paper) -> None:
    assert [run for run in runs(printed(name, paper)) if run.points < LEAST[paper]] == []


@pytest.mark.parametrize("density", range(4))
def test_no_density_loses_anything_even_where_it_runs_over(density: int) -> None:
    shop = a_shop()
    order = an_order(SKETCH, shop=shop, note="Ring the bell at the yard door. " * 20)
    page = pages_of(order, shop, Paper.LETTER)[density]
    setting = PageSetting(html=page_html("ticket.html", page), style=page.style)
    pdf = joined([fit((setting,), sheets_for(Paper.LETTER, *SHEETS))])
    assert lost(page, pdf) == []


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", PIECES)
def test_no_density_is_tried_twice(name: str, paper: Paper) -> None:
    shop = shop_of(name)
    tried = [page.setting for page in pages_of(an_order(PIECES[name], shop=shop), shop, paper)]
    assert len(set(tried)) == len(tried)


def test_what_never_fits_goes_on_under_the_same_head() -> None:
    shop = a_shop()
    long = {**EVERYTHING, "artwork.condition": "Two old tears, mended with tissue. " * 26}
    order = an_order(long, shop=shop, note="Ring the bell at the yard door. " * 40)
    pdf = ticket(order, shop)
    assert len(page_sizes(pdf)) > 1
    second = words_of(pdf)[1]
    head = " ".join(word.text for word in second if word.top < 60)
    assert "2026-0148 · piece 1 of 1 · Mairi Quill · stored at Rack B2" in head
    assert "figures in millimetres" in head
    assert text_of(pdf).count("tears") == 26
    assert all(overlapping(words) == [] for words in words_of(pdf))


# Two blanks, mark, four settings, two drop-outs, one fix-behind; glazing, two boards, two pairs of
# rails; join, place, fit, hang, label.
def test_every_step_has_one_box() -> None:
    shop = a_shop()
    page = pages_of(an_order(SKETCH, shop=shop), shop, Paper.A4)[0]
    assert page_html("ticket.html", page).count("☐") == 2 + 8 + 5 + 5


def test_each_piece_has_a_page_of_its_own_in_its_own_unit() -> None:
    shop = a_shop()
    pdf = ticket(an_order(SKETCH, INCHES, shop=shop), shop)
    assert page_sizes(pdf) == [SIZES[Paper.A4]] * 2
    first, second = (" ".join(word.text for word in page) for page in words_of(pdf))
    assert "2026-0148 piece 1 of 2" in first
    assert "is in millimetres" in first
    assert "2026-0148 piece 2 of 2" in second
    assert "In inches, but the guide’s settings and marks in millimetres" in second


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
