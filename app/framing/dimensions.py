"""Every dimension of a piece, as types and arithmetic.

Owns the result types and the arithmetic from a spec to parts (G3 to G19). All lengths are exact;
`steps` turns them into what the shop cuts.
"""

from dataclasses import dataclass

from app.framing.behind_all import BehindAll, placed_behind_all, reaches_behind_all
from app.framing.fillets import FilletRails, FilletSizes, fillets_in, rails_of
from app.framing.given_frame import GivenFrame
from app.framing.layout import Layout, lay_out
from app.framing.notice import Notice
from app.framing.objects import in_front_of_board
from app.framing.openings import grown, openings_of, reveals
from app.framing.spec import Edges, Frame, Panel, Presentation, Spec, UnderWay
from app.framing.windows import Fallout, Groove, Window, fallout_of, grooves_in, windows_in
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One mat's blank and its borders, each to the nearest window, as set on the cutter (G7)."""

    layer: int
    blank: Size
    borders: Edges


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSizes:
    """One frame. rebate, sight and outside are sizes; rails by their points (G11, G12).

    In steps only the outside is rounded, since rails are cut by their long points: rebate and sight are
    what those rails make, and lie off the steps where face or lip do.
    """

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
class Gaps:
    """Between neighbouring windows of the top mat, exact; None where no two are neighbours."""

    across: Length | None = None
    down: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimensions:
    """The piece worked out. Sequences: layer 1 first, inner frame first.

    windows: of layer 1 in the order of the openings, a title slot behind its window, then of the
    next layer. gaps: None where places were given and in steps, where they may differ by a step. spacers: (length, count) pairs (G14). stack:
    everything that lies in the rebate (D1). reaches_behind_all: whether one artwork lies behind all
    of several windows, which exact sizes settle, so that steps do not change it.
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
    grooves: tuple[Groove, ...] = ()
    gaps: Gaps | None = None
    notices: tuple[Notice, ...] = ()
    fillets: tuple[FilletSizes, ...] = ()
    reaches_behind_all: bool = False

    @property
    def fillet_rails(self) -> tuple[FilletRails, ...]:
        """The rails of all fillets by their length, the longest first (G19)."""
        return rails_of(self.fillets)

    @property
    def surrounds(self) -> tuple[FrameSizes, ...]:
        """What surrounds the package, as of `Spec.profiles`: frames that are made, or the one given (G24).

        Of that one sight and outside are as it is drawn where they were not measured.
        """
        given = self.spec.given_frame
        return self.frames if given is None else (sizes_of_given(self.spec, given),)

    @property
    def drawn_outside(self) -> Size:
        """The outside as it is drawn; only of a frame that is given may it differ from what is known of it."""
        surrounds = self.surrounds
        return surrounds[-1].outside if surrounds else self.package

    @property
    def outside(self) -> Size:
        """The outside of the outermost frame, or of the package where there is none.

        Of a frame that is given only what was measured counts: the outside, else the rebate.
        """
        given = self.spec.given_frame
        if given is not None:
            return given.outside or given.counted
        return self.frames[-1].outside if self.frames else self.package

    def windows_of(self, layer: int) -> tuple[Window, ...]:
        """Return the windows of one layer, in the order of the openings."""
        return tuple(window for window in self.windows if window.layer == layer)

    @property
    def fallouts(self) -> tuple[Fallout, ...]:
        """What drops out of each window, in their order (C5)."""
        return tuple(fallout_of(window) for window in self.windows)

    @property
    def artworks(self) -> tuple[tuple[str, Size], ...]:
        """(name of its window, size) of every artwork that was given; the name is "" of one behind all windows."""
        if self.reaches_behind_all:
            return (("", self.spec.artwork),)
        return tuple(
            (opening.name, opening.artwork)
            for opening in openings_of(self.spec)
            if opening.artwork is not None
        )

    @property
    def behind_all(self) -> BehindAll | None:
        """The one artwork behind several windows, which were all given outright; None where windows have artworks of their own."""
        if not self.reaches_behind_all:
            return None
        return placed_behind_all(self.spec, self.windows_of(1), self.package)


def layer_borders(layout: Layout, spec: Spec) -> tuple[Edges, ...]:
    """Return the borders of every layer, as they are set on the cutter (G7)."""
    borders: list[Edges] = []
    shown = ZERO
    for layer, reveal in enumerate(reveals(spec), start=1):
        shown = shown + reveal
        own_edges = layer > 1 and spec.under.way is UnderWay.OWN_EDGES
        borders.append(layout.borders.grown(shown - spec.under.trim if own_edges else shown))
    return tuple(borders)


def layers_of(layout: Layout, spec: Spec) -> tuple[Layer, ...]:
    """Blanks and borders, layer 1 first; under blanks are trimmed at each edge (G7)."""
    under = grown(layout.package, spec.under.trim * -2)
    return tuple(
        Layer(layer=number, blank=layout.package if number == 1 else under, borders=borders)
        for number, borders in enumerate(layer_borders(layout, spec), start=1)
    )


def frame_around(package: Size, frame: Frame, *, tray: bool = False) -> FrameSizes:
    """Rebate, sight and outside of a frame around a package (G11, G12).

    A tray has neither lip nor allowance: its inside is the package given (G17).
    """
    allowance = ZERO if tray else frame.allowance
    return frame_within(grown(package, allowance + _wall(frame, tray=tray) * 2), frame, tray=tray)


def frame_within(outside: Size, frame: Frame, *, tray: bool = False) -> FrameSizes:
    """Rebate and sight that rails of an outside make: less 2 × (face - lip), less 2 × face (G12)."""
    return FrameSizes(
        rebate=grown(outside, _wall(frame, tray=tray) * -2),
        sight=grown(outside, frame.face * -2),
        outside=outside,
    )


def sizes_of_given(spec: Spec, given: GivenFrame) -> FrameSizes:
    """Rebate, sight and outside of a frame that is given (G24); as drawn where they were not measured."""
    (frame,), rebate = spec.profiles, given.counted
    return FrameSizes(
        rebate=rebate,
        sight=grown(rebate, frame.lip * -2),
        outside=given.outside or grown(rebate, _wall(frame, tray=False) * 2),
    )


def is_tray(spec: Spec, index: int) -> bool:
    """Tell whether the frame of an index, the inner one being 0, is a tray (G17)."""
    return index == 0 and spec.presentation is Presentation.CANVAS_FLOAT


def _wall(frame: Frame, *, tray: bool) -> Length:
    """Return what of a rail stands outside the rebate; all of it in a tray, which has no lip."""
    return frame.face if tray else frame.face - frame.lip


def frames_of(spec: Spec, package: Size) -> tuple[FrameSizes, ...]:
    """Return every frame, the inner one first; each one's outside is the next one's package (G18)."""
    frames: list[FrameSizes] = []
    for number, frame in enumerate(spec.frames):
        frames.append(frame_around(package, frame, tray=is_tray(spec, number)))
        package = frames[-1].outside
    return tuple(frames)


def stack_of(spec: Spec) -> Length:
    """Return all that lies one behind the other in the rebate (D1, G22)."""
    panels = (spec.glazing, spec.mount_board, spec.backing)
    return sum((panel.thickness for panel in panels if panel), in_front_of_board(spec))


def panel_size(package: Size, panel: Panel | None) -> Size | None:
    """Return a flat part of the package, trimmed at each edge (G14)."""
    return None if panel is None else grown(package, panel.trim * -2)


def spacers_of(spec: Spec, package: Size) -> tuple[tuple[Length, int], ...]:
    """Two strips along the width, two between them along the height (G14)."""
    if spec.spacer is None:
        return ()
    return ((package.width, 2), (package.height - spec.spacer.width * 2, 2))


def _gaps(layout: Layout) -> Gaps | None:
    if layout.across is None or layout.down is None:
        return None
    return Gaps(across=layout.across.gap, down=layout.down.gap)


def dimensions_of(spec: Spec) -> Dimensions:
    """Return every dimension of a spec that was found possible."""
    layout = lay_out(spec)
    assert layout is not None, "a spec without faults can be laid out"
    package, windows = layout.package, windows_in(layout, spec)
    return Dimensions(
        spec=spec,
        windows=windows,
        layers=layers_of(layout, spec),
        package=package,
        frames=frames_of(spec, package),
        glazing=panel_size(package, spec.glazing),
        mount_board=panel_size(package, spec.mount_board),
        backing=panel_size(package, spec.backing),
        spacers=spacers_of(spec, package),
        stack=stack_of(spec),
        grooves=grooves_in(layout, spec),
        gaps=_gaps(layout),
        fillets=fillets_in(layout, spec),
        reaches_behind_all=reaches_behind_all(spec, windows, package),
    )
