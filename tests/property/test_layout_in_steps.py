"""Several windows in the shop's steps (L2, G9): nothing adds up, nothing drifts, remainders go last."""

from dataclasses import replace
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from app.framing import Dimensions, Point, UnderWay, Window, in_steps, work_out
from app.lengths import ALLOWED_STEPS, ZERO, Length, Steps
from tests.property.laying import Grid, grids, placed, spec_of
from tests.property.plane import as_length

Cut = tuple[Grid, Dimensions, Dimensions, Length]


@st.composite
def cut_grids(draw: st.DrawFn, *, alike: bool = False, slots: bool = False) -> Cut:
    """A grid, its exact dimensions, the same in steps, and the step; with a groove."""
    grid = draw(grids(alike=alike, slots=slots))
    step = draw(st.sampled_from(ALLOWED_STEPS[grid.unit]))
    exact = work_out(spec_of(grid))
    return grid, exact, in_steps(exact, Steps(unit=grid.unit, step=step)), step


def right(window: Window) -> Length:
    return window.x + window.size.width


def bottom(window: Window) -> Length:
    return window.y + window.size.height


@given(cut_grids(slots=True))
def test_every_place_and_size_is_a_whole_number_of_steps(cut: Cut) -> None:
    _, _, shop, step = cut
    figures = [
        length
        for w in shop.windows
        for length in (w.x, w.y, w.size.width, w.size.height, w.face.width, w.face.height)
    ]
    figures += [length for layer in shop.layers for _, length in layer.borders.sides()]
    assert [figure for figure in figures if (figure / step).denominator != 1] == []


@given(cut_grids())
def test_no_window_is_more_than_a_step_from_its_exact_place_however_far_along(cut: Cut) -> None:
    """An under mat may be half a step further off at each side for every reveal that lies between steps,
    and all of one on its own edges by half a step, since it is laid in by its reveals."""
    grid, exact, shop, step = cut
    for before, after in zip(exact.windows, shop.windows, strict=True):
        asked = [as_length(reveal, grid.unit) for reveal in grid.reveals[: before.layer - 1]]
        off = sum((step / 2 for reveal in asked if (reveal / step).denominator != 1), ZERO)
        assert abs(before.size.width - after.size.width) <= step / 2 + off * 2
        assert abs(before.size.height - after.size.height) <= step / 2 + off * 2
        away = step + off + (step / 2 if grid.own_edges and before.layer > 1 else ZERO)
        assert abs(before.x - after.x) <= away
        assert abs(right(before) - right(after)) <= away
        met = bottom if grid.align == "bottom" else (lambda window: window.y)
        assert abs(met(before) - met(after)) <= away


@given(cut_grids(slots=True))
def test_borders_windows_and_what_lies_between_fill_the_board(cut: Cut) -> None:
    grid, _, shop, _ = cut
    for layer in shop.layers:
        windows = shop.windows_of(layer.layer)
        board = layer.blank if grid.own_edges else shop.package
        assert layer.borders.left == min(w.x for w in windows)
        assert layer.borders.top == min(w.y for w in windows)
        assert max(right(w) for w in windows) + layer.borders.right == board.width
        assert max(bottom(w) for w in windows) + layer.borders.bottom == board.height


def even_reveals(shop: Dimensions, layer: int) -> set[Length]:
    """What shows of a layer inside the one above it, at every side of every window.

    A mat worked on its own edges is laid behind the one above so that the first window shows evenly.
    """
    above = {w.name: w for w in shop.windows_of(layer - 1)}
    first = shop.windows_of(layer)[0]
    outer = above[first.name]
    across = (outer.size.width - first.size.width) / 2 - (first.x - outer.x)
    down = (outer.size.height - first.size.height) / 2 - (first.y - outer.y)
    if shop.spec.under.way is UnderWay.ATTACHED:
        assert (across, down) == (ZERO, ZERO)
    found = set()
    for window in shop.windows_of(layer):
        outer = above[window.name]
        found |= {
            window.x + across - outer.x,
            right(outer) - right(window) - across,
            window.y + down - outer.y,
            bottom(outer) - bottom(window) - down,
        }
    return found


@given(cut_grids(slots=True), st.booleans())
def test_reveals_as_cut_are_even_around_every_window(cut: Cut, typed: bool) -> None:
    """Source: G3. Whatever stands where: rows that meet at one side, title slots, places that were typed."""
    grid, exact, shop, step = cut
    if typed:
        tops = [w for w in exact.windows_of(1) if not w.name.endswith(" slot")]
        exact = work_out(placed(exact.spec, [Point(x=w.x, y=w.y) for w in tops]))
        shop = in_steps(exact, Steps(unit=grid.unit, step=step))
    for layer, asked in enumerate(grid.reveals, start=2):
        (reveal,) = even_reveals(shop, layer)
        wanted = as_length(asked, grid.unit)
        assert (reveal / step).denominator == 1
        assert abs(reveal - wanted) <= step / 2


