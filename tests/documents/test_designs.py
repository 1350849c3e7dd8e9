"""Designs on paper: the open quote from the least to the most, and the page that compares them; read back as PDF.

Prices of the worked piece (see `tests/unit/orders/test_designs.py`): A 103.51, B 89.91 with one mat, C 118.51 with acrylic.
"""

from dataclasses import fields, replace
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from app.documents.quote.comparison import ComparedDesign, compare_designs
from app.documents.quote.designs import Offered, designs_page, designs_pdf
from app.documents.quote.quote import quote_pdf
from app.documents.quote.sheets import settings_for
from app.documents.ticket.ticket import ticket_pdf
from app.money import TaxPolicy, TaxRounding
from app.orders import Customer, Order, Paper, Piece, Stage
from app.orders.designs import with_taken
from app.orders.quoting.agreement import agree
from tests.builders.ordered import quote_of
from tests.builders.values import TODAY, finder
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.documents.reading import overlapping, page_sizes, text_of, words_of
from tests.unit.orders.test_designs import ACRYLIC, THREE, a_piece

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

AMBER = Customer(name="Amber Quill", address="12 Heron Walk\nEastmere")
OPEN = quote_of(a_piece({}), replace(THREE, id=2, number=2))
ALONE = quote_of(THREE)


def quoted(order: Order, paper: Paper = Paper.A4) -> bytes:
    return quote_pdf(order, AMBER, SHOP, paper=paper, today=TODAY)


def compared(*numbers: int, piece: Piece = THREE, paper: Paper = Paper.A4) -> bytes:
    offered = Offered(order=quote_of(piece), piece=piece, numbers=numbers)
    return designs_pdf(offered, AMBER, SHOP, paper=paper, today=TODAY)


# 103.51 + 89.91 = 193.42, its sixth 32.24; 103.51 + 118.51 = 222.02, its sixth 37.00; half of both 96.71 and 111.01.
def test_an_open_quote_is_from_the_least_to_the_most() -> None:
    said = text_of(quoted(OPEN))
    for line in (
        "Subtotal 103.51",
        "Design A Design B Design C",
        "103.51 with tax 89.91 with tax 118.51 with tax",
        "Subtotal 89.91 to 118.51",
        "Total EUR 193.42 to 222.02",
        "of which Tax 20 % 32.24 to 37.00",
        "Without tax 161.18 to 185.02",
        "A deposit of EUR 96.71 to 111.01 (50 %)",
        "I accept this quote with the designs that are ticked.",
    ):
        assert line in said


@pytest.mark.parametrize(
    ("taken", "total", "tax"), [(1, "207.02", "34.50"), (2, "193.42", "32.24")]
)
def test_with_one_taken_the_quote_is_of_that_alone(taken: int, total: str, tax: str) -> None:
    said = text_of(quoted(with_taken(OPEN, {2: taken})))
    assert f"Total EUR {total} of which Tax 20 % {tax}" in said
    assert "Design" not in said
    assert " to " not in said.partition("Total")[2].partition("Outside sizes")[0]
    assert "I accept this quote." in said


