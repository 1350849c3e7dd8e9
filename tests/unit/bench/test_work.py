"""The order of work against lists written by hand (B6)."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

import pytest

from app.bench import (
    Cutter,
    ExtraWork,
    MatToCut,
    StageOffer,
    Step,
    StepCode,
    StepJob,
    Stops,
    mats_to_cut,
    order_of_work,
    plan_settings,
    step_after,
    usual_cutter,
)
from app.errors import Invalid
from app.framing import (
    Arrangement,
    Dimensions,
    Edges,
    Frame,
    Mat,
    ObjectInBox,
    Opening,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderWay,
    in_steps,
    work_out,
)
from app.framing.given_frame import GivenFrame
from app.framing.notices.care import CAUTIONS, Work, WorkFacts
from app.framing.notices.weight import hanging, without_wire
from app.lengths import ZERO, Size, Unit, mm
from tests.builders.at_cutter import CUTTER, HALF, mat, oval, piece_cut, window

WHOLE = WorkFacts(mats=True, glass=True, acrylic=False, frame=True, heavy=True)
MATS_ONLY = WorkFacts(mats=True, glass=False, acrylic=False, frame=False, heavy=False)


def sketch(facts: WorkFacts = WHOLE, cutter: Cutter = CUTTER) -> StepJob:
    """The watercolour of 420 x 297 with two mats, glass, backing and a frame of 26.5 face, 6 lip."""
    spec = replace(
        piece_cut("6", trim="3").spec,
        glazing=Panel(thickness=mm(2)),
        backing=Panel(thickness=mm(3)),
        frames=(Frame(face=mm("25"), lip=mm(6), rebate_depth=mm(14), allowance=mm(3)),),
    )
    cut = in_steps(work_out(spec), HALF)
    mats = mats_to_cut(cut)
    return StepJob(cut=cut, facts=facts, mats=mats, plan=plan_settings(mats, cutter))


def unmatted(presentation: Presentation, **parts: object) -> Dimensions:
    spec = Spec(
        unit=Unit.MM,
        artwork=Size(mm(400), mm(300)),
        presentation=presentation,
        overlap=mm(5),
        gap=mm(5),
    )
    return in_steps(work_out(replace(spec, **parts)), HALF)  # type: ignore[arg-type]


def ids(steps: Iterable[Step]) -> list[str]:
    return [step.id for step in steps]


def texts(job: StepJob) -> dict[str, str]:
    return {step.id: step.text for step in order_of_work(job)}


def test_two_attached_mats_glass_backing_and_a_frame_from_blank_to_label() -> None:
    """The order of handbook B6; settings as worked by hand in the tests of settings."""
    assert ids(order_of_work(sketch())) == [
        "mats-size",
        "mats-mark",
        "mat-1-cut-1",
        "mat-1-cut-2",
        "mat-1-drop",
        "mat-2-fix",
        "mat-2-cut-1",
        "mat-2-cut-2",
        "mat-2-drop",
        "glazing-cut",
        "backing-cut",
        "frame-1-rails-top-bottom",
        "frame-1-rails-left-right",
        "frame-1-join",
        "artwork-place",
        "fit",
        "hang",
        "label",
    ]


def test_the_steps_say_what_is_set_and_how_large_each_part_is() -> None:
    """By hand: 562 + 3 + 2 (25 - 6) = 603, 449 + 3 + 38 = 490; short points 2 x 25 less."""
    said = texts(sketch())
    assert said["mats-size"] == "cut the blanks to size, mat 1: 562 × 449 mm, mat 2: 556 × 443 mm"
    assert said["mat-1-cut-1"] == "set the guide to 80 (pin 80): mat 1 bottom, on a slip sheet"
    assert said["mat-1-cut-2"].startswith("set the guide to 70 (pin 70): mat 1 ")
    assert said["mat-2-cut-1"].startswith(
        "set the guide to 76 (pin 70, then 6 on the scale): mat 2 "
    )
    assert said["mat-2-cut-2"].startswith(
        "set the guide to 86 (pin 80, then 6 on the scale): mat 2 bottom"
    )
    assert said["mat-2-fix"].endswith("face down behind it, mark from mat 1’s edges")
    assert said["glazing-cut"] == "cut the glazing 562 × 449, dull the edges"
    assert "long point 603, short point 553" in said["frame-1-rails-top-bottom"]
    assert "long point 490, short point 440" in said["frame-1-rails-left-right"]
    assert "outside 603 × 490" in said["frame-1-join"]


def test_the_parts_of_a_step_have_their_sizes() -> None:
    by_id = {step.id: step for step in order_of_work(sketch())}
    assert [(part.name, part.lengths) for part in by_id["mats-size"].parts] == [
        ("mat 1", (mm(562), mm(449))),
        ("mat 2", (mm(556), mm(443))),
    ]
    (rail,) = by_id["frame-1-rails-top-bottom"].parts
    assert (rail.lengths, rail.count) == ((mm(603),), 2)
    (fallout,) = by_id["mat-1-drop"].parts
    assert fallout.lengths == (mm(422), mm(299))


def test_every_caution_of_the_piece_stands_at_its_step_and_only_there() -> None:
    cautions = {step.id: step.cautions for step in order_of_work(sketch()) if step.cautions}
    assert cautions == {
        "mats-size": (CAUTIONS[Work.MATS],),
        "glazing-cut": (CAUTIONS[Work.GLASS],),
        "frame-1-rails-top-bottom": (CAUTIONS[Work.RAILS],),
        "frame-1-join": (CAUTIONS[Work.JOIN],),
        "fit": (CAUTIONS[Work.FIT], CAUTIONS[Work.LIFT]),
        "hang": (CAUTIONS[Work.HANG],),
    }


def test_a_caution_without_a_step_of_its_own_is_read_before_the_work() -> None:
    bare = StepJob(cut=unmatted(Presentation.CLOSE), facts=replace(WHOLE, mats=False))
    first = order_of_work(bare)[0]
    assert CAUTIONS[Work.GLASS] in first.cautions


def test_the_last_cut_offers_cut_and_the_last_step_framed() -> None:
    offers = [(step.id, step.offers) for step in order_of_work(sketch()) if step.offers]
    assert offers == [("frame-1-rails-left-right", StageOffer.CUT), ("label", StageOffer.FRAMED)]


def test_a_piece_with_nothing_to_cut_still_offers_both_stages() -> None:
    cut = unmatted(Presentation.CLOSE)
    steps = order_of_work(StepJob(cut=cut, facts=replace(MATS_ONLY, mats=False)))
    assert [(step.id, step.offers) for step in steps] == [
        ("artwork-place", StageOffer.CUT),
        ("fit", None),
        ("label", StageOffer.FRAMED),
    ]


def test_mats_without_a_frame_end_with_the_last_window_as_the_last_cut() -> None:
    cut = piece_cut("6")
    mats = mats_to_cut(cut)
    steps = order_of_work(
        StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan_settings(mats, CUTTER))
    )
    assert [step.id for step in steps if step.offers is StageOffer.CUT] == ["mat-2-drop"]
    assert "bind mats and artwork together with tape" in {step.text for step in steps}


def test_a_tick_stays_with_its_step_when_the_cutters_correction_changes() -> None:
    corrected = replace(CUTTER, guide_correction=mm("0.5"))
    before, after = order_of_work(sketch()), order_of_work(sketch(cutter=corrected))
    assert ids(before) == ids(after)
    assert len(set(ids(before))) == len(before)
    assert "guide to 80.5" in after[2].text


def test_the_next_step_is_the_first_that_is_not_ticked() -> None:
    steps = order_of_work(sketch())
    following = step_after(steps, frozenset({"mats-size", "mat-1-cut-1"}))
    assert following is not None
    assert following.id == "mats-mark"
    assert step_after(steps, frozenset(ids(steps))) is None


def test_a_setting_that_serves_two_layers_stays_while_the_under_mat_is_fixed() -> None:
    """By hand: borders 70 70 70 76, then 76 76 76 82."""
    cut = piece_cut("6", borders=("70", "70", "70", "76"))
    mats = mats_to_cut(cut)
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan_settings(mats, CUTTER))
    assert ids(order_of_work(job))[2:8] == [
        "mat-1-cut-1",
        "mat-1-cut-2",
        "mat-1-drop",
        "mat-2-fix",
        "mat-2-cut-1",
        "mat-2-cut-2",
    ]
    assert texts(job)["mat-2-cut-1"].startswith("guide stays at 76: mat 2 ")


def test_mats_on_their_own_edges_are_cut_in_any_order_and_then_brought_together() -> None:
    cut = piece_cut("6", trim="6", way=UnderWay.OWN_EDGES)
    mats = mats_to_cut(cut)
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan_settings(mats, CUTTER))
    assert ids(order_of_work(job))[:9] == [
        "mats-size",
        "mats-mark",
        "mat-1-cut-1",
        "mat-2-cut-1",
        "mat-1-cut-2",
        "mat-1-drop",
        "mat-2-cut-2",
        "mat-2-drop",
        "mats-together",
    ]
    assert "mark the back of mat 1 and mat 2" in texts(job)["mats-mark"]


def test_edges_are_named_as_they_lie_and_windows_by_their_names() -> None:
    """By hand: A's left edge, 60 from the left of the front, lies to the right on the back."""
    cut = piece_cut()
    two = mat(
        "500", "300", window("A", "60", "80", "100", "120"), window("B", "300", "90", "130", "50")
    )
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=(two,), plan=plan_settings([two], CUTTER))
    said = list(texts(job).values())
    assert any(
        "set the guide to 60 (pin 60): the mat A right, on a slip sheet" in text for text in said
    )
    assert texts(job)["mat-1-drop"].startswith("lift the mat off face down, the windows drop out")


