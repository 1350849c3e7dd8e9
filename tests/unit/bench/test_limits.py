"""What a cutter cannot do is said before it is promised, with a way out (B4)."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.bench import (
    Cutter,
    Edge,
    MatToCut,
    can_cut,
    limit_notices,
    limits_of,
    plan_settings,
    usual_cutter,
)
from app.framing import Concern
from app.lengths import Size, Unit, inches, mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, oval, rows_of_eight, window

LONG = mat("1100", "500", window("A", "80", "80", "940", "340"))
ROOMY = replace(CUTTER, name="long cutter", cut_length=inches(60), guide_reach=mm(600))


def codes(of: MatToCut, cutter: Cutter = CUTTER) -> list[str]:
    return [limit.code for limit in limits_of(of, cutter, Unit.MM)]


def test_a_usual_mat_on_a_usual_cutter_is_within_every_limit() -> None:
    assert codes(framed_by("70", "70", "70", "80")) == []
    assert can_cut(framed_by("70", "70", "70", "80"), CUTTER)


@pytest.mark.parametrize(("side", "limits"), [("1016", []), ("1016.5", ["blank-longer-than-cut"])])
@pytest.mark.parametrize("turned", [False, True])
def test_a_blank_is_sized_along_its_longer_side(side: str, limits: list[str], turned: bool) -> None:
    """Source: handbook B4; 40 in = 1016 mm of cut length."""
    opening = str(Fraction(side) - 160)
    of = mat(side, "500", window("A", "80", "80", opening, "340"))
    if turned:
        of = mat("500", side, window("A", "80", "80", "340", opening))
    assert codes(of) == limits


def test_a_window_may_be_cut_in_a_board_that_stands_out_at_the_ends() -> None:
    """By hand: the blank of 1100 is longer than 1016, its longest cut of 940 is not."""
    assert codes(LONG) == ["blank-longer-than-cut"]


def test_the_offsets_count_in_the_longest_cut() -> None:
    """By hand: 1010 + 4 + 3 = 1017 is 1 more than 40 in."""
    of = mat("1170", "500", window("A", "80", "80", "1010", "340"))
    assert "window-longer-than-cut" not in codes(of)
    offset = replace(CUTTER, start_offset=mm(4), end_offset=mm(3))
    (limit,) = (x for x in limits_of(of, offset, Unit.MM) if x.code == "window-longer-than-cut")
    assert "1017 mm" in limit.says
    assert "1016 mm" in limit.says


@pytest.mark.parametrize(("border", "limits"), [("200", []), ("200.5", ["setting-beyond-reach"])])
def test_the_guide_reaches_as_far_as_it_does(border: str, limits: list[str]) -> None:
    assert codes(framed_by("70", "70", border, "80")) == limits


def test_a_correction_can_take_a_setting_beyond_reach() -> None:
    assert codes(
        framed_by("200", "70", "70", "70"), replace(CUTTER, guide_correction=mm("0.5"))
    ) == ["setting-beyond-reach"]


def test_a_few_far_edges_are_named_with_their_settings() -> None:
    """By hand: 600 wide, two windows of 100 at 100 and 400: B's left and A's right edge, seen from the front, lie at 400 from
    their own edges of the board. Back up left and right are exchanged (G10), and so the step and the plan of the back say."""
    two = mat(
        "600",
        "300",
        window("A", "100", "100", "100", "100"),
        window("B", "400", "100", "100", "100"),
    )
    (notice,) = limit_notices([two], CUTTER, Unit.MM)
    said = "right of B at 400 mm, left of A at 400 mm, named as the board lies face down."
    assert f"too short for {said}" in notice.message
    settings = plan_settings([two], CUTTER)
    by_hand = {(cut.window.name, cut.edge_as_it_lies) for cut in settings.by_straight_edge}
    assert by_hand == {("B", Edge.RIGHT), ("A", Edge.LEFT)}


def test_the_one_window_has_its_far_edge_named_as_the_board_lies() -> None:
    """G10: 250 at the left of the front lies at the right, back up; a reverse bevel is cut face up, where nothing is exchanged
    and the line lies a bevel of 1.4 further in: 251.4, on a scale of half millimetres 251.5 (G8)."""
    far = framed_by("250", "70", "70", "70")
    (notice,) = limit_notices([far], CUTTER, Unit.MM)
    assert "the right edge at 250 mm, named as the board lies face down" in notice.message
    (face_up,) = limit_notices([replace(far, reverse=True)], CUTTER, Unit.MM)
    assert "too short for the left edge at 251.5 mm, named as the board lies face up" in (
        face_up.message
    )


def test_many_far_edges_are_counted() -> None:
    """By hand: beyond 200 lie four edges each: 300 and 420 from either side, 230 from the top, 250
    from the bottom."""
    (notice,) = limit_notices([rows_of_eight()], CUTTER, Unit.MM)
    assert notice.code == "setting-beyond-reach"
    assert "too short for 16 edges of its windows, at 230 mm to 420 mm" in notice.message


def test_a_setting_below_the_scale_is_said() -> None:
    """By hand: a border of 1 with a correction of minus 2 would be set at minus 1."""
    of = framed_by("1", "70", "70", "70")
    assert codes(of, replace(CUTTER, guide_correction=mm(-2))) == ["setting-below-scale"]


@pytest.mark.parametrize(
    ("side", "limits"),
    [("2", ["overcuts-as-large-as-window"]), ("2.5", ["overcuts-as-large-as-window"]), ("2.6", [])],
)
def test_a_window_no_larger_than_the_overcuts_is_said(side: str, limits: list[str]) -> None:
    """By hand: the cuts run 1.5 and 1 past the corners, 2.5 in all. Common practice."""
    tiny = mat("142", "142", window("A", "70", "70", side, side))
    offset = replace(CUTTER, start_offset=mm("1.5"), end_offset=mm(1))
    assert codes(tiny, offset) == limits
    assert codes(tiny) == []


def test_curves_need_a_cutter_for_ovals() -> None:
    of = mat("400", "300", oval("A", "80", "80", "240", "140"))
    (notice,) = limit_notices([of], CUTTER, Unit.MM)
    assert notice.code == "needs-cutter-for-ovals"
    assert "A (oval)" in notice.message
    assert codes(of, replace(CUTTER, cuts_ovals=True)) == []


@pytest.mark.parametrize(
    ("thickness", "limits"), [("3", []), ("3.1", ["board-thicker-than-blade"])]
)
def test_the_blade_goes_through_so_much_board(thickness: str, limits: list[str]) -> None:
    assert codes(replace(framed_by("70", "70", "70", "70"), thickness=mm(thickness))) == limits


def test_a_reverse_bevel_cannot_be_cut_behind_the_mat_above() -> None:
    of = mat(
        "400", "300", window("A", "80", "80", "240", "140"), layer=2, attached=True, reverse=True
    )
    (notice,) = limit_notices([of], CUTTER, Unit.MM)
    assert notice.code == "reverse-bevel-attached"
    assert "own edges" in notice.message


def test_another_cutter_of_the_shop_that_can_is_named() -> None:
    (notice,) = limit_notices([LONG], CUTTER, Unit.MM, others=[ROOMY])
    assert notice.message.startswith("The mat on “Mat cutter”: the blank of 1100 × 500 mm")
    assert notice.message.endswith("It can be cut on “long cutter”.")
    assert notice.concern is Concern.RISK


def test_another_cutter_that_cannot_either_is_not_named() -> None:
    short = replace(CUTTER, name="small cutter", cut_length=inches(32))
    (notice,) = limit_notices([LONG], CUTTER, Unit.MM, others=[short])
    assert "small cutter" not in notice.message
    assert notice.message.endswith("Size it by straight-edge, or order it cut.")


def test_another_cutter_must_do_the_whole_mat() -> None:
    """One that reaches the length and has no blade for the board is no way out."""
    shallow = replace(ROOMY, deepest_board=mm(1))
    (notice,) = limit_notices([LONG], CUTTER, Unit.MM, others=[shallow, ROOMY])
    assert notice.message.endswith("It can be cut on “long cutter”.")


def test_every_limit_of_every_mat_is_said_with_its_piece_in_the_tickets_unit() -> None:
    cutter = usual_cutter(Unit.MM)
    thick = replace(LONG, piece="7/2", thickness=mm("6.35"))
    notices = limit_notices(
        [framed_by("70", "70", "70", "70", piece="7/1"), thick], cutter, Unit.IN
    )
    assert [notice.code for notice in notices] == [
        "board-thicker-than-blade",
        "blank-longer-than-cut",
    ]
    assert all(notice.message.startswith("Mat 1 of 7/2 on “Mat cutter”: ") for notice in notices)
    assert '1/4" thick' in notices[0].message


def test_the_blank_is_what_counts_and_not_the_edges_it_is_worked_from() -> None:
    """By hand: an attached blank of 1014 passes though the package of 1020 does not."""
    package = Size(mm(1020), mm(500))
    under = replace(
        mat("1020", "500", window("A", "90", "90", "840", "320"), layer=2, attached=True),
        blank=Size(mm(1014), mm(494)),
    )
    assert under.reference == package
    assert codes(under) == []
