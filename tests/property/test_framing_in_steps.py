"""The laws of cutting in the shop's steps (L2, G9): what may be larger, what smaller, by how much."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from app.framing import Dimensions, Edges, in_steps, work_out
from app.lengths import ALLOWED_STEPS, ZERO, Length, Size, Steps
from tests.property.plane import GRAINS_PER_UNIT, Plan, as_length
from tests.property.planning import plans, spec_of

MATTED = ("window", "float")


@st.composite
def cut_pieces(
    draw: st.DrawFn, *, presentations: tuple[str, ...] | None = None
) -> tuple[Plan, Dimensions, Dimensions, Length]:
    """A plan, its exact dimensions, the same in steps, and the step."""
    plan = draw(plans(presentations=presentations))
    step = draw(st.sampled_from(ALLOWED_STEPS[plan.unit]))
    exact = work_out(spec_of(plan))
    return plan, exact, in_steps(exact, Steps(unit=plan.unit, step=step)), step


Piece = tuple[Plan, Dimensions, Dimensions, Length]


def lengths(*sizes: Size | None) -> list[Length]:
    return [length for size in sizes if size for length in (size.width, size.height)]


def sides(borders: Edges) -> list[Length]:
    return [length for _, length in borders.sides()]


@given(cut_pieces())
def test_every_cut_figure_is_a_whole_number_of_steps(piece: Piece) -> None:
    _, _, cut, step = piece
    figures = [
        *lengths(*(w.size for w in cut.windows), *(w.face for w in cut.windows)),
        *lengths(*(layer.blank for layer in cut.layers)),
        *(length for layer in cut.layers for length in sides(layer.borders)),
        *lengths(cut.package, cut.glazing, cut.mount_board, cut.backing),
        *(length for length, _ in cut.spacers),
        *(length for f in cut.frames for length in lengths(f.outside)),
    ]
    assert [figure for figure in figures if (figure / step).denominator != 1] == []


@given(cut_pieces())
def test_the_rails_as_cut_make_the_short_points_the_sight_and_the_rebate(piece: Piece) -> None:
    """Source: G12. Four trapeziums as long as the rails are cut and as wide as their face: inside them is
    the sight, and a lip further out the rebate, whatever step face and lip lie on."""
    plan, _, cut, _ = piece
    for number, (moulding, frame) in enumerate(zip(plan.mouldings, cut.frames, strict=True)):
        face, lip = (
            Fraction(length, GRAINS_PER_UNIT[plan.unit]) for length in (moulding.face, moulding.lip)
        )
        if number == 0 and plan.presentation == "canvas-float":
            lip = Fraction(0)
        inside = [long.in_unit(plan.unit) - 2 * face for long in frame.long_points]
        assert [short.in_unit(plan.unit) for short in frame.short_points] == inside
        assert [side.in_unit(plan.unit) for side in lengths(frame.sight)] == inside
        walls = [side + 2 * lip for side in inside]
        assert [side.in_unit(plan.unit) for side in lengths(frame.rebate)] == walls


@given(cut_pieces())
def test_what_goes_in_is_never_larger_and_rails_never_smaller_than_exact(piece: Piece) -> None:
    _, exact, cut, step = piece
    going_in = zip(
        lengths(exact.glazing, exact.mount_board, exact.backing)
        + [length for length, _ in exact.spacers],
        lengths(cut.glazing, cut.mount_board, cut.backing) + [length for length, _ in cut.spacers],
        strict=True,
    )
    assert all(ZERO <= wanted - got < step for wanted, got in going_in)
    for wanted, got in zip(exact.frames, cut.frames, strict=True):
        for one, other in zip(
            lengths(wanted.rebate, wanted.sight, wanted.outside),
            lengths(got.rebate, got.sight, got.outside),
            strict=True,
        ):
            assert ZERO <= other - one < step


@given(cut_pieces(presentations=MATTED))
def test_blanks_and_windows_are_within_half_a_step_and_borders_within_one(piece: Piece) -> None:
    """Under mats follow the mat above by whole steps (G3): half a step more at each side for every reveal
    that lies between steps; the hole at the face is rounded from there."""
    plan, exact, cut, step = piece
    for wanted, got in zip(exact.windows, cut.windows, strict=True):
        off = _off(plan, wanted.layer, step)
        for one, other in zip(lengths(wanted.size), lengths(got.size), strict=True):
            assert abs(one - other) <= step / 2 + off * 2
        least = step / 2 if wanted.layer == 1 else step
        for one, other in zip(lengths(wanted.face), lengths(got.face), strict=True):
            assert abs(one - other) <= least + off * 2
    for before, after in zip(exact.layers, cut.layers, strict=True):
        for one, other in zip(lengths(before.blank), lengths(after.blank), strict=True):
            assert abs(one - other) <= step / 2
        for one, other in zip(sides(before.borders), sides(after.borders), strict=True):
            assert abs(one - other) <= step + _off(plan, before.layer, step)


def _off(plan: Plan, layer: int, step: Length) -> Length:
    """How far the reveals as cut may move a side of a layer's windows."""
    asked = [as_length(reveal, plan.unit) for reveal in plan.reveals[: layer - 1]]
    return sum((step / 2 for reveal in asked if (reveal / step).denominator != 1), ZERO)