def test_curved_windows_are_cut_where_their_layer_stands() -> None:
    cut = piece_cut("6", "4")
    layers = (
        mat("500", "400", oval("A", "90", "90", "320", "220")),
        mat("500", "400", window("A", "96", "96", "300", "200"), layer=2, attached=True),
        mat("500", "400", oval("A", "100", "100", "290", "190"), layer=3, attached=True),
    )
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=layers, plan=plan_settings(layers, CUTTER))
    mats = [id for id in ids(order_of_work(job)) if id.startswith("mat-")]
    assert mats[:3] == ["mat-1-curves", "mat-1-drop", "mat-2-fix"]
    assert mats[-4:] == ["mat-2-drop", "mat-3-fix", "mat-3-curves", "mat-3-drop"]
    assert "A (oval 320 × 220)" in texts(job)["mat-1-curves"]


def test_a_reverse_bevel_is_marked_where_it_drops_out() -> None:
    reverse = mat("500", "400", window("A", "90", "90", "320", "220"), reverse=True)
    job = StepJob(
        cut=piece_cut(), facts=MATS_ONLY, mats=(reverse,), plan=plan_settings([reverse], CUTTER)
    )
    assert texts(job)["mats-mark"] == (
        "the mat face up for the reverse bevel: marks only where it drops out"
    )


