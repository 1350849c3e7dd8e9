"""Parts of a plan as they are printed. Inches in millimetres by L1: 20 5/8 in = 523.875 mm, 26 5/8 in = 676.275 mm."""

import pytest

from app.lengths import Length, Size, Steps, Unit, inches, mm, show_size
from app.stock.planning.as_set import kept_as_measured, say_as_set, say_stock, size_as_set

HALVES = Steps(unit=Unit.MM, step=mm("0.5"))
SIXTEENTHS = Steps(unit=Unit.IN, step=inches("1/16"))
INCH_PIECE = Size(inches("165/8"), inches("213/8"))


@pytest.mark.parametrize(
    ("size", "steps", "set_to"),
    [
        # one size for every part of a package, whatever it is, to a tenth of a millimetre
        (INCH_PIECE, HALVES, "523.9 × 676.3"),
        (INCH_PIECE, SIXTEENTHS, "20 5/8 × 26 5/8"),
        (Size(mm("479.5"), mm(300)), HALVES, "479.5 × 300"),
        # 479 / 25.4 × 64 = 1206.9; 508 mm are 20 in
        (Size(mm(479), mm(508)), SIXTEENTHS, "18 55/64 × 20"),
    ],
)
def test_a_part_has_the_size_of_its_ticket_as_the_scale_reads_it(
    size: Size, steps: Steps, set_to: str
) -> None:
    assert show_size(size_as_set(size, steps), steps.unit) == set_to


def test_the_exact_size_stands_beside_in_its_own_unit() -> None:
    assert say_as_set(INCH_PIECE, HALVES) == '523.9 × 676.3 mm (20 5/8 × 26 5/8")'
    assert say_as_set(inches("151/8"), HALVES) == '479.4 mm (18 7/8")'  # 479.425
    assert say_as_set(mm(479), HALVES) == "479 mm"
    assert say_as_set(mm(479), SIXTEENTHS) == '18 55/64" (479 mm)'


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
