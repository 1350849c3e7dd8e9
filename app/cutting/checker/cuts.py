"""The cuts of one sheet made over again, one by one: which pieces they free, and by how many stages (C2).

Owns the pieces of a sheet being cut and nothing else; what they should be is for `checker_sheets`.
"""

from bisect import bisect_right, insort
from collections import defaultdict
from dataclasses import dataclass, replace

from app.cutting.plan import SheetCut, Way
from app.cutting.problem import SheetProblem
from app.lengths import ZERO, Length, Size, say

type Corners = tuple[Length, Length, Length, Length]
"""Left, top, right, bottom from the left-top corner of the sheet."""


class WrongCutError(Exception):
    """A cut that cannot be made as it is given; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A piece of the sheet. depth: how often the direction changed up to its last cut, way.

    beyond: which cut first went one stage beyond those allowed, to trim; pieces of one such cut
    share it.
    """

    corners: Corners
    depth: int = 0
    way: Way | None = None
    beyond: int | None = None

    def span(self, way: Way) -> tuple[Length, Length]:
        """From where to where a cut of a direction divides it: top and bottom for one across."""
        left, top, right, bottom = self.corners
        return (top, bottom) if way is Way.ACROSS else (left, right)

    def between(self, way: Way, begin: Length, end: Length) -> "CutPiece":
        """Return what lies between two cuts of a direction."""
        left, top, right, bottom = self.corners
        if way is Way.ACROSS:
            return replace(self, corners=(left, begin, right, end))
        return replace(self, corners=(begin, top, end, bottom))


class Pieces:
    """What a sheet is in while it is cut, from the whole sheet on.

    Raises where a cut is made: WrongCutError for one that does not cross exactly one piece from edge to
    edge, that goes beyond the stages, or that names another stage than it is.
    """

    def __init__(self, asked: SheetProblem, sheet: Size) -> None:
        self._asked, self._sheet = asked, sheet
        self._rows: dict[Way, defaultdict[tuple[Length, Length], list[Length]]]
        self._rows = {way: defaultdict(list) for way in Way}
        self._at: dict[tuple[Length, Length], CutPiece] = {}
        self._made = 0
        self._put(CutPiece(corners=(ZERO, ZERO, sheet.width, sheet.height)))

    def left(self) -> dict[Corners, CutPiece]:
        """Return the pieces that are there now."""
        return {piece.corners: piece for piece in self._at.values()}

    def cut(self, cut: SheetCut) -> None:
        """Make one cut. Raises: WrongCutError; the pieces are then as before."""
        self._made += 1
        piece = self._crossed(cut)
        if cut.stage == 0:
            kept = self._trimmed(piece, cut)
            self._take(piece)
            self._put(kept)
            return
        cuts = self._staged(piece, cut)
        begin, end = piece.span(cut.way)
        self._take(piece)
        if begin < cut.at:
            self._put(cuts.between(cut.way, begin, cut.at))
        if cut.at + self._asked.kerf < end:
            self._put(cuts.between(cut.way, cut.at + self._asked.kerf, end))

    def _crossed(self, cut: SheetCut) -> CutPiece:
        """Return the one piece that a cut crosses from edge to edge."""
        at = max(cut.at, ZERO) if cut.stage == 0 else cut.at
        row = self._rows[cut.way].get((cut.start, cut.end), [])
        index = bisect_right(row, at) - 1
        if index >= 0:
            piece = self._at[_corner(cut.way, cut.start, row[index])]
            begin, end = piece.span(cut.way)
            if at < end and (begin < at or self._asked.kerf or cut.stage == 0):
                return piece
        raise WrongCutError(f"{self.named(cut)} does not cross one piece from edge to edge.")

    def _trimmed(self, piece: CutPiece, cut: SheetCut) -> CutPiece:
        """Return the piece without the edge of the sheet that a cut of stage 0 takes off."""
        begin, end = piece.span(cut.way)
        width, height = self._sheet.width, self._sheet.height
        whole, trim = (height if cut.way is Way.ACROSS else width), self._asked.trim
        first = trim - self._asked.kerf  # a blade thicker than the trim hangs over the edge
        if trim and begin == ZERO and cut.at in (first, max(first, ZERO)) and trim < end:
            return piece.between(cut.way, trim, end)
        if trim and end == whole and cut.at == whole - trim:
            return piece.between(cut.way, begin, cut.at)
        raise WrongCutError(
            f"{self.named(cut)} is said to trim an edge, but takes off no trim of "
            f"{say(trim, self._asked.unit)}."
        )

    def _staged(self, piece: CutPiece, cut: SheetCut) -> CutPiece:
        """Return the piece as those that come of it stand in the stages."""
        depth = piece.depth + (piece.way is not cut.way)
        if cut.stage != depth:
            raise WrongCutError(f"{self.named(cut)} is of stage {depth}.")
        stages, beyond = self._asked.stages, piece.beyond
        if stages is not None and depth > stages:
            if depth > stages + 1:
                raise WrongCutError(
                    f"{self.named(cut)} is {depth - stages} stages beyond the {stages} allowed."
                )
            beyond = self._made if beyond is None else beyond
        return replace(piece, depth=depth, way=cut.way, beyond=beyond)

    def _put(self, piece: CutPiece) -> None:
        left, top, right, bottom = piece.corners
        self._at[left, top] = piece
        insort(self._rows[Way.ACROSS][left, right], top)
        insort(self._rows[Way.DOWN][top, bottom], left)

    def _take(self, piece: CutPiece) -> None:
        left, top, right, bottom = piece.corners
        del self._at[left, top]
        self._rows[Way.ACROSS][left, right].remove(top)
        self._rows[Way.DOWN][top, bottom].remove(left)

    def named(self, cut: SheetCut) -> str:
        """Return a cut as messages name it."""
        at, start, end = (say(each, self._asked.unit) for each in (cut.at, cut.start, cut.end))
        given = f"stage {cut.stage}, {cut.way} at {at} from {start} to {end}"
        return f"Cut {self._made} ({given})"


def _corner(way: Way, start: Length, begin: Length) -> tuple[Length, Length]:
    """Return the left-top corner of a piece from where a cut starts on it and where its span begins."""
    return (start, begin) if way is Way.ACROSS else (begin, start)
