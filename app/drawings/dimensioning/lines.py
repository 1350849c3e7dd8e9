"""Dimension lines around a drawing, as a draughtsman sets them: lanes outside the object.

Each side of the object has lanes, the nearest first; a lane is a chain of spans that share a line.
Figures keep clear of each other (`lanes`), a figure off its line has a leader, and extension lines
give way to figures. So no figure lies on another, on a line or on the object, whatever the
proportions.

Inside, a place is told as (along, out): along the side, and outwards from the object's edge.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, lettering, union
from app.drawings.canvas.shading import Side
from app.drawings.canvas.svg import Markup, Point, group, path
from app.drawings.dimensioning.rows import Lane, PlacedFigure, Span, figures_of


@dataclass(frozen=True, slots=True)
class _Row:
    """Where things lie in a lane, in letter heights out from its line."""

    tick = 0.28
    figure = 0.36
    letters = 1.0
    second = 2.3
    gap = 0.75


class DimensionLines:
    """Dimension lines about an object: the room they take, their figures, their marks."""

    def __init__(self, target: Box, lanes: Mapping[Side, Sequence[Lane]], font: float) -> None:
        placed = {
            side: [figures_of(lane, font) for lane in lanes.get(side, ()) if lane] for side in Side
        }
        start = _corner_room(target, placed, font)
        self._target = target
        self._edges = [_Edge(side, target, font, placed[side], start[side]) for side in Side]

    @property
    def figures(self) -> tuple[Box, ...]:
        """The box of each figure."""
        return tuple(box for edge in self._edges for box in edge.figure_boxes())

    @property
    def room(self) -> Box:
        """The box around the object and everything about it."""
        return union((self._target, *self.figures, *(edge.reach() for edge in self._edges)))

    def marks(self) -> Markup:
        """Return everything to draw."""
        return group((mark for edge in self._edges for mark in edge.marks()), class_="dimensions")


def _corner_room(
    target: Box, placed: Mapping[Side, list[tuple[PlacedFigure, ...]]], font: float
) -> dict[Side, float]:
    """Tell how far out the first lane of each side starts.

    Figures that stand past a corner push the lanes above and below out of their way.
    """
    start = dict.fromkeys(Side, font * 0.9)
    beside = [f for side in (Side.LEFT, Side.RIGHT) for lane in placed[side] for f in lane]
    for side in (Side.TOP, Side.BOTTOM):
        wide = any(
            figure.first < target.x or figure.last > target.right
            for lane in placed[side]
            for figure in lane
        )
        if wide and beside:
            past = max(
                target.y - figure.first if side is Side.TOP else figure.last - target.bottom
                for figure in beside
            )
            start[side] += max(past, 0)
    return start


def _is_written(figure: PlacedFigure) -> bool:
    return bool(figure.span.text)


class _Edge:
    """One side of the object with its lanes."""

    def __init__(
        self,
        side: Side,
        target: Box,
        font: float,
        lanes: list[tuple[PlacedFigure, ...]],
        offset: float,
    ) -> None:
        self.side, self.target, self.font, self.lanes = side, target, font, lanes
        self.lines: list[float] = []
        self.out = offset
        for lane in lanes:
            self.lines.append(self.out)
            rows = 1 + max(figure.row for figure in lane)
            self.out += font * (_Row.gap + _Row.letters + (_Row.second - 0.3) * (rows - 1))

    def at(self, along: float, out: float) -> Point:
        """Return a place on the drawing."""
        match self.side:
            case Side.TOP:
                return (along, self.target.y - out)
            case Side.BOTTOM:
                return (along, self.target.bottom + out)
            case Side.LEFT:
                return (self.target.x - out, along)
            case Side.RIGHT:
                return (self.target.right + out, along)

    def box(self, along: tuple[float, float], out: tuple[float, float]) -> Box:
        """Return a rectangle on the drawing from two places."""
        (x1, y1), (x2, y2) = self.at(along[0], out[0]), self.at(along[1], out[1])
        return Box.between(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))

    def reach(self) -> Box:
        """Return the room of the lanes, as wide as the lines."""
        spans = [figure.span for lane in self.lanes for figure in lane]
        if not spans:
            return self.target
        along = (min(span.start for span in spans), max(span.end for span in spans))
        return self.box(along, (0, self.lines[-1] + self.font * 0.4))

    def _base(self, line: float, figure: PlacedFigure) -> float:
        return line + self.font * (_Row.second if figure.row else _Row.figure)

    def figure_boxes(self) -> Iterator[Box]:
        """Yield where each figure stands."""
        for line, lane in zip(self.lines, self.lanes, strict=True):
            for figure in filter(_is_written, lane):
                base = self._base(line, figure)
                yield self.box((figure.first, figure.last), (base, base + self.font * _Row.letters))

    def marks(self) -> Iterator[Markup]:
        """Extension lines, then lines, ticks, leaders and figures of every lane."""
        yield from self._extensions()
        for line, lane in zip(self.lines, self.lanes, strict=True):
            for figure in lane:
                yield self._dimension(line, figure)

    def _dimension(self, line: float, figure: PlacedFigure) -> Markup:
        span, tick = figure.span, self.font * _Row.tick
        strokes: list[tuple[Point, ...]] = [(self.at(span.start, line), self.at(span.end, line))]
        ticks = [self._tick(along, line, tick) for along in (span.start, span.end)]
        if figure.row:
            strokes.append(self._leader(line, figure))
        return span.pencil.draws(
            path(*strokes, fill="none", stroke=INK, stroke_width=self.font * 0.055),
            path(*ticks, fill="none", stroke=INK, stroke_width=self.font * 0.1),
            *((self._letters(line, figure),) if figure.span.text else ()),
        )

    def _tick(self, along: float, line: float, size: float) -> tuple[Point, Point]:
        """Return a slanting stroke through the end of a line, rising to the right."""
        x, y = self.at(along, line)
        return ((x - size, y + size), (x + size, y - size))

    def _leader(self, line: float, figure: PlacedFigure) -> tuple[Point, ...]:
        """From the middle of the span straight past the first row, then over to the figure."""
        middle = (figure.span.start + figure.span.end) / 2
        past = line + self.font * (_Row.figure + _Row.letters + 0.12)
        end = line + self.font * (_Row.second - 0.08)
        return (self.at(middle, line), self.at(middle, past), self.at(figure.middle, end))

    def _letters(self, line: float, figure: PlacedFigure) -> Markup:
        """Return the figure; its baseline lies near the object's side or away from it, as it reads."""
        upward = self.side in (Side.TOP, Side.LEFT)
        baseline = self._base(line, figure) + self.font * (0.24 if upward else 0.8)
        return lettering(
            figure.span.text,
            self.at(figure.middle, baseline),
            self.font,
            turned=self.side in (Side.LEFT, Side.RIGHT),
            fill=INK,
        )

    def _extensions(self) -> Iterator[Markup]:
        """Yield a thin line from what is measured to each line's end, broken where a figure stands."""
        longest: dict[float, tuple[float, float, Span]] = {}
        for line, lane in zip(self.lines, self.lanes, strict=True):
            for span in (figure.span for figure in lane):
                for along in (span.start, span.end):
                    key = round(along, 3)
                    low = min(-span.reach, longest.get(key, (0.0, 0.0, span))[0])
                    longest[key] = (low, line + self.font * 0.35, span)
        for along, (low, high, span) in longest.items():
            strokes = [
                (self.at(along, a), self.at(along, b)) for a, b in self._clear(along, low, high)
            ]
            yield span.pencil.draws(
                path(
                    *strokes,
                    class_="extension",
                    fill="none",
                    stroke=INK,
                    stroke_opacity=0.45,
                    stroke_width=self.font * 0.04,
                )
            )

    def _clear(self, along: float, low: float, high: float) -> list[tuple[float, float]]:
        """Return the parts of a line outwards that no figure covers."""
        pad, at, parts = self.font * 0.12, low, []
        for line, lane in zip(self.lines, self.lanes, strict=True):
            for figure in filter(_is_written, lane):
                base = self._base(line, figure)
                if figure.first - pad < along < figure.last + pad and base < high:
                    parts.append((at, base - pad))
                    at = base + self.font * _Row.letters + pad
        return [part for part in (*parts, (at, high)) if part[0] < part[1]]
