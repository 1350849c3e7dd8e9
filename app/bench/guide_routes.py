"""Several chains of settings on one guide: the fewest stops, then the least travel.

Pieces whose under mats are worked attached are a chain each, and one stop of the guide may serve
several of them. An exact search answers what a shop has on its bench; when it grows beyond a bound
a good plan is answered, and it is said that it was not proven best.
"""

from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count, pairwise, zip_longest

from app.bench.guide_route import Chain, Cost, Group, Route, along_with_free, cost_of

MOST_STATES = 4_000
"""Where the search gives up, after well under a second (measured); pieces of the usual two settings
a layer need far fewer."""

type Masks = tuple[int, ...]
"""What is left of a chain, group by group: bit n stands for the n-th setting; () when done."""
type Todo = tuple[Masks, ...]
"""What is left of every chain, each in its place."""


@dataclass(frozen=True, slots=True)
class Merged:
    """A route that serves every chain. proven: no other has fewer stops, or as few and less travel."""

    route: Route
    proven: bool


def merge(chains: tuple[Chain, ...], start: int, *, most_states: int = MOST_STATES) -> Merged:
    """Return the best route that serves every chain from where the guide stands."""
    waiting = tuple(dict.fromkeys(chain for chain in chains if len(chain) > 1))
    free = frozenset[int]().union(*(chain[0] for chain in chains if len(chain) == 1))
    if len(waiting) <= 1:
        return Merged(_alone(waiting, free, start), proven=True)
    level_by_level = along_with_free(_levels(waiting), free, start)
    search = _RouteSearch.of((*waiting, *((frozenset({stop}),) for stop in sorted(free))))
    return search.better_than(search.without_idle(level_by_level, start), start, most_states)


def _alone(chains: tuple[Chain, ...], free: Group, start: int) -> Route:
    chain = chains[0] if chains else ()
    return along_with_free(chain, free, start) if chain or free else Route((), (0, 0))


def _levels(chains: tuple[Chain, ...]) -> Chain:
    """Return one chain that serves all: first every first group, then every second one, and so on."""
    return tuple(
        frozenset[int]().union(*level) for level in zip_longest(*chains, fillvalue=frozenset[int]())
    )


@dataclass(frozen=True, slots=True)
class _RouteSearch:
    """Best first over (where the guide stands, what is left). values: the settings, rising.

    needs: kept for each rest of a chain, since the same ones come again and again.
    """

    values: tuple[int, ...]
    todo: Todo
    needs: dict[Masks, tuple[int, int]] = field(default_factory=dict)

    @classmethod
    def of(cls, chains: tuple[Chain, ...]) -> "_RouteSearch":
        """Return the search for chains; free settings are chains of one group."""
        values = tuple(sorted(frozenset[int]().union(*(group for c in chains for group in c))))
        bit = {value: 1 << at for at, value in enumerate(values)}
        return cls(
            values,
            tuple(tuple(sum(bit[value] for value in group) for group in c) for c in chains),
        )

    def without_idle(self, route: Route, start: int) -> Route:
        """Return a route without the stops where nothing is left to cut, since an earlier one served."""
        todo, stops = self.todo, list[int]()
        for stop in route.stops:
            left = dict(self._next(todo)).get(stop)
            if left is not None:
                todo, stops = left, [*stops, stop]
        return Route(tuple(stops), cost_of(tuple(stops), start))

    def better_than(self, known: Route, start: int, most_states: int) -> Merged:
        """Return the best route, or a known one where none beats it or the search has to give up.

        The bound of what is left is never more than it costs, so the first state with nothing left
        is the best, and what cannot beat the known route is dropped; when nothing is left to look
        at, the known one is the best.
        """
        order = count()  # among equals the youngest first, which goes deep instead of wide
        best: dict[tuple[int, Todo], Cost] = {(start, self.todo): (0, 0)}
        waiting: list[tuple[Cost, int, Todo, tuple[int, ...]]] = [((0, 0), 0, self.todo, (start,))]
        for _ in range(most_states):
            if not waiting:
                return Merged(known, proven=True)
            _, _, todo, way = heappop(waiting)
            spent = cost_of(way[1:], start)
            if not any(todo):
                return Merged(Route(way[1:], spent), proven=True)
            if spent > best[way[-1], todo]:
                continue
            for stop, left in self._next(todo):
                reached = _sum(spent, (1, abs(stop - way[-1])))
                bound, seen = _sum(reached, self._at_least(left, stop)), best.get((stop, left))
                if bound < known.cost and (seen is None or reached < seen):
                    best[stop, left] = reached
                    heappush(waiting, (bound, -next(order), left, (*way, stop)))
        return Merged(known, proven=False)

    def _next(self, todo: Todo) -> list[tuple[int, Todo]]:
        """Return every stop where something can be cut, others could be left out, and what is left then.

        All that can be cut at a stop is cut there: more of it never makes the rest worse.
        """
        useful = 0
        for chain in todo:
            useful |= chain[0] if chain else 0
        return [
            (value, tuple(_served(chain, 1 << at) for chain in todo))
            for at, value in enumerate(self.values)
            if useful >> at & 1
        ]

    def _at_least(self, todo: Todo, stands: int) -> Cost:
        """Stops and travel that what is left cannot do without."""
        left = fewest = 0
        for chain in todo:
            if chain not in self.needs:
                self.needs[chain] = _needs(chain)
            settings, stops = self.needs[chain]
            left, fewest = left | settings, max(fewest, stops)
        if not left:
            return 0, 0
        low, high = self.values[(left & -left).bit_length() - 1], self.values[left.bit_length() - 1]
        travel = high - low + min(abs(stands - low), abs(stands - high))
        return max(left.bit_count(), fewest), travel


def _served(chain: Masks, bit: int) -> Masks:
    """Return what is left of a chain after a stop; a group that is complete lets the next one begin there."""
    while chain and chain[0] & bit:
        left = chain[0] ^ bit
        if left:
            return (left, *chain[1:])
        chain = chain[1:]
    return chain


def _needs(chain: Masks) -> tuple[int, int]:
    """Return the settings of a chain, and its fewest stops: every group's, less one wherever neighbours
    have one in common."""
    settings = 0
    for group in chain:
        settings |= group
    shared = sum(1 for one, other in pairwise(chain) if one & other)
    return settings, sum(group.bit_count() for group in chain) - shared


def _sum(one: Cost, other: Cost) -> Cost:
    return one[0] + other[0], one[1] + other[1]
