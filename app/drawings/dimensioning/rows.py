"""Spans, and where their figures stand along a lane of dimension lines.

A figure stands on its span where it fits. At the end of a chain it may hang past the end; in the
middle it moves to a second row, beside its neighbours. A lane of one span keeps its figure.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.drawings.canvas.canvas import Pencil
from app.drawings.canvas.label_spacing import spread
from app.drawings.canvas.lettering import width_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One dimension. start, end: along the side. reach: how far inside the object's edge the
    measured thing lies. text: empty where an equal span beside it has the figure.
    """

    start: float
    end: float
    text: str
    reach: float = 0.0
    pencil: Pencil = Pencil.MEASURE


type Lane = tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class PlacedFigure:
    """A span's text in its place. row: 0 on the line, 1 beyond the first row with a leader."""

    span: Span
    middle: float
    width: float
    row: int

    @property
    def first(self) -> float:
        """Where the figure begins along the side."""
        return self.middle - self.width / 2

    @property
    def last(self) -> float:
        """Where the figure ends along the side."""
        return self.middle + self.width / 2


def figures_of(lane: Lane, font: float) -> tuple[PlacedFigure, ...]:
    """Return the figures of a lane, none on another."""
    chain = sorted(lane, key=lambda span: (span.start, span.end))
    placed, moved = [], []
    for span in chain:
        width = width_of(span.text, font)
        middle = (span.start + span.end) / 2
        if not span.text:
            placed.append(PlacedFigure(span, middle, 0.0, 0))
        elif len(chain) == 1 or width + font * 0.7 <= span.end - span.start:
            placed.append(PlacedFigure(span, middle, width, 0))
        elif span is chain[0]:
            placed.append(PlacedFigure(span, span.start - width / 2 - font * 0.5, width, 0))
        elif span is chain[-1]:
            placed.append(PlacedFigure(span, span.end + width / 2 + font * 0.5, width, 0))
        else:
            moved.append(PlacedFigure(span, middle, width, 1))
    return (*placed, *_spread(moved, font))


def _spread(figures: list[PlacedFigure], font: float) -> Iterator[PlacedFigure]:
    middles = spread(
        [figure.middle for figure in figures], [figure.width + font * 0.8 for figure in figures]
    )
    for figure, middle in zip(figures, middles, strict=True):
        yield PlacedFigure(figure.span, middle, figure.width, figure.row)
