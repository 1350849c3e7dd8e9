"""Whether places on a sheet keep apart, found by one sweep from left to right (C4).

It knows nothing of cuts, so that overlaps are seen by a second way than the making of the cuts.
"""

from bisect import bisect_left, insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush

from app.lengths import Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPlace:
    """A rectangle with a name for messages."""

    name: str
    left: Length
    top: Length
    right: Length
    bottom: Length

    @classmethod
    def of(cls, name: str, x: Length, y: Length, size: Size) -> "NamedPlace":
        """Return the place of something of a size, by its left-top corner."""
        return cls(name=name, left=x, top=y, right=x + size.width, bottom=y + size.height)

    def overlaps(self, other: "NamedPlace") -> bool:
        """Tell whether two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


def too_close(
    places: Iterable[NamedPlace], kerf: Length
) -> Iterator[tuple[NamedPlace, NamedPlace]]:
    """Pairs that no straight kerf lies between: less than that apart both ways.

    Of places that are each of a size above zero. Not every such pair is given, but none exactly where
    all places keep apart.
    """
    standing: list[tuple[Length, int]] = []
    ends: list[tuple[Length, int]] = []
    ordered = sorted(places, key=lambda place: (place.left, place.top))
    for index, place in enumerate(ordered):
        while ends and ends[0][0] <= place.left:
            _, gone = heappop(ends)
            del standing[bisect_left(standing, (ordered[gone].top, gone))]
        at = bisect_left(standing, (place.top, index))
        near = [ordered[each] for _, each in standing[max(at - 1, 0) : at + 1]]
        close = [
            other
            for other in near
            if other.top < place.bottom + kerf and place.top < other.bottom + kerf
        ]
        yield from ((other, place) for other in close)
        if not close:  # what stands stays apart, so that only neighbours need looking at
            insort(standing, (place.top, index))
            heappush(ends, (place.right + kerf, index))