def test_without_a_cutter_mats_are_cut_by_straight_edge_in_order() -> None:
    cut = piece_cut("6")
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=mats_to_cut(cut))
    assert ids(order_of_work(job))[2:7] == [
        "mat-1-cut-1",
        "mat-1-drop",
        "mat-2-fix",
        "mat-2-cut-1",
        "mat-2-drop",
    ]
    assert "straight-edge" in texts(job)["mat-1-cut-1"]


def test_a_plan_for_several_pieces_gives_each_its_own_steps() -> None:
    cut = piece_cut()
    one, other = mats_to_cut(cut, piece="7/1"), mats_to_cut(cut, piece="7/2")
    plan = plan_settings([*one, *other], CUTTER)
    for mats in (one, other):
        job = StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan)
        cuts = [step for step in order_of_work(job) if step.code is StepCode.CUT_WINDOW]
        assert ids(cuts) == ["mat-1-cut-1", "mat-1-cut-2"]


def test_a_scale_in_the_other_unit_shows_its_unit() -> None:
    cut = piece_cut(borders=("70", "70", "70", "70"))
    mats = mats_to_cut(cut)
    job = StepJob(
        cut=cut, facts=MATS_ONLY, mats=mats, plan=plan_settings(mats, usual_cutter(Unit.IN))
    )
    assert texts(job)["mat-1-cut-1"].startswith('set the guide to 2 3/4": the mat ')


def test_the_shops_word_for_a_mat_is_used() -> None:
    said = texts(replace(sketch(), mat_word="mount"))
    assert said["mats-size"].startswith("cut the blanks to size, mount 1: ")
    assert not any("mat " in text for text in said.values())


