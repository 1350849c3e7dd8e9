"""The stock as a CSV file for a spreadsheet: one row an item, lengths in the shop's unit."""

import csv
import io
from collections.abc import Iterable, Mapping

from app.lengths import exact_text
from app.orders import Shop
from app.storage import StockLine
from app.web.kit.spreadsheet import amount, safe

COLUMNS = (
    "material",
    "name",
    "kind",
    "form",
    "whole",
    "label",
    "length",
    "width",
    "height",
    "unit",
    "batch",
    "place",
    "note",
    "since",
    "on_hand",
    "reserved",
    "currency",
    "unit_cost",
    "value",
)


def write_stock(lines: Iterable[StockLine], reserved: Mapping[int, int], shop: Shop) -> str:
    """Return the items as CSV, with a head. reserved: how many of each open plans have taken, by its id."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for line in lines:
        cells = _words(line) | _figures(line, reserved.get(line.kept.id, 0), shop)
        writer.writerow([cells[name] for name in COLUMNS])
    return out.getvalue()


def _words(line: StockLine) -> dict[str, str]:
    item = line.kept.item
    texts = {
        "material": item.material,
        "name": line.name,
        "kind": line.kind.value,
        "form": item.form.value,
        "whole": "whole" if item.whole else "offcut",
        "label": item.label,
        "batch": item.batch,
        "place": item.place,
        "note": item.note,
    }
    return {name: safe(text) for name, text in texts.items()}


def _figures(line: StockLine, reserved: int, shop: Shop) -> dict[str, str]:
    """Return the columns of our own numbers, which a spreadsheet may reckon with."""
    item = line.kept.item
    lengths = {
        "length": item.length,
        "width": item.size.width if item.size else None,
        "height": item.size.height if item.size else None,
    }
    return {
        **{
            name: "" if length is None else exact_text(length, shop.unit)
            for name, length in lengths.items()
        },
        "unit": shop.unit.value,
        "since": line.since.date().isoformat(),
        "on_hand": str(line.kept.on_hand),
        "reserved": str(reserved),
        "currency": item.unit_cost.currency.code,
        "unit_cost": amount(item.unit_cost),
        "value": amount(line.value),
    }
