"""Several chains of settings on one guide: the fewest stops, then the least travel.

Pieces whose under mats are worked attached are a chain each, and one stop of the guide may serve
several of them. An exact search answers what a shop has on its bench; when it grows beyond a bound
the best of a few good plans is answered, and it is said what of it was not proven.
"""

from bisect import bisect_left
from dataclasses import dataclass
from itertools import zip_longest

from app.bench.guide_route import Chain, Group, Route, along, along_with_free, cost_of
from app.bench.order_search import MOST_STATES, OrderSearch
from app.bench.stands import Stand, Todo, in_first_groups, in_later_groups, served

MOST_LEVELLED = 60
"""With more settings than this in the chains they are not tried level by level, which takes ever longer (measured)."""


@dataclass(frozen=True, slots=True)
class Merged:
    """A route that serves every chain.

    fewest: no other has fewer stops. proven: nor as few and less travel.
    """

    route: Route
    proven: bool
    fewest: bool


def merge(chains: tuple[Chain, ...], start: int, *, most_states: int = MOST_STATES) -> Merged:
    """Return the best route that serves every chain from where the guide stands.

    It never has more stops than the chains one after the other, each by its best route.
    """
    waiting = tuple(dict.fromkeys(chain for chain in chains if len(chain) > 1))
    free = frozenset[int]().union(*(chain[0] for chain in chains if len(chain) == 1))
    if len(waiting) <= 1:
        return Merged(_alone(waiting, free, start), proven=True, fewest=True)
    search = OrderSearch.of(
        (
            *(tuple(frozenset(map(Stand, group)) for group in chain) for chain in waiting),
            *((frozenset({Stand(stop)}),) for stop in sorted(free)),
        ),
        start,
    )
    found = search.better_than(_good(waiting, free, search), most_states)
    stops = tuple(stand.at for stand in found.order)
    return Merged(Route(stops, cost_of(stops, start)), proven=found.proven, fewest=found.fewest)


def _good(chains: tuple[Chain, ...], free: Group, search: OrderSearch) -> tuple[Stand, ...]:
    """Return the best of a few good orders, each without the stops where nothing is left to cut."""
    ways = [
        _in_turn(chains, free, search.start),
        _eager(search, upwards=True),
        _eager(search, upwards=False),
    ]
    if len(search.stands) <= MOST_LEVELLED:
        ways.insert(0, along_with_free(_levels(chains), free, search.start).stops)
    return min(
        (search.without_idle(map(Stand, way)) for way in ways),
        key=lambda order: cost_of(tuple(stand.at for stand in order), search.start),
    )


def _alone(chains: tuple[Chain, ...], free: Group, start: int) -> Route:
    chain = chains[0] if chains else ()
    return along_with_free(chain, free, start) if chain or free else Route((), (0, 0))


def _levels(chains: tuple[Chain, ...]) -> Chain:
    """Return one chain that serves all: first every first group, then every second one, and so on."""
    return tuple(
        frozenset[int]().union(*level) for level in zip_longest(*chains, fillvalue=frozenset[int]())
    )


def _in_turn(chains: tuple[Chain, ...], free: Group, start: int) -> tuple[int, ...]:
    """Return the stops of each chain after those of the one before, and then of what is free."""
    stops: tuple[int, ...] = (start,)
    for chain in (*chains, (free,) if free else ()):
        stops += along(chain, stops[-1]).stops if chain else ()
    return stops[1:]


def _eager(search: OrderSearch, *, upwards: bool) -> tuple[int, ...]:
    """Return the stops of a way back and forth that goes, while it can, where a setting is done with for good.

    Such a setting has to be stopped at once more in any case, and nothing waits for it to be later. Only where
    there is none it stops where most mats are finished, and will be there again. upwards: where it goes first.
    """
    values = [stand.at for stand in search.stands]
    todo, stops = search.todo, [search.start]
    while first := in_first_groups(todo):
        done_with = first & ~in_later_groups(todo)
        bit = (
            _ahead(done_with, bisect_left(values, stops[-1]), upwards=upwards)
            if done_with
            else _finishing_most(todo, first)
        )
        todo = tuple(served(chain, bit) for chain in todo)
        stop = values[bit.bit_length() - 1]
        upwards, stops = stop > stops[-1], [*stops, stop]
    return tuple(stops[1:])


def _ahead(settings: int, stands: int, *, upwards: bool) -> int:
    """Return the bit of the nearest setting ahead; the nearest one behind where none is ahead.

    stands: so many settings lie below where the guide stands.
    """
    above = settings >> stands << stands
    below = settings ^ above
    if above and (upwards or not below):
        return above & -above
    return 1 << below.bit_length() - 1


def _finishing_most(todo: Todo, settings: int) -> int:
    """Return the bit of the setting at which most chains finish a group; of equal ones, at which most is cut."""
    return max(
        (1 << number for number in range(settings.bit_length()) if settings >> number & 1),
        key=lambda bit: (
            sum(1 for chain in todo if chain and chain[0] == bit),
            sum(1 for chain in todo if chain and chain[0] & bit),
        ),
    )
