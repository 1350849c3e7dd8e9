"""Numbered rows of a form, as of operations, tax rates and markup steps.

A form shows the rows there are; buttons add one and drop one. Without JavaScript the buttons post "add:name"
and "remove:name:2", and the form comes back so.
"""

import re
import unicodedata
from collections.abc import Collection, Mapping

from app.forms.reader import whole_number

MOST_ROWS = 60
LONGEST_CODE = 24


def rows_in(typed: Mapping[str, str], name: str) -> int:
    """Return how many rows of a name a form has, at most MOST_ROWS."""
    pattern = re.compile(rf"{re.escape(name)}\.([0-9]{{1,2}})\.")
    rows = [int(match[1]) + 1 for path in typed if (match := pattern.match(path))]
    return min(max(rows, default=0), MOST_ROWS)


def edited_rows(typed: Mapping[str, str], action: str) -> dict[str, str] | None:
    """Return the form with the row added or removed that a button asks for; None for any other button."""
    verb, _, rest = action.partition(":")
    if verb == "add" and rest:
        row = min(rows_in(typed, rest), MOST_ROWS - 1)
        return {**typed, f"{rest}.{row}.name": typed.get(f"{rest}.{row}.name", "")}
    name, _, row_text = rest.rpartition(":")
    dropped = whole_number(row_text, digits=4)
    if verb == "remove" and name and dropped is not None:
        return _without_row(typed, name, dropped)
    return None


def _without_row(typed: Mapping[str, str], name: str, dropped: int) -> dict[str, str]:
    """Return the form without one row; the rows after it move up."""
    pattern = re.compile(rf"{re.escape(name)}\.([0-9]{{1,2}})\.(.+)")
    kept = {}
    for path, text in typed.items():
        match = pattern.fullmatch(path)
        row = int(match[1]) if match else -1
        if match is None or row < dropped:
            kept[path] = text
        elif row > dropped:
            kept[f"{name}.{row - 1}.{match[2]}"] = text
    return kept


def code_from(name: str, taken: Collection[str]) -> str:
    """Make a code from a name: "Wash the glass" is "wash-the-glass"."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    words = re.findall(r"[a-z0-9]+", plain)
    stem = "-".join(words)[: LONGEST_CODE - 3].strip("-") or "row"
    numbered = (f"{stem}-{number}" for number in range(2, MOST_ROWS + 2))
    return stem if stem not in taken else next(code for code in numbered if code not in taken)


def kept_code(
    code: str, name: str, taken: Collection[str], never: Collection[str] = frozenset()
) -> str:
    """Return the code that a row carries along. A new one is made of its name where it has none yet, or
    where its code is that of another row.

    never: codes that are not made of a name.
    """
    return code if code and code not in taken else code_from(name, {*taken, *never})