@pytest.mark.parametrize(
    ("presentation", "placed", "fitted"),
    [
        (
            Presentation.CLOSE,
            "free to move",
            "fit artwork and back, drive the points, seal the back",
        ),
        (Presentation.CANVAS, "keys and corners sound", "seat the canvas, clips in, seal the back"),
        (
            Presentation.CANVAS_FLOAT,
            "centre it in the tray, 5 all round",
            "screw the canvas from behind, seal the back",
        ),
        (
            Presentation.FLOAT,
            "float it in the middle of the backing, 5 all round; left 5, top 5 from the backing’s edges, face up",
            "fit artwork and back, drive the points, seal the back",
        ),
    ],
)
def test_each_presentation_is_placed_and_fitted_in_its_way(
    presentation: Presentation, placed: str, fitted: str
) -> None:
    cut = unmatted(
        presentation,
        backing=Panel(thickness=mm(3)),
        frames=(Frame(face=mm(20), lip=ZERO, rebate_depth=ZERO, allowance=ZERO),),
    )
    said = texts(StepJob(cut=cut, facts=replace(WHOLE, mats=False)))
    assert said["artwork-place"].endswith(placed)
    assert said["fit"] == fitted


def details(job: StepJob) -> dict[str, str]:
    return {detail.name: detail.text for step in order_of_work(job) for detail in step.details}


def test_the_place_of_the_artwork_and_its_hinges_stand_at_the_step_that_places_it() -> None:
    """By hand: window 2 begins at 70 + 6, the artwork 5 before it; a tenth of 420 from the corners (G25, D9)."""
    job = sketch(replace(WHOLE, hinged=True))
    assert details(job) == {
        "Artwork": "left 71, top 71 from the backing’s edges, face up",
        "Hinges": "2 T-hinges, 42 from the top corners: paper and paste, no self-adhesive tape",
    }
    (placing,) = (step for step in order_of_work(job) if step.id == "artwork-place")
    assert placing.text == "artwork: place it behind the window, held without strain"
    assert placing.said.startswith(f"{placing.text}; left 71, top 71 from the backing’s edges")
    assert details(sketch()) == {"Artwork": "left 71, top 71 from the backing’s edges, face up"}


def test_of_several_artworks_equal_places_are_said_together() -> None:
    """Two windows of 90 x 140, gap 30: at 60 and 180 from the left, the artworks 5 before them."""
    openings = tuple(Opening(name=name, artwork=Size(mm(100), mm(150))) for name in "AB")
    borders = Edges(left=mm(60), right=mm(60), top=mm(60), bottom=mm(70))
    cut = unmatted(
        Presentation.WINDOW, mats=(Mat(thickness=mm("1.4")),), borders=borders, openings=openings,
        arrangement=Arrangement(rows=(2,), across=mm(30)),
    )  # fmt: skip
    job = StepJob(cut=cut, facts=replace(MATS_ONLY, hinged=True), mats=mats_to_cut(cut))
    assert details(job) == {
        "Artwork": "left A 55 · B 175; top all 55 from the mat’s edges, face up",
        "Hinges": "2 T-hinges each, 25 from the top corners: paper and paste, no self-adhesive tape",
    }
    assert "place each behind its window" in texts(job)["artwork-place"]


def test_one_artwork_behind_several_windows_has_one_place_seen_from_the_front_and_from_the_back() -> (
    None
):
    """Two windows of 90 x 140, gap 30, borders 60 and 80: 350 wide, their middle at 60 + 105 = 165 and 60 + 70 = 130.

    240 x 160 begins at 45, 50; from the back at 350 - 45 - 240 = 65. A tenth of 240 is less than 25 (D9).
    """
    openings = tuple(Opening(name=name, window=Size(mm(90), mm(140))) for name in "AB")
    borders = Edges(left=mm(60), right=mm(80), top=mm(60), bottom=mm(70))
    cut = unmatted(
        Presentation.WINDOW, mats=(Mat(thickness=mm("1.4")),), borders=borders, openings=openings,
        arrangement=Arrangement(rows=(2,), across=mm(30)), artwork=Size(mm(240), mm(160)),
    )  # fmt: skip
    job = StepJob(cut=cut, facts=replace(MATS_ONLY, hinged=True), mats=mats_to_cut(cut))
    assert details(job) == {
        "Artwork": "left 45, top 50 from the mat’s edges, face up",
        "On the back": "left 65, top 50 from the edges of the mat, seen from the back",
        "Hinges": "2 T-hinges, 25 from the top corners: paper and paste, no self-adhesive tape",
    }
    assert "place it behind all windows" in texts(job)["artwork-place"]


