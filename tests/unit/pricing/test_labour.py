"""Minutes of the shop's operations (P5), worked by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import (
    Arrangement,
    Frame,
    ObjectInBox,
    Opening,
    Panel,
    Presentation,
    Spacer,
    Spec,
    work_out,
)
from app.lengths import mm
from app.pricing import DEFAULT_OPERATIONS, Chosen, ChosenCount, Operation, When, price_piece
from app.pricing.labour import minutes_of, worked
from tests.builders.values import euro, size
from tests.builders.watercolour import WATERCOLOUR, bare, chosen, moulding, ring, rules, watercolour


def operation(when: When, **minutes: int) -> Operation:
    times = {name: Fraction(value) for name, value in minutes.items()}
    return Operation(code="op", name="Operation", when=when, **times)


def minutes(of: Operation, spec: Spec = WATERCOLOUR, choice: Chosen | None = None) -> Fraction:
    return minutes_of(of, worked(work_out(spec), choice or chosen()))


@pytest.mark.parametrize(
    ("times", "expected"),
    [
        ({"fixed": 5}, "5"),
        ({"per_metre": 10}, "21.86"),  # 2.186 m along the outside
        ({"per_layer": 3}, "6"),  # two layers
        ({"per_window": 4}, "8"),  # a window in each
        ({"per_m2": 100}, "25.2338"),  # 0.562 × 0.449 m²
        ({"fixed": 5, "per_metre": 10, "per_layer": 3, "per_window": 4, "per_m2": 100}, "66.0938"),
    ],
)
def test_the_five_times_add_up(times: dict[str, int], expected: str) -> None:
    assert minutes(operation(When.ALWAYS, **times)) == Fraction(expected)


def test_a_frame_operation_is_done_once_for_each_frame() -> None:
    outer = Frame(face=mm(40), lip=mm(6), rebate_depth=mm(20), allowance=mm(3))
    nested = replace(WATERCOLOUR, frames=(*WATERCOLOUR.frames, outer))
    # inner 603 × 490; outer 603 + 3 + 68 = 674 and 490 + 71 = 561: 2.186 + 2.47 = 4.656 m
    assert minutes(operation(When.FRAME, fixed=7), nested) == 14
    assert minutes(operation(When.FRAME, per_metre=1), nested) == Fraction("4.656")


BARE = replace(
    WATERCOLOUR, presentation=Presentation.CLOSE, mats=(), borders=None, glazing=None, backing=None
)


@pytest.mark.parametrize(
    ("when", "spec"),
    [
        (When.FRAME, replace(BARE, frames=())),
        (When.MAT, BARE),
        (When.FLOAT, WATERCOLOUR),
        (When.GLAZING, BARE),
        (When.SPACER, WATERCOLOUR),
        (When.MOUNT_BOARD, WATERCOLOUR),
        (When.BACKING, BARE),
        (When.CANVAS, WATERCOLOUR),
        (When.TRAY, replace(BARE, presentation=Presentation.CANVAS)),
    ],
)
def test_what_a_piece_does_not_have_takes_no_time(when: When, spec: Spec) -> None:
    assert minutes(operation(when, fixed=9, per_metre=9, per_m2=9), spec) == 0


@pytest.mark.parametrize(
    ("when", "spec"),
    [
        (When.FLOAT, replace(WATERCOLOUR, presentation=Presentation.FLOAT)),
        (When.SPACER, replace(WATERCOLOUR, spacer=Spacer(depth=mm(5), width=mm(5)))),
        (When.MOUNT_BOARD, replace(WATERCOLOUR, mount_board=Panel(thickness=mm(2)))),
        (When.CANVAS, replace(BARE, presentation=Presentation.CANVAS)),
        (When.TRAY, replace(BARE, presentation=Presentation.CANVAS_FLOAT)),
    ],
)
def test_what_a_piece_has_takes_its_time(when: When, spec: Spec) -> None:
    assert minutes(operation(when, fixed=9), spec) == 9


def four_windows(*floats: bool | None) -> Spec:
    """Four windows of the same artwork in one row; None floats as the piece does."""
    openings = tuple(
        Opening(name=name, artwork=size(100, 150), floats=each)
        for name, each in zip("ABCD", floats, strict=True)
    )
    return replace(
        WATERCOLOUR, openings=openings, arrangement=Arrangement(rows=(4,), across=mm(40))
    )


def test_what_is_done_for_each_artwork_is_done_as_often() -> None:
    hinge, raising = operation(When.BEHIND_MAT, fixed=5), operation(When.FLOAT, fixed=8)
    assert minutes(hinge) == 5
    assert minutes(hinge, BARE) == 0
    none_floats = four_windows(None, None, None, None)
    assert (minutes(hinge, none_floats), minutes(raising, none_floats)) == (20, 0)
    two_float = four_windows(None, True, True, False)
    assert (minutes(hinge, two_float), minutes(raising, two_float)) == (20, 16)
    all_float = replace(four_windows(None, None, None, False), presentation=Presentation.FLOAT)
    assert minutes(raising, all_float) == 24


def test_one_artwork_behind_four_windows_is_hinged_once() -> None:
    """Four windows of 100 x 150, 40 apart, take 520 x 150; 540 x 170 reaches behind all, 500 x 170 behind none but its own."""
    hinge = operation(When.BEHIND_MAT, fixed=5)
    openings = tuple(Opening(name=name, window=size(100, 150)) for name in "ABCD")
    four = replace(
        four_windows(None, None, None, None), openings=openings, mats=WATERCOLOUR.mats[:1]
    )
    assert minutes(hinge, replace(four, artwork=size(540, 170))) == 5
    assert minutes(hinge, replace(four, artwork=size(500, 170))) == 20


def test_an_object_is_mounted_and_neither_hinged_nor_floated() -> None:
    """G22, P5: the table that ships has 12 minutes for it."""
    box = replace(WATERCOLOUR, boxed=ObjectInBox(clearance=mm(3)))
    shown = replace(box, presentation=Presentation.FLOAT)
    kinds = (When.BEHIND_MAT, When.FLOAT, When.OBJECT)
    assert [minutes(operation(when, fixed=5), box) for when in kinds] == [0, 0, 5]
    assert [minutes(operation(when, fixed=5), shown) for when in kinds] == [0, 0, 5]
    assert minutes(operation(When.OBJECT, fixed=5)) == 0
    four = replace(four_windows(None, None, True, None), boxed=ObjectInBox(clearance=mm(3)))
    assert [minutes(operation(when, fixed=5), four) for when in kinds] == [0, 0, 20]
    (shipped,) = [each for each in DEFAULT_OPERATIONS if each.when is When.OBJECT]
    assert minutes(shipped, box) == 12


def test_hanging_takes_time_when_hardware_is_taken() -> None:
    assert minutes(operation(When.HANGING, fixed=3)) == 3
    assert minutes(operation(When.HANGING, fixed=3), choice=chosen(hardware=())) == 0


def test_labour_is_rounded_once() -> None:
    # 12 operations of 1/3 min are 4 min: at 1.00 an hour 6.67 cents; each for itself would be 0.56
    third = [
        Operation(code=f"op{n}", name="Third", when=When.ALWAYS, fixed=Fraction(1, 3))
        for n in range(12)
    ]
    price = price_piece(
        bare(300, 200), Chosen(), rules(operations=tuple(third), hourly_rate=euro("1.00"))
    )
    assert price.total == euro("0.07")
    assert price.minutes == 4


def test_labour_says_each_operation_that_takes_time() -> None:
    price = price_piece(
        bare(300, 200),
        Chosen(hardware=(ChosenCount(material=ring()),)),
        rules(),
    )
    assert price.lines[-1].why == (
        "Measure and check the artwork: 4 min.",
        "Fix the hanging parts: 3 min.",
        "Clean, check, label and wrap: 4 min.",
        "11 min at 38.40 an hour = 7.04.",
    )


def test_without_operations_there_is_no_line_for_work() -> None:
    price = price_piece(watercolour(), chosen(), rules(operations=()))
    assert all(not line.is_work for line in price.lines)
    assert price.minutes == 0


def test_a_canvas_in_a_tray_is_framed_and_screwed() -> None:
    tray = Frame(face=mm(10), lip=mm(0), rebate_depth=mm(40), allowance=mm(0))
    spec = Spec(
        unit=WATERCOLOUR.unit,
        artwork=size(500, 400),
        presentation=Presentation.CANVAS_FLOAT,
        overlap=mm(0),
        gap=mm(5),
        frames=(tray,),
    )
    price = price_piece(work_out(spec), Chosen(frames=(moulding(),)), rules())
    # inside 510 × 410, outside 530 × 430: 1.92 m; take in 4, mitre 4 + 2.88, join 7 + 0.96,
    # fit 3 + 0.96, tray 9, finish 4
    assert price.minutes == Fraction("35.8")
    # 2 × (510 + 410) + 8 × 10 = 1920: a tray has neither lip nor allowance
    assert "it would be 1920 mm, 0 mm more" in price.lines[0].why_shop[-1]


def test_an_operation_below_zero_or_without_a_name_is_refused() -> None:
    with pytest.raises(Invalid) as caught:
        Operation(code="a b", name=" ", when=When.ALWAYS, fixed=Fraction(-1), per_m2=Fraction(1441))
    assert [fault.path for fault in caught.value.faults] == ["code", "name", "fixed", "per_m2"]


def test_the_table_that_ships_has_its_own_code_for_each_operation() -> None:
    codes = [each.code for each in DEFAULT_OPERATIONS]
    assert len(set(codes)) == len(codes)
    assert {each.when for each in DEFAULT_OPERATIONS} == set(When)
