"""The sheet that stock is counted on: place by place, a line for each item, and who counted it on which day.

What is noted stands on it only where it is asked for: who does not know how many there should be counts what is there.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil

from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.printing import page_html
from app.lengths import Unit
from app.orders import Paper
from app.stock.items import StockItem
from app.stock.planning.fitting import extent_text
from app.stock.wording import figure

ROWS = {Paper.A4: 25, Paper.LETTER: 25, Paper.A5: 16}
"""Lines of a page, of about 9 mm: a figure is written into each by hand."""

_TWO_LINES = 66
"""Letters of a name in two lines on A5."""

MOST_BLANK = 5
"""Lines for what lies there and is not on the list, where the last page has room for them. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToCount:
    """An item that is to be counted. name: of its material."""

    kept: StockItem
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountLine:
    """A line of the sheet. code: its own, or the material's. noted: how many there should be, blank where that is not told."""

    code: str
    name: str
    measure: str
    place: str
    noted: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountSheetPage:
    """All lines; they flow from page to page, under the same head. what: that is counted. blank: how many lines follow the
    last one.
    """

    lang: str
    title: str
    shop_name: str
    what: str
    printed: date
    noted: bool
    count: int
    lines: tuple[CountLine, ...]
    blank: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CountPrinting:
    """How a sheet is printed. what: that is counted, "Mouldings at Rack A". noted: whether it says how many there should be."""

    paper: Paper
    unit: Unit
    shop_name: str
    what: str
    today: date
    noted: bool = False


def count_sheet_pdf(items: Sequence[ToCount], printing: CountPrinting) -> bytes:
    """Make the PDF of a sheet. Raises: PdfUnavailable."""
    html = page_html("count_sheet.html", count_sheet_page(items, printing))
    return to_pdf(html, sheets_for(printing.paper, "count-sheet"))


def count_sheet_page(items: Sequence[ToCount], printing: CountPrinting) -> CountSheetPage:
    """Return the page model of a sheet, place by place as one walks past the racks."""
    lines = tuple(_lines(items, printing))
    return CountSheetPage(
        lang="en",
        title=f"Count sheet: {printing.what}",
        shop_name=printing.shop_name,
        what=printing.what,
        printed=printing.today,
        noted=printing.noted,
        count=len(items),
        lines=lines,
        blank=_blank(lines, printing.paper),
    )


def _blank(lines: Sequence[CountLine], paper: Paper) -> int:
    """Return how many blank lines the last page has room for: a name of three lines on A5 takes a quarter of a line more."""
    tall = sum(len(line.name) > _TWO_LINES for line in lines) if paper is Paper.A5 else 0
    rows = ROWS[paper]
    filled = len(lines) + ceil(Fraction(tall, 4))
    return min(-filled % rows if filled else rows, MOST_BLANK)


def _lines(items: Iterable[ToCount], printing: CountPrinting) -> Iterable[CountLine]:
    for each in sorted(items, key=lambda one: one.kept.item.place.casefold()):
        kept = each.kept.item
        measure = ", ".join(filter(None, (extent_text(kept, printing.unit), kept.batch)))
        yield CountLine(
            code=kept.label or kept.material,
            name=f"{kept.material} {each.name}" if kept.label else each.name,
            measure=measure,
            place=kept.place,
            noted=figure(each.kept.on_hand) if printing.noted else "",
        )