def test_a_float_has_its_hinges_behind_it_and_a_close_fit_none() -> None:
    """400 wide: 40 from the corners; 1000 wide: 50, and 900 between, in three parts of 300 at most 380."""
    hinged = replace(WHOLE, mats=False, hinged=True)
    floating = StepJob(cut=unmatted(Presentation.FLOAT), facts=hinged)
    assert details(floating)["Hinges"].startswith("2 hinges folded behind, 40 from the top corners")
    wide = unmatted(Presentation.FLOAT, artwork=Size(mm(1000), mm(300)))
    assert details(StepJob(cut=wide, facts=hinged))["Hinges"].startswith(
        "4 hinges folded behind, the outer ones 50 from the top corners"
    )
    close = StepJob(cut=unmatted(Presentation.CLOSE, package=Size(mm(404), mm(304))), facts=hinged)
    assert details(close) == {"Artwork": "left 2, top 2 from the glass’s edges, face up"}


def test_a_float_lies_in_the_middle_of_its_window_which_is_not_that_of_its_board() -> None:
    """By hand: borders 55, 55, 55, 70 around a window of 420 x 320, the artwork 10 within it: left and top 65, and
    55 + 320 - 10 = 365 down, 80 are left below (G2, G25)."""
    borders = Edges(left=mm(55), right=mm(55), top=mm(55), bottom=mm(70))
    cut = unmatted(
        Presentation.FLOAT, mats=(Mat(thickness=mm("1.4")),), borders=borders, gap=mm(10),
        mount_board=Panel(thickness=mm(2)),
    )  # fmt: skip
    job = StepJob(cut=cut, facts=MATS_ONLY, mats=mats_to_cut(cut))
    assert texts(job)["artwork-place"] == (
        "artwork: raise it and float it in the middle of the window, 10 all round; left 65, top 65 from "
        "the mount board’s edges, face up"
    )


def test_a_panel_has_no_keys_and_no_canvas() -> None:
    """A board is not stretched: common practice."""
    frames = (Frame(face=mm(20), lip=ZERO, rebate_depth=ZERO, allowance=ZERO),)
    facts = replace(WHOLE, mats=False, panel=True)
    seated = texts(StepJob(cut=unmatted(Presentation.CANVAS, frames=frames), facts=facts))
    assert seated["artwork-place"] == "artwork: edges and corners sound"
    assert seated["fit"] == "seat the panel, clips in"
    tray = texts(StepJob(cut=unmatted(Presentation.CANVAS_FLOAT, frames=frames), facts=facts))
    assert tray["fit"] == "screw the panel from behind"


def test_the_condition_is_spoken_of_only_where_something_was_noted() -> None:
    assert "condition" not in texts(sketch())["artwork-place"]
    noted = texts(sketch(replace(WHOLE, noted=True)))
    assert noted["artwork-place"].startswith("artwork: condition as noted; place it")


def test_fixings_are_measured_from_the_top_edge_of_the_frame_and_between_centres() -> None:
    """By hand in the tests of hanging: 490/3 down, to half a millimetre 163.5; 603 - 25; wire 821 (D3, D10)."""
    hung = hanging(Size(mm(603), mm(490)), mm(25), Fraction(3))
    job = replace(sketch(), hanging=hung, steps=HALF)
    assert texts(job)["hang"] == "fix the rings level, both sides alike"
    assert details(job)["Fixings"] == (
        "163.5 below the frame’s top edge, 578 between centres; wire about 0.83 m"
    )
    heavy = hanging(Size(mm(603), mm(490)), mm(25), Fraction(12))
    strapped = replace(job, hanging=heavy)
    assert texts(strapped)["hang"] == "fix two straps or a cleat level, both sides alike"
    assert details(strapped)["Fixings"].endswith("578 between centres; no wire")
    assert texts(sketch())["hang"] == "fix the hanging parts level, both sides alike"
    rings = replace(job, hanging=without_wire(hung, Fraction(3)))
    assert texts(rings)["hang"] == "fix the hanging parts level, both sides alike"
    assert details(rings)["Fixings"].endswith("578 between centres; no wire")
    nothing = replace(job, hanging=replace(without_wire(hung, Fraction(3)), unchosen=True))
    assert details(nothing)["Fixings"] == "163.5 below the frame’s top edge, 578 between centres"


def test_a_canvas_in_a_tray_is_screwed_and_warned_of_screws() -> None:
    facts = replace(WHOLE, screwed=True)
    at_fit = next(step for step in order_of_work(sketch(facts)) if step.id == "fit")
    assert CAUTIONS[Work.SCREW] in at_fit.cautions
    assert CAUTIONS[Work.FIT] not in at_fit.cautions


