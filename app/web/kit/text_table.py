"""Reads a table as spreadsheets save it: from bytes to characters, from characters to rows of cells.

Owns the encodings and the separators that are understood. What a cell means is for whoever asked.
"""

import csv
import io
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.errors import Invalid
from app.web.kit.cleaning import cleaned

MOST_COLUMNS = 200
"""Cells of a row that are read; a price book has far fewer columns. Source: ours."""

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}

_MARKS = ((BOM_UTF8, "utf-8"), (BOM_UTF16_LE, "utf-16-le"), (BOM_UTF16_BE, "utf-16-be"))
_UNREADABLE = (
    "The file is not in UTF-8, UTF-16 or Windows-1252; save it from the spreadsheet as CSV UTF-8."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TextTable:
    """rows: each with its number as a spreadsheet counts them, from 1; blank rows are left out."""

    separator: str
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def decoded(content: bytes) -> str:
    """Decode the text of a file: with the mark of UTF-8 or UTF-16 as it says, else UTF-8, else Windows-1252.

    Raises: Invalid at "file".
    """
    for mark, encoding in _MARKS:
        if content.startswith(mark):
            return _text(content.removeprefix(mark), (encoding,))
    if content.count(0) * 4 > len(content):
        raise Invalid.at("file", _UNREADABLE)  # UTF-16 without its mark, or no text at all
    return _text(content, ("utf-8", "cp1252"))


def _text(content: bytes, encodings: tuple[str, ...]) -> str:
    for encoding in encodings:
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise Invalid.at("file", _UNREADABLE)


def read_table(text: str, known: Callable[[str], bool]) -> TextTable:
    """Read the rows of a text, its cells cleaned as those of a form are and without blanks around them.

    known: whether a cell of the first row names a column; that row tells the separator.
    Raises: Invalid at "file" for a quote that is never closed, and for a row of more than `MOST_COLUMNS` cells.
    """
    text = cleaned(text.removeprefix("\ufeff"))
    heads = {each: _head(text, each) for each in SEPARATORS}
    separator = max(SEPARATORS, key=lambda each: sum(map(known, heads[each][:MOST_COLUMNS])))
    try:
        rows = tuple(enumerate(_rows(text, separator), start=1))
    except csv.Error as error:
        raise Invalid.at("file", f"This is no CSV file: {error}.") from None
    for number, cells in rows:
        _check_columns(number, cells)
    return TextTable(separator=separator, rows=tuple(row for row in rows if any(row[1])))


def _head(text: str, separator: str) -> tuple[str, ...]:
    """Return the first row in which something stands; empty where there is none that can be read."""
    try:
        return next(filter(any, _rows(text, separator)), ())
    except csv.Error:
        return ()


def _check_columns(number: int, cells: tuple[str, ...]) -> None:
    if len(cells) > MOST_COLUMNS:
        raise Invalid.at(
            "file",
            f"Row {number} has {len(cells)} cells; at most {MOST_COLUMNS} are read in a row.",
        )


def _rows(text: str, separator: str) -> Iterator[tuple[str, ...]]:
    lines = io.StringIO(text, newline="")
    for cells in csv.reader(lines, delimiter=separator, strict=True):
        yield tuple(cell.strip() for cell in cells)
