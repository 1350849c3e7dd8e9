"""What a fillet costs, worked by hand: its rails by the metre (P2) and its work by the window (P5)."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import Arrangement, Fillet, Opening, Spec, work_out
from app.lengths import mm
from app.pricing import (
    Charge,
    ChargeBy,
    Chosen,
    Kind,
    LineGroup,
    Material,
    PiecePrice,
    Selling,
    SizeBand,
    When,
    price_piece,
)
from tests.builders.values import euro, size
from tests.builders.watercolour import WATERCOLOUR, chosen, extra, moulding, rules

STRIP = Fillet(face=mm(10), lip=mm(4), tuck=mm(4), thickness=mm(3))
LINED = replace(WATERCOLOUR, fillet=STRIP)
"""Innermost window 410 × 287, so 418 × 295 outside the fillet."""


def strip(**changes: object) -> Material:
    return moulding(code="F10", name="Gilt fillet", **changes)


def priced(spec: Spec = LINED) -> PiecePrice:
    return price_piece(work_out(spec), chosen(fillet=strip()), rules())


def test_its_rails_are_charged_with_the_loss_at_the_saw() -> None:
    """2 × 418 + 2 × 295 = 1426, 4 × 8.5 = 34: 1.46 m × 14.20 = 20.732; cost 1.46 × 5.00 = 7.30."""
    (line,) = (line for line in priced().lines if line.group is LineGroup.FILLET)
    assert (line.code, line.part) == ("F10", "fillet")
    assert (line.quantity, line.amount, line.cost) == (
        Fraction(146, 100),
        euro("20.73"),
        euro("7.30"),
    )
    assert "Lost at the saw: 4 × 8.5 mm = 34 mm." in line.why


def test_its_line_stands_behind_the_mats() -> None:
    groups = [line.group for line in priced().lines]
    assert groups[2:4] == [LineGroup.MATS, LineGroup.FILLET]


def test_the_rails_of_several_windows_are_one_line() -> None:
    """100 × 150 in three windows: 3 × 2 × (98 + 148) = 1476, 12 × 8.5 = 102: 1.578 m × 14.20 = 22.4076.
    Windows 90 × 140 (overlap 5), outside 98 × 148.
    """
    openings = tuple(Opening(name=name, artwork=size(100, 150)) for name in "ABC")
    spec = replace(LINED, openings=openings, arrangement=Arrangement(rows=(3,), across=mm(40)))
    (line,) = (line for line in priced(spec).lines if line.group is LineGroup.FILLET)
    assert line.quantity == Fraction(1578, 1000)
    assert line.amount == euro("22.41")
    assert line.why[0].startswith("6 × 148 mm + 6 × 98 mm = 1476 mm")


def test_its_work_is_done_once_for_each_window() -> None:
    """8 min each by the table that ships; three windows also hinge and cut more."""
    shipped = {each.when: each for each in rules().operations}[When.FILLET]
    assert shipped.fixed == 8
    plain = price_piece(work_out(WATERCOLOUR), chosen(), rules())
    assert priced().minutes - plain.minutes == 8
    openings = tuple(Opening(name=name, artwork=size(100, 150)) for name in "ABC")
    three = replace(LINED, openings=openings, arrangement=Arrangement(rows=(3,), across=mm(40)))
    without = price_piece(work_out(replace(three, fillet=None)), chosen(), rules())
    assert priced(three).minutes - without.minutes == 24


def test_a_fillet_and_its_material_come_together() -> None:
    with pytest.raises(Invalid) as none_chosen:
        price_piece(work_out(LINED), chosen(), rules())
    assert [fault.path for fault in none_chosen.value.faults] == ["fillet"]
    with pytest.raises(Invalid) as not_there:
        price_piece(work_out(WATERCOLOUR), chosen(fillet=strip()), rules())
    (fault,) = not_there.value.faults
    assert fault.path == "fillet"
    assert "F10 is chosen" in fault.message


@pytest.mark.parametrize(
    "wrong",
    [
        extra(),
        strip(
            charge=Charge(
                by=ChargeBy.SIZE_BAND, bands=(SizeBand(up_to=mm(900), price=euro("9.00")),)
            ),
            selling=Selling(),
        ),
    ],
    ids=["an extra", "by size band"],
)
def test_a_fillet_is_a_moulding_charged_by_length(wrong: Material) -> None:
    with pytest.raises(Invalid) as refused:
        Chosen(fillet=wrong)
    (fault,) = refused.value.faults
    assert fault.path == "fillet"
    assert "a fillet is a moulding charged by length" in fault.message
    assert Chosen(fillet=strip()).materials() == (("fillet", strip()),)
    assert strip().kind is Kind.MOULDING
