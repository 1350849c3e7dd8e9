"""Invoices and credit notes on paper: every term of EN 16931 that they need, figures worked by hand.

The piece comes to 99.53 with tax in it, as worked in the tests of the quote; a sixth is 16.588…, so 16.59.
"""

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from app.documents.invoice import invoice_pdf
from app.money import TaxPolicy, TaxRate, TaxRounding
from app.orders import (
    Customer,
    Entry,
    EntryKind,
    Labour,
    Method,
    NewEntry,
    Paper,
    Shop,
    sole_design,
)
from app.orders.invoices.invoice import Invoice
from app.orders.invoices.issue import Head, buyer_of, credit_note_of, invoice_of, seller_of
from app.orders.reductions import NewReduction, Reduction
from tests.builders.printed import CANVAS, FLOAT, SKETCH, a_shop, an_order
from tests.builders.values import TODAY, euro
from tests.documents.reading import overlapping, page_sizes, runs, text_of, words_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

MAIRI = Customer(
    name="Mairi Quill",
    address="12 Heron Walk\nEastmere",
    phone="0100 555 0123",
    email="mairi@quill.example",
)
NO_WORK = Labour(hourly_rate=euro("36.00"), operations=())
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
WITHOUT = TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT)


def shop_of(**changes: Any) -> Shop:
    return a_shop(**{"labour": NO_WORK, "tax_number": "XX 123 456", **changes})


def issued(
    *typed: dict[str, str],
    shop: Shop | None = None,
    pay_by: date | None = None,
    note: str = "",
    **order: Any,
) -> Invoice:
    shop = shop or shop_of()
    head = Head(number="R-2026-0031", issued_on=TODAY, pay_by=pay_by, note=note)
    made = an_order(*(typed or (SKETCH,)), shop=shop, **order)
    return invoice_of(made, seller_of(shop), buyer_of(MAIRI), head)


def deposit(amount: str) -> Entry:
    entry = NewEntry(
        kind=EntryKind.DEPOSIT, amount=euro(amount), at=NOON, by="Ilse", method=Method.CARD
    )
    return Entry(id=1, entry=entry)


def off(amount: str, reason: str) -> Reduction:
    entry = NewReduction(amount=euro(amount), reason=reason, at=NOON, by="Ilse")
    return Reduction(id=1, entry=entry)


def text(invoice: Invoice, paper: Paper = Paper.A4) -> str:
    return text_of(invoice_pdf(invoice, paper=paper))


# Source: EN 16931 (business terms as published in Peppol BIS Billing 3.0); each with its number.
# 99.53 − 50.00 = 49.53.
def test_an_invoice_has_the_terms_of_the_european_standard() -> None:
    said = text(issued(entries=(deposit("50.00"),), pay_by=date(2026, 12, 9), note="VAT note 7."))
    for term in (
        "Invoice R-2026-0031",  # BT-1, BT-3
        "Date of issue Wed 25 Nov 2026",  # BT-2
        "EUR",  # BT-5
        "Pay by Wed 9 Dec 2026",  # BT-9
        "Order 2026-0148",  # BT-14
        "VAT note 7.",  # BT-22
        "Tern & Tide Framing",  # BT-27
        "Tax number XX 123 456",  # BT-31, BT-32
        "3 Sail Loft Row Eastmere",  # BG-5
        "hello@ternandtide.example",  # BG-6
        "Mairi Quill 12 Heron Walk Eastmere",  # BT-44, BG-8
        "Ready on Thu 10 Dec 2026",  # in the place of BT-72 until it is collected
        "1 Framing: Estuary, low tide",  # BT-126, BT-153
        "watercolour 420 × 297 mm; Walnut hollow 25; Chalk white, under it Slate blue",  # BT-154
        "20 % 99.53",  # BT-152, the line with its tax
        "Total with tax 99.53",  # BT-112
        "Tax 20 % 82.94 16.59 99.53",  # BT-119, BT-116, BT-117
        "Paid: deposit, Wed 25 Nov 2026, card −50.00",  # BT-113
        "Amount due 49.53",  # BT-115
    ):
        assert term in said, term
    assert "0100 555 0123" not in said  # how the customer is reached is not part of it
    assert "Payable" not in said


