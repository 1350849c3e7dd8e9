"""The parts of a package in a section, one behind the other, cut through the window at the left."""

from collections.abc import Iterator
from dataclasses import replace

from app.drawings.canvas.boxes import coordinate
from app.drawings.canvas.hatch import (
    ARTWORK,
    BACKING,
    CANVAS_BAR,
    FILLET,
    GLASS,
    MAT,
    MOUNT_BOARD,
    OBJECT,
    SPACER,
    UNDER_MAT,
    HatchMaterial,
)
from app.drawings.piece.layout import lay_out, leftmost
from app.drawings.section.strips import Rebate, Strip, Widths
from app.framing import Dimensions, Mat, Presentation, UnderWay
from app.framing.fillets import shown_of
from app.framing.objects import behind_mats, room_over_object
from app.lengths import ZERO, Length

BAR = 2.0
"""A stretcher bar is drawn this many times as wide as it is deep, at most the section's depth."""


class Shelf:
    """The package's parts from the front to the back, each where the one before it ends."""

    def __init__(self, dimensions: Dimensions, widths: Widths, rebate: Rebate) -> None:
        self.dimensions, self.spec, self.widths = dimensions, dimensions.spec, widths
        self.start, self.front = rebate.package, rebate.front
        layout = lay_out(dimensions)
        cut_through = leftmost(layout) if layout.mats else 0
        self.before = layout.windows_before(cut_through)
        self.behind = layout.artwork_behind(cut_through)
        inside = max(rebate.lip, rebate.package)
        self.windows = tuple(self._windows(inside))
        window = self.windows[-1] if self.windows else inside
        self.artwork = self._artwork_from(window)
        self.fillet = self._fillet_from(window)
        self.end = max(window, self.artwork, inside, self.fillet[1]) + widths.depth

    def _windows(self, inside: float) -> Iterator[float]:
        """Yield where each window begins at the back of its board, layer 1 first."""
        if not self.spec.mats:
            return
        true = self.start + coordinate(self.before[0].sizes.x)
        at = min(true, inside + self.widths.depth * 0.7)
        self.widths.shortened = self.widths.shortened or at < true
        for mat in self.spec.mats:
            at += self.widths.of(mat.reveal or ZERO, 0.8)
            yield at

    def _artwork_from(self, window: float) -> float:
        """Tell where the artwork begins: behind the mat, in its window, or at the rebate."""
        spec = self.spec
        if spec.presentation.matted and self.behind.floats:
            return (window if spec.mats else self.start) + self.widths.of(self.behind.gap, 0.8)
        if spec.mats:
            return max(window - self.widths.of(self._covered(), 0.8), self.start)
        loose = (self.dimensions.package.width - spec.artwork.width) / 2
        return self.start + self.widths.of(loose, 0.8)

    def _covered(self) -> Length:
        """Return what the last mat covers of the artwork at the left of the window."""
        window, one = self.before[-1].sizes, self.dimensions.behind_all
        if one is None:
            return (self.behind.size.width - window.size.width) / 2
        top = self.before[0].sizes
        return top.x + (top.size.width - window.size.width) / 2 - one.x

    def _fillet_from(self, window: float) -> tuple[float, float]:
        """Tell where the fillet begins behind the mat and ends inside the window; at it without one."""
        fillet = self.spec.fillet
        if fillet is None:
            return (window, window)
        tucked = max(window - self.widths.of(fillet.tuck, 0.8), self.start)
        return (tucked, window + self.widths.of(shown_of(fillet), 0.8))

    def strips(self) -> Iterator[Strip]:
        """Yield every part, the front one first."""
        spec, whole = self.spec, (self.start, self.end)
        if spec.glazing:
            yield self._strip("glazing", GLASS, spec.glazing.thickness, whole)
        yield from self._box() if spec.boxed else self._lying()
        if spec.mount_board:
            yield self._strip("mount board", MOUNT_BOARD, spec.mount_board.thickness, whole)
        if spec.backing:
            yield self._strip("backing", BACKING, spec.backing.thickness, whole)

    def _lying(self) -> Iterator[Strip]:
        """Yield what lies behind the glazing, one behind the other (D1)."""
        yield from self._spacer()
        yield from self._mats()
        yield self._artwork()

    def _box(self) -> Iterator[Strip]:
        """Mats and the spacers behind them, and the object that stands on the board within (G22)."""
        object_, front = self.spec.artwork_thickness, self.front
        self.front = front + max(-coordinate(room_over_object(self.spec)), 0.0)
        yield from self._mats()
        yield from self._spacer()
        floor = self.front
        self.front = floor - coordinate(object_)
        higher = object_ > behind_mats(self.spec)
        begins = self.windows[-1] if self.windows and higher else self.artwork
        inside = max(begins, self.artwork, self._block[1] if self.spec.spacer else self.start)
        yield self._strip("object", OBJECT, object_, (inside, self.end))

    def _spacer(self) -> Iterator[Strip]:
        if self.spec.spacer:
            yield self._strip("spacer", SPACER, self.spec.spacer.depth, self._block)

    @property
    def _block(self) -> tuple[float, float]:
        """Where a spacer begins and ends."""
        width = self.spec.spacer.width if self.spec.spacer else ZERO
        return (self.start, self.start + self.widths.of(width, 1.0))

    def _mats(self) -> Iterator[Strip]:
        for index, mat in enumerate(self.spec.mats):
            yield self._mat(index, mat)
        if self.spec.fillet:
            yield self._strip("fillet", FILLET, self.spec.fillet.thickness, self.fillet)

    def _artwork(self) -> Strip:
        spec = self.spec
        if spec.presentation is not Presentation.CANVAS:
            extent = (self.artwork, self.end)
            as_it_came = spec.presentation is Presentation.AS_IT_CAME
            name = "what is in it" if as_it_came else "artwork"
            return self._strip(name, ARTWORK, spec.artwork_thickness, extent)
        bar = min(coordinate(spec.artwork_thickness) * BAR, self.widths.depth)
        extent = (self.artwork, self.artwork + bar)
        return self._strip("canvas on bars", CANVAS_BAR, spec.artwork_thickness, extent)

    def _mat(self, index: int, mat: Mat) -> Strip:
        """Return a mat with its bevel: the hole at the face begins further out, or in on a reverse one."""
        window, run = self.windows[index], coordinate(mat.bevel.run(mat.thickness))
        trimmed = index and self.spec.under.way is UnderWay.OWN_EDGES
        first = self.start + (coordinate(self.spec.under.trim) if trimmed else 0.0)
        name = "mat" if len(self.spec.mats) == 1 else f"mat {index + 1}:"
        face = window + (run if mat.bevel.reverse else -run)
        material = UNDER_MAT if index % 2 else MAT
        cut = self._strip(name, material, mat.thickness, (first, face), (first, window))
        return replace(cut, mat=index)

    def _strip(
        self,
        name: str,
        material: HatchMaterial,
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
