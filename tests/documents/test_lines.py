"""Lines without a piece on paper: quote, invoice, job sheet; figures worked by hand (P12)."""

from dataclasses import replace

import pytest

from app.documents.invoice import invoice_page, invoice_pdf
from app.documents.job_sheet import job_sheets, job_sheets_pdf
from app.documents.quote.quote import quote_page, quote_pdf
from app.errors import Conflict
from app.orders import Order, Paper, Stage
from app.orders.invoices.issue import Head, buyer_of, invoice_of, seller_of
from tests.builders.kept import SHOP
from tests.builders.lines import PLATE, VOUCHER, WITHOUT, agreed_line, order_line
from tests.builders.values import TODAY, euro
from tests.documents.reading import overlapping, page_sizes, runs, text_of, words_of
from tests.unit.orders.test_invoices_issue import AMBER, an_order

pytestmark = [pytest.mark.documents, pytest.mark.poppler]


def three() -> Order:
    """42.00 of cards and 24.99 of work at 20 %, a voucher of 50.00 at 0 %: 116.99, tax 11.17."""
    lines = (
        order_line(agreed_line(goods="CARD", number="12"), 1),
        order_line(agreed_line(**VOUCHER), 2),
        order_line(agreed_line(**PLATE), 3),
    )
    return replace(an_order(), pieces=(), lines=lines)


def test_a_confirmation_of_lines_alone() -> None:
    text = text_of(quote_pdf(three(), AMBER, SHOP, paper=Paper.A4, today=TODAY))
    for said in (
        "Order confirmation 2026-0001",
        "12 × 3.50 each",
        "Gift voucher",
        "116.99",
        "11.17",
        "105.82",  # 116.99 − 11.17
    ):
        assert said in text
    assert "Outside sizes" not in text
    assert "Two lines" not in text  # the note for the bench


def test_the_lines_of_a_quote_say_number_price_rate_and_amount() -> None:
    page = quote_page(three(), AMBER, SHOP, today=TODAY)
    assert [(line.quantity, line.rate, line.amount) for line in page.lines] == [
        ("12 × 3.50 each", "20 %", euro("42")),
        ("1 × 50.00 each", "0 %", euro("50")),
        ("1 × 24.99 each", "20 %", euro("24.99")),
    ]


def test_pieces_and_lines_stand_on_one_paper_and_add_up() -> None:
    """103.51 + 116.99 = 220.50."""
    order = replace(an_order(), lines=three().lines)
    page = quote_page(order, AMBER, SHOP, today=TODAY)
    assert (len(page.pieces), len(page.lines)) == (1, 3)
    totals = {line.label: line.amount for line in page.sums}
    assert totals["Total"] == euro("220.50")
    assert totals["of which Tax 20 %"] == euro("28.42")


def test_without_tax_the_sums_lead_from_the_lines_to_the_total() -> None:
    """42.00 at 20 %: 8.40; 19.95 at 10 %: 2.00; together 61.95, in all 72.35."""
    lines = (
        order_line(agreed_line(shop=WITHOUT, goods="CARD", number="12"), 1),
        order_line(agreed_line(shop=WITHOUT, what="Map", price="19.95", tax="reduced"), 2),
    )
    page = quote_page(replace(three(), lines=lines), AMBER, WITHOUT, today=TODAY)
    assert [(line.label, line.amount) for line in page.sums] == [
        ("Together", euro("61.95")),
        ("Tax 20 %", euro("8.40")),
        ("Reduced 10 %", euro("2.00")),
        ("Total", euro("72.35")),
    ]


def test_a_quote_of_which_all_was_struck_has_nothing_to_print() -> None:
    order = three()
    gone = tuple(replace(line, stage=Stage.CANCELLED) for line in order.lines)
    with pytest.raises(Conflict, match="has no piece to quote"):
        quote_page(replace(order, lines=gone), AMBER, SHOP, today=TODAY)


def test_an_invoice_of_lines() -> None:
    head = Head(number="R-2026-0001", issued_on=TODAY)
    invoice = invoice_of(three(), seller_of(SHOP), buyer_of(AMBER), head)
    page = invoice_page(invoice)
    assert [(line.number, line.name, line.rate, line.amount) for line in page.lines] == [
        ("L1", "Greeting card, heron", "20 %", euro("42")),
        ("L2", "Gift voucher", "0 %", euro("50")),
        ("L3", "Brass plate, engraved", "20 %", euro("24.99")),
    ]
    assert [(row.name, row.net, row.tax, row.gross) for row in page.taxes] == [
        ("Tax 20 %", euro("55.82"), euro("11.17"), euro("66.99")),
        ("No tax 0 %", euro("50"), euro("0"), euro("50")),
        ("Together", euro("105.82"), euro("11.17"), euro("116.99")),
    ]
    text = text_of(invoice_pdf(invoice, paper=Paper.A4))
    assert "12 × 3.50 each" in text


def test_the_job_sheet_says_what_for_whom_and_how_long() -> None:
    text = text_of(job_sheets_pdf(three(), SHOP))
    for said in ("2026-0001, line 3", "Brass plate, engraved", "Amber Quill", "45 min"):
        assert said in text
    for said in ("Thu 10 Dec 2026", "Two lines", "Done"):
        assert said in text
    assert "24.99" not in text
    assert len(job_sheets(three(), SHOP).jobs) == 1


def test_few_words_of_a_job_are_read_from_a_metre_and_many_fit_its_sheet() -> None:
    """18 pt digits are 4 mm high, common practice for an arm's length and more; A6 is 148 × 105 mm, 420 × 298 pt."""
    sizes = {run.text: run.points for run in runs(job_sheets_pdf(three(), SHOP))}
    assert all(sizes[said] >= 18 for said in ("Brass plate, engraved", "Thu 10 Dec 2026", "45 min"))
    note = "Two lines, centred, as on the sketch that is pinned to it.\n" * 4
    long = order_line(agreed_line(**{**PLATE, "note": note}), 3)
    assert page_sizes(job_sheets_pdf(replace(three(), lines=(long,)), SHOP)) == [(420, 298)]


def test_a_long_name_of_the_shop_keeps_within_the_head_of_a_job_sheet() -> None:
    shop = replace(SHOP, name="The Long Established Framing Workshop of Tern & Tide and Daughters")
    note = "Two lines, centred, as sketched.\n" * 14
    long = order_line(agreed_line(**{**PLATE, "note": note}), 3)
    pages = words_of(job_sheets_pdf(replace(three(), lines=(long,)), shop))
    assert [overlapping(page) for page in pages] == [[]] * len(pages)
    (plate,) = (word for word in pages[0] if word.text == "Brass")
    assert all(word.bottom <= plate.top for word in pages[0] if word.text in {"Tern", "Daughters"})
    last = [word.text for word in pages[-1]]
    assert "Done" in last
    assert "centred," in last  # the box goes overleaf with a line of the note


def test_goods_have_no_job_sheet() -> None:
    order = three()
    with pytest.raises(Conflict, match="has no such work"):
        job_sheets(order, SHOP, order.lines[:1])
