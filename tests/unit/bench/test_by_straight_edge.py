"""What the cutter cannot make is no setting: its line is drawn and cut by straight-edge (B4)."""

from dataclasses import replace

from app.bench import (
    Cutter,
    Edge,
    MatToCut,
    Step,
    StepJob,
    Stops,
    cuts_of,
    marks_of,
    order_of_work,
    plan_day,
    plan_settings,
    steps_of_day,
)
from app.drawings import back_marks
from app.framing.notices.care import WorkFacts
from app.lengths import Unit, inches, mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, piece_cut, rows_of_eight, window

MATS_ONLY = WorkFacts(mats=True, glass=False, acrylic=False, frame=False, heavy=False)
STOPPED = replace(CUTTER, stops=Stops(near=True, far=True))


def work(*mats: MatToCut, cutter: Cutter = CUTTER) -> tuple[Step, ...]:
    cut = piece_cut(*(["6"] * (len(mats) - 1)))
    plan = plan_settings(mats, cutter, ticket=Unit.MM)
    return order_of_work(StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan))


def texts(steps: tuple[Step, ...]) -> dict[str, str]:
    return {step.id: step.text for step in steps if step.id.startswith("mat")}


def test_a_setting_beyond_reach_is_none_and_moves_no_guide() -> None:
    """By hand: the guide reaches 200; borders 70, 70, 70 are one setting, 220 at the bottom is none."""
    plan = plan_settings([framed_by("70", "70", "70", "220")], CUTTER)
    assert [str(one.at.mm) for one in plan.settings] == ["70"]
    assert plan.moves == 1
    assert [cut.edge for cut in plan.by_straight_edge] == [Edge.BOTTOM]


def test_a_setting_below_the_scale_is_none() -> None:
    """By hand: a border of 1 with a correction of minus 2 would be set at minus 1."""
    plan = plan_settings(
        [framed_by("1", "70", "70", "70")], replace(CUTTER, guide_correction=mm(-2))
    )
    assert [str(one.at.mm) for one in plan.settings] == ["68"]
    assert [cut.edge for cut in plan.by_straight_edge] == [Edge.LEFT]


def test_a_cut_longer_than_the_head_runs_is_none() -> None:
    """By hand: 1020 is more than 40 in = 1016 mm; the ends of 340 are cut along the guide."""
    plan = plan_settings([mat("1180", "500", window("A", "80", "80", "1020", "340"))], CUTTER)
    assert {cut.edge for one in plan.settings for cut in one.cuts} == {Edge.LEFT, Edge.RIGHT}
    assert {cut.edge for cut in plan.by_straight_edge} == {Edge.TOP, Edge.BOTTOM}


def test_both_scales_of_a_cutter_agree_on_what_is_within_reach() -> None:
    """By hand: 200.5 mm are 7 29/32 in on an inch scale, which is 200.8 mm, beyond 200 on either."""
    both = replace(
        CUTTER,
        scales=(
            *CUTTER.scales,
            replace(CUTTER.scale, unit=Unit.IN, step=inches("1/32"), pins=None),
        ),
    )
    of = framed_by("70", "70", "200.5", "200")
    for unit in Unit:
        found = plan_settings([of], both.read_in(unit)).by_straight_edge
        assert [cut.edge for cut in found] == [Edge.TOP]


def test_no_stop_is_set_for_it_and_its_ends_are_marked() -> None:
    (far,) = (
        cut for cut in cuts_of(framed_by("70", "70", "70", "220"), STOPPED) if cut.by_straight_edge
    )
    assert far.stops_set is None
    assert not far.stops_missing
    assert (far.start_to_mark, far.end_to_mark) == (True, True)