def test_each_mat_says_which_face_is_up() -> None:
    """Attached: back up to be marked, turned to drop out, turned back for the next one."""
    said = texts(sketch())
    assert said["mats-mark"] == "mark the back of mat 1, face down; edges are named as it lies"
    assert said["mat-1-drop"] == "lift mat 1 off face down, the window drops out"
    assert said["mat-2-fix"].startswith("mat 1 face down, fallout in: fix mat 2 face down")


def test_mats_on_their_own_edges_are_fixed_behind_each_other_by_their_reveals() -> None:
    cut = piece_cut("6", "4", way=UnderWay.OWN_EDGES, trim="3")
    mats = mats_to_cut(cut)
    said = texts(StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan_settings(mats, CUTTER)))
    assert said["mats-together"] == (
        "turn the mats face down and fix mat 2 to the back of mat 1, 6 of it showing on all sides; "
        "mat 3 to the back of mat 2, 4 of it showing on all sides"
    )


def test_rails_come_longest_first_with_frames_from_the_inner_one_out() -> None:
    """By hand: a tray around 400 x 300 floating with 5: 410 x 310 inside; taller ones come first. Empty frames are fixed into
    each other: once the back is sealed it would be opened again (common practice)."""
    moulding = Frame(face=mm(20), lip=ZERO, rebate_depth=ZERO, allowance=ZERO)
    cut = unmatted(
        Presentation.CANVAS_FLOAT, artwork=Size(mm(300), mm(400)), frames=(moulding, moulding)
    )
    steps = order_of_work(StepJob(cut=cut, facts=replace(WHOLE, mats=False)))
    rails = [step for step in steps if step.code is StepCode.RAILS]
    assert ids(rails) == [
        "frame-1-rails-left-right",
        "frame-1-rails-top-bottom",
        "frame-2-rails-left-right",
        "frame-2-rails-top-bottom",
    ]
    assert rails[0].text.startswith("tray: 2 rails left and right, long point 450")
    assert rails[2].text.startswith("frame 2: ")
    there = ids(steps)
    at = there.index("frames-together")
    assert there[at - 1 : at + 3] == ["frame-2-join", "frames-together", "artwork-place", "fit"]


def test_acrylic_keeps_its_film_and_has_its_own_caution() -> None:
    facts = replace(WHOLE, glass=False, acrylic=True)
    (cutting,) = (s for s in order_of_work(sketch(facts)) if s.code is StepCode.GLAZING)
    assert cutting.text.endswith("film on")
    assert cutting.cautions == (CAUTIONS[Work.ACRYLIC],)


def test_spacers_and_mount_board_are_cut_between_glazing_and_rails() -> None:
    """By hand: two of 400, two of 300 - 2 x 5 (G14)."""
    cut = unmatted(
        Presentation.CLOSE,
        spacer=Spacer(depth=mm(6), width=mm(5)),
        mount_board=Panel(thickness=mm(2)),
    )
    steps = order_of_work(StepJob(cut=cut, facts=replace(MATS_ONLY, mats=False)))
    assert ids(steps)[:2] == ["mount-board-cut", "spacers-cut"]
    assert steps[1].text == "cut the spacers: 2 of 400, 2 of 290"


def test_spacers_of_what_lies_flat_go_in_before_it_is_fitted() -> None:
    """From the front: glazing, spacers, mats, artwork, boards (D1); whoever follows the list must not leave out the spacers."""
    parts: dict[str, object] = {
        "spacer": Spacer(depth=mm(6), width=mm(5)),
        "glazing": Panel(thickness=mm(2)),
        "backing": Panel(thickness=mm(3)),
    }
    frame = (Frame(face=mm(20), lip=mm(6), rebate_depth=mm(20), allowance=mm(3)),)
    bare = replace(WHOLE, mats=False)
    for presentation in (Presentation.CLOSE, Presentation.FLOAT):
        steps = order_of_work(
            StepJob(cut=unmatted(presentation, **parts, frames=frame), facts=bare)
        )
        there, said = ids(steps), {step.id: step.text for step in steps}
        at = there.index("spacers-fix")
        assert there[at - 1 : at + 2] == ["artwork-place", "spacers-fix", "fit"]
        assert said["spacers-fix"] == (
            "clean both faces of the glazing; lay the glazing in, then fix the spacers along the walls of "
            "the rebate"
        )
        assert said["fit"] == (
            "no dust behind the glazing; fit artwork and back in behind the spacers, drive the points, "
            "seal the back"
        )
    unframed = texts(StepJob(cut=unmatted(Presentation.CLOSE, **parts), facts=bare))
    assert unframed["spacers-fix"].endswith("fix the spacers along the edges of the glass")
    assert unframed["fit"] == (
        "no dust behind the glazing; bind glazing, spacers, artwork and back together with tape"
    )
    open_front = texts(
        StepJob(cut=unmatted(Presentation.CLOSE, **(parts | {"glazing": None})), facts=bare)
    )
    assert open_front["spacers-fix"] == "fix the spacers along the edges of the package"
    assert open_front["fit"] == "bind spacers, artwork and back together with tape"


