"""One mat as it lies on the side that it is seen from, and what every plan of a mat shows of it.

Mats are marked and cut from the back, where left and right are exchanged (G10).
"""

from collections.abc import Iterator
from dataclasses import replace

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK
from app.drawings.canvas.shading import Side
from app.drawings.canvas.shapes import Outline, drawn, outlined
from app.drawings.canvas.svg import Markup, Value, group, number
from app.drawings.dimensioning.rows import Lane, Span
from app.drawings.piece.layout import HolePlace, lay_out
from app.drawings.piece.legend import several, shape_in_words, windows_in_words
from app.framing import Dimensions, Edges, Layer, Shape, UnderWay, mirrored
from app.lengths import Length, Size, Unit, show, show_size

EXCHANGED = "left and right are exchanged"


class TurnedMat:
    """One mat, turned. The edges that it is measured from have their corner at 0, 0.

    Raises: ValueError for a layer that the piece has not.
    """

    def __init__(self, dimensions: Dimensions, layer: int, unit: Unit, *, from_back: bool) -> None:
        if not 1 <= layer <= len(dimensions.layers):
            raise ValueError(f"layer {layer} of a piece with {len(dimensions.layers)} mats")
        layout = lay_out(dimensions)
        place = layout.mats[layer - 1]
        self.dimensions, self.unit, self.from_back = dimensions, unit, from_back
        self.layer: Layer = dimensions.layers[layer - 1]
        self.several = several(layout)
        self._origin, self._width = place.edges, place.edges.width
        self.edges, self.blank = self._turned(place.edges), self._turned(place.blank)
        self.holes = tuple(self._turned_hole(hole) for hole in place.holes)
        self.grooves = tuple(self._outline(one) for one in layout.grooves if layer == 1)

    def _outline(self, outline: Outline) -> Outline:
        moved = outline.moved(-self._origin.x, -self._origin.y)
        return moved.mirrored(self._width) if self.from_back else moved

    def _turned(self, box: Box) -> Box:
        return self._outline(Outline(box)).box

    def _turned_hole(self, hole: HolePlace) -> HolePlace:
        sizes = mirrored(hole.sizes, self.whole) if self.from_back else hole.sizes
        window, face = self._outline(hole.window), self._outline(hole.face)
        return replace(hole, sizes=sizes, window=window, face=face)

    @property
    def whole(self) -> Size:
        """The size that its edges are measured from: its own, or that of the top mat (G7)."""
        own = self.dimensions.spec.under.way is UnderWay.OWN_EDGES
        return self.layer.blank if own else self.dimensions.package

    @property
    def title(self) -> str:
        """The title of the drawing: "Back of mat 1"."""
        return f"{'Back' if self.from_back else 'Front'} of mat {self.layer.layer}"

    @property
    def trimmed(self) -> bool:
        """Whether the blank is smaller than the size that its edges are measured from."""
        return self.layer.blank != self.whole

    def borders(self) -> Edges:
        """Return the borders as they lie on this side."""
        own = self.layer.borders
        if not self.from_back:
            return own
        return Edges(left=own.right, right=own.left, top=own.top, bottom=own.bottom)

    def span(self, name: str, length: Length, start: float, end: float, reach: float = 0) -> Span:
        """Return a named dimension."""
        figure = show(length, self.unit)
        text = f"{name} {figure}" if name else figure
        return Span(start=start, end=end, text=text, reach=reach)

    def whole_lane(self, side: Side) -> Lane:
        """Return the width, or the height, of the edges that it is measured from."""
        name, box = "top mat" if self.trimmed else "blank", self.edges
        if side in (Side.TOP, Side.BOTTOM):
            return (self.span(name, self.whole.width, box.x, box.right),)
        return (self.span(name, self.whole.height, box.y, box.bottom),)

    def blank_lanes(self) -> dict[Side, list[Lane]]:
        """Below and at the right, a blank that is smaller than that."""
        if not self.trimmed:
            return {}
        box, blank = self.blank, self.layer.blank
        return {
            Side.BOTTOM: [(self.span("blank", blank.width, box.x, box.right),)],
            Side.RIGHT: [(self.span("blank", blank.height, box.y, box.bottom),)],
        }

    def lines(self, font: float) -> Markup:
        """Blank and windows in full lines, what is hidden or is another mat's in dashes."""
        dashes = f"{number(font * 0.5)} {number(font * 0.35)}"
        hidden: dict[str, Value] = {"stroke_dasharray": dashes, "stroke_opacity": 0.6}
        face: dict[str, Value] = hidden if self.from_back else {"stroke_opacity": 0.5}
        windows = tuple(hole.window for hole in self.holes)
        return group(
            (
                *((rectangle(self.edges, **hidden),) if self.trimmed else ()),
                outlined(
                    (Outline(self.blank), *windows),
                    fill_rule="evenodd",
                    fill=INK,
                    fill_opacity=0.07,
                    stroke="none",
                ),
                rectangle(self.blank),
                *(drawn(hole.face, **face) for hole in self.holes),
                *(drawn(window, stroke_width=font * 0.09) for window in windows),
                *(drawn(groove, **face) for groove in self.grooves),
            ),
            class_="ink",
            fill="none",
            stroke=INK,
            stroke_width=font * 0.07,
        )

    def notes(self, *, captioned: bool) -> Iterator[str]:
        """Yield the side where the drawing does not say it, the unit, and what is measured from where."""
        if not captioned:
            yield f"{self.title}{f': {EXCHANGED}' if self.from_back else ''}."
        yield "Figures in millimetres." if self.unit is Unit.MM else "Figures in inches."
        which = "Windows are" if self.several else "The window is"
        yield f"{which} measured at the back of the board."
        if self.layer.layer > 1:
            own = self.dimensions.spec.under.way is UnderWay.OWN_EDGES
            what = "Places" if self.several else "Borders"
            yield f"{what} are measured from {'its own' if own else "the top mat's"} edges."
        if not self.several and self.holes[0].sizes.shape is not Shape.RECTANGLE:
            yield f"The window: {shape_in_words(self.holes[0], self.unit)}."
        if self.grooves:
            groove = self.dimensions.spec.groove
            assert groove is not None
            yield f"Grooves {show(groove, self.unit)} outside the windows at the face."

    def in_words(self) -> str:
        """Return the mat in a sentence or two."""
        sides = ", ".join(f"{side} {show(b, self.unit)}" for side, b in self.borders().sides())
        seen = f"Seen from the back; {EXCHANGED}. " if self.from_back else ""
        blank = show_size(self.layer.blank, self.unit, mark=True)
        return f"{seen}Blank {blank}, {self._windows_in_words()}. Borders: {sides}."

    def _windows_in_words(self) -> str:
        if self.several:
            return f"windows {windows_in_words(self.holes, self.unit)}"
        return f"window {show_size(self.holes[0].sizes.size, self.unit, mark=True)}"
