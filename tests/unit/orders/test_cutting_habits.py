"""How a shop cuts up its stock: bounds, and what holds until it says otherwise."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest

from app.cutting import Together
from app.errors import Invalid
from app.lengths import ZERO, Unit, inches, mm
from app.orders import CuttingHabits, usual_shop
from app.storage.snapshots import SHOP


def test_three_stages_and_round_figures_of_the_unit_are_usual() -> None:
    metric, imperial = (usual_shop("Sedge", unit, "EUR", Fraction(0)) for unit in Unit)
    assert metric.cutting == CuttingHabits(
        end_trim=ZERO, sheet_trim=ZERO, keep_length=mm(300), stages=3, together=Together.PREFERRED
    )
    assert imperial.cutting.keep_length == inches(12)


def test_settings_from_before_there_were_plans_read_with_what_is_usual() -> None:
    shop = usual_shop("Sedge", Unit.IN, "USD", Fraction(0))
    old = json.loads(SHOP.write(shop))
    del old["shop"]["cutting_habits"]
    assert SHOP.read(json.dumps(old)) == shop
    assert SHOP.read(json.dumps(old)).cutting == CuttingHabits.usual(Unit.IN)


def test_habits_of_ones_own_read_back() -> None:
    habits = CuttingHabits(end_trim=inches("3/8"), stages=2, together=Together.ALWAYS)
    shop = replace(usual_shop("Sedge", Unit.IN, "USD", Fraction(0)), cutting_habits=habits)
    assert SHOP.read(SHOP.write(shop)).cutting == habits


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(Invalid) as caught:
        CuttingHabits(end_trim=mm(501), sheet_trim=mm(-1), keep_length=mm(-1), stages=6)
    assert [fault.path for fault in caught.value.faults] == [
        "end_trim",
        "sheet_trim",
        "keep_length",
        "stages",
    ]
    assert "6 stages; 2, 3, 4, 5 are allowed" in caught.value.faults[-1].message
