"""Running dimensions: every place along a side measured from one corner, as a rule laid there reads.

One line of figures beside an edge, square to it, each with a thin line to what it names. Figures
keep apart; where they are dense they fan out with leaders. Source: ISO 129-1, superimposed running
dimensioning from an origin.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, Pencil, lettering
from app.drawings.canvas.label_spacing import spread
from app.drawings.canvas.shading import Side
from app.drawings.canvas.svg import Markup, Point, element, path
from app.drawings.dimensioning.readings import Reading

_PITCH = 1.12
"""Letter heights from one figure to the next in a row."""

_SIGNED_PITCH, _TWO_LINE_PITCH = 1.4, 2.25
"""The same where signs stand before the figures, and where figures stand in two lines."""

_FEW = 8
"""Readings of a side that may have their lesser figures in a second line."""

_DENSE, _DENSE_SIGNED = 28, 12
"""More figures than this, and more with signs, stand in two rows by turns."""

_BEGIN, _FAN, _FIGURE = 0.25, 0.5, 1.3
"""Letter heights out from the edge: where a leader begins and bends, and where its figure stands."""


class Running:
    """The readings beside one edge of a rectangle.

    from_end: measured from the right or the lower corner instead of the left or the upper one.
    """

    def __init__(
        self,
        side: Side,
        edges: Box,
        readings: Iterable[Reading],
        font: float,
        *,
        from_end: bool = False,
    ) -> None:
        self.side, self.edges, self.font, self.from_end = side, edges, font, from_end
        self.readings = sorted(readings, key=lambda reading: reading.at)
        self.signed = any(one.signed for one in self.readings)
        self.two_lines = len(self.readings) <= _FEW and any(
            len(one.parts) > 1 and one.parts[0].text for one in self.readings
        )
        self.longest = max(
            (one.long(font, two_lines=self.two_lines) for one in self.readings), default=0.0
        )
        self.upright = self._has_room_upright()
        dense = _DENSE_SIGNED if self.signed else _DENSE
        self.rows = 2 if len(self.readings) > dense else 1
        self.middles = self._spread_out()

    @property
    def _across(self) -> bool:
        return self.side in (Side.TOP, Side.BOTTOM)

    def _has_room_upright(self) -> bool:
        """Tell whether the figures above or below, which stand square to the edge, may lie along it."""
        places = [one.at for one in self.readings]
        apart, half = self.longest + self.font * 0.8, self.longest / 2
        return (
            self._across
            and all(self._first + half <= at <= self._last - half for at in places)
            and self.signed
            and all(len(one.parts) == 1 for one in self.readings)
            and all(b - a >= apart for a, b in pairwise(places))
            and len(self.readings) <= _DENSE_SIGNED
        )

    @property
    def _pitch(self) -> float:
        if self.two_lines:
            return _TWO_LINE_PITCH
        return _SIGNED_PITCH if self.signed else _PITCH

    def _spread_out(self) -> tuple[float, ...]:
        """Tell where figures stand along the edge; never past its ends where other sides have theirs."""
        pitch = self.font * self._pitch / self.rows
        middles = spread([one.at for one in self.readings], [pitch] * len(self.readings))
        if self.from_end:
            return tuple(-m for m in _after(-self._last, [-m for m in reversed(middles)], pitch))[
                ::-1
            ]
        return _after(self._first, middles, pitch)

    @property
    def _first(self) -> float:
        return self.edges.x if self._across else self.edges.y

    @property
    def _last(self) -> float:
        return self.edges.right if self._across else self.edges.bottom

    @property
    def _long(self) -> float:
        """How far a figure reaches outwards from where it begins."""
        return self.font * 2.4 if self.upright else self.longest

    @property
    def depth(self) -> float:
        """How far from the edge the figures reach."""
        return self._begins(self.rows - 1) + self._long + self.font * 0.2 if self.readings else 0

    def at(self, along: float, out: float) -> Point:
        """Return a place on the drawing, along the side and out from the edge."""
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
        """Tell how far out the figures of a row begin."""
        return self.font * _FIGURE + row * (self._long + self.font * 0.5)

    @property
    def room(self) -> Box:
        """The edges with the figures beside them."""
        half = max(self.font * self._pitch / 2, self.longest / 2 if self.upright else 0.0)
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
        figures = (self._figure(one, at, row) for one, at, row in self._placed())
        return Pencil.MEASURE.draws(inside, self._origin(), leaders, *figures)

    def _placed(self) -> Iterator[tuple[Reading, float, int]]:
        """Yield each reading with the middle and the row of its figure."""
        for index, (one, at) in enumerate(zip(self.readings, self.middles, strict=True)):
            yield one, at, index % self.rows

    def _leader(self, reading: Reading, middle: float, row: int) -> tuple[Point, ...]:
        """Out from the edge, over to the figure, and between those of the row before it."""
        return (
            self.at(reading.at, self.font * _BEGIN * -0.6),
            self.at(reading.at, self.font * _FAN),
            self.at(middle, self.font * (_FIGURE - 0.3)),
            self.at(middle, self._begins(row) - self.font * (0 if self.signed else 0.12)),
        )

    def _origin(self) -> Markup:
        """Return a ring at the corner that is measured from, and the line that the figures stand on."""
        places = [one.at for one in self.readings]
        corner, furthest = (
            (self._last, min(places)) if self.from_end else (self._first, max(places))
        )
        gap = self.font * (-0.2 if self.from_end else 0.2)
        x, y = self.at(corner, self.font * _BEGIN)
        ring = element(
            "circle",
            cx=x,
            cy=y,
            r=self.font * 0.2,
            fill="none",
            stroke=INK,
            stroke_width=self.font * 0.08,
        )
        ends = (
            self.at(corner + gap, self.font * _BEGIN),
            self.at(furthest, self.font * _BEGIN),
        )
        return Markup(ring + path(ends, fill="none", stroke=INK, stroke_width=self.font * 0.055))

    def _figure(self, reading: Reading, middle: float, row: int) -> Markup:
        """Return the parts of a reading, each sign before its figure."""
        begins, marks = self._begins(row), []
        for one in reading.placed(self.font, two_lines=self.two_lines):
            out, room = begins + one.out, one.part.sign_room(one.font)
            if one.part.sign:
                aside = one.aside if one.font < self.font else 0.0
                at = self.at(middle + aside, out + room / 2)
                turned = self._across and not self.upright
                marks.append(one.part.sign.drawn(at, one.font, turned=turned))
            if one.part.text:
                at = self.at(middle + one.aside, out + room)
                marks.append(self._letters(one.part.text, at, one.font))
        return Markup("".join(marks))

    def _letters(self, text: str, at: Point, font: float) -> Markup:
        """Square to the edge, nearest to it where the figure begins or ends; or along it."""
        x, y = at
        lift = font * 0.35
        if self.upright:
            down = font * (0.8 if self.side is Side.BOTTOM else -0.05)
            return lettering(text, (x, y + down), font, fill=INK)
        match self.side:
            case Side.TOP:
                return lettering(text, (x + lift, y), font, anchor="start", turned=True, fill=INK)
            case Side.BOTTOM:
                return lettering(text, (x + lift, y), font, anchor="end", turned=True, fill=INK)
            case Side.LEFT:
                return lettering(text, (x, y + lift), font, anchor="end", fill=INK)
            case Side.RIGHT:
                return lettering(text, (x, y + lift), font, anchor="start", fill=INK)


def _after(first: float, middles: Iterable[float], pitch: float) -> tuple[float, ...]:
    """Return the same places, moved on where one would stand before the first or on its neighbour."""
    placed: list[float] = []
    for middle in middles:
        placed.append(max(middle, placed[-1] + pitch if placed else first))
    return tuple(placed)
