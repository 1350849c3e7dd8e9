"""The cuts of a mat: one for each straight edge of each window.

Owns which board edge lies against the guide, what is set on the scale, and where a cut begins and
ends (B1, B3, B5). In which order they are cut is for `settings`.
"""

from dataclasses import dataclass

from app.bench.cutter import Cutter, Reads, Stroke
from app.bench.edge import Edge
from app.bench.mats import MatToCut, NamedWindow
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
    """

    mat: MatToCut
    window: NamedWindow
    edge: Edge
    distance: Length
    wanted: Length
    start: Mark
    end: Mark

    @property
    def edge_as_it_lies(self) -> Edge:
        """The edge against the guide as it is seen while the mat lies on the cutter."""
        return self.mat.as_it_lies(self.edge)

    @property
    def length(self) -> Length:
        """The length of the cut, which the head runs from start to end."""
        reference = self.mat.reference
        across = reference.height if self.edge.upright else reference.width
        return across - self.start.distance - self.end.distance


def cuts_of(mat: MatToCut, cutter: Cutter) -> tuple[Cut, ...]:
    """Return every cut along the guide, board edge by board edge, each in the direction of the stroke.

    Source: handbook B1, B3, B5; G8 for the lines on either side of the board.
    """
    cuts = [
        _cut(mat, window, edge, cutter) for window in mat.windows for edge in window.straight_edges
    ]
    edges = list(Edge)
    return tuple(sorted(cuts, key=lambda cut: (edges.index(cut.edge), cut.start.distance)))


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
    return Cut(
        mat=mat,
        window=window,
        edge=edge,
        distance=distance,
        wanted=distance - comes_out + cutter.guide_correction,
        start=_mark(mat, window, begins, cutter.start_offset),
        end=_mark(mat, window, begins.opposite, cutter.end_offset),
    )


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
