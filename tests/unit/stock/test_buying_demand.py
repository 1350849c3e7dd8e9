"""How many whole sticks and sheets open work wants, worked by hand from the piece of tests/builders/worked.

Its rails are 630, 630, 530, 530, of sticks of 3000 with 8.5 lost at each cut: four of them and three
cuts are 2345.5, so one stick holds one frame; two frames are 4640 and want two.
"""

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction

from app.cutting import StickProblem
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import Size, mm
from app.pricing.measure import Measure
from app.stock.buying.demand import (
    in_all,
    odd_on_rack,
    wanted_by_count,
    wanted_by_plan,
    wanted_by_problem,
    whole_opened,
)
from app.stock.buying.to_buy import Demand
from app.stock.items import StockForm
from app.stock.planning.parts import CountedNeed, parts_to_cut
from app.stock.planning.plans import (
    BinAt,
    Booking,
    CuttingPlan,
    NewBooking,
    PlanStage,
    section_of,
)
from app.stock.planning.problems import OnRack, PlanningProblem, problems_of
from tests.builders.in_work import by_code, made, ref, sheet, stick
from tests.builders.worked import BOOK, LABEL, RING, SHOP

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
HARBOUR, HERONS = ref(17), ref(18, number=2)


def problem(code: str, *rack: OnRack, refs: object = (HARBOUR, HERONS)) -> PlanningProblem:
    parts = [part for each in refs for part in parts_to_cut(each, *made())]  # type: ignore[attr-defined]
    (found,) = (
        each
        for each in problems_of(parts, by_code(*BOOK), rack, SHOP)
        if each.material.code == code
    )
    return found


def wanted(question: PlanningProblem) -> Demand:
    return wanted_by_problem(question, whole_opened(question.asked))


def test_two_frames_want_two_sticks() -> None:
    found = wanted(problem("LIN-20"))
    assert (found.material, found.form, found.whole) == ("LIN-20", StockForm.STICK, 2)
    assert found.pieces == (HARBOUR, HERONS)


def test_offcuts_and_odd_sticks_on_the_rack_are_used_before_whole_ones_are_wanted() -> None:
    # 2400 holds a frame of 2345.5; 640 and 640 hold a rail of 630 each
    odd = stick(5, mm(2400), whole=True)
    assert wanted(problem("LIN-20", odd)).whole == 1
    assert odd_on_rack(problem("LIN-20", odd, stick(6, mm(3000), whole=True, available=3))) == 1
    assert odd_on_rack(problem("LIN-20", stick(5, mm(2400)))) == 0  # an offcut is no whole stick


def test_whole_sticks_on_the_rack_are_wanted_too_for_they_are_taken_off_later() -> None:
    assert wanted(problem("LIN-20", stick(6, mm(3000), whole=True, available=9))).whole == 2


def test_sheets_are_wanted_by_what_lies_on_them() -> None:
    # mats of 600 × 500: four fit on 1200 × 1000
    assert wanted(problem("M-101")).whole == 1
    fallout = sheet(7, Size(mm(600), mm(500)))
    other = replace(fallout, kept=replace(fallout.kept, id=8))
    assert wanted(problem("M-101", fallout, other)).whole == 0


def test_what_fits_nowhere_wants_nothing() -> None:
    parts = parts_to_cut(HARBOUR, *made())
    long = [replace(part, length=mm(3100)) for part in parts if part.length]
    (found,) = problems_of(long, by_code(*BOOK), (), SHOP)
    assert wanted(found).whole == 0


def plan_of(found: PlanningProblem) -> CuttingPlan:
    assert isinstance(found.asked, StickProblem)
    return CuttingPlan(
        id=1,
        version=1,
        number="P-2026-0001",
        stage=PlanStage.OPEN,
        made_at=NOW,
        by="",
        sections=(section_of(found, simple_stick_plan(found.asked)),),
    )


def test_an_open_plan_wants_what_was_not_on_the_rack_until_it_is_booked() -> None:
    plan = plan_of(problem("LIN-20", stick(6, mm(3000), whole=True, available=1)))
    (found,) = wanted_by_plan(plan)
    assert (found.material, found.whole, len(found.pieces)) == ("LIN-20", 1, 1)
    entry = NewBooking(bin=BinAt(section=1, bin=2), at=NOW, by="", moved=())
    assert wanted_by_plan(replace(plan, bookings=(Booking(id=1, entry=entry),))) == ()
    assert wanted_by_plan(replace(plan, stage=PlanStage.DROPPED)) == ()


def test_what_is_counted_is_added_up_and_then_rounded_up() -> None:
    # 1.2 m and 1.3 m of wire are 2.5 m: three metres are bought, not two for each
    needs = [
        CountedNeed(piece=HARBOUR, material=RING, quantity=Fraction(2), measure=Measure.EACH),
        CountedNeed(piece=HERONS, material=RING, quantity=Fraction(4), measure=Measure.EACH),
        CountedNeed(piece=HARBOUR, material=LABEL, quantity=Fraction("1.2"), measure=Measure.METRE),
        CountedNeed(piece=HARBOUR, material=LABEL, quantity=Fraction("1.3"), measure=Measure.METRE),
    ]
    rings, labels = wanted_by_count(needs)
    assert (rings.material, rings.whole, rings.pieces) == ("R-1", 6, (HARBOUR, HERONS))
    assert (labels.material, labels.whole, labels.pieces) == ("X-1", 3, (HARBOUR,))


def test_everything_wanted_of_a_material_is_one() -> None:
    one = Demand(material="A", form=StockForm.STICK, whole=2, pieces=(HARBOUR,))
    more = Demand(material="A", form=StockForm.STICK, whole=1, pieces=(HARBOUR, HERONS))
    other = Demand(material="B", form=StockForm.SHEET, whole=4)
    found = in_all((one, other, more))
    assert found["A"] == replace(one, whole=3, pieces=(HARBOUR, HERONS))
    assert found["B"] == other
