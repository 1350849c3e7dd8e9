"""The price book as a CSV file, for a spreadsheet, and read back with all faults by row.

What a file does not speak of stays: a column that is not there, a cell that is blank. Text cells that a
spreadsheet would take for a formula get an apostrophe in front, which is taken off again when the file
is read. Source: common practice against formulas in exported text.
"""

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from app.errors import Fault, Invalid, quoted
from app.orders import Shop
from app.pricing import Kind, Material, cost_bases
from app.services.price_book import Arriving
from app.storage import Versioned
from app.web.kit.text_table import SEPARATORS, TextTable, read_table
from app.web.materials.choices import SELLING_WAYS
from app.web.materials.form import read_with_use, typed_of, usual_typed
from app.web.materials.material_field import rule_of
from app.web.materials.price_columns import (
    CLEARS,
    COLUMNS,
    Column,
    column_named,
    column_words,
    kind_meant,
    nearest_name,
)

LARGEST_FILE = 1_000_000
"""Bytes; it is posted a second time within a form."""

MOST_MATERIALS = 5000

type Book = Mapping[str, Versioned[Material]]
"""The price book by code in lower case, by former codes too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFault:
    """What is wrong with one row. row: as a spreadsheet counts, the head being row 1; 0 for the file.

    code: that stands in the row, "" for none. column: by the words of the form, with the head of the file where that is
    another.
    """

    row: int
    column: str
    message: str
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldChange:
    """A field of a material before and after, as its form calls it. old: "" where there was none."""

    label: str
    old: str
    new: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRow:
    """A row that was read. changes: every field that is another afterwards; of a new material each one.

    idle: cells that count for nothing with such a material, by label.
    """

    row: int
    arriving: Arriving
    changes: tuple[FieldChange, ...]
    idle: tuple[FieldChange, ...]

    @property
    def is_new(self) -> bool:
        """Whether the price book does not have the material yet."""
        return self.arriving.version is None


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRead:
    """What a file says. unknown: heads that name no column, with the one that may have been meant.

    separator: as "semicolons"; "" where it could not be told.
    """

    rows: tuple[FileRow, ...] = ()
    faults: tuple[RowFault, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()
    separator: str = ""

    @property
    def does(self) -> tuple[FileRow, ...]:
        """The rows that add or change a material."""
        return tuple(row for row in self.rows if row.is_new or row.changes)

    @property
    def mark(self) -> str:
        """A digest of all that the file would do, to notice when the price book has changed since it was shown."""
        done = [
            (row.arriving.material.code, row.arriving.version, row.changes) for row in self.does
        ]
        return sha256(repr(done).encode()).hexdigest()


def write_file(materials: Iterable[Material], shop: Shop) -> str:
    """Return the price book as CSV with a head row."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([column.name for column in COLUMNS])
    for material in materials:
        typed = typed_of(material, shop)
        writer.writerow([column.written(typed) for column in COLUMNS])
    return out.getvalue()


def read_file(text: str, shop: Shop, book: Book) -> FileRead:
    """Read a file against a price book, and return its rows, or what is wrong with them."""
    try:
        table = read_table(text, lambda cell: column_named(cell) is not None)
        heads = _heads(table)
        if len(table.rows) - 1 > MOST_MATERIALS:
            raise Invalid.at(
                "file",
                f"The file has {len(table.rows) - 1} rows; at most {MOST_MATERIALS} are read.",
            )
    except Invalid as invalid:
        return FileRead(
            faults=tuple(RowFault(row=1, column="", message=f.message) for f in invalid.faults)
        )
    return _Rows(table, heads, shop, book).read()


def _not_known(near: str) -> str:
    return f"This column is not known; {quoted(near)} is." if near else "This column is not known."


def _heads(table: TextTable) -> tuple[tuple[str, Column | None], ...]:
    """Return the columns of the file, None for an unknown one. Raises: Invalid without a code, or for two alike."""
    cells = table.rows[0][1] if table.rows else ()
    heads = tuple((cell, column_named(cell)) for cell in cells)
    names = [column.name for _, column in heads if column is not None]
    if "code" not in names:
        found = ", ".join(filter(None, cells)) or "nothing"
        raise Invalid.at(
            "file",
            "The first row must name the columns, code among them, as in the file that this page "
            f"gives; found: {quoted(found, limit=80)}.",
        )
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise Invalid.at("file", f"The first row names {quoted(twice[0])} twice; leave one out.")
    return heads


