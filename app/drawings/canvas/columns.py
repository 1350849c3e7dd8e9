"""Labels in a column beside a drawing, each with a leader to what it names."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, Pencil, lettering, union
from app.drawings.canvas.label_spacing import spread
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.svg import Markup, Point, element, path

PITCH = 1.4
"""Letter heights from one label to the next."""

DOT, BENEATH = "#23272b", "#fffdf6"
"""A dot lies on a part, dark with a light rim, so that it shows on a part of any colour on any page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnLabel:
    """Words for a place. wish: how far down they would like to stand; the place's own by default.

    dot: whether the leader ends in a dot on what it names.
    """

    text: str
    at: Point
    wish: float
    pencil: Pencil = Pencil.PLAIN
    dot: bool = True
    bold: bool = False


class LabelColumn:
    """Labels at the right of a drawing, or the left, that keep their order and stay apart.

    edge: where the drawing ends on that side; leaders run level to it and slant to their label.
    """

    def __init__(
        self, labels: Sequence[ColumnLabel], edge: float, font: float, *, left: bool
    ) -> None:
        self.labels = sorted(labels, key=lambda label: label.wish)
        self.edge, self.font, self.left = edge, font, left
        self.middles = spread(
            [label.wish for label in self.labels], [font * PITCH] * len(self.labels)
        )

    def _x(self, heights: float) -> float:
        return self.edge + heights * self.font * (-1 if self.left else 1)

    @property
    def boxes(self) -> tuple[Box, ...]:
        """The box of each label."""
        boxes = []
        for label, middle in zip(self.labels, self.middles, strict=True):
            width = width_of(label.text, self.font) * (1.08 if label.bold else 1)
            x = self._x(2.0) - (width if self.left else 0)
            boxes.append(Box(x, middle - self.font * 0.55, width, self.font * 1.1))
        return tuple(boxes)

    @property
    def room(self) -> Box:
        """The box around all labels."""
        return union(self.boxes) if self.labels else Box(self.edge, 0, 0, 0)

    def marks(self) -> Iterator[Markup]:
        """Leaders and words."""
        for label, middle in zip(self.labels, self.middles, strict=True):
            yield label.pencil.draws(*self._leader(label, middle), self._words(label, middle))

    def _leader(self, label: ColumnLabel, middle: float) -> Iterator[Markup]:
        x, y = label.at
        yield path(
            ((x, y), (self._x(0.6), y), (self._x(1.6), middle), (self._x(1.8), middle)),
            fill="none",
            stroke=INK,
            stroke_opacity=0.75,
            stroke_width=self.font * 0.05,
        )
        if label.dot:
            rim = self.font * 0.06
            yield element(
                "circle",
                cx=x,
                cy=y,
                r=self.font * 0.13,
                fill=DOT,
                stroke=BENEATH,
                stroke_width=rim,
            )

    def _words(self, label: ColumnLabel, middle: float) -> Markup:
        return lettering(
            label.text,
            (self._x(2.0), middle + self.font * 0.35),
            self.font,
            anchor="end" if self.left else "start",
            fill=INK,
            font_weight="bold" if label.bold else "normal",
        )
