"""The sheet that stock is counted on, read back from its PDF."""

from dataclasses import replace
from datetime import date

import pytest

from app.documents.count_sheet import CountPrinting, ToCount, count_sheet_page, count_sheet_pdf
from app.lengths import Unit
from app.orders import Paper
from tests.builders.rack import sticks
from tests.documents.reading import overlapping, page_sizes, text_of, words_of

STICK = sticks(1, 5)


def item(number: int, place: str = "") -> ToCount:
    kept = replace(
        STICK, id=number, item=replace(STICK.item, place=place, material=f"LIN-{number}")
    )
    return ToCount(
        kept=kept, name="Linden, limewashed, from the mill at the upper end of the valley"
    )


SHEET = CountPrinting(
    paper=Paper.A4,
    unit=Unit.MM,
    shop_name="Foundry Yard",
    what="Mouldings at Rack A",
    today=date(2026, 11, 26),
)


def test_lines_stand_place_by_place_and_say_no_count_unless_it_is_asked_for() -> None:
    items = (item(1, "Rack B"), item(2, "rack a"), item(3))
    page = count_sheet_page(items, SHEET)
    assert [line.place for line in page.lines] == ["", "rack a", "Rack B"]
    assert {line.noted for line in page.lines} == {""}
    told = count_sheet_page(items, replace(SHEET, noted=True))
    assert {line.noted for line in told.lines} == {"5"}


@pytest.mark.documents
@pytest.mark.poppler
def test_what_is_counted_stands_where_the_figure_is_written() -> None:
    of = replace(item(1, "Rack B"), name="Linden · moulding", unit="sticks")
    text = text_of(count_sheet_pdf((of,), SHEET))
    assert "LIN-1 Linden · moulding 3000 mm Rack B sticks" in text


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(
    ("paper", "count", "pages", "blank"),
    [
        (Paper.A4, 25, 1, 2),
        (Paper.A4, 27, 1, 0),
        (Paper.A4, 28, 2, 5),
        (Paper.A4, 80, 3, 1),
        (Paper.LETTER, 75, 3, 0),
        (Paper.A5, 16, 1, 0),
        (Paper.A5, 40, 3, 5),
    ],
)
def test_so_many_lines_are_a_page_and_each_says_who_counts(
    paper: Paper, count: int, pages: int, blank: int
) -> None:
    """27 lines of 9 mm are a page of A4, 25 of Letter; on A5 names of two lines make 16. What is left is for what is not
    on the list: five lines at most, and never a page of these alone.
    """
    items = [item(number, f"Rack {number % 5}") for number in range(count)]
    pdf = count_sheet_pdf(items, replace(SHEET, paper=paper, noted=True))
    assert len(page_sizes(pdf)) == pages
    text = text_of(pdf)
    assert text.count("Counted by") == text.count("Mouldings at Rack A count sheet") == pages
    assert "3000 mm" in text
    assert "from the mill at the upper end of the valley" in text
    for page in words_of(pdf):
        assert overlapping(page) == []
        assert any(word.text.startswith("LIN-") for word in page)
    assert count_sheet_page(items, replace(SHEET, paper=paper, noted=True)).blank == blank
    assert ("Not on the list" in text) == (blank > 0)


@pytest.mark.documents
@pytest.mark.poppler
def test_names_of_three_lines_leave_no_page_of_two_rows() -> None:
    """40 lines on A5 of which each second is taller: two pages of 14 or 15, and the rest on the third."""
    long = "Mouldings of the valley: linden, limewashed, from the mill at the upper end"
    items = [
        replace(item(number, "Rack"), name=long if number % 2 else "Salt") for number in range(40)
    ]
    pdf = count_sheet_pdf(items, replace(SHEET, paper=Paper.A5, noted=True))
    lines = [sum(word.text.startswith("LIN-") for word in page) for page in words_of(pdf)]
    assert len(lines) == 3
    assert sum(lines) == 40
    assert min(lines[:-1]) >= 14
    assert text_of(pdf).count("Counted by") == 3


@pytest.mark.documents
@pytest.mark.poppler
def test_nothing_to_count_is_a_page_of_blank_lines() -> None:
    text = text_of(count_sheet_pdf((), SHEET))
    assert "0 items" in text
    assert "Not on the list" in text