class _Rows:
    """Reads the rows of a file one by one, gathering the faults."""

    def __init__(
        self,
        table: TextTable,
        heads: tuple[tuple[str, Column | None], ...],
        shop: Shop,
        book: Book,
    ) -> None:
        self._table = table
        self._heads = heads
        self._shop = shop
        self._book = book
        self._faults: list[RowFault] = []
        self._codes: dict[str, int] = {}

    def read(self) -> FileRead:
        """Read all rows of the file."""
        read = (self._row(number, cells) for number, cells in self._table.rows[1:])
        rows = tuple(row for row in read if row is not None)
        unknown = tuple(
            (head or f"number {at}", nearest_name(head))
            for at, (head, column) in enumerate(self._heads, start=1)
            if column is None and (head or self._is_filled(at - 1))
        )
        if self._faults:
            head = [
                RowFault(row=1, column=head, message=_not_known(near)) for head, near in unknown
            ]
            return FileRead(faults=(*head, *self._faults))
        return FileRead(rows=rows, unknown=unknown, separator=SEPARATORS[self._table.separator])

    def _is_filled(self, at: int) -> bool:
        return any(at < len(cells) and cells[at] for _, cells in self._table.rows[1:])

    def _row(self, number: int, cells: tuple[str, ...]) -> FileRow | None:
        """Read one row; it is None where something is wrong with it."""
        try:
            return self._arriving(number, cells)
        except Invalid as invalid:
            code = self._code_in(cells)
            self._faults += [self._fault(number, fault, code) for fault in invalid.faults]
            return None

    def _code_in(self, cells: tuple[str, ...]) -> str:
        at = next(at for at, (_, column) in enumerate(self._heads) if column is _CODE)
        code = cells[at].strip() if at < len(cells) else ""
        return "" if code in CLEARS else code

    def _fault(self, number: int, fault: Fault, code: str) -> RowFault:
        """Return a fault at its column, called as the form calls it, and as the file does where that is another word."""
        of = (column for column in COLUMNS if fault.path in (column.name, *column.fields))
        near = next(of, None) or next((c for c in COLUMNS if fault.path.startswith(c.name)), None)
        named = {column.name: head for head, column in self._heads if column is not None}
        if near is None:
            return RowFault(row=number, column=fault.path, message=fault.message, code=code)
        head = named.get(near.name, near.label)
        same = column_words(head) == column_words(near.label)
        column = near.label if same else f"{near.label} ({head})"
        return RowFault(row=number, column=column, message=fault.message, code=code)

    def _arriving(self, number: int, cells: tuple[str, ...]) -> FileRow:
        given = self._given(cells)
        old = self._old(number, given)
        kind = self._kind(given, old)
        before = typed_of(old.value, self._shop) if old else dict[str, str]()
        filled = self._filled(given, before, kind)
        typed = (before or self._begun(kind, filled)) | filled
        material, used = read_with_use(typed, self._shop)
        after = typed_of(material, self._shop)
        return FileRow(
            row=number,
            arriving=Arriving(material=material, version=old.version if old else None),
            changes=self._changes(before, after),
            idle=self._idle(given, used, after),
        )

    def _given(self, cells: tuple[str, ...]) -> dict[Column, str]:
        """Return the cells that are not blank, by their columns. Raises: Invalid for cells beyond the head row."""
        beyond = [cell for cell in cells[len(self._heads) :] if cell]
        if beyond:
            comma = " A decimal comma needs quotes here." if self._table.separator == "," else ""
            raise Invalid.at(
                "", f"The row goes on beyond the last column: {quoted(beyond[0])}.{comma}"
            )
        pairs = zip(self._heads, cells, strict=False)
        return {
            column: self._with_point(column, cell)
            for (_, column), cell in pairs
            if column is not None and cell
        }

    def _with_point(self, column: Column, cell: str) -> str:
        """Return a number with a decimal point, where a file with semicolons may have a decimal comma."""
        if self._table.separator != ";" or not column.is_figures or "." in cell:
            return cell
        return re.sub(r"(?<![\d,])(\d+),(\d+)(?![\d,])", r"\1.\2", cell)

    def _old(self, number: int, given: Mapping[Column, str]) -> Versioned[Material] | None:
        """Return the material of the row's code. Raises: Invalid without a code, or with one that an
        earlier row had.
        """
        code = given.get(_CODE, "").casefold()
        if not code or code in CLEARS:
            raise Invalid.at("code", "The code is empty; it tells which material the row is about.")
        old = self._book.get(code)
        today = old.value.code.casefold() if old else code
        if (first := self._codes.setdefault(today, number)) != number:
            raise Invalid.at(
                "code",
                f"The code {quoted(given[_CODE])} stands in the file twice, first in row {first}.",
            )
        return old

    def _kind(self, given: Mapping[Column, str], old: Versioned[Material] | None) -> Kind:
        if _KIND in given:
            return kind_meant(given[_KIND])
        if old is None:
            allowed = ", ".join(kind.value for kind in Kind)
            raise Invalid.at(
                "kind",
                f"{quoted(given[_CODE])} is not in the price book; say of what kind it is: {allowed}.",
            )
        return old.value.kind

    def _filled(
        self, given: Mapping[Column, str], before: Mapping[str, str], kind: Kind
    ) -> dict[str, str]:
        """Return the fields that the row changes; a cell that says what is there already changes none."""
        filled: dict[str, str] = {}
        faults: list[Fault] = []
        for column, cell in given.items():
            if before and (column is _CODE or _same(cell, column.written(before))):
                continue
            try:
                filled |= column.read(cell, kind, self._shop)
            except Invalid as invalid:
                faults += invalid.faults
        if faults:
            raise Invalid(faults)
        return {**filled, "kind": kind.value, **_way_of(given)}

    def _begun(self, kind: Kind, filled: Mapping[str, str]) -> dict[str, str]:
        """Return what a new material begins with: the same as on its form, and on sale."""
        usual = usual_typed(kind, self._shop)
        by = rule_of({**usual, **filled})
        return usual | {"charge.by": by.value, "per": cost_bases(kind, by)[0].value}

    def _changes(
        self, before: Mapping[str, str], after: Mapping[str, str]
    ) -> tuple[FieldChange, ...]:
        """Return the columns whose cells differ; for a new material, all that are filled."""
        pairs = (
            (column, column.said(before) if before else "", column.said(after))
            for column in COLUMNS
        )
        return tuple(
            FieldChange(
                label=column.named(self._shop),
                old=column.label_of(old),
                new=column.label_of(new),
            )
            for column, old, new in pairs
            if old != new
        )

    def _idle(
        self, given: Mapping[Column, str], used: frozenset[str], after: Mapping[str, str]
    ) -> tuple[FieldChange, ...]:
        """Return the cells that no field of the material was read from."""
        return tuple(
            FieldChange(label=column.named(self._shop), old="", new=cell)
            for column, cell in given.items()
            if used.isdisjoint(column.fields)
            and cell not in CLEARS
            and not _same(cell, column.written(after))
        )


_CODE = next(column for column in COLUMNS if column.name == "code")
_KIND = next(column for column in COLUMNS if column.name == "kind")
_SELLING = next(column for column in COLUMNS if column.name == "selling")


def _way_of(given: Mapping[Column, str]) -> dict[str, str]:
    """Return the way of selling that a row means by the cells it fills, where it does not say. Raises: Invalid."""
    if _SELLING in given:
        return {}
    names = {column.name for column, cell in given.items() if cell not in CLEARS}
    ways = [way for way in SELLING_WAYS if f"selling.{way}" in names]
    if len(ways) > 1:
        raise Invalid.at(
            "selling",
            f"Several are given: {', '.join(ways)}; say in the column selling which one sells.",
        )
    return {"selling": ways[0]} if ways else {}


def _same(cell: str, written: str) -> bool:
    """Tell whether a cell says what would be written there; line ends may have changed on the way."""
    return cell.split() == written.split() if "\n" in written else cell == written.strip()
