"""The cuts of a mat: one for each straight edge of each window.

Owns which board edge lies against the guide and which at the squaring arm, what is set on the scale and
along the bar, and where a cut begins and ends (B1, B3, B5, B9). In which order they are cut is for
`settings`.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from app.bench.cutter import Cutter, Reads, Stroke
from app.bench.edge import Edge
from app.bench.mats import MatToCut, NamedWindow
from app.bench.stops import NO_STOPS, StopPlaces
from app.framing import Shape
from app.lengths import ZERO, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A place along a cut: how far it is from the board edge that the cut runs towards there."""

    edge: Edge
    distance: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One edge of one window.

    edge: of the window and, since the bevel must lean away from the window, also of the board
    against the guide. distance: from that board edge to the line on the side that lies up. wanted:
    the exact setting that gives it. start, end: with the cutter's offsets. length: of the run.
    near_edge: of the board, at the squaring arm. stops_wanted: where the cutter's stops are set for it,
    exact; stops: the same on the scale's steps. by_straight_edge: the cutter cannot make it, so that neither
    guide nor stop is set for it: its line is drawn and cut by straight-edge (B4).
    """

    mat: MatToCut
    window: NamedWindow
    edge: Edge
    distance: Length
    wanted: Length
    start: Mark
    end: Mark
    near_edge: Edge
    stops_wanted: StopPlaces = NO_STOPS
    stops: StopPlaces = NO_STOPS
    by_straight_edge: bool = False

    @property
    def edge_as_it_lies(self) -> Edge:
        """The edge against the guide as it is seen while the mat lies on the cutter."""
        return self.mat.as_it_lies(self.edge)

    @property
    def across(self) -> Length:
        """The length of the board along the bar."""
        reference = self.mat.reference
        return reference.height if self.edge.upright else reference.width

    @property
    def length(self) -> Length:
        """The length of the cut, which the head runs from start to end."""
        return self.across - self.start.distance - self.end.distance

    @property
    def begins_near(self) -> bool:
        """Whether the head comes from the squaring arm."""
        return self.start.edge is self.near_edge

    @property
    def stops_set(self) -> StopPlaces | None:
        """Where the stops stand; None where there is none to set."""
        return self.stops if self.stops.any_set else None

    @property
    def stops_missing(self) -> bool:
        """Whether the cutter has a stop that cannot be set for this cut."""
        wanted, set_at = self.stops_wanted, self.stops
        return (wanted.near is not None and set_at.near is None) or (
            wanted.far is not None and set_at.far is None
        )

    @property
    def start_to_mark(self) -> bool:
        """Whether no stop binds the beginning of the cut, so that it is marked (B9)."""
        return (self.stops.near if self.begins_near else self.stops.far) is None

    @property
    def end_to_mark(self) -> bool:
        """Whether no stop binds the end of the cut, so that it is marked (B9)."""
        return (self.stops.far if self.begins_near else self.stops.near) is None


@lru_cache(maxsize=256)
def cuts_of(mat: MatToCut, cutter: Cutter) -> tuple[Cut, ...]:
    """Return every straight cut, board edge by board edge, each in the direction of the stroke.

    What the cutter cannot make is among them, and says so: it is cut by straight-edge.

    All of it is frozen and follows from the two alone, so those of the last few mats are remembered.
    Source: handbook B1, B3, B5; G8 for the lines on either side of the board.
    """
    cuts = [
        _cut(mat, window, edge, cutter) for window in mat.windows for edge in window.straight_edges
    ]
    edges = list(Edge)
    return tuple(sorted(cuts, key=lambda cut: (edges.index(cut.edge), cut.start.distance)))


def by_stops(cuts: Iterable[Cut]) -> tuple[tuple[StopPlaces, tuple[Cut, ...]], ...]:
    """Return cuts of one setting of the guide by where the stops stand for them, each place once.

    Without stops all are together.
    """
    together: dict[StopPlaces, list[Cut]] = {}
    for cut in cuts:
        together.setdefault(cut.stops, []).append(cut)
    return tuple((places, tuple(at)) for places, at in together.items())


def line_on_top(mat: MatToCut, window: NamedWindow, edge: Edge) -> Length:
    """From a board edge to the line of the cut on the side that lies up.

    Back up that is the border itself; face up, for a reverse bevel, the smaller hole at the face.
    """
    border = mat.border(window, edge)
    return border + mat.run if mat.reverse else border


def _cut(mat: MatToCut, window: NamedWindow, edge: Edge, cutter: Cutter) -> Cut:
    distance = line_on_top(mat, window, edge)
    comes_out = mat.run if cutter.reads is Reads.FACE else ZERO
    begins = _begins_at(mat, edge, cutter.stroke)
    cut = Cut(
        mat=mat,
        window=window,
        edge=edge,
        distance=distance,
        wanted=distance - comes_out + cutter.guide_correction,
        start=_mark(mat, window, begins, cutter.start_offset),
        end=_mark(mat, window, begins.opposite, cutter.end_offset),
        near_edge=_near_edge(mat, edge, cutter),
    )
    if _out_of_reach(cut, cutter):
        return replace(cut, by_straight_edge=True)
    return _with_stops(cut, cutter) if cutter.stops.fitted else cut


def _out_of_reach(cut: Cut, cutter: Cutter) -> bool:
    """Tell whether a setting lies off the guide's way or the cut is longer than the head runs (B4)."""
    return (
        cutter.beyond_reach(cut.wanted)
        or cutter.below_scale(cut.wanted)
        or cut.length > cutter.cut_length
    )


def _with_stops(cut: Cut, cutter: Cutter) -> Cut:
    """Return a cut with its stops; one that cannot be set is left out, and that end is marked (B9)."""
    near, far = (cut.start, cut.end) if cut.begins_near else (cut.end, cut.start)
    wanted = cutter.stops.places(near=near.distance, far=cut.across - far.distance)
    at_near = None if wanted.near is None else cutter.on_scale(wanted.near)
    at_far = None if wanted.far is None else cutter.on_scale(wanted.far)
    if at_near is not None and at_near < ZERO:
        at_near = None
    if at_far is not None and not ZERO < at_far <= cutter.cut_length:
        at_far = None
    if at_near is not None and at_far is not None and at_far <= at_near:
        at_near = at_far = None
    return replace(cut, stops_wanted=wanted, stops=StopPlaces(near=at_near, far=at_far))


def _near_edge(mat: MatToCut, edge: Edge, cutter: Cutter) -> Edge:
    """Return the board edge at the squaring arm, which lies at the hand.

    With the edge against a guide on the left, the next edge counterclockwise lies there; with a guide
    on the right, the next one clockwise.
    """
    lies = mat.as_it_lies(edge)
    return mat.as_it_lies(lies.clockwise if cutter.stops.guide_on_right else lies.counterclockwise)


def _begins_at(mat: MatToCut, edge: Edge, stroke: Stroke) -> Edge:
    """Return the board edge from which the head comes.

    With the edge against a guide on the left, the next edge clockwise lies at the far end.
    """
    lies = mat.as_it_lies(edge)
    return mat.as_it_lies(lies.clockwise if stroke is Stroke.PULL else lies.counterclockwise)


def _mark(mat: MatToCut, window: NamedWindow, edge: Edge, offset: Length) -> Mark:
    """Return the corner moved outwards by the offset; where sides run into an arch, their end itself."""
    corner = line_on_top(mat, window, edge)
    if window.shape is Shape.ARCH and edge is Edge.TOP:
        return Mark(edge=edge, distance=corner + window.height - window.sides)
    return Mark(edge=edge, distance=corner - offset)
