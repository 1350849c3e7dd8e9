"""The page of the price book as a file: giving it out, reading one, and what bringing it in would do."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from app.counting import count_text
from app.web.kit.tally import Tally
from app.web.kit.templating import Page
from app.web.materials.price_columns import Column
from app.web.materials.price_file import Book, FieldChange, FileRead, FileRow, RowFault

MOST_FAULTS = 200
SHOWN_AT_ONCE = 20
"""Materials or faults of a list that are seen without unfolding the rest."""
FIELDS_AT_ONCE = 3
"""Fields of a material that are seen without unfolding the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialInFile:
    """A material of the file.

    changes: fields with their old and new text.
    """

    row: int
    code: str
    name: str
    changes: tuple[FieldChange, ...]

    @property
    def parts(self) -> tuple[tuple[FieldChange, ...], tuple[FieldChange, ...]]:
        """The first changes, and those that are folded; of a new material without code and name, which head them."""
        told = [each for each in self.changes if each.old or each.new not in (self.code, self.name)]
        return tuple(told[:FIELDS_AT_ONCE]), tuple(told[FIELDS_AT_ONCE:])


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialsInFile:
    """Materials of the file: the first ones are shown, the rest can be unfolded."""

    first: tuple[MaterialInFile, ...]
    rest: tuple[MaterialInFile, ...]

    @property
    def total(self) -> int:
        """How many materials there are."""
        return len(self.first) + len(self.rest)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilePreview:
    """What bringing in a file would do.

    fields: how many materials change in each field. same: codes of materials in the file that stay as
    they are. absent: how many materials the file does not name. unknown: heads that name no column,
    each with the one that may have been meant, or "". idle: cells that count for nothing with their
    material. mark: see `FileRead.mark`.
    """

    separator: str
    added: MaterialsInFile
    changed: MaterialsInFile
    fields: tuple[tuple[str, int], ...]
    same: tuple[str, ...]
    absent: int
    unknown: tuple[tuple[str, str], ...]
    idle: MaterialsInFile
    mark: str

    @property
    def tally(self) -> tuple[Tally, ...]:
        """How many materials the file would add, change and leave."""
        idle = Tally(
            label="With cells left out",
            number=count_text(self.idle.total),
            note="see below",
            late=True,
        )
        return (
            Tally(label="New", number=count_text(self.added.total)),
            Tally(label="Changed", number=count_text(self.changed.total)),
            Tally(label="Unchanged", number=count_text(len(self.same))),
            Tally(label="Not in the file", number=count_text(self.absent), note="stay as they are"),
            *((idle,) if self.idle.total else ()),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceFilePage(Page):
    """The page of the price file.

    preview: what the file that was read would do; None before one was. text: the text of that file,
    carried along. folded: further faults, of the first of which there is no fold. more: how many faults are not shown. again: why a file that was to be brought in is
    shown again.
    """

    section: str = "Materials"
    columns: tuple[Column, ...]
    tally: tuple[Tally, ...]
    row_faults: tuple[RowFault, ...]
    folded: tuple[RowFault, ...]
    more: int
    preview: FilePreview | None
    again: str
    text: str


def shown(
    faults: Sequence[RowFault],
) -> tuple[tuple[RowFault, ...], tuple[RowFault, ...], int]:
    """Return the first faults, those that are folded, and how many more there are."""
    first, rest = faults[:SHOWN_AT_ONCE], faults[SHOWN_AT_ONCE:MOST_FAULTS]
    return tuple(first), tuple(rest), max(0, len(faults) - MOST_FAULTS)


def refused_tally(faults: Sequence[RowFault]) -> tuple[Tally, ...]:
    """Return how many rows of a file were refused; nothing where the file as a whole was."""
    rows = {fault.row for fault in faults if fault.row > 1}
    if not rows:
        return ()
    return (
        Tally(label="Rows refused", number=count_text(len(rows)), late=True),
        Tally(label="To change in the file", number=count_text(len(faults))),
        Tally(label="Brought in", number="0", note="all of a file or nothing"),
    )


def preview_of(read: FileRead, book: Book) -> FilePreview:
    """Return what a file that has no fault would do to a price book."""
    added = [row for row in read.rows if row.is_new]
    changed = [row for row in read.rows if not row.is_new and row.changes]
    fields = Counter(change.label for row in changed for change in row.changes)
    there = {kept.value.code for kept in book.values()}
    return FilePreview(
        separator=read.separator,
        added=_listing([_in_file(row, row.changes) for row in added]),
        changed=_listing([_in_file(row, row.changes) for row in changed]),
        fields=tuple(fields.most_common()),
        same=tuple(
            row.arriving.material.code for row in read.rows if not row.is_new and not row.changes
        ),
        absent=len(there - {row.arriving.material.code for row in read.rows}),
        unknown=read.unknown,
        idle=_listing([_in_file(row, row.idle) for row in read.rows if row.idle]),
        mark=read.mark,
    )


def _in_file(row: FileRow, changes: tuple[FieldChange, ...]) -> MaterialInFile:
    material = row.arriving.material
    return MaterialInFile(row=row.row, code=material.code, name=material.name, changes=changes)


def _listing(materials: Sequence[MaterialInFile]) -> MaterialsInFile:
    return MaterialsInFile(
        first=tuple(materials[:SHOWN_AT_ONCE]), rest=tuple(materials[SHOWN_AT_ONCE:])
    )
