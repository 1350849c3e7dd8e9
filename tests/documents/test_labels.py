"""Labels for the rack, read back from their PDF."""

from dataclasses import replace
from datetime import date

import pytest

from app.documents.kit.page_code import page_code
from app.documents.labels import GRIDS, CutLabel, LabelPrinting, ToLabel, labels_html, labels_pdf
from app.lengths import Size, Unit, inches, mm
from app.orders import Paper
from app.stock.items import Item, StockForm, StockItem
from tests.builders.rack import offcut, sticks
from tests.builders.values import euro
from tests.documents.reading import overlapping, page_sizes, squeezed, text_of, words_of

STICK = sticks(1, 5)
RACKED = replace(STICK, item=replace(STICK.item, place="Rack A", batch="Lot 7"))
BOARD = StockItem(
    id=40,
    version=1,
    on_hand=1,
    item=Item(
        material="M-101",
        form=StockForm.SHEET,
        unit_cost=euro("2.00"),
        size=Size(inches("51/2"), inches(16)),
        whole=False,
        label="K-2026-0040",
        place="Drawer 2",
    ),
)
LABELS = (
    ToLabel(kept=offcut(7, mm(742), "6.96"), name="Linden, limewashed", since=date(2026, 11, 25)),
    ToLabel(kept=RACKED, name="Linden, limewashed", since=date(2026, 11, 25)),
    ToLabel(kept=BOARD, name="Chalk white", since=date(2026, 9, 2)),
)
PHONES = "http://192.0.2.7:8080/"
SHEET = LabelPrinting(paper=Paper.A4, unit=Unit.MM, phone_url=PHONES)


@pytest.mark.documents
@pytest.mark.poppler
def test_a_label_says_what_it_is_how_large_and_where_it_belongs() -> None:
    text = squeezed(text_of(labels_pdf(LABELS, SHEET)))
    for words in (
        "K-2026-0007 742 mm",
        "LIN-20 Linden, limewashed",
        "LIN-20 3000 mm",
        "Linden, limewashed Rack A Lot 7 · Wed 25 Nov 2026",
        "K-2026-0040 647.7 × 406.4 mm",  # 25.5 × 16 in
        "M-101 Chalk white Drawer 2 Wed 2 Sep 2026",
        "M-101 Chalk white",
    ):
        assert squeezed(words) in text


@pytest.mark.documents
@pytest.mark.poppler
def test_sizes_are_in_the_shops_unit() -> None:
    text = squeezed(text_of(labels_pdf(LABELS[2:], replace(SHEET, unit=Unit.IN))))
    assert squeezed('25 1/2 × 16"') in text


def test_the_code_leads_to_the_items_page() -> None:
    html = labels_html(LABELS[2:], SHEET)
    assert image_of("/stock/items/40") in html
    assert image_of("/stock/items/41") not in html


def image_of(path: str) -> str:
    code = page_code(PHONES, path)
    assert code is not None
    return code.image


def test_while_no_phone_reaches_its_page_a_label_bears_no_code_and_keeps_its_words() -> None:
    html = labels_html(LABELS, replace(SHEET, phone_url=None))
    assert "<img" not in html
    assert "/stock/items/" not in html
    for words in ("K-2026-0007", "742", "Rack A", "Lot 7", "K-2026-0040", "Drawer 2"):
        assert words in html


@pytest.mark.documents
@pytest.mark.parametrize(
    ("paper", "size", "on_a_sheet"),
    [(Paper.A4, (595, 842), 24), (Paper.LETTER, (612, 792), 24), (Paper.A5, (420, 595), 12)],
)
def test_a_sheet_of_paper_holds_its_grid_and_no_more(
    paper: Paper, size: tuple[int, int], on_a_sheet: int
) -> None:
    printing = replace(SHEET, paper=paper)
    # Source: ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in.
    assert page_sizes(labels_pdf(LABELS[:1] * on_a_sheet, printing)) == [size]
    assert page_sizes(labels_pdf(LABELS[:1] * (on_a_sheet + 1), printing)) == [size, size]


@pytest.mark.documents
@pytest.mark.poppler
def test_single_labels_have_a_page_each() -> None:
    content = labels_pdf(LABELS, replace(SHEET, cut=CutLabel.SINGLE))
    # 62 × 34 mm = 175.7… × 96.4 points
    assert page_sizes(content) == [(176, 96)] * 3
    assert "K-2026-0040" in text_of(content)


@pytest.mark.documents
@pytest.mark.poppler
def test_the_longest_words_that_are_kept_break_no_sheet() -> None:
    longest = replace(
        STICK.item, material="M" * 24, place="P" * 60, batch="B" * 60, unit_cost=euro("1")
    )
    label = ToLabel(kept=replace(STICK, item=longest), name="N" * 120, since=date(2026, 11, 25))
    content = labels_pdf((label,) * 24, SHEET)
    assert len(page_sizes(content)) == 1
    assert "3000mm" in squeezed(text_of(content))


A_LONG_NAME = "Linden, limewashed, from the mill at the upper end of the valley by the old river"


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("phones", [PHONES, None])
@pytest.mark.parametrize(
    ("paper", "wide", "high"),
    [(Paper.A4, 194 / 3, 35), (Paper.LETTER, 199.9 / 3, 32.8), (Paper.A5, 66, 32)],
)
def test_no_word_is_cut_off_and_each_stands_inside_its_label(
    paper: Paper, wide: float, high: float, phones: str | None
) -> None:
    """A sheet has margins of 8 mm; A4 is 210 mm wide, Letter 215.9, A5 148 (ISO 216, ANSI/ASME Y14.1)."""
    columns, rows = GRIDS[paper]
    named = replace(LABELS[1], name=A_LONG_NAME)
    content = labels_pdf((named,) * (columns * rows), replace(SHEET, paper=paper, phone_url=phones))
    (page,) = words_of(content)
    assert overlapping(page) == []
    assert [word.text for word in page].count("river") == columns * rows
    for word in page:
        left, top = (word.left * 25.4 / 72 - 8) % wide, (word.top * 25.4 / 72 - 8) % high
        right, bottom = (
            left + (word.right - word.left) * 25.4 / 72,
            top + (word.bottom - word.top) * 25.4 / 72,
        )
        assert left >= 2, word
        assert top >= 0.5, word
        assert right <= wide - 2, word
        assert bottom <= high - 0.5, word
        if phones:
            assert right <= wide - 23.9 or top >= 24, (
                word
            )  # nothing on the code, 21 mm wide and high


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("unit", list(Unit))
def test_a_single_label_says_all_that_one_of_a_sheet_says(unit: Unit) -> None:
    wide = Item(
        material="M-101",
        form=StockForm.SHEET,
        unit_cost=euro("2.00"),
        size=Size(inches("10115/16"), inches("6015/16")),
        whole=False,
        label="K-2026-0041",
        place="Drawer 2",
    )
    largest = replace(LABELS[2], kept=replace(BOARD, id=41, item=wide))
    items = (*LABELS, largest, replace(LABELS[1], name=A_LONG_NAME))
    on_sheet, alone = (
        words_of(labels_pdf(items, replace(SHEET, unit=unit, cut=cut))) for cut in CutLabel
    )
    assert sorted(word.text for page in on_sheet for word in page) == sorted(
        word.text for page in alone for word in page
    )
    assert len(alone) == 5
    for page in alone:
        assert overlapping(page) == []
        assert max(word.right for word in page) <= 62 / 25.4 * 72 - 5
        assert max(word.bottom for word in page) <= 34 / 25.4 * 72 - 1
