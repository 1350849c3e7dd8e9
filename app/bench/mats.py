"""The mats that go to the cutter: blanks, the edges that count, and the windows in them.

Owns what is needed of a mat at the bench. Where windows go is decided elsewhere; here it is only
held to be possible. Positions are seen from the front, at the back line (G9).
"""

from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from app.bench.edge import Edge
from app.errors import FaultCollector
from app.framing import Dimensions, Layer, Mat, Shape, UnderWay, Window
from app.lengths import ZERO, Length, Size, Unit, say


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedWindow:
    """A window: its left-top corner from the left-top corner of the edges that count, its size.

    rise: of an arch's round top; None for every other shape (G20).
    Raises: Invalid.
    """

    name: str
    x: Length
    y: Length
    width: Length
    height: Length
    shape: Shape = Shape.RECTANGLE
    rise: Length | None = None

    def __post_init__(self) -> None:
        found = FaultCollector()
        if not self.name.strip():
            found.add("name", "A window has no name; each one needs its own.")
        for path, length in (("width", self.width), ("height", self.height)):
            if length <= ZERO:
                found.add(
                    path,
                    f"The {path} of window {self.name} is {say(length, Unit.MM)}; it must be above zero.",
                )
        self._check_rise(found)
        found.finish()

    def _check_rise(self, found: FaultCollector) -> None:
        if self.shape is Shape.ARCH and (self.rise is None or not ZERO < self.rise <= self.height):
            given = "not given" if self.rise is None else say(self.rise, Unit.MM)
            found.add(
                "rise",
                f"The rise of arched window {self.name} is {given}; it must be above zero and at "
                f"most its height, {say(self.height, Unit.MM)}.",
            )
        if self.shape is not Shape.ARCH and self.rise is not None:
            found.add("rise", f"Window {self.name} is no arch; only an arch has a rise.")

    @property
    def straight(self) -> bool:
        """Whether the whole outline is cut along the guide."""
        return self.shape is Shape.RECTANGLE

    @property
    def straight_edges(self) -> tuple[Edge, ...]:
        """The edges that are cut along the guide, clockwise from the left."""
        match self.shape:
            case Shape.RECTANGLE:
                return tuple(Edge)
            case Shape.ARCH:
                return (Edge.LEFT, Edge.RIGHT, Edge.BOTTOM) if self.sides else (Edge.BOTTOM,)
            case Shape.OVAL:
                return ()

    @property
    def sides(self) -> Length:
        """The height of the straight sides."""
        match self.shape:
            case Shape.RECTANGLE:
                return self.height
            case Shape.ARCH:
                return self.height - (self.rise or ZERO)
            case Shape.OVAL:
                return ZERO

    @property
    def size(self) -> Size:
        """The width and height at the back line."""
        return Size(self.width, self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class MatToCut:
    """One mat of a piece. Raises: Invalid with every fault.

    reference: the edges that borders are measured from and that lie against the guide: the package
    where an under mat is worked attached, else its own blank (G7); the blank lies in its middle.
    run: how far the bevel runs sideways through the board, thickness / tan β (G8). reverse: the
    hole at the face is the smaller one. attached: fixed behind the mat above once that is cut. ready_cut: its blank is
    bought in its size.
    """

    piece: str
    layer: int
    blank: Size
    reference: Size
    windows: tuple[NamedWindow, ...]
    thickness: Length
    run: Length
    reverse: bool = False
    attached: bool = False
    ready_cut: bool = False

    def __post_init__(self) -> None:
        found = FaultCollector()
        self._check_board(found)
        self._check_names(found)
        trim = self.trim
        for window in self.windows:
            self._check_place(found, window, trim)
        places = [(window, _Place.of(window)) for window in self.windows]
        for (one, its), (other, others) in combinations(places, 2):
            # Two circles may stand staggered, the rectangles around them sharing a corner.
            if its.overlaps(others) and (one.straight_edges or other.straight_edges):
                found.add("windows", f"Windows {one.name} and {other.name} overlap.")
        found.finish()

    @property
    def key(self) -> tuple[str, int]:
        """The piece and the layer, by which no two mats on the bench are alike."""
        return (self.piece, self.layer)

    @property
    def back_up(self) -> bool:
        """Whether it lies back up on the cutter, as all do but those with a reverse bevel (common practice)."""
        return not self.reverse

    @property
    def trim(self) -> Size:
        """The width and height by which the blank falls short, at each edge, of the edges that sizes
        are measured from.
        """
        return Size(
            (self.reference.width - self.blank.width) / 2,
            (self.reference.height - self.blank.height) / 2,
        )

    def border(self, window: NamedWindow, edge: Edge) -> Length:
        """From an edge of the board to the window's edge of that name, at the back line."""
        match edge:
            case Edge.LEFT:
                return window.x
            case Edge.TOP:
                return window.y
            case Edge.RIGHT:
                return self.reference.width - window.x - window.width
            case Edge.BOTTOM:
                return self.reference.height - window.y - window.height

    def as_it_lies(self, edge: Edge) -> Edge:
        """Return an edge as it lies on the cutter."""
        return edge.mirrored if self.back_up else edge

    def _check_board(self, found: FaultCollector) -> None:
        if self.layer < 1:
            found.add("layer", f"Layer {self.layer} was given; the top mat is layer 1.")
        if self.attached and self.layer == 1:
            found.add("attached", "Layer 1 has no mat above it to be fixed behind.")
        if self.thickness <= ZERO:
            found.add(
                "thickness",
                f"The board is {say(self.thickness, Unit.MM)} thick; it must be above zero.",
            )
        if self.run < ZERO:
            found.add("run", f"The bevel runs {say(self.run, Unit.MM)}; it cannot be below zero.")
        if min(self.blank.width, self.blank.height) <= ZERO:
            found.add("blank", f"The blank is {say(self.blank, Unit.MM)}; it must be above zero.")
        if min(self.trim.width, self.trim.height) < ZERO:
            found.add(
                "reference",
                f"The blank of {say(self.blank, Unit.MM)} is larger than the edges it is worked from, "
                f"{say(self.reference, Unit.MM)}.",
            )

    def _check_names(self, found: FaultCollector) -> None:
        names = [window.name for window in self.windows]
        for name in sorted({name for name in names if names.count(name) > 1}):
            found.add("windows", f"More than one window is called {name}; each needs its own name.")

    def _check_place(self, found: FaultCollector, window: NamedWindow, trim: Size) -> None:
        for edge in Edge:
            trimmed = trim.width if edge.upright else trim.height
            border = self.border(window, edge) - trimmed
            if border < ZERO:
                found.add(
                    "windows",
                    f"Window {window.name} reaches {say(-border, Unit.MM)} past the board at the {edge}; "
                    "it must lie in it.",
                )


def mats_to_cut(cut: Dimensions, *, piece: str = "") -> tuple[MatToCut, ...]:
    """Return the mats of a piece with all their windows, layer 1 first.

    cut: in the shop's steps, as `in_steps` answers. piece: what tells its mats from those of other
    pieces on the bench. Raises: Invalid where rounding to steps left a window no board or no size.
    """
    return tuple(
        _mat_to_cut(cut, mat, layer, piece)
        for mat, layer in zip(cut.spec.mats, cut.layers, strict=True)
    )


def _mat_to_cut(cut: Dimensions, mat: Mat, layer: Layer, piece: str) -> MatToCut:
    attached = layer.layer > 1 and cut.spec.under.way is UnderWay.ATTACHED
    return MatToCut(
        piece=piece,
        layer=layer.layer,
        blank=layer.blank,
        reference=cut.layers[0].blank if attached else layer.blank,
        windows=tuple(_named(window) for window in cut.windows_of(layer.layer)),
        thickness=mat.thickness,
        run=mat.bevel.run(mat.thickness),
        reverse=mat.bevel.reverse,
        attached=attached,
    )


def _named(window: Window) -> NamedWindow:
    return NamedWindow(
        name=window.name or "window",
        x=window.x,
        y=window.y,
        width=window.size.width,
        height=window.size.height,
        shape=window.shape,
        rise=window.rise,
    )


class _Place(NamedTuple):
    """Where a window begins and ends, in millimetres."""

    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction

    @classmethod
    def of(cls, window: NamedWindow) -> "_Place":
        x, y = window.x.mm, window.y.mm
        return cls(x, x + window.width.mm, y, y + window.height.mm)

    def overlaps(self, other: "_Place") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )
