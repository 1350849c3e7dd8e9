"""A section through one side of the frame and of everything behind its lip, in millimetres.

x runs from the outside of the frame inwards, y from the front to the back. Depths are true. Of
widths, a face, border, reveal, gap or overlap that is long beside the depth is drawn shorter, and
the section says so. How high a moulding stands in front of its rebate, and how thick the floor of
a tray is, are not known and only indicated.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.drawings.boxes import coordinate
from app.drawings.hatch import (
    ARTWORK,
    BACKING,
    CANVAS_BAR,
    GLASS,
    MAT,
    MOUNT_BOARD,
    SPACER,
    UNDER_MAT,
    Material,
)
from app.drawings.layout import is_tray, lay_out, leftmost
from app.drawings.svg import Point
from app.framing import Dimensions, Frame, Mat, Presentation, UnderWay
from app.lengths import ZERO, Length

BAR = 2.0
"""A stretcher bar is drawn this many times as wide as it is deep, at most the section's depth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One part of the package, cut through.

    top, bottom: its true depths. front, back: where it begins and ends at its front and its back;
    the two differ on a bevel.
    """

    name: str
    material: Material
    thickness: Length
    top: float
    bottom: float
    front: tuple[float, float]
    back: tuple[float, float]

    @property
    def middle(self) -> float:
        """The depth of its middle."""
        return (self.top + self.bottom) / 2

    @property
    def end(self) -> float:
        """Where it ends at half its depth."""
        return (self.front[1] + self.back[1]) / 2

    def outline(self, least: float) -> tuple[Point, ...]:
        """Its corners, drawn at least so thick about the same middle."""
        half = max(self.bottom - self.top, least) / 2
        top, bottom = self.middle - half, self.middle + half
        return (
            (self.front[0], top),
            (self.front[1], top),
            (self.back[1], bottom),
            (self.back[0], bottom),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """The section's parts.

    front, back: depths between which the rebate, or the inside of a tray, lies. wall, lip: where
    the lip begins and ends, equal where there is none. skin: a canvas about its bar.
    shortened: whether any width is.
    """

    moulding: tuple[Point, ...]
    strips: tuple[Strip, ...]
    skin: tuple[Point, ...]
    front: float
    back: float
    wall: float
    lip: float
    end: float
    shortened: bool

    @property
    def top(self) -> float:
        """The depth of what stands foremost."""
        return min([y for _, y in self.moulding] + [strip.top for strip in self.strips])

    @property
    def bottom(self) -> float:
        """The depth of what lies hindmost."""
        return max([y for _, y in self.moulding] + [strip.bottom for strip in self.strips])


class _Widths:
    """Draws widths true as far as a limit, and remembers whether one was shortened."""

    def __init__(self, dimensions: Dimensions) -> None:
        frames = dimensions.spec.frames
        deepest = max(dimensions.stack, frames[0].rebate_depth if frames else ZERO)
        self.depth, self.shortened = max(coordinate(deepest), 10.0), False

    def of(self, length: Length, limit: float) -> float:
        """A width, at most `limit` times the depth of the section."""
        true, most = coordinate(length), self.depth * limit
        if true > most:
            self.shortened = True
        return max(min(true, most), 0.0)


def profile_of(dimensions: Dimensions) -> Profile:
    """The section through one side of the innermost frame, or of the package by itself."""
    widths = _Widths(dimensions)
    frame = dimensions.spec.frames[0] if dimensions.spec.frames else None
    if frame is None:
        return _assemble(dimensions, widths, _Rebate(0.0, 0.0, 0.0, 0.0, 0.0), ())
    if is_tray(dimensions):
        return _tray(dimensions, frame, widths)
    front = min(max(coordinate(frame.rebate_depth) * 0.45, 4.0), 14.0)
    wall = widths.of(frame.face - frame.lip, 1.2)
    rebate = _Rebate(
        front=front,
        back=front + coordinate(frame.rebate_depth),
        wall=wall,
        lip=wall + widths.of(frame.lip, 1.0),
        package=wall + coordinate(frame.allowance) / 2,
    )
    return _assemble(dimensions, widths, rebate, _moulding(rebate))


@dataclass(frozen=True, slots=True)
class _Rebate:
    """The room for the package. package: where it begins, past half the allowance."""

    front: float
    back: float
    wall: float
    lip: float
    package: float


def _moulding(rebate: _Rebate) -> tuple[Point, ...]:
    """An L with an eased outer edge and a face that falls towards the lip."""
    front, wall, lip = rebate.front, rebate.wall, rebate.lip
    return (
        (0, front * 0.25),
        (wall * 0.1, 0),
        (wall * 0.7, 0),
        (wall * 0.95, front * 0.3),
        (lip - (lip - wall) * 0.15, front * 0.5),
        (lip, front * 0.65),
        (lip, front),
        (wall, front),
        (wall, rebate.back),
        (0, rebate.back),
    )


def _assemble(
    dimensions: Dimensions, widths: _Widths, rebate: _Rebate, moulding: tuple[Point, ...]
) -> Profile:
    shelf = _Shelf(dimensions, widths, rebate)
    strips = tuple(shelf.strips())
    return Profile(
        moulding=moulding,
        strips=strips,
        skin=next((_skin(s, shelf.end) for s in strips if s.material is CANVAS_BAR), ()),
        front=rebate.front,
        back=rebate.back,
        wall=rebate.wall,
        lip=rebate.lip,
        end=shelf.end,
        shortened=widths.shortened,
    )


def _skin(bar: Strip, end: float) -> tuple[Point, ...]:
    """Canvas: over the front, around the edge, and fixed behind."""
    start = bar.front[0]
    behind = start + (bar.back[1] - start) * 0.45
    return ((end, bar.top), (start, bar.top), (start, bar.bottom), (behind, bar.bottom))


def _tray(dimensions: Dimensions, frame: Frame, widths: _Widths) -> Profile:
    """A tray: wall and floor, the canvas standing on the floor with a gap to the wall."""
    spec = dimensions.spec
    deep, canvas = coordinate(frame.rebate_depth), coordinate(spec.artwork_thickness)
    floor = max(deep, canvas)
    wall = widths.of(frame.face, 1.0)
    start = wall + widths.of(spec.gap, 0.8)
    bar = start + min(canvas * BAR, widths.depth)
    end, under = bar + widths.depth * 0.4, floor + min(max(deep * 0.2, 3.0), 8.0)
    rim = floor - deep
    strip = Strip(
        name="canvas on bars",
        material=CANVAS_BAR,
        thickness=spec.artwork_thickness,
        top=floor - canvas,
        bottom=floor,
        front=(start, bar),
        back=(start, bar),
    )
    return Profile(
        moulding=(
            (0, rim),
            (wall, rim),
            (wall, floor),
            (bar, floor),
            (bar, under),
            (0, under),
        ),
        strips=(strip,),
        skin=_skin(strip, end),
        front=rim,
        back=floor,
        wall=wall,
        lip=wall,
        end=end,
        shortened=widths.shortened,
    )


class _Shelf:
    """The package's parts from the front to the back, each where the one before it ends."""

    def __init__(self, dimensions: Dimensions, widths: _Widths, rebate: _Rebate) -> None:
        self.dimensions, self.spec, self.widths = dimensions, dimensions.spec, widths
        self.start, self.front = rebate.package, rebate.front
        layout = lay_out(dimensions)
        cut_through = leftmost(layout) if layout.mats else 0
        self.before = layout.windows_before(cut_through)
        self.behind = layout.artworks[cut_through]
        inside = max(rebate.lip, rebate.package)
        self.windows = tuple(self._windows(inside))
        window = self.windows[-1] if self.windows else inside
        self.artwork = self._artwork_from(window)
        self.end = max(window, self.artwork, inside) + widths.depth

    def _windows(self, inside: float) -> Iterator[float]:
        """Where each window begins at the back of its board, layer 1 first."""
        if not self.spec.mats:
            return
        true = self.start + coordinate(self.before[0].sizes.x)
        at = min(true, inside + self.widths.depth * 0.7)
        self.widths.shortened = self.widths.shortened or at < true
        for mat in self.spec.mats:
            at += self.widths.of(mat.reveal or ZERO, 0.8)
            yield at

    def _artwork_from(self, window: float) -> float:
        """Where the artwork begins: behind the mat, in its window, or at the rebate."""
        spec = self.spec
        if spec.presentation.matted and self.behind.floats:
            return (window if spec.mats else self.start) + self.widths.of(self.behind.gap, 0.8)
        if spec.mats:
            cover = (self.behind.size.width - self.before[-1].sizes.size.width) / 2
            return max(window - self.widths.of(cover, 0.8), self.start)
        loose = (self.dimensions.package.width - spec.artwork.width) / 2
        return self.start + self.widths.of(loose, 0.8)

    def strips(self) -> Iterator[Strip]:
        """Every part, the front one first."""
        spec, whole = self.spec, (self.start, self.end)
        if spec.glazing:
            yield self._strip("glazing", GLASS, spec.glazing.thickness, whole)
        if spec.spacer:
            block = (self.start, self.start + self.widths.of(spec.spacer.width, 1.0))
            yield self._strip("spacer", SPACER, spec.spacer.depth, block)
        for index, mat in enumerate(spec.mats):
            yield self._mat(index, mat)
        yield self._artwork()
        if spec.mount_board:
            yield self._strip("mount board", MOUNT_BOARD, spec.mount_board.thickness, whole)
        if spec.backing:
            yield self._strip("backing", BACKING, spec.backing.thickness, whole)

    def _artwork(self) -> Strip:
        spec = self.spec
        if spec.presentation is not Presentation.CANVAS:
            extent = (self.artwork, self.end)
            return self._strip("artwork", ARTWORK, spec.artwork_thickness, extent)
        bar = min(coordinate(spec.artwork_thickness) * BAR, self.widths.depth)
        extent = (self.artwork, self.artwork + bar)
        return self._strip("canvas on bars", CANVAS_BAR, spec.artwork_thickness, extent)

    def _mat(self, index: int, mat: Mat) -> Strip:
        """A mat with its bevel: the hole at the face begins further out, or in on a reverse one."""
        window, run = self.windows[index], coordinate(mat.bevel.run(mat.thickness))
        trimmed = index and self.spec.under.way is UnderWay.OWN_EDGES
        first = self.start + (coordinate(self.spec.under.trim) if trimmed else 0.0)
        name = "mat" if len(self.spec.mats) == 1 else f"mat {index + 1}:"
        face = window + (run if mat.bevel.reverse else -run)
        material = UNDER_MAT if index % 2 else MAT
        return self._strip(name, material, mat.thickness, (first, face), (first, window))

    def _strip(
        self,
        name: str,
        material: Material,
        thickness: Length,
        front: tuple[float, float],
        back: tuple[float, float] | None = None,
    ) -> Strip:
        top = self.front
        self.front = top + coordinate(thickness)
        return Strip(
            name=name,
            material=material,
            thickness=thickness,
            top=top,
            bottom=self.front,
            front=front,
            back=back or front,
        )
