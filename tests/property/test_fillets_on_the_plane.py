"""The laws of fillets, by a second path: rectangles on a plane in whole numbers (G19)."""

from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon, box
from shapely.ops import unary_union

from app.errors import Invalid
from app.framing import Fillet, Spec, in_steps, work_out
from app.lengths import Steps, Unit, inches, mm
from tests.property.laying import Grid, grids
from tests.property.laying import spec_of as spec_of_grid
from tests.property.plane import GRAINS_PER_UNIT, QUARTERS, Plan, as_length, as_quarters, lay
from tests.property.planning import MATTED, plans, spec_of


def strips(unit: Unit) -> st.SearchStrategy[tuple[int, int]]:
    """(face, tuck) in grains: faces to 40 mm, of which at least a grain shows."""
    per_mm = GRAINS_PER_UNIT[unit] / (1 if unit is Unit.MM else 25.4)
    return st.integers(2, int(40 * per_mm)).flatmap(
        lambda face: st.tuples(st.just(face), st.integers(1, face - 1))
    )


def fillet_of(strip: tuple[int, int], unit: Unit) -> Fillet:
    face, tuck = (as_length(grains, unit) for grains in strip)
    return Fillet(face=face, lip=tuck, tuck=tuck, thickness=as_length(8, unit))


@st.composite
def lined_plans(draw: st.DrawFn) -> tuple[Plan, tuple[int, int]]:
    plan = draw(plans(presentations=MATTED).filter(lambda plan: plan.layers > 0))
    return plan, draw(strips(plan.unit))


@given(lined_plans())
def test_a_fillet_lies_out_by_its_tuck_and_in_by_what_shows(
    given_: tuple[Plan, tuple[int, int]],
) -> None:
    plan, (face, tuck) = given_
    window, blank = lay(plan).windows[-1], lay(plan).blanks[-1]
    outside, sight = window.out(QUARTERS * tuck), window.out(-QUARTERS * (face - tuck))
    assume(min(sight.size) > 0)
    assume(min(blank.margins_of(outside)) >= 0)
    artwork = tuple(QUARTERS * side for side in plan.artwork)
    if plan.presentation == "float":
        assume(all(seen > side for seen, side in zip(sight.size, artwork, strict=True)))
    worked = work_out(replace(spec_of(plan), fillet=fillet_of((face, tuck), plan.unit)))
    (fillet,) = worked.fillets
    points = [as_quarters(one, plan.unit) for one in fillet.long_points]
    assert tuple(points) == outside.size
    assert tuple(as_quarters(one, plan.unit) for one in fillet.short_points) == sight.size


@given(lined_plans())
def test_four_mitred_rails_fill_the_ring_between_outside_and_sight(
    given_: tuple[Plan, tuple[int, int]],
) -> None:
    """Each rail is a trapezium between its points; the four meet at the mitres without a gap."""
    plan, strip = given_
    try:
        worked = work_out(replace(spec_of(plan), fillet=fillet_of(strip, plan.unit)))
    except Invalid:
        assume(False)
    face = QUARTERS * strip[0]
    (fillet,) = worked.fillets
    width, height = (as_quarters(one, plan.unit) for one in fillet.long_points)
    across, down = (as_quarters(one, plan.unit) for one in fillet.short_points)
    top = Polygon([(0, 0), (width, 0), (face + across, face), (face, face)])
    left = Polygon([(0, 0), (face, face), (face, face + down), (0, height)])
    bottom = Polygon([(x, height - y) for x, y in top.exterior.coords])
    right = Polygon([(width - x, y) for x, y in left.exterior.coords])
    ring = box(0, 0, width, height).difference(box(face, face, width - face, height - face))
    rails = (top, bottom, left, right)
    assert unary_union(rails).equals(ring)
    assert sum(rail.area for rail in rails) == ring.area
    assert sum(rails.count for rails in worked.fillet_rails) == 4


@given(grids(slots=False).flatmap(lambda grid: st.tuples(st.just(grid), strips(grid.unit))))
def test_fillets_are_refused_just_where_they_meet_or_leave_the_board(
    given_: tuple[Grid, tuple[int, int]],
) -> None:
    grid, (face, tuck) = given_
    assume(2 * (face - tuck) < min(min(size) for size in grid.sizes))
    spec = spec_of_grid(grid)
    worked = work_out(spec)
    last = len(worked.layers)
    shift = grid.trim * 4 if grid.own_edges and last > 1 else 0
    windows = [
        box(x, y, x + w, y + h)
        for x, y, w, h in (
            tuple(as_quarters(at, grid.unit) for at in (w.x, w.y, w.size.width, w.size.height))
            for w in worked.windows_of(last)
        )
    ]
    tucked = [window.buffer(4 * tuck, join_style="mitre") for window in windows]
    package = [as_quarters(at, grid.unit) for at in (worked.package.width, worked.package.height)]
    trim = grid.trim * 4 if last > 1 else 0
    board = box(trim - shift, trim - shift, package[0] - trim - shift, package[1] - trim - shift)
    apart = not any(one.intersects(other) for i, one in enumerate(tucked) for other in tucked[:i])
    fits = apart and all(board.covers(one) for one in tucked)
    assert refused_at(replace(spec, fillet=fillet_of((face, tuck), grid.unit))) == (
        set() if fits else {"fillet.tuck"}
    )


def refused_at(spec: Spec) -> set[str]:
    """The paths of its faults."""
    try:
        work_out(spec)
    except Invalid as invalid:
        return {fault.path for fault in invalid.faults}
    return set()


@given(lined_plans(), st.booleans())
def test_in_steps_the_tuck_stays_within_its_bounds(
    given_: tuple[Plan, tuple[int, int]], fine: bool
) -> None:
    """L2: rails up around the window as it is cut: the tuck loses nothing and gains less than half a
    step. G12: what is inside is the long points less two faces.
    """
    plan, strip = given_
    fillet = fillet_of(strip, plan.unit)
    try:
        worked = work_out(replace(spec_of(plan), fillet=fillet))
    except Invalid:
        assume(False)
    step = {Unit.MM: (mm("0.5"), mm(1)), Unit.IN: (inches("1/32"), inches("1/16"))}[plan.unit][fine]
    cut = in_steps(worked, Steps(unit=plan.unit, step=step))
    window, (one,) = cut.windows[-1].size, cut.fillets
    for outside, hole in (
        (one.outside.width, window.width),
        (one.outside.height, window.height),
    ):
        tuck = (outside - hole) / 2
        assert fillet.tuck <= tuck < fillet.tuck + step / 2
    for long, short in zip(one.long_points, one.short_points, strict=True):
        assert (long / step).denominator == 1
        assert long - short == fillet.face * 2
