"""What is unwise about a piece does not depend on the unit that it is written in."""

from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from app.errors import Invalid
from app.framing import Edges, Fillet, Notice, Spec, work_out
from app.lengths import Unit, mm
from tests.property.laying import Grid, grids
from tests.property.laying import spec_of as spec_of_grid
from tests.property.plane import Plan
from tests.property.planning import plans, spec_of


def said(spec: Spec) -> list[tuple[str, str]]:
    """(code, concern) of every notice."""
    try:
        notices: tuple[Notice, ...] = work_out(spec).notices
    except Invalid:
        assume(False)
    return [(notice.code, notice.concern.value) for notice in notices]


def alike_in_both(spec: Spec) -> bool:
    return said(replace(spec, unit=Unit.MM)) == said(replace(spec, unit=Unit.IN))


@given(plans())
def test_a_piece_calls_for_the_same_notices_in_millimetres_and_in_inches(plan: Plan) -> None:
    assert alike_in_both(spec_of(plan))


@given(grids())
def test_so_do_several_windows(grid: Grid) -> None:
    assert alike_in_both(spec_of_grid(grid))


TENTHS = st.integers(0, 30)


@given(plans(presentations=("window", "float")), TENTHS, TENTHS, TENTHS, TENTHS)
def test_so_does_a_piece_close_to_every_customary_figure(
    plan: Plan, border: int, room: int, tuck: int, over: int
) -> None:
    """Borders from 48.5 to 51.5 mm, 1 to 4 mm behind the stack, tucks and covers of 1 to 4 mm."""
    spec = spec_of(plan)
    assume(spec.frames)
    spec = replace(spec, borders=Edges.equal(mm(485 + border) / 10), package=None)
    spec = replace(
        spec,
        overlap=mm(10 + over) / 10,
        gap=mm(40) / 10 + mm(over) / 10,
        fillet=Fillet(face=mm(10), lip=mm(2), tuck=mm(10 + tuck) / 10, thickness=mm(1)),
    )
    try:
        deep = work_out(spec).stack + mm(10 + room) / 10
    except Invalid:
        assume(False)
    first, *others = spec.frames
    assert alike_in_both(replace(spec, frames=(replace(first, rebate_depth=deep), *others)))
