"""How a quote is set on its sheets: which pieces hang on which, how large, in what letters.

Each sheet has its pictures on a wall and beneath them what is said of them; the last one has the total and the
signature, so that neither ever stands on a page of its own. Heights are foreseen from what is said, and the wall
gets the rest; only the finished page shows whether it fits, so there are several settings, from the roomiest to the
tightest. Where words take more than the picture can give way to, type goes down to 9 pt, then the words run on in one
paragraph.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import batched
from math import ceil

from app.documents.kit.pictures import FrontPicture
from app.documents.quote.comparison import ComparedDesign, Comparison
from app.documents.quote.heights import Heights
from app.documents.quote.letters import NARROW_LETTERS, WIDE_LETTERS, Letters
from app.documents.quote.page import HungStrip, QuotedPiece, QuotePaper, QuoteSheet
from app.documents.quote.room import ON_HALF_A_SHEET, ROOMS, QuoteRoom
from app.documents.quote.wall import band_of, field_of, hung, hung_in_rows, row_of, scale_of_row
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

_NEARLY_AS_LARGE = 0.9
"""Larger letters are worth so much of the height that pictures of designs could have. Source: ours."""

_MOST_ACROSS, _LEAST_IN_ROWS = 4, 4
"""So many designs stand beside each other at most; fewer than so many are not parted into rows. Source: ours."""

LONGEST_TEXT = 260
"""So many characters of one text fit where all else is folded already. Source: ours."""


def settings_for(page: QuotePaper, paper: Paper) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to set a quote on a paper, from the roomiest that may fit to the tightest."""
    room = ROOMS[paper]
    levels = NARROW_LETTERS if paper is Paper.A5 else WIDE_LETTERS
    if not page.pieces:
        yield (QuoteSheet(first=True, last=True, classes=levels[0].classes),)
        return
    if len(page.pieces) == 1:
        of_one = _of_one if page.pieces[0].compared is None else _of_choice
        yield from of_one(page, room, levels)
    yield from _of_several(page, room, levels)
    for each in levels if page.choosing else ():
        sheets = _Setting(page, room, each).sheets(1, parting=True)
        if sheets:
            yield sheets
    tightest = replace(page, pieces=tuple(map(_shortened, page.pieces)))
    last = _Setting(tightest, room, levels[-1])
    for lower in _LOWER:
        yield last.sheets(1, lower=lower, parting=True, at_any_height=True)


def _of_several(
    page: QuotePaper, room: QuoteRoom, levels: Sequence[Letters]
) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to set pieces beside each other, from as many on a sheet as are still seen well to one on each."""
    most = 1 if len(page.pieces) == 1 else (2 if room is ON_HALF_A_SHEET else 3)
    for across in range(most, 0, -1):
        for folded in (False, True):
            for each in levels:
                if each.folded is not folded or (each.folded and across > 1):
                    continue
                setting = _Setting(page, room, each)
                if setting.sheets(across):
                    yield from (setting.sheets(across, lower=lower) for lower in _LOWER)
            if across == 1 and not folded and page.choosing:
                yield from _shared_out(page, room, levels)


def _shared_out(
    page: QuotePaper, room: QuoteRoom, levels: Sequence[Letters]
) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to share out designs that are too many for a row on several sheets, the fewest of them: in the roomiest
    letters that leave their pictures nearly as large as any do.
    """
    settings = [_Setting(page, room, letters) for letters in levels if not letters.folded]
    found = {n: its for n, each in enumerate(settings) if (its := each.sheets(1, sharing=True))}
    fewest = min(map(len, found.values()), default=0)
    sizes = {n: _least_size(its) for n, its in found.items() if len(its) == fewest}
    for number in _largest_first(sizes):
        for lower in _LOWER:
            yield settings[number].sheets(1, lower=lower, sharing=True)


def _largest_first(sizes: Mapping[int, float]) -> list[int]:
    """Return settings by the sizes of their pictures; of those that are nearly as large as any the roomiest first."""
    nearly = _NEARLY_AS_LARGE * max(sizes.values(), default=0)
    return sorted(sizes, key=lambda number: -min(sizes[number], nearly))


def _of_choice(
    page: QuotePaper, room: QuoteRoom, levels: Sequence[Letters]
) -> Iterator[tuple[QuoteSheet, ...]]:
    """Yield the ways to set the designs of one piece on one sheet: in the roomiest letters that leave their pictures nearly as
    large as any do, then the larger pictures before the smaller ones.
    """
    settings = [_Setting(page, room, letters) for letters in levels if not letters.folded]
    sizes = {n: _least_size(its) for n, each in enumerate(settings) if (its := each.sheets(1))}
    for number in _largest_first(sizes):
        yield from (settings[number].sheets(1, lower=lower) for lower in _LOWER)