# 99.53 × 0.2 = 19.906, half up 19.91; 119.44.
def test_prices_without_tax_are_stated_so_and_raised_by_it() -> None:
    said = text(issued(shop=shop_of(tax_policy=WITHOUT)))
    for line in (
        "EUR without tax",
        "20 % 99.53",
        "Total without tax 99.53",
        "Tax 20 % 19.91",
        "Total with tax 119.44",
        "Amount due 119.44",
        "Tax 20 % 99.53 19.91 119.44",
        "Payable at collection.",
    ):
        assert line in said, line


# 99.53 − 9.53 = 90.00, of which 15.00 is tax.
def test_what_was_taken_off_is_named_and_taxed_no_more() -> None:
    said = text(issued(reductions=(off("9.53", "a scratch in the corner"),)))
    for line in (
        "Subtotal of all pieces 99.53",
        "Taken off: a scratch in the corner −9.53",
        "Total with tax 90.00",
        "Tax 20 % 75.00 15.00 90.00",
    ):
        assert line in said, line


def test_a_tax_free_customer_is_charged_without_tax_and_told_so() -> None:
    said = text(issued(tax_free=True, note="Exempt: export."))
    for line in ("not charged 82.94", "Total 82.94", "Tax not charged 82.94 0.00 82.94", "Exempt"):
        assert line in said, line


# Glazing 12.62 at 10 %: 12.62/11 = 1.147…, 1.15, net 11.47. The rest 86.91 at 20 %: 14.485, half up
# 14.49, net 72.42. Together 83.89 and 15.64.
def test_two_rates_of_tax_stand_apart_and_together() -> None:
    shop = shop_of()
    reduced = TaxRate("reduced", "Reduced", Fraction(1, 10))
    order = an_order(SKETCH, shop=replace(shop, tax_rates=(*shop.tax_rates, reduced)))
    (piece,) = order.pieces
    price = piece.agreed.price
    lines = tuple(
        replace(line, tax="reduced" if line.label.startswith("Clear") else line.tax)
        for line in price.lines
    )
    agreed = replace(piece.agreed, price=replace(price, lines=lines))
    said = text(issued(pieces=(replace(piece, designs=sole_design(agreed)),)))
    for line in (
        "20 % 86.91",
        "10 % 12.62",
        "Tax 20 % 72.42 14.49 86.91",
        "Reduced 10 % 11.47 1.15 12.62",
        "Together 83.89 15.64 99.53",
    ):
        assert line in said, line


def test_a_credit_note_is_negative_and_names_what_it_takes_back() -> None:
    wrong = issued(entries=(deposit("50.00"),), pay_by=date(2026, 12, 9))
    head = Head(number="R-2026-0032", issued_on=date(2026, 12, 1))
    said = text(credit_note_of(wrong, head))
    for line in (
        "Credit note R-2026-0032",
        "Date of issue Tue 1 Dec 2026",
        "cancels the whole of invoice R-2026-0031 of Wed 25 Nov 2026",  # BT-25, BT-26
        "20 % −99.53",
        "Total with tax −99.53",
        "Tax 20 % −82.94 −16.59 −99.53",
    ):
        assert line in said, line
    for word in ("Paid", "Amount due", "Pay by", "Payable", "To refund", "Ready on"):
        assert word not in said


def test_a_credit_note_for_work_that_was_cancelled_says_what_is_to_return() -> None:
    head = Head(number="R-2026-0032", issued_on=TODAY)
    said = text(credit_note_of(issued(), head, (deposit("50.00"),)))
    assert "Received: deposit, Wed 25 Nov 2026, card 50.00 To refund 50.00" in said


