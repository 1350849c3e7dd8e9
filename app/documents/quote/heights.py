"""How high is what a quote says, foreseen from the words and the faces, so that its pictures get what is left.

The numbers beside names of letters are those of the style sheets.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

from app.documents.kit.faces import POINT_MM, SANS, SERIF
from app.documents.kit.printing import stays_whole, unbroken
from app.documents.kit.total_lines import Sum
from app.documents.quote.comparison import Strip
from app.documents.quote.letters import Letters, title_height
from app.documents.quote.page import QuotedPiece, QuotePaper
from app.documents.quote.room import QuoteRoom
from app.documents.quote.wall import a_little_less
from app.money import show_money

BETWEEN_COLUMNS = 5.0
"""Between two pieces beside each other, mm."""

_LOGO = 18.5
"""How high a logo is at most with what is under it, mm."""

_ROW = 1.55
"""Free above and below a line of a sum, with its rule, mm."""

_BEFORE_AMOUNT = 3.0
"""Free before the amounts of sums, mm."""

_RULED = 1.75
"""The same of a line of a table, mm."""

_FREE = 3.0
"""What is left free, mm. Source: ours."""


@dataclass(frozen=True, slots=True)
class Heights:
    """Foresees heights of a quote in letters on a paper, all in mm."""

    page: QuotePaper
    room: QuoteRoom
    letters: Letters

    def column(self, count: int) -> float:
        """Return how wide one of so many pieces beside each other is."""
        return a_little_less((self.room.wide - BETWEEN_COLUMNS * (count - 1)) / count)

    def left_for_wall(self, pieces: Sequence[QuotedPiece], *, first: bool, last: bool) -> float:
        """Return what is left for pictures on a sheet with these pieces; of designs, for their tables and what they have in
        common as well. last: whether the end of the quote stands on it.
        """
        left = self.room.first if first else self.room.following
        left -= _FREE + self.room.above_wall
        left -= self._head() if first else 0
        left -= self._closing() if last else 0
        piece = pieces[0]
        if piece.compared is not None:
            return left - self._choice(piece)
        if len(pieces) > 1:
            return left - max(self._card(each, self.column(len(pieces))) for each in pieces)
        return left - self._alone(piece, last=last)

    def _head(self) -> float:
        """Foresee head, party and warning."""
        page, letters, room = self.page, self.letters, self.room
        wide = room.wide * 0.62
        shop = _LOGO if page.logo else title_height(page.shop_name, room.name, wide)
        shop += letters.note_height(
            _joined(page.shop_lines, " · ", page.shop_name if page.logo else ""), wide
        )
        heading = f"{page.heading} {page.number}"
        facts = 1.8 + title_height(heading, room.heading, room.wide * 0.36)
        facts += letters.note * len(page.dates)
        party = letters.text_height(
            _joined(page.customer_lines, ", ", f"{page.towards} {page.customer}"), room.wide * 0.99
        )
        warning = 5.9 + letters.text_height(page.warning, room.wide - 8) if page.warning else 0
        return max(shop, facts) + room.beneath_head + party + warning

    def _closing(self) -> float:
        """Foresee what stands at the foot of the last sheet."""
        page, letters, room = self.page, self.letters, self.room
        if not page.sums:
            return 0
        beneath = page.beneath_total(folded=letters.folded)
        high = room.above_closing + sum(
            2 + letters.note_height(each, room.wide) for each in beneath
        )
        if page.to_sign:
            accepted = letters.text_height(page.accepted, room.wide)
            high += room.above_signing + accepted + letters.note
        if page.lines:
            high += 13 + (letters.line + _RULED) * (1 + len(page.lines))
        if page.total_apart(folded=letters.folded):
            said_beside = page.beside_total(folded=letters.folded)
            wide = room.wide * (0.42 if letters.folded else 0.45)
            beside = sum(0.8 + letters.note_height(each, wide) for each in said_beside)
            lines = page.pieces[0].shown if page.alone else ()
            high += max(self._sums(lines, 0.54 if letters.folded else 0.43, totals=True), beside)
        return high

    def _sums(self, lines: Sequence[Sum], share: float, *, totals: bool = False) -> float:
        """Foresee a table of sums: lines of the price of a piece, then, where it has them, the total, its taxes, what was paid.

        share: of the width of the paper. Labels have what the widest amount leaves, and that is of a total.
        """
        blocks = (self.page.closing_sums, self.page.payments) if totals else ()
        wide = self.room.wide * share
        amounts = [self._amount(each, total=False) for each in lines]
        amounts += [
            self._amount(each, total=each.strong) for each in chain(*blocks) if not each.apart
        ]
        label = wide - max(amounts, default=0) - _BEFORE_AMOUNT
        high = sum(_ROW + self.letters.text_height(each.label, label) for each in lines)
        return high + sum(self._totals(each, wide, label) for each in blocks)

    def _totals(self, rows: Sequence[Sum], wide: float, label: float) -> float:
        letters, room = self.letters, self.room
        apart = " · ".join(f"{each.label} {_in_figures(each)}" for each in rows if each.apart)
        high = 0.4 + letters.note_height(apart, wide) if apart else 0.0
        before: Sum | None = None
        for each in rows:
            if each.strong:
                high += room.balance if before is not None and before.strong else room.total
                words = f"{each.label} {self.page.currency}"
                high += (SERIF.lines(words, room.label, label) - 1) * room.label * POINT_MM * 1.2
            elif not each.apart:
                high += _ROW + letters.text_height(each.label, label)
            before = each
        return high

    def _amount(self, row: Sum, *, total: bool) -> float:
        """Return how wide an amount is."""
        if not total:
            return SANS.width(_in_figures(row), self.letters.text)
        return SERIF.width(_in_figures(row), self.room.range_ if row.most else self.room.sum_)

    def _alone(self, piece: QuotedPiece, *, last: bool) -> float:
        """Foresee what stands under the picture of one piece: title, a line, what is between, prices."""
        letters, room, wide = self.letters, self.room, self.room.wide
        high = room.around_title + letters.text_height(piece.line, wide)
        high += title_height(piece.heading, room.title, wide)
        if letters.folded:
            said = " · ".join(f"{each.name} {each.text}" for each in piece.details)
            rows = 0 if self.page.alone else self._sums(piece.shown, 1)
            return high + letters.text_height(" ".join((said, *piece.notes)), wide) + rows
        names = [SANS.width(each.name, letters.text) for each in piece.details]
        text = wide * 0.56 - max(names, default=0) - 3
        between = sum(letters.text_height(each.text, text) + 0.5 for each in piece.details)
        priced = self._sums(piece.shown, 0.4, totals=last and self.page.alone)
        return high + max(between, priced) + self._remarks(piece.notes, wide)

    def _remarks(self, notes: Iterable[str], wide: float) -> float:
        return sum(1.2 + self.letters.note_height(each, wide - 3) for each in notes)

    def _card(self, piece: QuotedPiece, wide: float) -> float:
        """Foresee one of several columns under their pictures."""
        letters = self.letters
        high = 3 + title_height(piece.heading, 12, wide)
        high += letters.note_height(piece.line, wide) + 2.5
        for each in piece.details:
            high += letters.note_height(f"{each.name} {each.text}", wide) + 0.6
        amount = max(SANS.width(_in_figures(each), letters.small) for each in piece.shown)
        for row in piece.shown:
            high += _ROW + letters.note_height(row.label, wide - amount - _BEFORE_AMOUNT)
        return high + self._remarks(piece.notes, wide) + 1.5

    def _choice(self, piece: QuotedPiece) -> float:
        """Foresee what stands above and below the designs of a piece."""
        assert piece.compared is not None
        letters, room = self.letters, self.room
        title = title_height(piece.compared.heading, room.title, room.wide)
        high = room.around_title + title + letters.line
        return high + self._sums(piece.shown, 1)

    def strip(self, strip: Strip) -> float:
        """Foresee the table beneath the pictures of designs that stand in a row."""
        letters, room = self.letters, self.room
        wide = (room.wide - room.names) / strip.across - 3
        high = 17.0
        for name, texts in strip.rows:
            named = letters.text_height(name, room.names - 3)
            high += _RULED + max(named, *(letters.text_height(each, wide) for each in texts))
        return high

    def alike(self, piece: QuotedPiece) -> float:
        """Foresee what designs have in common, and what is advised."""
        assert piece.compared is not None
        letters, wide = self.letters, self.room.wide
        same = " · ".join(f"{each.name} {each.text}" for each in piece.details)
        said = f"{piece.compared.same_in}. {same}"
        high = letters.text_height(said, wide) if same else 0.0
        return high + self._remarks(piece.compared.said_of_them, wide)


def _in_figures(row: Sum) -> str:
    most = f" to {show_money(row.most)}" if row.most else ""
    return unbroken(f"{show_money(row.amount)}{most}")


def _joined(lines: Sequence[str], between: str, before: str) -> str:
    """Join the lines of an address as the head has them: none is broken but a long one."""
    whole = (unbroken(each) if stays_whole(each) else each for each in lines)
    return between.join((before, *whole) if before else whole)
