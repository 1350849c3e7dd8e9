"""Laws of every plan for sticks, and of its bound against exact references that share no code.

The references are a search through every packing, for a handful of rails, and a mixed-integer
programme solved by HiGHS (https://highs.dev) where that is installed.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.cutting import Maker, Stick, StickPart, StickProblem, Together
from app.cutting.checker import faults_of_stick_plan
from app.cutting.sticks.planner import plan_sticks
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import ZERO, Unit, mm


def _stick(place: int, length: int, copies: int | None, cost: int) -> Stick:
    return Stick(id=f"s{place}", length=mm(length), copies=copies, cost=Fraction(cost))


@st.composite
def questions(draw: st.DrawFn, *, most_parts: int = 8, unlimited: bool = False) -> StickProblem:
    """Small ones, in which rails are long for their sticks, so that it matters who goes where."""
    kinds = draw(
        st.lists(
            st.tuples(
                st.integers(10, 40),
                st.one_of(st.none(), st.integers(1, 2)),
                st.sampled_from([0, 1, 3, 4, 5]),
            ),
            min_size=1,
            max_size=3,
        )
    )
    stock = [_stick(place, *kind) for place, kind in enumerate(kinds)]
    if unlimited:
        stock.append(_stick(len(stock), 40, None, draw(st.integers(1, 7))))
    parts = draw(
        st.lists(
            st.tuples(st.integers(3, 30), st.integers(1, 2), st.sampled_from(["", "F", "G"])),
            min_size=1,
            max_size=most_parts // 2,
        )
    )
    return StickProblem(
        unit=Unit.MM,
        stock=tuple(stock),
        parts=tuple(
            StickPart(id=f"p{place}", length=mm(length), copies=copies, group=group)
            for place, (length, copies, group) in enumerate(parts)
        ),
        kerf=mm(draw(st.integers(0, 3))),
        end_trim=mm(draw(st.integers(0, 2))),
        keep=mm(draw(st.integers(0, 8))),
        together=draw(st.sampled_from(Together)),
    )


def _no_answer(*_: object) -> None:
    return None


@given(questions())
def test_parts_losses_and_what_is_left_make_up_the_stick(asked: StickProblem) -> None:
    for plan in (simple_stick_plan(asked), plan_sticks(asked, 1, solve=_no_answer)):
        assert faults_of_stick_plan(plan) == ()
        lengths = {stick.id: stick.length for stick in asked.stock}
        for each in plan.bins:
            cut = sum((rail.length for rail in each.parts), ZERO)
            gaps = asked.kerf * (len(each.parts) - 1)
            left = asked.usable(next(s for s in asked.stock if s.id == each.stock)) - cut - gaps
            assert left >= ZERO
            assert cut + gaps + left + asked.end_trim * 2 == lengths[each.stock]
            kept = left - asked.kerf
            assert (each.offcut is not None) == (kept > ZERO and kept >= asked.keep)
            assert each.offcut is None or each.offcut.length == kept


@given(questions())
def test_every_part_is_placed_or_told(asked: StickProblem) -> None:
    plan = plan_sticks(asked, 1, solve=_no_answer)
    found = Counter(rail.id for each in plan.bins for rail in each.parts)
    found.update({each.id: each.copies for each in plan.unplaced})
    assert found == {part.id: part.copies for part in asked.parts}


@given(questions(unlimited=True))
@settings(max_examples=60)
def test_the_plan_is_never_dearer_than_the_simple_one_nor_cheaper_than_its_bound(
    asked: StickProblem,
) -> None:
    simple, plan = simple_stick_plan(asked), plan_sticks(asked, 1)
    assert faults_of_stick_plan(plan) == ()
    assert plan.lower_bound <= plan.cost <= simple.cost
    assert plan.unplaced == simple.unplaced == ()


@given(questions(unlimited=True))
@settings(max_examples=60)
def test_frames_together_where_preferred_cost_nothing(asked: StickProblem) -> None:
    costs = [
        plan_sticks(replace(asked, together=each), 1).cost
        for each in (Together.PREFERRED, Together.NO_MATTER)
    ]
    assert costs[0] == costs[1]


@given(questions(unlimited=True))
def test_no_plan_without_the_solver_says_that_it_is_the_solvers(asked: StickProblem) -> None:
    assert plan_sticks(asked, 1, solve=_no_answer).maker is Maker.SIMPLE


@given(questions(most_parts=6, unlimited=True))
@settings(max_examples=60)
def test_the_bound_is_at_most_the_cost_of_the_cheapest_of_all_packings(
    asked: StickProblem,
) -> None:
    asked = replace(asked, together=Together.NO_MATTER)
    least = cheapest_of_all(asked)
    assert simple_stick_plan(asked).lower_bound <= least
    plan = plan_sticks(asked, 1)
    assert plan.lower_bound <= least <= plan.cost


@given(questions(most_parts=6, unlimited=True))
@settings(max_examples=60)
def test_where_frames_must_be_together_the_bound_is_below_every_plan_that_keeps_them_so(
    asked: StickProblem,
) -> None:
    asked = replace(asked, together=Together.ALWAYS)
    assert simple_stick_plan(asked).lower_bound <= cheapest_of_all(asked, whole=True)


@pytest.mark.slow
@given(questions(most_parts=16, unlimited=True))
@settings(max_examples=25)
def test_the_bound_is_at_most_the_optimum_of_an_integer_programme(asked: StickProblem) -> None:
    pytest.importorskip("highspy")
    asked = replace(asked, together=Together.NO_MATTER)
    least = optimum(asked)
    plan = plan_sticks(asked, 1)
    assert plan.lower_bound <= least <= plan.cost
    assert simple_stick_plan(asked).lower_bound <= least


def _bars(asked: StickProblem) -> list[tuple[int, int, int]]:
    """Room, copies and cost of each kind; what a rail takes is its length and one kerf."""
    count = sum(part.copies for part in asked.parts)
    return [
        (
            int((asked.usable(stick) + asked.kerf).mm),
            min(count, count if stick.copies is None else stick.copies),
            int(stick.cost),
        )
        for stick in asked.stock
    ]


def _rails(asked: StickProblem) -> list[tuple[int, str]]:
    return [
        (int((part.length + asked.kerf).mm), part.group)
        for part in asked.parts
        for _ in range(part.copies)
    ]


def cheapest_of_all(asked: StickProblem, *, whole: bool = False) -> int:
    """The least cost over every way to part the rails into sets and to give each set a bar.

    whole: a frame that fits the longest bar of which there are enough is one set or part of one.
    """
    rails = _rails(asked)
    bars = _bars(asked)
    if whole:
        rails = _frames_as_one(rails, max(room for room, copies, _ in bars if copies == len(rails)))
    lengths = tuple(length for length, _ in rails)

    @cache
    def best(left: tuple[int, ...], copies: tuple[int, ...]) -> float:
        if not left:
            return 0
        first, *rest = left
        return min(
            (
                bars[bar][2] + best(others, _one_less(copies, bar))
                for mates, others in _subsets(tuple(rest))
                for bar, count in enumerate(copies)
                if count and first + sum(mates) <= bars[bar][0]
            ),
            default=float("inf"),
        )

    return int(best(tuple(sorted(lengths, reverse=True)), tuple(copies for _, copies, _ in bars)))


def _frames_as_one(rails: list[tuple[int, str]], room: int) -> list[tuple[int, str]]:
    totals: Counter[str] = Counter()
    for length, group in rails:
        totals[group] += length
    one = [group for group, total in totals.items() if group and total <= room]
    return [(length, group) for length, group in rails if group not in one] + [
        (totals[group], group) for group in one
    ]


def _one_less(copies: tuple[int, ...], bar: int) -> tuple[int, ...]:
    return tuple(count - (place == bar) for place, count in enumerate(copies))


def _subsets(lengths: tuple[int, ...]) -> set[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Every choice of lengths with those that are not chosen."""
    if not lengths:
        return {((), ())}
    first, *rest = lengths
    smaller = _subsets(tuple(rest))
    return {((first, *mates), others) for mates, others in smaller} | {
        (mates, (first, *others)) for mates, others in smaller
    }


def optimum(asked: StickProblem) -> int:
    """The least cost by a mixed-integer programme: each rail on one stick, sticks not overfull."""
    import highspy  # noqa: PLC0415 - only where it is installed

    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("mip_rel_gap", 0.0)
    rails = [length for length, _ in _rails(asked)]
    sticks = [
        (room, cost) for room, copies, cost in _bars(asked) if room > 0 for _ in range(copies)
    ]
    opened = [model.addBinary() for _ in sticks]
    on = [[model.addBinary() for _ in sticks] for _ in rails]
    for row in on:
        model.addConstr(model.qsum(row) == 1)
    for place, (room, _) in enumerate(sticks):
        load = model.qsum(length * row[place] for length, row in zip(rails, on, strict=True))
        model.addConstr(load <= room * opened[place])
    model.minimize(model.qsum(cost * each for (_, cost), each in zip(sticks, opened, strict=True)))
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return round(model.getInfo().objective_function_value)
