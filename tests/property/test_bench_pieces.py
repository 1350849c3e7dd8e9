"""Pieces as the rules of geometry give them arrive at the bench whole (G7, G9, G10)."""

from hypothesis import given, settings
from hypothesis import strategies as st

from app.bench import Edge, marks_of, mats_to_cut, plan_settings, usual_cutter
from app.framing import Dimensions, in_steps, mirrored, work_out
from app.lengths import ALLOWED_STEPS, Steps, Unit
from tests.property import laying, planning


@st.composite
def pieces(draw: st.DrawFn) -> Dimensions:
    """Pieces with one window or several, one to three mats, in the shop's steps."""
    if draw(st.booleans()):
        grid = draw(laying.grids())
        unit, spec = grid.unit, laying.spec_of(grid)
    else:
        plan = draw(planning.plans(presentations=("window",)))
        unit, spec = plan.unit, planning.spec_of(plan)
    return in_steps(
        work_out(spec), Steps(unit=unit, step=draw(st.sampled_from(ALLOWED_STEPS[unit])))
    )


@given(pieces())
def test_the_nearest_window_edge_on_each_side_is_the_border_of_the_layer(cut: Dimensions) -> None:
    """Each computed for itself: by the bench from its edges, by geometry from the rounded layer."""
    for mat, layer in zip(mats_to_cut(cut), cut.layers, strict=True):
        for side, border in layer.borders.sides():
            assert min(mat.border(window, Edge(side)) for window in mat.windows) == border


@given(pieces())
def test_windows_are_marked_where_geometry_mirrors_them(cut: Dimensions) -> None:
    cutter = usual_cutter(Unit.MM)
    for mat in mats_to_cut(cut):
        drawn = marks_of(mat, cutter).windows
        back = [mirrored(window, mat.reference) for window in cut.windows_of(mat.layer)]
        assert [(box.at.x, box.at.y, box.size) for box in drawn] == [
            (window.x, window.y, window.size) for window in back
        ]


@given(pieces())
@settings(max_examples=40)
def test_every_straight_edge_of_the_piece_is_cut(cut: Dimensions) -> None:
    mats = mats_to_cut(cut)
    plan = plan_settings(mats, usual_cutter(Unit.MM))
    made = sum(len(setting.cuts) for setting in plan.settings) + len(plan.by_straight_edge)
    assert made == sum(len(window.straight_edges) for mat in mats for window in mat.windows)
    assert plan.proven
