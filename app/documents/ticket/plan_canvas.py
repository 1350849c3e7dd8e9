"""A mat's place on a sheet of paper: the scale of its drawing, points on it, its letters.

One unit is one millimetre of paper, so that letters have the size that they are given.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.bench import BoardBox as Lying
from app.bench import BoardPoint as Spot
from app.bench import Edge, Marks
from app.documents.kit.faces import BOLD as SEMIBOLD
from app.documents.kit.faces import POINT_MM, SANS
from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.shapes import Outline, outlined
from app.drawings.canvas.svg import Markup, Point, element, group, number, words
from app.framing import Shape
from app.lengths import ZERO, Length

FIGURE = 12 * POINT_MM
CAPTION = 9.5 * POINT_MM
RING = 2.25
"""Radius of the ring around the number of a setting."""

BESIDE = 5.6
"""Room beside the mat for a figure or a ring."""

THIN, FINE, PLAIN, BOLD = 0.12, 0.2, 0.3, 0.5
"""Widths of lines: guide lines; dimension lines; the board; cuts."""


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """A mat as large as fits a room of (width, height) mm of paper, figures beside it included."""

    marks: Marks
    room: tuple[float, float]

    @property
    def scale(self) -> float:
        """How many millimetres of paper stand for one of the mat."""
        size = self.marks.size
        return min(
            (self.room[0] - 2 * BESIDE) / coordinate(size.width),
            (self.room[1] - 2 * BESIDE) / coordinate(size.height),
        )

    @property
    def edges(self) -> Box:
        """The edges that sizes are measured from."""
        return self.box(Lying(name="", at=Spot(x=ZERO, y=ZERO), size=self.marks.size))

    @property
    def width(self) -> float:
        """The width of the whole drawing."""
        return self.edges.right + BESIDE

    @property
    def height(self) -> float:
        """The height of the whole drawing."""
        return self.edges.bottom + BESIDE

    def at(self, spot: Spot) -> Point:
        """Return where a point of the mat lies on the paper."""
        scale = self.scale
        return (BESIDE + coordinate(spot.x) * scale, BESIDE + coordinate(spot.y) * scale)

    def box(self, lying: Lying) -> Box:
        """Return where a rectangle of the mat lies on the paper."""
        scale, size = self.scale, lying.size
        return Box(
            *self.at(lying.at), coordinate(size.width) * scale, coordinate(size.height) * scale
        )


def border_as_it_lies(marks: Marks, window: Lying, edge: Edge) -> Length:
    """Return the length from an edge of the mat to a window, both as they lie."""
    match edge:
        case Edge.LEFT:
            return window.at.x
        case Edge.TOP:
            return window.at.y
        case Edge.RIGHT:
            return marks.size.width - window.at.x - window.size.width
        case Edge.BOTTOM:
            return marks.size.height - window.at.y - window.size.height


def ringed(numbers: Sequence[tuple[str, Point]]) -> Iterator[Markup]:
    """Draw numbers of settings in white, each on its disc, which no figure beside it is taken for; the discs are one path,
    which is drawn sooner.
    """
    spots = (
        Outline(Box(x - RING, y - RING, 2 * RING, 2 * RING), Shape.OVAL) for _, (x, y) in numbers
    )
    yield outlined(spots, fill="#000", stroke="#000", stroke_width=PLAIN)
    yield group(
        tuple(written(text, (x, y + CAPTION * 0.36), size=CAPTION) for text, (x, y) in numbers),
        fill="#fff",
    )


def written(
    text: str, at: Point, *, size: float = FIGURE, turned: bool = False, weight: int = 600
) -> Markup:
    """Draw a line of text about a point of its baseline.

    Begins where that follows from the widths of its letters: text that is anchored at its middle becomes a document of
    its own within the PDF. turned: reads from the right-hand side; weight: 400 or 600.
    """
    half = (SANS if weight == 400 else SEMIBOLD).width(text, size / POINT_MM) / 2
    x, y = (at[0], at[1] + half) if turned else (at[0] - half, at[1])
    return element(
        "text",
        words(text),
        x=x,
        y=y,
        font_size=size,
        font_weight=weight,
        transform=f"rotate(-90 {number(x)} {number(y)})" if turned else None,
    )
