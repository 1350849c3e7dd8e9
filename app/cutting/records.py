"""Questions and plans as plain JSON values that are read back years later, exact to the last digit.

Owns their form: lengths as exact text in the unit of the question, other numbers likewise. It reads
only what it writes; whatever else is found is refused with its path. The proof of a plan that was
read is for `checker`.
"""

from typing import Any

from app.cutting.plan import (
    Cut,
    LaidPart,
    LaidRail,
    Maker,
    OpenedSheet,
    OpenedStick,
    SheetPlan,
    SheetRest,
    StickPlan,
    StickRest,
    Unplaced,
    Way,
)
from app.cutting.problem import (
    Sheet,
    SheetPart,
    SheetProblem,
    Stick,
    StickPart,
    StickProblem,
    Together,
)
from app.cutting.record_values import Found, RecordWriter, number_text
from app.lengths import Unit

FORM = 1
"""The form written now; it goes up when a field changes its name or meaning."""

type Record = dict[str, Any]
type Asked = StickProblem | SheetProblem
type Plan = StickPlan | SheetPlan


def asked_record(asked: Asked) -> Record:
    """A question as JSON values; every field, those at their default too."""
    write = RecordWriter(asked.unit)
    if isinstance(asked, StickProblem):
        return {
            "kind": "sticks",
            "unit": asked.unit.value,
            **write.lengths(kerf=asked.kerf, end_trim=asked.end_trim, keep=asked.keep),
            "together": asked.together.value,
            "stock": [
                {"id": each.id, **write.lengths(length=each.length), **_offered(each)}
                for each in asked.stock
            ],
            "parts": [
                {"id": each.id, **write.lengths(length=each.length), **_wanted(each)}
                for each in asked.parts
            ],
        }
    return {
        "kind": "sheets",
        "unit": asked.unit.value,
        **write.lengths(kerf=asked.kerf, trim=asked.trim),
        "stages": asked.stages,
        "keep": None if asked.keep is None else write.size(asked.keep),
        "stock": [
            {"id": each.id, **write.size(each.size), **_offered(each)} for each in asked.stock
        ],
        "parts": [
            {"id": each.id, **write.size(each.size), **_wanted(each), "turn": each.turn}
            for each in asked.parts
        ],
    }


def _offered(stock: Stick | Sheet) -> Record:
    return {"copies": stock.copies, "cost": number_text(stock.cost)}


def _wanted(part: StickPart | SheetPart) -> Record:
    return {"copies": part.copies, "group": part.group}


def plan_record(plan: Plan) -> Record:
    """A plan with its question as JSON values."""
    write = RecordWriter(plan.asked.unit)
    bins = [
        _stick_record(each, write) if isinstance(each, OpenedStick) else _sheet_record(each, write)
        for each in plan.bins
    ]
    return {
        "form": FORM,
        "asked": asked_record(plan.asked),
        "bins": bins,
        "unplaced": [
            {"id": each.id, "copies": each.copies, "code": each.code, "reason": each.reason}
            for each in plan.unplaced
        ],
        "lower_bound": number_text(plan.lower_bound),
        "maker": plan.maker.value,
    }


def _stick_record(opened: OpenedStick, write: RecordWriter) -> Record:
    rest = opened.offcut
    return {
        "stock": opened.stock,
        "copy": opened.copy,
        "parts": [
            {"id": each.id, "copy": each.copy, **write.lengths(at=each.at, length=each.length)}
            for each in opened.parts
        ],
        "offcut": None if rest is None else write.lengths(at=rest.at, length=rest.length),
    }


def _sheet_record(opened: OpenedSheet, write: RecordWriter) -> Record:
    return {
        "stock": opened.stock,
        "copy": opened.copy,
        "cuts": [
            {
                "stage": each.stage,
                "way": each.way.value,
                **write.lengths(at=each.at, start=each.start, end=each.end),
            }
            for each in opened.cuts
        ],
        "parts": [
            {
                "id": each.id,
                "copy": each.copy,
                **write.lengths(x=each.x, y=each.y),
                **write.size(each.size),
                "turned": each.turned,
            }
            for each in opened.parts
        ],
        "offcuts": [
            {**write.lengths(x=each.x, y=each.y), **write.size(each.size)}
            for each in opened.offcuts
        ],
    }


