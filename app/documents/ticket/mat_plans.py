"""The mats as they lie on the cutter: their drawings, where windows lie, where cuts start and end."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from app.bench import BoardBox, CutLine, Mark, Marks, Scale, marks_of, rule_in
from app.documents.kit.faces import SANS
from app.documents.kit.pictures import data_uri
from app.documents.kit.printing import Figures, unbroken
from app.documents.ticket.back_plan import back_plan
from app.documents.ticket.guide_work import edges_in_words, short_name
from app.framing import Shape
from app.framing.layer_names import numbered
from app.lengths import ZERO, Length
from app.orders.workbench import Workbench


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlan:
    """One mat as it lies. image: its address; caption: what the drawing has no room for, else empty."""

    image: str
    words: str
    caption: str


_ROWS_OF_PART = 8

_ENDS = ("start", "end")
"""What is marked of a cut."""

_COLUMNS = ((65.8, 10.0), (91.0, 16.0))
"""The narrowest column of small and of large paper, mm, with the largest figures that tables have there, points."""

_FREE = 1.5
"""What is free before a figure, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A small table of figures. title: empty where the heading over it says that. heads: of all columns; rows: each as long as heads.

    of_all: whether it is of all mats, so that its title may be the heading, with what is said beside it.
    """

    title: str
    beside_title: str = ""
    of_all: bool = False
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def shares(self) -> tuple[int, ...]:
        """The widths of its columns in percent, by the longest of their cells; the heads of many narrow ones wrap."""
        heads = (max(head.split(" "), key=len) if self.of_all else head for head in self.heads)
        columns = zip(heads, *self.rows, strict=True)
        widths = [
            max(SANS.width(column[0], _POINTS), *(SANS.width(cell, points) for cell in column[1:]))
            + 2
            for points, column in zip(
                (_POINTS, *([_MARKS] * len(self.heads))), columns, strict=False
            )
        ]
        return tuple(int(100 * width / sum(widths)) for width in widths)

    @property
    def said(self) -> str:
        """Its title, with what is said beside it."""
        return ", ".join(filter(None, (self.title, self.beside_title)))

    @property
    def has_room(self) -> bool:
        """Whether every figure stands in one line of its column, on any paper."""
        columns = [column[1:] for column in zip(self.heads, *self.rows, strict=True)]
        return all(
            SANS.width(figure, points) + _FREE <= wide * share / 100
            for wide, points in _COLUMNS
            for share, figures in zip(self.shares[1:], columns[1:], strict=True)
            for figure in figures
        )

    @property
    def parts(self) -> tuple["Table", ...]:
        """The table split into parts of a few rows, which stand one after the other."""
        return tuple(
            replace(self, rows=self.rows[start : start + _ROWS_OF_PART])
            for start in range(0, len(self.rows), _ROWS_OF_PART)
        )


_POINTS = 10.0
"""Letters of a table, about."""

_MARKS = 14.0
"""Figures of a table, which are marked on a board, about."""


@dataclass(frozen=True, kw_only=True)
class LyingMats:
    """The mats of a piece with their marks, the top one first."""

    bench: Workbench
    figures: Figures
    word: str

    @cached_property
    def marks(self) -> tuple[Marks, ...]:
        """The marks of every mat."""
        return tuple(marks_of(mat, self.bench.cutter) for mat in self.bench.mats)

    def mark(self, distance: Length) -> str:
        """Write a mark as the cutter's scale reads; on a ticket in the other unit with its check value."""
        return self._scale.mark(distance, self.figures.unit)

    @property
    def in_units(self) -> str:
        """The units of the marks, ", in mm (inches)", where they have check values; else empty."""
        scale, ticket = self._scale, self.figures.unit
        if scale.unit is ticket:
            return ""
        return f", in {short_name(scale.unit)} ({short_name(ticket)})"

    @property
    def _scale(self) -> Scale:
        plan, ticket = self.bench.plan, self.figures.unit
        return plan.marked_on(ticket) if plan else rule_in(ticket)

    def name(self, marks: Marks) -> str:
        """Return the name of a mat on its ticket."""
        return numbered(self.word, marks.mat.layer, len(self.bench.mats))

    def from_edge(self, marks: Marks) -> str:
        """Say that a smaller mat is measured from the edge of the top one, which is drawn dashed; empty else (G7)."""
        if marks.blank.size == marks.size:
            return ""
        return f"from {numbered(self.word, 1, len(self.bench.mats))}’s edge"


def mat_plans(mats: LyingMats, *, room: tuple[float, float]) -> tuple[MatPlan, ...]:
    """Draw every mat.

    room: that of each drawing, in mm.
    """
    return tuple(_plans(mats, room))


def _plans(mats: LyingMats, room: tuple[float, float]) -> Iterator[MatPlan]:
    plan = mats.bench.plan
    if plan is None:
        return
    for marks in mats.marks:
        side = "back" if marks.back_up else "face, up for the reverse bevel,"
        caption = f"{side} of {mats.name(marks)}"
        if edge := mats.from_edge(marks):
            caption += f"\n{edge}"
        picture = back_plan(marks, plan, mats.figures, caption=caption, room=room)
        yield MatPlan(
            image=data_uri(picture.svg),
            words=picture.words,
            caption="" if picture.captioned else caption.replace("\n", ", "),
        )


def places_of(mats: LyingMats) -> tuple[Table, ...]:
    """Return where the windows of a mat lie, if it has several or a curved one (G9, G10)."""
    return tuple(
        _places(mats, marks)
        for marks in mats.marks
        if len(marks.windows) > 1 or any(not one.straight for one in marks.mat.windows)
    )


