"""Settings in the order of work against tables worked by hand (B1 to B3, L2, L3)."""

from dataclasses import replace

import pytest

from app.bench import (
    Cutter,
    GuidePlan,
    MatToCut,
    Reads,
    mats_to_cut,
    plan_settings,
    usual_cutter,
)
from app.errors import Invalid
from app.framing import UnderWay
from app.lengths import Length, Unit, inches, mm
from tests.builders.at_cutter import (
    CUTTER,
    framed_by,
    mat,
    oval,
    piece_cut,
    plain,
    rows_of_eight,
    sketch_piece,
    window,
)
from tests.cases import case


def table(plan: GuidePlan) -> list[tuple[str, str]]:
    """What is set and what is cut, as "1 bottom" for layer 1."""
    return [
        (
            plan.text(setting.at),
            ", ".join(f"{cut.mat.layer} {cut.edge}" for cut in setting.cuts),
        )
        for setting in plan.settings
    ]


def codes(plan: GuidePlan) -> list[str]:
    return [notice.code for notice in plan.notices]


def test_two_mats_with_a_weighted_bottom_the_under_one_attached() -> None:
    """By hand: from the far end at 200 down to 80 and 70, then up to 76 and 86: 120 + 10 + 6 + 10."""
    plan = plan_settings(sketch_piece(), CUTTER)
    assert table(plan) == [
        ("80", "1 bottom"),
        ("70", "1 left, 1 top, 1 right"),
        ("76", "2 left, 2 top, 2 right"),
        ("86", "2 bottom"),
    ]
    assert (plan.moves, plan.travel, plan.proven) == (4, mm(146), True)
    assert [(s.number, s.pin, s.rest) for s in plan.settings] == [
        (1, mm(80), mm(0)),
        (2, mm(70), mm(0)),
        (3, mm(70), mm(6)),
        (4, mm(80), mm(6)),
    ]
    assert codes(plan) == []


@pytest.mark.parametrize(
    ("borders", "moves"),
    [
        (("70", "70", "70", "70"), 1),  # equal borders need 1
        (("70", "70", "70", "80"), 2),  # a weighted bottom 2
        (("60", "60", "70", "80"), 3),
        (("60", "65", "70", "80"), 4),
    ],
)
def test_moves_are_the_distinct_borders(borders: tuple[str, str, str, str], moves: int) -> None:
    """Source: handbook B3."""
    assert plan_settings([framed_by(*borders)], CUTTER).moves == moves


def test_two_rows_of_four_windows_need_as_many_moves_as_distinct_distances() -> None:
    """By hand: 60 180 300 420 from left and right alike, 60 230 from the top, 80 250 from the bottom."""
    plan = plan_settings([rows_of_eight()], plain(CUTTER))
    assert [plan.text(setting.at) for setting in plan.settings] == [
        "420",
        "300",
        "250",
        "230",
        "180",
        "80",
        "60",
    ]
    assert plan.travel == mm(2000 - 60)
    names = {
        plan.text(setting.at): {f"{cut.window.name} {cut.edge}" for cut in setting.cuts}
        for setting in plan.settings
    }
    assert names["420"] == {"A3 left", "B3 left", "A0 right", "B0 right"}
    assert names["230"] == {"B0 top", "B1 top", "B2 top", "B3 top"}
    assert names["60"] == {
        *("A0 left", "B0 left", "A3 right", "B3 right"),
        *("A0 top", "A1 top", "A2 top", "A3 top"),
    }


def test_an_attached_mat_begins_at_the_setting_that_ended_the_mat_above() -> None:
    """By hand: borders 70 70 70 76 and 76 76 76 82 share 76: 70, 76, 82; 130 + 6 + 6 of travel."""
    mats = mats_to_cut(piece_cut("6", borders=("70", "70", "70", "76")))
    plan = plan_settings(mats, CUTTER)
    assert table(plan) == [
        ("70", "1 left, 1 top, 1 right"),
        ("76", "1 bottom, 2 left, 2 top, 2 right"),
        ("82", "2 bottom"),
    ]
    assert (plan.moves, plan.travel) == (3, mm(142))


