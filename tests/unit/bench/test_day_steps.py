"""Which step of which piece is done at which setting of a day, against tables worked by hand (B10)."""

from dataclasses import replace

from app.bench import (
    Cutter,
    MatToCut,
    Step,
    StepJob,
    StepsOfDay,
    order_of_work,
    plan_day,
    plan_settings,
    steps_of_day,
)
from app.framing.notices.care import WorkFacts
from app.lengths import mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, oval, piece_cut, sketch_piece

MATS_ONLY = WorkFacts(mats=True, glass=False, acrylic=False, frame=False, heavy=False)


def alone(*mats: MatToCut, cutter: Cutter = CUTTER) -> tuple[Step, ...]:
    """The order of work of a piece on its own."""
    cut = piece_cut(*(["6"] * (len(mats) - 1)))
    plan = plan_settings(mats, cutter)
    return order_of_work(StepJob(cut=cut, facts=MATS_ONLY, mats=mats, plan=plan))


def together(
    pieces: dict[str, tuple[MatToCut, ...]], *, cutter: Cutter = CUTTER, own: Cutter = CUTTER
) -> StepsOfDay:
    """The day of some pieces. own: the cutter as each piece's own order of work has it."""
    mats = [replace(mat, piece=piece) for piece, its in pieces.items() for mat in its]
    day = plan_day(mats, cutter)
    return steps_of_day(
        day.guide, {piece: alone(*its, cutter=own) for piece, its in pieces.items()}
    )


def table(day: StepsOfDay) -> list[tuple[str, list[str]]]:
    """(setting, "A mat-1-cut-1", those that go on later in brackets) of each move of the guide."""
    return [
        (
            str(at.setting.at.mm),
            [
                f"{each.piece} {each.step.id}" if each.done else f"({each.piece} {each.step.id})"
                for each in at.steps
            ],
        )
        for at in day.settings
    ]


def test_pieces_alike_are_cut_at_the_same_settings() -> None:
    """By hand: 80, 70, then the under mat, which waits for the one above: 76, 86."""
    day = together({"A": sketch_piece(), "B": sketch_piece()})
    assert table(day) == [
        ("80", ["A mat-1-cut-1", "B mat-1-cut-1"]),
        ("70", ["A mat-1-cut-2", "A mat-1-drop", "B mat-1-cut-2", "B mat-1-drop"]),
        ("76", ["A mat-2-fix", "A mat-2-cut-1", "B mat-2-fix", "B mat-2-cut-1"]),
        ("86", ["A mat-2-cut-2", "A mat-2-drop", "B mat-2-cut-2", "B mat-2-drop"]),
    ]
    assert [(each.piece, each.step.id) for each in (*day.sizing, *day.marking)] == [
        ("A", "mats-size"),
        ("B", "mats-size"),
        ("A", "mats-mark"),
        ("B", "mats-mark"),
    ]
    assert day.after == ()


def test_steps_go_by_their_cuts_where_the_day_has_another_order() -> None:
    """Alone A is cut at 60, 70 for both mats, 45. With B, whose mats want 70, 60, 70 one behind the other, the day is
    70, 60, 70, 45: what is first alone is second here, and 70 is visited twice.
    """
    a = (
        framed_by("60", "60", "60", "70"),
        framed_by("70", "70", "70", "45", layer=2),
    )
    b = (
        framed_by("70", "70", "70", "70"),
        framed_by("60", "60", "60", "60", layer=2),
        framed_by("70", "70", "70", "70", layer=3),
    )
    own = [(step.id, str(step.setting.at.mm)) for step in alone(*a) if step.setting]
    assert own == [
        ("mat-1-cut-1", "60"),
        ("mat-1-cut-2", "70"),
        ("mat-2-cut-1", "70"),
        ("mat-2-cut-2", "45"),
    ]
    assert table(together({"A": a, "B": b})) == [
        ("70", ["A mat-1-cut-2", "B mat-1-cut-1", "B mat-1-drop"]),
        ("60", ["A mat-1-cut-1", "A mat-1-drop", "B mat-2-fix", "B mat-2-cut-1", "B mat-2-drop"]),
        ("70", ["A mat-2-fix", "A mat-2-cut-1", "B mat-3-fix", "B mat-3-cut-1", "B mat-3-drop"]),
        ("45", ["A mat-2-cut-2", "A mat-2-drop"]),
    ]


def test_a_step_whose_cuts_lie_apart_is_done_at_the_last_of_them() -> None:
    """Alone on a scale of steps of 5, 71 and 69 are both 70: one step. The day's scale reads them apart: 71, 69."""
    coarse = replace(CUTTER, scales=(replace(CUTTER.scale, step=mm(5)),))
    piece = (framed_by("69", "69", "71", "71"),)
    day = together({"A": piece}, own=coarse)
    assert table(day) == [
        ("71", ["(A mat-1-cut-1)"]),
        ("69", ["A mat-1-cut-1", "A mat-1-drop"]),
    ]
    edges = [[cut.edge.value for cut in each.cuts] for at in day.settings for each in at.steps]
    assert edges == [["top", "bottom"], ["left", "right"], []]


def test_two_steps_of_a_piece_may_be_done_at_one_setting() -> None:
    """The other way round: 71 and 69 alone, and 70 on the scale of the day."""
    coarse = replace(CUTTER, scales=(replace(CUTTER.scale, step=mm(5)),))
    day = together({"A": (framed_by("69", "69", "71", "71"),)}, cutter=coarse)
    assert table(day) == [("70", ["A mat-1-cut-1", "A mat-1-cut-2", "A mat-1-drop"])]


def test_a_mat_without_a_straight_cut_comes_where_others_wait_for_it() -> None:
    """An oval alone is cut at the end. One that a mat is fixed behind is cut before that, one that is fixed behind
    another after it.
    """
    curved = mat("300", "300", oval("window", "60", "60", "100", "150"))
    behind = replace(curved, layer=2, attached=True)
    straight = framed_by("70", "70", "70", "70")
    under = framed_by("60", "60", "60", "60", layer=2)
    day = together({"A": (curved,), "B": (curved, under), "C": (straight, behind)})
    assert table(day) == [
        (
            "70",
            ["C mat-1-cut-1", "C mat-1-drop", "C mat-2-fix", "C mat-2-curves", "C mat-2-drop"],
        ),
        (
            "60",
            ["B mat-1-curves", "B mat-1-drop", "B mat-2-fix", "B mat-2-cut-1", "B mat-2-drop"],
        ),
    ]
    assert [(each.piece, each.step.id) for each in day.after] == [
        ("A", "mat-1-curves"),
        ("A", "mat-1-drop"),
    ]


def test_every_step_is_done_once() -> None:
    day = together({"A": sketch_piece(), "B": (framed_by("69", "69", "71", "71"),)})
    done = [(each.piece, each.step.id) for each in day.all() if each.done]
    assert len(done) == len(set(done)) == 9 + 5
