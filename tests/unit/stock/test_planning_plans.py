"""A kept plan as a value: what it is made of, what stands of its record, where its stock comes from."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

import pytest

from app.cutting import LaidRail, Maker, OpenedStick, StickPlan, StickProblem
from app.errors import Conflict, Invalid, NotFound
from app.lengths import mm
from app.stock.planning.parts import parts_to_cut
from app.stock.planning.plans import (
    BinAt,
    Booking,
    CuttingPlan,
    MarkKind,
    NewBooking,
    PartMark,
    PlanStage,
    allocated,
    check_bookable,
    held_parts,
    reserved_by,
    section_of,
    standing,
    unbooked,
)
from app.stock.planning.problems import PlanningProblem, problems_of
from tests.builders.in_work import REF, by_code, made, stick
from tests.builders.worked import BOOK, MOULDING, SHOP

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
RAILS = [part for part in parts_to_cut(REF, *made()) if part.material.code == "LIN-20"]
RACK = (stick(4, mm(700)), stick(6, mm(3000), whole=True), stick(9, mm(3000), whole=True))
ONE, TWO, THREE = (BinAt(section=1, bin=number) for number in (1, 2, 3))


def problem() -> PlanningProblem:
    (found,) = problems_of(RAILS, by_code(*BOOK), RACK, SHOP)
    return found


def plan_of(*loads: tuple[str, tuple[str, ...]]) -> StickPlan:
    """loads: (stock, keys of the rails on it); every rail at the left end, since places do not matter."""
    asked = problem().asked
    assert isinstance(asked, StickProblem)
    lengths = {part.id: part.length for part in asked.parts}
    bins = tuple(
        OpenedStick(
            stock=stock,
            copy=1,
            parts=tuple(
                LaidRail(id=id, copy=1, at=mm(0), length=lengths[id])
                for id in (f"17/frame-1.{key}" for key in keys)
            ),
        )
        for stock, keys in loads
    )
    return StickPlan(
        asked=asked, bins=bins, unplaced=(), lower_bound=Fraction(1), maker=Maker.SIMPLE
    )


def kept(stage: PlanStage = PlanStage.OPEN) -> CuttingPlan:
    made_of = plan_of(("item-4", ("top",)), ("whole", ("bottom", "left")), ("whole", ("right",)))
    return CuttingPlan(
        id=1,
        version=1,
        number="P-2026-0001",
        stage=stage,
        made_at=NOW,
        by="Ilse",
        sections=(section_of(problem(), made_of),),
    )


def booking(id: int, at: BinAt, takes_back: int | None = None) -> Booking:
    entry = NewBooking(
        bin=at, at=NOW + timedelta(minutes=id), by="Ilse", moved=(), takes_back=takes_back
    )
    return Booking(id=id, entry=entry)


def marked(part: str, mark: MarkKind = MarkKind.CUT, *, stands: bool = True) -> PartMark:
    return PartMark(part=part, mark=mark, standing=stands, at=NOW, by="Ilse")


def test_stock_is_allocated_the_oldest_first_and_the_rest_is_to_buy() -> None:
    loads = [("item-4", ("top",)), *(("whole", (key,)) for key in ("bottom", "left", "right"))]
    plan = plan_of(*loads)
    assert allocated(plan, MOULDING, RACK) == (4, 6, 9, None)


def test_an_item_that_is_no_longer_free_is_not_allocated() -> None:
    plan = plan_of(("item-4", ("top",)))
    with pytest.raises(Conflict, match="is gone"):
        allocated(plan, MOULDING, RACK[1:])
    taken = replace(RACK[0], available=0)
    with pytest.raises(Conflict, match="is gone"):
        allocated(plan, MOULDING, (taken, *RACK[1:]))


def test_a_section_has_the_parts_that_lie_in_it_and_a_source_for_each_stick() -> None:
    section = section_of(problem(), plan_of(("whole", ("top", "left"))))
    assert [part.key for part in section.parts] == ["frame-1.top", "frame-1.left"]
    assert [part.what for part in section.parts] == ["LIN-20 630", "LIN-20 530"]
    assert section.to_buy == 0
    with pytest.raises(Invalid):
        replace(section, sources=())
    with pytest.raises(Invalid):
        replace(section, parts=section.parts[:1])
    with pytest.raises(NotFound):
        section.part("17/mat-1")


def test_an_open_plan_reserves_what_it_has_not_booked() -> None:
    plan = kept()
    assert unbooked(plan) == (ONE, TWO, THREE)
    assert reserved_by(plan) == {4: 1, 6: 1, 9: 1}
    plan = replace(plan, bookings=(booking(1, TWO),))
    assert reserved_by(plan) == {4: 1, 9: 1}
    assert [part.key for part in held_parts(plan)] == ["frame-1.top", "frame-1.right"]


@pytest.mark.parametrize("stage", [PlanStage.DONE, PlanStage.DROPPED])
def test_a_plan_that_is_not_open_holds_and_reserves_nothing(stage: PlanStage) -> None:
    assert (unbooked(kept(stage)), held_parts(kept(stage))) == ((), ())
    assert not reserved_by(kept(stage))


def test_a_booking_taken_back_does_not_stand_and_one_made_again_does() -> None:
    record: tuple[Booking, ...] = (booking(1, ONE), booking(2, TWO), booking(3, ONE, takes_back=1))
    assert set(standing(replace(kept(), bookings=record)).booked) == {TWO}
    record = (*record, booking(4, ONE))
    assert standing(replace(kept(), bookings=record)).booked[ONE].id == 4


def test_marks_taken_back_do_not_stand() -> None:
    top, left = "17/frame-1.top", "17/frame-1.left"
    marks = (
        marked(top),
        marked(left),
        marked(top, stands=False),
        marked(top, MarkKind.SPOILED),
    )
    now = standing(replace(kept(), marks=marks))
    assert set(now.ticked) == {left}
    assert set(now.spoiled) == {top}


def test_a_spoiled_part_is_no_longer_held() -> None:
    plan = replace(kept(), marks=(marked("17/frame-1.top", MarkKind.SPOILED),))
    assert "frame-1.top" not in [part.key for part in held_parts(plan)]
    assert ONE in unbooked(plan)  # the stick is still to be booked


def test_only_what_an_open_plan_has_not_booked_may_be_booked() -> None:
    check_bookable(kept(), ONE)
    with pytest.raises(Conflict, match="was deleted"):
        check_bookable(kept(PlanStage.DROPPED), ONE)
    with pytest.raises(Conflict, match="booked already by Ilse"):
        check_bookable(replace(kept(), bookings=(booking(1, ONE),)), ONE)
    with pytest.raises(NotFound):
        check_bookable(kept(), BinAt(section=1, bin=4))


def test_a_part_is_found_where_it_lies() -> None:
    assert kept().bin_of("17/frame-1.left") == TWO
    assert [part.key for part in kept().parts_in(TWO)] == ["frame-1.bottom", "frame-1.left"]
    with pytest.raises(NotFound):
        kept().bin_of("17/mat-1")
