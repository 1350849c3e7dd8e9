"""Where every part of a piece lies, seen from the front.

The left-top corner of the whole piece is 0, 0. Frames and package lie about one middle; windows
where they were worked out; each artwork in the middle of its window, or of the package, and one behind all windows where that has its place.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.shapes import Outline
from app.framing import Dimensions, Groove, Layer, Opening, Presentation, UnderWay, Window
from app.framing.openings import floats, gap_of, grown, openings_of, overlap_of
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class FramePlace:
    """A frame's outside, the walls of its rebate, and what its lip leaves open."""

    outside: Box
    rebate: Box
    sight: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class FilletPlace:
    """A fillet's outside behind the mat, the window that it lines, and what it leaves open.

    raised: where its face begins to rise behind its lip; within the window where the lip shows.
    """

    outside: Box
    window: Box
    raised: Box
    sight: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlace:
    """A hole in a mat, at the back and at the face of the board. opening: index of its opening.

    slot: whether it is a title slot. sizes: the window as it was worked out.
    """

    opening: int
    slot: bool
    sizes: Window
    window: Outline
    face: Outline

    @property
    def name(self) -> str:
        """The name of the window; "" for the one window of a piece that names none."""
        return self.sizes.name

    @property
    def seen(self) -> Outline:
        """The opening as it is seen from the front: the smaller of its two outlines."""
        return self.window if self.window.box.width <= self.face.box.width else self.face


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlace:
    """A mat's blank and its holes, in the order of the openings.

    edges: what its borders are measured from; the top mat's edges where it is fixed behind it.
    """

    blank: Box
    edges: Box
    holes: tuple[HolePlace, ...]

    @property
    def window(self) -> Box:
        """The first window at the back of the board."""
        return self.holes[0].window.box

    @property
    def face(self) -> Box:
        """The first window at the face of the board."""
        return self.holes[0].face.box


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtworkPlace:
    """An artwork in its window. gap: how far it stays off the mat where it floats."""

    box: Box
    size: Size
    floats: bool
    gap: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingLayout:
    """The parts of a piece in place. Frames: inner one first; mats: top one first. artworks: one for each window, or the
    one behind all of them.
    """

    outside: Box
    package: Box
    frames: tuple[FramePlace, ...]
    mats: tuple[MatPlace, ...]
    artworks: tuple[ArtworkPlace, ...]
    grooves: tuple[Outline, ...] = ()
    fillets: tuple[FilletPlace, ...] = ()

    @property
    def sight(self) -> Box:
        """The opening of the innermost frame, or the package where there is no frame."""
        return self.frames[0].sight if self.frames else self.package

    def windows_before(self, opening: int) -> tuple[HolePlace, ...]:
        """Return the windows in front of one opening's artwork, layer 1 first, without title slots."""
        return tuple(
            hole
            for mat in self.mats
            for hole in mat.holes
            if hole.opening == opening and not hole.slot
        )

    def artwork_behind(self, opening: int) -> ArtworkPlace:
        """Return the artwork that shows in the window of one opening."""
        return self.artworks[opening] if len(self.artworks) > 1 else self.artworks[0]

    @property
    def artwork(self) -> Box:
        """The first artwork."""
        return self.artworks[0].box


def lay_out(dimensions: Dimensions) -> DrawingLayout:
    """Return every part in place."""
    outside = Box.of(dimensions.drawn_outside)
    package = outside.around(dimensions.package)
    mats = tuple(_mat(dimensions, package, layer) for layer in dimensions.layers)
    return DrawingLayout(
        outside=outside,
        package=package,
        frames=tuple(
            FramePlace(
                outside=outside.around(frame.outside),
                rebate=outside.around(frame.rebate),
                sight=outside.around(frame.sight),
            )
            for frame in dimensions.surrounds
        ),
        mats=mats,
        artworks=tuple(_artworks(dimensions, package, mats)),
        grooves=tuple(_groove(groove, package) for groove in dimensions.grooves),
        fillets=tuple(_fillets(dimensions, mats)),
    )