def _places(mats: LyingMats, marks: Marks) -> Table:
    side = "back" if marks.back_up else "face"
    rows: list[tuple[str, str, str]] = []
    alone = len(marks.windows) == 1
    for window, lying in zip(marks.mat.windows, marks.windows, strict=True):
        rows.append(_row(mats, "the window" if alone else lying.name, lying.at.x, lying.at.y))
        if not window.straight:
            x, y = _middle(lying, window.shape, window.rise)
            middle = "centre of the arc" if window.shape is Shape.ARCH else "its middle"
            rows.append(_row(mats, middle, x, y))
    return Table(
        title=f"{mats.name(marks).capitalize()} from the {side}{mats.in_units}",
        heads=("window", "from left", "from top"),
        rows=tuple(rows),
    )


def _row(mats: LyingMats, name: str, x: Length, y: Length) -> tuple[str, str, str]:
    return (name, mats.mark(x), mats.mark(y))


def _middle(lying: BoardBox, shape: Shape, rise: Length | None) -> tuple[Length, Length]:
    """Return the middle of the oval, or of the oval that a round top is half of."""
    down = rise if shape is Shape.ARCH and rise is not None else lying.size.height / 2
    return lying.at.x + lying.size.width / 2, lying.at.y + down


def ends_of(mats: LyingMats) -> tuple[Table, ...]:
    """Return where cuts start and end, where that is not at the crossings of the lines nor at a stop (B5, B9).

    Mats of one window each stand beside each other in one table, where their figures have room in a column.
    """
    cutter = mats.bench.cutter
    offset = bool(cutter.start_offset or cutter.end_offset)
    marked = tuple(
        marks
        for marks in mats.marks
        if marks.to_mark and (offset or any(one.shape is Shape.ARCH for one in marks.mat.windows))
    )
    beside = _beside_each_other(mats, marked) if len(marked) > 1 else None
    return (beside,) if beside else tuple(_ends(mats, marks) for marks in marked)


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a cut that is marked. edge: of the cut, as the mat lies; from_edge: from where it is measured."""

    what: str
    edge: str
    from_edge: str


def _ends_of_cuts(marks: Marks) -> dict[_End, Length]:
    """Return every end of a mat's cuts that is marked, with how far it lies from the edge beside it."""
    found: dict[_End, Length] = {}
    for line in marks.cut_lines:
        edge = line.cut.edge_as_it_lies.value
        for what, mark, to_mark in (
            ("start", line.from_start, line.cut.start_to_mark),
            ("end", line.from_end, line.cut.end_to_mark),
        ):
            if to_mark:
                found[_End(what, edge, mark.edge.value)] = mark.distance
    return found


def _beside_each_other(mats: LyingMats, marked: tuple[Marks, ...]) -> Table | None:
    """Make one table of several mats, a row for each cut, or else for each of its ends.

    None where mats differ in what is cut and marked, a cut begins beyond the board, or figures have no room.
    """
    found = [_ends_of_cuts(marks) for marks in marked]
    ends = found[0]
    if any(
        len(marks.windows) > 1 or each.keys() != ends.keys()
        for marks, each in zip(marked, found, strict=True)
    ) or any(distance < ZERO for each in found for distance in each.values()):
        return None
    names = [unbroken(mats.name(marks)) for marks in marked]
    whats = [what for what in _ENDS if any(end.what == what for end in ends)]
    by_end = Table(
        title=f"Where cuts {' and '.join(whats)}",
        beside_title=mats.in_units.removeprefix(", "),
        of_all=True,
        heads=("cut", *names),
        rows=tuple(
            (
                f"{end.edge}{f' {end.what}s' if len(whats) > 1 else ''}, from {end.from_edge}",
                *(mats.mark(each[end]) for each in found),
            )
            for end in ends
        ),
    )
    pairs = [
        (start, end)
        for start in ends
        for end in ends
        if (start.what, end.what) == _ENDS and start.edge == end.edge
    ]
    tables = [by_end]
    if 2 * len(pairs) == len(ends):
        by_cut = Table(
            title=by_end.title,
            beside_title=f"each from its edge{mats.in_units}",
            of_all=True,
            heads=("cut", *(f"{name} {what}" for name in names for what in _ENDS)),
            rows=tuple(
                (
                    f"{start.edge}, {start.from_edge} to {end.from_edge}",
                    *(mats.mark(each[one]) for each in found for one in (start, end)),
                )
                for start, end in pairs
            ),
        )
        tables.insert(0, by_cut)
    return next((table for table in tables if table.has_room), None)


def _ends(mats: LyingMats, marks: Marks) -> Table:
    """Make the table of one mat; of starts and ends that stops bind it has no column."""
    alike: dict[tuple[str, str], list[CutLine]] = {}
    for line in marks.cut_lines:
        start = _from(mats, line.from_start) if line.cut.start_to_mark else ""
        end = _from(mats, line.from_end) if line.cut.end_to_mark else ""
        if start or end:
            alike.setdefault((start, end), []).append(line)
    shown = [column for column in (0, 1) if any(key[column] for key in alike)]
    said = " and ".join(_ENDS[column] for column in shown)
    rows = tuple(
        (edges_in_words(line.cut for line in lines), *(key[column] or "stop" for column in shown))
        for key, lines in alike.items()
    )
    return Table(
        title=f"{mats.name(marks).capitalize()}: cuts {said}{mats.in_units}",
        heads=("cut", *(_ENDS[column] for column in shown)),
        rows=rows,
    )


def _from(mats: LyingMats, mark: Mark) -> str:
    """Say from where a mark is measured: "68.5 from top"; a cut that begins beyond the board says so."""
    if mark.distance < ZERO:
        return f"{mats.mark(-mark.distance)} past {mark.edge.value}"
    return f"{mats.mark(mark.distance)} from {mark.edge.value}"