def test_mats_on_their_own_edges_share_every_equal_setting() -> None:
    """By hand: a reveal of 6 and a trim of 6 leave the same borders: 80 and 70 serve both."""
    mats = mats_to_cut(piece_cut("6", trim="6", way=UnderWay.OWN_EDGES))
    plan = plan_settings(mats, CUTTER)
    assert [(text, cuts.count(",") + 1) for text, cuts in table(plan)] == [("80", 2), ("70", 6)]


def test_pieces_on_the_bench_together_share_settings_and_keep_their_own() -> None:
    """By hand: 80 and 70 serve both pieces, 90 one of them."""
    one, other = (
        framed_by("70", "70", "70", "80", piece="7/1"),
        framed_by("80", "80", "70", "90", piece="7/2"),
    )
    plan = plan_settings([one, other], CUTTER)
    assert [plan.text(setting.at) for setting in plan.settings] == ["90", "80", "70"]
    shown = [
        (plan.text(setting.at), [str(cut.edge) for cut in cuts])
        for setting, cuts in plan.of_piece("7/1")
    ]
    assert shown == [("80", ["bottom"]), ("70", ["left", "top", "right"])]


def test_the_guide_goes_first_to_the_nearer_end_from_where_it_stands() -> None:
    plan = plan_settings([framed_by("70", "70", "70", "80")], CUTTER, guide_at=mm(60))
    assert [plan.text(setting.at) for setting in plan.settings] == ["70", "80"]
    assert (plan.begins_at, plan.travel) == (mm(60), mm(20))


def test_a_setting_where_the_guide_stands_already_is_still_listed() -> None:
    plan = plan_settings([framed_by("70", "70", "70", "70")], CUTTER, guide_at=mm(70))
    assert (plan.moves, plan.travel) == (1, mm(0))


def test_a_scale_that_reads_the_face_is_set_on_its_nearest_step() -> None:
    """By hand: 70 - 1.4 = 68.6, half a millimetre steps: 68.5, 0.1 less than wanted."""
    plan = plan_settings([framed_by("70", "70", "70", "70")], replace(CUTTER, reads=Reads.FACE))
    (setting,) = plan.settings
    assert setting.at == mm("68.5")
    assert {setting.off(cut) for cut in setting.cuts} == {mm("-0.1")}
    assert codes(plan) == ["between-scale-marks"]
    assert "0.1 mm off" in plan.notices[0].message


def test_a_mat_of_ovals_needs_no_setting_and_holds_up_no_layer() -> None:
    ovals = mat("400", "300", oval("A", "80", "80", "200", "120"))
    under = mat("400", "300", window("A", "90", "90", "180", "100"), layer=2, attached=True)
    plan = plan_settings([ovals, under], CUTTER)
    assert {cut.mat.layer for setting in plan.settings for cut in setting.cuts} == {2}
    assert plan_settings([ovals], CUTTER).moves == 0


def test_nothing_on_the_bench_is_no_move() -> None:
    plan = plan_settings([], CUTTER, ticket=Unit.IN)
    assert (plan.moves, plan.travel, plan.notices) == (0, mm(0), ())


def test_the_same_mat_twice_is_refused() -> None:
    one = framed_by("70", "70", "70", "80", piece="7/1")
    with pytest.raises(Invalid) as raised:
        plan_settings([one, one], CUTTER)
    assert "Mat 1 of 7/1" in raised.value.message


def test_many_attached_pieces_at_once_say_that_the_order_is_not_proven() -> None:
    mats = [
        replace(
            framed_by(str(31 + 17 * n % 70), str(33 + 29 * n % 70), "50", str(40 + 13 * n % 70)),
            piece=str(n),
            layer=layer,
            attached=layer > 1,
        )
        for n in range(12)
        for layer in (1, 2)
    ]
    mats = [_wider(one, mm(one.layer * 7)) for one in mats]
    plan = plan_settings(mats, CUTTER)
    assert sum(len(setting.cuts) for setting in plan.settings) == 12 * 2 * 4
    assert all(setting.cuts for setting in plan.settings)
    assert "moves-not-proven" in codes(plan)
    assert not plan.proven