def test_more_paid_than_charged_is_to_return() -> None:
    said = text(issued(entries=(deposit("99.53"),), reductions=(off("10.00", "late"),)))
    assert "To refund 10.00" in said


@pytest.mark.parametrize(
    ("paper", "size"),
    [(Paper.A4, (595, 842)), (Paper.LETTER, (612, 792)), (Paper.A5, (420, 595))],
)
def test_each_paper_holds_a_usual_invoice_on_one_page(paper: Paper, size: tuple[int, int]) -> None:
    pdf = invoice_pdf(issued(SKETCH, CANVAS, entries=(deposit("50.00"),)), paper=paper)
    assert page_sizes(pdf) == [size]
    assert [run for run in runs(pdf) if run.points < 9] == []
    assert [overlapping(words) for words in words_of(pdf)] == [[]]


@pytest.mark.parametrize(("lines", "pages"), [(4, 1), (6, 1), (8, 2), (9, 2)])
def test_half_a_sheet_is_set_tighter_before_it_goes_overleaf_and_then_takes_lines_along(
    lines: int, pages: int
) -> None:
    """No page has only the sums: three lines of pieces go with them."""
    shop = shop_of()
    order = an_order(SKETCH, CANVAS, FLOAT, shop=shop)
    pieces = tuple(replace(order.pieces[n % 3], id=n + 1, number=n + 1) for n in range(lines))
    made = issued(
        pieces=pieces, entries=(deposit("50.00"),), reductions=(off("9.53", "a scratch"),)
    )
    pdf = invoice_pdf(made, paper=Paper.A5)
    assert len(page_sizes(pdf)) == pages
    assert [run for run in runs(pdf) if run.points < 9] == []
    assert [overlapping(words) for words in words_of(pdf)] == [[]] * pages
    last = [word.text for word in words_of(pdf)[-1]]
    assert last.count("Framing:") >= 3
    assert "Amount due" in " ".join(last)


@pytest.mark.parametrize("paper", list(Paper))
def test_a_long_list_goes_on_with_its_head_and_its_sums_stay_together(paper: Paper) -> None:
    shop = shop_of()
    order = an_order(SKETCH, CANVAS, FLOAT, shop=shop)
    pieces = tuple(replace(order.pieces[n % 3], id=n + 1, number=n + 1) for n in range(24))
    pdf = invoice_pdf(issued(pieces=pieces), paper=paper)
    pages = [" ".join(word.text for word in page) for page in words_of(pdf)]
    assert len(pages) >= 2
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
    assert "Invoice R-2026-0031 · Mairi Quill" in pages[1]
    assert "EUR with tax" in pages[1] or "Total with tax" in pages[1]
    last = pages[-1]
    assert all(words in last for words in ("Total with tax", "Amount due", "Without tax"))
    assert [overlapping(words) for words in words_of(pdf)] == [[]] * len(pages)
    right = {size[0] for size in page_sizes(pdf)}.pop()
    assert all(word.right < right for page in words_of(pdf) for word in page)


def test_an_invoice_is_tagged_for_everyone() -> None:
    # Source: ISO 14289-1 (PDF/UA-1): marked, with a structure, a title and a language.
    reader = PdfReader(BytesIO(invoice_pdf(issued(), paper=Paper.A4)))
    catalogue: dict[str, Any] = dict(reader.root_object)
    assert catalogue["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in catalogue
    assert catalogue["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == "Invoice R-2026-0031, Tern & Tide Framing"


def test_names_with_markup_stay_text() -> None:
    shop = shop_of(name="<b>Tern</b> & Tide")
    said = text(issued({**SKETCH, "artwork.title": "<i>Low</i> & tide"}, shop=shop))
    assert "<b>Tern</b> & Tide" in said
    assert "Framing: <i>Low</i> & tide" in said
