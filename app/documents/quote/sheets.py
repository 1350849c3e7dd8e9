"""How a quote is set on its sheets: which pieces hang on which, how large, in what letters.

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
from app.documents.quote.heights import Heights
from app.documents.quote.letters import NARROW_LETTERS, WIDE_LETTERS, Letters
from app.documents.quote.page import QuotedPiece, QuotePaper, QuoteSheet
from app.documents.quote.room import ON_HALF_A_SHEET, ROOMS, QuoteRoom
from app.documents.quote.wall import band_of, field_of, hung, row_of, scale_of_row
from app.orders import Paper

_LOWER = (0.0, 4.0, 11.0)
"""By how much walls are lower than foreseen, one after the other, until all fits, mm. Source: ours, measured."""

_NEARLY = 0.8
"""Words that are read name by name are worth so much of the height that is wanted for the picture of one piece. Source: ours."""

_MOST_WALL = 0.54
"""Of the height of a page: a picture that takes more than half leaves no room for words. Source: ours."""

_IN_A_ROW = 0.55
"""The least height that designs beside each other need of what one piece alone does. Source: ours."""

_SHARES = {1: 1.0, 2: 0.8, 3: 0.72}
"""The same of so many pieces in a row."""

_LEAST_OF_SEVERAL = 40.0
"""The least height of the wall of several pieces in a row, mm: with less each had better have a sheet of its own. Source: ours."""

_MUCH_SMALLER = 0.6
"""Rows are hung to the smallest scale of any if each is then at least so large beside what its wall allows. Source: ours."""

_LEAST_STRIP = 24.0
"""The least height of a row of designs, mm. Source: ours."""

LONGEST_TEXT = 260
"""So many characters of one text fit where all else is folded already. Source: ours."""


def settings_for(page: QuotePaper, paper: Paper) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to set a quote on a paper, from the roomiest that may fit to the tightest."""
    room = ROOMS[paper]
    levels = NARROW_LETTERS if paper is Paper.A5 else WIDE_LETTERS
    if not page.pieces:
        yield (QuoteSheet(first=True, last=True, classes=levels[0].classes),)
        return
    if len(page.pieces) == 1 and page.pieces[0].compared is None:
        yield from _of_one(page, room, levels)
    most = 1 if len(page.pieces) == 1 else (2 if paper is Paper.A5 else 3)
    for across in range(most, 0, -1):
        for each in levels:
            if each.folded and across > 1:
                continue
            setting = _Setting(page, room, each)
            sheets = setting.sheets(across)
            if sheets:
                yield from (setting.sheets(across, lower=lower) for lower in _LOWER)
    tightest = replace(page, pieces=tuple(map(_shortened, page.pieces)))
    for lower in _LOWER:
        yield _Setting(tightest, room, levels[-1]).sheets(1, lower=lower, at_any_height=True)


def _of_one(
    page: QuotePaper, room: QuoteRoom, levels: Sequence[Letters]
) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to set one piece: the roomiest that leaves its picture the height that is wanted, then the tightest.

    On half a sheet the picture goes before the lines of its price.
    """
    pages = [page]
    if room is ON_HALF_A_SHEET and not page.pieces[0].totals_only:
        pages.append(replace(page, pieces=(replace(page.pieces[0], totals_only=True),)))
    settings = [_Setting(each, room, letters) for each in pages for letters in levels]
    open_ = [each for each in settings if not each.letters.folded]
    folded = settings[-1:] if room is ON_HALF_A_SHEET else []
    high = [each for each in open_ if each.height() >= room.wanted]
    high += [each for each in reversed(open_) if each.height() >= _NEARLY * room.wanted]
    high += [each for each in folded if each.height() >= room.wanted]
    low = [each for each in (*folded, *reversed(open_)) if each.height() >= each.letters.least_wall]
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
    """A quote in letters of some size on one paper."""

    page: QuotePaper
    room: QuoteRoom
    letters: Letters

    @property
    def heights(self) -> Heights:
        """What foresees how high its parts are."""
        return Heights(self.page, self.room, self.letters)

    def height(self) -> float:
        """Foresee how much height is left for the picture of one piece alone, mm."""
        return self.heights.left_for_wall(self.page.pieces, first=True, last=True)

    def sheets(
        self, across: int, *, lower: float = 0, at_any_height: bool = False
    ) -> tuple[QuoteSheet, ...]:
        """Return the sheets with so many pieces on each at most; none where a wall would be too low.

        lower: by how much a wall is lower than foreseen, mm.
        """
        rows = tuple(self._rows(across))
        made: list[QuoteSheet] = []
        for number, pieces in enumerate(rows):
            first, last = number == 0, number == len(rows) - 1
            wall = self.heights.left_for_wall(pieces, first=first, last=last)
            least = self._least(pieces)
            if wall < least and not at_any_height:
                return ()
            parted = wall < least and pieces[0].compared is not None
            if parted:
                wall = self.heights.left_for_wall(pieces, first=first, last=last, parted=True)
            sheet = self._sheet(pieces, max(wall - lower, 15), first=first, last=last)
            made.append(replace(sheet, parted=parted))
            if parted:
                made.append(replace(sheet, first=False, last=last, rest=True))
        return self._to_one_scale(made)

    def _to_one_scale(self, sheets: Sequence[QuoteSheet]) -> tuple[QuoteSheet, ...]:
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

    @property
    def _beside_names(self) -> float:
        """What designs have of the width of the wall: each hangs above what is said of it."""
        return self.room.wide - self.room.names

    def _least(self, pieces: Sequence[QuotedPiece]) -> float:
        """Return how high the wall of these is at least, mm."""
        if pieces[0].compared:
            return max(self.letters.least_wall * _IN_A_ROW, _LEAST_STRIP) * self._strips(pieces[0])
        least = self.letters.least_wall * _SHARES[len(pieces)]
        return least if len(pieces) == 1 else max(least, _LEAST_OF_SEVERAL)

    def _strips(self, piece: QuotedPiece) -> int:
        """Return how many rows the designs of a piece stand in."""
        assert piece.compared is not None
        return ceil(len(piece.compared.designs) / self.page.across)

    def _sheet(
        self, pieces: tuple[QuotedPiece, ...], wall: float, *, first: bool, last: bool
    ) -> QuoteSheet:
        high = min(wall, _MOST_WALL * self.room.first)
        wide = self.heights.column(len(pieces))
        shown = _shown(pieces)
        compared = pieces[0].compared
        if compared is not None:
            high = max(_LEAST_STRIP, high / self._strips(pieces[0]))
        strips = compared.strips(self.page.across) if compared else ()
        rows = [[each.front for each in strip.designs] for strip in strips]
        high = field_of(rows, self._beside_names, high) if rows else high
        return QuoteSheet(
            pieces=tuple(replace(each, numbered=len(self.page.pieces) > 1) for each in pieces),
            first=first,
            last=last,
            classes=self.letters.classes,
            folded=self.letters.folded,
            wall=round(high, 1),
            wide=wide,
            hung=hung(shown, wide, high),
            strips=tuple(
                (strip, hung(row, self._beside_names / len(row), high))
                for strip, row in zip(strips, rows, strict=True)
            ),
        )
