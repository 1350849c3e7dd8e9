"""The order of a day's cuts, with stops, against brute force on small days and by laws on large ones (B10).

The reference knows only the words of the rule: every cut is made once, an attached mat's after all of the mat above it; a
move is made each time that the guide, or a stop, has to stand elsewhere than before, the first time included. It tries
every order of the cuts, one by one. Source: by brute force.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.bench import Cutter, DayPlan, MatToCut, Stops, plan_day, plan_settings, usual_cutter
from app.bench.stands import Chain, Stand, cost_of
from app.bench.stop_routes import order_stands
from app.lengths import Length, Unit, mm
from tests.builders.at_cutter import framed_by
from tests.property.bench_mats import mats

STARTS = st.integers(-20, 90)


@st.composite
def chains(draw: st.DrawFn) -> tuple[Chain, ...]:
    """Up to three chains of at most six stands in all, for a cutter with none, one or two stops."""
    stops = draw(st.integers(0, 2))
    place = st.integers(1, 3)
    stand = st.builds(
        lambda at, near, far: Stand(at * 10, (near, far)[:stops]), st.integers(0, 3), place, place
    )
    found, left = list[Chain](), 6
    for _ in range(draw(st.integers(1, 3))):
        groups = draw(
            st.lists(st.frozensets(stand, min_size=1, max_size=3), min_size=1, max_size=3)
        )
        kept = list[frozenset[Stand]]()
        for group in groups:
            if len(group) <= left:
                kept.append(group)
                left -= len(group)
        if kept:
            found.append(tuple(kept))
    return tuple(found)


def every_order(wanted: tuple[Chain, ...]) -> Iterator[tuple[Stand, ...]]:
    """Every order in which all cuts can be made, one by one."""
    if not wanted:
        yield ()
        return
    for number, chain in enumerate(wanted):
        for cut in chain[0]:
            group = chain[0] - {cut}
            rest = (group, *chain[1:]) if group else chain[1:]
            others = (*wanted[:number], *((rest,) if rest else ()), *wanted[number + 1 :])
            for order in every_order(others):
                yield (cut, *order)


def moves_of(order: tuple[Stand, ...], start: int) -> tuple[int, int, int]:
    """Moves of the guide, moves of the stops, travel, by going through the cuts."""
    guide: int | None = None
    stops: list[int | None] = [None, None]
    moves = stop_moves = travel = 0
    for cut in order:
        if cut.at != guide:
            travel += abs(cut.at - (start if guide is None else guide))
            moves, guide = moves + 1, cut.at
        for which, place in enumerate(cut.stops):
            if stops[which] != place:
                stop_moves, stops[which] = stop_moves + 1, place
    return moves, stop_moves, travel


def serves(order: tuple[Stand, ...], wanted: tuple[Chain, ...]) -> bool:
    """Whether an order of stands, at each of which all is cut that can be, leaves nothing to cut."""
    left = [[set(group) for group in chain] for chain in wanted]
    for stand in order:
        for chain in left:
            while chain and stand in chain[0]:
                chain[0].remove(stand)
                if chain[0]:
                    break
                chain.pop(0)
    return not any(left)


@given(chains(), STARTS)
@settings(max_examples=60, deadline=None)
def test_no_order_has_fewer_moves_of_the_guide_then_of_the_stops_then_less_travel(
    wanted: tuple[Chain, ...], start: int
) -> None:
    found = order_stands(wanted, start)
    assert (found.proven, found.fewest, found.fewest_stops) == (True, True, True)
    assert serves(found.order, wanted)
    assert tuple(found.cost) == moves_of(found.order, start)
    assert tuple(found.cost) == min(moves_of(order, start) for order in every_order(wanted))


@given(chains(), STARTS)
@settings(max_examples=100, deadline=None)
def test_a_bound_is_never_more_than_the_best_and_what_is_proven_is_best(
    wanted: tuple[Chain, ...], start: int
) -> None:
    """Without a search the rule answers a good order, and says fewest only where that is so."""
    good, best = order_stands(wanted, start, most_states=0), order_stands(wanted, start)
    assert serves(good.order, wanted)
    assert tuple(good.cost) == moves_of(good.order, start)
    assert good.cost >= best.cost
    assert good.cost.moves == best.cost.moves or not good.fewest
    assert good.cost.stop_moves == best.cost.stop_moves or not good.fewest_stops
    assert good.cost == best.cost or not good.proven


EIGHT = st.frozensets(
    st.builds(
        lambda at, near, far: Stand(at * 10, (near, far)),
        st.integers(0, 3),
        st.integers(1, 3),
        st.integers(1, 3),
    ),
    min_size=1,
    max_size=8,
)


@given(EIGHT, STARTS, st.data())
@settings(max_examples=60, deadline=None)
def test_a_day_of_at_most_eight_stands_is_always_solved(
    stands: frozenset[Stand], start: int, data: st.DataObject
) -> None:
    """Shared out over chains at will, each stand in as many of them as it likes."""
    groups = st.frozensets(st.sampled_from(sorted(stands)), min_size=1)
    wanted = data.draw(st.lists(st.lists(groups, min_size=1, max_size=2).map(tuple), max_size=4))
    assert order_stands(tuple(wanted), start).proven


# Source: by hand.
@pytest.mark.parametrize(
    ("stands", "moves"),
    [
        # One setting: the near stop once, the far one for each side: 1 + 2.
        ([(60, 60, 347), (60, 60, 470)], (1, 3)),
        # A ring of four: each next shares a stop, so that only the first moves both: 2 + 3.
        ([(60, 1, 1), (60, 1, 2), (60, 2, 1), (60, 2, 2)], (1, 5)),
        # Three that share nothing: both stops each time.
        ([(60, 1, 1), (60, 2, 2), (60, 3, 3)], (1, 6)),
        # Three legs of two from one far stop, of which one way can follow but two: 6 and one start more, 2 + 5 + 1.
        (
            [(60, 1, 9), (60, 2, 9), (60, 3, 9), (60, 1, 1), (60, 2, 2), (60, 3, 3)],
            (1, 8),
        ),
        # Two settings, and one place of both stops that is in both: last of the one, first of the other.
        ([(60, 1, 1), (60, 1, 2), (70, 1, 2), (70, 3, 2)], (2, 4)),
    ],
)
def test_worked_days(stands: list[tuple[int, int, int]], moves: tuple[int, int]) -> None:
    free = frozenset(Stand(at, (near, far)) for at, near, far in stands)
    found = order_stands(((free,),), 200)
    assert (found.cost.moves, found.cost.stop_moves) == moves
    assert found.proven


@st.composite
def days(draw: st.DrawFn) -> list[MatToCut]:
    """Two to four pieces of one or two layers, attached or on their own edges, and few borders to choose from."""
    found = list[MatToCut]()
    for piece in range(draw(st.integers(2, 4))):
        attached = draw(st.booleans())
        for layer in range(1, draw(st.integers(1, 2)) + 1):
            sides = [str(draw(st.sampled_from([50, 56, 60, 62, 66]))) for _ in range(4)]
            mat = framed_by(sides[0], sides[1], sides[2], sides[3], piece=f"P{piece}", layer=layer)
            found.append(replace(mat, attached=attached and layer > 1))
    return found


CUTTERS = st.builds(
    lambda near, far: replace(
        usual_cutter(Unit.MM),
        cut_length=mm(5000),
        guide_reach=mm(5000),
        stops=Stops(near=near, far=far),
    ),
    st.booleans(),
    st.booleans(),
)


def check_laws(day: DayPlan, wanted: list[MatToCut]) -> None:
    """Every cut once, attached mats in their order, moves as counted, never more than one by one."""
    cuts = [cut for setting in day.guide.settings for cut in setting.cuts]
    made = Counter((cut.mat.key, cut.window.name, cut.edge) for cut in cuts)
    assert made == Counter(
        (mat.key, window.name, edge)
        for mat in wanted
        for window in mat.windows
        for edge in window.straight_edges
    )
    for mat in wanted:
        if mat.attached:
            own = [cut.mat.layer for cut in cuts if cut.mat.piece == mat.piece]
            assert max(own.index(mat.layer), -1) > max(
                at for at, layer in enumerate(own) if layer == mat.layer - 1
            )
    assert day.moves <= day.moves_apart
    assert len(day.guide.settings) == day.moves
    assert all(one.at != other.at for one, other in pairwise(day.guide.settings))
    if day.guide.cutter.stops.fitted:
        assert day.stop_moves == counted(day)
    else:
        assert (day.stop_moves, day.stop_moves_apart) == (None, None)


def counted(day: DayPlan) -> int:
    """How often a stop is set to another place, by going through the plan."""
    moves, near, far = 0, [object()], [object()]
    for setting in day.guide.settings:
        for cut in setting.cuts:
            for stands, wanted in ((near, cut.stops.near), (far, cut.stops.far)):
                if wanted is not None and wanted != stands[0]:
                    moves, stands[0] = moves + 1, wanted
    return moves


@given(days(), CUTTERS)
@settings(max_examples=40, deadline=None)
def test_small_days_keep_the_laws_of_a_day(wanted: list[MatToCut], cutter: Cutter) -> None:
    check_laws(plan_day(wanted, cutter), wanted)


@given(st.lists(mats(most=3), min_size=5, max_size=8), st.booleans(), CUTTERS)
@settings(max_examples=4, deadline=None)
def test_large_days_keep_the_laws_of_a_day(
    drawn: list[MatToCut], attached: bool, cutter: Cutter
) -> None:
    """Windows anywhere; with attached mats every second one lies behind the one before."""
    wanted = [
        replace(mat, piece=f"P{number // 2}", layer=number % 2 + 1, attached=attached)
        if number % 2
        else replace(mat, piece=f"P{number // 2}", layer=1)
        for number, mat in enumerate(drawn)
    ]
    wanted = [replace(mat, reverse=False) if mat.attached else mat for mat in wanted]
    check_laws(plan_day(wanted, cutter), wanted)


def forty_pieces_of_24_windows() -> list[MatToCut]:
    """Two attached layers each, in windows of 4 by 6, with borders, gaps and reveals that differ from piece to piece."""
    found = list[MatToCut]()
    for piece in range(40):
        border, gap = mm(50 + piece % 7 * 5), mm(10 + piece % 3 * 5)
        for layer in (1, 2):
            found.append(_grid(f"P{piece}", layer, border, gap, mm(6) * (layer - 1)))
    return found


def _grid(piece: str, layer: int, border: Length, gap: Length, reveal: Length) -> MatToCut:
    first = framed_by("60", "60", "60", "60", piece=piece, layer=layer)
    windows = tuple(
        replace(
            first.windows[0],
            name=f"{row}.{column}",
            x=border + (mm(80) + gap) * column + reveal,
            y=border + (mm(60) + gap) * row + reveal,
            width=mm(80) - reveal * 2,
            height=mm(60) - reveal * 2,
        )
        for row in range(6)
        for column in range(4)
    )
    size = replace(
        first.blank,
        width=border * 2 + mm(80) * 4 + gap * 3,
        height=border * 2 + mm(60) * 6 + gap * 5,
    )
    return replace(first, blank=size, reference=size, windows=windows)


@pytest.mark.parametrize("stops", [Stops(), Stops(far=True), Stops(near=True, far=True)])
def test_forty_pieces_of_24_windows_are_answered_and_said_not_to_be_proven(stops: Stops) -> None:
    """7680 cuts: good, never worse than one by one, and no claim beyond what is known."""
    wanted = forty_pieces_of_24_windows()
    day = plan_day(wanted, replace(usual_cutter(Unit.MM), guide_reach=mm(700), stops=stops))
    check_laws(day, wanted)
    assert day.moves * 4 < day.moves_apart
    assert not day.proven
    assert len([each for each in day.notices if each.code.endswith("not-proven")]) == 1


def test_a_piece_alone_is_planned_as_on_its_own_bench() -> None:
    one = framed_by("60", "60", "60", "70", piece="A")
    cutter = usual_cutter(Unit.MM)
    assert plan_day([one], cutter).guide == plan_settings([one], cutter)


def test_cost_is_of_an_order_from_where_the_guide_stands() -> None:
    assert tuple(cost_of((Stand(60, (1, 2)), Stand(70, (1, 3))), 200)) == (2, 3, 150)
