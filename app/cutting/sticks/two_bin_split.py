"""The rails of two sticks parted anew between the two: every sum that one of them may come to.

Owns the sums; which parting is taken is for `regroup`. Rails come in lots, those of one frame or of
one length, and lot after lot the lengths that the first stick may have are followed, each by the way
that visits the fewest sticks.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import prod

MOST_SUMS = 100
"""How many lengths on the first stick are followed at once. Source: ours."""

MOST_WAYS = 64
"""How many ways to part one frame are looked at. Source: ours; four rails have at most 16."""

# What goes onto the first stick: ticks, sticks visited, how many rails of each length.
type Way = tuple[int, int, tuple[int, ...]]
# By what the first stick comes to: visits so far, the sum before, which way of the lot.
type _Layer = dict[int, tuple[int, int, int]]


@dataclass(frozen=True, slots=True)
class Lot:
    """Rails that are parted as one: by length, each rail by its number. ways: none first, all last."""

    rails: tuple[tuple[int, ...], ...]
    ways: tuple[Way, ...]

    def taken(self, way: int) -> tuple[int, ...]:
        """Return the rails that go onto the first stick."""
        counts = self.ways[way][2]
        return tuple(
            rail for same, count in zip(self.rails, counts, strict=True) for rail in same[:count]
        )


def lot_of(rails: dict[int, list[int]], *, framed: bool) -> Lot:
    """Return a lot of rails by their ticks. framed: whether each stick that they are on counts."""
    shape = tuple((ticks, len(same)) for ticks, same in rails.items())
    return Lot(tuple(map(tuple, rails.values())), _ways(shape, framed))


@lru_cache(maxsize=4096)
def _ways(shape: tuple[tuple[int, int], ...], framed: bool) -> tuple[Way, ...]:
    total = sum(count for _, count in shape)
    ways: list[Way] = []
    for counts in _choices(tuple(count for _, count in shape)):
        taken = sum(counts)
        ticks = sum(each * count for (each, _), count in zip(shape, counts, strict=True))
        visits = (taken > 0) + (taken < total) if framed else 0
        ways.append((ticks, visits, counts))
    return tuple(ways)


def _choices(most: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Tell how many of each length go onto the first stick; of too many ways only some, in order."""
    if prod(count + 1 for count in most) <= MOST_WAYS:
        return list(product(*(range(count + 1) for count in most)))
    total = sum(most)
    numbers = range(0, total, -(-total // MOST_WAYS))
    return [_first_of(number, most) for number in (*numbers, total)]


def _first_of(number: int, most: tuple[int, ...]) -> tuple[int, ...]:
    counts = []
    for count in most:
        counts.append(min(number, count))
        number -= counts[-1]
    return tuple(counts)


class Partings:
    """Every sum found for the first stick, each with the way there.

    least, most: what the first stick may come to; most_visits: more are not followed.
    """

    def __init__(self, lots: Sequence[Lot], *, least: int, most: int, most_visits: int) -> None:
        self._lots = lots
        self._layers: list[_Layer] = [{0: (0, 0, 0)}]
        self.looks = 0
        rest = sum(lot.ways[-1][0] for lot in lots)
        for lot in lots:
            rest -= lot.ways[-1][0]
            known = self._layers[-1]
            self.looks += len(known) * len(lot.ways)
            layer = _next_layer(known, lot.ways, range(least - rest, most + 1), most_visits)
            self._layers.append(_thinned(layer))

    def fewest_visits(self) -> int | None:
        """Return the fewest visits of all partings; None where there is none."""
        return min((visits for visits, _, _ in self._layers[-1].values()), default=None)

    def ends(self, visits: int) -> list[int]:
        """Return what the first stick may come to with so many visits, shortest first."""
        return sorted(end for end, (ways, _, _) in self._layers[-1].items() if ways == visits)

    def taken(self, end: int) -> set[int]:
        """Return the rails that bring the first stick to a sum."""
        rails: set[int] = set()
        for lot, layer in zip(reversed(self._lots), reversed(self._layers[1:]), strict=True):
            _, before, way = layer[end]
            rails.update(lot.taken(way))
            end = before
        return rails


def _next_layer(known: _Layer, ways: Sequence[Way], room: range, most_visits: int) -> _Layer:
    layer: _Layer = {}
    for before, (so_far, _, _) in known.items():
        for number, (ticks, more, _) in enumerate(ways):
            now, visits = before + ticks, so_far + more
            if now in room and visits <= most_visits:
                best = layer.get(now)
                if best is None or visits < best[0]:
                    layer[now] = (visits, before, number)
    return layer


def _thinned(layer: _Layer) -> _Layer:
    if len(layer) <= MOST_SUMS:
        return layer
    kept = sorted(layer.items(), key=lambda item: (item[1][0], item[0]))
    return dict(kept[:: -(-len(kept) // MOST_SUMS)])
