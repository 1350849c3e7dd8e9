"""Several windows against rectangles on a plane (shapely), and the laws that any layout keeps.

The rectangles are laid by hand here: one cursor goes along each row and one down the rows, in whole
grains times two. Nothing of the program's arithmetic is used for them.
"""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon, affinity, box
from shapely.ops import unary_union

from app.errors import Invalid
from app.framing import (
    Arrangement,
    Dimensions,
    Edges,
    Opening,
    Point,
    Spec,
    Window,
    mirrored,
    snapped_up,
    work_out,
)
from app.framing.notice import Notice
from app.lengths import Length, Size, Unit
from tests.property.laying import Grid, grids, placed, spec_of
from tests.property.plane import Plan, as_length, as_quarters
from tests.property.planning import plans
from tests.property.planning import spec_of as plan_spec

Places = list[tuple[int, int, int, int]]
"""Left, top, right, bottom of every window of the top mat, in quarters of a grain."""


def laid_by_hand(grid: Grid) -> tuple[Places, tuple[int, int]]:
    """Windows with their slots, and the package, in quarters of a grain."""
    tall = [(w + grid.grown, h + grid.grown) for w, h in grid.sizes]
    rows, first = [], 0
    for count in grid.rows:
        rows.append(list(range(first, first + count)))
        first += count
    cell = {}
    for i, (w, _) in enumerate(tall):
        slot = grid.slots[i]
        cell[i] = max(w, slot[0] + grid.grown) if slot else w
    wide = [sum(cell[i] for i in row) + grid.across * (len(row) - 1) for row in rows]
    places: Places = []
    y = 4 * grid.borders[2]
    bottom = y
    for row, width in zip(rows, wide, strict=True):
        highest = max(tall[i][1] for i in row)
        x = 4 * grid.borders[0] + 2 * (max(wide) - width)
        drop = {"top": 0, "centre": 2, "bottom": 4}[grid.align]
        for i in row:
            w, h = tall[i]
            left, above = x + 2 * (cell[i] - w), y + drop * (highest - h)
            places.append((left, above, left + 4 * w, above + 4 * h))
            bottom = max(bottom, above + 4 * h)
            if slot := grid.slots[i]:
                sw, sh = slot[0] + grid.grown, slot[1] + grid.grown
                left, above = x + 2 * (cell[i] - sw), above + 4 * (h + slot[2])
                places.append((left, above, left + 4 * sw, above + 4 * sh))
                bottom = max(bottom, above + 4 * sh)
            x += 4 * (cell[i] + grid.across)
        y = bottom + 4 * grid.down
    package = (4 * (grid.borders[0] + max(wide) + grid.borders[1]), bottom + 4 * grid.borders[3])
    return places, package


def as_places(windows: tuple[Window, ...], unit: Unit) -> Places:
    def quarters(*lengths: Length) -> tuple[int, ...]:
        return tuple(as_quarters(length, unit) for length in lengths)

    return [
        (left, top, right, bottom)
        for left, top, right, bottom in (
            quarters(w.x, w.y, w.x + w.size.width, w.y + w.size.height) for w in windows
        )
    ]


def shapes(windows: tuple[Window, ...]) -> list[Polygon]:
    """Rectangles of the windows in mm; exact enough for areas, never for lengths."""
    return [
        box(
            float(w.x.mm),
            float(w.y.mm),
            float((w.x + w.size.width).mm),
            float((w.y + w.size.height).mm),
        )
        for w in windows
    ]


@given(grids())
def test_rows_lie_as_laid_by_hand(grid: Grid) -> None:
    worked = work_out(spec_of(grid))
    places, package = laid_by_hand(grid)
    assert as_places(worked.windows_of(1), grid.unit) == places
    assert (
        as_quarters(worked.package.width, grid.unit),
        as_quarters(worked.package.height, grid.unit),
    ) == package


@given(grids())
def test_windows_without_a_fault_lie_apart_inside_their_board(grid: Grid) -> None:
    worked = work_out(spec_of(grid))
    for layer in worked.layers:
        holes = shapes(worked.windows_of(layer.layer))
        whole = unary_union(holes)
        assert abs(whole.area - sum(hole.area for hole in holes)) < 1e-6
        board = box(0, 0, float(layer.blank.width.mm), float(layer.blank.height.mm))
        out = 0 if grid.own_edges or layer.layer == 1 else float(as_length(grid.trim, grid.unit).mm)
        assert board.contains(affinity.translate(whole, -out, -out))