def rows(grid: Grid, windows: tuple[Window, ...]) -> list[tuple[Window, ...]]:
    found, first = [], 0
    for count in grid.rows:
        found.append(windows[first : first + count])
        first += count
    return found


@given(cut_grids(alike=True))
def test_equal_gaps_between_equal_windows_differ_by_a_step_at_most(cut: Cut) -> None:
    grid, exact, shop, step = cut
    for layer in exact.layers:
        lines = rows(grid, shop.windows_of(layer.layer))
        across = [b.x - right(a) for line in lines for a, b in pairwise(line)]
        down = [b[0].y - bottom(a[0]) for a, b in pairwise(lines)]
        for gaps in (across, down):
            assert not gaps or max(gaps) - min(gaps) <= step


@given(cut_grids())
def test_gaps_between_unequal_windows_are_less_than_two_steps_off(cut: Cut) -> None:
    """Each of two windows may be half a step off in size, and each place half a step. In an under mat the
    gaps are wider by two reveals as cut, at all windows alike."""
    grid, exact, shop, step = cut
    before, after = rows(grid, exact.windows_of(1)), rows(grid, shop.windows_of(1))
    for one, other in zip(before, after, strict=True):
        wanted = [b.x - right(a) for a, b in pairwise(one)]
        got = [b.x - right(a) for a, b in pairwise(other)]
        assert all(abs(w - g) < step * 2 for w, g in zip(wanted, got, strict=True))
    for layer in shop.layers[1:]:
        (reveal,) = even_reveals(shop, layer.layer)
        above = rows(grid, shop.windows_of(layer.layer - 1))
        for one, other in zip(above, rows(grid, shop.windows_of(layer.layer)), strict=True):
            wider = [b.x - right(a) + reveal * 2 for a, b in pairwise(one)]
            assert wider == [b.x - right(a) for a, b in pairwise(other)]


@given(cut_grids(alike=True))
def test_the_odd_step_of_equal_borders_goes_to_the_right_and_to_the_bottom(cut: Cut) -> None:
    _, exact, shop, step = cut
    for before, after in zip(exact.layers, shop.layers, strict=True):
        if before.borders.left == before.borders.right:
            assert after.borders.right - after.borders.left in (ZERO, step)
        if before.borders.top == before.borders.bottom:
            assert after.borders.bottom - after.borders.top in (ZERO, step)


@given(cut_grids())
def test_windows_that_meet_in_a_row_meet_in_steps_too(cut: Cut) -> None:
    grid, _, shop, _ = cut
    for layer in shop.layers:
        for line in rows(grid, shop.windows_of(layer.layer)):
            if grid.align == "top":
                assert len({w.y for w in line}) == 1
            if grid.align == "bottom":
                assert len({bottom(w) for w in line}) == 1


@given(cut_grids(alike=True))
def test_columns_of_a_grid_stay_columns(cut: Cut) -> None:
    grid, _, shop, _ = cut
    lines = rows(grid, shop.windows_of(1))
    assert len({tuple(w.x for w in line) for line in lines}) == 1


@given(cut_grids(slots=True))
def test_what_is_in_steps_stays_as_it_is(cut: Cut) -> None:
    grid, _, shop, step = cut
    again = in_steps(shop, Steps(unit=grid.unit, step=step))
    assert (again.windows, again.layers) == (shop.windows, shop.layers)


@given(grids(slots=False), st.data())
def test_places_typed_in_steps_are_cut_as_typed(grid: Grid, data: st.DataObject) -> None:
    step = data.draw(st.sampled_from(ALLOWED_STEPS[grid.unit]))
    steps = Steps(unit=grid.unit, step=step)
    spec = spec_of(grid)
    tops = work_out(spec).windows_of(1)
    typed = [Point(x=steps.up(w.x), y=steps.up(w.y)) for w in tops]
    roomy = replace(placed(spec, typed), mats=spec.mats[:1])
    shop = in_steps(work_out(roomy), steps)
    assert [(w.x, w.y) for w in shop.windows] == [(at.x, at.y) for at in typed]


@given(cut_grids(slots=True))
def test_a_slot_stays_as_far_under_its_window_as_asked_to_the_nearest_step(cut: Cut) -> None:
    grid, exact, shop, step = cut
    steps = Steps(unit=grid.unit, step=step)
    under = {w.name: w for w in shop.windows_of(1)}
    asked = {w.name: w for w in exact.windows_of(1)}
    for name in [name for name in under if name.endswith(" slot")]:
        above = name.removesuffix(" slot")
        gap = under[name].y - bottom(under[above])
        assert gap == steps.nearest(asked[name].y - bottom(asked[above]))
