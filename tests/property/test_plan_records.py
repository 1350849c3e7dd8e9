"""What is written of a cutting question or plan reads back the same; anything else is refused."""

import json
from contextlib import suppress
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.cutting import SheetPlan, StickPlan, StickProblem, Together
from app.errors import Invalid
from app.services.cutting_messages import ANSWER, JOB, SolverJob
from tests.builders.cutting_plans import STICK_PLAN
from tests.property.cutting_plans import sheet_plans, stick_plans

PLANS = st.one_of(stick_plans(), sheet_plans())


@given(PLANS)
def test_a_plan_reads_back_as_it_was_written(plan: StickPlan | SheetPlan) -> None:
    read = ANSWER.read(ANSWER.write(plan))
    assert read == plan
    assert type(read) is type(plan)


@given(PLANS)
def test_a_question_reads_back_as_it_was_written(plan: StickPlan | SheetPlan) -> None:
    job = SolverJob(asked=plan.asked, seconds=2)
    assert JOB.read(JOB.write(job)) == job


@given(stick_plans(), st.sampled_from(Together), st.fractions(min_value=0))
def test_choices_and_odd_numbers_are_kept(plan: StickPlan, together: Together, cost: Fraction):
    stock = tuple(
        type(each)(id=each.id, length=each.length / 3, copies=each.copies, cost=cost)
        for each in plan.asked.stock
    )
    asked = StickProblem(
        unit=plan.asked.unit, stock=stock, parts=plan.asked.parts, together=together
    )
    job = SolverJob(asked=asked, seconds=2)
    assert JOB.read(JOB.write(job)) == job


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
    record = json.loads(ANSWER.write(plan))
    within, key = somewhere_in(record, chance)
    within[key] = junk
    with suppress(Invalid):
        read = ANSWER.read(json.dumps(record))
        assert ANSWER.read(ANSWER.write(read)) == read


@given(PLANS, st.randoms(use_true_random=False))
def test_a_misspelt_name_is_refused_wherever_it_stands(
    plan: StickPlan | SheetPlan, chance: Random
) -> None:
    """Were it passed over, the field that was meant would silently take its default."""
    record = json.loads(ANSWER.write(plan))
    within, key = somewhere_in(record, chance)
    while not isinstance(within, dict):
        within, key = somewhere_in(record, chance)
    within[f"{key}s"] = within.pop(key)
    with pytest.raises(Invalid, match="The record cannot be read"):
        ANSWER.read(json.dumps(record))


def somewhere_in(record: Any, chance: Random) -> tuple[Any, Any]:
    """An object or a list somewhere in a record, and the key of one of its values."""
    while True:
        key = chance.choice(list(record) if isinstance(record, dict) else range(len(record)))
        inner = record[key]
        if not inner or not isinstance(inner, dict | list) or chance.random() < 0.2:
            return record, key
        record = inner


@pytest.mark.parametrize("junk", ["", "null", "3", '"plan"', "[]", "{}", '{"schema":9,"plan":{}}'])
def test_what_is_no_record_is_refused(junk: str) -> None:
    with pytest.raises(Invalid, match="The record cannot be read"):
        ANSWER.read(junk)


@pytest.mark.parametrize("more", [',"noted":1}', ',{"bins":[]}}', "}}", "]"])
def test_a_record_with_more_behind_it_is_refused(more: str) -> None:
    whole = ANSWER.write(STICK_PLAN)
    with pytest.raises(Invalid, match="The record cannot be read"):
        ANSWER.read(whole.removesuffix("}") + more)