@given(grids())
def test_every_window_of_an_under_mat_is_its_upper_one_drawn_in_by_the_reveal(grid: Grid) -> None:
    worked = work_out(spec_of(grid))
    for layer, reveal in enumerate(grid.reveals, start=2):
        by = float(as_length(reveal, grid.unit).mm)
        out = float(as_length(grid.trim, grid.unit).mm) if grid.own_edges else 0.0
        out = out if layer == 2 else 0.0
        for upper, under in zip(
            shapes(worked.windows_of(layer - 1)), shapes(worked.windows_of(layer)), strict=True
        ):
            drawn_in = affinity.translate(upper.buffer(-by, join_style="mitre"), -out, -out)
            assert drawn_in.symmetric_difference(under).area < 1e-6


@given(grids())
def test_borders_are_the_distances_to_the_nearest_windows(grid: Grid) -> None:
    worked = work_out(spec_of(grid))
    spec = worked.spec
    assert worked.layers[0].borders == spec.borders
    for layer in worked.layers:
        windows = worked.windows_of(layer.layer)
        assert layer.borders.left == min(w.x for w in windows)
        assert layer.borders.top == min(w.y for w in windows)


@given(grids())
def test_package_and_borders_give_back_the_gaps(grid: Grid) -> None:
    """G9. Where rows have one window each, or there is one row, nothing is left to be solved."""
    spec = spec_of(grid)
    worked = work_out(spec)
    asked = Arrangement(rows=grid.rows, align=spec.arrangement.align)  # type: ignore[union-attr]
    if max(grid.rows) > 1:
        widest = max(range(len(grid.rows)), key=lambda row: _row_width(worked, row))
        assume(grid.rows[widest] > 1)
    solved = work_out(replace(spec, package=worked.package, arrangement=asked))
    if len(spec.openings) > 1:
        assert solved.gaps == worked.gaps
        assert solved.windows == worked.windows


def _row_width(worked: Dimensions, row: int) -> Length:
    rows = worked.spec.arrangement.rows  # type: ignore[union-attr]
    first = sum(rows[:row])
    names = {opening.name for opening in worked.spec.openings[first : first + rows[row]]}
    windows = [w for w in worked.windows_of(1) if w.name.removesuffix(" slot") in names]
    return max(w.x + w.size.width for w in windows) - min(w.x for w in windows)


@given(grids())
def test_package_and_gaps_give_back_equal_borders(grid: Grid) -> None:
    """G5: with the difference of top and bottom as the weighting."""
    left, _, top, bottom = grid.borders
    grid = replace(grid, borders=(left, left, top, max(top, bottom)))
    spec = spec_of(grid)
    worked = work_out(spec)
    weighting = worked.layers[0].borders.bottom - worked.layers[0].borders.top
    open_borders = replace(spec, borders=None, package=worked.package, weighting=weighting)
    assert work_out(open_borders).windows == worked.windows
    assert work_out(open_borders).layers == worked.layers


@given(grids())
def test_places_read_off_the_rows_give_the_same_mat(grid: Grid) -> None:
    spec = spec_of(grid)
    worked = work_out(spec)
    tops = [w for w in worked.windows_of(1) if not w.name.endswith(" slot")]
    again = work_out(placed(spec, [Point(x=w.x, y=w.y) for w in tops]))
    assert (again.windows, again.layers, again.package) == (
        worked.windows,
        worked.layers,
        worked.package,
    )


@given(grids())
def test_the_view_from_the_back_is_a_reflection_and_undoes_itself(grid: Grid) -> None:
    """G10, against an affine map: x becomes width - x."""
    worked = work_out(spec_of(grid))
    windows, whole = worked.windows_of(1), worked.package
    back = tuple(mirrored(window, whole) for window in windows)
    assert tuple(mirrored(window, whole) for window in back) == windows
    for front, behind in zip(shapes(windows), shapes(back), strict=True):
        flipped = affinity.affine_transform(front, [-1, 0, 0, 1, float(whole.width.mm), 0])
        assert flipped.symmetric_difference(behind).area < 1e-6


def turned(spec: Spec) -> Spec:
    """Free windows reflected about the diagonal: width and height, left and top exchanged."""
    assert spec.borders is not None
    b = spec.borders
    return replace(
        spec,
        artwork=spec.artwork.turned(),
        borders=Edges(left=b.top, right=b.bottom, top=b.left, bottom=b.right),
        openings=tuple(
            replace(
                opening,
                window=opening.window.turned() if opening.window else None,
                at=Point(x=opening.at.y, y=opening.at.x) if opening.at else None,
            )
            for opening in spec.openings
        ),
    )