def test_work_that_is_ordered_has_its_step_before_the_artwork_is_placed() -> None:
    """A canvas is stretched on bars of its own size, 400 x 300, before it can be seated: common practice."""
    frames = (Frame(face=mm(20), lip=ZERO, rebate_depth=ZERO, allowance=ZERO),)
    job = StepJob(
        cut=unmatted(Presentation.CANVAS, frames=frames),
        facts=replace(WHOLE, mats=False),
        extras=(
            ExtraWork(code="STRETCH", name="Stretch canvas on new bars", stretched=True),
            ExtraWork(code="CLEAN", name="Surface cleaning, dry", count=2),
        ),
    )
    there, said = ids(order_of_work(job)), texts(job)
    at = there.index("extra-1")
    assert there[at - 1 : at + 3] == ["frame-1-join", "extra-1", "extra-2", "artwork-place"]
    assert said["extra-1"] == "Stretch canvas on new bars (STRETCH): stretcher 400 × 300"
    assert said["extra-2"] == "Surface cleaning, dry (CLEAN), 2 times"


def boxed(**parts: object) -> StepJob:
    """An object of 400 x 300 floating in a frame, on a mount board, within spacers, under glass."""
    given = {
        "artwork_thickness": mm(20),
        "spacer": Spacer(depth=mm(25), width=mm(5)),
        "mount_board": Panel(thickness=mm(3)),
        "glazing": Panel(thickness=mm(2)),
        "backing": Panel(thickness=mm(3)),
        "frames": (Frame(face=mm(25), lip=mm(6), rebate_depth=mm(46), allowance=mm(3)),),
        "boxed": ObjectInBox(clearance=mm(3)),
    }
    cut = unmatted(Presentation.FLOAT, **(given | parts))
    framed = bool(cut.frames)
    return StepJob(cut=cut, facts=replace(MATS_ONLY, mats=False, boxed=True, frame=framed))


def test_an_object_is_mounted_and_its_spacers_are_fixed_before_it_goes_in() -> None:
    steps = order_of_work(boxed())
    there = ids(steps)
    assert "artwork-place" not in there
    assert there.index("spacers-cut") < there.index("object-mount") < there.index("spacers-fix")
    assert there.index("spacers-fix") + 1 == there.index("fit")
    said = {step.id: step for step in steps}
    assert "mount the object on the mount board" in said["object-mount"].text
    assert said["object-mount"].cautions == (CAUTIONS[Work.OBJECT],)
    assert said["spacers-fix"].text == (
        "clean both faces of the glazing; lay the glazing in, then fix the spacers along the walls of "
        "the rebate"
    )
    assert said["fit"].text == (
        "no dust on glazing and object; lay the board with the object in behind the spacers, drive "
        "the points, seal the back"
    )
    assert not [step.id for step in steps if "hinge" in step.text or "float" in step.text]


def test_an_object_without_mount_board_spacers_or_frame_is_still_mounted() -> None:
    open_box = texts(boxed(mount_board=None, spacer=None, glazing=None, frames=()))
    assert "on the backing" in open_box["object-mount"]
    assert "spacers-fix" not in open_box
    bare = texts(boxed(mount_board=None, spacer=None, glazing=None, frames=(), backing=None))
    assert "on the board," in bare["object-mount"]
    unframed = texts(boxed(frames=()))
    assert unframed["spacers-fix"].endswith("fix the spacers along the edges of the glass")


@pytest.mark.parametrize(
    "mats",
    [
        (),
        mats_to_cut(piece_cut("6")),
        tuple(reversed(mats_to_cut(piece_cut()))) * 2,
        (mat("300", "200", layer=2),),
    ],
)
def test_a_job_has_the_mats_of_its_piece(mats: tuple[MatToCut, ...]) -> None:
    with pytest.raises(Invalid) as raised:
        StepJob(cut=piece_cut(), facts=MATS_ONLY, mats=mats)
    assert [fault.path for fault in raised.value.faults] == ["mats"]


