"""The steps of a fillet against a list written by hand (B6, G19)."""

from dataclasses import replace

from app.bench import StepCode, StepJob, mats_to_cut, order_of_work, plan_settings
from app.framing import Arrangement, Fillet, Frame, Opening, Spec, in_steps, work_out
from app.framing.notices.care import CAUTIONS, Work, WorkFacts
from app.lengths import Size, Steps, Unit, inches, mm
from tests.builders.at_cutter import CUTTER, HALF, piece_cut

FACTS = WorkFacts(mats=True, glass=False, acrylic=False, frame=True, heavy=False, fillet=True)
STRIP = Fillet(face=mm(10), lip=mm(4), tuck=mm(4), thickness=mm(3))
LINED = replace(
    piece_cut("6").spec,
    fillet=STRIP,
    frames=(Frame(face=mm(25), lip=mm(6), rebate_depth=mm(14), allowance=mm(3)),),
)
"""Innermost window 410 × 287: fillet 418 × 295 outside, 398 × 275 inside."""


def job(spec: Spec = LINED, facts: WorkFacts = FACTS, steps: Steps = HALF) -> StepJob:
    cut = in_steps(work_out(spec), steps)
    mats = mats_to_cut(cut)
    return StepJob(cut=cut, facts=facts, mats=mats, plan=plan_settings(mats, CUTTER))


def test_a_fillet_is_cut_and_glued_once_its_window_is_cut() -> None:
    """After the last window drops out and before anything else is cut."""
    ids = [step.id for step in order_of_work(job())]
    begin = ids.index("fillet-rails-418")
    assert ids[begin - 1] == "mat-2-drop"
    assert ids[begin : begin + 4] == [
        "fillet-rails-418",
        "fillet-rails-295",
        "fillet-in",
        "frame-1-rails-top-bottom",
    ]


def test_its_steps_say_what_is_cut_and_how_far_it_is_tucked() -> None:
    texts = {step.id: step.text for step in order_of_work(job())}
    assert texts["fillet-rails-418"] == (
        "fillet: 2 rails, long point 418, short point 398, equal end to end"
    )
    assert texts["fillet-in"] == (
        "glue the fillet behind the window, 4 tucked all round: mitres tight, pressed until it holds"
    )


def test_equal_rails_of_several_windows_are_cut_together() -> None:
    """A 100 × 140, B 140 × 140: 148 six times, 108 twice."""
    openings = (
        Opening(name="A", window=Size(mm(100), mm(140))),
        Opening(name="B", window=Size(mm(140), mm(140))),
    )
    spec = replace(LINED, openings=openings, arrangement=Arrangement(rows=(2,), across=mm(40)))
    steps = {step.id: step for step in order_of_work(job(spec))}
    assert "6 rails for A, B, long point 148, short point 128" in steps["fillet-rails-148"].text
    assert "2 rails for A, long point 108, short point 88" in steps["fillet-rails-108"].text
    assert steps["fillet-rails-148"].parts[0].count == 6
    assert steps["fillet-in"].text.startswith("glue a fillet behind each window")
    assert [part.name for part in steps["fillet-in"].parts] == ["fillet A", "fillet B"]


def test_the_cautions_of_saw_and_adhesive_stand_where_they_are_first_needed() -> None:
    steps = {step.id: step for step in order_of_work(job())}
    assert steps["fillet-rails-418"].cautions == (CAUTIONS[Work.RAILS],)
    assert steps["fillet-in"].cautions == (CAUTIONS[Work.JOIN],)
    assert steps["frame-1-rails-top-bottom"].cautions == ()


def test_without_a_frame_the_last_rail_of_the_fillet_is_the_last_cut() -> None:
    facts = replace(FACTS, frame=False)
    steps = order_of_work(job(replace(LINED, frames=()), facts))
    (offering,) = (step for step in steps if step.offers == "cut")
    assert (offering.id, offering.code) == ("fillet-rails-295", StepCode.FILLET_RAILS)


def test_a_step_in_inches_has_an_id_without_blanks_or_strokes() -> None:
    """The top window of 422 × 299 mm is cut as 16 5/8 × 11 3/4 in, the reveal of 6 mm as 1/4: the window
    below is 16 1/8 × 11 1/4; out by 5/16: 16 7/16, 11 9/16."""
    strip = Fillet(
        face=inches("3/8"), lip=inches("5/32"), tuck=inches("5/32"), thickness=inches("1/8")
    )
    spec = replace(LINED, unit=Unit.IN, fillet=strip)
    steps = order_of_work(job(spec, steps=Steps(unit=Unit.IN, step=inches("1/16"))))
    assert [step.id for step in steps if step.code is StepCode.FILLET_RAILS] == [
        "fillet-rails-16-7-16",
        "fillet-rails-11-9-16",
    ]


def test_a_piece_without_a_fillet_has_no_such_step() -> None:
    codes = {step.code for step in order_of_work(job(replace(LINED, fillet=None)))}
    assert not codes & {StepCode.FILLET_RAILS, StepCode.FILLET_IN}