def read_asked(record: object) -> Asked:
    """The question of a record. Raises: Invalid where it is none, or asks for what cannot be."""
    found = Found.of(record)
    found = found.with_unit(Unit(found.choice("unit", Unit)))
    if found.choice("kind", ("sticks", "sheets")) == "sticks":
        return _sticks_asked(found)
    return _sheets_asked(found)


def _sticks_asked(found: Found) -> StickProblem:
    return StickProblem(
        unit=found.unit,
        stock=tuple(
            Stick(
                id=each.text("id"),
                length=each.length("length"),
                copies=each.optional_whole("copies"),
                cost=each.number("cost"),
            )
            for each in found.each("stock")
        ),
        parts=tuple(
            StickPart(
                id=each.text("id"),
                length=each.length("length"),
                copies=each.whole("copies"),
                group=each.text("group"),
            )
            for each in found.each("parts")
        ),
        kerf=found.length("kerf"),
        end_trim=found.length("end_trim"),
        keep=found.length("keep"),
        together=Together(found.choice("together", Together)),
    )


def _sheets_asked(found: Found) -> SheetProblem:
    keep = found.optional("keep")
    return SheetProblem(
        unit=found.unit,
        stock=tuple(
            Sheet(
                id=each.text("id"),
                size=each.size(),
                copies=each.optional_whole("copies"),
                cost=each.number("cost"),
            )
            for each in found.each("stock")
        ),
        parts=tuple(
            SheetPart(
                id=each.text("id"),
                size=each.size(),
                copies=each.whole("copies"),
                turn=each.flag("turn"),
                group=each.text("group"),
            )
            for each in found.each("parts")
        ),
        kerf=found.length("kerf"),
        trim=found.length("trim"),
        stages=found.optional_whole("stages"),
        keep=None if keep is None else keep.size(),
    )


def read_plan(record: object) -> Plan:
    """The plan of a record, with its question.

    Raises: Invalid where it is none, is of a newer form, or asks for what cannot be.
    """
    found = Found.of(record)
    if found.whole("form") > FORM:
        found.refuse("form", f"is newer than {FORM}, the newest that this program reads")
    asked = read_asked(found.value("asked"))
    found = found.with_unit(asked.unit)
    unplaced = tuple(
        Unplaced(
            id=each.text("id"),
            copies=each.whole("copies"),
            code=each.text("code"),
            reason=each.text("reason"),
        )
        for each in found.each("unplaced")
    )
    bound, maker = found.number("lower_bound"), Maker(found.choice("maker", Maker))
    bins = found.each("bins")
    if isinstance(asked, StickProblem):
        sticks = tuple(map(_opened_stick, bins))
        return StickPlan(
            asked=asked, bins=sticks, unplaced=unplaced, lower_bound=bound, maker=maker
        )
    sheets = tuple(map(_opened_sheet, bins))
    return SheetPlan(asked=asked, bins=sheets, unplaced=unplaced, lower_bound=bound, maker=maker)


def _opened_stick(found: Found) -> OpenedStick:
    rest = found.optional("offcut")
    return OpenedStick(
        stock=found.text("stock"),
        copy=found.whole("copy"),
        parts=tuple(
            LaidRail(
                id=each.text("id"),
                copy=each.whole("copy"),
                at=each.length("at"),
                length=each.length("length"),
            )
            for each in found.each("parts")
        ),
        offcut=None
        if rest is None
        else StickRest(at=rest.length("at"), length=rest.length("length")),
    )


def _opened_sheet(found: Found) -> OpenedSheet:
    return OpenedSheet(
        stock=found.text("stock"),
        copy=found.whole("copy"),
        cuts=tuple(
            Cut(
                stage=each.whole("stage"),
                way=Way(each.choice("way", Way)),
                at=each.length("at"),
                start=each.length("start"),
                end=each.length("end"),
            )
            for each in found.each("cuts")
        ),
        parts=tuple(
            LaidPart(
                id=each.text("id"),
                copy=each.whole("copy"),
                x=each.length("x"),
                y=each.length("y"),
                size=each.size(),
                turned=each.flag("turned"),
            )
            for each in found.each("parts")
        ),
        offcuts=tuple(
            SheetRest(x=each.length("x"), y=each.length("y"), size=each.size())
            for each in found.each("offcuts")
        ),
    )
