"""Dimension chains of several windows: borders, windows and gaps, equal ones said once.

Owns which spans stand beside the measured view for the windows of the top mat. Windows that stand
in no rows get their outer borders alone: where each of them lies is for the plan of the mat.
"""

from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.canvas import union
from app.drawings.canvas.shading import Side
from app.drawings.dimensioning.rows import Lane, Span
from app.drawings.dimensioning.ruler import Ruler
from app.drawings.piece.layout import DrawingLayout, HolePlace
from app.framing import Dimensions
from app.framing.arrangement import split_in_rows
from app.framing.openings import arrangement_of, openings_of
from app.lengths import ZERO, Length

type Row = tuple[HolePlace, ...]
"""Windows, each with its title slot behind it where it has one."""


def window_lanes(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> tuple[Lane, ...]:
    """Return the chains of one side; none where the opposite side says the same.

    Above: the first row; below: the last one that differs from it. At the left: all rows.
    """
    rows = _rows(cut, layout)
    if not rows:
        return (_around(cut, layout, ruler),) if ruler.side in (Side.TOP, Side.LEFT) else ()
    match ruler.side:
        case Side.TOP:
            return (_chain(cut, layout, ruler, _windows(rows[0])),)
        case Side.BOTTOM:
            other = [row for row in rows if _places(row) != _places(rows[0])]
            return (_chain(cut, layout, ruler, _windows(other[-1])),) if other else ()
        case Side.LEFT:
            return (_chain(cut, layout, ruler, _down(rows)),)
        case Side.RIGHT:
            return ()


def _rows(cut: Dimensions, layout: DrawingLayout) -> tuple[Row, ...]:
    """Return the windows of each row; none where they were placed one by one."""
    openings = openings_of(cut.spec)
    if any(opening.at for opening in openings):
        return ()
    indices = split_in_rows(range(len(openings)), arrangement_of(cut.spec).rows)
    holes = layout.mats[0].holes
    return tuple(tuple(hole for hole in holes if hole.opening in row) for row in indices)


def _windows(row: Row) -> Row:
    return tuple(hole for hole in row if not hole.slot)


def _places(row: Row) -> tuple[tuple[Length, Length], ...]:
    return tuple((hole.sizes.x, hole.sizes.size.width) for hole in _windows(row))


def _down(rows: tuple[Row, ...]) -> Row:
    """From each row the window that reaches furthest down, with its title slot; then the taller."""
    holes: list[HolePlace] = []
    for row in rows:
        lowest = max(row, key=lambda hole: (_end(hole), hole.sizes.size.height))
        holes.extend(hole for hole in row if hole.opening == lowest.opening)
    return tuple(holes)


def _end(hole: HolePlace) -> Length:
    return hole.sizes.y + hole.sizes.size.height


class _Chain:
    """Spans that follow one another from edge to edge, a repeated figure said once."""

    def __init__(self, cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> None:
        edges = layout.mats[0].edges
        self.ruler, self.spans = ruler, list[Span]()
        self.whole = cut.package.width if ruler.across else cut.package.height
        self.origin = edges.x if ruler.across else edges.y
        self.at, self.said = ZERO, set[tuple[bool, Length]]()

    def go(self, to: Length, inside: Box, name: str = "", *, always: bool = False) -> None:
        """A span as far as a place; of one kind with equal ones: windows have names, gaps none."""
        ends = (self.origin + coordinate(self.at), self.origin + coordinate(to))
        length, kind = to - self.at, (bool(name), to - self.at)
        if kind in self.said and not always:
            self.spans.append(self.ruler.blank(ends, inside))
        else:
            self.spans.append(self.ruler.span(name, length, ends, inside))
        if not always:
            self.said.add(kind)
        self.at = to

    def finish(self, inside: Box) -> Lane:
        """Return the last border, then the whole chain."""
        self.go(self.whole, inside, always=True)
        return tuple(self.spans)


def _chain(cut: Dimensions, layout: DrawingLayout, ruler: Ruler, holes: Row) -> Lane:
    """Border, windows and gaps, border."""
    chain = _Chain(cut, layout, ruler)
    for number, hole in enumerate(holes):
        sizes, box = hole.sizes, hole.window.box
        start = sizes.x if ruler.across else sizes.y
        chain.go(start, box, always=not number)
        length = sizes.size.width if ruler.across else sizes.size.height
        chain.go(start + length, box, "slot" if hole.slot else hole.name)
    return chain.finish(holes[-1].window.box)


def _around(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Lane:
    """Return the borders, and between them all windows as one."""
    borders = cut.layers[0].borders
    first, last = (borders.left, borders.right) if ruler.across else (borders.top, borders.bottom)
    box = union(hole.window.box for hole in layout.mats[0].holes)
    chain = _Chain(cut, layout, ruler)
    chain.go(first, box, always=True)
    chain.go(chain.whole - last, box, "all windows")
    return chain.finish(box)
