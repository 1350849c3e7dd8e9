"""What is written of a cutting question or plan reads back the same; anything else is refused."""

import copy
import json
from contextlib import suppress
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.cutting import SheetPlan, StickPlan, StickProblem, Together
from app.cutting.records import asked_record, plan_record, read_asked, read_plan
from app.errors import Invalid
from tests.property.cutting_plans import sheet_plans, stick_plans

PLANS = st.one_of(stick_plans(), sheet_plans())


def through_text(record: dict[str, Any]) -> Any:
    return json.loads(json.dumps(record))


@given(PLANS)
def test_a_plan_reads_back_as_it_was_written(plan: StickPlan | SheetPlan) -> None:
    assert read_plan(through_text(plan_record(plan))) == plan


@given(PLANS)
def test_a_question_reads_back_as_it_was_written(plan: StickPlan | SheetPlan) -> None:
    assert read_asked(through_text(asked_record(plan.asked))) == plan.asked


@given(stick_plans(), st.sampled_from(Together), st.fractions(min_value=0))
def test_choices_and_odd_numbers_are_kept(plan: StickPlan, together: Together, cost: Fraction):
    stock = tuple(
        type(each)(id=each.id, length=each.length / 3, copies=each.copies, cost=cost)
        for each in plan.asked.stock
    )
    asked = StickProblem(
        unit=plan.asked.unit, stock=stock, parts=plan.asked.parts, together=together
    )
    assert read_asked(through_text(asked_record(asked))) == asked


JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.floats(),
    st.just([]),
    st.just({}),
    st.sampled_from(("", "1e5", "x")),
)


@given(PLANS, st.randoms(use_true_random=False), JUNK)
def test_a_record_with_something_else_in_it_is_refused_or_still_one(
    plan: StickPlan | SheetPlan, chance: Random, junk: object
) -> None:
    """Whatever stands in the place of one value: either it is refused in words, or what is read writes
    and reads back the same; nothing else is raised."""
    record = copy.deepcopy(plan_record(plan))
    within: Any = record
    while True:
        key = chance.choice(list(within) if isinstance(within, dict) else range(len(within)))
        inner = within[key]
        if not inner or not isinstance(inner, dict | list) or chance.random() < 0.2:
            break
        within = inner
    within[key] = junk
    with suppress(Invalid):
        read = read_plan(record)
        assert read_plan(through_text(plan_record(read))) == read


@pytest.mark.parametrize("junk", [None, 3, "plan", [], {}, {"form": 2}])
def test_what_is_no_record_is_refused(junk: object) -> None:
    with pytest.raises(Invalid, match="The record cannot be read"):
        read_plan(junk)
