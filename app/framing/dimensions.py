"""Every dimension of a piece, as types and arithmetic.

Owns the result types and the arithmetic from a spec to parts (G3 to G18). All lengths are exact;
`steps` turns them into what the shop cuts.
"""

from dataclasses import dataclass

from app.framing.notice import Notice
from app.framing.openings import (
    blank_sizes,
    grown,
    layer_borders,
    package_size,
    window_sizes,
)
from app.framing.spec import Edges, Frame, Mat, Panel, Presentation, Spec
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A hole in a mat. size: at the back of the board; face: at its front (G8)."""

    layer: int
    size: Size
    face: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One mat's blank and the borders as they are set on the cutter (G7)."""

    layer: int
    blank: Size
    borders: Edges


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSizes:
    """One frame. rebate, sight and outside are sizes; rails by their points (G11, G12)."""

    rebate: Size
    sight: Size
    outside: Size

    @property
    def long_points(self) -> tuple[Length, Length]:
        """Outside edge of the rails along the width and along the height; two rails of each."""
        return (self.outside.width, self.outside.height)

    @property
    def short_points(self) -> tuple[Length, Length]:
        """Lip edge of the rails along the width and along the height."""
        return (self.sight.width, self.sight.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimensions:
    """The piece worked out. Sequences: layer 1 first, inner frame first.

    spacers: (length, count) pairs (G14). stack: everything that lies in the rebate (D1).
    """

    spec: Spec
    windows: tuple[Window, ...]
    layers: tuple[Layer, ...]
    package: Size
    frames: tuple[FrameSizes, ...]
    glazing: Size | None
    mount_board: Size | None
    backing: Size | None
    spacers: tuple[tuple[Length, int], ...]
    stack: Length
    notices: tuple[Notice, ...] = ()

    @property
    def outside(self) -> Size:
        """The outside of the outermost frame, or of the package where there is none."""
        return self.frames[-1].outside if self.frames else self.package


def windows_of(spec: Spec) -> tuple[Window, ...]:
    """The windows, layer 1 first, with the hole at the face larger by the bevel's run (G8)."""
    return tuple(
        Window(layer=number, size=size, face=_face_hole(size, mat))
        for number, (size, mat) in enumerate(
            zip(window_sizes(spec), spec.mats, strict=True), start=1
        )
    )


def _face_hole(size: Size, mat: Mat) -> Size:
    run = mat.bevel.run(mat.thickness) * 2
    return grown(size, -run if mat.bevel.reverse else run)


def layers_of(spec: Spec) -> tuple[Layer, ...]:
    """Blanks and borders, layer 1 first (G7)."""
    return tuple(
        Layer(layer=number, blank=blank, borders=borders)
        for number, (blank, borders) in enumerate(
            zip(blank_sizes(spec), layer_borders(spec), strict=True), start=1
        )
    )


def frame_around(package: Size, frame: Frame, *, tray: bool = False) -> FrameSizes:
    """Rebate, sight and outside of a frame around a package (G11, G12).

    A tray has neither lip nor allowance: its inside is the package given (G17).
    """
    lip, allowance = (ZERO, ZERO) if tray else (frame.lip, frame.allowance)
    rebate = grown(package, allowance)
    return FrameSizes(
        rebate=rebate,
        sight=grown(rebate, lip * -2),
        outside=grown(rebate, (frame.face - lip) * 2),
    )


def frames_of(spec: Spec) -> tuple[FrameSizes, ...]:
    """Every frame, the inner one first; each one's outside is the next one's package (G18)."""
    package = package_size(spec)
    frames: list[FrameSizes] = []
    for number, frame in enumerate(spec.frames):
        tray = number == 0 and spec.presentation is Presentation.CANVAS_FLOAT
        frames.append(frame_around(package, frame, tray=tray))
        package = frames[-1].outside
    return tuple(frames)


def stack_of(spec: Spec) -> Length:
    """All that lies one behind the other in the rebate (D1)."""
    panels = (spec.glazing, spec.mount_board, spec.backing)
    return sum(
        (
            *(panel.thickness for panel in panels if panel),
            *(mat.thickness for mat in spec.mats),
            spec.spacer.depth if spec.spacer else ZERO,
            spec.artwork_thickness,
        ),
        ZERO,
    )


def panel_size(package: Size, panel: Panel | None) -> Size | None:
    """A flat part of the package, trimmed at each edge (G14)."""
    return None if panel is None else grown(package, panel.trim * -2)


def spacers_of(spec: Spec) -> tuple[tuple[Length, int], ...]:
    """Two strips along the width, two between them along the height (G14)."""
    if spec.spacer is None:
        return ()
    package = package_size(spec)
    return ((package.width, 2), (package.height - spec.spacer.width * 2, 2))


def dimensions_of(spec: Spec) -> Dimensions:
    """Every dimension of a spec that was found possible."""
    package = package_size(spec)
    return Dimensions(
        spec=spec,
        windows=windows_of(spec),
        layers=layers_of(spec),
        package=package,
        frames=frames_of(spec),
        glazing=panel_size(package, spec.glazing),
        mount_board=panel_size(package, spec.mount_board),
        backing=panel_size(package, spec.backing),
        spacers=spacers_of(spec),
        stack=stack_of(spec),
    )