def test_a_step_of_its_own_draws_the_line_and_cuts_it_before_the_window_drops_out() -> None:
    steps = work(framed_by("70", "70", "70", "220"), cutter=STOPPED)
    said = texts(steps)
    assert (
        list(said)
        == [
            "mats-size",
            "mats-mark",
            "mat-1-cut-1",
            "mat-1-straight-edge",
            "mat-1-drop",
        ][:5]
    )
    assert said["mat-1-straight-edge"] == (
        "the mat by straight-edge (SE), beyond the cutter: draw this line and cut it, "
        "bottom at 220 from the bottom edge, on a slip sheet"
    )
    assert said["mat-1-cut-1"].startswith(
        "set the guide to 70 (pin 70): the mat left, near stop 220"
    )
    assert "bottom" not in said["mat-1-cut-1"]
    assert said["mats-mark"].startswith("mark the back of the mat")
    (by_hand,) = (step for step in steps if step.id == "mat-1-straight-edge")
    assert by_hand.setting is None
    assert by_hand.cuts == ()
    assert by_hand.layers == (1,)


def test_windows_of_one_line_are_cut_at_it_together() -> None:
    """By hand: 300 and 420 from either side, 230 from the top and 250 from the bottom lie beyond 200."""
    text = texts(work(rows_of_eight()))["mat-1-straight-edge"]
    assert "draw these lines and cut them" in text
    assert "top of B0, B1, B2, B3 at 230 from the top edge" in text
    assert text.count(" at ") == 6


def test_in_the_other_unit_the_line_says_its_own() -> None:
    of = framed_by("2540", "70", "70", "70")
    inch = replace(
        CUTTER, scales=(replace(CUTTER.scale, unit=Unit.IN, step=inches("1/32"), pins=None),)
    )
    assert (
        'right at 100" from the right edge' in texts(work(of, cutter=inch))["mat-1-straight-edge"]
    )


def test_an_attached_layer_is_cut_by_hand_before_the_next_one_is_fixed_behind_it() -> None:
    upper = framed_by("70", "70", "70", "220")
    under = replace(framed_by("76", "76", "76", "226", layer=2))
    steps = list(texts(work(upper, under)))
    assert steps.index("mat-1-straight-edge") < steps.index("mat-1-drop") < steps.index("mat-2-fix")
    assert steps.index("mat-2-cut-1") < steps.index("mat-2-straight-edge")


def test_a_mat_that_lies_beyond_the_cutter_whole_has_no_setting() -> None:
    of = framed_by("220", "220", "220", "220")
    plan = plan_settings([of], CUTTER)
    assert (plan.moves, plan.settings, len(plan.by_straight_edge)) == (0, (), 4)
    assert list(texts(work(of)))[-2:] == ["mat-1-straight-edge", "mat-1-drop"]


def test_a_day_has_it_among_its_steps_and_counts_no_move() -> None:
    far = replace(framed_by("70", "70", "70", "220"), piece="A")
    near = framed_by("70", "70", "70", "70", piece="B")
    day = plan_day([far, near], CUTTER)
    assert (day.moves, day.moves_apart) == (1, 2)
    found = steps_of_day(day.guide, {"A": work(far), "B": work(near)})
    (at,) = found.settings
    assert [f"{each.piece} {each.step.id}" for each in at.steps] == [
        "A mat-1-cut-1",
        "A mat-1-straight-edge",
        "A mat-1-drop",
        "B mat-1-cut-1",
        "B mat-1-drop",
    ]


def test_the_drawing_marks_its_line_and_says_what_the_sign_is() -> None:
    of = framed_by("70", "70", "70", "220")
    drawn = back_marks(marks_of(of, CUTTER), plan_settings([of], CUTTER), Unit.MM)
    assert ">SE<" in drawn.svg
    assert ">220<" in drawn.svg
    assert any(note.startswith("SE: beyond the cutter") for note in drawn.notes)
    assert any("Guide: 1\N{NO-BREAK SPACE}at\N{NO-BREAK SPACE}70" in note for note in drawn.notes)
    assert not any("at 220" in note for note in drawn.notes)
