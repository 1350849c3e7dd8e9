"""Kept cutting plans read back as they were kept, those of older versions too; damaged ones are refused in words."""

import json
import sqlite3
from contextlib import closing
from typing import Any

import pytest

from app.cutting import Plan, SheetPlan, StickPlan
from app.errors import Invalid
from app.lengths import Length, Size, Unit, exact_text
from app.stock.planning.plans import PlanSection
from app.storage import Store
from app.storage.snapshots import SECTIONS
from tests.builders.cutting_plans import SHEET_PLAN, STICK_PLAN
from tests.storage.plan_work import ordered, planned
from tests.storage.test_services_stock import receive


def as_first_written(plan: Plan) -> dict[str, Any]:
    """A plan in the form that plans had of their own: each length as text in the unit of the question,
    sizes as width and height beside the rest, and the kind named."""
    unit = plan.asked.unit

    def plain(value: Any) -> Any:
        match value:
            case Length():
                return exact_text(value, unit)
            case tuple():
                return [plain(each) for each in value]
            case str() | int() | None:
                return value
            case _ if hasattr(value, "numerator"):
                return exact_text(Length(value), Unit.MM)
        found: dict[str, Any] = {}
        for name in value.__dataclass_fields__:
            inner = plain(getattr(value, name))
            found |= inner if name == "size" else {name: inner}
        return found

    kind = "sticks" if isinstance(plan, StickPlan) else "sheets"
    record: dict[str, Any] = plain(plan)
    return {"form": 1, **record, "asked": {"kind": kind, **record["asked"]}}


def old_text(sections: tuple[PlanSection, ...], schema: int) -> str:
    whole = json.loads(SECTIONS.write(sections))
    for written, section in zip(whole["sections"], sections, strict=True):
        written["plan"] = as_first_written(section.plan)
    return json.dumps(whole | {"schema": schema})


def kept_sections(store: Store) -> tuple[PlanSection, ...]:
    ordered(store)
    plan_id = planned(store)
    with store.reading() as work:
        return work.plans.get(plan_id).sections


def test_the_form_of_its_own_was_as_it_is_made_here() -> None:
    """As the first version wrote it, by hand: the numbers are those of the hand-made plan for sticks."""
    record = as_first_written(STICK_PLAN)
    assert record["asked"]["kind"] == "sticks"
    assert record["asked"]["kerf"] == "4"
    assert record["asked"]["stock"][1] == {"id": "o1", "length": "740", "copies": 1, "cost": "0"}
    sheet = as_first_written(SHEET_PLAN)
    assert sheet["asked"]["kind"] == "sheets"
    assert set(sheet["asked"]["stock"][0]) == {"id", "width", "height", "copies", "cost"}


@pytest.mark.parametrize("schema", [1, 2])
def test_a_plan_of_an_older_version_reads_as_it_was_kept(store: Store, schema: int) -> None:
    sections = kept_sections(store)
    assert {type(each.plan) for each in sections} == {StickPlan, SheetPlan}
    assert SECTIONS.read(old_text(sections, schema)) == sections


def test_inches_and_a_smallest_offcut_of_an_older_version_are_exact(store: Store) -> None:
    (section, *_) = (each for each in kept_sections(store) if isinstance(each.plan, SheetPlan))
    whole = json.loads(old_text((section,), 2))
    asked = whole["sections"][0]["plan"]["asked"]
    asked["keep"] = {"width": "200.5", "height": "1/3"}
    read = SECTIONS.read(json.dumps(whole))[0].plan
    assert isinstance(read, SheetPlan)
    assert read.asked.keep == Size(Length.of("200.5", Unit.MM), Length.of("1/3", Unit.MM))
    asked["unit"] = "in"
    inches = SECTIONS.read(json.dumps(whole))[0].plan
    assert isinstance(inches, SheetPlan)
    assert inches.asked.keep == Size(Length.of("200.5", Unit.IN), Length.of("1/3", Unit.IN))


@pytest.mark.parametrize(
    ("place", "junk"),
    [
        (("plan", "form"), 2),
        (("plan", "asked", "kerf"), "wide"),
        (("plan", "asked", "kerff"), "3"),
        (("plan", "asked", "unit"), "ell"),
        (("plan", "bins", 0, "copy"), "first"),
        (("plan", "bins", 0, "parts", 0, "id"), None),
        (("sources",), None),
        (("colour",), "red"),
    ],
)
@pytest.mark.parametrize("old", [True, False])
def test_a_damaged_plan_is_refused_in_words(
    store: Store, place: tuple[str | int, ...], junk: object, old: bool
) -> None:
    sections = kept_sections(store)
    whole = json.loads(old_text(sections, 2) if old else SECTIONS.write(sections))
    within = whole["sections"][0]
    for key in place[:-1]:
        within = within[key]
    within[place[-1]] = junk
    with pytest.raises(Invalid, match="The record cannot be read"):
        SECTIONS.read(json.dumps(whole))


def rewrite(store: Store, plan_id: int, sections: str) -> None:
    """What an older version had written, or damage did: no program of ours changes a plan that is kept."""
    with closing(sqlite3.connect(store.path)) as connection, connection:
        connection.execute("DROP TRIGGER cutting_plans_stay_what_they_are")
        connection.execute(
            "UPDATE cutting_plans SET sections = ? WHERE id = ?", (sections, plan_id)
        )


def test_a_kept_plan_of_an_older_version_is_read_listed_and_holds_its_stock(store: Store) -> None:
    receive(store, 2)
    ordered(store)
    plan_id = planned(store)
    with store.reading() as work:
        plan, listed = work.plans.get(plan_id), work.plan_lists.listed().rows
        free = work.rack.free(["LIN-20"])
    rewrite(store, plan_id, old_text(plan.sections, 2))
    with Store.open(store.path) as opened, opened.reading() as work:
        assert work.plans.get(plan_id) == plan
        assert work.plan_lists.listed().rows == listed
        assert work.rack.free(["LIN-20"]) == free


def test_a_damaged_plan_is_told_and_the_list_of_plans_still_opens(store: Store) -> None:
    ordered(store)
    plan_id = planned(store)
    rewrite(store, plan_id, '{"schema":3,"sections":[{}]}')
    with Store.open(store.path) as opened, opened.reading() as work:
        with pytest.raises(Invalid, match=r"The record cannot be read at 0\.material"):
            work.plans.get(plan_id)
        (line,) = work.plan_lists.listed().rows
        assert (line.id, line.parts > 0) == (plan_id, True)
