"""How a quote is set on its sheets: which pieces hang on which, how large, in what type.

Each sheet has its pictures on a wall and beneath them what is said of them; the last one has the total and the
signature, so that neither ever stands on a page of its own. Heights are foreseen from what is said, and the wall
gets the rest; only the finished page shows whether it fits, so there are several settings, from the roomiest to the
tightest. Where words take more than the picture can give way to, type goes down to 9 pt, then the words run on in one
paragraph.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import batched
from math import ceil

from app.documents.kit.pictures import FrontPicture
from app.documents.quote.page import QuotedPiece, QuotePaper, Sheet
from app.documents.quote.wall import band_of, field_of, hung, row_of, scale_of_row
from app.drawings.canvas.lettering import lines_of, width_of
from app.orders import Paper


@dataclass(frozen=True, slots=True)
class _Room:
    """A paper inside its margins, mm. first, next_: how high the first page and any other is.

    The rest is as the style sheets have it: wall: above it; title: around the name and the line of one piece, points of
    the name; name: of the shop, heading: of the paper; total: a line of it, balance: of a second one; closing, signing:
    above and in them. wanted: how high the wall of one piece is to be, 45 % of a whole sheet and 27 % of half a one.
    names: how wide those of what differs between designs are.
    """

    wide: float
    first: float
    next_: float
    wall: float = 3
    title: float = 6.8
    points: float = 17
    name: float = 8.5
    heading: float = 7.3
    beneath: float = 6.5
    total: float = 11
    balance: float = 8.2
    closing: float = 3
    signing: float = 10.1
    wanted: float = 0
    names: float = 22


_A5 = _Room(
    128,
    191,
    184,
    wanted=57,
    names=18,
    wall=3,
    title=4.3,
    points=13,
    name=6.8,
    heading=6.7,
    beneath=4.5,
    total=8.9,
    balance=7,
    closing=2,
    signing=9.1,
)

_ROOMS = {
    Paper.A4: _Room(174, 271, 262, wanted=134),
    Paper.LETTER: _Room(179.9, 253.4, 244.4, wanted=126),
    Paper.A5: _A5,
}

_MM = 0.3528
"""Of a point."""

_OUR_FACE = 0.79
"""How wide our face runs beside the one that widths are foreseen by. Source: measured on papers of the sample shop."""

_LOGO = 18.5
"""How high a logo is at most with what is under it, mm; as in the style sheet."""

_SPARE = {True: -1.5, False: 2.5}
"""What is left free, mm, by whether there is one piece; less than nothing, as more is foreseen than words take on most
quotes. Source: ours, measured.
"""

_LOWER = (0.0, 4.0, 11.0)
"""By how much walls are lower than foreseen, one after the other, until all fits, mm. Source: ours, measured."""

_BETWEEN = 5.0
"""Between two columns, mm."""


@dataclass(frozen=True, slots=True)
class _Type:
    """A size of type. classes: of the style sheet. points: of the text; small: of what is said beside it."""

    classes: str
    points: float
    small: float
    least_wall: float
    folded: bool = False
    leading: float = 1.3

    @property
    def line(self) -> float:
        """How high a line is, mm."""
        return self.points * _MM * self.leading

    @property
    def note(self) -> float:
        """How high a line of what is said beside is, mm."""
        return self.small * _MM * 1.25

    def lines(self, text: str, wide: float, points: float = 0) -> int:
        """Foresee how many lines a text takes."""
        font = (points or self.points) * _MM * _OUR_FACE
        return sum(max(1, ceil(width_of(each, font) / wide)) for each in lines_of(text, font, wide))


_TYPES = {
    False: (
        _Type("roomy", 10.5, 9.5, 88),
        _Type("snug", 9.8, 9.2, 70),
        _Type("tight", 9.1, 9, 55),
        _Type("tight folded", 9.1, 9, 30, folded=True),
    ),
    True: (
        _Type("narrow", 9.3, 9, 52, leading=1.25),
        _Type("narrow tight", 9, 9, 34, leading=1.25),
        _Type("narrow tight folded", 9, 9, 18, leading=1.25, folded=True),
    ),
}
"""By whether the paper is narrow, from the roomiest."""

_MOST_WALL = 0.54
"""Of the height of a page: a picture that takes more than half leaves no room for words. Source: ours."""

_IN_A_ROW = 0.55
"""The least height that designs beside each other need of what one piece alone does. Source: ours."""

_SHARES = {1: 1.0, 2: 0.8, 3: 0.72}
"""The same of so many pieces in a row."""

_MUCH_SMALLER = 0.6
"""Rows are hung to the smallest scale of any if each is then at least so large beside what its wall allows. Source: ours."""

_LEAST_STRIP = 24.0
"""The least height of a row of designs, mm. Source: ours."""

LONGEST_TEXT = 260
"""So many characters of one text fit where all else is folded already. Source: ours."""


def settings_for(page: QuotePaper, paper: Paper) -> Iterator[tuple[Sheet, ...]]:
    """Yield the ways to set a quote on a paper, from the roomiest that may fit to the tightest."""
    room, types = _ROOMS[paper], _TYPES[paper is Paper.A5]
    if not page.pieces:
        yield (Sheet(first=True, last=True, classes=types[0].classes),)
        return
    if len(page.pieces) == 1 and page.pieces[0].compared is None:
        yield from _of_one(page, room, types)
    most = 1 if len(page.pieces) == 1 else (2 if paper is Paper.A5 else 3)
    for across in range(most, 0, -1):
        for each in types:
            if each.folded and across > 1:
                continue
            setting = _Setting(page, room, each)
            sheets = setting.sheets(across)
            if sheets:
                yield from (setting.sheets(across, lower=lower) for lower in _LOWER)
    tightest = replace(page, pieces=tuple(map(_shortened, page.pieces)))
    for lower in _LOWER:
        yield _Setting(tightest, room, types[-1]).sheets(1, lower=lower, at_any_height=True)


def _of_one(page: QuotePaper, room: _Room, types: Sequence[_Type]) -> Iterator[tuple[Sheet, ...]]:
    """Yield the ways to set one piece: the roomiest that leaves its picture the height that is wanted, then the tightest.

    On half a sheet the picture goes before the lines of its price.
    """
    pages = [page]
    if room is _A5 and not page.pieces[0].totals_only:
        pages.append(replace(page, pieces=(replace(page.pieces[0], totals_only=True),)))
    settings = [_Setting(each, room, type_) for each in pages for type_ in types]
    open_ = [each for each in settings if not each.type_.folded]
    settings = [*open_, *(each for each in settings[-1:] if room is _A5)]
    high = [each for each in settings if each.height() >= room.wanted]
    low = [each for each in reversed(settings) if each.height() >= each.type_.least_wall]
    for setting in (*high, *low):
        yield from (setting.sheets(1, lower=lower, at_any_height=True) for lower in _LOWER)


def _shown(pieces: Sequence[QuotedPiece]) -> list[FrontPicture]:
    return [each.front for each in pieces if each.front is not None]


def _shortened(piece: QuotedPiece) -> QuotedPiece:
    """Return a piece of which the longest texts are broken off, and of the prices only the total is said; all of it
    stands with the order.
    """
    return replace(
        piece,
        totals_only=True,
        details=tuple(
            replace(each, text=f"{each.text[:LONGEST_TEXT].rstrip()} …")
            if len(each.text) > LONGEST_TEXT
            else each
            for each in piece.details
        ),
    )


@dataclass(frozen=True, slots=True)
class _Setting:
    """A quote in one type on one paper."""

    page: QuotePaper
    room: _Room
    type_: _Type

    def height(self) -> float:
        """Foresee how much height is left for the picture of one piece alone, mm."""
        return self._wall(self.page.pieces, first=True, last=True)

    def sheets(
        self, across: int, *, lower: float = 0, at_any_height: bool = False
    ) -> tuple[Sheet, ...]:
        """Return the sheets with so many pieces on each at most; none where a wall would be too low.

        lower: by how much a wall is lower than foreseen, mm.
        """
        rows = tuple(self._rows(across))
        made: list[Sheet] = []
        for number, pieces in enumerate(rows):
            first, last = number == 0, number == len(rows) - 1
            wall = self._wall(pieces, first=first, last=last)
            least = self._least(pieces)
            if wall < least and not at_any_height:
                return ()
            parted = wall < least and pieces[0].compared is not None
            if parted:
                wall = self._wall(pieces, first=first, last=last, parted=True)
            sheet = self._sheet(pieces, max(wall - lower, 15), first=first, last=last)
            made.append(replace(sheet, parted=parted))
            if parted:
                made.append(replace(sheet, first=False, last=last, rest=True))
        return self._to_one_scale(made)

    def _to_one_scale(self, sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
        """Hang the rows of several pieces anew: all to one scale, where that leaves none much smaller than its wall allows."""
        wide = self.room.wide
        own = {
            number: scale_of_row(_shown(sheet.pieces), wide, sheet.wall)
            for number, sheet in enumerate(sheets)
            if len(sheet.pieces) > 1
        }
        common = min(own.values(), default=0)
        made = list(sheets)
        for number, largest in own.items():
            sheet, shown = sheets[number], _shown(sheets[number].pieces)
            scale = common if common >= _MUCH_SMALLER * largest else largest
            wall = round(band_of(shown, scale, sheet.wall), 1)
            made[number] = replace(sheet, wall=wall, hung=row_of(shown, wide, wall, scale))
        return tuple(made)

    def _rows(self, across: int) -> Iterator[tuple[QuotedPiece, ...]]:
        """Yield the pieces of each sheet, as even as they come; one of which a design is to be taken is alone."""
        together: list[QuotedPiece] = []
        for piece in (*self.page.pieces, None):
            if piece is not None and piece.compared is None:
                together.append(piece)
                continue
            if together:
                sheets = ceil(len(together) / across)
                yield from batched(together, ceil(len(together) / sheets))
                together = []
            if piece is not None:
                yield (piece,)

    def _least(self, pieces: Sequence[QuotedPiece]) -> float:
        """Return how high the wall of these is at least, mm."""
        if pieces[0].compared:
            return max(self.type_.least_wall * _IN_A_ROW, _LEAST_STRIP) * self._strips(pieces[0])
        return self.type_.least_wall * _SHARES[len(pieces)]

    def _strips(self, piece: QuotedPiece) -> int:
        """Return how many rows the designs of a piece stand in."""
        assert piece.compared is not None
        return ceil(len(piece.compared.designs) / self.page.across)

    def _sheet(
        self, pieces: tuple[QuotedPiece, ...], wall: float, *, first: bool, last: bool
    ) -> Sheet:
        high = min(wall, _MOST_WALL * self.room.first)
        wide = self._column(len(pieces))
        shown = _shown(pieces)
        compared = pieces[0].compared
        if compared is not None:
            high = max(_LEAST_STRIP, high / self._strips(pieces[0]))
        strips = compared.strips(self.page.across) if compared else ()
        rows = [[each.front for each in strip.designs] for strip in strips]
        high = field_of(rows, self.room.wide, high) if rows else high
        return Sheet(
            pieces=tuple(replace(each, numbered=len(self.page.pieces) > 1) for each in pieces),
            first=first,
            last=last,
            classes=self.type_.classes,
            folded=self.type_.folded,
            wall=round(high, 1),
            wide=wide,
            hung=hung(shown, wide, high),
            strips=tuple(
                (strip, hung(row, self.room.wide / len(row), high))
                for strip, row in zip(strips, rows, strict=True)
            ),
        )

    def _column(self, count: int) -> float:
        """Return how wide a column is, rounded down, so that all stand beside each other."""
        return int((self.room.wide - _BETWEEN * (count - 1)) / count * 10) / 10

    def _wall(
        self, pieces: Sequence[QuotedPiece], *, first: bool, last: bool, parted: bool = False
    ) -> float:
        """Foresee how much height is left for pictures. parted: as on a `Sheet`."""
        left = self.room.first if first else self.room.next_
        left -= _SPARE[len(self.page.pieces) == 1] + self.room.wall
        left -= self._head() if first else 0
        left -= self._closing(alone=self.page.alone, parted=parted) if last else 0
        piece = pieces[0]
        if piece.compared is not None:
            return left - self._choice(piece, parted=parted)
        if len(pieces) > 1:
            return left - max(self._card(each, self._column(len(pieces))) for each in pieces)
        return left - self._alone(piece, last=last)

    def _head(self) -> float:
        """Foresee head, party and warning."""
        page, type_, room = self.page, self.type_, self.room
        under = " · ".join(page.shop_lines)
        shop = (_LOGO if page.logo else room.name) + type_.note * type_.lines(
            under, room.wide * 0.62, type_.small
        )
        facts = room.heading + type_.note * len(page.dates)
        party = " ".join(("For", page.customer, *page.customer_lines))
        lines = type_.lines(party, room.wide * 0.97)
        warning = 5.9 + type_.line if page.warning else 0
        return max(shop, facts) + room.beneath + type_.line * lines + warning

    def _closing(self, *, alone: bool, parted: bool = False) -> float:
        """Foresee what stands at the foot of the last sheet. alone: where the total stands beside what is said."""
        page, type_, room = self.page, self.type_, self.room
        if not page.sums:
            return 0
        beside_total = not page.to_sign and (not alone or type_.folded)
        print_ = () if parted or beside_total else page.small_print
        small = sum(type_.lines(each, room.wide, type_.small) for each in print_)
        accepted = " ".join(("I accept this quote.", *page.terms)) if alone else ""
        accepting = max(1, type_.lines(accepted, room.wide)) * type_.line
        signing = room.signing + accepting + type_.note if page.to_sign else 0
        sold = 13 + (type_.line + 1.75) * (1 + len(page.lines)) if page.lines else 0
        beside = 0.0
        if not alone or type_.folded:
            priced = len(page.pieces[0].shown) * (type_.line + 1.55) if alone else 0
            said = page.small_print if beside_total else () if alone else page.terms
            beside = max(priced + self._total(), self._said(said, 0.42 if type_.folded else 0.45))
        return room.closing + small * type_.note + 2 + signing + sold + beside

    def _said(self, texts: Sequence[str], share: float) -> float:
        """Foresee what stands beside the total."""
        wide = self.room.wide * share
        return sum(
            self.type_.lines(each, wide, self.type_.small) * self.type_.note + 0.8 for each in texts
        )

    def _total(self) -> float:
        """Foresee the block of the total: what leads to it, itself, its taxes, what was paid."""
        wide = self.room.wide * (0.54 if self.type_.folded else 0.4 if self.page.alone else 0.43)
        rows = (*self.page.closing_sums, *self.page.payments)
        apart = " · ".join(
            f"{each.label} 1000.00{' to 1000.00' if each.most else ''}"
            for each in rows
            if each.apart
        )
        high, totals = 0.0, 0
        if apart:
            high = self.type_.note * self.type_.lines(apart, wide, self.type_.small) + 0.4
        for each in rows:
            if each.strong:
                high += self.room.balance if totals else self.room.total
                totals += 1
            elif not each.apart:
                lines = self.type_.lines(each.label, wide - (30 if each.most else 20))
                high += self.type_.line * lines + 1.55
        return high

    def _titled(self, title: str, wide: float, points: float) -> float:
        return points * _MM * 1.2 * self.type_.lines(title, wide * 0.92, points)

    def _alone(self, piece: QuotedPiece, *, last: bool) -> float:
        """Foresee what stands under the picture of one piece: title, a line, what is between, prices."""
        type_, wide = self.type_, self.room.wide
        head = self.room.title + self._titled(piece.title, wide, self.room.points)
        head += type_.line * type_.lines(piece.line, wide)
        if type_.folded:
            said = "; ".join(f"{each.name} {each.text}" for each in piece.details)
            every = " ".join((said, *piece.notes))
            rows = 0 if self.page.alone else len(piece.shown) * (type_.line + 1.55)
            return head + type_.line * type_.lines(every, wide) + rows
        left = wide * 0.56
        name = self._names(piece)
        said_ = sum(
            type_.lines(each.text, left - name) * type_.line + 0.5 for each in piece.details
        )
        priced = sum(type_.line + 1.55 for _ in piece.shown)
        if last and self.page.alone:
            priced += self._total()
        return head + max(said_, priced) + self._notes(piece.notes, wide)

    def _names(self, piece: QuotedPiece) -> float:
        """Foresee how wide the names of details are, which stay on one line, with what is left free behind them."""
        font = self.type_.points * _MM * _OUR_FACE
        return 3 + max((width_of(each.name, font) for each in piece.details), default=0)

    def _notes(self, notes: Sequence[str], wide: float) -> float:
        type_ = self.type_
        return sum(
            type_.lines(each, wide - 3, type_.small) * type_.note + 1.2 for each in notes
        ) + (1 if notes else 0)

    def _card(self, piece: QuotedPiece, wide: float) -> float:
        """Foresee one of several columns under their pictures."""
        type_ = self.type_
        high = 4 + self._titled(piece.title, wide, 12)
        high += type_.note * type_.lines(piece.line, wide, type_.small) + 2
        high += sum(
            type_.note * type_.lines(f"{each.name}  {each.text}", wide, type_.small) + 0.6
            for each in piece.details
        )
        high += self._notes(piece.notes, wide)
        return high + sum(type_.line + 1.5 for _ in piece.shown) + 3

    def _choice(self, piece: QuotedPiece, *, parted: bool = False) -> float:
        """Foresee the designs of a piece beside each other, without their pictures."""
        assert piece.compared is not None
        type_, room = self.type_, self.room
        high = room.title + self._titled(piece.title, room.wide, room.points) + type_.line
        for strip in piece.compared.strips(self.page.across):
            wide = (room.wide - room.names) / len(strip.designs) - 3
            high += 17
            high += sum(
                max(type_.lines(text, wide) for text in texts) * type_.line + 1.75
                for _, texts in strip.rows
            )
        high += len(piece.shown) * (type_.line + 1.55)
        if parted:
            return high
        advised = [f"Design {letters}: {note}" for letters, note in piece.compared.advised]
        high += self._notes(advised, room.wide)
        same = "; ".join(f"{each.name} {each.text}" for each in piece.details)
        high += type_.line * type_.lines(f"The same in all. {same}", room.wide)
        return high + self._notes(piece.notes, room.wide)
