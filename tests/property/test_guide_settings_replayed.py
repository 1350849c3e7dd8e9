"""The bench's order of cuts, replayed by the checker that made no plan: nothing lost, nothing out of order."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from app.cutting import Sheet, SheetPart, SheetProblem
from app.cutting.checker import faults_of_sheet_plan
from app.cutting.sheets.simple import simple_sheet_plan
from app.lengths import Size, Unit, mm
from app.stock.planning.cut_sequence import guide_settings

SHEET = Size(mm(1120), mm(815))


@st.composite
def questions(draw: st.DrawFn) -> SheetProblem:
    """Blanks of a few sizes for sheets of one size, with and without trim, blade and stages."""
    sizes = draw(
        st.lists(st.tuples(st.integers(60, 700), st.integers(60, 600)), min_size=1, max_size=5)
    )
    wanted = draw(st.lists(st.sampled_from(sizes), min_size=1, max_size=24))
    return SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="whole", size=SHEET),),
        parts=tuple(
            SheetPart(id=f"p{number}", size=Size(mm(width), mm(height)))
            for number, (width, height) in enumerate(wanted)
        ),
        trim=mm(draw(st.sampled_from([0, 5]))),
        kerf=mm(draw(st.sampled_from([0, 3]))),
        stages=draw(st.sampled_from([2, 3, 4, None])),
        keep=Size(mm(150), mm(100)),
    )


@given(questions())
@settings(deadline=None, max_examples=60)
def test_cuts_in_the_order_of_the_bench_make_the_same_plan(asked: SheetProblem) -> None:
    plan = simple_sheet_plan(asked)
    ordered = tuple(
        replace(
            opened,
            cuts=tuple(
                done.cut for setting in guide_settings(opened, asked) for done in setting.cuts
            ),
        )
        for opened in plan.bins
    )
    assert faults_of_sheet_plan(replace(plan, bins=ordered)) == ()


@given(questions())
@settings(deadline=None, max_examples=60)
def test_every_cut_is_made_once_and_every_part_comes_off(asked: SheetProblem) -> None:
    for opened in simple_sheet_plan(asked).bins:
        done = [cut for setting in guide_settings(opened, asked) for cut in setting.cuts]
        assert sorted(map(str, opened.cuts)) == sorted(str(each.cut) for each in done)
        if opened.cuts:
            freed = {part for each in done for part in each.frees}
            assert freed == {laid.id for laid in opened.parts}


@given(questions())
@settings(deadline=None, max_examples=60)
def test_a_distance_lies_within_the_piece_in_hand(asked: SheetProblem) -> None:
    for opened in simple_sheet_plan(asked).bins:
        for setting in guide_settings(opened, asked):
            for done in setting.cuts:
                across = setting.way.value == "across"
                room = done.size.height if across else done.size.width
                assert mm(0) <= setting.distance < room
