"""One chain of settings: the fewest stops of the guide, then its least travel, exactly.

The guide moves on a line; stops are whole numbers. A chain is a sequence of groups: all of a group
must be visited before the next begins, and the stop that ends one group may begin the next.
Settings that are free may be visited at any time. It knows nothing of mats.
"""

from dataclasses import dataclass
from itertools import pairwise

type Group = frozenset[int]
type Chain = tuple[Group, ...]
type Cost = tuple[int, int]
"""Stops, then travel; compared in that order."""


FEW_STOPS = 12
"""Up to this many stops of a group each of them is tried as its first and last (see `_ends`)."""


@dataclass(frozen=True, slots=True)
class Route:
    """Stops in order. cost: how many, and the travel from where the guide stood."""

    stops: tuple[int, ...]
    cost: Cost


def cost_of(stops: tuple[int, ...], start: int) -> Cost:
    """Tell how many stops, and the way from the start through all of them."""
    return len(stops), sum(abs(one - other) for one, other in pairwise((start, *stops)))


def through(first: int, group: Group, last: int) -> tuple[int, ...]:
    """Return every stop of a group once, from the first to the last, with the least travel.

    first, last: of the group; the same only where it is the only one. To cover a stretch of a line
    between two points on it one goes to one end, to the other end and back, so that one of these
    two ways is the least; what lies between is visited in passing.
    """
    if first == last:
        return (first,)
    inner = sorted(group - {first, last})
    down_first = (*(v for v in reversed(inner) if v < first), *(v for v in inner if v > first))
    up_first = (*(v for v in inner if v > first), *(v for v in reversed(inner) if v < first))
    ways = ((first, *way, last) for way in (up_first, down_first))
    return min(ways, key=lambda way: cost_of(way[1:], first))


def along(chain: Chain, start: int) -> Route:
    """Return the best route of one chain; exact.

    By stages: for every group and every stop that can be its last, the best way there. In a best
    route a group's stops are visited once each: another visit could be left out, which saves a
    stop and never adds travel. So a stop is saved exactly where a group begins at the stop that
    ended the one before, and only the first and last of each group are open.
    """
    best = {start: Route((), (0, 0))}
    around = (frozenset[int](), *chain, frozenset[int]())
    for number, group in enumerate(chain):
        ways = [
            _way(through(first, group, last))
            for first in _ends(group, around[number])
            for last in _ends(group, around[number + 2])
            if (first == last) == (len(group) == 1)
        ]
        ended: dict[int, Route] = {}
        for way in ways:
            route = min((_joined(before, way, start, number) for before in best.values()), key=_key)
            last = route.stops[-1]
            if last not in ended or _key(route) < _key(ended[last]):
                ended[last] = route
        best = ended
    return min(best.values(), key=_key)


def _ends(group: Group, neighbour: Group) -> Group:
    """Stops of a group that can be its first, or its last, in some best route.

    Only an end that the neighbouring group shares saves a stop. Any other may as well be the
    smallest or the largest: the guide has to go there, passes all that lies between, and stops at
    it in passing. Small groups keep every stop, so that among equal routes the choice is wide.
    """
    if len(group) <= FEW_STOPS:
        return group
    return group & neighbour | {min(group), max(group)}


def along_with_free(chain: Chain, free: Group, start: int) -> Route:
    """Return the best route of one chain and of settings that may be visited at any time; exact.

    What the chain visits anyway costs nothing more. Of the rest only the smallest and the largest
    can lengthen the way: each is tried in every group. All others lie between those two, so that
    the guide passes them and stops there.
    """
    rest = free - frozenset[int]().union(*chain)
    if not rest:
        return along(chain, start)
    if not chain:
        return along((rest,), start)
    route = min(
        (
            along(_with(_with(chain, low, min(rest)), high, max(rest)), start)
            for low in range(len(chain))
            for high in range(len(chain))
        ),
        key=_key,
    )
    stops = route.stops
    for stop in sorted(rest - {min(rest), max(rest)}, reverse=True):
        stops = _stopping_at(stops, stop, start)
    return Route(stops, cost_of(stops, start))


def _way(stops: tuple[int, ...]) -> Route:
    """Stops that begin at the first of them."""
    return Route(stops, cost_of(stops[1:], stops[0]))


def _joined(before: Route, way: Route, start: int, number: int) -> Route:
    """Return a route and one more group, which the stop before it may begin; not so the very start."""
    came_from, first = before.stops[-1] if number else start, way.stops[0]
    shared = bool(number) and came_from == first
    return Route(
        before.stops + (way.stops[1:] if shared else way.stops),
        (
            before.cost[0] + way.cost[0] + (not shared),
            before.cost[1] + way.cost[1] + abs(came_from - first),
        ),
    )


def _key(route: Route) -> tuple[Cost, tuple[int, ...]]:
    """Among equals the route that begins with the larger settings, so that answers are stable."""
    return route.cost, tuple(-stop for stop in route.stops)


def _with(chain: Chain, number: int, stop: int) -> Chain:
    return tuple(group | {stop} if at == number else group for at, group in enumerate(chain))


def _stopping_at(stops: tuple[int, ...], stop: int, start: int) -> tuple[int, ...]:
    """Return the same way with one more stop on the first leg that passes it."""
    for at, (one, other) in enumerate(pairwise((start, *stops))):
        if min(one, other) <= stop <= max(one, other):
            return (*stops[:at], stop, *stops[at:])
    raise ValueError(f"{stop} does not lie on the way")