def test_a_cutting_step_knows_where_its_guide_stands_and_what_it_cuts() -> None:
    """By hand: borders 70, 70, 70, 80, then 76, 76, 76, 86 once the under mat is fixed behind; from
    the far end of the guide at 200 the least way is 80, 70, 76, 86."""
    steps = [step for step in order_of_work(sketch()) if step.setting is not None]
    assert [(step.layers, step.setting.at) for step in steps if step.setting] == [
        ((1,), mm(80)),
        ((1,), mm(70)),
        ((2,), mm(76)),
        ((2,), mm(86)),
    ]
    assert [{cut.edge.value for cut in step.cuts} for step in steps] == [
        {"bottom"},
        {"left", "top", "right"},
        {"left", "top", "right"},
        {"bottom"},
    ]


def test_marks_are_drawn_mat_by_mat_as_each_can_be_marked() -> None:
    marked = [
        (step.code, step.layers)
        for step in order_of_work(sketch())
        if step.code in (StepCode.MARK, StepCode.FIX_BEHIND)
    ]
    assert marked == [(StepCode.MARK, (1,)), (StepCode.FIX_BEHIND, (2,))]


def test_a_frame_that_is_brought_in_is_taken_apart_before_its_mats_are_cut() -> None:
    """G24."""
    job = sketch()
    given = GivenFrame(rebate=Size(mm(565), mm(452)), allowance=mm(3), depth=mm(14))
    spec = replace(job.cut.spec, frames=(), given_frame=given)
    brought = replace(job, cut=in_steps(work_out(spec), HALF))
    assert ids(order_of_work(brought))[:3] == ["frame-apart", "frame-clean", "mats-size"]


TWO_STOPS = replace(CUTTER, stops=Stops(near=True, far=True))
ONE_STOP = replace(CUTTER, stops=Stops(near=True))


def test_between_two_stops_nothing_is_marked_and_the_stops_stand_beside_the_guide() -> None:
    """By hand: a package of 562 x 449 with borders 70 70 70 80. Bottom: near 70, far 562 - 70. At 70 the right edge
    as it lies has its top at the arm: 70, and 449 - 80; the top 70 and 562 - 70; the left 80 and 449 - 70. The top comes first, since for
    it the stops stand as for the bottom (B10)."""
    said = texts(sketch(cutter=TWO_STOPS))
    assert said["mats-mark"] == (
        "lay mat 1 back up, with nothing to mark: stops begin and end every cut; edges are named as it lies"
    )
    assert said["mat-1-cut-1"] == (
        "set the guide to 80 (pin 80): mat 1 bottom, near stop 70, far stop 492, on a slip sheet"
    )
    assert said["mat-1-cut-2"] == (
        "set the guide to 70 (pin 70): mat 1 top, near stop 70, far stop 492; "
        "right, near stop 70, far stop 369; left, near stop 80, far stop 379, on a slip sheet"
    )
    assert said["mat-2-fix"].endswith("fix mat 2 face down behind it, cut from mat 1’s edges")


def test_with_one_stop_the_other_end_is_still_marked() -> None:
    said = texts(sketch(cutter=ONE_STOP))
    assert said["mats-mark"] == "mark the back of mat 1, face down; edges are named as it lies"
    assert "mat 1 right, top, near stop 70; left, near stop 80" in said["mat-1-cut-2"]
    assert said["mat-2-fix"].endswith("mark from mat 1’s edges")


def test_a_round_window_is_marked_although_stops_bind_every_cut() -> None:
    mixed = mat(
        "500", "300", window("A", "60", "60", "100", "180"), oval("B", "260", "60", "150", "180")
    )
    plan = plan_settings((mixed,), TWO_STOPS)
    job = StepJob(cut=piece_cut(), facts=MATS_ONLY, mats=(mixed,), plan=plan)
    assert texts(job)["mats-mark"].startswith("mark the back of the mat")


def test_a_reverse_bevel_between_stops_lies_face_up_with_nothing_to_mark() -> None:
    reverse = mat("320", "260", window("A", "60", "60", "200", "140"), reverse=True)
    plan = plan_settings((reverse,), TWO_STOPS)
    job = StepJob(cut=piece_cut(), facts=MATS_ONLY, mats=(reverse,), plan=plan)
    assert texts(job)["mats-mark"].startswith(
        "lay the mat face up for the reverse bevel, with nothing to mark"
    )