def _fillets(dimensions: Dimensions, mats: tuple[MatPlace, ...]) -> Iterator[FilletPlace]:
    """Yield each fillet about the middle of its window in the last mat (G19)."""
    fillet = dimensions.spec.fillet
    if fillet is None or not mats:
        return
    windows = (hole.window.box for hole in mats[-1].holes if not hole.slot)
    for window, sizes in zip(windows, dimensions.fillets, strict=True):
        outside = window.around(sizes.outside)
        yield FilletPlace(
            outside=outside,
            window=window,
            raised=outside.inset(coordinate(fillet.lip)),
            sight=window.around(sizes.sight),
        )


def _mat(dimensions: Dimensions, package: Box, layer: Layer) -> MatPlace:
    """Return a mat in place; an under mat cut on its own edges is measured from them (G7)."""
    blank = package.around(layer.blank)
    edges = blank if dimensions.spec.under.way is UnderWay.OWN_EDGES else package
    return MatPlace(blank=blank, edges=edges, holes=tuple(_holes(dimensions, edges, layer)))


def _holes(dimensions: Dimensions, edges: Box, layer: Layer) -> Iterator[HolePlace]:
    """Yield the holes of a layer: of each opening its window, then its title slot if it has one."""
    windows = iter(dimensions.windows_of(layer.layer))
    for index, opening in enumerate(openings_of(dimensions.spec)):
        yield _hole(next(windows), edges, index, slot=False)
        if opening.slot is not None:
            yield _hole(next(windows), edges, index, slot=True)


def _hole(sizes: Window, edges: Box, opening: int, *, slot: bool) -> HolePlace:
    box = Box.of(sizes.size, sizes.x, sizes.y).moved(edges.x, edges.y)
    rise = coordinate(sizes.rise) if sizes.rise else 0.0
    face = box.around(sizes.face)
    # Straight sides end at one line on both sides of the board; only the rise differs.
    face_rise = rise + (face.height - box.height) / 2 if rise else 0.0
    return HolePlace(
        opening=opening,
        slot=slot,
        sizes=sizes,
        window=Outline(box, sizes.shape, rise),
        face=Outline(face, sizes.shape, face_rise),
    )


def _groove(groove: Groove, package: Box) -> Outline:
    box = Box.of(groove.size, groove.x, groove.y).moved(package.x, package.y)
    return Outline(box, groove.shape, coordinate(groove.rise) if groove.rise else 0.0)


def _artworks(
    dimensions: Dimensions, package: Box, mats: tuple[MatPlace, ...]
) -> Iterator[ArtworkPlace]:
    """Yield each artwork about the middle of the window next to it; the one behind all windows in its own place."""
    spec, one = dimensions.spec, dimensions.behind_all
    if one is not None:
        box = Box.of(one.size, one.x, one.y).moved(package.x, package.y)
        yield ArtworkPlace(box=box, size=one.size, floats=False, gap=ZERO)
        return
    holes = [hole for hole in mats[-1].holes if not hole.slot] if mats else [None]
    for hole, opening in zip(holes, openings_of(spec), strict=False):
        around = package if hole is None else hole.window.box
        size = _artwork_size(dimensions, opening, hole)
        yield ArtworkPlace(
            box=around.around(size),
            size=size,
            floats=floats(spec, opening),
            gap=gap_of(spec, opening),
        )


def _artwork_size(dimensions: Dimensions, opening: Opening, hole: HolePlace | None) -> Size:
    """As given; where only the window was, an artwork that it would suit."""
    spec = dimensions.spec
    if opening.artwork is not None or hole is None or len(spec.openings) == 1:
        return opening.artwork or spec.artwork
    shown = gap_of(spec, opening) * -2 if floats(spec, opening) else overlap_of(spec, opening) * 2
    return grown(hole.sizes.size, shown)


def leftmost(layout: DrawingLayout) -> int:
    """Return the opening whose window lies furthest to the left, the upper one of several."""
    windows = (hole for hole in layout.mats[0].holes if not hole.slot)
    return min(windows, key=lambda hole: (hole.window.box.x, hole.window.box.y)).opening


def is_tray(dimensions: Dimensions) -> bool:
    """Tell whether the inner frame is a tray, open at the front, with no lip (G17)."""
    return bool(dimensions.frames) and dimensions.spec.presentation is Presentation.CANVAS_FLOAT
