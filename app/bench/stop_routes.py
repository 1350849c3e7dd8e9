"""The order of all that is set on a cutter with stops: first the guide, then the stops, then the travel (B10).

The guide is routed by itself; what it leaves open is in which order the stops are set. An exact search answers a
small day; when it grows beyond a bound a good order is answered, and it is said what of it was not proven.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from app.bench.guide_routes import merge
from app.bench.order_search import OrderSearch, StandOrder
from app.bench.stands import Chain, Stand, cost_of

MOST_STATES = 12_000
"""Where the search gives up. With at most eight stands it always comes to its end: there are at most 2^7 rests for
each of the eight to have come from, and eight ways to each."""

MOST_LOOKS = 300_000
"""Where it gives up on more stands, after about a quarter of a second (measured)."""

LOOKS_OF_A_WAY = 6
"""What trying one more way of the guide takes beside a look of the search, for each stand and chain (measured)."""


def order_stands(
    chains: tuple[Chain, ...],
    start: int,
    *,
    most_states: int = MOST_STATES,
    most_looks: int = MOST_LOOKS,
) -> StandOrder:
    """Return the best order that serves every chain from where the guide stands.

    It never has more moves of the guide than what `merge` answers.
    """
    merged = merge(
        tuple(tuple(frozenset(s.at for s in group) for group in chain) for chain in chains), start
    )
    search = OrderSearch.of(chains, start)
    known = search.along_guide(merged.route.stops)
    assert known is not None, "a route of the guide serves everything"
    if not any(stand.stops for stand in search.stands):
        return StandOrder(
            order=known,
            cost=cost_of(known, start),
            fewest=merged.fewest,
            fewest_stops=merged.fewest,
            proven=merged.proven,
        )
    found = search.better_than(known, most_states, most_looks=most_looks, fewest=merged.fewest)
    if not found.fewest_stops:
        better = _with_visits_moved(search, merged.route.stops, known, most_looks)
        found = search.better_than(better, 0, fewest=merged.fewest)
    as_short = merged.proven and found.cost.travel == merged.route.cost[1]
    return replace(found, proven=found.proven or (found.fewest_stops and as_short))


def _with_visits_moved(
    search: OrderSearch, route: tuple[int, ...], order: tuple[Stand, ...], most_looks: int
) -> tuple[Stand, ...]:
    """Return an order whose settings of the guide are moved, one at a time, while that makes it better."""
    at_one_setting = len(order) // max(1, len(route))
    looks = LOOKS_OF_A_WAY * len(order) * (len(search.todo) + at_one_setting)
    tries = most_looks // max(1, looks)
    best, improved = cost_of(order, search.start), True
    while improved and tries > 0:
        improved, ways = False, search.ways_along(route)
        for alike, other in islice(_moved(route), tries):
            tries -= 1
            tried = search.ways_along(other[alike:], ways[alike])[-1]
            if not any(tried.todo) and (cost := cost_of(tried.order, search.start)) < best:
                route, order, best, improved = other, tried.order, cost, True
                break
    return order


def _moved(route: tuple[int, ...]) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield the route with each of its settings at each other place, and how many before it are where they were."""
    for number, at in enumerate(route):
        others = route[:number] + route[number + 1 :]
        for place in range(len(route)):
            if place != number:
                yield min(number, place), (*others[:place], at, *others[place:])
