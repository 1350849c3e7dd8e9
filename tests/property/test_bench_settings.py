"""What holds for the settings of any mats on any cutter (B1 to B3, G21)."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from app.bench import Cutter, Edge, GuidePlan, MatToCut, NamedWindow, plan_settings
from app.lengths import ZERO, Length
from tests.property.bench_mats import cutters, mats, pieces


def cuts_by_setting(plan: GuidePlan) -> list[tuple[int, MatToCut, NamedWindow, Edge]]:
    return [
        (setting.number, cut.mat, cut.window, cut.edge)
        for setting in plan.settings
        for cut in setting.cuts
    ]


@given(pieces(), cutters())
@settings(max_examples=60)
def test_every_edge_of_every_window_is_cut_exactly_once(
    piece: tuple[MatToCut, ...], cutter: Cutter
) -> None:
    made = Counter(
        (mat.layer, window.name, edge)
        for _, mat, window, edge in cuts_by_setting(plan_settings(piece, cutter))
    )
    wanted = [(mat.layer, w.name, edge) for mat in piece for w in mat.windows for edge in Edge]
    assert made == Counter(wanted)


@given(pieces(), cutters())
@settings(max_examples=60)
def test_no_attached_mat_is_cut_before_the_mat_above_is_done(
    piece: tuple[MatToCut, ...], cutter: Cutter
) -> None:
    order = [
        (mat.layer, mat.attached) for _, mat, _, _ in cuts_by_setting(plan_settings(piece, cutter))
    ]
    for layer in {layer for layer, attached in order if attached}:
        first = order.index((layer, True))
        assert all(other >= layer for other, _ in order[first:])


@given(pieces(), cutters())
@settings(max_examples=60)
def test_what_is_set_is_the_distance_from_the_edges_own_side_of_the_board(
    piece: tuple[MatToCut, ...], cutter: Cutter
) -> None:
    """Each edge by its own words, and never more than half a step of the scale away (B1, L2)."""
    for setting in plan_settings(piece, cutter).settings:
        for cut in setting.cuts:
            window, board, run = cut.window, cut.mat.reference, cut.mat.run
            border = {
                Edge.LEFT: window.x,
                Edge.TOP: window.y,
                Edge.RIGHT: board.width - (window.x + window.width),
                Edge.BOTTOM: board.height - (window.y + window.height),
            }[cut.edge]
            if cut.mat.reverse:
                border = border + run
            read = border - run if cutter.reads.value == "face" else border
            assert cut.wanted == read + cutter.guide_correction
            assert abs(setting.off(cut)) <= cutter.step / 2
            assert (setting.at / cutter.step).denominator == 1


@given(pieces(), cutters())
@settings(max_examples=60)
def test_pin_and_rest_add_up_to_the_setting(piece: tuple[MatToCut, ...], cutter: Cutter) -> None:
    pins = cutter.scale.pins
    for setting in plan_settings(piece, cutter).settings:
        if setting.pin is None:
            assert setting.rest == setting.at
            assert pins is None or setting.at < pins.first
            continue
        assert pins is not None
        assert setting.pin + setting.rest == setting.at
        assert ZERO <= setting.rest < pins.pitch
        assert ((setting.pin - pins.first) / pins.pitch).denominator == 1


@given(mats(), cutters())
@settings(max_examples=60)
def test_one_mat_needs_as_many_moves_as_distinct_settings_and_one_sweep(
    mat: MatToCut, cutter: Cutter
) -> None:
    """From the far end, above every setting, the least travel ends at the smallest."""
    plan = plan_settings([mat], cutter)
    distinct = {cutter.on_scale(cut.wanted) for s in plan.settings for cut in s.cuts}
    assert plan.moves == len(distinct)
    assert plan.travel == cutter.guide_reach - min(distinct)
    assert plan.proven


@given(pieces(most=2), cutters(), st.integers(0, 300))
@settings(max_examples=40)
def test_travel_is_the_way_from_where_the_guide_stands_through_the_list(
    piece: tuple[MatToCut, ...], cutter: Cutter, stands: int
) -> None:
    from_there = cutter.step * stands
    plan = plan_settings(piece, cutter, guide_at=from_there)
    places = [from_there, *(setting.at for setting in plan.settings)]
    legs: list[Length] = [abs(there - here) for here, there in pairwise(places)]
    assert plan.travel == sum(legs, ZERO)
    assert [setting.number for setting in plan.settings] == list(range(1, plan.moves + 1))
    assert all(setting.cuts for setting in plan.settings)


@given(mats(), cutters())
@settings(max_examples=60)
def test_turning_the_mat_by_90_degrees_exchanges_its_edges(mat: MatToCut, cutter: Cutter) -> None:
    """Clockwise: left becomes top, top right, right bottom, bottom left; marks turn with them."""
    here, turned = plan_settings([mat], cutter), plan_settings([_turned(mat)], cutter)
    assert (turned.moves, turned.travel) == (here.moves, here.travel)
    for one, other in zip(here.settings, turned.settings, strict=True):
        assert one.at == other.at
        assert {
            (c.window.name, c.edge.clockwise, c.start.edge.clockwise, c.start.distance, c.length)
            for c in one.cuts
        } == {(c.window.name, c.edge, c.start.edge, c.start.distance, c.length) for c in other.cuts}


def _turned(mat: MatToCut) -> MatToCut:
    windows = tuple(
        replace(
            window,
            x=mat.reference.height - window.y - window.height,
            y=window.x,
            width=window.height,
            height=window.width,
        )
        for window in mat.windows
    )
    return replace(mat, blank=mat.blank.turned(), reference=mat.reference.turned(), windows=windows)