def _least_size(sheets: Sequence[QuoteSheet]) -> float:
    """Return how high the smallest picture of designs is, mm."""
    return min(at.high for sheet in sheets for _, hung_ in sheet.strips for at in hung_)


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
        self,
        across: int,
        *,
        lower: float = 0,
        parting: bool = False,
        sharing: bool = False,
        at_any_height: bool = False,
    ) -> tuple[QuoteSheet, ...]:
        """Return the sheets with so many pieces on each at most; none where a wall would be too low.

        lower: by how much a wall is lower than foreseen, mm. parting: whether a sheet of designs may be parted; sharing:
        whether designs may be shared out on several.
        """
        rows = tuple(self._rows(across))
        made: list[QuoteSheet] = []
        for number, pieces in enumerate(rows):
            first, last = number == 0, number == len(rows) - 1
            blank = QuoteSheet(
                pieces=tuple(replace(each, numbered=len(self.page.pieces) > 1) for each in pieces),
                first=first,
                last=last,
                classes=self.letters.classes,
                folded=self.letters.folded,
                wide=self.heights.column(len(pieces)),
            )
            sheet = self._hung_on(blank, lower)
            if sheet is None and sharing and pieces[0].compared:
                shared = self._shared_out(blank, pieces[0].compared, lower)
                if not shared:
                    return ()
                made += shared
                continue
            if sheet is None and parting and pieces[0].compared:
                sheet = self._hung_on(replace(blank, last=False, parted=True), lower)
            if sheet is None and at_any_height:
                sheet = self._hung_on(blank, lower, at_any_height=True)
            if sheet is None:
                return ()
            made.append(sheet)
            if sheet.parted:
                made.append(replace(blank, first=False, rest=True))
        return self._to_one_scale(made)

    def _shared_out(
        self, sheet: QuoteSheet, compared: Comparison, lower: float
    ) -> tuple[QuoteSheet, ...]:
        """Share out the designs of a piece on as few sheets as leave them large enough; none where they are no more than a
        row holds. lower: as of `sheets`.
        """
        count = len(compared.designs)
        for parts in range(2, count if count > _MOST_ACROSS else 0):
            blanks = [
                replace(
                    sheet,
                    first=sheet.first and part == 1,
                    last=sheet.last and part == parts,
                    part=part,
                    parts=parts,
                )
                for part in range(1, parts + 1)
            ]
            ways = self._hangings(
                compared.shared_out(parts),
                [self._left_for_designs(each) - lower for each in blanks],
                compared,
            )
            made = [
                tuple(
                    replace(blank, wall=wall, strips=strips)
                    for blank, strips in zip(blanks, shared, strict=True)
                )
                for wall, shared in ways
            ]
            if made:
                return max(made, key=_least_size)
        return ()

    def _left_for_designs(self, sheet: QuoteSheet) -> float:
        """Return what is left for the walls and tables of designs on a sheet, mm."""
        left = self.heights.left_for_wall(sheet.pieces, first=sheet.first, last=sheet.last)
        return left - (self.heights.alike(sheet.pieces[0]) if sheet.ends_designs else 0)

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

    def _hung_on(
        self, sheet: QuoteSheet, lower: float, *, at_any_height: bool = False
    ) -> QuoteSheet | None:
        """Hang pictures on the wall of a sheet that has none yet; none where it would be too low. lower: as of `sheets`."""
        pieces = sheet.pieces
        compared = pieces[0].compared
        if compared is not None:
            left = [self._left_for_designs(sheet) - lower]
            hanging = [
                replace(sheet, wall=wall, strips=strips)
                for wall, (strips,) in self._hangings(
                    (compared.designs,), left, compared, at_any_height=at_any_height
                )
            ]
            return max(hanging, key=lambda each: _least_size((each,)), default=None)
        left_for_wall = self.heights.left_for_wall(pieces, first=sheet.first, last=sheet.last)
        least = self.letters.least_wall * _SHARES[len(pieces)]
        least = least if len(pieces) == 1 else max(least, _LEAST_OF_SEVERAL)
        if left_for_wall < least and not at_any_height:
            return None
        wall = self._no_higher(max(left_for_wall - lower, 15))
        return replace(sheet, wall=round(wall, 1), hung=hung(_shown(pieces), sheet.wide, wall))

    def _no_higher(self, wall: float) -> float:
        return min(wall, _MOST_WALL * self.room.first)

    def _hangings(
        self,
        shared: Sequence[Sequence[ComparedDesign]],
        left: Sequence[float],
        compared: Comparison,
        *,
        at_any_height: bool = False,
    ) -> Iterator[tuple[float, tuple[tuple[HungStrip, ...], ...]]]:
        """Yield how high walls are and what hangs on them where the designs of each sheet stand in rows, from few rows to many.

        left: for the walls and tables of all rows of each sheet, mm. at_any_height: whether the fewest rows are taken as
        they come.
        """
        count = max(map(len, shared))
        rows_of_two = ceil(count / 2) if count >= _LEAST_IN_ROWS else 1
        ways = {ceil(count / rows) for rows in range(1, rows_of_two + 1)}
        least = max(self.letters.least_wall * _IN_A_ROW, _LEAST_STRIP)
        for across in sorted((each for each in ways if each <= _MOST_ACROSS), reverse=True):
            strips = [compared.strips(across, designs) for designs in shared]
            wall = min(
                (its - sum(map(self.heights.strip, on_sheet))) / len(on_sheet)
                for its, on_sheet in zip(left, strips, strict=True)
            )
            if wall < least and not at_any_height:
                continue
            wide = self._beside_names / across
            rows = [
                [each.front for each in strip.designs] for on_sheet in strips for strip in on_sheet
            ]
            high = field_of(rows, wide, self._no_higher(max(wall, _LEAST_STRIP)))
            hangs = iter(hung_in_rows(rows, wide, high))
            yield (
                high,
                tuple(tuple((strip, next(hangs)) for strip in on_sheet) for on_sheet in strips),
            )
            if at_any_height:
                return
