"""The sheet that stock is counted on: place by place, a line for each item, and who counted it on which day.

What is noted stands on it only where it is asked for: who does not know how many there should be counts what is there.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from app.documents.kit.faces import POINT_MM, SANS
from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.printing import page_html
from app.lengths import Unit
from app.orders import Paper
from app.stock.items import StockItem
from app.stock.planning.fitting import extent_text
from app.stock.wording import figure

LEAST_LINE = 8.95
"""How high a line is at least with its rule, mm: a figure is written into it by hand. As the style sheet has it."""

_LINES_OF_A_PAGE = {Paper.A4: 250.4, Paper.LETTER: 232.6, Paper.A5: 163.4}
"""How high all lines of a page are, mm: what its head leaves."""

_NAMES = {Paper.A4: (88.0, 17.0), Paper.LETTER: (93.9, 17.0), Paper.A5: (55.0, 14.0)}
"""How wide names are, mm, and by how much less where it is said what is noted."""

LONG_NAME = 44
"""A name of more letters is set smaller."""

MOST_BLANK = 5
"""Lines for what lies there and is not on the list, where the last page has room for them. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToCount:
    """An item that is to be counted. name: of its material, with what it is. unit: what is counted of it, "sticks"."""

    kept: StockItem
    name: str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CountLine:
    """A line of the sheet. code: its own, or the material's. noted: how many there should be, blank where that is not told. unit: what is counted."""

    code: str
    name: str
    measure: str
    place: str
    noted: str
    unit: str

    @property
    def is_long(self) -> bool:
        """Whether its name is set smaller."""
        return len(self.name) > LONG_NAME


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
    return to_pdf(html, sheets_for(printing.paper, "count-sheet", "by-hand"))


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
        blank=_blank(lines, printing),
    )


def _blank(lines: Sequence[CountLine], printing: CountPrinting) -> int:
    """Return how many blank lines the last page has room for, so that none of them begins another one."""
    page, used = _LINES_OF_A_PAGE[printing.paper], 0.0
    wide, less = _NAMES[printing.paper]
    for line in lines:
        high = _height(line, wide - less if printing.noted else wide)
        used = high if used + high > page else used + high
    return min(int((page - used) / LEAST_LINE), MOST_BLANK)


def _height(line: CountLine, wide: float) -> float:
    """Foresee how high a line is: its code in 11.5 pt, beneath it the name, as wide as this, and its rule."""
    points = 7.0 if line.is_long else 8.5
    letters = 11.5 + SANS.lines(line.name, points, wide) * points
    return max(LEAST_LINE, letters * 1.1 * POINT_MM + 0.15)


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
            unit=each.unit,
        )
