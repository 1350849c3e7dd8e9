"""Running dimensions: every place along a side measured from one corner, as a rule laid there reads.

One line of figures beside an edge, square to it, each with a thin line to what it names. Figures
keep apart; where they are dense they fan out with leaders. Source: ISO 129-1, superimposed running
dimensioning from an origin.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from app.drawings.boxes import Box
from app.drawings.lettering import width_of
from app.drawings.light import Side
from app.drawings.sheet import INK, Pencil, lettering
from app.drawings.spread import spread
from app.drawings.svg import Markup, Point, element, path

_PITCH = 1.12
"""Letter heights from one figure to the next in a row."""

_DENSE = 28
"""More figures than this stand in two rows by turns."""

_BEGIN, _FAN, _FIGURE = 0.25, 0.5, 1.3
"""Letter heights out from the edge: where a leader begins and bends, and where its figure stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A place along a side. reach: how far inside the edge the measured thing lies."""

    at: float
    text: str
    reach: float = 0.0


class Running:
    """The readings beside one edge of a rectangle, from its left or its upper corner."""

    def __init__(self, side: Side, edges: Box, readings: Iterable[Reading], font: float) -> None:
        self.side, self.edges, self.font = side, edges, font
        self.readings = sorted(readings, key=lambda reading: reading.at)
        self.rows = 2 if len(self.readings) > _DENSE else 1
        self.middles = self._spread_out()
        self.longest = max((width_of(one.text, font) for one in self.readings), default=0.0)

    def _spread_out(self) -> tuple[float, ...]:
        """Where figures stand along the edge; never before its corner, where the other side's are."""
        pitch = self.font * _PITCH / self.rows
        middles = spread([one.at for one in self.readings], [pitch] * len(self.readings))
        placed: list[float] = []
        least = self._first
        for middle in middles:
            placed.append(max(middle, least))
            least = placed[-1] + pitch
        return tuple(placed)

    @property
    def _first(self) -> float:
        return self.edges.x if self.side in (Side.TOP, Side.BOTTOM) else self.edges.y

    @property
    def depth(self) -> float:
        """How far out the figures reach."""
        return self._begins(self.rows - 1) + self.longest + self.font * 0.2 if self.readings else 0

    def at(self, along: float, out: float) -> Point:
        """A place on the drawing, along the side and out from the edge."""
        match self.side:
            case Side.TOP:
                return (along, self.edges.y - out)
            case Side.BOTTOM:
                return (along, self.edges.bottom + out)
            case Side.LEFT:
                return (self.edges.x - out, along)
            case Side.RIGHT:
                return (self.edges.right + out, along)

    def _begins(self, row: int) -> float:
        """How far out the figures of a row begin."""
        return self.font * _FIGURE + row * (self.longest + self.font * 0.5)

    @property
    def room(self) -> Box:
        """The edges with the figures beside them."""
        half = self.font * 0.55
        ends = (
            min([self._first, *(m - half for m in self.middles)]),
            max([self._first, *(m + half for m in self.middles)]),
        )
        (x1, y1), (x2, y2) = self.at(ends[0], self.depth), self.at(ends[1], 0)
        return Box.between(
            min(x1, x2, self.edges.x),
            min(y1, y2, self.edges.y),
            max(x1, x2, self.edges.right),
            max(y1, y2, self.edges.bottom),
        )

    def marks(self) -> Markup:
        """Lines inside the edge, leaders, figures, and the origin."""
        if not self.readings:
            return Markup("")
        inside = path(
            *((self.at(one.at, -one.reach), self.at(one.at, 0)) for one in self.readings),
            class_="extension",
            fill="none",
            stroke=INK,
            stroke_opacity=0.35,
            stroke_width=self.font * 0.04,
        )
        leaders = path(
            *(self._leader(one, at, row) for one, at, row in self._placed()),
            fill="none",
            stroke=INK,
            stroke_width=self.font * 0.055,
        )
        figures = (self._figure(one.text, at, row) for one, at, row in self._placed())
        return Pencil.MEASURE.draws(inside, self._origin(), leaders, *figures)

    def _placed(self) -> Iterator[tuple[Reading, float, int]]:
        """Each reading with the middle and the row of its figure."""
        for index, (one, at) in enumerate(zip(self.readings, self.middles, strict=True)):
            yield one, at, index % self.rows

    def _leader(self, reading: Reading, middle: float, row: int) -> tuple[Point, ...]:
        """Out from the edge, over to the figure, and between those of the row before it."""
        return (
            self.at(reading.at, self.font * _BEGIN * -0.6),
            self.at(reading.at, self.font * _FAN),
            self.at(middle, self.font * (_FIGURE - 0.3)),
            self.at(middle, self._begins(row) - self.font * 0.12),
        )

    def _origin(self) -> Markup:
        """A ring at the corner that is measured from, and the line that the figures stand on."""
        last = max(one.at for one in self.readings)
        x, y = self.at(self._first, self.font * _BEGIN)
        return Markup(
            element(
                "circle",
                cx=x,
                cy=y,
                r=self.font * 0.2,
                fill="none",
                stroke=INK,
                stroke_width=self.font * 0.08,
            )
            + path(
                (
                    self.at(self._first + self.font * 0.2, self.font * _BEGIN),
                    self.at(last, self.font * _BEGIN),
                ),
                fill="none",
                stroke=INK,
                stroke_width=self.font * 0.055,
            )
        )

    def _figure(self, text: str, middle: float, row: int) -> Markup:
        """A figure square to the edge, nearest to it where it begins or ends."""
        x, y = self.at(middle, self._begins(row))
        lift = self.font * 0.35
        match self.side:
            case Side.TOP:
                return lettering(
                    text, (x + lift, y), self.font, anchor="start", turned=True, fill=INK
                )
            case Side.BOTTOM:
                return lettering(
                    text, (x + lift, y), self.font, anchor="end", turned=True, fill=INK
                )
            case Side.LEFT:
                return lettering(text, (x, y + lift), self.font, anchor="end", fill=INK)
            case Side.RIGHT:
                return lettering(text, (x, y + lift), self.font, anchor="start", fill=INK)
