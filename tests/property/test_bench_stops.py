"""A virtual mat cutter: the board is laid on it, the blade run between the stops, the cut looked at (B9).

Written apart from the program's edges: the front view is turned over by x' = width - x and laid on
the bed by quarter turns until the edge in question lies along the guide. On the bed y runs down
towards the hand, where the squaring arm lies. Everything is exact, in mm; what the scale's step
takes is all that may be missing.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from app.bench import Cut, Cutter, Edge, MatToCut, Reads, Scale, Stops, Stroke, cuts_of
from app.lengths import Length, Unit, mm
from tests.property.bench_mats import cutters, mats, pieces

type Spot = tuple[Fraction, Fraction]

TENTHS = st.integers(-30, 30)


@st.composite
def cutters_with_stops(draw: st.DrawFn) -> Cutter:
    """Cutters of every kind with both stops, their guide on either side of the bar."""
    return replace(
        draw(cutters()),
        stops=Stops(
            near=True,
            far=True,
            near_correction=mm(draw(TENTHS)) / 10,
            far_correction=mm(draw(TENTHS)) / 10,
            guide_on_right=draw(st.booleans()),
        ),
    )


@dataclass(frozen=True, slots=True)
class Bed:
    """A board on the bed of a cutter. corners: of the edges that count; window: of one window."""

    corners: tuple[Spot, ...]
    window: tuple[Spot, ...]

    @property
    def arm(self) -> Fraction:
        """Where the squaring arm lies: at the edge next to the hand."""
        return max(y for _, y in self.corners)

    def turned(self) -> "Bed":
        """The same, turned by a quarter."""
        return Bed(_quarter(self.corners), _quarter(self.window))


def _quarter(spots: Iterable[Spot]) -> tuple[Spot, ...]:
    return tuple((-y, x) for x, y in spots)


def _box(left: Length, top: Length, width: Length, height: Length) -> tuple[Spot, ...]:
    """The corners clockwise from the left top one, as seen from the front."""
    x, y, w, h = left.mm, top.mm, width.mm, height.mm
    return ((x, y), (x + w, y), (x + w, y + h), (x, y + h))


_ENDS = {Edge.LEFT: (0, 3), Edge.TOP: (0, 1), Edge.RIGHT: (1, 2), Edge.BOTTOM: (2, 3)}
"""Which corners an edge runs between."""


def laid(mat: MatToCut, cut: Cut, cutter: Cutter) -> Bed:
    """The board with the cut's edge along the guide, on the side that lies up as it is cut."""
    nothing, size, window = mm(0), mat.reference, cut.window
    # Face up, the line that the blade goes in by is the smaller hole (G8).
    inset = mat.run if mat.reverse else mm(0)
    bed = Bed(
        _box(nothing, nothing, size.width, size.height),
        _box(
            window.x + inset,
            window.y + inset,
            window.width - inset * 2,
            window.height - inset * 2,
        ),
    )
    if not mat.reverse:
        wide = size.width.mm
        bed = Bed(
            tuple((wide - x, y) for x, y in bed.corners),
            tuple((wide - x, y) for x, y in bed.window),
        )
    for _ in range(4):
        along = max if cutter.stops.guide_on_right else min
        guide = along(x for x, _ in bed.corners)
        if all(bed.corners[corner][0] == guide for corner in _ENDS[cut.edge]):
            return bed
        bed = bed.turned()
    raise AssertionError("no quarter turn lays the edge along the guide")


def blade(bed: Bed, cut: Cut, cutter: Cutter) -> tuple[Spot, Spot]:
    """Run the blade between the stops as they are set: (far end, near end) of what it cuts.

    Guide and stops of this cutter stand where they are set less their corrections, for which these are.
    """
    across = cutter.on_scale(cut.wanted) - cutter.guide_correction
    if cutter.reads is Reads.FACE:
        across += cut.mat.run
    assert cut.stops.near is not None
    assert cut.stops.far is not None
    near = cut.stops.near - cutter.stops.near_correction
    far = cut.stops.far - cutter.stops.far_correction
    if cutter.stops.guide_on_right:
        x = max(x for x, _ in bed.corners) - across.mm
    else:
        x = min(x for x, _ in bed.corners) + across.mm
    return (x, bed.arm - far.mm), (x, bed.arm - near.mm)


def wanted(bed: Bed, cut: Cut, cutter: Cutter) -> tuple[Spot, Spot]:
    """The window's edge on the bed with its overcuts: (far end, near end)."""
    (x, y), (_, other) = (bed.window[corner] for corner in _ENDS[cut.edge])
    far, near = min(y, other), max(y, other)
    # A guide on the right turns the meaning of the stroke round, as its description says.
    begins_far = (cutter.stroke is Stroke.PULL) is not cutter.stops.guide_on_right
    at_far, at_near = cutter.end_offset, cutter.start_offset
    if begins_far:
        at_far, at_near = at_near, at_far
    return (x, far - at_far.mm), (x, near + at_near.mm)


@given(pieces(most=2), cutters_with_stops())
@settings(max_examples=120, deadline=None)
def test_the_blade_between_the_stops_cuts_from_corner_to_corner(
    piece: tuple[MatToCut, ...], cutter: Cutter
) -> None:
    half = cutter.step.mm / 2
    for mat in piece:
        for cut in cuts_of(mat, cutter):
            bed = laid(mat, cut, cutter)
            for (x, y), (right_x, right_y) in zip(
                blade(bed, cut, cutter), wanted(bed, cut, cutter), strict=True
            ):
                assert abs(x - right_x) <= half
                assert abs(y - right_y) <= half


@given(mats(most=3), cutters_with_stops())
@settings(max_examples=60, deadline=None)
def test_on_a_scale_without_steps_to_miss_the_cut_is_exact(mat: MatToCut, cutter: Cutter) -> None:
    """With steps of a hundredth of a millimetre every figure of these mats is on the scale."""
    fine = replace(cutter, scales=(Scale(unit=Unit.MM, step=mm("0.01")),))
    whole = replace(mat, run=mm("1.4"))
    for cut in cuts_of(whole, fine):
        bed = laid(whole, cut, fine)
        assert blade(bed, cut, fine) == wanted(bed, cut, fine)


@given(mats(most=3), cutters_with_stops(), st.booleans(), st.booleans())
@settings(max_examples=60, deadline=None)
def test_every_end_has_either_a_stop_or_a_mark(
    mat: MatToCut, cutter: Cutter, near: bool, far: bool
) -> None:
    fitted = replace(cutter, stops=replace(cutter.stops, near=near, far=far))
    for cut in cuts_of(mat, fitted):
        places = (cut.stops.near, cut.stops.far)
        marked = (cut.start_to_mark, cut.end_to_mark)
        at_near, at_far = marked if cut.begins_near else reversed(marked)
        assert (places[0] is None, places[1] is None) == (at_near, at_far) == (not near, not far)


@given(mats(most=3), cutters(), cutters_with_stops())
@settings(max_examples=40, deadline=None)
def test_stops_change_nothing_else_of_a_cut(mat: MatToCut, cutter: Cutter, other: Cutter) -> None:
    with_stops = replace(cutter, stops=other.stops)
    for plain, stopped in zip(cuts_of(mat, cutter), cuts_of(mat, with_stops), strict=True):
        assert (plain.wanted, plain.start, plain.end, plain.edge, plain.window) == (
            stopped.wanted,
            stopped.start,
            stopped.end,
            stopped.edge,
            stopped.window,
        )