def test_a_quote_without_tax_in_its_prices_tells_the_taxes_from_to() -> None:
    shop = replace(SHOP, tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
    made = [agree({**TYPED, **d}, shop, finder(BOOK), today=TODAY)[1] for d in ({}, ACRYLIC)]
    designs = tuple(replace(d, agreed=a) for d, a in zip(THREE.designs[:2], made, strict=True))
    order = quote_of(replace(THREE, designs=designs))
    # a fifth of 103.51 is 20.702, of 118.51 23.702
    said = text_of(quote_pdf(order, AMBER, shop, paper=Paper.A4, today=TODAY))
    assert "Subtotal 103.51 to 118.51" in said
    assert "Tax 20 % 20.70 to 23.70" in said
    assert "Total EUR 124.21 to 142.21" in said
    assert "103.51 without tax 118.51 without tax" in said


@pytest.mark.parametrize("paper", Paper)
def test_the_designs_stand_beside_each_other_on_what_is_signed(paper: Paper) -> None:
    pdf = quoted(ALONE, paper)
    first, *others = (page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    assert "3 designs to choose from" in first
    assert all(f"Design {letter}" in first for letter in "ABC")
    last = others[-1] if others else first
    assert "I accept this quote" in first
    assert "Design A Design B Design C" in first  # who signs does it where the designs are ticked
    assert "The same in all" in last
    assert len(others) <= (paper is Paper.A5)
    assert not [found for page in words_of(pdf) if (found := overlapping(page))]


def test_the_comparison_says_only_what_differs_and_once_what_does_not() -> None:
    said = text_of(compared())
    assert "Design A Design B Design C" in said
    assert "Price EUR 103.51 with tax 89.91 with tax 118.51 with tax" in said
    assert said.count("Acrylic 3 mm") == 1
    assert said.count("Linden, limewashed") == 1
    head, _, same = said.partition("The same in all")
    assert "Linden" in same
    assert "Chalk white" in head


def test_only_some_are_compared_where_some_are_named() -> None:
    said = text_of(compared(1, 3))
    assert "Design A Design C" in said
    assert "89.91" not in said
    assert "The same in both" in said
    assert said.count("Slate blue") == 1


@pytest.mark.parametrize(("paper", "pages"), [(Paper.A4, 1), (Paper.LETTER, 1), (Paper.A5, 1)])
def test_three_designs_fit_a_page(paper: Paper, pages: int) -> None:
    pdf = compared(paper=paper)
    assert len(page_sizes(pdf)) == pages
    assert not [found for page in words_of(pdf) if (found := overlapping(page))]


FOUR = a_piece({}, {"borders.left": "80"}, ACRYLIC, {"borders.left": "110"})


@pytest.mark.parametrize("paper", Paper)
def test_four_designs_stand_on_one_page_with_what_they_have_in_common_and_the_signature(
    paper: Paper,
) -> None:
    for pdf in (compared(piece=FOUR, paper=paper), quoted(quote_of(FOUR), paper)):
        (said,) = (page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
        assert "The same in all" in said
        assert all(f"Design {letter}" in said for letter in "ABCD")
        assert not [found for page in words_of(pdf) if (found := overlapping(page))]
    assert "Signature" in said


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
def test_four_designs_hang_two_and_two_larger_than_they_would_beside_each_other(
    paper: Paper,
) -> None:
    """Four beside each other have a quarter of the width of the paper inside its margins each at most, beside the names."""
    order = quote_of(FOUR)
    page = designs_page(Offered(order=order, piece=FOUR), AMBER, SHOP, today=TODAY)
    (sheet,) = next(settings_for(page, paper))
    assert [len(strip.designs) for strip, _ in sheet.strips] == [2, 2]
    assert all(at.wide > (174 - 25) / 4 for _, hung in sheet.strips for at in hung)


def test_designs_of_a_row_that_is_not_full_hang_no_larger_than_those_above() -> None:
    alike = a_piece(*({"note": f"{n}"} for n in range(7)))
    order = quote_of(alike)
    page = designs_page(Offered(order=order, piece=alike), AMBER, SHOP, today=TODAY)
    (sheet,) = next(settings_for(page, Paper.A4))
    assert len({len(strip.designs) for strip, _ in sheet.strips}) == 2
    assert len({(at.wide, at.high, at.place) for _, hung in sheet.strips for at in hung}) == 1


def test_what_finds_no_room_beside_designs_is_overleaf_with_the_total_and_the_signature() -> None:
    """Ten designs of a piece that is about little else fill a page of half a sheet."""
    many = a_piece(*({"borders.left": f"{80 + n}"} for n in range(10)))
    pdf = quoted(quote_of(many), Paper.A5)
    *_, last = (page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    assert all(words in last for words in ("The same in all", "Total", "Signature"))
    assert not [found for page in words_of(pdf) if (found := overlapping(page))]


@pytest.mark.parametrize(
    ("count", "rows"), [(11, [[3, 3], [3, 2]]), (10, [[3, 2], [3, 2]]), (12, [[3, 3], [3, 3]])]
)
def test_designs_that_are_too_many_for_a_page_are_shared_out_evenly_and_hang_to_one_scale(
    count: int, rows: list[list[int]]
) -> None:
    many = a_piece(*({"borders.left": f"{60 + 6 * n}"} for n in range(count)))
    order = quote_of(many)
    page = designs_page(Offered(order=order, piece=many), AMBER, SHOP, today=TODAY)
    sheets = next(settings_for(page, Paper.A4))
    assert [[len(strip.designs) for strip, _ in sheet.strips] for sheet in sheets] == rows
    hangs = [
        (at, design.front)
        for s in sheets
        for strip, hung in s.strips
        for at, design in zip(hung, strip.designs, strict=True)
    ]
    scales = [at.high / front.high for at, front in hangs]
    assert max(scales) == pytest.approx(min(scales), rel=0.01)
    assert min(at.high for at, _ in hangs) > 30


def test_each_sheet_of_designs_says_which_it_has_and_the_last_has_the_signature() -> None:
    many = a_piece(*({"borders.left": f"{60 + 6 * n}"} for n in range(10)))
    pdf = quoted(quote_of(many))
    first, last = (page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    assert "Please tick one. Designs A to E, sheet 1 of 2." in first
    assert "Designs F to J, sheet 2 of 2." in last
    assert all(f"Design {letter}" in first for letter in "ABCDE")
    assert all(f"Design {letter}" in last for letter in "FGHIJ")
    for once in ("The same in all", "Total", "Signature"):
        assert once not in first
        assert once in last
    assert not [found for page in words_of(pdf) if (found := overlapping(page))]


def test_many_designs_go_on_below() -> None:
    many = a_piece(*({"artwork.title": "Harbour", "borders.left": f"{90 + n}"} for n in range(7)))
    said = text_of(compared(piece=many))
    assert "7 designs" in said
    assert all(f"Design {letter}" in said for letter in "ABCDEFG")


def test_nothing_of_the_shop_can_be_printed() -> None:
    assert not {"cost", "margin", "code", "codes", "chosen", "minutes"} & {
        field.name for field in fields(ComparedDesign)
    }
    said = text_of(compared())
    for own in ("M-101", "A-3", "LIN-20", "margin", "cost"):
        assert own not in said


def test_one_frame_and_two_are_said_under_one_name() -> None:
    mats = compare_designs(THREE, SHOP)
    assert mats.names == ("Mats", "Glazing", "Outside", "Borders")
    assert mats.designs[1].texts[0] == "Chalk white"


def test_what_is_advised_of_some_designs_names_them() -> None:
    found = compare_designs(THREE, SHOP)
    said = ({"We ask.", "We hope.", "We warn."}, {"We ask.", "We warn."}, {"We warn."})
    designs = zip(found.designs, map(sorted, said), strict=True)
    noted = replace(
        found, designs=tuple(replace(each, notes=tuple(notes)) for each, notes in designs)
    )
    assert noted.advised == (
        "Designs A and B: We ask.",
        "Design A: We hope.",
        "Designs A, B and C: We warn.",
    )


def test_the_confirmation_and_the_tickets_know_only_the_taken_one() -> None:
    piece = replace(THREE, taken=3, stage=Stage.ORDERED)
    order = replace(
        quote_of(piece), order_number="2026-0001", ordered_on=TODAY, due=date(2026, 12, 9)
    )
    said = text_of(quoted(order))
    assert "Order confirmation 2026-0001" in said
    assert "Total EUR 118.51" in said
    assert "Acrylic" in said
    assert "Float glass" not in said
    assert "Design" not in said
    ticket = text_of(ticket_pdf(order, SHOP, None, paper=Paper.A4, phone_url=None, today=TODAY))
    assert "Acrylic" in ticket
    assert "Float glass" not in ticket


def test_borders_are_named_where_designs_differ_in_them() -> None:
    """A and C have 90, 80 above and 100 below as typed; B has 80 all round."""
    square = dict.fromkeys((f"borders.{side}" for side in ("left", "top", "bottom")), "80")
    found = compare_designs(a_piece({}, square, ACRYLIC), SHOP)
    place = found.names.index("Borders")
    assert [each.texts[place] for each in found.designs] == [
        "90 mm left and right, 80 mm top, 100 mm bottom",
        "80 mm all round",
        "90 mm left and right, 80 mm top, 100 mm bottom",
    ]
    alike = compare_designs(a_piece({}, ACRYLIC), SHOP)
    assert "Borders" not in (*alike.names, *(each.name for each in alike.same))


def test_a_design_that_is_taken_is_said_and_ticked_and_none_is_asked_for() -> None:
    taken = replace(THREE, taken=2, stage=Stage.ORDERED)
    said = text_of(compared(piece=taken))
    assert "Design B is chosen." in said
    assert "Design B chosen" in said
    assert "to choose from" not in said
    assert "tick one" not in said
    others = text_of(compared(1, 3, piece=taken))
    assert "Design B is chosen. These were offered beside it." in others
    assert "tick one" not in others
    assert "This was offered" in text_of(compared(3, piece=taken))


@pytest.mark.parametrize("of", [(1, 2), (1, 2, 3)])
def test_the_field_of_designs_is_as_high_as_its_pictures_and_they_hang_in_its_middle(
    of: tuple[int, ...],
) -> None:
    """Landscape pieces as wide as their column of the table beneath, beside its names of 22 mm and 3 mm, less 4 mm; the field
    5 mm or 6 % higher above and below.
    """
    wide = {f"borders.{side}": "80" for side in ("left", "top", "bottom")}
    piece = a_piece(*({"artwork.size": "600 x 300", **wide, "note": f"{n}"} for n in of))
    order = quote_of(piece)
    page = designs_page(Offered(order=order, piece=piece), AMBER, SHOP, today=TODAY)
    sheet = next(settings_for(page, Paper.A4))[0]
    ((_, hung),) = sheet.strips
    assert all(each.wide == pytest.approx((174 - 25) / len(of) - 4, abs=0.2) for each in hung)
    highest = max(each.high for each in hung)
    assert highest < sheet.wall <= max(highest + 10, highest / 0.88) + 0.2
    assert all(each.down == pytest.approx((sheet.wall - each.high) / 2, abs=0.11) for each in hung)
