"""The order of settings against brute force: every sequence of stops and every assignment of cuts.

The reference below knows only the words of handbook B3: a stop is a place of the guide, a cut is made
at a stop of its own setting, and an attached mat is cut no earlier than the last cut of the mat
above it. It tries every sequence of stops by rising length, and for each sequence every assignment of cuts to stops.
"""

from collections.abc import Iterator
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.bench import guide_route as sweep
from app.bench.guide_route import Chain, along, along_with_free
from app.bench.guide_routes import merge

GROUPS = st.frozensets(st.integers(0, 6).map(lambda n: n * 10), min_size=1, max_size=3)
CHAINS = st.lists(GROUPS, min_size=1, max_size=3).map(tuple)
STARTS = st.integers(-20, 90)


def travel(stops: tuple[int, ...], start: int) -> int:
    return sum(abs(one - other) for one, other in pairwise((start, *stops)))


def assignments(chain: Chain, stops: tuple[int, ...]) -> Iterator[list[list[int]]]:
    """Every way to make each cut of a chain at one stop of its setting."""
    cuts = [(number, cut) for number, group in enumerate(chain) for cut in sorted(group)]
    places = [[at for at, stop in enumerate(stops) if stop == cut] for _, cut in cuts]
    for chosen in product(*places):
        made: list[list[int]] = [[] for _ in chain]
        for (number, _), at in zip(cuts, chosen, strict=True):
            made[number].append(at)
        yield made


def serves(chain: Chain, stops: tuple[int, ...]) -> bool:
    """Whether some assignment keeps every group behind the one before it."""
    return any(
        all(max(one) <= min(other) for one, other in pairwise(made))
        for made in assignments(chain, stops)
    )


def by_brute_force(chains: tuple[Chain, ...], start: int, most: int) -> tuple[int, int] | None:
    """The fewest stops and their least travel; None where more than `most` are needed."""
    values = sorted({value for chain in chains for group in chain for value in group})
    for length in range(len(values), most + 1):
        ways = [
            travel(stops, start)
            for stops in product(values, repeat=length)
            if set(stops) == set(values) and all(serves(chain, stops) for chain in chains)
        ]
        if ways:
            return length, min(ways)
    return None


def is_good(stops: tuple[int, ...], chains: tuple[Chain, ...]) -> bool:
    return all(serves(chain, stops) for chain in chains)


@given(CHAINS, STARTS)
def test_no_order_of_one_chain_has_fewer_stops_or_less_travel(chain: Chain, start: int) -> None:
    route = along(chain, start)
    assert is_good(route.stops, (chain,))
    assert route.cost == (len(route.stops), travel(route.stops, start))
    if len(route.stops) <= 6:
        assert route.cost == by_brute_force((chain,), start, 6)


LARGER = st.frozensets(st.integers(0, 12).map(lambda n: n * 10), min_size=1, max_size=8)


@given(st.lists(LARGER, min_size=1, max_size=4).map(tuple), STARTS)
def test_in_a_large_group_fewer_ends_are_tried_and_none_is_missed(chain: Chain, start: int) -> None:
    every_end = along(chain, start)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sweep, "FEW_STOPS", 0)
        few_ends = along(chain, start)
    assert few_ends.cost == every_end.cost
    assert few_ends.cost == (len(few_ends.stops), travel(few_ends.stops, start))
    assert {*few_ends.stops} == frozenset[int]().union(*chain)


@given(st.lists(GROUPS, min_size=1, max_size=2).map(tuple), GROUPS, STARTS)
def test_no_order_with_free_settings_has_fewer_stops_or_less_travel(
    chain: Chain, free: frozenset[int], start: int
) -> None:
    route = along_with_free(chain, free, start)
    chains = (chain, (free,))
    assert is_good(route.stops, chains)
    if len(route.stops) <= 6:
        assert route.cost == by_brute_force(chains, start, 6)