def test_the_order_of_one_piece_is_not_called_one_of_many_mats_at_once() -> None:
    """The same mats, as 24 layers of one piece: nothing else lies on the bench, so nothing is said of it."""
    mats = [
        replace(
            framed_by(str(31 + 17 * n % 70), str(33 + 29 * n % 70), "50", str(40 + 13 * n % 70)),
            layer=2 * n + layer,
            attached=layer > 1,
        )
        for n in range(12)
        for layer in (1, 2)
    ]
    mats = [_wider(one, mm((2 - one.layer % 2) * 7)) for one in mats]
    (said,) = (
        each.message for each in plan_settings(mats, CUTTER).notices if "not-proven" in each.code
    )
    assert said.startswith("The order of settings is a good one")
    apart = [replace(one, piece=str((one.layer + 1) // 2)) for one in mats]
    (said,) = (
        each.message for each in plan_settings(apart, CUTTER).notices if "not-proven" in each.code
    )
    assert said.startswith("With this many mats at once the order of settings is a good one")


def _wider(of: MatToCut, by: Length) -> MatToCut:
    """The same mat with every border wider by a length."""
    (only,) = of.windows
    size = replace(of.blank, width=of.blank.width + by * 2, height=of.blank.height + by * 2)
    moved = replace(only, x=only.x + by, y=only.y + by)
    return replace(of, blank=size, reference=size, windows=(moved,))


def an_inch_scale() -> Cutter:
    return replace(usual_cutter(Unit.IN), guide_reach=inches(30))


@pytest.mark.parametrize("index", [0, 1, 2])
def test_round_figures_on_the_two_scales_are_never_taken_for_equal(index: int) -> None:
    """Source: case len-4, pairs that framers read as equals; handbook L3 for what is right."""
    pairs = case("len-4")
    millimetres = mm(pairs.inputs["mm"][index])
    whole, _, fraction = pairs.inputs["in"][index].partition(" ")
    mistaken = inches(whole) + (inches(fraction) if fraction else mm(0))
    (setting,) = plan_settings(
        [mat_with_border(millimetres)], an_inch_scale(), ticket=Unit.MM
    ).settings
    assert abs(mistaken - millimetres) == mm(pairs.expected["difference_mm"][index])
    assert setting.at != mistaken
    assert setting.at == [inches("11/4"), inches("101/32"), inches("391/32")][index]


@pytest.mark.parametrize(
    ("border", "set_to", "check", "off_mm"),
    [
        # Source: handbook L3: 7 cm is 2 3/4 in plus 0.15 mm, 8 cm is 3 5/32 less 0.17, 31 cm is 12 7/32 less 0.36.
        ("70", "2 3/4", "69.9", "-0.15"),
        ("80", "3 5/32", "80.2", "0.16875"),
        ("310", "12 7/32", "310.4", "0.35625"),
    ],
)
def test_a_metric_ticket_on_an_inch_scale_sets_inches_and_checks_millimetres(
    border: str, set_to: str, check: str, off_mm: str
) -> None:
    plan = plan_settings([mat_with_border(mm(border))], an_inch_scale(), ticket=Unit.MM)
    (setting,) = plan.settings
    assert (plan.text(setting.at), plan.check_text(setting.at)) == (set_to, check)
    assert {setting.off(cut) for cut in setting.cuts} == {mm(off_mm)}
    assert codes(plan) == ["two-scales", "between-scale-marks"]
    assert "set the figures in inches" in plan.notices[0].message


def test_an_inch_ticket_on_a_metric_scale_sets_millimetres() -> None:
    """By hand: 3 in = 76.2 mm, set at 76; 76 mm is 2.992 in, nearest 1/32: 3."""
    plan = plan_settings([mat_with_border(inches(3))], CUTTER, ticket=Unit.IN)
    (setting,) = plan.settings
    assert (plan.text(setting.at), plan.check_text(setting.at)) == ("76", "3")
    assert "set the figures in mm" in plan.notices[0].message


def test_one_scale_for_ticket_and_cutter_needs_no_word() -> None:
    assert codes(plan_settings([mat_with_border(mm(70))], CUTTER, ticket=Unit.MM)) == []


def mat_with_border(border: Length) -> MatToCut:
    """One window of 100 x 100 with the same border all round."""
    base = mat("300", "300", window("A", "100", "100", "100", "100"))
    return _wider(base, border - mm(100))
