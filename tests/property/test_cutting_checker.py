"""The checker finds nothing wrong with any true plan, and something with every damaged one (C4)."""

from itertools import combinations

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from app.cutting import SheetPlan, StickPlan
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.cutting.checker.places import NamedPlace, too_close
from app.lengths import Length, mm
from tests.property.cutting_damage import SHEET_DAMAGES, STICK_DAMAGES
from tests.property.cutting_plans import sheet_plans, stick_plans

DAMAGING = settings(
    max_examples=min(40, settings().max_examples), suppress_health_check=list(HealthCheck)
)


@given(stick_plans())
def test_a_true_plan_for_sticks_has_no_fault(plan: StickPlan) -> None:
    assert faults_of_stick_plan(plan) == ()


@given(sheet_plans())
def test_a_true_plan_for_sheets_has_no_fault(plan: SheetPlan) -> None:
    assert faults_of_sheet_plan(plan) == ()


@pytest.mark.parametrize("name", STICK_DAMAGES)
@DAMAGING
@given(plan=stick_plans(), chance=st.randoms(use_true_random=False))
def test_every_damage_to_a_plan_for_sticks_is_caught(name, plan, chance) -> None:
    damaged = STICK_DAMAGES[name](plan, chance)
    assume(damaged is not None)
    assert faults_of_stick_plan(damaged) != ()


@pytest.mark.parametrize("name", SHEET_DAMAGES)
@DAMAGING
@given(plan=sheet_plans(), chance=st.randoms(use_true_random=False))
def test_every_damage_to_a_plan_for_sheets_is_caught(name, plan, chance) -> None:
    damaged = SHEET_DAMAGES[name](plan, chance)
    assume(damaged is not None)
    assert faults_of_sheet_plan(damaged) != ()


def _places(corners: list[tuple[int, int, int, int]]) -> list[NamedPlace]:
    def at(steps: int) -> Length:
        return mm(steps)

    return [
        NamedPlace(name=str(i), left=at(x), top=at(y), right=at(x + w), bottom=at(y + h))
        for i, (x, y, w, h) in enumerate(corners)
    ]


@given(
    st.lists(
        st.tuples(*[st.integers(0, 30)] * 2, *[st.integers(1, 9)] * 2), min_size=2, max_size=14
    ),
    st.sampled_from((0, 2)),
)
def test_what_is_too_close_is_so_by_another_library_too(corners, kerf) -> None:
    """Shapely: rectangles grown by half a kerf on each side share an area exactly where no kerf goes
    between them. Its figures are binary, but small whole and half numbers are exact in them."""
    found = {(one.name, other.name) for one, other in too_close(_places(corners), mm(kerf))}
    grown = [box(x, y, x + w, y + h).buffer(kerf / 2, join_style="mitre") for x, y, w, h in corners]
    close = {
        (str(i), str(j))
        for (i, one), (j, other) in combinations(enumerate(grown), 2)
        if one.intersection(other).area > 0
    }
    assert {tuple(sorted(pair, key=int)) for pair in found} <= close
    assert bool(found) == bool(close)


@given(sheet_plans())
def test_parts_and_offcuts_of_a_true_plan_share_no_area(plan: SheetPlan) -> None:
    """The generator held to Shapely, so that what the checker is fed as true is so."""
    for opened in plan.bins:
        boxes = [
            box(*(float(n.mm) for n in (e.x, e.y, e.x + e.size.width, e.y + e.size.height)))
            for e in (*opened.parts, *opened.offcuts)
        ]
        assert all(a.intersection(b).area < 1e-6 for a, b in combinations(boxes, 2))
