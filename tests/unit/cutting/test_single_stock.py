"""One stick or sheet that is enough, by hand; and that the simple plan keeps what can be kept."""

import pytest

from app.cutting import Sheet, SheetPart, SheetProblem, Stick, StickPart, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.single_stock import left_of_one_sheet, left_of_one_stick
from app.lengths import Length, Size, Unit, mm
from tests.builders.values import size


def sticks(stick: str, keep: int = 300) -> StickProblem:
    """2 × 630 and 2 × 530 at 8.5 a cut: 2320 and 34, or 25.5 where nothing is left over."""
    return StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(stick)),),
        parts=(
            StickPart(id="across", length=mm(630), copies=2),
            StickPart(id="up", length=mm(530), copies=2),
        ),
        kerf=mm("8.5"),
        keep=mm(keep),
    )


@pytest.mark.parametrize(
    ("stick", "left"),
    [
        ("3000", (mm(646),)),
        ("2654", (mm(300),)),
        ("2653.9", ()),  # 299.9 is not kept
        ("2354", ()),
        ("2345.5", ()),  # three cuts between four rails, none behind the last
        ("2345.4", None),
    ],
)
def test_what_is_left_of_a_stick(stick: str, left: tuple[Length, ...] | None) -> None:
    assert left_of_one_stick(sticks(stick)) == left


def test_nothing_is_no_offcut_where_everything_is_kept() -> None:
    assert left_of_one_stick(sticks("2354", keep=0)) == ()
    assert left_of_one_stick(sticks("2354.5", keep=0)) == (mm("0.5"),)


def sheets(blank: Size, sheet: Size, keep: Size) -> SheetProblem:
    return SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="new", size=sheet),),
        parts=(SheetPart(id="blank", size=blank),),
        keep=keep,
    )


def test_the_largest_offcut_is_left_of_a_sheet() -> None:
    # across first 1200 × 500 and 600 × 500; down first 600 × 1000 and 600 × 500; turned 700 × 1000
    asked = sheets(size(600, 500), size(1200, 1000), size(150, 100))
    assert left_of_one_sheet(asked) == (size(700, 1000), size(500, 400))


def test_an_offcut_that_is_kept_is_better_than_none() -> None:
    # as it is 600 × 400 is left, too low for 450 × 450; turned 600 × 500 is left, which is kept
    asked = sheets(size(500, 600), size(600, 1000), size(450, 450))
    assert left_of_one_sheet(asked) == (size(600, 500),)
    (opened,) = simple_sheet_plan(asked).bins
    assert [rest.size for rest in opened.offcuts] == [size(600, 500)]


def test_a_blank_larger_than_the_sheet_either_way_wants_a_plan() -> None:
    assert left_of_one_sheet(sheets(size(700, 660), size(650, 1000), size(1, 1))) is None
    # turned 600 × 700 fits: 650 × 300 below it and 50 × 700 beside it
    turned = left_of_one_sheet(sheets(size(700, 600), size(650, 1000), size(1, 1)))
    assert turned == (size(650, 300), size(50, 700))
