"""How much height each part of a ticket takes in a column, at a level: foreseen from what it says and the faces.

A part is what is never broken: a group of the cut list, a row at the guide, a check, a step.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from app.documents.kit.faces import BOLD, POINT_MM, SANS, SERIF, Face
from app.documents.kit.printing import kept
from app.documents.ticket.cut_list import CutGroup, CutRow
from app.documents.ticket.guide_work import BetweenStops, GuideRow
from app.documents.ticket.levels import CLEAR, UNDER_NAME, Level
from app.documents.ticket.mat_plans import Table
from app.documents.ticket.page import TicketPage
from app.documents.ticket.setting import Subject, Widths
from app.documents.ticket.work import Todo, Words

RULE = 0.15
"""The rule under a row, mm."""

_LEAST_LABEL = 23
"""The least width that words keep beside sizes, mm; with less the sizes stand under them."""

_NARROW = 80.0
"""A column under this width leaves less free before a figure, mm."""

_FREE_OF_PICTURE = 1.2

_TITLE = 10.0
"""The letters of the title of a small table, points."""

_TITLE_LINE = _TITLE * POINT_MM * 1.2
_ABOVE_TITLE = 1.0


def widths_of(page: TicketPage, level: Level, column: float) -> Widths:
    """Measure what stands side by side."""
    rows = [row for part in page.cuts for row in part.group.rows]
    sizes = max(
        (BOLD.width(row.figure.text, level.figure) for row in rows if row.short is None), default=0
    )
    rail = max(
        (
            BOLD.width(f" {figure.text}", level.rail) + SANS.width(figure.check, level.small)
            for row in rows
            if row.short
            for figure in (row.figure, row.short)
        ),
        default=0,
    )
    stands = [row.stand for row in page.guide.rows if row.stand] if page.guide else []
    setting = max(
        (
            BOLD.width(f" {each.at}", level.figure) + SANS.width(each.check, level.small)
            for each in stands
        ),
        default=0,
    )
    return Widths(
        column=column,
        sizes=round(sizes + (4.0 if column > _NARROW else 2.2), 2),
        rail=round(rail + 2.2, 2),
        sizes_under=column - sizes < _LEAST_LABEL,
        rails_under=column - 2 * rail < _LEAST_LABEL + 4,
        setting=round(setting + 0.6, 2),
    )


@dataclass(frozen=True)
class Measure:
    """Foresees heights in the columns of one level."""

    page: TicketPage
    level: Level
    widths: Widths

    def parts(self) -> Mapping[Subject, tuple[float, ...]]:
        """Return the heights of the parts under each heading, without the heading; those of drawings are none."""
        page = self.page
        every = {
            Subject.FIRST: [self._todo(each) for each in page.first],
            Subject.CUT: list(self._cuts()),
            Subject.CHECK: list(self._checks()),
            Subject.TABLES: [self._table(each) for each in page.tables],
            Subject.GUIDE: list(self._guide()),
            Subject.WORK: [self._todo(each) for each in page.work],
        }
        return {subject: tuple(heights) for subject, heights in every.items()}

    def words(self, said: Words, wide: float | None = None) -> float:
        """Return the height of notices and cautions."""
        level, wide = self.level, wide or self.widths.column
        remarks = sum(
            SANS.lines(kept(f"{each.head} {each.text}"), level.small, wide - 3)
            for each in said.remarks
        )
        cautions = sum(SANS.lines(each, level.small, wide) for each in said.cautions)
        return (remarks + cautions) * level.small_line + 0.6 * len(said.remarks)

    def _words_across(self, said: Words) -> float:
        """Return the height of words across the column, and of what is free between them and the box below."""
        high = self.words(said)
        return high + CLEAR if high else 0.0

    def heading(self, subject: Subject) -> float:
        """Return the height of a heading with what stands beside its name."""
        level, page = self.level, self.page
        title, more = page.headings(dense=level.dense)[subject]
        first = SERIF.width(f"{title} ", level.title)
        lines = SANS.lines(more, level.aside, self.widths.column, first=first) if more else 1
        return level.heading + (lines - 1) * level.title_line

    def _line(self, text: str, wide: float, *, face: Face = SANS, first: float = 0.0) -> int:
        return face.lines(kept(text), self.level.text, wide, first=first)

    def _todo(self, todo: Todo) -> float:
        level, wide = self.level, self.widths.column - self.level.hang
        text, words = todo.text, todo.words
        if level.dense:
            text, words = todo.run_on, replace(words, cautions=())
        lines = self._line(text, wide)
        return lines * level.line + level.between + self.words(words, wide)

    def _checks(self) -> Iterator[float]:
        checks = self.page.checks
        if not self.level.dense:
            yield from (self._check(f"{each.name} ", each.said) for each in checks)
            return
        # One paragraph, whose lines each has its share of; their names are wider.
        said = [f"{each.name} {each.said}  " for each in checks]
        lines = self._line("".join(said), self.widths.column - 2)
        for text in said:
            yield (lines + 0.5) * self.level.line * len(text) / len("".join(said))

    def _check(self, name: str, said: str) -> float:
        level = self.level
        lines = self._line(said, self.widths.column - 3, first=BOLD.width(name, level.text) - 3)
        return lines * level.line + level.between

    def _cuts(self) -> Iterator[float]:
        rails = False
        for number, part in enumerate(self.page.cuts):
            group = part.group
            high = self._arm() if number == 0 else 0.0
            if group.headed(dense=self.level.dense):
                high += self._group(f"{group.name} {group.times} {group.said}")
            if group.rails and not rails:
                high += self.level.small_line
            high += sum(self._row(place, group) for place in range(len(group.rows)))
            rails = group.rails
            yield high + self._words_across(part.words)

    def _arm(self) -> float:
        rows = self.page.arm
        if not rows:
            return 0.0
        level, name = self.level, "Stop on the squaring arm "
        words: list[float] = []
        for row in rows:
            # The figure does not leave its first word.
            following = [SANS.width(word, level.text) for word in f"{row.what} ·".split()]
            words += [BOLD.width(f"{row.at} ", level.mark) + following[0], *following[1:]]
        first = BOLD.width(name, level.text)
        return _lines_of(words, self.widths.column, self._blank, first=first) * level.mark_line + 1

    def _group(self, text: str) -> float:
        level = self.level
        return (
            SANS.lines(kept(text), level.text, self.widths.column - 1) * level.line
            + level.above / 3
            + UNDER_NAME
        )

    def tall(self) -> frozenset[str]:
        """Return the rows whose words have not one line beside their figures, as "cuts.2.0" and "guide.3"."""
        rows = self.page.guide.rows if self.page.guide else ()
        under = self.stops_under
        return frozenset(
            (
                *(
                    f"{Subject.CUT}.{number}.{place}"
                    for number, part in enumerate(self.page.cuts)
                    for place, row in enumerate(part.group.rows)
                    if self._under(row) or self._words_of(place, part.group) > 1
                ),
                *(
                    f"{Subject.GUIDE}.{number}"
                    for number, row in enumerate(rows)
                    if row.stand and self._words_at(row, under=under) > 1
                ),
            )
        )

    def _words_of(self, place: int, group: CutGroup) -> int:
        """Foresee the lines of the words of a row."""
        row = group.rows[place]
        label = row.label if group.headed(dense=self.level.dense) else group.label(place)
        if row.short:
            return self._line(label, self.widths.rail_label - self.level.hang)
        check = row.check(dense=self.level.dense)
        return self._line(f"{label} {check}", self.widths.label - self.level.hang)

    def _row(self, place: int, group: CutGroup) -> float:
        row = group.rows[place]
        words = self._words_of(place, group) * self.level.line
        row_high = words + self.level.row if self._under(row) else max(words, self.level.row)
        return row_high + RULE

    def _under(self, row: CutRow) -> bool:
        """Tell whether figures stand under their words."""
        return self.widths.rails_under if row.short else self.widths.sizes_under

    def _guide(self) -> Iterator[float]:
        guide = self.page.guide
        if guide is None:
            return
        loud = SANS.lines(guide.loud, 11.5, self.widths.column - 4) * 4.9 + 1.2 if guide.loud else 0
        yield loud + self._words_across(self.page.at_cutter) + 0.4
        under = self.stops_under
        for row in guide.rows:
            yield (self._set(row, under=under) if row.stand else self._step(row.text)) + RULE

    def _step(self, text: str) -> float:
        return (
            self._line(text, self.widths.column - self.level.hang) * self.level.line
            + self.level.between
        )

    @cached_property
    def stops_under(self) -> bool:
        """Tell whether stops stand under their settings: where they have no room beside them, or take less height so."""
        rows = [row for row in (self.page.guide.rows if self.page.guide else ()) if row.stops]
        widest = max((wide for row in rows for wide in self._stop_words(row)), default=0.0)
        if widest > self._beside_setting:
            return True
        under, beside = (sum(self._set(row, under=so) for row in rows) for so in (True, False))
        return under < beside

    @cached_property
    def _blank(self) -> float:
        return SANS.width(" ", self.level.text)

    @property
    def _beside_setting(self) -> float:
        """The width of words beside a setting."""
        return self.widths.column - self.widths.beside_setting(self.level)

    def _stop_words(self, row: GuideRow) -> Iterator[float]:
        """Yield the widths of the words about stops that stay whole; a figure does not leave its word."""
        return self._words_of_stops(row.stops, "· stops :")

    def _words_of_stops(self, stops: Iterable[BetweenStops], beside: str) -> Iterator[float]:
        """Yield the same of some stops. beside: what stands around a figure, as widely as it may."""
        level = self.level
        for each in stops:
            for at in each.where.split(" "):
                yield SANS.width(beside, level.text) + BOLD.width(at, level.mark)
            for word in each.edges.split():
                yield SANS.width(word, level.text)

    def _set(self, row: GuideRow, *, under: bool) -> float:
        level, lines = self.level, self._words_at(row, under=under)
        if not row.stops:
            return max(lines * level.line, level.row)
        if not under:
            return max(lines * level.mark_line, level.row)
        wide = self.widths.column - level.hang
        stops = sum(
            _lines_of(
                self._words_of_stops(line, "· :" if len(line) > 1 else ":"), wide, self._blank
            )
            for line in row.stop_lines
        )
        return max(lines * level.line, level.row) + stops * level.mark_line

    def _words_at(self, row: GuideRow, *, under: bool) -> int:
        """Foresee the lines of the words beside a setting."""
        wide = self._beside_setting
        pin = f"{row.stand.pin} " if row.stand and row.stand.pin else ""
        said = f"{pin}{row.mat} {row.text}"
        if under or not row.stops:
            return self._line(said, wide)
        words = [SANS.width(word, self.level.text + 0.3) for word in kept(said).split(" ")]
        return _lines_of((*words, *self._stop_words(row)), wide, self._blank)

    def _table(self, table: Table) -> float:
        level = self.level
        wide = [self.widths.column * share / 100 - 1.5 for share in table.shares]
        heads = max(
            SANS.lines(head, level.small, room)
            for head, room in zip(table.heads, wide, strict=True)
        )
        # Its letters do not get smaller, as those of its figures do not.
        high = heads * level.small_line + 0.4
        if table.title:
            high += BOLD.lines(table.said, _TITLE, self.widths.column) * _TITLE_LINE + _ABOVE_TITLE
        for row in table.rows:
            name = SANS.lines(kept(row[0]), level.small, wide[0]) * level.small_line
            marks = max(
                SANS.lines(kept(cell), level.listed, room) * level.listed_line
                for cell, room in zip(row[1:], wide[1:], strict=True)
            )
            high += max(name, marks) + RULE
        return high


def _lines_of(words: Iterable[float], wide: float, blank: float, *, first: float = 0.0) -> int:
    """Return how many lines words of some widths take; first: what is taken of the first one; all in mm."""
    lines, at = 1, first
    for word in words:
        if at and at + word > wide:
            lines, at = lines + 1, 0.0
        at += word + blank
    return lines


def free_of_picture(height: float) -> float:
    """Return the room that a drawing of a height takes."""
    return height + _FREE_OF_PICTURE
