"""The plan for sticks: as good as the best known, proven, and whole without the solver."""

from fractions import Fraction

import pytest

from app.cutting import Maker, Stick, StickPart, StickProblem, Together
from app.cutting.checker import faults_of_stick_plan
from app.cutting.sticks.planner import plan_sticks
from app.cutting.sticks.simple import simple_stick_plan
from app.cutting.sticks.solver import Filled, SolverAnswer
from app.lengths import Unit, mm
from tests.cases.sticks import invented_frames, stick_cases


def raises(*_):
    raise RuntimeError("inside the solver")


def late(*_):
    return None


@pytest.mark.parametrize("name", stick_cases())
def test_a_published_case_is_planned_at_its_best_known_cost_and_proven(name):
    # Source: of each case, in cutting.json; u120_00 is OR-Library binpack1, optimum 48.
    case = stick_cases()[name]
    plan = plan_sticks(case.asked, case.seconds)
    assert faults_of_stick_plan(plan) == ()
    assert (plan.cost, plan.lower_bound) == (case.best_known, case.best_known)
    assert plan.proven


@pytest.mark.parametrize("solve", [raises, late])
@pytest.mark.parametrize("name", stick_cases())
def test_without_the_solver_a_published_case_has_a_whole_simple_plan(name, solve):
    case = stick_cases()[name]
    plan = plan_sticks(case.asked, case.seconds, solve=solve)
    assert faults_of_stick_plan(plan) == ()
    assert (plan.maker, plan.unplaced) == (Maker.SIMPLE, ())
    assert case.best_known <= plan.cost <= simple_stick_plan(case.asked).cost


def test_an_answer_that_leaves_parts_out_is_not_taken():
    case = stick_cases()["shop-20-frames"]
    plan = plan_sticks(
        case.asked, 2, solve=lambda question, _: SolverAnswer(filled=(Filled(bar=0, lengths=(1,)),))
    )
    assert (plan.maker, faults_of_stick_plan(plan)) == (Maker.SIMPLE, ())


def test_a_bound_above_what_it_packed_is_cut_to_the_cost():
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(100)),),
        parts=(StickPart(id="A", length=mm(60)),),
    )
    answer = SolverAnswer(filled=(Filled(bar=0, lengths=(3,)),), bound=99)
    assert plan_sticks(asked, 1, solve=lambda *_: answer).lower_bound == 1


def test_only_parts_that_fit_nowhere_make_a_plan_of_no_sticks():
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(100)),),
        parts=(StickPart(id="A", length=mm(101)),),
    )
    plan = plan_sticks(asked, 1)
    assert (plan.bins, plan.cost, plan.lower_bound, plan.proven) == ((), 0, 0, True)
    assert [each.id for each in plan.unplaced] == ["A"]


def test_where_stock_runs_out_as_many_parts_as_fit_are_placed():
    # Longest first takes 60 on the only stick and leaves 50 and 50, which fill it.
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="o", length=mm(100), copies=1, cost=Fraction(0)),),
        parts=(StickPart(id="A", length=mm(60)), StickPart(id="B", length=mm(50), copies=2)),
    )
    plan = plan_sticks(asked, 1)
    assert faults_of_stick_plan(plan) == ()
    assert [(each.id, each.copies, each.code) for each in plan.unplaced] == [
        ("A", 1, "out-of-stock")
    ]


def test_of_plans_of_one_cost_that_with_the_largest_offcut_is_taken():
    # Two sticks are needed for 160 either way. 70 + 30 fill one, the other 60 leaves 40;
    # longest first, 70 + 30 too; 60 + 30 with 70 would leave 10 and 30 only.
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(100)),),
        parts=tuple(StickPart(id=str(long), length=mm(long)) for long in (70, 60, 30)),
        together=Together.NO_MATTER,
    )
    plan = plan_sticks(asked, 1)
    assert max(each.offcut.length for each in plan.bins if each.offcut) == mm(40)


def test_lengths_too_fine_for_the_solver_are_planned_on_a_coarser_grid_and_come_back_exact():
    third = Fraction(1, 3 * 10**9)
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(3000)),),
        parts=(
            StickPart(id="A", length=mm(1000 + third), copies=2),
            StickPart(id="B", length=mm(400 - third), copies=4),
        ),
    )
    plan = plan_sticks(asked, 1)
    assert faults_of_stick_plan(plan) == ()
    assert {rail.length for each in plan.bins for rail in each.parts} == {
        mm(1000 + third),
        mm(400 - third),
    }
    assert plan.cost == 2


@pytest.mark.slow
def test_frames_together_where_preferred_cost_nothing_and_break_up_fewer():
    costs, visits = {}, {}
    for together in Together:
        plan = plan_sticks(invented_frames(20, together=together), 1)
        assert faults_of_stick_plan(plan) == ()
        costs[together], visits[together] = plan.cost, split_frames(plan)
    assert costs[Together.PREFERRED] == costs[Together.NO_MATTER] <= costs[Together.ALWAYS]
    assert visits[Together.NO_MATTER] > visits[Together.PREFERRED] >= visits[Together.ALWAYS] == 0


def split_frames(plan):
    """How many frames are on more than one stick; none of those invented is longer than one."""
    group = {part.id: part.group for part in plan.asked.parts}
    on = [{group[rail.id] for rail in each.parts} for each in plan.bins]
    return sum(sum(each in groups for groups in on) > 1 for each in set(group.values()))