@given(cut_pieces(presentations=MATTED))
def test_reveals_as_cut_are_even_whole_steps_nearest_to_those_asked(piece: Piece) -> None:
    """Source: G3. By sizes, since a mat on its own edges is laid in by its reveals."""
    plan, _, cut, step = piece
    for outer, inner, asked in zip(cut.windows, cut.windows[1:], plan.reveals, strict=False):
        reveal = (outer.size.width - inner.size.width) / 2
        assert outer.size.height - inner.size.height == reveal * 2
        assert (reveal / step).denominator == 1
        wanted = as_length(asked, plan.unit)
        assert abs(reveal - wanted) <= step / 2 or reveal == step
        if not plan.own_edges:
            assert (inner.x - outer.x, inner.y - outer.y) == (reveal, reveal)


@given(cut_pieces(presentations=MATTED))
def test_borders_and_window_fill_the_board_after_rounding_too(piece: Piece) -> None:
    plan, _, cut, _ = piece
    for layer, window in zip(cut.layers, cut.windows, strict=True):
        board = layer.blank if plan.own_edges else cut.package
        borders = layer.borders
        assert borders.left + window.size.width + borders.right == board.width
        assert borders.top + window.size.height + borders.bottom == board.height


@given(cut_pieces(presentations=MATTED))
def test_the_odd_step_goes_to_the_right_and_to_the_bottom(piece: Piece) -> None:
    """Source: G9. Equal borders stay equal, or the right and the bottom one have a step more."""
    _, exact, cut, step = piece
    for before, after in zip(exact.layers, cut.layers, strict=True):
        if before.borders.left == before.borders.right:
            assert after.borders.right - after.borders.left in (ZERO, step)
        if before.borders.top == before.borders.bottom:
            assert after.borders.bottom - after.borders.top in (ZERO, step)


@given(cut_pieces())
def test_tightness_is_said_exactly_where_half_the_allowance_is_gone(piece: Piece) -> None:
    """Source: L2. The room is what the cut rails leave between their rebate walls."""
    plan, exact, cut, _ = piece
    inside = cut.package if plan.layers else exact.package
    tight = 0
    for number, (profile, frame) in enumerate(zip(exact.spec.frames, cut.frames, strict=True)):
        behind_lip = profile.face - profile.lip
        rooms = [
            frame.outside.width - behind_lip - behind_lip - inside.width,
            frame.outside.height - behind_lip - behind_lip - inside.height,
        ]
        tray = number == 0 and plan.presentation == "canvas-float"
        tight += not tray and min(rooms) * 2 < profile.allowance
        inside = frame.outside
    said = [notice for notice in cut.notices if notice.code == "tight-after-rounding"]
    assert len(said) == tight


@given(cut_pieces())
def test_what_is_already_in_steps_stays_as_it_is(piece: Piece) -> None:
    plan, _, cut, step = piece
    again = in_steps(cut, Steps(unit=plan.unit, step=step))
    assert (again.windows, again.layers, again.frames) == (cut.windows, cut.layers, cut.frames)
    assert (again.glazing, again.backing, again.package) == (cut.glazing, cut.backing, cut.package)


@given(cut_pieces())
def test_thickness_and_stack_are_not_cut_and_stay_exact(piece: Piece) -> None:
    _, exact, cut, _ = piece
    assert cut.stack == exact.stack
    as_cut = "border-below-smallest"  # says the borders as they are cut
    before, after = (
        [notice for notice in of.notices if notice.code != as_cut] for of in (exact, cut)
    )
    assert after[: len(before)] == before
