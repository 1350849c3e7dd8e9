"""Where on its pages each part of a ticket stands, and how large it is set: as large as the paper allows, both columns filled.

Owns the choice. Heights are foreseen (`room`), so that a ticket is set once; where foresight was wrong it is set again
with more room to spare, and what no columns hold flows over as many pages as it takes.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from app.documents.ticket.head_room import HeadAndFoot, head_of
from app.documents.ticket.levels import LEVELS, SEVERAL_PAGES, SMALL, Level
from app.documents.ticket.page import TicketPage
from app.documents.ticket.plan_canvas import BESIDE
from app.documents.ticket.room import Measure, free_of_picture, widths_of
from app.documents.ticket.setting import Section, Setting, Subject, TicketSheet
from app.lengths import Length, Size
from app.orders import Paper

ROOM = {Paper.A4: (188.0, 281.0), Paper.LETTER: (193.9, 263.4), Paper.A5: (135.2, 198.0)}
"""Inside the margins, mm."""

_BETWEEN_COLUMNS = 6.0
_BETWEEN_ON_A5 = 3.6

_SPARES = (1.3, 5.0, 14.0)
"""What is left free at the foot of a column, as foresight is not exact, mm; more in a second and third try."""

_MOST_FRONT, _MOST_PLAN = 110.0, 84.0
_IN_HEAD = 19.5
"""The height of the front drawing in the head, mm."""

_CAPTION = 21.0
"""The width of the words that stand in a window, about, mm."""

_MOST_ABOVE = 9.0
"""What stands free above a heading at most, in a column that is not full, mm."""

_BROKEN = 14.0
"""A subject that goes on in the next column is as bad as so much less height of drawings, mm. Source: ours."""

_ORDERS = (
    (Subject.FRONT, Subject.FIRST, Subject.CUT, Subject.CHECK, Subject.BACK, Subject.TABLES, Subject.GUIDE, Subject.WORK),
    (Subject.FRONT, Subject.FIRST, Subject.CUT, Subject.BACK, Subject.TABLES, Subject.GUIDE, Subject.CHECK, Subject.WORK),
    (Subject.FIRST, Subject.CUT, Subject.FRONT, Subject.BACK, Subject.TABLES, Subject.GUIDE, Subject.CHECK, Subject.WORK),
    (Subject.FIRST, Subject.CUT, Subject.CHECK, Subject.FRONT, Subject.BACK, Subject.TABLES, Subject.GUIDE, Subject.WORK),
)  # fmt: skip
"""In which orders subjects may follow one another down the columns. What is put together always comes last, when all is cut."""

_DENSELY = (
    *_ORDERS[:2],
    (Subject.FIRST, Subject.CUT, Subject.BACK, Subject.CHECK, Subject.TABLES, Subject.GUIDE, Subject.WORK),
)  # fmt: skip
"""The same where the piece is drawn in the head and columns have no room to spare."""

_BY_PAGE = _ORDERS[:2]
"""The same where there is more than one page."""

_DRAWN = frozenset({Subject.FRONT, Subject.BACK})


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What is drawn: the size of the piece from the front, and of each mat, with the width of its only window; None of several."""

    front: Size
    mats: Sequence[Size]
    openings: Sequence[Length | None]


def settings_for(page: TicketPage, drawn: Drawn, paper: Paper) -> Iterator[Setting]:
    """Yield the settings to try: the roomiest that is foreseen to fit the fewest pages, then the same with more to spare,
    last those that flow.
    """
    given: list[Setting] = []
    for setting in _settings_for(page, drawn, paper):
        if setting not in given:
            given.append(setting)
            yield setting


def _settings_for(page: TicketPage, drawn: Drawn, paper: Paper) -> Iterator[Setting]:
    for spare in _SPARES:
        found = _foreseen(page, drawn, paper, spare)
        if found is not None:
            yield found
    for level in (LEVELS[4], LEVELS[-2], LEVELS[-1]):
        yield _flowing(page, drawn, paper, level)


def _flowing(page: TicketPage, drawn: Drawn, paper: Paper, level: Level) -> Setting:
    """Set a ticket in one column that is broken where pages end."""
    wide = ROOM[paper][0]
    widths = widths_of(page, level, wide)
    measure = Measure(page, level, widths)
    beside = min(len(drawn.mats), 3) or 1
    counts = {subject: len(parts) for subject, parts in measure.parts().items()}
    counts |= {Subject.FRONT: 1, Subject.BACK: min(len(drawn.mats), 1)}
    return Setting(
        level=level,
        widths=widths,
        sheets=(
            TicketSheet(
                left=tuple(
                    Section(subject=subject, start=0, stop=counts[subject])
                    for subject in _ORDERS[0]
                    if counts[subject]
                )
            ),
        ),
        tall=measure.tall(),
        stops_under=measure.stops_under,
        front=45.0,
        plan=(wide / beside - 2, 60.0),
        beside=beside,
        flows=True,
        low=paper is Paper.A5,
    )


