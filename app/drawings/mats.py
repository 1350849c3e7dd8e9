"""A plan of one mat by itself, from the front or from the back, with its borders dimensioned.

Mats are marked and cut from the back, where left and right are exchanged (G10).
"""

from app.drawings.boxes import Box, rectangle, ring
from app.drawings.dimension_lines import fitted
from app.drawings.lanes import Lane, Span
from app.drawings.layout import MatPlace, lay_out
from app.drawings.lettering import width_of
from app.drawings.light import Side
from app.drawings.notes import written_under
from app.drawings.sheet import INK, drawing, lettering
from app.drawings.svg import Markup, Value, group, number
from app.framing import Dimensions, Edges, Layer, UnderWay, Window
from app.lengths import Length, Unit, show, show_size

_EXCHANGED = "left and right are exchanged"


def mat_plan(dimensions: Dimensions, layer: int, unit: Unit, *, from_back: bool) -> str:
    """One mat as an SVG document, figures in one unit; 1 is the top layer.

    Borders are measured as they are set on the cutter: from the mat's own edges, or from the top
    mat's where the mat is fixed behind it (G7), to the window at the back of the board.
    Raises: ValueError for a layer that the piece has not.
    """
    if not 1 <= layer <= len(dimensions.layers):
        raise ValueError(f"layer {layer} of a piece with {len(dimensions.layers)} mats")
    plan = _Plan(dimensions, layer, unit, from_back=from_back)
    font, placed = fitted(plan.edges, plan.lanes())
    caption = plan.caption(font)
    notes = plan.notes(captioned=bool(caption))
    room, written = written_under(placed.room, notes, font)
    return drawing(
        room.inset(-font * 0.5),
        plan.lines(font),
        *caption,
        placed.marks(),
        written,
        class_="drawing drawing-mat",
        title=plan.title,
        desc=plan.in_words(),
    )


class _Plan:
    """One mat, turned to the side that it is seen from. The edges it is measured from are at 0, 0."""

    def __init__(self, dimensions: Dimensions, layer: int, unit: Unit, *, from_back: bool) -> None:
        place = lay_out(dimensions).mats[layer - 1]
        self.dimensions, self.unit, self.from_back = dimensions, unit, from_back
        self.layer: Layer = dimensions.layers[layer - 1]
        self.opening: Window = dimensions.windows[layer - 1]
        self.edges, self.blank, self.window, self.face = self._turned(place)

    def _turned(self, place: MatPlace) -> tuple[Box, ...]:
        origin = place.edges
        boxes = (place.edges, place.blank, place.window, place.face)
        moved = (box.moved(-origin.x, -origin.y) for box in boxes)
        return tuple(box.mirrored(origin.width) if self.from_back else box for box in moved)

    @property
    def title(self) -> str:
        """As "Back of mat 1"."""
        return f"{'Back' if self.from_back else 'Front'} of mat {self.layer.layer}"

    @property
    def trimmed(self) -> bool:
        """Whether the blank is smaller than the edges it is measured from."""
        behind = self.dimensions.spec.under.way is UnderWay.ATTACHED
        return behind and self.layer.blank != self.dimensions.package

    def borders(self) -> Edges:
        """The borders as they lie on this side."""
        own = self.layer.borders
        if not self.from_back:
            return own
        return Edges(left=own.right, right=own.left, top=own.top, bottom=own.bottom)

    def lanes(self) -> dict[Side, list[Lane]]:
        """Borders and window, and the whole, above and at the left; a trimmed blank opposite."""
        edges, window, borders = self.edges, self.window, self.borders()
        size, blank = self.opening.size, self.layer.blank
        whole = self.dimensions.package if self.trimmed else blank
        name = "top mat" if self.trimmed else "blank"
        lanes: dict[Side, list[Lane]] = {
            Side.TOP: [
                (
                    self._span("", borders.left, edges.x, window.x, window.y),
                    self._span("window", size.width, window.x, window.right, window.y),
                    self._span("", borders.right, window.right, edges.right, window.y),
                ),
                (self._span(name, whole.width, edges.x, edges.right, 0),),
            ],
            Side.LEFT: [
                (
                    self._span("", borders.top, edges.y, window.y, window.x),
                    self._span("window", size.height, window.y, window.bottom, window.x),
                    self._span("", borders.bottom, window.bottom, edges.bottom, window.x),
                ),
                (self._span(name, whole.height, edges.y, edges.bottom, 0),),
            ],
        }
        if self.trimmed:
            box = self.blank
            lanes[Side.BOTTOM] = [(self._span("blank", blank.width, box.x, box.right, 0),)]
            lanes[Side.RIGHT] = [(self._span("blank", blank.height, box.y, box.bottom, 0),)]
        return lanes

    def _span(self, name: str, length: Length, start: float, end: float, reach: float) -> Span:
        figure = show(length, self.unit)
        text = f"{name} {figure}" if name else figure
        return Span(start=start, end=end, text=text, reach=reach)

    def lines(self, font: float) -> Markup:
        """Blank and window in full lines, what is hidden or is another mat's in dashes."""
        dashes = f"{number(font * 0.5)} {number(font * 0.35)}"
        hidden: dict[str, Value] = {"stroke_dasharray": dashes, "stroke_opacity": 0.6}
        face: dict[str, Value] = hidden if self.from_back else {"stroke_opacity": 0.5}
        return group(
            (
                *((rectangle(self.edges, **hidden),) if self.trimmed else ()),
                ring(self.blank, self.window, fill=INK, fill_opacity=0.07, stroke="none"),
                rectangle(self.blank),
                rectangle(self.face, **face),
                rectangle(self.window, stroke_width=font * 0.09),
            ),
            class_="ink",
            fill="none",
            stroke=INK,
            stroke_width=font * 0.07,
        )

    def caption(self, font: float) -> tuple[Markup, ...]:
        """The side in words, in the window where it fits there."""
        side = self.title.upper() if self.from_back else self.title
        lines = (side, _EXCHANGED) if self.from_back else (side,)
        sizes = (font * 1.1, font * 0.85)
        widest = max(width_of(text, size) for text, size in zip(lines, sizes, strict=False))
        inside = self.window.inset(abs(self.face.width - self.window.width) / 2 + font * 0.4)
        if inside.width < widest or inside.height < font * 3.2:
            return ()
        x, y = self.window.centre
        first = y - font * 0.2 if self.from_back else y + font * 0.4
        return tuple(
            lettering(text, (x, first + row * font * 1.4), sizes[row], fill=INK, class_="ink")
            for row, text in enumerate(lines)
        )

    def notes(self, *, captioned: bool) -> tuple[str, ...]:
        """The side where the window does not say it, the unit, and what borders are measured from."""
        said = []
        if not captioned:
            said.append(f"{self.title}{f': {_EXCHANGED}' if self.from_back else ''}.")
        said.append("Figures in millimetres." if self.unit is Unit.MM else "Figures in inches.")
        said.append("The window is measured at the back of the board.")
        if self.layer.layer > 1:
            own = self.dimensions.spec.under.way is UnderWay.OWN_EDGES
            said.append(f"Borders are measured from {'its own' if own else "the top mat's"} edges.")
        return (" ".join(said),)

    def in_words(self) -> str:
        """The mat in a sentence."""
        sides = ", ".join(f"{side} {show(b, self.unit)}" for side, b in self.borders().sides())
        seen = f"Seen from the back; {_EXCHANGED}. " if self.from_back else ""
        return (
            f"{seen}Blank {show_size(self.layer.blank, self.unit, mark=True)}, window "
            f"{show_size(self.opening.size, self.unit, mark=True)}. Borders: {sides}."
        )