@given(grids(slots=False))
def test_turning_a_mat_exchanges_width_and_height_of_everything(grid: Grid) -> None:
    """G21."""
    spec = spec_of(grid)
    windows = work_out(spec).windows_of(1)
    free = placed(spec, [Point(x=w.x, y=w.y) for w in windows])
    one, other = work_out(free), work_out(turned(free))
    assert other.package == one.package.turned()
    for before, after in zip(one.windows, other.windows, strict=True):
        assert (after.size, after.face) == (before.size.turned(), before.face.turned())
        assert (after.x, after.y) == (before.y, before.x)


@given(grids(alike=True))
def test_turning_a_grid_exchanges_rows_and_columns(grid: Grid) -> None:
    """G21."""
    left, right, top, bottom = grid.borders
    columns, lines = grid.rows[0], len(grid.rows)
    other = replace(
        grid,
        rows=(lines,) * columns,
        sizes=tuple((height, width) for width, height in grid.sizes),
        across=grid.down,
        down=grid.across,
        borders=(top, bottom, left, right),
    )
    one, two = work_out(spec_of(grid)), work_out(spec_of(other))
    assert two.package == one.package.turned()
    assert {(w.y, w.x) for w in two.windows_of(1)} == {(w.x, w.y) for w in one.windows_of(1)}


@given(plans(presentations=("window", "float")), st.booleans())
def test_one_opening_for_the_artwork_is_the_piece_without_openings(
    plan: Plan, outright: bool
) -> None:
    """Named or not, by its artwork or by the window that follows from it."""
    spec = plan_spec(plan)
    assume(spec.mats)
    plain = work_out(spec)
    opening = Opening(name="A", artwork=spec.artwork)
    if outright and not (spec.borders and spec.package):
        opening = Opening(name="A", window=plain.windows[-1].size)
    one = work_out(replace(spec, openings=(opening,)))
    assert one.layers == plain.layers
    assert one.package == plain.package
    assert one.frames == plain.frames
    assert tuple(replace(w, name="") for w in one.windows) == plain.windows
    if not outright:
        assert one.notices == tuple(
            replace(notice, message=_naming_its_window(notice)) for notice in plain.notices
        )


def _naming_its_window(notice: Notice) -> str:
    """The sentence as it is said of the artwork in window A."""
    if notice.code == "artwork-barely-covered":
        return f"{notice.message[:-1]}: A."
    if notice.code == "artwork-past-glass":
        return notice.message.replace("The artwork,", "The artwork in window A,", 1)
    return notice.message


@given(plans(presentations=("window", "float")))
def test_one_window_lies_at_its_borders(plan: Plan) -> None:
    worked = work_out(plan_spec(plan))
    for layer, window in zip(worked.layers, worked.windows, strict=True):
        assert (window.x, window.y) == (layer.borders.left, layer.borders.top)


@given(grids())
def test_a_snapped_package_holds_the_same_windows_farther_from_its_edges(grid: Grid) -> None:
    spec = spec_of(grid)
    worked = work_out(spec)
    snapped = snapped_up(spec)
    assume(snapped is not None)
    assert snapped is not None
    after = work_out(snapped.spec)
    assert after.package in (snapped.standard.size, snapped.standard.size.turned())
    assert [w.size for w in after.windows] == [w.size for w in worked.windows]
    assert after.gaps == worked.gaps
    assert after.layers[0].borders.left == after.layers[0].borders.right
    one, two = worked.windows_of(1), after.windows_of(1)
    assert {(b.x - a.x, b.y - a.y) for a, b in zip(one, two, strict=True)} == {
        (two[0].x - one[0].x, two[0].y - one[0].y)
    }


@given(grids(), st.data())
def test_a_window_laid_over_another_is_always_told(grid: Grid, data: st.DataObject) -> None:
    spec = spec_of(grid)
    tops = [w for w in work_out(spec).windows_of(1) if not w.name.endswith(" slot")]
    assume(len(tops) > 1)
    onto = data.draw(st.integers(0, len(tops) - 2))
    moved = data.draw(st.integers(onto + 1, len(tops) - 1))
    places = [Point(x=w.x, y=w.y) for w in tops]
    places[moved] = places[onto]
    wide = as_length(10**6, grid.unit)
    over = replace(placed(spec, places), borders=None, package=Size(width=wide, height=wide))
    with pytest.raises(Invalid) as caught:
        work_out(over)
    said = [fault.message for fault in caught.value.faults]
    names = f"Windows {tops[onto].name} and {tops[moved].name} overlap by "
    assert any(message.startswith(names) for message in said)
