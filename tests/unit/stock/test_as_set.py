"""Parts of a plan as they are printed. Inches in millimetres by L1: 20 5/8 in = 523.875 mm, 26 5/8 in = 676.275 mm."""

from dataclasses import replace

import pytest

from app.cutting import (
    LaidPart,
    LaidRail,
    OpenedStick,
    Sheet,
    SheetPart,
    SheetProblem,
    Stick,
    StickPart,
    StickProblem,
)
from app.lengths import ZERO, Length, Size, Steps, Unit, inches, mm, show, show_size
from app.stock.planning.as_set import (
    SheetAsSet,
    StickAsSet,
    blank_as_set,
    kept_as_measured,
    rail_as_set,
    say_as_set,
    say_stock,
)

HALVES = Steps(unit=Unit.MM, step=mm("0.5"))
SIXTEENTHS = Steps(unit=Unit.IN, step=inches("1/16"))
INCH_PIECE = Size(inches("165/8"), inches("213/8"))


@pytest.mark.parametrize(
    ("part", "length", "steps", "set_to"),
    [
        ("17/frame-1.top", inches("165/8"), HALVES, mm(524)),
        ("17/3/frame-1.top", inches("165/8"), HALVES, mm(524)),
        ("17/fillet-1.left", inches("133/8"), HALVES, mm("422.5")),  # 16 5/8 in = 422.275 mm
        ("17/spacer.top", inches("165/8"), HALVES, mm("523.5")),
        ("17/frame-1.top", mm(479), HALVES, mm(479)),
        ("17/frame-1.top", mm(479), SIXTEENTHS, inches("302/16")),  # 479 / 25.4 × 16 = 301.7
        ("17/spacer.top", mm(479), SIXTEENTHS, inches("301/16")),
    ],
)
def test_a_rail_is_never_printed_too_short(
    part: str, length: Length, steps: Steps, set_to: Length
) -> None:
    assert rail_as_set(part, length, steps) == set_to


@pytest.mark.parametrize(
    ("part", "set_to"),
    [
        ("17/mat-1", "524 × 676.5"),  # the nearest half millimetre
        ("17/glazing", "523.5 × 676"),
        ("17/mount-board", "523.5 × 676"),
        ("17/2/backing", "523.5 × 676"),
    ],
)
def test_what_enters_the_rebate_is_never_printed_too_large(part: str, set_to: str) -> None:
    assert show_size(blank_as_set(part, INCH_PIECE, HALVES), Unit.MM) == set_to


def test_the_exact_size_stands_beside_in_its_own_unit() -> None:
    assert say_as_set("mat-1", INCH_PIECE, HALVES) == '524 × 676.5 mm (20 5/8 × 26 5/8")'
    assert say_as_set("frame-1.top", inches("151/8"), HALVES) == '479.5 mm (18 7/8")'  # 479.425
    assert say_as_set("frame-1.top", mm(479), HALVES) == "479 mm"
    assert say_as_set("frame-1.top", mm(479), SIXTEENTHS) == '18 7/8" (479 mm)'


# A stick of 2096 mm: four rails of 523.875 mm are 2095.5 mm, as printed in halves 4 × 524 = 2096.
RAILS = tuple(
    LaidRail(id=f"17/frame-1.{n}", copy=1, length=inches("165/8"), at=inches("165/8") * n)
    for n in range(4)
)


def stick(length: Length) -> StickAsSet:
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="whole", length=length),),
        parts=tuple(StickPart(id=rail.id, length=rail.length) for rail in RAILS),
    )
    opened = OpenedStick(stock="whole", copy=1, parts=RAILS, offcut=None)
    return StickAsSet(opened=opened, asked=asked, steps=HALVES)


def test_rails_that_the_stick_would_not_hold_as_printed_are_printed_finer() -> None:
    roomy, tight = stick(mm(2096)), stick(mm("2095.7"))
    assert {show(roomy.rail(laid), Unit.MM) for laid in RAILS} == {"524"}
    assert {show(tight.rail(laid), Unit.MM) for laid in RAILS} == {"523.9"}
    lossy = replace(roomy, asked=replace(roomy.asked, kerf=mm("0.1")))
    assert {show(lossy.rail(laid), Unit.MM) for laid in RAILS} == {"523.9"}


WHOLE = Steps(unit=Unit.MM, step=mm(1))
THIRTY_SECONDS = Steps(unit=Unit.IN, step=inches("1/32"))
INCH_BOARD = Size(inches("193/8"), inches("61/2"))  # 24 1/8 × 30 1/2 in = 612.775 × 774.7 mm


def sheet(steps: Steps, arm: Steps | None, *parts: str) -> SheetAsSet:
    asked = SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="whole", size=Size(mm(1120), mm(815))),),
        parts=tuple(SheetPart(id=part, size=INCH_BOARD) for part in parts),
    )
    return SheetAsSet(asked=asked, steps=steps, arm=arm)


@pytest.mark.parametrize(
    ("parts", "steps", "arm", "printed", "set_to"),
    [
        (("17/mount-board",), WHOLE, HALVES, "612 × 774", "612 × 774"),
        (("17/mat-1",), WHOLE, HALVES, "613 × 775", "613 × 775"),
        # of one board: what must enter the rebate decides, since both are cut at one setting
        (("17/mat-1", "17/backing"), WHOLE, HALVES, "612 × 774", "612 × 774"),
        # an arm that can be set to whole millimetres only
        (("17/backing",), HALVES, WHOLE, "612 × 774", "612 × 774"),
        (("17/mat-1",), HALVES, WHOLE, "613 × 775", "613 × 775"),
        # an arm that reads inches: 612.775 and 774.7 mm lie on its scale, and the plan has their check values
        (("17/backing",), WHOLE, THIRTY_SECONDS, "612.8 × 774.7", "24 1/8 × 30 1/2"),
        (("17/backing",), WHOLE, None, "612 × 774", ""),
    ],
)
def test_a_length_cut_of_a_sheet_has_one_figure(
    parts: tuple[str, ...], steps: Steps, arm: Steps | None, printed: str, set_to: str
) -> None:
    as_set = sheet(steps, arm, *parts)
    for part in parts:
        laid = LaidPart(id=part, copy=1, x=ZERO, y=ZERO, size=INCH_BOARD)
        assert show_size(as_set.part(laid), steps.unit) == printed
    width, height = INCH_BOARD.width, INCH_BOARD.height
    guide = Size(as_set.distance(width), as_set.distance(height))
    assert show_size(guide, steps.unit) == printed
    if arm is not None:
        at = Size(as_set.on_arm(width, arm), as_set.on_arm(height, arm))
        assert show_size(at, arm.unit) == set_to


def test_what_is_kept_is_measured_down() -> None:
    assert kept_as_measured(INCH_PIECE, HALVES) == Size(mm("523.5"), mm(676))
    assert kept_as_measured(inches("165/8"), HALVES) == mm("523.5")


@pytest.mark.parametrize(
    ("stock", "unit", "said"),
    [
        (Size(inches(32), inches(40)), Unit.MM, "812.8 × 1016 mm"),
        (Size(inches(32), inches(40)), Unit.IN, '32 × 40"'),
        (mm(3000), Unit.MM, "3000 mm"),
        (mm(3000), Unit.IN, '118 3/32"'),  # 3000 / 25.4 × 32 = 3779.5
        (inches("165/8"), Unit.MM, "523.8 mm"),
        (inches("1321/64"), Unit.IN, '20 41/64"'),
    ],
)
def test_stock_is_told_as_a_rule_shows_it(stock: Length | Size, unit: Unit, said: str) -> None:
    assert say_stock(stock, unit) == said
