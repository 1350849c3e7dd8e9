"""Labels for the rack: what it is, how large, where it belongs, and a QR code where phones reach its page.

Owns the layout of sheets and of single labels. A sheet is plain paper cut along its lines; the grid is
the largest of our label that the paper holds.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import batched

from app.documents.kit.page_code import PageCode, page_code
from app.documents.kit.pdf import StyleSheets, to_pdf
from app.documents.kit.printing import page_html
from app.lengths import Unit
from app.orders import Paper
from app.stock.items import StockItem
from app.stock.planning.fitting import extent_text


class CutLabel(StrEnum):
    """How labels come: many on a sheet of paper, or each on a page of its own size."""

    SHEET = "sheet"
    SINGLE = "single"


GRIDS = {Paper.A4: (3, 8), Paper.LETTER: (3, 8), Paper.A5: (2, 6)}
"""Columns and rows on a sheet: labels of about 65 × 35 mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToLabel:
    """An item that wants a label. since: the day it came."""

    kept: StockItem
    name: str
    since: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label. code: its own, or the material's. measure: in the shop's unit. page: of the item."""

    code: str
    name: str
    measure: str
    place: str
    batch: str
    since: date
    page: PageCode | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelsPage:
    """All labels, by sheets of rows; a single label is a sheet of its own."""

    lang: str
    title: str
    cut: str
    sheets: tuple[tuple[tuple[Label, ...], ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelPrinting:
    """How labels are printed. unit: of the sizes. phone_url: where phones reach the app, or None."""

    paper: Paper
    unit: Unit
    phone_url: str | None
    cut: CutLabel = CutLabel.SHEET


def labels_pdf(items: Sequence[ToLabel], printing: LabelPrinting) -> bytes:
    """Make the PDF of the labels of some items, in their order. Raises: PdfUnavailable."""
    return to_pdf(labels_html(items, printing), _sheets(printing))


def labels_html(items: Sequence[ToLabel], printing: LabelPrinting) -> str:
    """Write the HTML of which the PDF is made."""
    labels = tuple(_label(item, printing) for item in items)
    page = LabelsPage(
        lang="en",
        title="Labels: " + ", ".join(label.code for label in labels[:3]) + _more(len(labels) - 3),
        cut=f"{printing.cut.value} cut-{printing.paper.value.lower()}",
        sheets=tuple(_laid_out(labels, printing)),
    )
    return page_html("labels.html", page)


def _more(count: int) -> str:
    return f" and {count} more" if count > 0 else ""


def _laid_out(
    labels: Iterable[Label], printing: LabelPrinting
) -> Iterable[tuple[tuple[Label, ...], ...]]:
    if printing.cut is CutLabel.SINGLE:
        return (((label,),) for label in labels)
    columns, rows = GRIDS[printing.paper]
    return (tuple(batched(sheet, columns)) for sheet in batched(labels, columns * rows))


def _sheets(printing: LabelPrinting) -> StyleSheets:
    if printing.cut is CutLabel.SINGLE:
        return StyleSheets(names=("document", "labels", "label-single"))
    return StyleSheets(names=("document", f"paper-{printing.paper.value.lower()}", "labels"))


def _label(item: ToLabel, printing: LabelPrinting) -> Label:
    kept = item.kept.item
    return Label(
        code=kept.label or kept.material,
        name=f"{kept.material} {item.name}" if kept.label else item.name,
        measure=extent_text(kept, printing.unit),
        place=kept.place,
        batch=kept.batch,
        since=item.since,
        page=page_code(printing.phone_url, f"/stock/items/{item.kept.id}"),
    )
