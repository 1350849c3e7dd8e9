"""Where every part of a piece lies, seen from the front.

The left-top corner of the whole piece is 0, 0. Frames and package lie about one middle; mats by
their borders; the artwork in the middle of the window next to it, or of the package.
"""

from dataclasses import dataclass

from app.drawings.boxes import Box, coordinate
from app.framing import Dimensions, Layer, Presentation, UnderWay, Window
from app.lengths import Size


@dataclass(frozen=True, slots=True, kw_only=True)
class FramePlace:
    """A frame's outside, the walls of its rebate, and what its lip leaves open."""

    outside: Box
    rebate: Box
    sight: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlace:
    """A mat's blank and its window at the back and at the face of the board.

    edges: what its borders are measured from; the top mat's edges where it is fixed behind it.
    """

    blank: Box
    edges: Box
    window: Box
    face: Box

    @property
    def seen(self) -> Box:
        """What the window leaves open, seen from the front: the smaller of its two holes."""
        return self.window if self.window.width <= self.face.width else self.face


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The parts of a piece in place. Frames: inner one first; mats: top one first."""

    outside: Box
    package: Box
    frames: tuple[FramePlace, ...]
    mats: tuple[MatPlace, ...]
    artwork: Box

    @property
    def sight(self) -> Box:
        """What the innermost frame leaves open, or the package where there is no frame."""
        return self.frames[0].sight if self.frames else self.package


def lay_out(dimensions: Dimensions) -> Layout:
    """Every part in place."""
    outside = _at_origin(dimensions.outside)
    package = outside.around(dimensions.package)
    mats = tuple(
        _mat(dimensions, package, layer, window)
        for layer, window in zip(dimensions.layers, dimensions.windows, strict=True)
    )
    opening = mats[-1].window if mats else package
    return Layout(
        outside=outside,
        package=package,
        frames=tuple(
            FramePlace(
                outside=outside.around(frame.outside),
                rebate=outside.around(frame.rebate),
                sight=outside.around(frame.sight),
            )
            for frame in dimensions.frames
        ),
        mats=mats,
        artwork=opening.around(dimensions.spec.artwork),
    )


def _at_origin(size: Size) -> Box:
    return Box(0, 0, coordinate(size.width), coordinate(size.height))


def _mat(dimensions: Dimensions, package: Box, layer: Layer, window: Window) -> MatPlace:
    """A mat in place; an under mat cut on its own edges is measured from them (G7)."""
    blank = package.around(layer.blank)
    edges = blank if dimensions.spec.under.way is UnderWay.OWN_EDGES else package
    hole = Box(
        edges.x + coordinate(layer.borders.left),
        edges.y + coordinate(layer.borders.top),
        coordinate(window.size.width),
        coordinate(window.size.height),
    )
    return MatPlace(blank=blank, edges=edges, window=hole, face=hole.around(window.face))


def is_tray(dimensions: Dimensions) -> bool:
    """Whether the inner frame is a tray, open at the front, with no lip (G17)."""
    return bool(dimensions.frames) and dimensions.spec.presentation is Presentation.CANVAS_FLOAT