def _foreseen(page: TicketPage, drawn: Drawn, paper: Paper, spare: float) -> Setting | None:
    if found := _roomiest(page, drawn, paper, spare):
        return found
    tries = [_Try.of(page, drawn, paper, level, spare) for level in SEVERAL_PAGES]
    several = [found for each in tries if (found := each.on_pages()) is not None]
    return min(several, key=lambda setting: setting.pages, default=None)


def _roomiest(page: TicketPage, drawn: Drawn, paper: Paper, spare: float) -> Setting | None:
    """Return the setting of the roomiest level that fits one page; None where none does.

    What fits at a level fits at those that are tighter, so that few levels are tried.
    """
    levels = SMALL if paper is Paper.A5 else LEVELS
    found: dict[int, Setting | None] = {}

    def fits(at: int) -> bool:
        found[at] = _Try.of(page, drawn, paper, levels[at], spare).on_one_page()
        return found[at] is not None

    return found.get(bisect_left(range(len(levels)), True, key=fits))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A part in its place in the order. height: without the heading; least, most: of what grows."""

    subject: Subject
    index: int
    height: float
    least: float = 0.0
    most: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    """Pieces in a column, and what is left of its room."""

    pieces: Sequence[_Piece]
    left: float
    again: bool

    @property
    def grown(self) -> Mapping[Subject, float]:
        """The heights of its drawings: as much as there is, in equal measure up to the most."""
        drawings = {each.subject: each for each in self.pieces if each.subject in _DRAWN}
        free = self.left
        whole = sum(each.most - each.least for each in drawings.values())
        share = min(1.0, free / whole) if whole else 0.0
        return {
            subject: each.least + (each.most - each.least) * share
            for subject, each in drawings.items()
        }

    @property
    def blank(self) -> float:
        """What is left free when drawings are as large as they may be, mm."""
        used = sum(self.grown.values()) - sum(each.least for each in self.pieces)
        return self.left - used


@dataclass(frozen=True, slots=True)
class _Try:
    """A ticket at one level on one paper."""

    page: TicketPage
    drawn: Drawn
    level: Level
    measure: Measure
    head: HeadAndFoot
    parts: Mapping[Subject, tuple[float, ...]]
    headings: Mapping[Subject, float]
    high: float
    low: bool
    beside: int

    @classmethod
    def of(cls, page: TicketPage, drawn: Drawn, paper: Paper, level: Level, spare: float) -> "_Try":
        wide, high = ROOM[paper]
        low = paper is Paper.A5
        between = _BETWEEN_ON_A5 if low else _BETWEEN_COLUMNS
        column = round((wide - between) / 2, 2)
        widths = widths_of(page, level, column)
        measure = Measure(page, level, widths)
        mats = len(drawn.mats)
        return cls(
            page=page,
            drawn=drawn,
            level=level,
            measure=measure,
            head=head_of(page, measure, wide, low=low),
            parts=measure.parts(),
            headings={subject: measure.heading(subject) for subject in Subject},
            high=high - spare,
            low=low,
            beside=2 if mats > 2 or (low and mats > 1) else 1,
        )

    def on_one_page(self) -> Setting | None:
        """Return the ticket on one page, None where it does not fit."""
        room = self.high - self.head.first - self.head.foot
        orders = _DENSELY if self.level.dense else _ORDERS
        return self._set([best] if (best := self._best(orders, set(Subject), room)) else [])

    def on_pages(self) -> Setting | None:
        """Return the ticket on as few pages as can be, each of whole subjects; None where one does not fit a page."""
        found = [pages for order in _BY_PAGE if (pages := self._by_page(order))]
        return self._set(min(found, key=len, default=[]))

    def _by_page(self, order: Sequence[Subject]) -> list[tuple[_Column, _Column]]:
        """Fill pages one after the other with as many subjects as each takes."""
        pages: list[tuple[_Column, _Column]] = []
        rest = [subject for subject in order if self._pieces(subject)]
        while rest:
            room = self.high - self.head.foot - (self.head.following if pages else self.head.first)
            for count in range(len(rest), 0, -1):
                best = self._best([rest[:count]], set(rest[:count]), room)
                if best is not None:
                    pages.append(best)
                    rest = rest[count:]
                    break
            else:
                return []
        return pages

    def _best(
        self, orders: Sequence[Sequence[Subject]], among: set[Subject], room: float
    ) -> tuple[_Column, _Column] | None:
        """Return the two columns with the largest drawings and the least that is blank."""
        found: dict[float, tuple[_Column, _Column]] = {}
        known = {subject: self._pieces(subject) for subject in among}
        for order in orders:
            pieces = [each for subject in order if subject in known for each in known[subject]]
            for columns in self._split(pieces, room):
                found.setdefault(self._worth(columns), columns)
        return found[max(found)] if found else None

    def _split(self, pieces: Sequence[_Piece], room: float) -> Iterator[tuple[_Column, _Column]]:
        """Yield the ways to break the pieces into two columns that fit."""
        takes = [self._takes(pieces, at) for at in range(len(pieces))]
        whole = sum(takes)
        before = 0.0
        for at in range(1, len(pieces) + 1):
            before += takes[at - 1]
            if before > room:
                return
            again = at < len(pieces) and pieces[at].subject is pieces[at - 1].subject
            if again and not _may_go_on(pieces[at]):
                continue
            behind = whole - before + (self.headings[pieces[at].subject] if again else 0.0)
            if behind <= room:
                yield (
                    _Column(pieces=pieces[:at], left=room - before, again=False),
                    _Column(pieces=pieces[at:], left=room - behind, again=again),
                )

    def _takes(self, pieces: Sequence[_Piece], at: int) -> float:
        piece = pieces[at]
        begins = at == 0 or pieces[at - 1].subject is not piece.subject
        return piece.height + piece.least + (self.headings[piece.subject] if begins else 0.0)

    def _worth(self, columns: tuple[_Column, _Column]) -> float:
        drawings = sum(sum(column.grown.values()) for column in columns)
        blank = [column.blank for column in columns]
        return drawings - max(blank) - 0.3 * sum(blank) - _BROKEN * columns[1].again

    def _pieces(self, subject: Subject) -> list[_Piece]:
        if subject is Subject.FRONT:
            return [] if self.level.dense else [self._front()]
        if subject is Subject.BACK:
            return [self._back()] if self.drawn.mats else []
        return [
            _Piece(subject=subject, index=index, height=height)
            for index, height in enumerate(self.parts[subject])
        ]

    def _front(self) -> _Piece:
        most = min(_MOST_FRONT, self.measure.widths.column / _ratio(self.drawn.front))
        least = min(self.level.front, most)
        return _Piece(
            subject=Subject.FRONT, index=0, height=free_of_picture(0), least=least, most=most
        )

    def _back(self) -> _Piece:
        """Foresee the drawings of the mats: one under the other, or in rows of as many as stand beside each other."""
        rows = ceil(len(self.drawn.mats) / self.beside)
        wide = self._plan_wide
        tallest = max((wide - 2 * BESIDE) / _ratio(mat) + 2 * BESIDE for mat in self.drawn.mats)
        most = min(tallest, _MOST_PLAN)
        least = min(self.level.plan, most)
        captions = rows * self.level.small_line if self._captioned_below(wide) else 0.0
        return _Piece(
            subject=Subject.BACK,
            index=0,
            height=rows * free_of_picture(0) + captions,
            least=rows * least,
            most=rows * most,
        )

    def _captioned_below(self, wide: float) -> bool:
        """Tell whether a mat has a line under its drawing, as its only window, or one of several, has no room for it."""
        drawn = self.drawn
        return any(
            opening is None
            or float(opening / mat.width) * (min(wide, self.level.plan * _ratio(mat)) - 2 * BESIDE)
            < _CAPTION
            for mat, opening in zip(drawn.mats, drawn.openings, strict=True)
        )

    @property
    def _plan_wide(self) -> float:
        return self.measure.widths.column / self.beside - (1.0 if self.beside > 1 else 0.0)

    def _set(self, pages: Sequence[tuple[_Column, _Column]]) -> Setting | None:
        if not pages:
            return None
        columns = [column for page in pages for column in page]
        grown = {subject: high for column in columns for subject, high in column.grown.items()}
        rows = max(1, ceil(len(self.drawn.mats) / self.beside))
        return Setting(
            level=self.level,
            widths=self.measure.widths,
            tall=self.measure.tall(),
            stops_under=self.measure.stops_under,
            sheets=tuple(
                TicketSheet(left=_sections(left), right=_sections(right)) for left, right in pages
            ),
            front=int(grown.get(Subject.FRONT, _IN_HEAD) * 10) / 10,
            plan=(round(self._plan_wide, 1), int(grown.get(Subject.BACK, 0.0) / rows * 10) / 10),
            beside=self.beside,
            low=self.low,
        )


def _may_go_on(piece: _Piece) -> bool:
    """Tell whether a subject may go on with a part in the next column; what is read before the guide's rows stays with one."""
    return not (piece.subject is Subject.GUIDE and piece.index == 1)


def _sections(column: _Column) -> tuple[Section, ...]:
    """Return a column's parts under their headings, what is left blank shared among these."""
    groups = [list(group) for _, group in groupby(column.pieces, key=lambda each: each.subject)]
    above = min(_MOST_ABOVE, column.blank / max(len(groups) - 1, 1))
    sections = [
        Section(
            subject=group[0].subject,
            start=group[0].index,
            stop=group[-1].index + 1,
            above=round(above, 1) if number else 0.0,
            again=column.again and number == 0,
        )
        for number, group in enumerate(groups)
    ]
    return tuple(sections)


def _ratio(size: Size) -> float:
    return float(size.width / size.height)
