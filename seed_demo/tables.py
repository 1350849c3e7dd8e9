"""The tables of the sample as they stand in `data`: one row a line, tabs between, the first line names.

Owns the reading only; what a column means is said where it is used.
"""

import csv
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"

type Line = dict[str, str]


@cache
def table(name: str) -> tuple[Line, ...]:
    """The rows of a table, each column by its name; empty text where nothing stands."""
    with (DATA / f"{name}.tsv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE, strict=True))
