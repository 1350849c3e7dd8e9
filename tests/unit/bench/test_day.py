"""The mats of a day together, against tables worked by hand (B10)."""

from dataclasses import replace

import pytest

from app.bench import Apart, MatToCut, Scale, Stops, plan_day, plan_settings
from app.errors import Invalid
from app.lengths import Length, Size, Unit, inches, mm
from tests.builders.at_cutter import CUTTER, framed_by, sketch_piece


def of(piece: str, *mats: MatToCut) -> list[MatToCut]:
    return [replace(mat, piece=piece) for mat in mats]


def test_two_pieces_alike_take_the_moves_of_one() -> None:
    """By hand: 80, 70, 76, 86 serve both; one after the other it is these four twice."""
    day = plan_day([*of("A", *sketch_piece()), *of("B", *sketch_piece())], CUTTER)
    assert (day.moves, day.moves_apart, day.proven) == (4, 8, True)
    cut = (cut.mat.piece for setting in day.guide.settings for cut in setting.cuts)
    assert tuple(dict.fromkeys(cut)) == ("A", "B")


def test_of_the_borders_of_two_pieces_those_alike_are_set_once() -> None:
    """By hand: 60, 70 and 70, 80 are three settings together, two and two apart."""
    one = of("A", framed_by("60", "60", "60", "70"))
    other = of("B", framed_by("70", "70", "70", "80"))
    day = plan_day([*one, *other], CUTTER)
    assert (day.moves, day.moves_apart) == (3, 4)


INCH_BOARD = Size(inches("193/8"), inches("61/2"))
INCH_MAT = replace(
    framed_by("60", "60", "60", "70", piece="B"), blank=INCH_BOARD, reference=INCH_BOARD
)
"""24 1/8 x 30 1/2 in = 612.775 x 774.7 mm."""


@pytest.mark.parametrize(
    ("scale", "set_to"),
    [
        # 30 1/2 in is 774.7 mm and 24 1/8 in 612.775: between the marks, to the nearest tenth
        (CUTTER.scale, [mm("774.7"), mm("612.8"), mm(320), mm(230)]),
        # 320 / 25.4 x 64 = 806.3 and 230 / 25.4 x 64 = 579.5: 12 19/32 and 9 1/16 in
        (
            Scale(unit=Unit.IN, step=inches("1/16")),
            [inches("61/2"), inches("193/8"), inches("403/32"), inches("145/16")],
        ),
    ],
)
def test_blanks_of_pieces_in_both_units_are_set_as_their_tickets_say(
    scale: Scale, set_to: list[Length]
) -> None:
    cutter = replace(CUTTER, scales=(scale,))
    one = framed_by("60", "60", "60", "70", piece="A")  # a blank of 320 x 230
    day = plan_day([one, INCH_MAT], cutter)
    assert [setting.at for setting in day.sizing.settings] == set_to


def test_copies_are_cut_at_the_same_settings() -> None:
    one = of("A", framed_by("60", "60", "60", "70"))
    day = plan_day(one, CUTTER, copies={"A": 20})
    assert (day.moves, day.moves_apart, day.copies) == (2, 2, {"A": 20})
    assert [each.blank.count for one in day.sizing.settings for each in one.blanks] == [20, 20]


def test_nothing_is_cut_less_than_once() -> None:
    with pytest.raises(Invalid) as refused:
        plan_day(of("A", framed_by("60", "60", "60", "70")), CUTTER, copies={"A": 0})
    (fault,) = refused.value.faults
    assert (fault.path, fault.message) == (
        "copies.A",
        "A is to be made 0 times; it must be at least once.",
    )


def test_pieces_apart_are_counted_as_their_own_plans_are_known() -> None:
    one = of("A", framed_by("60", "60", "60", "70"))
    known = Apart(moves=7, stop_moves=9, at_most=True)
    day = plan_day(one, replace(CUTTER, stops=Stops(far=True)), apart=known)
    assert (day.moves_apart, day.stop_moves_apart, day.stop_moves_apart_at_most) == (7, 9, True)
    without = plan_day(one, CUTTER, apart=known)
    assert (without.stop_moves_apart, without.stop_moves_apart_at_most) == (None, False)


def test_an_upper_figure_is_said_only_of_a_short_search_that_did_not_prove_the_least() -> None:
    plan = plan_settings(of("A", framed_by("60", "60", "60", "70")), CUTTER)
    unproven = replace(plan, fewest_stops=False)
    assert not Apart.of([plan, plan], at_most=True).at_most
    assert Apart.of([plan, unproven], at_most=True).at_most
    assert not Apart.of([plan, unproven]).at_most


def test_a_blank_is_called_as_the_shop_calls_a_mat() -> None:
    cutter = replace(CUTTER, arm_reach=mm(100))
    day = plan_day(of("A", framed_by("60", "60", "60", "70")), cutter, mat_word="passe-partout")
    (notice,) = day.sizing.notices
    assert "A passe-partout 1 (" in notice.message
