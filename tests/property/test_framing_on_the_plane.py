"""The laws of a piece's geometry, by a second path: rectangles on a plane in whole numbers."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, union_all

from app.framing import Dimensions, FrameSizes, work_out
from app.lengths import Length, Size, Unit
from tests.property.plane import QUARTERS, Box, Moulding, Plan, as_quarters, lay
from tests.property.planning import plans, spec_of


def quarters(size: Size | None, unit: Unit) -> tuple[int, int]:
    assert size is not None
    return (as_quarters(size.width, unit), as_quarters(size.height, unit))


@given(plans())
def test_every_part_is_what_lies_on_the_plane(plan: Plan) -> None:
    laid, worked, unit = lay(plan), work_out(spec_of(plan)), plan.unit
    assert [quarters(w.size, unit) for w in worked.windows] == [b.size for b in laid.windows]
    assert [quarters(w.face, unit) for w in worked.windows] == [b.size for b in laid.faces]
    assert [quarters(one.blank, unit) for one in worked.layers] == [b.size for b in laid.blanks]
    assert [
        tuple(as_quarters(length, unit) for _, length in layer.borders.sides())
        for layer in worked.layers
    ] == list(laid.borders)
    assert quarters(worked.package, unit) == laid.package.size
    assert [quarters(f.rebate, unit) for f in worked.frames] == [b.size for b in laid.rebates]
    assert [quarters(f.sight, unit) for f in worked.frames] == [b.size for b in laid.sights]
    assert [quarters(f.outside, unit) for f in worked.frames] == [b.size for b in laid.outsides]
    for panel in (worked.glazing, worked.mount_board, worked.backing):
        assert quarters(panel, unit) == laid.panel.size
    assert [(as_quarters(at, unit), count) for at, count in worked.spacers] == [
        (laid.spacers[0], 2),
        (laid.spacers[1], 2),
    ]


@given(plans(presentations=("window", "float")))
def test_windows_are_nested_by_their_reveals_and_cover_the_artwork_alike(plan: Plan) -> None:
    laid = lay(plan)
    for outer, inner, reveal in zip(laid.windows, laid.windows[1:], plan.reveals, strict=False):
        assert outer.margins_of(inner) == (QUARTERS * reveal,) * 4
    worked = work_out(spec_of(plan))
    for upper, under, reveal in zip(worked.windows, worked.windows[1:], plan.reveals, strict=False):
        for side in ("width", "height"):
            shown: Length = getattr(upper.size, side) - getattr(under.size, side)
            assert as_quarters(shown, plan.unit) == 2 * QUARTERS * reveal


@given(plans(presentations=("window", "float")))
def test_borders_and_window_fill_the_board_they_are_measured_on(plan: Plan) -> None:
    worked = work_out(spec_of(plan))
    for layer, window in zip(worked.layers, worked.windows, strict=True):
        board = layer.blank if plan.own_edges else worked.package
        borders = layer.borders
        assert borders.left + window.size.width + borders.right == board.width
        assert borders.top + window.size.height + borders.bottom == board.height


@given(plans())
def test_a_long_point_is_its_short_point_and_two_faces(plan: Plan) -> None:
    worked = work_out(spec_of(plan))
    for moulding, frame in zip(plan.mouldings, worked.frames, strict=True):
        for long, short in zip(frame.long_points, frame.short_points, strict=True):
            assert as_quarters(long - short, plan.unit) == 2 * QUARTERS * moulding.face


@given(plans())
def test_each_frame_is_the_package_of_the_next(plan: Plan) -> None:
    worked = work_out(spec_of(plan))
    inside = worked.package
    for number, (frame, profile) in enumerate(zip(worked.frames, worked.spec.frames, strict=True)):
        if number or plan.presentation != "canvas-float":
            assert frame.rebate.width - inside.width == profile.allowance
            assert frame.rebate.height - inside.height == profile.allowance
        else:
            assert frame.rebate == frame.sight == inside
        inside = frame.outside
    assert worked.outside == inside


def turned(plan: Plan) -> Plan:
    """The plan turned by a quarter to the right: the old left is the new top, the bottom the left."""
    borders = plan.borders
    return replace(
        plan,
        artwork=plan.artwork[::-1],
        package=plan.package[::-1] if plan.package else None,
        borders=(borders[3], borders[2], borders[0], borders[1]) if borders else None,
    )


def sizes(worked: Dimensions) -> list[Size]:
    """Every size of a piece in one order."""
    frames: tuple[FrameSizes, ...] = worked.frames
    panels = (worked.glazing, worked.mount_board, worked.backing)
    return [
        *(window.size for window in worked.windows),
        *(window.face for window in worked.windows),
        *(layer.blank for layer in worked.layers),
        worked.package,
        *(size for frame in frames for size in (frame.rebate, frame.sight, frame.outside)),
        *(panel for panel in panels if panel),
    ]


@given(plans())
def test_a_piece_turned_by_a_quarter_exchanges_its_widths_and_heights(plan: Plan) -> None:
    """Source: G21. A weighting stays at the bottom, so it is left out here."""
    upright = replace(plan, weighting=0)
    one, other = work_out(spec_of(upright)), work_out(spec_of(turned(upright)))
    assert [size.turned() for size in sizes(one)] == sizes(other)
    assert one.stack == other.stack
    for before, after in zip(one.layers, other.layers, strict=True):
        old, new = before.borders, after.borders
        assert (new.top, new.right, new.bottom, new.left) == (
            old.left,
            old.top,
            old.right,
            old.bottom,
        )


@given(plans())
def test_a_square_piece_has_square_parts(plan: Plan) -> None:
    """Source: G21."""
    side = plan.artwork[0]
    borders = (plan.borders[0],) * 4 if plan.borders else None
    square = replace(
        plan,
        artwork=(side, side),
        borders=borders,
        package=(plan.package[0],) * 2 if plan.package else None,
        weighting=0,
    )
    for size in sizes(work_out(spec_of(square))):
        assert size.width == size.height


@pytest.mark.parametrize("moulding", [Moulding(300, 60, 30), Moulding(120, 0, 10)])
@given(sides=st.tuples(st.integers(600, 9000), st.integers(600, 9000)))
def test_four_mitred_rails_close_the_frame_without_gap_or_overlap(
    moulding: Moulding, sides: tuple[int, int]
) -> None:
    """Four trapezoids of the worked long points, short points and face, laid around the package."""
    plan = Plan(
        unit=Unit.MM,
        presentation="close",
        artwork=sides,
        overlap=0,
        gap=0,
        layers=0,
        reveals=(),
        thicknesses=(),
        borders=None,
        package=None,
        weighting=0,
        own_edges=False,
        trim=0,
        mouldings=(moulding,),
        panel_trim=0,
        spacer_width=10,
    )
    (frame,) = work_out(spec_of(plan)).frames
    (long_w, long_h), (short_w, short_h) = (
        [as_quarters(point, Unit.MM) for point in points]
        for points in (frame.long_points, frame.short_points)
    )
    face = QUARTERS * moulding.face
    rails = [
        _rail(long_w, short_w, face),
        Polygon([(x, long_h - y) for x, y in _rail(long_w, short_w, face).exterior.coords]),
        Polygon([(y, x) for x, y in _rail(long_h, short_h, face).exterior.coords]),
        Polygon([(long_w - y, x) for x, y in _rail(long_h, short_h, face).exterior.coords]),
    ]
    outside = _filled(Box(0, 0, long_w, long_h))
    sight = _filled(Box(face, face, face + short_w, face + short_h))
    together = union_all(rails)
    assert together.equals(outside.difference(sight))
    assert sum(rail.area for rail in rails) == pytest.approx(together.area)


def _rail(long_point: int, short_point: int, face: int) -> Polygon:
    """A rail with its outside edge along the x axis and a mitre of 45 degrees at each end."""
    start = (long_point - short_point) / 2
    assert start == face
    return Polygon([(0, 0), (long_point, 0), (start + short_point, face), (start, face)])


def _filled(box: Box) -> Polygon:
    return Polygon([(box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)])
