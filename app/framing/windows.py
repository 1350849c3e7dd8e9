"""The windows of every layer, what drops out of them, and the grooves around them (G3, G7 to G10, G20).

Owns these results as types and the arithmetic from the layout of the top mat to them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from app.framing.arrangement import Shape
from app.framing.blocks import Hole
from app.framing.layout import Layout
from app.framing.openings import grown, reveals
from app.framing.spec import Mat, Spec, UnderWay
from app.lengths import ZERO, Length, Size

QUARTER_OF_PI = Fraction(355, 452)
"""Share of its rectangle that an oval fills, π/4. Source: 355/113 for π, too large by less than one
part in ten million (Zu Chongzhi, Metius)."""

SQUARE_IN_OVAL = Fraction(7, 10)
"""Share of both axes that the largest rectangle in an oval has: 1/√2, taken down to be safe."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A hole in a mat. size: at the back of the board; face: at its front (G8).

    x, y: left-top corner of the hole at the back, seen from the front, from the edges that the
    borders of its layer are measured from (G7, G9). name: "" for the one window of a piece that
    names none. rise: of an arch's round top at the back; None for other shapes.
    """

    layer: int
    size: Size
    face: Size
    x: Length
    y: Length
    name: str = ""
    shape: Shape = Shape.RECTANGLE
    rise: Length | None = None

    @property
    def area_m2(self) -> Fraction:
        """The area of the hole at the back, in square metres."""
        return self._filled() * self.size.area_m2

    def _filled(self) -> Fraction:
        """Return the share of its rectangle that the outline fills."""
        match self.shape:
            case Shape.RECTANGLE:
                return Fraction(1)
            case Shape.OVAL:
                return QUARTER_OF_PI
            case Shape.ARCH:
                rounded = (self.rise or ZERO) / self.size.height
                return 1 - rounded + QUARTER_OF_PI * rounded


def mirrored(window: Window, whole: Size) -> Window:
    """Return the window as it lies seen from the back: x_back = whole - x - width (G10).

    whole: between the edges that the window's place is measured from.
    """
    return replace(window, x=whole.width - window.x - window.size.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fallout:
    """The piece of board that drops out of a window (C5).

    size: its larger side, as a rule laid on it reads: the hole at the face, with a reverse bevel
    the hole at the back (G8). sound: the largest plain rectangle that is whole through the board,
    with the bevelled edges cut away: of an oval 7/10 of each axis, of an arch its straight part.
    """

    layer: int
    name: str
    size: Size
    sound: Size
    shape: Shape


def fallout_of(window: Window) -> Fallout:
    """Return what drops out of a window."""
    reverse = window.face.width < window.size.width
    larger, smaller = (window.size, window.face) if reverse else (window.face, window.size)
    return Fallout(
        layer=window.layer,
        name=window.name,
        size=larger,
        sound=_sound(window, smaller),
        shape=window.shape,
    )


def _sound(window: Window, smaller: Size) -> Size:
    match window.shape:
        case Shape.RECTANGLE:
            return smaller
        case Shape.OVAL:
            return Size(
                width=smaller.width * SQUARE_IN_OVAL, height=smaller.height * SQUARE_IN_OVAL
            )
        case Shape.ARCH:
            # The round top keeps its middle at both sides of the board; only its rise differs.
            shrunk = (window.size.height - smaller.height) / 2
            rise = (window.rise or ZERO) - shrunk
            return Size(width=smaller.width, height=smaller.height - rise)


@dataclass(frozen=True, slots=True, kw_only=True)
class Groove:
    """A decorative line in the face of the top mat around a window; x, y as a window's.

    rise: of the round top around an arch.
    """

    name: str
    x: Length
    y: Length
    size: Size
    shape: Shape
    rise: Length | None = None


def face_grown(mat: Mat) -> Length:
    """Tell how far the hole at the face reaches out past the one at the back; negative if reverse (G8)."""
    run = mat.bevel.run(mat.thickness)
    return -run if mat.bevel.reverse else run


def holes_of(layout: Layout, spec: Spec) -> Iterator[tuple[Hole, ...]]:
    """Yield the holes at the back of each layer, layer 1 first, in the coordinates of the package (G3)."""
    shown = ZERO
    for reveal in reveals(spec):
        shown = shown + reveal
        yield tuple(hole.grown(-shown) for hole in layout.holes)


def windows_in(layout: Layout, spec: Spec) -> tuple[Window, ...]:
    """Return every window, layer 1 first, within a layer in the order of the openings."""
    windows: list[Window] = []
    for layer, (holes, mat) in enumerate(
        zip(holes_of(layout, spec), spec.mats, strict=True), start=1
    ):
        own_edges = layer > 1 and spec.under.way is UnderWay.OWN_EDGES
        trim = spec.under.trim if own_edges else ZERO
        windows.extend(_window(hole, layer, trim, face_grown(mat)) for hole in holes)
    return tuple(windows)


def _window(hole: Hole, layer: int, trim: Length, out: Length) -> Window:
    return Window(
        layer=layer,
        name=hole.name,
        size=hole.size,
        face=grown(hole.size, out * 2),
        x=hole.x - trim,
        y=hole.y - trim,
        shape=hole.shape,
        rise=hole.rise,
    )


def grooves_in(layout: Layout, spec: Spec) -> tuple[Groove, ...]:
    """Return a line around each window of the top mat, title slots left out, in their order."""
    if spec.groove is None or not spec.mats:
        return ()
    return tuple(
        Groove(name=line.name, x=line.x, y=line.y, size=line.size, shape=line.shape, rise=line.rise)
        for line in groove_lines(layout, spec, spec.groove)
    )


def groove_lines(layout: Layout, spec: Spec, distance: Length) -> tuple[Hole, ...]:
    """Return the outlines of the grooves, at a distance from the edges of the windows at the face."""
    out = face_grown(spec.mats[0]) + distance
    return tuple(hole.grown(out) for hole in layout.holes if not hole.slot)
