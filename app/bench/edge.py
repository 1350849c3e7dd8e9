"""The four edges of a board and how they change places when it is turned over.

Edges are named as seen from the front of the mat, everywhere. How an edge lies on the cutter, back
up, is `mirrored`; nobody else swaps left and right.
"""

from enum import StrEnum


class Edge(StrEnum):
    """An edge of a board or of a window, in clockwise order."""

    LEFT = "left"
    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"

    @property
    def clockwise(self) -> "Edge":
        """The next edge clockwise."""
        return _NEXT[self]

    @property
    def opposite(self) -> "Edge":
        """The edge across the board."""
        return _NEXT[_NEXT[self]]

    @property
    def counterclockwise(self) -> "Edge":
        """The next edge the other way round."""
        return _NEXT[_NEXT[_NEXT[self]]]

    @property
    def mirrored(self) -> "Edge":
        """The same edge when the board is turned over sideways. Source: handbook G10."""
        return self.opposite if self.upright else self

    @property
    def upright(self) -> bool:
        """Whether the edge runs from top to bottom."""
        return self in (Edge.LEFT, Edge.RIGHT)


_NEXT = {
    Edge.LEFT: Edge.TOP,
    Edge.TOP: Edge.RIGHT,
    Edge.RIGHT: Edge.BOTTOM,
    Edge.BOTTOM: Edge.LEFT,
}
