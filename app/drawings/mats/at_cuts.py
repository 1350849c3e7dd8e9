"""What stands at a cut itself: the number of its setting on a disc, and its distance where there is room.

Beside the line of the cut, inside its window, where one looks when the guide is set for it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from app.bench import CutLine, Edge
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, Pencil, lettering
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.svg import Markup
from app.drawings.canvas.symbols import Sign, SymbolKind
from app.drawings.mats.marked import MarkedMat, spot

_AWAY, _NEAR, _AFTER = 0.65, 0.3, 0.15
"""Letter heights between the line of a cut and what stands beside it: past the head of its arrow, past its
dot; and between a disc and its figure."""

_NUMBER = 0.85
"""How large a number alone is; a figure is 1."""

_HIGH = 1.3
"""How high a disc is, in letter heights."""

_APART = 0.1
"""Letter heights that are left free around what stands at a cut."""

_INWARDS = {Edge.LEFT: (1, 0), Edge.RIGHT: (-1, 0), Edge.TOP: (0, 1), Edge.BOTTOM: (0, -1)}
"""To the right and down, from an edge into its window."""


@dataclass(frozen=True, slots=True)
class AtCut:
    """A sign with its figure, "" for the number alone, in its place. font: of its letters."""

    box: Box
    sign: Sign
    figure: str
    font: float

    def drawn(self) -> Markup:
        """Return the disc and the figure after it."""
        font, room = self.font, self.sign.room * self.font
        y = self.box.centre[1]
        disc = self.sign.drawn((self.box.x + room / 2, y), font, turned=False)
        if not self.figure:
            return disc
        at = (self.box.x + room + font * _AFTER, y + font * 0.35)
        return Markup(disc + lettering(self.figure, at, font, anchor="start", fill=INK))


def with_figures(mat: MarkedMat, font: float) -> tuple[AtCut, ...]:
    """Return number and distance at the middle of every cut of a mat with one window; empty where not all find room."""
    return _all_or_none(mat, font, [_beside(mat, one, font) for one in _in_order(mat)])


def with_numbers(mat: MarkedMat, font: float, taken: Iterable[Box]) -> tuple[AtCut, ...]:
    """Return the numbers alone, where each cut begins; empty where not all find room.

    For mats whose distances stand at the ends of the lines. taken: what stands in the windows already.
    """
    places = [_at_start(mat, one, font * _NUMBER) for one in _in_order(mat)]
    return _all_or_none(mat, font, places, tuple(taken))


def written(places: Sequence[AtCut]) -> Markup:
    """Return what stands at cuts as it is drawn."""
    return Pencil.MEASURE.draws(*(place.drawn() for place in places))


def _in_order(mat: MarkedMat) -> list[CutLine]:
    """Return the cuts by the edge that they are measured from: left, top, right, bottom."""
    edges = tuple(Edge)
    return sorted(mat.marks.cut_lines, key=lambda one: edges.index(one.cut.edge_as_it_lies))


def _all_or_none(
    mat: MarkedMat, font: float, places: Sequence[AtCut], taken: tuple[Box, ...] = ()
) -> tuple[AtCut, ...]:
    crosses = [
        Box(0, 0, font, font).moved(x - font / 2, y - font / 2)
        for lying in mat.windows
        if lying.middle is not None
        for x, y in [spot(lying.middle)]
    ]
    rooms = [lying.outline.box for lying in mat.windows]
    found = [place.box.inset(-font * _APART) for place in places]
    blocked = [*crosses, *taken]
    free = all(
        any(_within(box, room) for room in rooms)
        and not any(_meet(box, other) for other in (*blocked, *found[:index]))
        for index, box in enumerate(found)
    )
    return tuple(places) if free else ()


def _beside(mat: MarkedMat, one: CutLine, font: float) -> AtCut:
    """Return number and distance beside the middle of a cut."""
    sign, figure = _sign(mat, one), mat.scale.text(one.cut.distance)
    width, height = font * (sign.room + _AFTER) + width_of(figure, font), font * _HIGH
    (x1, y1), (x2, y2) = spot(one.begins), spot(one.ends)
    right, down = _INWARDS[one.cut.edge_as_it_lies]
    x = (x1 + x2) / 2 + right * (font * _AWAY + width / 2)
    y = (y1 + y2) / 2 + down * (font * _AWAY + height / 2)
    return AtCut(Box(x - width / 2, y - height / 2, width, height), sign, figure, font)


def _at_start(mat: MarkedMat, one: CutLine, font: float) -> AtCut:
    """Return the number in the corner where a cut begins: each corner of a window has one."""
    sign = _sign(mat, one)
    width, height = font * sign.room, font * _HIGH
    (x1, y1), (x2, y2) = spot(one.begins), spot(one.ends)
    long = abs(x2 - x1) + abs(y2 - y1)
    on_x, on_y = (x2 - x1) / long, (y2 - y1) / long
    right, down = _INWARDS[one.cut.edge_as_it_lies]
    x = x1 + (right + on_x) * (font * _NEAR + width / 2)
    y = y1 + (down + on_y) * (font * _NEAR + height / 2)
    return AtCut(Box(x - width / 2, y - height / 2, width, height), sign, "", font)


def _sign(mat: MarkedMat, one: CutLine) -> Sign:
    return Sign(kind=SymbolKind.SETTING, text=mat.number_of[one.cut])


def _within(box: Box, room: Box) -> bool:
    return (
        room.x <= box.x
        and box.right <= room.right
        and room.y <= box.y
        and box.bottom <= room.bottom
    )


def _meet(one: Box, other: Box) -> bool:
    return (
        one.x < other.right
        and other.x < one.right
        and one.y < other.bottom
        and other.y < one.bottom
    )
