"""Numbered rows of a form, as of operations, tax rates and markup steps.

A form shows the rows there are and a few blank ones; a row is dropped by its own tick, never by being
left half empty.
"""

import re
import unicodedata
from collections.abc import Collection, Iterator, Mapping

MOST_ROWS = 60
LONGEST_CODE = 24


def rows_in(typed: Mapping[str, str], name: str) -> int:
    """How many rows of a name a form has, at most MOST_ROWS."""
    pattern = re.compile(rf"{re.escape(name)}\.([0-9]{{1,2}})\.")
    rows = [int(match[1]) + 1 for path in typed if (match := pattern.match(path))]
    return min(max(rows, default=0), MOST_ROWS)


def filled_rows(
    typed: Mapping[str, str], name: str, fields: Collection[str]
) -> Iterator[tuple[int, str]]:
    """(number, path) of the rows in which any of the fields is filled, the dropped ones left out."""
    for row in range(rows_in(typed, name)):
        path = f"{name}.{row}"
        filled = any(typed.get(f"{path}.{field}", "").strip() for field in fields)
        if filled and not typed.get(f"{path}.remove"):
            yield row, path


def code_from(name: str, taken: Collection[str]) -> str:
    """A code for something that was given only a name: "Wash the glass" is "wash-the-glass"."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    words = re.findall(r"[a-z0-9]+", plain)
    stem = "-".join(words)[: LONGEST_CODE - 3].strip("-") or "row"
    numbered = (f"{stem}-{number}" for number in range(2, MOST_ROWS + 2))
    return stem if stem not in taken else next(code for code in numbered if code not in taken)
