"""The price book as a CSV file, for a spreadsheet, and read back with all faults by row.

A column is a field of the material's form. Text cells that a spreadsheet would take for a formula get an
apostrophe in front, which is taken off again when the file is read. Source: common practice against
formulas in exported text.
"""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.errors import Fault, Invalid, quoted
from app.orders import Shop
from app.pricing import TRAITS_OF, Kind, Material, Trait
from app.web.forms.material import MATERIAL_FIELDS, MOST_BANDS, read_material, typed_of
from app.web.forms.spreadsheet import is_formula, safe

BANDS, TRAITS = "charge.bands", "sheet.traits"
COLUMNS = tuple(
    dict.fromkeys(
        BANDS if path.startswith(BANDS) else TRAITS if path.startswith(TRAITS) else path
        for path in MATERIAL_FIELDS
        if path != "sheet.matter"
    )
)
LARGEST_FILE = 1_000_000
"""Bytes; it is posted a second time within a form."""

MOST_MATERIALS = 5000
_WORDS = frozenset({"code", "name", "supplier", "finish", "tags", "notes", "colour", "tax"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFault:
    """What is wrong with one row. row: as a spreadsheet counts, the head being row 1."""

    row: int
    column: str
    message: str


def write_file(materials: Iterable[Material], shop: Shop) -> str:
    """The price book as CSV, with a head."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for material in materials:
        cells = _cells(typed_of(material, shop))
        writer.writerow([_safe(name, cells.get(name, "")) for name in COLUMNS])
    return out.getvalue()


def _cells(typed: Mapping[str, str]) -> dict[str, str]:
    """The fields of a form with bands and traits each in one cell."""
    bands = (
        f"{typed[f'{BANDS}.{row}.up_to']}: {typed[f'{BANDS}.{row}.price']}"
        for row in range(MOST_BANDS)
        if typed[f"{BANDS}.{row}.up_to"]
    )
    traits = (trait.value for trait in Trait if typed[f"{TRAITS}.{trait.value}"])
    return {**typed, BANDS: "; ".join(bands), TRAITS: " ".join(traits)}


def _safe(name: str, text: str) -> str:
    return safe(text) if name in _WORDS else text


def read_file(text: str, shop: Shop) -> tuple[tuple[Material, ...], tuple[RowFault, ...]]:
    """The materials of a file, and what is wrong with its rows."""
    try:
        rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff")), strict=True))
    except csv.Error as error:
        return (), (RowFault(row=1, column="", message=f"This is no CSV file: {error}."),)
    head = tuple(rows[0]) if rows else ()
    if "code" not in head or "kind" not in head:
        return (), (RowFault(row=1, column="", message=_no_head(head)),)
    if unknown := [name for name in head if name not in COLUMNS]:
        message = f"The column {quoted(str(unknown[0]))} is not known; known: {', '.join(COLUMNS)}."
        return (), (RowFault(row=1, column="", message=message),)
    if len(rows) > MOST_MATERIALS:
        message = f"The file has {len(rows)} rows; at most {MOST_MATERIALS} are read."
        return (), (RowFault(row=1, column="", message=message),)
    return _materials(rows, shop)


def _no_head(head: Iterable[object]) -> str:
    found = ", ".join(str(name) for name in head if name) or "nothing"
    return (
        "The first row must name the columns, code and kind among them, as in the file that this "
        f"page gives; found: {quoted(found, limit=80)}."
    )


def _materials(
    rows: list[dict[str, str]], shop: Shop
) -> tuple[tuple[Material, ...], tuple[RowFault, ...]]:
    materials: list[Material] = []
    faults: list[RowFault] = []
    codes: set[str] = set()
    for number, row in enumerate(rows, start=2):
        code = (row.get("code") or "").strip()
        if code and code.casefold() in codes:
            message = f"The code {quoted(code)} stands in the file twice."
            faults.append(RowFault(row=number, column="code", message=message))
        codes.add(code.casefold())
        try:
            materials.append(read_material(_typed(row), shop))
        except Invalid as invalid:
            faults += [_of_row(number, fault) for fault in invalid.faults]
    return tuple(materials), tuple(faults)


def _of_row(number: int, fault: Fault) -> RowFault:
    column = next((name for name in COLUMNS if fault.path.startswith(name)), fault.path)
    return RowFault(row=number, column=column, message=fault.message)


def _typed(row: Mapping[str, str | None]) -> dict[str, str]:
    """The fields of the form that a row speaks of. Raises: Invalid for a kind that there is not."""
    typed = {name: _plain(name, row.get(name) or "") for name in COLUMNS}
    kind = typed["kind"].strip().casefold()
    if kind not in set(Kind):
        allowed = ", ".join(each.value for each in Kind)
        raise Invalid.at("kind", f"The kind is {quoted(typed['kind'])}; one of {allowed} is.")
    bands = [band.partition(":") for band in typed.pop(BANDS).split(";") if band.strip()]
    if len(bands) > MOST_BANDS:
        raise Invalid.at(BANDS, f"{len(bands)} sizes are listed; at most {MOST_BANDS} are read.")
    for number, (up_to, _, price) in enumerate(bands):
        typed[f"{BANDS}.{number}.up_to"] = up_to.strip()
        typed[f"{BANDS}.{number}.price"] = price.strip()
    traits = typed.pop(TRAITS).casefold().split()
    known = TRAITS_OF.get(Kind(kind), ())
    unknown = [word for word in traits if word not in set(known)]
    if unknown:
        allowed = ", ".join(trait.value for trait in known) or "nothing"
        raise Invalid.at(
            TRAITS,
            f"{quoted(unknown[0])} is not said of {Kind(kind).with_article}; {allowed} may be.",
        )
    return {**typed, "kind": kind, **{f"{TRAITS}.{trait}": "1" for trait in traits}}


def _plain(name: str, text: str) -> str:
    text = text.strip()
    return text[1:] if name in _WORDS and text.startswith("'") and is_formula(text) else text