@given(
    st.lists(CHAINS.filter(lambda chain: sum(map(len, chain)) <= 4), min_size=1, max_size=3),
    STARTS,
)
def test_no_order_of_several_chains_has_fewer_stops_or_less_travel(
    chains: list[Chain], start: int
) -> None:
    merged = merge(tuple(chains), start)
    assert merged.proven
    assert is_good(merged.route.stops, tuple(chains))
    assert merged.route.cost == (len(merged.route.stops), travel(merged.route.stops, start))
    if len(merged.route.stops) <= 6:
        assert merged.route.cost == by_brute_force(tuple(chains), start, 6)


@given(st.lists(CHAINS, min_size=2, max_size=4), STARTS)
def test_an_order_that_is_not_proven_still_serves_every_chain(
    chains: list[Chain], start: int
) -> None:
    merged = merge(tuple(chains), start, most_states=1)
    assert is_good(merged.route.stops, tuple(chains))
    attached = {chain for chain in chains if len(chain) > 1}
    assert merged.proven is (len(attached) <= 1)
    if not merged.proven:
        assert merged.route.cost >= merge(tuple(chains), start).route.cost


@pytest.mark.parametrize(
    ("chains", "start", "stops"),
    [
        # Source: by hand. One free group: from the nearer end through to the other.
        ([[{70, 80}]], 200, (80, 70)),
        ([[{70, 80}]], 0, (70, 80)),
        ([[{70, 80, 120}]], 90, (80, 70, 120)),
        # One setting in common with the mat above is kept for the last and saves a move.
        ([[{70, 76}, {76, 82}]], 200, (70, 76, 82)),
        # The middle group cannot both begin and end with the one setting that it shares.
        ([[{10, 20}, {20, 30}, {20, 40}]], 0, (10, 20, 30, 20, 40)),
        # A single setting shared with both neighbours: one move for all three.
        ([[{70}, {70}, {70}]], 200, (70,)),
        # Shared at both ends: to the end away from the last first, the rest on the way back.
        ([[{20}, {10, 20, 25, 30}, {30, 40}]], 0, (20, 10, 25, 30, 40)),
        ([[{30}, {20, 25, 30, 40}, {20, 10}]], 0, (30, 40, 25, 20, 10)),
        # Two pieces: what is second in one is first in the other.
        ([[{70}, {76}], [{76}, {70}]], 200, (76, 70, 76)),
        # Layer by layer would need 6.
        ([[{10, 20}, {30, 40}], [{30, 40}, {50}]], 0, (10, 20, 30, 40, 50)),
        ([], 200, ()),
    ],
)
def test_worked_orders(chains: list[list[set[int]]], start: int, stops: tuple[int, ...]) -> None:
    asked = tuple(tuple(frozenset(group) for group in chain) for chain in chains)
    route = merge(asked, start).route
    assert (len(route.stops), travel(route.stops, start)) == (len(stops), travel(stops, start))
    assert is_good(stops, asked)


def test_a_stop_where_nothing_is_left_to_cut_is_left_out_of_a_plan_that_is_not_proven() -> None:
    """By hand: level by level 10, 20, 30, then 20 for the first chain, which 20 served before."""
    chains = tuple(
        tuple(frozenset(group) for group in chain) for chain in ([{10}, {20}], [{20, 30}, {30}])
    )
    merged = merge(chains, 0, most_states=0)
    assert (merged.route.stops, merged.route.cost, merged.proven) == ((10, 20, 30), (3, 30), False)


def test_twenty_settings_in_each_of_three_attached_layers_are_ordered_exactly() -> None:
    """By hand: from below, each layer's settings lie above the last: one sweep, nothing shared."""
    chain = tuple(frozenset(range(layer * 1000, layer * 1000 + 200, 10)) for layer in range(1, 4))
    route = along(chain, 0)
    assert route.cost == (60, 3190)
    assert list(route.stops) == sorted(route.stops)
